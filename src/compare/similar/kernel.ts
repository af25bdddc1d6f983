import type { LabelledGraph } from './labelled-graph.ts';

/** How often each label of the Weisfeiler–Lehman procedure occurs in a graph: label numbers in ascending order. */
export interface SubtreeCounts {
  readonly labels: Float64Array;
  readonly counts: Uint32Array;
}

/** Gives labels their numbers: equal ones the same, in every graph. */
export interface LabelNumbers {
  number(iteration: number, key: string): number;
}

/** Labels met so far, numbered in the order of meeting: exact, for a few graphs. */
export class SubtreeLabels implements LabelNumbers {
  readonly #numbers = new Map<string, number>();

  number(iteration: number, key: string): number {
    const full = `${iteration} ${key}`;
    const number = this.#numbers.get(full) ?? this.#numbers.size;
    this.#numbers.set(full, number);
    return number;
  }
}

/**
 * Numbers of 53 bits mixed from the label alone, for archives whose labels would not fit a table: among a million
 * labels the chance that any two share a number is below 1 in 10,000 (birthday bound).
 */
export const MIXED_NUMBERS: LabelNumbers = {
  number(iteration, key) {
    let a = 0x9e3779b9 ^ iteration;
    let b = 0x85ebca6b ^ iteration;
    for (let at = 0; at < key.length; at++) {
      const code = key.charCodeAt(at);
      a = Math.imul(a ^ code, 0x85ebca77);
      b = Math.imul(b ^ code, 0xc2b2ae3d);
    }
    a = Math.imul(a ^ (a >>> 16), 0x7feb352d) ^ Math.imul(b ^ (b >>> 15), 0x846ca68b);
    b = Math.imul(b ^ (b >>> 16), 0x7feb352d) ^ Math.imul(a ^ (a >>> 15), 0x846ca68b);
    return (b & 0x1fffff) * 0x100000000 + (a >>> 0);
  },
};

/**
 * Labels of every node in every iteration, `[iteration][node]`: first its own, then in each iteration a new one for its
 * label together with the sorted labels of its neighbours (Shervashidze, Schweitzer, van Leeuwen, Mehlhorn & Borgwardt,
 * "Weisfeiler-Lehman Graph Kernels", JMLR 12, 2011, 2539-2561, section 3.2).
 * @param iterations height of the subtree patterns, 0 or more
 */
export function subtreeNumbers(
  graph: LabelledGraph,
  iterations: number,
  known: LabelNumbers,
): readonly (readonly number[])[] {
  const all = [graph.labels.map((label) => known.number(0, label))];
  for (let iteration = 1; iteration <= iterations; iteration++) {
    const before = all[iteration - 1];
    all.push(
      before.map((own, node) => {
        const around = graph.neighbours[node].map((other) => before[other]).sort((a, b) => a - b);
        return known.number(iteration, `${own}:${around.join(',')}`);
      }),
    );
  }
  return all;
}

/** How often each label of {@link subtreeNumbers} occurs in a graph, all iterations together. */
export function subtreeCounts(graph: LabelledGraph, iterations: number, known: LabelNumbers): SubtreeCounts {
  const counts = new Map<number, number>();
  for (const label of subtreeNumbers(graph, iterations, known).flat())
    counts.set(label, (counts.get(label) ?? 0) + 1);
  const ordered = [...counts].sort(([a], [b]) => a - b);
  return {
    labels: Float64Array.from(ordered, ([label]) => label),
    counts: Uint32Array.from(ordered, ([, number]) => number),
  };
}

/** The Weisfeiler–Lehman subtree kernel: the inner product of two graphs' counts under the same labels. */
export function subtreeKernel(a: SubtreeCounts, b: SubtreeCounts): number {
  let sum = 0;
  let i = 0;
  let j = 0;
  while (i < a.labels.length && j < b.labels.length) {
    const difference = a.labels[i] - b.labels[j];
    if (difference === 0) sum += a.counts[i++] * b.counts[j++];
    else if (difference < 0) i++;
    else j++;
  }
  return sum;
}

/** The kernel by the geometric mean of both graphs' own: 1 for graphs of equal counts, 0 for nothing in common. */
export function normalisedKernel(a: SubtreeCounts, b: SubtreeCounts): number {
  const own = Math.sqrt(subtreeKernel(a, a) * subtreeKernel(b, b));
  return own === 0 ? 0 : Math.min(1, subtreeKernel(a, b) / own);
}

/** What each label that two graphs share adds to their kernel, as a share of it, most first. */
export function sharedLabels(
  a: SubtreeCounts,
  b: SubtreeCounts,
): readonly {
  readonly label: number;
  readonly inFirst: number;
  readonly inSecond: number;
  readonly share: number;
}[] {
  const kernel = subtreeKernel(a, b);
  const second = new Map([...b.labels].map((label, at) => [label, b.counts[at]]));
  return [...a.labels]
    .flatMap((label, at) => {
      const inSecond = second.get(label);
      if (inSecond === undefined) return [];
      const inFirst = a.counts[at];
      return [{ label, inFirst, inSecond, share: (inFirst * inSecond) / kernel }];
    })
    .sort((x, y) => y.share - x.share || x.label - y.label);
}
