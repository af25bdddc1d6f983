import { codeOf, IN, OUT, UNDIRECTED } from '../storage/catalog.ts';
import { BACKWARD, FORWARD, SIDEWAYS } from './pattern.ts';

/**
 * The adjacency codes that an edge pattern accepts, seen from its `from` node, or from `to` when `reversed`.
 *
 * @param labels 1 for every edge label number that passes
 */
export function adjacencyCodes(directions: number, labels: Uint8Array, reversed: boolean): number[] {
  const codes: number[] = [];
  labels.forEach((passes, label) => {
    if (passes !== 1) return;
    if (directions & (reversed ? BACKWARD : FORWARD)) codes.push(codeOf(label, OUT));
    if (directions & (reversed ? FORWARD : BACKWARD)) codes.push(codeOf(label, IN));
    if (directions & SIDEWAYS) codes.push(codeOf(label, UNDIRECTED));
  });
  return codes;
}
