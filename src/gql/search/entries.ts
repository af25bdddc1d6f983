/**
 * The edges at a node, for stages that are not generated: the node's own list first, then the edges that other
 * segments point to it.
 */
import { IN, OUT } from '../storage/catalog.ts';
import type { Entering } from '../storage/entering.ts';
import { S, SEGMENT_ROW, type Store } from '../storage/store.ts';
import type { Run } from './stage.ts';

/** Called with the other end and the edge; answers false to stop. */
export type Visit = (other: number, edge: number) => boolean;

export interface EntrySource {
  readonly store: Store;
  /** Per segment row, 1 when the query may see the segment, 2 when it may see the nodes that roam. */
  readonly visible: Uint8Array;
  /** Per node kind, 1 for nodes that roam; none do when not given. */
  readonly roams?: Uint8Array;
  readonly entering: Entering;
  readonly run: Run;
}

/** Makes the walk over the edges whose adjacency code is among `codes`. Answers false when a visit did. */
export function entriesWith(
  source: EntrySource,
  codes: readonly number[],
): (at: number, visit: Visit) => boolean {
  const { store, visible, roams, entering, run } = source;
  const accepts = new Uint8Array(store.catalog.edgeLabels.length * 3);
  for (const code of codes) accepts[code] = 1;
  // A directed loop is twice in its node's list; in either direction it is the same edge.
  const loops = new Uint8Array(accepts.length);
  for (const code of codes) if (code % 3 === IN && accepts[code - IN + OUT] === 1) loops[code] = 1;
  const rows = store.nodeRow.view;
  const edges = store.adjEdge.view;
  const adjacency = store.adjRow.view;
  const table = store.segmentTable.view;
  const handles = store.handleNode.view;

  const mayBeSeen = (node: number): boolean => {
    const how = visible[rows[node * 4 + 3]!];
    return how === 1 || (how === 2 && roams?.[rows[node * 4]!] === 1);
  };
  const seen = (reference: number, at: number): number => {
    const node = reference >= 0 ? reference : handles[~reference]!;
    // From a node that roams, what is inside its segment lies one step away.
    if (reference >= 0 && visible[rows[at * 4 + 3]!] !== 2) return reference;
    return node >= 0 && mayBeSeen(node) ? node : -1;
  };
  return (at, visit) => {
    const end = rows[at * 4 + 5]!;
    run.fuel -= end - rows[at * 4 + 1]! + 1;
    if (run.fuel < 0) run.fuel = run.refuel();
    for (let i = rows[at * 4 + 1]!; i < end; i++) {
      const code = adjacency[i * 2]!;
      if (accepts[code] !== 1) continue;
      const other = seen(adjacency[i * 2 + 1]!, at);
      if (other < 0 || (other === at && loops[code] === 1)) continue;
      if (!visit(other, edges[i]!)) return false;
    }
    const row = rows[at * 4 + 3]! * SEGMENT_ROW;
    const exported = table[row + S.exports]!;
    if (exported < 0) return true;
    for (const port of entering.portsAt(exported + at - table[row + S.nodes]!)) {
      const code = store.portCode.view[port]!;
      if (accepts[code] !== 1) continue;
      for (const c of entering.crossingsOf(port)) {
        if (--run.fuel < 0) run.fuel = run.refuel();
        const crossing = store.crossingEdge.view[c]!;
        const edge = crossing >> 1;
        const other = seen(store.edgeRow.view[edge * 4 + (crossing & 1 ? 1 : 2)]!, at);
        if (other < 0 || !mayBeSeen(other) || (other === at && loops[code] === 1)) continue;
        if (!visit(other, edge)) return false;
      }
    }
    return true;
  };
}
