import type { State } from './state.ts';

/** Ids of the parts that are a given part under another label, labels of labels included. */
export function relabelsOf({ knowledge, records }: State, part: string): ReadonlySet<string> {
  const found = new Set<string>();
  const open = [part];
  for (let at = open.pop(); at !== undefined; at = open.pop()) {
    if (!knowledge.hasNode(at)) continue;
    for (const other of knowledge.inNeighbors(at)) {
      if (other === part || found.has(other) || records.parts.get(other)?.relabels !== at) continue;
      found.add(other);
      open.push(other);
    }
  }
  return found;
}
