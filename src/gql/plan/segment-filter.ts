/**
 * The filter of "filter, then verify": which segments can hold the part of a pattern that is tied to one node by
 * edges that never leave a segment.
 */
import type { FeatureIndex } from '../index/feature-index.ts';
import type { Postings } from '../index/postings.ts';
import type { Catalog } from '../storage/catalog.ts';
import { OUT, UNDIRECTED } from '../storage/catalog.ts';
import { adjacencyCodes } from './adjacency-codes.ts';
import { type Estimates, fittingSets, labelsAsked } from './estimates.ts';
import { edgeLabelTruths, nameOfTest } from './label-test.ts';
import { BACKWARD, type Condition, FORWARD, type Pattern, type PatternEdge, SIDEWAYS } from './pattern.ts';
import type { PlanningClock } from './planning-clock.ts';

/** Pattern nodes that are always in the segment of `root`. */
export function tiedTo(
  root: number,
  pattern: Pattern,
  estimates: Pick<Estimates, 'crossing'>,
): ReadonlySet<number> {
  const { of, members } = tiesOf(pattern, estimates);
  return new Set(members[of[root]!]!.nodes);
}

interface Ties {
  readonly nodes: number[];
  /** Edges with an end among the nodes. */
  readonly edges: number[];
}

/** Pattern nodes that are always in one segment, since edges that never leave a segment join them. */
function tiesOf(
  pattern: Pattern,
  { crossing }: Pick<Estimates, 'crossing'>,
): { of: Int32Array; members: Ties[] } {
  const neighbours: number[][] = pattern.nodes.map(() => []);
  const edgesAt: number[][] = pattern.nodes.map(() => []);
  pattern.edges.forEach(({ from, to }, i) => {
    edgesAt[from]!.push(i);
    if (to !== from) edgesAt[to]!.push(i);
    if (crossing[i]) return;
    neighbours[from]!.push(to);
    neighbours[to]!.push(from);
  });
  const of = new Int32Array(pattern.nodes.length).fill(-1);
  const members: Ties[] = [];
  pattern.nodes.forEach((_, start) => {
    if (of[start] !== -1) return;
    const nodes = [start];
    const edges = new Set<number>();
    of[start] = members.length;
    for (let i = 0; i < nodes.length; i++) {
      for (const edge of edgesAt[nodes[i]!]!) edges.add(edge);
      for (const next of neighbours[nodes[i]!]!) {
        if (of[next] !== -1) continue;
        of[next] = members.length;
        nodes.push(next);
      }
    }
    members.push({ nodes, edges: [...edges] });
  });
  return { of, members };
}

export interface FilterInput {
  readonly clock: PlanningClock;
  readonly pattern: Pattern;
  readonly estimates: Pick<Estimates, 'sets' | 'crossing'>;
  readonly index: FeatureIndex;
  readonly catalog: Catalog;
  /** A byte per segment row: 1 when the query may look there. */
  readonly visible: Uint8Array;
}

/** The filter for the scans of one pattern. */
export class SegmentFilter {
  readonly #input: FilterInput;
  readonly #words: number;
  #ties: ReturnType<typeof tiesOf> | undefined;
  #visible: Uint32Array | undefined;
  #everywhere: Int32Array | undefined;
  /** Lists found, by what was asked: nodes that are tied to nothing are often alike. */
  readonly #found = new Map<string, Int32Array>();

  constructor(input: FilterInput) {
    this.#input = input;
    this.#words = (input.visible.length >>> 5) + 1;
  }

  /** Segment rows, ascending, in which a search that starts with `root` can find something. */
  segmentsFor(root: number): Int32Array {
    const { pattern, estimates } = this.#input;
    // Where something is found does not depend on the filter.
    if (this.#input.clock.isLate) {
      this.#everywhere ??= bitsOf(this.#all());
      return this.#everywhere;
    }
    this.#ties ??= tiesOf(pattern, estimates);
    const tie = this.#ties.of[root]!;
    const { nodes, edges } = this.#ties.members[tie]!;
    const equals = this.#equals(tie);
    const name =
      nodes.length === 1 && edges.length === 0 && equals.length === 0
        ? `labels ${labelsAsked(pattern.nodes[root]!)}`
        : `tie ${tie}`;
    let list = this.#found.get(name);
    if (!list) {
      list = this.#filtered(nodes, edges, equals);
      this.#found.set(name, list);
    }
    return list;
  }

  #filtered(
    nodes: readonly number[],
    edges: readonly number[],
    equals: readonly NonNullable<Condition['equals']>[],
  ): Int32Array {
    const { pattern, estimates, index, catalog } = this.#input;
    const kept = this.#all().slice();
    const any = new Uint32Array(this.#words);
    const keep = (features: Iterable<Postings>) => {
      any.fill(0);
      for (const postings of features) postings.orInto(any);
      for (let i = 0; i < kept.length; i++) kept[i]! &= any[i]!;
    };
    const asked = new Set<string>();
    for (const node of nodes) {
      const labels = labelsAsked(pattern.nodes[node]!);
      if (asked.has(labels)) continue;
      asked.add(labels);
      const found: Postings[] = [];
      for (const set of fittingSets(estimates.sets[node]!)) {
        const postings = index.nodes[set];
        if (postings) found.push(postings);
      }
      keep(found);
    }
    const tied = new Set(nodes);
    for (const i of edges) {
      const edge = pattern.edges[i]!;
      const { label, directions, leastTruth, from, to } = edge;
      const ends = [from, to].map((n) => `${tied.has(n)} ${labelsAsked(pattern.nodes[n]!)}`);
      const features = `${nameOfTest(label)} ${directions} ${leastTruth} ${ends.join(' > ')}`;
      if (asked.has(features)) continue;
      asked.add(features);
      // Between two nodes of a segment there may be an edge that another segment owns.
      const inside = tied.has(from) && tied.has(to) && !estimates.crossing[i];
      if (inside) keep(edgeFeatures(edge, this.#input));
      else if (tied.has(from) && ownsAll(edge, false, this.#input)) keep(edgeFeatures(edge, this.#input));
      else if (tied.has(to) && ownsAll(edge, true, this.#input)) keep(edgeFeatures(edge, this.#input));
    }
    for (const { key: text, value, storage } of equals) {
      // Numbers are not in the inverted index.
      if (storage === 'number') continue;
      const key = catalog.findKey(text);
      const postings = key < 0 || value < 0 ? undefined : index.valuePostings(key, value);
      keep(postings ? [postings] : []);
    }
    return bitsOf(kept);
  }

  #all(): Uint32Array {
    if (!this.#visible) {
      const all = new Uint32Array(this.#words);
      this.#input.visible.forEach((flag, slot) => {
        if (flag === 1) all[slot >>> 5]! |= 1 << (slot & 31);
      });
      this.#visible = all;
    }
    return this.#visible;
  }

  #byTie: Map<number, NonNullable<Condition['equals']>[]> | undefined;

  /** Conditions on values that the index knows, of the nodes of a tie. */
  #equals(tie: number): readonly NonNullable<Condition['equals']>[] {
    if (!this.#byTie) {
      const { nodes, conditions } = this.#input.pattern;
      const nodeOf = new Map(nodes.map(({ slot }, i) => [slot, i]));
      this.#byTie = new Map();
      for (const { equals } of conditions) {
        const node = equals && nodeOf.get(equals.slot);
        if (!equals || node === undefined) continue;
        const of = this.#ties!.of[node]!;
        const known = this.#byTie.get(of);
        if (known) known.push(equals);
        else this.#byTie.set(of, [equals]);
      }
    }
    return this.#byTie.get(tie) ?? [];
  }
}

/** Whether every edge that fits, seen from this end, is stored in the segment of this end. */
function ownsAll(edge: PatternEdge, reversed: boolean, { index, catalog }: FilterInput): boolean {
  return codesFrom(edge, reversed, catalog).every((code) => {
    const mirrored = code % 3 === UNDIRECTED ? code : code % 3 === OUT ? code + 1 : code - 1;
    return !index.crossings[mirrored]?.size;
  });
}

function codesFrom(edge: PatternEdge, reversed: boolean, catalog: Catalog): number[] {
  return adjacencyCodes(edge.directions, edgeLabelTruths(edge.label, catalog, edge.leastTruth), reversed);
}

/** Every feature that an edge of this pattern can be, whichever segment owns it. */
function edgeFeatures(edge: PatternEdge, { estimates, index, catalog }: FilterInput): Postings[] {
  const from = estimates.sets[edge.from]!;
  const to = estimates.sets[edge.to]!;
  const [fromSets, toSets] = [fittingSets(from), fittingSets(to)];
  const found: Postings[] = [];
  const shapes = (code: number, a: readonly number[], b: readonly number[]) => {
    for (const { postings } of index.shapesBetween(code, a, b)) found.push(postings);
  };
  edgeLabelTruths(edge.label, catalog, edge.leastTruth).forEach((passes, label) => {
    if (passes !== 1) return;
    if (edge.directions & FORWARD) shapes(label * 2, fromSets, toSets);
    if (edge.directions & BACKWARD) shapes(label * 2, toSets, fromSets);
    if (edge.directions & SIDEWAYS) {
      shapes(label * 2 + 1, fromSets, toSets);
      shapes(label * 2 + 1, toSets, fromSets);
    }
  });
  for (const [reversed, sets] of [
    [false, from],
    [true, to],
  ] as const)
    for (const code of codesFrom(edge, reversed, catalog))
      for (const [set, { postings }] of index.crossings[code] ?? [])
        if (set < 0 || sets[set] !== 0) found.push(postings);
  return found;
}

function bitsOf(words: Uint32Array): Int32Array {
  let count = 0;
  for (const word of words) for (let rest = word; rest !== 0; rest &= rest - 1) count++;
  const list = new Int32Array(count);
  let at = 0;
  words.forEach((word, i) => {
    for (let rest = word; rest !== 0; rest &= rest - 1) list[at++] = i * 32 + 31 - Math.clz32(rest & -rest);
  });
  return list;
}
