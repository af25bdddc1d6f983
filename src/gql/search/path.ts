/**
 * Complete paths: their elements, and the path modes of ISO/IEC 39075:2024, 16.6: TRAIL repeats no edge, ACYCLIC no
 * node, SIMPLE no node except that the last may be the first.
 */

import type { RowState } from '../plan/pattern.ts';
import type { PathMode, PathPart } from '../plan/quantified-path.ts';

/** Nodes and edges in turn, from the first node to the last. */
export function elementsOf(parts: readonly PathPart[], state: RowState): number[] {
  const elements: number[] = [];
  for (const part of parts) {
    if (part.kind === 'walked') {
      elements.push(...(state.values[part.slot] as readonly number[]));
      continue;
    }
    const element = state.row[part.slot]!;
    // Two adjacent nodes are the same: the quantified path between them was empty.
    if (part.node && elements.length % 2 === 1) continue;
    elements.push(element);
  }
  return elements;
}

/** Where along the path, counted in elements, each part stands that binds a name. */
export function placesOf(parts: readonly PathPart[], state: RowState): number[] {
  const places: number[] = [];
  let length = 0;
  for (const part of parts) {
    const joins = part.kind === 'element' && part.node && length % 2 === 1;
    if (part.named) places.push(joins ? length - 1 : length);
    if (part.kind === 'walked') length += (state.values[part.slot] as readonly number[]).length;
    else if (!joins) length++;
  }
  return places;
}

export function keepsMode(mode: PathMode, elements: readonly number[]): boolean {
  switch (mode) {
    case 'walk':
      return true;
    case 'trail':
      return allDiffer(elements, 1, elements.length);
    case 'acyclic':
      return allDiffer(elements, 0, elements.length);
    case 'simple': {
      const last = elements.length - 1;
      if (last === 0) return true;
      // All but the last differ; the last differs from all but the first.
      if (!allDiffer(elements, 0, last)) return false;
      for (let i = 2; i < last; i += 2) if (elements[i] === elements[last]) return false;
      return true;
    }
    default:
      return mode satisfies never;
  }
}

/** Whether every second element from `start` on differs from the others. */
function allDiffer(elements: readonly number[], start: number, end: number): boolean {
  if (end - start <= 16) {
    for (let i = start; i < end; i += 2)
      for (let j = start; j < i; j += 2) if (elements[i] === elements[j]) return false;
    return true;
  }
  const seen = new Set<number>();
  for (let i = start; i < end; i += 2) {
    if (seen.has(elements[i]!)) return false;
    seen.add(elements[i]!);
  }
  return true;
}
