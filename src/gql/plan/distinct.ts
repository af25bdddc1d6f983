/**
 * Which elements of a pattern must differ. A MATCH says so of all its edges at once, so this is kept as sets of slots
 * and never as pairs: a text may have thousands of edges.
 */

/** Slots, all of nodes or all of edges, that hold different elements. */
export interface DistinctSet {
  /** Without duplicates. */
  readonly slots: readonly number[];
  /** Exceptions: slots with the same number here may hold the same element. */
  readonly kin?: ReadonlyMap<number, number> | undefined;
}

export class Distinct {
  readonly sets: readonly DistinctSet[];
  /** Sets of each slot, ascending. */
  readonly #setsOf = new Map<number, number[]>();

  constructor(sets: readonly DistinctSet[]) {
    this.sets = sets.filter(({ slots }) => slots.length > 1);
    this.sets.forEach(({ slots }, set) => {
      for (const slot of slots) {
        const known = this.#setsOf.get(slot);
        if (known) known.push(set);
        else this.#setsOf.set(slot, [set]);
      }
    });
  }

  /** Numbers of the sets that a slot is in. */
  setsOf(slot: number): readonly number[] {
    return this.#setsOf.get(slot) ?? NONE;
  }

  /** Whether two slots must hold different elements. */
  mustDiffer(a: number, b: number): boolean {
    if (a === b) return false;
    const others = this.setsOf(b);
    return this.setsOf(a).some((set) => {
      if (!others.includes(set)) return false;
      const { kin } = this.sets[set]!;
      return !kin?.has(a) || kin.get(a) !== kin.get(b);
    });
  }
}

const NONE: readonly number[] = [];
