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

/** A node differs from a node bound by an earlier clause. */
export function otherElement(slot: number, earlier: number): Condition {
  return {
    slots: [slot],
    selectivity: 1,
    place: undefined,
    test: ({ row }) => row[slot] !== row[earlier],
    emit: (scope) => `${scope.element(slot)} !== ${scope.element(earlier)}`,
  };
}
