/**
 * What the search by candidate sets knows of a pattern before it sees a segment.
 */
import { adjacencyCodes } from '../plan/adjacency-codes.ts';
import { nameOfTest } from '../plan/label-test.ts';
import type { Condition, Pattern, PatternEdge, PatternNode } from '../plan/pattern.ts';

export interface Around {
  /** Pattern node at the other end. */
  readonly node: number;
  /** Pattern edge. */
  readonly edge: number;
  /** Edge class, see `CandidatePlan`, seen from this end. */
  readonly codeClass: number;
}

/** What does not depend on the segment: made once per query. */
export interface CandidatePlan {
  readonly pattern: Pattern;
  /** 1 per node kind that fits, per pattern node; undefined when every kind does. */
  readonly tables: readonly (Uint8Array | undefined)[];
  /** Edge patterns seen from one end are sorted into classes of equal accepted codes. */
  readonly classes: readonly Uint8Array[];
  /** When a class accepts one code only, that code, else -1. */
  readonly single: Int32Array;
  /** Per pattern node: its edges to other nodes. */
  readonly around: readonly (readonly Around[])[];
  /** Per pattern edge: its class seen from `from`, and from `to`. */
  readonly forward: Int32Array;
  readonly backward: Int32Array;
  /** Per pattern node: pattern nodes that must be bound to other nodes. */
  readonly distinct: Int32Array;
  /** Per pattern node: pairs [mask of neighbours with one label test, how many], for two and more. */
  readonly groups: readonly (readonly (readonly [number, number])[])[];
  /** Whether all nodes are pairwise distinct. */
  readonly injective: boolean;
  readonly nodeConditions: readonly (readonly Condition[])[];
  /** Conditions on two and more nodes, with the mask of these nodes. */
  readonly joint: readonly { readonly condition: Condition; readonly mask: number }[];
  /** Conditions on edges. */
  readonly edgeConditions: readonly Condition[];
  /**
   * Per pattern edge: earlier edges that must be bound to other edges, and could be bound to the same one since their
   * ends could be.
   */
  readonly rivals: readonly (readonly number[])[];
}

export function candidatePlan(
  pattern: Pattern,
  nodeTable: (node: PatternNode) => Uint8Array | undefined,
  edgeTable: (edge: PatternEdge) => Uint8Array,
  codeCount: number,
): CandidatePlan {
  const size = pattern.nodes.length;
  const classes: Uint8Array[] = [];
  const names = new Map<string, number>();
  const classOf = (edge: PatternEdge, reversed: boolean): number => {
    const codes = adjacencyCodes(edge.directions, edgeTable(edge), reversed);
    const name = codes.join();
    let known = names.get(name);
    if (known === undefined) {
      known = classes.length;
      names.set(name, known);
      const table = new Uint8Array(codeCount);
      for (const code of codes) table[code] = 1;
      classes.push(table);
    }
    return known;
  };
  const forward = Int32Array.from(pattern.edges, (edge) => classOf(edge, false));
  const backward = Int32Array.from(pattern.edges, (edge) => classOf(edge, true));
  const around: Around[][] = pattern.nodes.map(() => []);
  pattern.edges.forEach(({ from, to }, edge) => {
    if (from === to) return;
    around[from]!.push({ node: to, edge, codeClass: forward[edge]! });
    around[to]!.push({ node: from, edge, codeClass: backward[edge]! });
  });
  const nodeOf = new Map(pattern.nodes.map((node, i) => [node.slot, i]));
  const distinct = new Int32Array(size);
  for (const { slots, kin } of pattern.distinct.sets) {
    const inside = slots.flatMap((slot) => nodeOf.get(slot) ?? []);
    const mask = inside.reduce((all, node) => all | (1 << node), 0);
    for (const node of inside) distinct[node]! |= mask & ~(1 << node);
    // Nodes that may be one in this set, unless another set says that they differ.
    if (kin)
      for (const i of inside)
        for (const j of inside)
          if (i !== j && !pattern.distinct.mustDiffer(pattern.nodes[i]!.slot, pattern.nodes[j]!.slot))
            distinct[i]! &= ~(1 << j);
  }
  const everyone = 2 ** size - 1;
  const injective = distinct.every((mask, i) => (mask | (1 << i)) === (everyone | 0));
  const groups = around.map((edges) => {
    if (!injective) return [];
    const byLabel = new Map<string, number>();
    for (const { node } of edges) {
      const label = nameOfTest(pattern.nodes[node]!.label);
      byLabel.set(label, (byLabel.get(label) ?? 0) | (1 << node));
    }
    return [...byLabel.values()].flatMap((mask) => (bits(mask) > 1 ? [[mask, bits(mask)] as const] : []));
  });
  const nodeConditions: Condition[][] = pattern.nodes.map(() => []);
  const joint: { condition: Condition; mask: number }[] = [];
  const edgeConditions: Condition[] = [];
  // Conditions and pairs that reach beyond this part of a match are left to the parts behind it.
  const slots = new Set([...pattern.nodes, ...pattern.edges].map(({ slot }) => slot));
  for (const condition of pattern.conditions) {
    if (!condition.slots.every((slot) => slots.has(slot))) continue;
    const nodes = condition.slots.map((slot) => nodeOf.get(slot));
    if (nodes.some((node) => node === undefined) || nodes.length === 0) edgeConditions.push(condition);
    else if (nodes.length === 1) nodeConditions[nodes[0]!]!.push(condition);
    else joint.push({ condition, mask: nodes.reduce<number>((mask, node) => mask | (1 << node!), 0) });
  }
  return {
    pattern,
    tables: pattern.nodes.map(nodeTable),
    classes,
    single: Int32Array.from([...names.keys()], (codes) => (/^\d+$/.test(codes) ? Number(codes) : -1)),
    around,
    forward,
    backward,
    distinct,
    groups,
    injective,
    nodeConditions,
    joint,
    edgeConditions,
    rivals: rivalsOf(pattern, distinct),
  };
}

function rivalsOf({ nodes, edges, distinct: differ }: Pattern, distinct: Int32Array): number[][] {
  // Which pattern nodes a node can be bound together with.
  const one = nodes.map((a, i) => {
    let mask = 0;
    nodes.forEach((b, j) => {
      if (a.slot === b.slot || (distinct[i]! & (1 << j)) === 0) mask |= 1 << j;
    });
    return mask;
  });
  return edges.map((edge, at) => {
    const [from, to] = [one[edge.from]!, one[edge.to]!];
    const rivals: number[] = [];
    for (let i = 0; i < at; i++) {
      const other = edges[i]!;
      const [a, b] = [1 << other.from, 1 << other.to];
      // Same ends in the same or in the other direction.
      if (!((from & a && to & b) || (from & b && to & a))) continue;
      if (differ.mustDiffer(edge.slot, other.slot)) rivals.push(i);
    }
    return rivals;
  });
}

export function bits(mask: number): number {
  let count = 0;
  for (let rest = mask >>> 0; rest !== 0; rest &= rest - 1) count++;
  return count;
}
