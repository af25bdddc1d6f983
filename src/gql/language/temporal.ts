/**
 * Temporal values and their texts: dates, times, datetimes and durations after ISO 8601-1:2019, as
 * ISO/IEC 39075:2024 uses them (21.2 <temporal literal>, <duration literal>; 4.16 on temporal types). The calendar is
 * the proleptic Gregorian one; leap seconds do not exist.
 */
import type { TemporalType } from './ast.ts';

export interface DateValue {
  readonly kind: 'date';
  /** Days since 1970-01-01. */
  readonly day: number;
}

export interface TimeValue {
  readonly kind: 'time';
  /** Nanoseconds since midnight, by the clock on the wall. */
  readonly nanosecond: number;
  /** Minutes east of UTC; undefined for a local time. */
  readonly offset: number | undefined;
}

export interface DateTimeValue {
  readonly kind: 'datetime';
  /** Day and time by the clock on the wall. */
  readonly day: number;
  readonly nanosecond: number;
  /** Minutes east of UTC; undefined for a local datetime. */
  readonly offset: number | undefined;
}

/** Either months or seconds: GQL keeps year-month and day-time durations apart. */
export interface DurationValue {
  readonly kind: 'duration';
  readonly unit: 'month' | 'second';
  /** Whole months, or seconds with a fraction; negative runs backwards. */
  readonly amount: number;
}

export type Temporal = DateValue | TimeValue | DateTimeValue | DurationValue;

export const NANOSECONDS_A_DAY = 86_400_000_000_000;
const DATE = /^([+-]?\d{4,6})-(\d\d)-(\d\d)$|^(\d{4})(\d\d)(\d\d)$/;
const TIME = /^(\d\d):(\d\d)(?::(\d\d)(?:[.,](\d{1,9}))?)?(Z|[+-]\d\d(?::?\d\d)?)?$/i;
/** Signs in front and at each part after ISO 8601-2:2019, a fraction at the last part after ISO 8601-1:2019, 5.5.2.3. */
const PART = String.raw`([+-]?\d{1,18}(?:[.,]\d{1,9})?)`;
const DURATION = new RegExp(
  `^([+-])?P(?=.)(?:${PART}Y)?(?:${PART}M)?(?:${PART}W)?(?:${PART}D)?(?:T(?=.)(?:${PART}H)?(?:${PART}M)?(?:${PART}S)?)?$`,
  'i',
);
/** Months in the first two parts, nanoseconds in the others. */
const PART_SIZES = [12n, 1n, 604_800n, 86_400n, 3_600n, 60n, 1n].map((size, i) =>
  i < 2 ? size : size * 1_000_000_000n,
);

/** Reads a text as a value of a type; undefined when it cannot be. */
export function readTemporal(type: TemporalType, text: string): Temporal | undefined {
  const trimmed = text.trim();
  switch (type) {
    case 'DATE':
      return readDate(trimmed);
    case 'TIME':
      return readTime(trimmed);
    case 'DATETIME':
      return readDateTime(trimmed);
    case 'DURATION':
      return readDuration(trimmed);
    default:
      return type satisfies never;
  }
}

function readDate(text: string): DateValue | undefined {
  const parts = DATE.exec(text);
  if (!parts) return undefined;
  const day = dayOf(Number(parts[1] ?? parts[4]), Number(parts[2] ?? parts[5]), Number(parts[3] ?? parts[6]));
  return day === undefined ? undefined : { kind: 'date', day };
}

function readTime(text: string): TimeValue | undefined {
  const parts = TIME.exec(text);
  if (!parts) return undefined;
  const hour = Number(parts[1]);
  const minute = Number(parts[2]);
  const second = Number(parts[3] ?? 0);
  if (hour > 23 || minute > 59 || second > 59) return undefined;
  const offset = parts[5] === undefined ? undefined : readOffset(parts[5]);
  if (offset !== undefined && Math.abs(offset) > 14 * 60) return undefined;
  const fraction = Number((parts[4] ?? '').padEnd(9, '0'));
  return {
    kind: 'time',
    nanosecond: ((hour * 60 + minute) * 60 + second) * 1e9 + fraction,
    offset,
  };
}

function readOffset(text: string): number {
  if (text.toUpperCase() === 'Z') return 0;
  const digits = text.slice(1).replace(':', '').padEnd(4, '0');
  const minutes = Number(digits.slice(0, 2)) * 60 + Number(digits.slice(2));
  return text.startsWith('-') ? -minutes : minutes;
}

function readDateTime(text: string): DateTimeValue | undefined {
  const split = text.search(/[Tt ]/);
  if (split < 0) return undefined;
  const date = readDate(text.slice(0, split));
  const time = readTime(text.slice(split + 1));
  if (!date || !time) return undefined;
  return { kind: 'datetime', day: date.day, nanosecond: time.nanosecond, offset: time.offset };
}

/**
 * A duration has either months or seconds, or zero of one of them. Whole numbers throughout, since 1.1 hours would
 * otherwise not be 3960 seconds.
 */
function readDuration(text: string): DurationValue | undefined {
  const read = DURATION.exec(text);
  if (!read) return undefined;
  const [, sign, ...parts] = read;
  const last = parts.findLastIndex((part) => part !== undefined);
  let months = 0n;
  let nanoseconds = 0n;
  for (const [i, part] of parts.entries()) {
    if (part === undefined) continue;
    const [whole, fraction = ''] = part.split(/[.,]/) as [string, string?];
    if (fraction !== '' && i !== last) return undefined;
    // 10^9 parts of the unit, which all divide evenly but those of months.
    const billionths = BigInt(whole.replace('+', '') + fraction.padEnd(9, '0')) * PART_SIZES[i]!;
    if (billionths % 1_000_000_000n !== 0n) return undefined;
    if (i < 2) months += billionths / 1_000_000_000n;
    else nanoseconds += billionths / 1_000_000_000n;
  }
  if (months !== 0n && nanoseconds !== 0n) return undefined;
  const unit = nanoseconds === 0n && (months !== 0n || last < 2) ? 'month' : 'second';
  const seconds = nanoseconds / 1_000_000_000n;
  const whole = Number(unit === 'month' ? months : seconds);
  if (!Number.isSafeInteger(whole)) return undefined;
  const size = unit === 'month' ? whole : whole + Number(nanoseconds % 1_000_000_000n) / 1e9;
  return { kind: 'duration', unit, amount: size === 0 ? 0 : sign === '-' ? -size : size };
}

/** Days since 1970-01-01, or undefined when there is no such day. Years are -9999 to 9999. */
export function dayOf(year: number, month: number, day: number): number | undefined {
  if (Math.abs(year) > 9999 || month < 1 || month > 12 || day < 1 || day > daysIn(year, month))
    return undefined;
  const date = new Date(0);
  date.setUTCFullYear(year, month - 1, day);
  return Math.round(date.getTime() / 86_400_000);
}

/** Year, month (from 1) and day of a day number. */
export function civil(day: number): { readonly year: number; readonly month: number; readonly day: number } {
  const date = new Date(day * 86_400_000);
  return { year: date.getUTCFullYear(), month: date.getUTCMonth() + 1, day: date.getUTCDate() };
}

export function daysIn(year: number, month: number): number {
  if (month === 2) return (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0 ? 29 : 28;
  return month === 4 || month === 6 || month === 9 || month === 11 ? 30 : 31;
}

/** The ISO 8601 text of a value, such as `2024-05-01T08:00:00+02:00` or `P1DT2H`. */
export function temporalText(value: Temporal): string {
  switch (value.kind) {
    case 'date':
      return dateText(value.day);
    case 'time':
      return timeText(value.nanosecond) + offsetText(value.offset);
    case 'datetime':
      return `${dateText(value.day)}T${timeText(value.nanosecond)}${offsetText(value.offset)}`;
    case 'duration':
      return durationText(value);
    default:
      return value satisfies never;
  }
}

function dateText(day: number): string {
  const { year, month, day: dayOfMonth } = civil(day);
  const years = year < 0 ? `-${pad(-year, 4)}` : pad(year, 4);
  return `${years}-${pad(month, 2)}-${pad(dayOfMonth, 2)}`;
}

function timeText(nanosecond: number): string {
  const second = Math.floor(nanosecond / 1e9);
  const fraction = nanosecond % 1e9;
  const tail = fraction === 0 ? '' : `.${pad(fraction, 9).replace(/0+$/, '')}`;
  return `${pad(Math.floor(second / 3600), 2)}:${pad(Math.floor(second / 60) % 60, 2)}:${pad(second % 60, 2)}${tail}`;
}

function offsetText(offset: number | undefined): string {
  if (offset === undefined) return '';
  if (offset === 0) return 'Z';
  const minutes = Math.abs(offset);
  return `${offset < 0 ? '-' : '+'}${pad(Math.floor(minutes / 60), 2)}:${pad(minutes % 60, 2)}`;
}

function durationText({ unit, amount }: DurationValue): string {
  const sign = amount < 0 ? '-' : '';
  const size = unit === 'month' ? Math.abs(amount) : Math.round(Math.abs(amount) * 1e9) / 1e9;
  if (unit === 'month') {
    const text = part(Math.floor(size / 12), 'Y') + part(size % 12, 'M');
    return `${sign}P${text || '0M'}`;
  }
  const whole = Math.floor(size);
  const fraction = (size - whole)
    .toFixed(9)
    .slice(1)
    .replace(/\.?0+$/, '');
  const seconds = whole % 60 === 0 && fraction === '' ? '' : `${whole % 60}${fraction}S`;
  const time = part(Math.floor(whole / 3600) % 24, 'H') + part(Math.floor(whole / 60) % 60, 'M') + seconds;
  const text = part(Math.floor(whole / 86_400), 'D') + (time ? `T${time}` : '');
  return `${sign}P${text || 'T0S'}`;
}

function part(amount: number, letter: string): string {
  return amount === 0 ? '' : `${amount}${letter}`;
}

function pad(value: number, width: number): string {
  return String(value).padStart(width, '0');
}
