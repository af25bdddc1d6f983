/** Conditions on which elements are the same, and which are not. */
import type { Condition } from './pattern.ts';

/** Holds of nothing. */
export const NEVER: Condition = {
  slots: [],
  selectivity: 0,
  place: undefined,
  test: () => false,
  emit: () => 'false',
};

export function sameElement(a: number, b: number): Condition {
  return {
    slots: [a, b],
    selectivity: 0.01,
    place: undefined,
    test: ({ row }) => row[a] === row[b],
    emit: (scope) => `${scope.element(a)} === ${scope.element(b)}`,
  };
}

/** A node differs from nodes bound by earlier clauses. The list may be shared. */
export function otherElements(slot: number, earlier: readonly number[]): Condition {
  return {
    slots: [slot],
    selectivity: 1,
    place: undefined,
    test: ({ row }) => earlier.every((other) => row[slot] !== row[other]),
    emit: (scope) =>
      earlier.length > WRITTEN
        ? undefined
        : earlier.map((other) => `${scope.element(slot)} !== ${scope.element(other)}`).join(' && '),
  };
}

/** Comparisons that are written out at most. */
const WRITTEN = 16;
