/**
 * `+ - * /` and `||` (ISO/IEC 39075:2024, 20.21 numbers, 20.23 texts, 20.15 lists, 20.14 paths, 20.26 datetimes,
 * 20.28 durations; subclause numbers from memory but for 20.21 and 20.23).
 * Null propagates. What the standard answers with a data exception (division by zero, a number out of range,
 * operands of a wrong type) is null.
 */
import {
  civil,
  type DateTimeValue,
  type DateValue,
  type DurationValue,
  dayOf,
  daysIn,
  NANOSECONDS_A_DAY,
  type Temporal,
  type TimeValue,
} from '../language/temporal.ts';
import { equals } from './compare.ts';
import { isList, type PathValue, type Value } from './value.ts';

export type ArithmeticOperator = '+' | '-' | '*' | '/';

export function arithmetic(operator: ArithmeticOperator, a: Value, b: Value): Value {
  if (typeof a === 'number' && typeof b === 'number') return numeric(operator, a, b);
  if (a === null || b === null) return null;
  switch (operator) {
    case '+':
      if (isDuration(b)) return isDuration(a) ? addDurations(a, b, 1) : isInstant(a) ? shift(a, b, 1) : null;
      return isDuration(a) && isInstant(b) ? shift(b, a, 1) : null;
    case '-':
      if (!isDuration(b)) return null;
      return isDuration(a) ? addDurations(a, b, -1) : isInstant(a) ? shift(a, b, -1) : null;
    case '*':
      if (isDuration(a) && typeof b === 'number') return scale(a, b);
      return typeof a === 'number' && isDuration(b) ? scale(b, a) : null;
    case '/':
      return isDuration(a) && typeof b === 'number' && b !== 0 ? scale(a, 1 / b) : null;
    default:
      return operator satisfies never;
  }
}

function numeric(operator: ArithmeticOperator, a: number, b: number): Value {
  switch (operator) {
    case '+':
      return finite(a + b);
    case '-':
      return finite(a - b);
    case '*':
      return finite(a * b);
    case '/':
      return finite(a / b);
    default:
      return operator satisfies never;
  }
}

/** The number, or null when it is none: division by zero, overflow, roots and logarithms that do not exist. */
export function finite(value: number): number | null {
  return Number.isFinite(value) ? value : null;
}

/** `-a`, `+a`. */
export function signed(operator: '+' | '-', a: Value): Value {
  if (typeof a === 'number') return operator === '-' ? -a : a;
  if (isDuration(a)) return operator === '-' ? scale(a, -1) : a;
  return null;
}

/** Characters and items of what concatenation makes; a text can double a value again and again. */
const LONGEST = { string: 1 << 20, list: 1 << 18 };

/** `a || b`: texts, lists, or paths of which the second begins where the first ends. */
export function concatenate(a: Value, b: Value): Value {
  if (a === null || b === null) return null;
  if (typeof a === 'string' && typeof b === 'string')
    return a.length + b.length > LONGEST.string ? null : a + b;
  if (isList(a) && isList(b)) return a.length + b.length > LONGEST.list ? null : [...a, ...b];
  if (isPath(a) && isPath(b) && equals(a.elements.at(-1)!, b.elements[0]!) === true) {
    return { kind: 'path', elements: [...a.elements, ...b.elements.slice(1)] };
  }
  return null;
}

function kindOf(value: Value): string | undefined {
  return typeof value === 'object' && value !== null && !isList(value) ? value.kind : undefined;
}

function isPath(value: Value): value is PathValue {
  return kindOf(value) === 'path';
}

export function isDuration(value: Value): value is DurationValue {
  return kindOf(value) === 'duration';
}

export function isInstant(value: Value): value is DateValue | TimeValue | DateTimeValue {
  const kind = kindOf(value);
  return kind === 'date' || kind === 'time' || kind === 'datetime';
}

function duration(unit: DurationValue['unit'], amount: number): Value {
  const rounded = unit === 'month' ? Math.trunc(amount) : Math.round(amount * 1e9) / 1e9;
  return Number.isFinite(rounded) ? { kind: 'duration', unit, amount: rounded === 0 ? 0 : rounded } : null;
}

function addDurations(a: DurationValue, b: DurationValue, sign: 1 | -1): Value {
  return a.unit === b.unit ? duration(a.unit, a.amount + sign * b.amount) : null;
}

function scale(a: DurationValue, factor: number): Value {
  return duration(a.unit, a.amount * factor);
}

/** An instant moved by a duration. Months keep the day where it exists and else take the month's last one. */
function shift(a: DateValue | TimeValue | DateTimeValue, by: DurationValue, sign: 1 | -1): Value {
  const amount = sign * by.amount;
  if (a.kind === 'time') {
    if (by.unit === 'month') return null;
    const nanosecond = modulo(a.nanosecond + Math.round(amount * 1e9), NANOSECONDS_A_DAY);
    return { ...a, nanosecond };
  }
  if (by.unit === 'month') {
    const day = addMonths(a.day, amount);
    return day === undefined ? null : { ...a, day };
  }
  const days = Math.floor(amount / 86_400);
  const rest = Math.round((amount - days * 86_400) * 1e9);
  if (a.kind === 'date') {
    // A date has no time of day: parts of days do not move it.
    return inCalendar({ ...a, day: a.day + Math.trunc(amount / 86_400) });
  }
  const nanosecond = a.nanosecond + rest;
  const carry = Math.floor(nanosecond / NANOSECONDS_A_DAY);
  return inCalendar({ ...a, day: a.day + days + carry, nanosecond: nanosecond - carry * NANOSECONDS_A_DAY });
}

function addMonths(day: number, months: number): number | undefined {
  const { year, month, day: dayOfMonth } = civil(day);
  const total = year * 12 + (month - 1) + months;
  const newYear = Math.floor(total / 12);
  const newMonth = modulo(total, 12) + 1;
  return dayOf(newYear, newMonth, Math.min(dayOfMonth, daysIn(newYear, newMonth)));
}

const FIRST_DAY = dayOf(-9999, 1, 1)!;
const LAST_DAY = dayOf(9999, 12, 31)!;

function inCalendar(value: DateValue | DateTimeValue): Temporal | null {
  return value.day >= FIRST_DAY && value.day <= LAST_DAY ? value : null;
}

function modulo(a: number, b: number): number {
  return ((a % b) + b) % b;
}

/**
 * DURATION_BETWEEN(a, b): from `a` to `b` in days to seconds (20.27 <duration value expression>, from memory). Both
 * on one scale; of two dates, whole days.
 */
export function durationBetween(a: Value, b: Value): Value {
  if (!isInstant(a) || !isInstant(b) || a.kind !== b.kind) return null;
  if (a.kind === 'date' && b.kind === 'date') return duration('second', (b.day - a.day) * 86_400);
  const [x, y] = [a as TimeValue | DateTimeValue, b as TimeValue | DateTimeValue];
  if ((x.offset === undefined) !== (y.offset === undefined)) return null;
  const days = 'day' in x && 'day' in y ? y.day - x.day : 0;
  const minutes = (x.offset ?? 0) - (y.offset ?? 0);
  return duration('second', days * 86_400 + minutes * 60 + (y.nanosecond - x.nanosecond) / 1e9);
}
