/**
 * The filter of "filter, then verify": which segments can hold the part of a pattern that is tied to one node by
 * edges that never leave a segment.
 */
import type { FeatureIndex } from '../index/feature-index.ts';
import type { Postings } from '../index/postings.ts';
import type { Catalog } from '../storage/catalog.ts';
import { OUT, UNDIRECTED } from '../storage/catalog.ts';
import { adjacencyCodes } from './adjacency-codes.ts';
import type { Estimates } from './estimates.ts';
import { edgeLabelTruths } from './label-test.ts';
import { BACKWARD, FORWARD, type Pattern, type PatternEdge, SIDEWAYS } from './pattern.ts';

/** Pattern nodes that are always in the segment of `root`. */
export function tiedTo(root: number, pattern: Pattern, estimates: Estimates): ReadonlySet<number> {
  const tied = new Set([root]);
  for (let grown = true; grown; ) {
    grown = false;
    pattern.edges.forEach((edge, i) => {
      if (estimates.crossing[i] || tied.has(edge.from) === tied.has(edge.to)) return;
      tied.add(edge.from).add(edge.to);
      grown = true;
    });
  }
  return tied;
}

export interface FilterInput {
  readonly pattern: Pattern;
  readonly estimates: Estimates;
  readonly index: FeatureIndex;
  readonly catalog: Catalog;
  /** A byte per segment row: 1 when the query may look there. */
  readonly visible: Uint8Array;
  /** Number of a string in the graph, -1 when nothing holds it. */
  readonly stringNumber: (text: string) => number;
}

/** Segment rows, ascending, in which a search that starts with `root` can find something. */
export function candidateSegments(root: number, input: FilterInput): Int32Array {
  const { pattern, estimates, index, catalog, visible } = input;
  const words = (visible.length >>> 5) + 1;
  const kept = new Uint32Array(words);
  visible.forEach((flag, slot) => {
    if (flag === 1) kept[slot >>> 5]! |= 1 << (slot & 31);
  });
  const any = new Uint32Array(words);
  const keep = (features: Iterable<Postings>) => {
    any.fill(0);
    for (const postings of features) postings.orInto(any);
    for (let i = 0; i < words; i++) kept[i]! &= any[i]!;
  };

  const tied = tiedTo(root, pattern, estimates);
  for (const node of tied) {
    const found: Postings[] = [];
    estimates.sets[node]!.forEach((truth, set) => {
      const postings = index.nodes[set];
      if (truth > 0 && postings) found.push(postings);
    });
    keep(found);
  }
  for (const edge of pattern.edges) {
    const inside = tied.has(edge.from) && tied.has(edge.to);
    if (inside) keep(edgeFeatures(edge, input));
    else if (tied.has(edge.from) && ownsAll(edge, false, input)) keep(edgeFeatures(edge, input));
    else if (tied.has(edge.to) && ownsAll(edge, true, input)) keep(edgeFeatures(edge, input));
  }
  for (const { equals } of pattern.conditions) {
    if (!equals || !pattern.nodes.some((node, i) => tied.has(i) && node.slot === equals.slot)) continue;
    const key = catalog.findKey(equals.key);
    const value = typeof equals.value === 'string' ? input.stringNumber(equals.value) : Number(equals.value);
    const postings = key < 0 || value < 0 ? undefined : index.valuePostings(key, value);
    keep(postings ? [postings] : []);
  }
  return bitsOf(kept);
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
  const found: Postings[] = [];
  const shapes = (code: number, a: Uint8Array, b: Uint8Array) => {
    for (const [set, list] of index.shapes[code] ?? [])
      if (a[set] !== 0) for (const shape of list) if (b[shape.to] !== 0) found.push(shape.postings);
  };
  edgeLabelTruths(edge.label, catalog, edge.leastTruth).forEach((passes, label) => {
    if (passes !== 1) return;
    if (edge.directions & FORWARD) shapes(label * 2, from, to);
    if (edge.directions & BACKWARD) shapes(label * 2, to, from);
    if (edge.directions & SIDEWAYS) {
      shapes(label * 2 + 1, from, to);
      shapes(label * 2 + 1, to, from);
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
