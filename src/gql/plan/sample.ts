/**
 * What a pattern's nodes and edges are like in a sample of the segments that can hold the pattern: how many nodes fit
 * with the values that are asked of them, and how many edges lead on from these, and from nodes that a walk arrives
 * at, which are the much connected ones (Lipton, Naughton and Schneider, "Practical selectivity estimation through
 * adaptive sampling", SIGMOD 1990; from the nodes onwards along the joins as in Li, Wu, Yi and Zhao, "Wander join",
 * SIGMOD 2016). The sample is of a fixed size and always the same for the same graph, so a plan costs the same to make
 * however many segments there are, and it is the same for two archives of the same habits and of any size.
 */
import type { Catalog } from '../storage/catalog.ts';
import { Entering } from '../storage/entering.ts';
import { S, SEGMENT_ROW, type Store } from '../storage/store.ts';
import { adjacencyCodes } from './adjacency-codes.ts';
import { edgeLabelTruths } from './label-test.ts';
import type { Condition, Pattern } from './pattern.ts';

/** Segments that are looked at, and fewest that a graph has for a sample to be taken. */
const SEGMENTS = 32;
export const FEWEST = 64;
/** Nodes that are looked at: for a pattern node, of these as starts, of those arrived at, and of those of other segments. */
const MOST = { nodes: 1280, scanned: 40, reached: 40, shared: 16 };
/** Entries of a list that are looked at, of the node's own and of those that other segments point to it. */
const LONGEST = { own: 400, shared: 200 };

/** How much longer lists are that are longer than that. */
const BEYOND = 4;

/** What leads on from sampled nodes along an edge, summed up. */
export interface Leads {
  /** Nodes looked from. */
  starts: number;
  /** Edges to nodes that fit. */
  fitting: number;
  /** Edges of the label, whatever they lead to. */
  entries: number;
}

export interface SampledNode {
  /** Segments that the sample stands for, and those in it. */
  readonly segments: number;
  readonly taken: number;
  /** Nodes whose labels fit, and those that have the values asked for as well. */
  labelled: number;
  fitting: number;
  /** Per condition on a value: nodes that pass it. */
  readonly passing: Map<number, number>;
}

export interface Sample {
  readonly nodes: readonly SampledNode[];
  /** Per edge and end (`from`, `to`): from nodes of the sample, and from nodes arrived at. */
  readonly scanned: readonly (readonly [Leads, Leads])[];
  readonly reached: readonly (readonly [Leads, Leads])[];
}

export interface SampleInput {
  readonly store: Store;
  readonly catalog: Catalog;
  readonly visible: Uint8Array;
  /** Per pattern node: truth of its label expression for every label set. */
  readonly sets: readonly Uint8Array[];
  /** Per pattern edge: whether walks from `from`, and from `to`, enter through handles. */
  readonly entered: readonly (readonly [boolean, boolean])[];
  /** Segment rows that can hold a pattern node. */
  readonly segmentsFor: (node: number) => Int32Array;
  /** Place of each segment row in the order of keys. */
  readonly ranks: Int32Array;
}

export function takeSample(pattern: Pattern, input: SampleInput): Sample {
  return new Sampler(pattern, input).take();
}

type Test = (node: number) => boolean;

class Sampler {
  readonly #pattern: Pattern;
  readonly #input: SampleInput;
  readonly #scanned: number[][];
  readonly #reached: number[][];
  /** Nodes offered to `#reached`. */
  readonly #offered: number[];
  readonly #tests: (readonly { readonly condition: number; readonly test: Test }[])[];
  /** Per edge and end: 1 for the adjacency codes that lead to the other end. */
  readonly #codes: readonly (readonly [Uint8Array, Uint8Array])[];
  readonly #at: readonly (readonly (readonly [edge: number, side: 0 | 1])[])[];
  /** Per pattern node, by node kind: 0 when the labels do not fit. */
  readonly #kinds: readonly Uint8Array[];
  readonly #lists: Entering;
  #random = 1;

  constructor(pattern: Pattern, input: SampleInput) {
    this.#pattern = pattern;
    this.#input = input;
    this.#lists = new Entering(input.store, input.visible, input.ranks);
    this.#scanned = pattern.nodes.map(() => []);
    this.#reached = pattern.nodes.map(() => []);
    this.#offered = pattern.nodes.map(() => 0);
    const bySlot = new Map(pattern.nodes.map(({ slot }, node) => [slot, node]));
    const tests: { condition: number; test: Test }[][] = pattern.nodes.map(() => []);
    pattern.conditions.forEach(({ equals }, condition) => {
      const node = equals && bySlot.get(equals.slot);
      if (equals && node !== undefined && !pattern.nodes[node]!.bound)
        tests[node]!.push({ condition, test: this.#equality(equals) });
    });
    this.#tests = tests;
    const { catalog } = input;
    const kinds = new Map<Uint8Array, Uint8Array>();
    this.#kinds = input.sets.map((truths) => {
      const known =
        kinds.get(truths) ?? Uint8Array.from(catalog.nodeKinds, ({ labelSet }) => truths[labelSet]!);
      kinds.set(truths, known);
      return known;
    });
    const size = catalog.edgeLabels.length * 3;
    this.#codes = pattern.edges.map(({ label, leastTruth, directions }) => {
      const truths = edgeLabelTruths(label, catalog, leastTruth);
      const table = (reversed: boolean) => {
        const codes = new Uint8Array(size);
        for (const code of adjacencyCodes(directions, truths, reversed)) codes[code] = 1;
        return codes;
      };
      return [table(false), table(true)];
    });
    const at: [number, 0 | 1][][] = pattern.nodes.map(() => []);
    pattern.edges.forEach(({ from, to }, edge) => {
      at[from]!.push([edge, 0]);
      at[to]!.push([edge, 1]);
    });
    this.#at = at;
  }

  take(): Sample {
    const { nodes, edges } = this.#pattern;
    const none = (): readonly [Leads, Leads] => [
      { starts: 0, fitting: 0, entries: 0 },
      { starts: 0, fitting: 0, entries: 0 },
    ];
    const scanned = edges.map(none);
    const reached = edges.map(none);
    const sampled = nodes.map((_, node) => this.#node(node));
    nodes.forEach((_, node) => {
      this.#scanned[node]!.forEach((start, i) => {
        this.#leads(node, start, scanned, true, i < MOST.shared);
      });
    });
    nodes.forEach((_, node) => {
      this.#reached[node]!.forEach((start, i) => {
        this.#leads(node, start, reached, false, i < MOST.shared);
      });
    });
    return { nodes: sampled, scanned, reached };
  }

  /** Looks through some of the segments that can hold a pattern node. */
  #node(node: number): SampledNode {
    const segments = this.#input.segmentsFor(node);
    const found: SampledNode = {
      segments: segments.length,
      taken: Math.min(SEGMENTS, segments.length),
      labelled: 0,
      fitting: 0,
      passing: new Map(this.#tests[node]!.map(({ condition }) => [condition, 0])),
    };
    const starts: number[] = [];
    for (let i = 0; i < found.taken; i++)
      this.#segment(node, segments[Math.floor(((i + 0.5) * segments.length) / found.taken)]!, found, starts);
    const step = Math.max(1, starts.length / MOST.scanned);
    for (let i = 0; i < starts.length; i += step) this.#scanned[node]!.push(starts[Math.floor(i)]!);
    return found;
  }

  #segment(node: number, segment: number, found: SampledNode, starts: number[]): void {
    const { store } = this.#input;
    const runs = store.runRow.view;
    const kinds = this.#kinds[node]!;
    const tests = this.#tests[node]!;
    const first = store.segmentField(segment, S.runs);
    const end = first + store.segmentField(segment, S.runCount);
    for (let run = first; run < end; run++) {
      if (kinds[runs[run * 2]!] === 0) continue;
      const start = runs[run * 2 + 1]!;
      const last = runs[run * 2 + 3]!;
      found.labelled += last - start;
      // Of many equal ones every so many, each of which stands for others.
      const step = Math.max(1, ((last - start) * found.taken) / MOST.nodes);
      for (let at = start; at < last; at += step) {
        const graphNode = Math.floor(at);
        let passes = true;
        for (let i = 0; i < tests.length; i++) {
          const { condition, test } = tests[i]!;
          if (test(graphNode)) found.passing.set(condition, found.passing.get(condition)! + step);
          else passes = false;
        }
        if (!passes) continue;
        found.fitting += step;
        starts.push(graphNode);
      }
    }
  }

  /** Looks at the edges of a node that stands for a pattern node. */
  #leads(
    node: number,
    start: number,
    sums: readonly (readonly [Leads, Leads])[],
    notes: boolean,
    enters: boolean,
  ): void {
    const { store, visible } = this.#input;
    const rows = store.nodeRow.view;
    const entries = store.adjRow.view;
    const handles = store.handleNode.view;
    for (const [edge, side] of this.#at[node]!) {
      const entered = this.#input.entered[edge]![side];
      if (entered && !enters) continue;
      const leads = sums[edge]![side];
      leads.starts++;
      const codes = this.#codes[edge]![side];
      const { from, to } = this.#pattern.edges[edge]!;
      const far = side === 0 ? to : from;
      const first = rows[start * 4 + 1]!;
      const last = rows[start * 4 + 5]!;
      const step = Math.max(1, (last - first) / LONGEST.own);
      for (let at = first; at < last; at += step) {
        const i = Math.floor(at);
        if (codes[entries[i * 2]!] !== 1) continue;
        leads.entries += step;
        let other = entries[i * 2 + 1]!;
        if (other < 0) other = handles[~other]!;
        if (other < 0 || visible[rows[other * 4 + 3]!] !== 1 || !this.#fits(far, other)) continue;
        leads.fitting += step;
        if (notes) this.#arrive(far, other);
      }
      if (entered) this.#entering(start, codes, far, leads);
    }
  }

  /** Edges that other segments point to a node. */
  #entering(start: number, codes: Uint8Array, far: number, leads: Leads): void {
    const { store } = this.#input;
    const at = store.segmentOf(start) * SEGMENT_ROW;
    const table = store.segmentTable.view;
    const row = table[at + S.exports]!;
    if (row < 0) return;
    const truths = this.#input.sets[far]!;
    let looked = 0;
    let fitting = 0;
    for (const port of this.#lists.portsAt(row + start - table[at + S.nodes]!)) {
      const set = store.portSet.view[port]!;
      if (codes[store.portCode.view[port]!] !== 1 || (set >= 0 && truths[set] === 0)) continue;
      for (const c of this.#lists.crossingsOf(port)) {
        if (looked === LONGEST.shared) {
          // How long it is in all is not known; such lists have a heavy tail.
          leads.entries += looked * BEYOND;
          leads.fitting += fitting * BEYOND;
          return;
        }
        looked++;
        const x = store.crossingEdge.view[c]!;
        const other = store.end((x & 1) === 1 ? store.edgeSource(x >> 1) : store.edgeTarget(x >> 1));
        if (other >= 0 && this.#fits(far, other)) fitting++;
      }
    }
    leads.entries += looked;
    leads.fitting += fitting;
  }

  #fits(node: number, graphNode: number): boolean {
    if (this.#kinds[node]![this.#input.store.nodeRow.view[graphNode * 4]!] === 0) return false;
    const tests = this.#tests[node]!;
    for (let i = 0; i < tests.length; i++) if (!tests[i]!.test(graphNode)) return false;
    return true;
  }

  /** Keeps some of the nodes arrived at, each with the same chance. */
  #arrive(node: number, graphNode: number): void {
    const kept = this.#reached[node]!;
    const offered = this.#offered[node]!++;
    if (kept.length < MOST.reached) kept.push(graphNode);
    else {
      // Lehmer's generator: any fixed sequence does.
      this.#random = (this.#random * 48_271) % 2_147_483_647;
      const place = this.#random % (offered + 1);
      if (place < MOST.reached) kept[place] = graphNode;
    }
  }

  #equality({ key, storage, value }: NonNullable<Condition['equals']>): Test {
    const { store, catalog } = this.#input;
    const number = catalog.findKey(key);
    const slots = Int32Array.from(
      catalog.nodeKinds,
      ({ layout }) =>
        catalog.layouts[layout]!.fields.find((field) => field.key === number && field.storage === storage)
          ?.slot ?? -1,
    );
    const { words, doubles } = store.records;
    const rows = store.nodeRow.view;
    return (node) => {
      const slot = slots[rows[node * 4]!]!;
      if (slot < 0) return false;
      const record = rows[node * 4 + 2]!;
      return (storage === 'number' ? doubles[(record >> 1) + slot] : words[record + slot]) === value;
    };
  }
}
