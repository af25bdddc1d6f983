/**
 * One place where a pattern fits, as it is handed out.
 */
import type { PatternGraph } from './graph.ts';
import type { Compiled } from './plan/compile.ts';
import type { Binding } from './plan/scope.ts';
import { matchesOf } from './search/clauses.ts';
import type { SegmentMatches } from './search/execute.ts';
import {
  type LabelPlace,
  labelPlaces,
  type OpenTest,
  OpenTests,
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

export interface SegmentMatch {
  /** By variable, those of quantified paths as lists. */
  readonly bindings: Readonly<Record<string, BoundValue>>;
  /** Every edge that the match uses, those without a variable and those of quantified paths included. */
  readonly edges: readonly Extract<BoundValue, { kind: 'edge' }>[];
  /** Numbers of the same; quicker to come by. */
  readonly edgeNumbers: readonly number[];
  /** Label memberships below 1 that the match makes use of; empty for a match that holds for certain. */
  readonly uncertain: readonly Uncertain[];
  /** The label tests that hang on these: the match holds if all of them do. One and the same for matches that share it. */
  readonly open: readonly OpenTest[];
  /** Whether the match holds whatever is true of the uncertain labels, those inside EXISTS included. */
  readonly certain: boolean;
  /**
   * Whether the match holds if exactly those uncertain memberships are true for which `isTrue` says so. Labels
   * inside EXISTS are not looked at.
   */
  readonly holdsIn: (isTrue: (node: number, label: string) => boolean) => boolean;
}

type Found = SegmentMatches['matches'][number];

/** Where a compiled query keeps what its matches bind. */
export class MatchReader {
  readonly graph: PatternGraph;
  /** Variables that the text names. */
  readonly named: readonly (readonly [name: string, binding: Binding])[];
  readonly #edgeSlots: readonly number[];
  readonly #walkSlots: readonly number[];
  readonly #places: readonly LabelPlace[];

  constructor(graph: PatternGraph, { scope, clauses }: Compiled) {
    this.graph = graph;
    this.named = [...scope.own()].filter(([name]) => name.charCodeAt(0) >= 32);
    const matches = matchesOf(clauses);
    this.#edgeSlots = matches.flatMap(({ pattern }) => pattern.edges.map(({ slot }) => slot));
    this.#walkSlots = matches.flatMap(({ repeats }) => repeats.map(({ forward }) => forward.elementsSlot));
    this.#places = labelPlaces(graph.store, clauses);
  }

  /** The matches of one segment. */
  matches(found: readonly Found[]): readonly SegmentMatch[] {
    const tests = new OpenTests(this.graph.store, this.#places);
    return found.map((one) => new BoundMatch(this, tests, one));
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
}

/** A match whose names are only looked up when somebody asks. */
class BoundMatch implements SegmentMatch {
  readonly #reader: MatchReader;
  readonly #tests: OpenTests;
  readonly #found: Found;
  #bindings: Record<string, BoundValue> | undefined;
  #open: readonly OpenTest[] | undefined;

  constructor(reader: MatchReader, tests: OpenTests, found: Found) {
    this.#reader = reader;
    this.#tests = tests;
    this.#found = found;
  }

  get bindings(): Readonly<Record<string, BoundValue>> {
    if (!this.#bindings) {
      const { row, values } = this.#found;
      const { graph, named } = this.#reader;
      this.#bindings = {};
      for (const [name, binding] of named)
        this.#bindings[name] = boundValue(graph, binding, row[binding.slot]!, values[binding.slot]);
    }
    return this.#bindings;
  }

  get edges(): SegmentMatch['edges'] {
    return this.edgeNumbers.map((edge) => edgeValue(this.#reader.graph, edge));
  }

  get edgeNumbers(): readonly number[] {
    return this.#reader.edgesOf(this.#found);
  }

  get uncertain(): readonly Uncertain[] {
    return uncertainIn(this.open);
  }

  get open(): readonly OpenTest[] {
    this.#open ??= this.#tests.of(this.#found.row, this.#found.values);
    return this.#open;
  }

  get certain(): boolean {
    return this.#found.certain && this.open.length === 0;
  }

  get holdsIn(): SegmentMatch['holdsIn'] {
    const { open } = this;
    return (isTrue) => open.every(({ node, holdsIn }) => holdsIn((label) => isTrue(node, label)));
  }
}

function boundValue(graph: PatternGraph, binding: Binding, element: number, value: unknown): BoundValue {
  switch (binding.kind) {
    case 'node':
      return element < 0 ? null : nodeValue(graph, element);
    case 'edge':
      return element < 0 ? null : edgeValue(graph, element);
    case 'path': {
      if (!Array.isArray(value)) return null;
      const elements = (value as number[]).map((e, i) =>
        i % 2 === 0 ? nodeValue(graph, e) : edgeValue(graph, e),
      );
      return { kind: 'path', elements };
    }
    case 'group': {
      if (!Array.isArray(value)) return null;
      const items = value.map((item) =>
        boundValue(graph, binding.of, typeof item === 'number' ? item : -2, item),
      );
      return { kind: 'list', items };
    }
    case 'value':
      return null;
    default:
      return binding satisfies never;
  }
}

function nodeValue({ store }: PatternGraph, node: number): BoundValue {
  return { kind: 'node', id: store.nodeId(node), node };
}

function edgeValue({ store }: PatternGraph, edge: number): Extract<BoundValue, { kind: 'edge' }> {
  const end = (reference: number): string => {
    const node = store.end(reference);
    return node < 0 ? '' : store.nodeId(node);
  };
  return {
    kind: 'edge',
    id: store.edgeId(edge),
    edge,
    label: store.edgeLabel(edge),
    source: end(store.edgeRow.view[edge * 4 + 1]!),
    target: end(store.edgeRow.view[edge * 4 + 2]!),
  };
}
