import type { State } from './state.ts';

/** Ids of the parts that are a given part under another label, labels of labels included. */
export function relabelsOf(state: Pick<State, 'linkedFrom'>, part: string): ReadonlySet<string> {
  const found = new Set<string>();
  const open = [part];
  for (let at = open.pop(); at !== undefined; at = open.pop()) {
    for (const other of state.linkedFrom(at, 'RELABELS')) {
      if (other === part || found.has(other)) continue;
      found.add(other);
      open.push(other);
    }
  }
  return found;
}
