import type { Code } from './dfs-code.ts';
import { type GraphStore, hasArc, hasLabel } from './graph-store.ts';

/**
 * Ways in which a structure lies in one graph of a store, one for each set of nodes, as nodes in the order of the
 * structure's.
 * @param most stops after so many
 */
export function occurrences(
  store: GraphStore,
  graph: number,
  { labels, edges }: Code,
  most: number,
): readonly (readonly number[])[] {
  const found: number[][] = [];
  const seen = new Set<string>();
  const place = (at: number, row: readonly number[]): void => {
    if (found.length >= most) return;
    if (at === edges.length) {
      const key = [...row].sort((a, b) => a - b).join(' ');
      if (!seen.has(key)) found.push([...row]);
      seen.add(key);
      return;
    }
    const { from, to, link } = edges[at];
    if (to < row.length) {
      if (hasArc(store, row[from], row[to], link)) place(at + 1, row);
      return;
    }
    for (let arc = store.arcs[row[from]]; arc < store.arcs[row[from] + 1]; arc++) {
      const head = store.heads[arc];
      if (store.links[arc] !== link || !hasLabel(store, head, labels[to]) || row.includes(head)) continue;
      place(at + 1, [...row, head]);
    }
  };
  for (let node = store.graphs[graph]; node < store.graphs[graph + 1]; node++) {
    if (hasLabel(store, node, labels[0])) place(0, [node]);
  }
  return found;
}

/** Number of ways in which a structure lies in itself. */
export function symmetries({ labels, edges }: Code, reverse: ArrayLike<number>): number {
  const joined = new Set(
    edges.flatMap(({ from, to, link }) => [`${from} ${to} ${link}`, `${to} ${from} ${reverse[link]}`]),
  );
  const place = (to: readonly number[]): number => {
    const at = to.length;
    if (at === labels.length) return 1;
    const back = edges.filter(({ from, to: end }) => Math.max(from, end) === at);
    let ways = 0;
    for (let node = 0; node < labels.length; node++) {
      if (labels[node] !== labels[at] || to.includes(node)) continue;
      const holds = back.every(({ from, to: end, link }) =>
        joined.has(from < end ? `${to[from]} ${node} ${link}` : `${node} ${to[end]} ${link}`),
      );
      if (holds) ways += place([...to, node]);
    }
    return ways;
  };
  return place([]);
}
