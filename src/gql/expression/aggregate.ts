/**
 * Aggregates (ISO/IEC 39075:2024, 20.9 <aggregate function>; features GF10, GF11). Nulls are left out of all but
 * COUNT(*). COUNT of nothing is 0; every other aggregate of nothing is null, COLLECT_LIST an empty list. SUM and AVG
 * are over numbers or durations of one unit; one value of another type makes the answer null.
 */
import type { Aggregate } from '../language/ast.ts';
import type { DurationValue } from '../language/temporal.ts';
import { finite, isDuration } from './arithmetic.ts';
import { compareValues, valueKey } from './compare.ts';
import type { Value } from './value.ts';

export interface Accumulator {
  /** One row's value; for COUNT(*) any. */
  add(value: Value): void;
  result(): Value;
  /** What it keeps, in bytes, roughly. */
  readonly bytes: number;
}

/**
 * An accumulator for one group.
 *
 * @param fraction the second argument of PERCENTILE_CONT and PERCENTILE_DISC, evaluated
 */
export function accumulatorFor(node: Aggregate, fraction: Value = null): Accumulator {
  if (!node.argument) return new Counter(true);
  const inner = plain(node, fraction);
  return node.distinct ? new Distinct(inner) : inner;
}

function plain(node: Aggregate, fraction: Value): Accumulator {
  switch (node.name) {
    case 'COUNT':
      return new Counter(false);
    case 'SUM':
      return new Sum(false);
    case 'AVG':
      return new Sum(true);
    case 'MIN':
      return new Extreme(-1);
    case 'MAX':
      return new Extreme(1);
    case 'COLLECT_LIST':
      return new List();
    case 'STDDEV_SAMP':
      return new Deviation(1);
    case 'STDDEV_POP':
      return new Deviation(0);
    case 'PERCENTILE_CONT':
      return new Percentile(fraction, true);
    case 'PERCENTILE_DISC':
      return new Percentile(fraction, false);
    default:
      return node.name satisfies never;
  }
}

class Counter implements Accumulator {
  readonly bytes = 16;
  readonly #nulls: boolean;
  #count = 0;
  constructor(nulls: boolean) {
    this.#nulls = nulls;
  }
  add(value: Value): void {
    if (this.#nulls || value !== null) this.#count++;
  }
  result(): Value {
    return this.#count;
  }
}

/** Sums with the error-free summation of W. Kahan and A. Neumaier, so that the order of rows shows least. */
class Sum implements Accumulator {
  readonly bytes = 64;
  readonly #mean: boolean;
  #count = 0;
  #sum = 0;
  #rest = 0;
  #unit: DurationValue['unit'] | 'number' | undefined;
  #mixed = false;
  constructor(mean: boolean) {
    this.#mean = mean;
  }
  add(value: Value): void {
    if (value === null) return;
    const unit = typeof value === 'number' ? 'number' : isDuration(value) ? value.unit : undefined;
    this.#unit ??= unit;
    if (unit === undefined || unit !== this.#unit) {
      this.#mixed = true;
      return;
    }
    const x = typeof value === 'number' ? value : (value as DurationValue).amount;
    const total = this.#sum + x;
    this.#rest += Math.abs(this.#sum) >= Math.abs(x) ? this.#sum - total + x : x - total + this.#sum;
    this.#sum = total;
    this.#count++;
  }
  result(): Value {
    if (this.#mixed || this.#count === 0 || this.#unit === undefined) return null;
    const total = this.#sum + this.#rest;
    const amount = finite(this.#mean ? total / this.#count : total);
    if (amount === null || this.#unit === 'number') return amount;
    return {
      kind: 'duration',
      unit: this.#unit,
      amount: this.#unit === 'month' ? Math.trunc(amount) : amount,
    };
  }
}

class Extreme implements Accumulator {
  readonly bytes = 48;
  readonly #sign: 1 | -1;
  #best: Value = null;
  constructor(sign: 1 | -1) {
    this.#sign = sign;
  }
  add(value: Value): void {
    if (value === null) return;
    if (this.#best === null || compareValues(value, this.#best) * this.#sign > 0) this.#best = value;
  }
  result(): Value {
    return this.#best;
  }
}

class List implements Accumulator {
  readonly #values: Value[] = [];
  get bytes(): number {
    return 32 + this.#values.length * 24;
  }
  add(value: Value): void {
    if (value !== null) this.#values.push(value);
  }
  result(): Value {
    return this.#values;
  }
}

/** Mean and squared distance in one pass (B. P. Welford, Technometrics 4 (3), 1962). */
class Deviation implements Accumulator {
  readonly bytes = 64;
  readonly #lost: 0 | 1;
  #count = 0;
  #mean = 0;
  #squares = 0;
  #mixed = false;
  constructor(lost: 0 | 1) {
    this.#lost = lost;
  }
  add(value: Value): void {
    if (value === null) return;
    if (typeof value !== 'number') {
      this.#mixed = true;
      return;
    }
    this.#count++;
    const distance = value - this.#mean;
    this.#mean += distance / this.#count;
    this.#squares += distance * (value - this.#mean);
  }
  result(): Value {
    if (this.#mixed || this.#count <= this.#lost) return null;
    return finite(Math.sqrt(this.#squares / (this.#count - this.#lost)));
  }
}

/** PERCENTILE_CONT interpolates between neighbours; PERCENTILE_DISC takes a value that is there. */
class Percentile implements Accumulator {
  readonly #values: number[] = [];
  readonly #fraction: number | undefined;
  readonly #continuous: boolean;
  #mixed = false;
  constructor(fraction: Value, continuous: boolean) {
    this.#fraction = typeof fraction === 'number' && fraction >= 0 && fraction <= 1 ? fraction : undefined;
    this.#continuous = continuous;
  }
  get bytes(): number {
    return 48 + this.#values.length * 8;
  }
  add(value: Value): void {
    if (value === null) return;
    if (typeof value === 'number') this.#values.push(value);
    else this.#mixed = true;
  }
  result(): Value {
    const values = this.#values;
    if (this.#mixed || this.#fraction === undefined || values.length === 0) return null;
    values.sort((a, b) => a - b);
    if (!this.#continuous) return values[Math.max(0, Math.ceil(this.#fraction * values.length) - 1)]!;
    const place = this.#fraction * (values.length - 1);
    const low = values[Math.floor(place)]!;
    return low + (values[Math.ceil(place)]! - low) * (place - Math.floor(place));
  }
}

class Distinct implements Accumulator {
  readonly #inner: Accumulator;
  readonly #seen = new Set<string>();
  #keys = 0;
  constructor(inner: Accumulator) {
    this.#inner = inner;
  }
  get bytes(): number {
    return this.#inner.bytes + this.#seen.size * 48 + this.#keys * 2;
  }
  add(value: Value): void {
    if (value === null) return;
    const key = valueKey(value);
    if (this.#seen.has(key)) return;
    this.#seen.add(key);
    this.#keys += key.length;
    this.#inner.add(value);
  }
  result(): Value {
    return this.#inner.result();
  }
}
