// One policy for missing values.
//
// 1. "Not observed" and "absent" are different facts. Not observed: not examined, or not readable;
//    the value exists and may be anything. Not present: examined, and the device has none.
// 2. Neither is ever turned into 0, and NaN never enters: `known` refuses it.
// 3. A median or a slope is taken over known values, and the numbers left out are reported beside it.
// 4. A share is taken over examined devices. "Not present" is a no and counts; "not observed" widens the
//    certain–possible band (share-band.ts) and never counts as a no.

/** A value, or why there is none. */
export type Reading<T = number> =
  | { readonly kind: 'known'; readonly value: T }
  | { readonly kind: 'absent' }
  | { readonly kind: 'not-observed' };

/** Someone looked, and the device has none. */
export const ABSENT: Reading<never> = { kind: 'absent' };

/** Not examined, or not readable. */
export const NOT_OBSERVED: Reading<never> = { kind: 'not-observed' };

/** A reading of a finite number. @throws RangeError for NaN and infinities */
export function known(value: number): Reading {
  if (!Number.isFinite(value)) {
    throw new RangeError(`${value} is not a valid reading; use NOT_OBSERVED or ABSENT`);
  }
  return { kind: 'known', value };
}

/** The values of a set of readings, and how many readings have none. */
export interface Sifted<T = number> {
  readonly values: readonly T[];
  readonly absent: number;
  readonly notObserved: number;
}

/** Separates known values from missing ones; nothing is filled in. The three counts sum to the number of readings. */
export function sift<T>(readings: readonly Reading<T>[]): Sifted<T> {
  const values: T[] = [];
  let absent = 0;
  let notObserved = 0;
  for (const reading of readings) {
    switch (reading.kind) {
      case 'known':
        values.push(reading.value);
        break;
      case 'absent':
        absent++;
        break;
      case 'not-observed':
        notObserved++;
        break;
      default:
        reading satisfies never;
    }
  }
  return { values, absent, notObserved };
}
