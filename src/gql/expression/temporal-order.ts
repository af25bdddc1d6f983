/** Temporal values on a line: what two of them must share to be compared, and where each one lies. */
import { NANOSECONDS_A_DAY, type Temporal } from '../language/temporal.ts';

const NANOSECONDS_A_MINUTE = 60e9;

/** Only values with the same scale can be compared: a local time and a zoned one cannot, nor months and seconds. */
export function scaleOf(value: Temporal): string {
  switch (value.kind) {
    case 'date':
      return 'date';
    case 'time':
    case 'datetime':
      return `${value.kind} ${value.offset === undefined ? 'local' : 'zoned'}`;
    case 'duration':
      return `duration ${value.unit}`;
    default:
      return value satisfies never;
  }
}

/**
 * The place on the scale as a whole number and a rest, to be compared in turn: together they exceed what one
 * 64-bit floating point number holds exactly. Zoned values lie where they lie in UTC.
 */
export function placeOf(value: Temporal): readonly [number, number] {
  switch (value.kind) {
    case 'date':
      return [value.day, 0];
    case 'time':
      return [0, value.nanosecond - (value.offset ?? 0) * NANOSECONDS_A_MINUTE];
    case 'datetime': {
      const nanosecond = value.nanosecond - (value.offset ?? 0) * NANOSECONDS_A_MINUTE;
      const days = Math.floor(nanosecond / NANOSECONDS_A_DAY);
      return [value.day + days, nanosecond - days * NANOSECONDS_A_DAY];
    }
    case 'duration':
      return [value.amount, 0];
    default:
      return value satisfies never;
  }
}

/** Negative, zero or positive; both on one scale. */
export function compareTemporal(a: Temporal, b: Temporal): number {
  const [dayA, restA] = placeOf(a);
  const [dayB, restB] = placeOf(b);
  return dayA - dayB || restA - restB;
}
