import { leastAssignment } from '../align/linear-assignment.ts';
import { degreeOf, type PackedPair, savedByNodes } from './packed-pair.ts';

/** Rounds of the Frank–Wolfe search from one start. */
const ROUNDS = 30;
/** What a round must gain at least to go on. */
const GAIN = 1e-6;

/**
 * A mapping of nodes with few changes, found in three steps, each published:
 *
 * 1. the assignment of nodes with their branches, by edges alone and with the labels of the neighbours (Riesen & Bunke,
 *    Image and Vision Computing 27, 2009, 950-959);
 * 2. integer projected fixed point, a Frank–Wolfe search over the relaxed mappings, from each of these (Leordeanu, Hebert
 *    & Sukthankar, NIPS 2009; for the edit distance Bougleux, Brun, Carletti, Foggia, Gaüzère & Vento, Pattern Recognition
 *    Letters 87, 2017, 38-46);
 * 3. K-REFINE with swaps of two (Blumenthal, Boria, Gamper, Bougleux & Brun, The VLDB Journal 29, 2020, 419-458).
 *
 * The changes of any mapping are as many as the distance at least. The same graphs give the same mapping.
 * @returns for each node of the first graph the node it becomes in the second, -1 where it is taken out
 */
export function* goodMappings(pair: PackedPair): Generator<Int32Array> {
  for (const start of [branchMapping(pair), neighbourMapping(pair)]) {
    refine(pair, start);
    yield start;
    for (const found of fixedPoint(pair, start)) {
      if (found) refine(pair, found);
      yield found ?? start;
    }
  }
}

function branchMapping(pair: PackedPair): Int32Array {
  const { a, b } = pair;
  return mostSaving(pair, (x, y) => savedByNodes(pair, x, y) + Math.min(degreeOf(a, x), degreeOf(b, y)));
}

/** By edges to neighbours of the same label before others; labels of neighbours' neighbours part what is left. */
function neighbourMapping(pair: PackedPair): Int32Array {
  const { a, b } = pair;
  const labels = 1 + Math.max(-1, ...a.labels, ...b.labels);
  const [aroundA, aroundB] = [a, b].map(({ size, labels: own, arcs, heads }) => {
    const once = Array.from({ length: size }, () => new Float64Array(labels));
    for (let node = 0; node < size; node++)
      for (let arc = arcs[node]; arc < arcs[node + 1]; arc++) once[node][own[heads[arc]]]++;
    const twice = once.map((_, node) => {
      const sum = new Float64Array(labels);
      for (let arc = arcs[node]; arc < arcs[node + 1]; arc++)
        once[heads[arc]].forEach((count, label) => {
          sum[label] += count;
        });
      return sum;
    });
    return { once, twice };
  });
  const common = (x: Float64Array, y: Float64Array) => {
    let sum = 0;
    for (let at = 0; at < labels; at++) sum += Math.min(x[at], y[at]);
    return sum;
  };
  return mostSaving(pair, (x, y) => {
    const edges = Math.min(degreeOf(a, x), degreeOf(b, y));
    const near = common(aroundA.once[x], aroundB.once[y]);
    const far = common(aroundA.twice[x], aroundB.twice[y]);
    return savedByNodes(pair, x, y) + (edges + near) / 2 + far / (1 + far);
  });
}

function mostSaving({ a, b }: PackedPair, saved: (x: number, y: number) => number): Int32Array {
  const costs = new Float64Array(a.size * b.size);
  for (let x = 0; x < a.size; x++) for (let y = 0; y < b.size; y++) costs[x * b.size + y] = -saved(x, y);
  return leastAssignment(costs, a.size, b.size);
}

/** Mappings met on the way, the last one that of the fixed point; undefined while there is none to look at. */
function* fixedPoint(pair: PackedPair, start: Int32Array): Generator<Int32Array | undefined> {
  const { a, b } = pair;
  const width = b.size;
  const relaxed = new Float64Array(a.size * width);
  start.forEach((to, node) => {
    if (to >= 0) relaxed[node * width + to] = 1;
  });
  const costs = new Float64Array(relaxed.length);
  for (let round = 0; round < ROUNDS; round++) {
    const edges = edgesMet(pair, relaxed);
    for (let x = 0; x < a.size; x++) {
      for (let y = 0; y < width; y++) {
        const at = x * width + y;
        costs[at] = -(savedByNodes(pair, x, y) + 2 * edges[at]);
      }
    }
    const next = leastAssignment(costs, a.size, width);
    yield next.slice();
    // Along the line to the next mapping what is saved is a parabola: slope · t + bend · t².
    let slope = 0;
    let own = 0;
    for (let at = 0; at < relaxed.length; at++) {
      if (relaxed[at] === 0) continue;
      slope += costs[at] * relaxed[at];
      own += edges[at] * relaxed[at];
    }
    let across = 0;
    next.forEach((to, node) => {
      if (to < 0) return;
      slope -= costs[node * width + to];
      across += edges[node * width + to];
    });
    if (slope < GAIN) return;
    const bend = 2 * edgesKept(pair, next) - 2 * across + own;
    const step = bend >= 0 ? 1 : Math.min(1, slope / (-2 * bend));
    for (let at = 0; at < relaxed.length; at++) relaxed[at] *= 1 - step;
    next.forEach((to, node) => {
      if (to >= 0) relaxed[node * width + to] += step;
    });
    yield undefined;
  }
}

/** For each pair of nodes how many of their edges meet under a relaxed mapping: A · X · B. */
function edgesMet({ a, b }: PackedPair, relaxed: Float64Array): Float64Array {
  const width = b.size;
  const right = new Float64Array(relaxed.length);
  for (let x = 0; x < a.size; x++) {
    for (let y = 0; y < width; y++) {
      const weight = relaxed[x * width + y];
      if (weight === 0) continue;
      for (let arc = b.arcs[y]; arc < b.arcs[y + 1]; arc++) right[x * width + b.heads[arc]] += weight;
    }
  }
  const met = new Float64Array(relaxed.length);
  for (let x = 0; x < a.size; x++) {
    for (let arc = a.arcs[x]; arc < a.arcs[x + 1]; arc++) {
      const from = a.heads[arc] * width;
      for (let y = 0; y < width; y++) met[x * width + y] += right[from + y];
    }
  }
  return met;
}

/** Edges of the first graph that are edges of the second. */
function edgesKept({ a, b }: PackedPair, becomes: Int32Array): number {
  let kept = 0;
  for (let x = 0; x < a.size; x++) {
    for (let arc = a.arcs[x]; arc < a.arcs[x + 1]; arc++)
      if (a.heads[arc] > x && joined(b, becomes[x], becomes[a.heads[arc]])) kept++;
  }
  return kept;
}

function joined({ arcs, heads }: PackedPair['b'], x: number, y: number): boolean {
  if (x < 0 || y < 0) return false;
  for (let arc = arcs[x]; arc < arcs[x + 1]; arc++) if (heads[arc] === y) return true;
  return false;
}

/** Exchanges what two nodes become, or gives a node what is not taken yet, for as long as it saves something. */
function refine(pair: PackedPair, becomes: Int32Array): void {
  const { a, b } = pair;
  const taken = new Uint8Array(b.size);
  for (const to of becomes) if (to >= 0) taken[to] = 1;
  /** What node x saves when it becomes y, edges to `without` left out. */
  const saved = (x: number, y: number, without: number) => {
    if (y < 0) return 0;
    let sum = savedByNodes(pair, x, y);
    for (let arc = a.arcs[x]; arc < a.arcs[x + 1]; arc++) {
      const head = a.heads[arc];
      if (head !== without && joined(b, y, becomes[head])) sum += 2;
    }
    return sum;
  };
  for (let again = true; again; ) {
    again = false;
    for (let x = 0; x < a.size; x++) {
      for (let other = x + 1; other < a.size; other++) {
        const [one, two] = [becomes[x], becomes[other]];
        if (one === two) continue;
        const now = saved(x, one, other) + saved(other, two, x);
        if (saved(x, two, other) + saved(other, one, x) <= now) continue;
        becomes[x] = two;
        becomes[other] = one;
        again = true;
      }
      for (let to = 0; to < b.size; to++) {
        if (taken[to] === 1 || saved(x, to, -1) <= saved(x, becomes[x], -1)) continue;
        if (becomes[x] >= 0) taken[becomes[x]] = 0;
        becomes[x] = to;
        taken[to] = 1;
        again = true;
      }
    }
  }
}
