import type { Names } from '../state/names.ts';
import type { Alternatives } from './worlds.ts';

// What uncertain components may turn out to be, at rest: columns, from which one is made when it is first asked for. An archive has tens
// of thousands of them, and a question wants a few.

/** Columns of alternatives: each has a stretch of ways, the last of which is "none of them". */
export interface AlternativesColumns {
  /** Where the ways of each begin, and the last ends. */
  readonly starts: Int32Array;
  /** Of each way: its set of terms, by number. */
  readonly terms: Int32Array;
  /** Its part, by number in the names of the archive; 0 for none. */
  readonly parts: Int32Array;
  /** Its probability; 0 for "none of them", which has what is left. */
  readonly probabilities: Float64Array;
}

/** Alternatives while they are collected. */
export class SavedAlternatives {
  readonly #numbers = new Map<Alternatives, number>();
  readonly #starts = [0];
  readonly #terms: number[] = [];
  readonly #parts: number[] = [];
  readonly #probabilities: number[] = [];
  readonly #termNumbers = new Map<string, number>();

  /** Number of some alternatives, which come in when they are new. @param names those of the archive */
  numberOf(one: Alternatives, names: Names): number {
    const known = this.#numbers.get(one);
    if (known !== undefined) return known;
    const number = this.#numbers.size;
    this.#numbers.set(one, number);
    one.terms.forEach((terms, way) => {
      const key = JSON.stringify([...terms]);
      const of = this.#termNumbers.get(key) ?? this.#termNumbers.size;
      this.#termNumbers.set(key, of);
      this.#terms.push(of);
      this.#parts.push(names.numberOf(one.parts[way]));
      this.#probabilities.push(one.probabilities[way] ?? 0);
    });
    this.#starts.push(this.#terms.length);
    return number;
  }

  /** Sets of terms, by number. */
  get terms(): readonly (readonly string[])[] {
    return [...this.#termNumbers.keys()].map((key) => JSON.parse(key));
  }

  columns(): AlternativesColumns {
    return {
      starts: Int32Array.from(this.#starts),
      terms: Int32Array.from(this.#terms),
      parts: Int32Array.from(this.#parts),
      probabilities: Float64Array.from(this.#probabilities),
    };
  }
}

/** Gives alternatives by number, the same object each time. */
export function restoredAlternatives(
  { starts, terms, parts, probabilities }: AlternativesColumns,
  termSets: readonly (readonly string[])[],
  names: Names,
): (number: number) => Alternatives {
  const sets = termSets.map((of) => new Set(of));
  const made: (Alternatives | undefined)[] = [];
  return (number) => {
    const known = made[number];
    if (known) return known;
    const [from, to] = [starts[number], starts[number + 1]];
    const one: Alternatives = {
      probabilities: [...probabilities.subarray(from, to - 1)],
      terms: Array.from(terms.subarray(from, to), (of) => sets[of]),
      parts: Array.from(parts.subarray(from, to), (part) => (part === 0 ? undefined : names.textOf(part))),
    };
    made[number] = one;
    return one;
  };
}
