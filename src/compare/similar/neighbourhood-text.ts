import type { LabelledGraph } from './labelled-graph.ts';

/**
 * The surroundings of a node in words: `Accelerometer beside LinearRegulator and Microcontroller`.
 * @param node one that is connected to something, unless `steps` is 0
 * @param steps how far they reach; 0 for the node's own label
 */
export function neighbourhoodText(
  { labels, neighbours }: LabelledGraph,
  node: number,
  steps: number,
): string {
  if (steps === 0) return labels[node];
  const around = neighbours[node].map((other) => labels[other]);
  const further = ['', '', ', and all that these connect to'][steps] ?? `, and all within ${steps} steps`;
  return `${labels[node]} beside ${listed(around)}${further}`;
}

/** `2 Capacitor, Crystal and Microcontroller`, in the order of the alphabet. */
function listed(kinds: readonly string[]): string {
  const counts = new Map<string, number>();
  for (const kind of [...kinds].sort()) counts.set(kind, (counts.get(kind) ?? 0) + 1);
  const items = [...counts].map(([kind, number]) => (number === 1 ? kind : `${number} ${kind}`));
  const last = items.pop() as string;
  return items.length === 0 ? last : `${items.join(', ')} and ${last}`;
}
