/**
 * Search for patterns with many nodes in one segment with many nodes, where a good order and few candidates decide.
 *
 * Candidates are filtered by label, degree and the labels around (He and Singh, "Graphs-at-a-time: query language
 * and access methods for graph databases", SIGMOD 2008), then made arc consistent: a candidate needs, for each
 * pattern edge, a neighbour that is a candidate of the other end (Mackworth, "Consistency in networks of relations",
 * Artificial Intelligence 8, 1977; applied to matching by Han, Kim, Gu, Park and Han, "Efficient subgraph matching:
 * harmonizing dynamic programming, adaptive matching order, and failing set together", SIGMOD 2019, whose failing
 * sets prune the search here too). A bit mask per graph node marks the pattern nodes it is a candidate for, so all
 * edges of a candidate are checked in one walk over its list. The order is that of Bonnici, Giugno, Pulvirenti,
 * Shasha and Ferro, "A subgraph isomorphism algorithm and its application to biochemical data" (RI, BMC
 * Bioinformatics 14, 2013), most edges back first, with candidate counts to start and to break ties. Sun and Luo,
 * "In-memory subgraph matching: an in-depth study" (SIGMOD 2020), compare the parts.
 */
import type { Condition } from '../plan/pattern.ts';
import { IN, OUT } from '../storage/catalog.ts';
import { S, type Store } from '../storage/store.ts';
import { type Around, bits, type CandidatePlan } from './candidate-plan.ts';
import type { Run, Stage } from './stage.ts';

/** Rounds of arc consistency; more seldom pay. */
const ROUNDS = 4;

/** Per graph node: of which pattern nodes it is a candidate, and by which it is taken; all zero between searches. */
interface Scratch {
  mask: Int32Array;
  taken: Int32Array;
}

/** Scratch that no search uses now; a search inside another one (OPTIONAL MATCH, EXISTS) needs its own. */
const free: Scratch[] = [];

function takeScratch(nodes: number): Scratch {
  const scratch = free.pop() ?? { mask: new Int32Array(0), taken: new Int32Array(0) };
  if (scratch.mask.length < nodes) {
    scratch.mask = new Int32Array(nodes * 1.25 + 64);
    scratch.taken = new Int32Array(nodes * 1.25 + 64);
  }
  return scratch;
}

export interface CandidateBinding {
  readonly run: Run;
  readonly store: Store;
  readonly next: Stage;
}

/** Searches one segment. Returns false when a later stage wants no more. */
export function candidateSearch(plan: CandidatePlan, binding: CandidateBinding, segment: number): boolean {
  return new CandidateSearch(plan, binding, segment).search();
}

class CandidateSearch {
  readonly #plan: CandidatePlan;
  readonly #run: Run;
  readonly #next: Stage;
  readonly #size: number;
  readonly #scratch: Scratch;
  readonly #mask: Int32Array;
  readonly #taken: Int32Array;
  readonly #rows: Int32Array;
  readonly #edges: Int32Array;
  readonly #entries: Int32Array;
  readonly #store: Store;
  readonly #segment: number;
  readonly #candidates: Int32Array[] = [];
  readonly #counts: Int32Array;
  /** Pattern nodes in search order, and per position its edges to earlier nodes. */
  readonly #order: Int32Array;
  readonly #back: Around[][] = [];
  readonly #backMask: Int32Array;
  readonly #image: Int32Array;
  readonly #joint: { condition: Condition; mask: number }[][] = [];
  #stopped = false;

  constructor(plan: CandidatePlan, { run, store, next }: CandidateBinding, segment: number) {
    this.#plan = plan;
    this.#run = run;
    this.#next = next;
    this.#store = store;
    this.#segment = segment;
    this.#size = plan.pattern.nodes.length;
    const first = store.segmentField(segment, S.nodes);
    this.#scratch = takeScratch(first + store.segmentField(segment, S.nodeCount));
    this.#mask = this.#scratch.mask;
    this.#taken = this.#scratch.taken;
    this.#rows = store.nodeRow.view;
    this.#edges = store.adjEdge.view;
    this.#entries = store.adjRow.view;
    this.#counts = new Int32Array(this.#size);
    this.#order = new Int32Array(this.#size);
    this.#backMask = new Int32Array(this.#size);
    this.#image = new Int32Array(this.#size).fill(-1);
  }

  search(): boolean {
    const goes = this.#found();
    // A search that is cut short leaves its scratch as it is: nobody uses it again.
    for (let u = 0; u < this.#candidates.length; u++) {
      const list = this.#candidates[u]!;
      // Removed candidates have a zero mask already, so the first entries are all there is.
      for (let i = 0; i < this.#counts[u]!; i++) this.#mask[list[i]!] = 0;
    }
    for (const node of this.#image) if (node >= 0) this.#taken[node] = 0;
    free.push(this.#scratch);
    return goes;
  }

  #found(): boolean {
    if (!this.#collect() || !this.#refine()) return true;
    this.#arrange();
    this.#extend(0);
    return !this.#stopped;
  }

  /** First candidates: label, degree, conditions on the node alone. False when some pattern node has none. */
  #collect(): boolean {
    const { tables, around, nodeConditions, injective, pattern } = this.#plan;
    const runs = this.#store.segmentField(this.#segment, S.runs);
    const runEnd = runs + this.#store.segmentField(this.#segment, S.runCount);
    const runRow = this.#store.runRow.view;
    for (let u = 0; u < this.#size; u++) {
      const table = tables[u];
      let room = 0;
      for (let r = runs; r < runEnd; r++)
        if (table?.[runRow[r * 2]!] !== 0) room += runRow[r * 2 + 3]! - runRow[r * 2 + 1]!;
      const list = new Int32Array(room);
      this.#candidates.push(list);
      const conditions = nodeConditions[u]!;
      const slot = this.#plan.pattern.nodes[u]!.slot;
      let degree = 0;
      if (injective) {
        let seen = 0;
        for (const { node } of around[u]!) seen |= 1 << node;
        degree = bits(seen);
      }
      const loops = pattern.edges.flatMap((edge, i) => (edge.from === u && edge.to === u ? [i] : []));
      const bit = 1 << u;
      let count = 0;
      for (let r = runs; r < runEnd; r++) {
        if (table?.[runRow[r * 2]!] === 0) continue;
        for (let v = runRow[r * 2 + 1]!; v < runRow[r * 2 + 3]!; v++) {
          if (this.#rows[v * 4 + 5]! - this.#rows[v * 4 + 1]! < degree) continue;
          if (!loops.every((edge) => this.#adjacent(v, v, this.#plan.forward[edge]!))) continue;
          if (conditions.length > 0) {
            this.#run.row[slot] = v;
            if (!conditions.every(({ test }) => test(this.#run))) continue;
          }
          list[count++] = v;
          this.#mask[v]! |= bit;
        }
      }
      this.#counts[u] = count;
      if (count === 0) return false;
    }
    return true;
  }

  /** Arc consistency. False when some pattern node has no candidate left. */
  #refine(): boolean {
    const { around, classes, groups } = this.#plan;
    const found = new Int32Array(classes.length);
    const wanted = around.map((edges) => {
      const masks = new Int32Array(classes.length);
      for (const { node, codeClass } of edges) masks[codeClass]! |= 1 << node;
      return masks;
    });
    const one = classes.length === 1 ? this.#plan.single[0]! : -1;
    // Small candidate sets first: they remove most from the others.
    const order = Array.from({ length: this.#size }, (_, u) => u).sort(
      (a, b) => this.#counts[a]! - this.#counts[b]!,
    );
    const changed = new Uint8Array(this.#size).fill(1);
    for (let round = 0; round < ROUNDS; round++) {
      let any = false;
      for (const u of order) {
        // Only a neighbour's loss can cost `u` a candidate.
        let due = round === 0;
        for (const { node } of around[u]!) if (changed[node] === 1) due = true;
        if (!due) continue;
        const list = this.#candidates[u]!;
        const bit = 1 << u;
        const group = groups[u]!;
        const want = wanted[u]!;
        let kept = 0;
        for (let i = 0; i < this.#counts[u]!; i++) {
          const v = list[i]!;
          const start = this.#rows[v * 4 + 1]!;
          const end = this.#rows[v * 4 + 5]!;
          let passes = true;
          if (one >= 0) {
            let seen = 0;
            for (let j = start; j < end; j++)
              if (this.#entries[j * 2] === one) seen |= this.#mask[this.#entries[j * 2 + 1]!]!;
            passes = (seen & want[0]!) === want[0];
          } else {
            found.fill(0);
            for (let j = start; j < end; j++) {
              const w = this.#entries[j * 2 + 1]!;
              if (w < 0) continue;
              const m = this.#mask[w]!;
              if (m === 0) continue;
              const code = this.#entries[j * 2]!;
              for (let c = 0; c < classes.length; c++) if (classes[c]![code] === 1) found[c]! |= m;
            }
            for (let c = 0; c < classes.length; c++) if ((found[c]! & want[c]!) !== want[c]) passes = false;
          }
          for (let g = 0; passes && g < group.length; g++)
            passes = this.#hasDistinct(v, group[g]![0], group[g]![1]);
          if (passes) list[kept++] = v;
          else this.#mask[v]! &= ~bit;
        }
        this.#run.fuel -= this.#counts[u]!;
        if (this.#run.fuel < 0) this.#run.fuel = this.#run.refuel();
        changed[u] = 0;
        if (kept < this.#counts[u]!) {
          changed[u] = 1;
          any = true;
        }
        this.#counts[u] = kept;
        if (kept === 0) return false;
      }
      if (!any) break;
    }
    return true;
  }

  /** Whether `v` has at least `count` neighbours that are candidates of the pattern nodes in a mask. */
  #hasDistinct(v: number, mask: number, count: number): boolean {
    let left = count;
    let last = -1;
    for (let j = this.#rows[v * 4 + 1]!; j < this.#rows[v * 4 + 5]!; j++) {
      const w = this.#entries[j * 2 + 1]!;
      // Parallel edges are adjacent within a code; double counting only weakens the filter.
      if (w < 0 || w === last || (this.#mask[w]! & mask) === 0) continue;
      last = w;
      if (--left === 0) return true;
    }
    return false;
  }

  #arrange(): void {
    const { around } = this.#plan;
    let placed = 0;
    const isPlaced = new Uint8Array(this.#size);
    for (let position = 0; position < this.#size; position++) {
      let best = -1;
      let bestBack = -1;
      let bestScore = 0;
      for (let u = 0; u < this.#size; u++) {
        if (isPlaced[u] === 1) continue;
        let back = 0;
        for (const { node } of around[u]!) if (isPlaced[node] === 1) back++;
        const score =
          position === 0
            ? this.#counts[u]! / Math.max(1, around[u]!.length)
            : this.#counts[u]! / 4 ** Math.min(back, 8);
        const connected = back > 0 || position === 0;
        if (best >= 0 && !connected && bestBack > 0) continue;
        if (best < 0 || (connected && bestBack === 0 && position > 0) || score < bestScore) {
          best = u;
          bestBack = back;
          bestScore = score;
        }
      }
      isPlaced[best] = 1;
      placed |= 1 << best;
      this.#order[position] = best;
      const back = around[best]!.filter(({ node }) => isPlaced[node] === 1);
      // Codes are wanted as seen from the bound node.
      this.#back.push(
        back.map(({ node, edge }) => {
          const { from } = this.#plan.pattern.edges[edge]!;
          return { node, edge, codeClass: (from === node ? this.#plan.forward : this.#plan.backward)[edge]! };
        }),
      );
      this.#backMask[position] = back.reduce((mask, { node }) => mask | (1 << node), 0);
      this.#joint.push(
        this.#plan.joint.filter(({ mask }) => (mask & ~placed) === 0 && (mask & (1 << best)) !== 0),
      );
    }
  }

  /**
   * Binds the pattern node at a position and all after it. Answers the failing set (a mask of pattern nodes whose
   * bindings alone make it fail), or 0 when a match was found below.
   */
  #extend(position: number): number {
    if (position === this.#size) {
      if (!this.#bindEdges(0)) this.#stopped = true;
      return 0;
    }
    const u = this.#order[position]!;
    const back = this.#back[position]!;
    if (back.length === 0) {
      const list = this.#candidates[u]!;
      return this.#tryAll(position, u, list, 0, this.#counts[u]!, -1, -1);
    }
    // Walk the shortest list among the neighbours that are bound, check the others.
    let pivot = 0;
    let least = 2 ** 31;
    for (let b = 0; b < back.length; b++) {
      const v = this.#image[back[b]!.node]!;
      const length = this.#rows[v * 4 + 5]! - this.#rows[v * 4 + 1]!;
      if (length < least) {
        least = length;
        pivot = b;
      }
    }
    const v = this.#image[back[pivot]!.node]!;
    return this.#tryAll(
      position,
      u,
      this.#entries,
      this.#rows[v * 4 + 1]!,
      this.#rows[v * 4 + 5]!,
      pivot,
      back[pivot]!.codeClass,
    );
  }

  /** Tries every entry `start .. end` of a list for pattern node `u`; with a pivot the list is an adjacency list. */
  #tryAll(
    position: number,
    u: number,
    list: Int32Array,
    start: number,
    end: number,
    pivot: number,
    codeClass: number,
  ): number {
    const { classes, distinct, single } = this.#plan;
    const back = this.#back[position]!;
    const joint = this.#joint[position]!;
    const bit = 1 << u;
    const apart = distinct[u]!;
    const codes = codeClass < 0 ? undefined : classes[codeClass]!;
    const code = codeClass < 0 ? -1 : single[codeClass]!;
    let failing = this.#backMask[position]!;
    let found = false;
    let last = -1;
    this.#run.fuel -= end - start + 1;
    if (this.#run.fuel < 0) this.#run.fuel = this.#run.refuel();
    for (let i = start; i < end; i++) {
      const w = codes ? list[i * 2 + 1]! : list[i]!;
      if (w < 0 || (this.#mask[w]! & bit) === 0) continue;
      if (codes && (code >= 0 ? this.#entries[i * 2] !== code : codes[this.#entries[i * 2]!] !== 1)) continue;
      // Parallel edges lead to one node; they are separated when edges are bound.
      if (codes && w === last) continue;
      if (codes && code < 0 && this.#seenBefore(start, i, w, codes)) continue;
      last = w;
      let adjacent = true;
      for (let b = 0; b < back.length; b++) {
        if (b !== pivot && !this.#adjacent(this.#image[back[b]!.node]!, w, back[b]!.codeClass)) {
          adjacent = false;
          break;
        }
      }
      if (!adjacent) continue;
      const holder = this.#taken[w]! & apart;
      if (holder !== 0) {
        failing |= holder;
        continue;
      }
      this.#image[u] = w;
      let child = 0;
      let passes = true;
      if (joint.length > 0) {
        for (let k = 0; k < this.#size; k++)
          if (this.#image[k]! >= 0) this.#run.row[this.#plan.pattern.nodes[k]!.slot] = this.#image[k]!;
        for (const { condition, mask } of joint) {
          if (condition.test(this.#run)) continue;
          passes = false;
          child = mask;
          break;
        }
      }
      if (passes) {
        const before = this.#taken[w]!;
        this.#taken[w] = before | bit;
        child = this.#extend(position + 1);
        this.#taken[w] = before;
      }
      this.#image[u] = -1;
      if (this.#stopped) return 0;
      if (child === 0) found = true;
      else if ((child & bit) === 0) {
        // Whatever `u` is bound to, the same failure comes.
        if (!found) return child;
        return 0;
      } else failing |= child;
    }
    return found ? 0 : failing & ~bit;
  }

  /** Whether the list already had `w` under another accepted code. */
  #seenBefore(start: number, at: number, w: number, codes: Uint8Array): boolean {
    for (let i = start; i < at; i++)
      if (this.#entries[i * 2 + 1] === w && codes[this.#entries[i * 2]!] === 1) return true;
    return false;
  }

  #adjacent(v: number, w: number, codeClass: number): boolean {
    const code = this.#plan.single[codeClass]!;
    let low = this.#rows[v * 4 + 1]!;
    let high = this.#rows[v * 4 + 5]!;
    if (code < 0 || high - low < 8) {
      const codes = this.#plan.classes[codeClass]!;
      for (let i = low; i < high; i++)
        if (this.#entries[i * 2 + 1] === w && codes[this.#entries[i * 2]!] === 1) return true;
      return false;
    }
    const end = high;
    while (low < high) {
      const middle = (low + high) >>> 1;
      const c = this.#entries[middle * 2]!;
      if (c < code || (c === code && this.#entries[middle * 2 + 1]! < w)) low = middle + 1;
      else high = middle;
    }
    return low < end && this.#entries[low * 2 + 1] === w && this.#entries[low * 2] === code;
  }

  /** All nodes are bound: binds the pattern's edges, in every way when there are parallel ones. */
  #bindEdges(at: number): boolean {
    const { pattern, edgeConditions, rivals } = this.#plan;
    const { row } = this.#run;
    const edge = pattern.edges[at];
    if (!edge) {
      for (let u = 0; u < this.#size; u++) row[pattern.nodes[u]!.slot] = this.#image[u]!;
      for (const { test } of edgeConditions) if (!test(this.#run)) return true;
      return this.#next();
    }
    const from = this.#image[edge.from]!;
    const to = this.#image[edge.to]!;
    const accepts = this.#plan.classes[this.#plan.forward[at]!]!;
    const earlier = pattern.edges.slice(0, at).some((other) => other.slot === edge.slot);
    for (let i = this.#rows[from * 4 + 1]!; i < this.#rows[from * 4 + 5]!; i++) {
      if (this.#entries[i * 2 + 1] !== to || accepts[this.#entries[i * 2]!] !== 1) continue;
      const found = this.#edges[i]!;
      if (earlier && row[edge.slot] !== found) continue;
      if (rivals[at]!.some((other) => row[pattern.edges[other]!.slot] === found)) continue;
      // A directed loop is twice in its list; in either direction it is the same edge.
      const code = this.#entries[i * 2]!;
      if (from === to && code % 3 === IN && accepts[code - IN + OUT] === 1) continue;
      row[edge.slot] = found;
      if (!this.#bindEdges(at + 1)) return false;
    }
    return true;
  }
}
