/**
 * A match of a pattern, as it is returned.
 */
import type { PatternGraph } from './graph.ts';
import type { Compiled } from './plan/compiled.ts';
import type { Lineage } from './plan/lineage.ts';
import type { Binding } from './plan/scope.ts';
import { matchesOf } from './search/prepared-clauses.ts';
import type { FoundMatch as Found } from './search/request.ts';
import type { SegmentIds } from './storage/segment-ids.ts';
import type { Snapshot } from './storage/snapshot.ts';
import {
  AlikeTests,
  type LabelPlace,
  labelPlaces,
  type MatchedEdge,
  type OpenTest,
  OpenTests,
  type Requirement,
  type Uncertain,
  uncertainIn,
} from './uncertain.ts';

/** What a variable is bound to: a node or edge by its number in the graph, lists of these, or null. */
export type BoundValue =
  | { readonly kind: 'node'; readonly id: string; readonly node: number }
  | {
      readonly kind: 'edge';
      readonly id: string | undefined;
      readonly edge: number;
      readonly label: string;
      readonly source: string;
      readonly target: string;
    }
  | { readonly kind: 'path'; readonly elements: readonly BoundValue[] }
  | { readonly kind: 'list'; readonly items: readonly BoundValue[] }
  | null;

/**
 * `bindings` stay valid however the graph changes. Everything else must be read during the search; when the graph has
 * changed since, it throws MatchExpiredError.
 */
export interface SegmentMatch {
  /** By variable, those of quantified paths as lists. */
  readonly bindings: Readonly<Record<string, BoundValue>>;
  /** Every node and edge that the match uses, as a text: the same for the same match, in whichever segment it was found. */
  readonly place: string;
  /** The same of the nodes alone. */
  readonly nodePlace: string;
  /** Every edge that the match uses, those without a variable and those of quantified paths included. */
  readonly edges: readonly Extract<BoundValue, { kind: 'edge' }>[];
  /** Those with a label; faster. */
  readonly edgesLabelled: (label: string) => readonly MatchedEdge[];
  /** Label memberships below 1 that the match uses; empty for a certain match. */
  readonly uncertain: readonly Uncertain[];
  /** The label tests that depend on these: the match holds if all of them do. Shared objects for equal tests. */
  readonly open: readonly OpenTest[];
  /** Edges of the match that may not be there; it holds if all of them are. */
  readonly maybeEdges: readonly MatchedEdge[];
  /** Under which circumstances its conditions hold, and what OPTIONAL left out has no match: the match holds if these do too. */
  readonly conditions: Requirement;
  /** Whether the match holds whatever is true of uncertain labels and edges. */
  readonly certain: boolean;
  /**
   * Whether the match holds if exactly those uncertain memberships are true for which `isTrue` returns true, and all
   * edges are there.
   */
  readonly holdsIn: (isTrue: (node: number, label: string) => boolean) => boolean;
}

/** A match can no longer answer: its search has ended and the graph has changed. */
export class MatchExpiredError extends Error {
  override readonly name = 'MatchExpiredError';
}

/** Where a compiled query keeps what its matches bind. */
export class MatchReader {
  readonly graph: PatternGraph;
  readonly snapshot: Snapshot;
  /** Variables that the text names. */
  readonly named: readonly (readonly [name: string, binding: Binding])[];
  readonly #nodeSlots: readonly number[];
  readonly #edgeSlots: readonly number[];
  readonly #walkSlots: readonly number[];
  readonly #namesEdges: boolean;
  readonly #places: readonly LabelPlace[];
  readonly #alike = new AlikeTests();

  constructor(graph: PatternGraph, snapshot: Snapshot, { scope, clauses }: Compiled) {
    this.graph = graph;
    this.snapshot = snapshot;
    this.named = [...scope.own()].filter(([name, { kind }]) => name.charCodeAt(0) >= 32 && kind !== 'value');
    const matches = matchesOf(clauses);
    this.#nodeSlots = matches.flatMap(({ pattern }) => pattern.nodes.map(({ slot }) => slot));
    this.#edgeSlots = matches.flatMap(({ pattern }) => pattern.edges.map(({ slot }) => slot));
    this.#walkSlots = matches.flatMap(({ repeats }) => repeats.map(({ forward }) => forward.elementsSlot));
    this.#namesEdges = this.named.some(([, binding]) => holdsEdges(binding));
    this.#places = labelPlaces(graph.store, clauses);
  }

  /** The matches of one segment, by its row in the segment table. */
  matches(segment: number, found: readonly Found[]): readonly SegmentMatch[] {
    if (found.length === 0) return [];
    const group = new MatchGroup(this, segment, new OpenTests(this.graph.store, this.#places, this.#alike));
    for (const one of found) {
      for (const slot of this.#nodeSlots) group.keepNode(one.row[slot]!);
      for (const slot of this.#walkSlots) {
        const walked = one.values[slot];
        if (Array.isArray(walked))
          for (let i = 1; i < walked.length; i += 2) group.keepNode(walked[i] as number);
      }
      if (this.#namesEdges) for (const edge of this.edgesOf(one)) group.keepEdge(edge);
    }
    return found.map((one) => new BoundMatch(group, one));
  }

  edgesOf({ row, values }: Found): readonly number[] {
    const edges = new Set<number>();
    for (const slot of this.#edgeSlots) if (row[slot]! >= 0) edges.add(row[slot]!);
    for (const slot of this.#walkSlots) {
      const walked = values[slot];
      if (Array.isArray(walked)) for (let i = 0; i < walked.length; i += 2) edges.add(walked[i] as number);
    }
    return [...edges];
  }

  placeOf({ row, values }: Found): string {
    const elements = [...this.#nodeSlots, ...this.#edgeSlots].map((slot) => row[slot]);
    return JSON.stringify([elements, this.#walkSlots.map((slot) => values[slot] ?? null)]);
  }

  nodePlaceOf({ row, values }: Found): string {
    const walked = this.#walkSlots.map((slot) => {
      const elements = values[slot];
      return Array.isArray(elements) ? elements.filter((_, at) => at % 2 === 1) : null;
    });
    return JSON.stringify([this.#nodeSlots.map((slot) => row[slot]), walked]);
  }

  requireReadable(): void {
    if (this.snapshot.isReadable) return;
    throw new MatchExpiredError(
      'The search that found this match has ended and the graph has changed since; read it while the search goes on',
    );
  }
}

function holdsEdges(binding: Binding): boolean {
  return binding.kind === 'group'
    ? holdsEdges(binding.of)
    : binding.kind === 'edge' || binding.kind === 'path';
}

/** What the matches of one segment share. */
class MatchGroup {
  readonly reader: MatchReader;
  readonly tests: OpenTests;
  /** The segment's own ids, and those of other segments that its matches reach into. */
  readonly #own: SegmentIds;
  #others: SegmentIds[] | undefined;
  #edges: Map<number, MatchedEdge> | undefined;

  constructor(reader: MatchReader, segment: number, tests: OpenTests) {
    this.reader = reader;
    this.tests = tests;
    this.#own = reader.graph.idsOf(segment);
  }

  /** Keeps the id of a node for later. */
  keepNode(node: number): void {
    if (node < 0 || this.#own.holds(node) || this.#idsWith(node)) return;
    const { graph } = this.reader;
    this.#others ??= [];
    this.#others.push(graph.idsOf(graph.store.segmentOf(node)));
  }

  /** Keeps an edge for later. */
  keepEdge(edge: number): void {
    if (!this.#edges?.has(edge)) this.#read(edge);
  }

  nodeId(node: number): string {
    const ids = this.#idsWith(node);
    if (ids) return ids.of(node);
    this.reader.requireReadable();
    return this.reader.graph.store.nodeId(node);
  }

  edge(edge: number): MatchedEdge {
    const known = this.#edges?.get(edge);
    if (known) return known;
    this.reader.requireReadable();
    return this.#read(edge);
  }

  /** A lineage with the elements it names. */
  requirement(lineage: Lineage): Requirement {
    if (typeof lineage === 'boolean') return lineage;
    switch (lineage.kind) {
      case 'label': {
        const test = this.tests.testOf(lineage.label, lineage.node);
        return test ? { kind: 'test', test } : true;
      }
      case 'edge':
        return { kind: 'edge', edge: this.edge(lineage.edge) };
      case 'not':
        return { kind: 'not', of: this.requirement(lineage.of) };
      case 'all':
      case 'any':
        return { kind: lineage.kind, of: lineage.of.map((part) => this.requirement(part)) };
      case 'open':
        return lineage;
      default:
        return lineage satisfies never;
    }
  }

  #idsWith(node: number): SegmentIds | undefined {
    if (this.#own.holds(node)) return this.#own;
    return this.#others?.find((ids) => ids.holds(node));
  }

  #read(edge: number): MatchedEdge {
    const { graph, snapshot } = this.reader;
    const { store } = graph;
    const source = snapshot.end(store.edgeSource(edge));
    const target = snapshot.end(store.edgeTarget(edge));
    const read = {
      id: store.edgeId(edge),
      label: store.edgeLabel(edge),
      source,
      sourceId: source < 0 ? '' : this.nodeId(source),
      target,
      targetId: target < 0 ? '' : this.nodeId(target),
      property: (key: string) => {
        this.reader.requireReadable();
        const known = store.catalog.findKey(key);
        return known < 0 ? null : (store.edgeProperty(edge, known) ?? null);
      },
    };
    this.#edges ??= new Map();
    this.#edges.set(edge, read);
    return read;
  }
}

/** A match whose names are looked up on demand. */
class BoundMatch implements SegmentMatch {
  readonly #group: MatchGroup;
  readonly #found: Found;
  #bindings: Record<string, BoundValue> | undefined;
  #open: readonly OpenTest[] | undefined;

  constructor(group: MatchGroup, found: Found) {
    this.#group = group;
    this.#found = found;
  }

  get bindings(): Readonly<Record<string, BoundValue>> {
    if (!this.#bindings) {
      const { row, values } = this.#found;
      this.#bindings = {};
      for (const [name, binding] of this.#group.reader.named)
        this.#bindings[name] = boundValue(this.#group, binding, row[binding.slot]!, values[binding.slot]);
    }
    return this.#bindings;
  }

  get place(): string {
    return this.#group.reader.placeOf(this.#found);
  }

  get nodePlace(): string {
    return this.#group.reader.nodePlaceOf(this.#found);
  }

  get edges(): SegmentMatch['edges'] {
    return this.#group.reader.edgesOf(this.#found).map((edge) => edgeValue(this.#group, edge));
  }

  edgesLabelled(label: string): readonly MatchedEdge[] {
    const { reader } = this.#group;
    reader.requireReadable();
    const { store } = reader.graph;
    return reader
      .edgesOf(this.#found)
      .filter((edge) => store.edgeLabel(edge) === label)
      .map((edge) => this.#group.edge(edge));
  }

  get uncertain(): readonly Uncertain[] {
    return uncertainIn(this.open);
  }

  get open(): readonly OpenTest[] {
    if (!this.#open) {
      this.#group.reader.requireReadable();
      this.#open = this.#group.tests.of(this.#found.row, this.#found.values, this.#found.skipped);
    }
    return this.#open;
  }

  get maybeEdges(): readonly MatchedEdge[] {
    const { reader } = this.#group;
    reader.requireReadable();
    return reader
      .edgesOf(this.#found)
      .filter((edge) => reader.graph.store.isMaybe(edge))
      .map((edge) => this.#group.edge(edge));
  }

  get conditions(): Requirement {
    const { conditions } = this.#found;
    if (typeof conditions === 'boolean') return conditions;
    this.#group.reader.requireReadable();
    return this.#group.requirement(conditions);
  }

  get certain(): boolean {
    return this.#found.conditions === true && this.open.length === 0 && this.maybeEdges.length === 0;
  }

  get holdsIn(): SegmentMatch['holdsIn'] {
    const { open, conditions } = this;
    return (isTrue) => {
      const holds = ({ node, holdsIn }: OpenTest) => holdsIn((label) => isTrue(node, label));
      return open.every(holds) && isMet(conditions, holds);
    };
  }
}

function isMet(requirement: Requirement, holds: (test: OpenTest) => boolean): boolean {
  if (typeof requirement === 'boolean') return requirement;
  switch (requirement.kind) {
    case 'test':
      return holds(requirement.test);
    case 'not':
      return !isMet(requirement.of, holds);
    case 'all':
      return requirement.of.every((part) => isMet(part, holds));
    case 'any':
      return requirement.of.some((part) => isMet(part, holds));
    case 'edge':
    case 'open':
      return true;
    default:
      return requirement satisfies never;
  }
}

function boundValue(group: MatchGroup, binding: Binding, element: number, value: unknown): BoundValue {
  switch (binding.kind) {
    case 'node':
      return element < 0 ? null : nodeValue(group, element);
    case 'edge':
      return element < 0 ? null : edgeValue(group, element);
    case 'path': {
      if (!Array.isArray(value)) return null;
      const elements = (value as number[]).map((e, i) =>
        i % 2 === 0 ? nodeValue(group, e) : edgeValue(group, e),
      );
      return { kind: 'path', elements };
    }
    case 'group': {
      if (!Array.isArray(value)) return null;
      const items = value.map((item) =>
        boundValue(group, binding.of, typeof item === 'number' ? item : -2, item),
      );
      return { kind: 'list', items };
    }
    case 'value':
      return null;
    default:
      return binding satisfies never;
  }
}

function nodeValue(group: MatchGroup, node: number): BoundValue {
  return { kind: 'node', id: group.nodeId(node), node };
}

function edgeValue(group: MatchGroup, edge: number): Extract<BoundValue, { kind: 'edge' }> {
  const { id, label, sourceId, targetId } = group.edge(edge);
  return { kind: 'edge', id, edge, label, source: sourceId, target: targetId };
}
