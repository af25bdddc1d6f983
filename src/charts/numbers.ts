import { writtenUnit } from '../model/written-unit.ts';
import type { Interval } from '../statistics/proportion.ts';
import { percentText, significant } from '../text/rounding.ts';

// Table, drawing and words of a chart write a number in the same way.

/** How the numbers of a chart are written. */
export interface Numbers {
  /** Heading of their column. */
  readonly heading: string;
  readonly value: (value: number | null) => string;
  readonly range: (interval: Interval | null) => string;
  /** Value and unit in a sentence. */
  readonly spoken: (value: number) => string;
  readonly spokenRange: (interval: Interval) => string;
}

const NONE = '–';

/** Shares, 0 to 1, in percent. */
export const SHARES: Numbers = numbers('share', '', percentText);

/** Amounts of a unit as UCUM code or currency, to three digits. */
export function amounts(unit: string): Numbers {
  const written = unit === 'components a device' ? unit : writtenUnit(unit);
  return numbers(written === '' ? 'value' : written, written, (value) => String(significant(value, 3)));
}

function numbers(heading: string, unit: string, write: (value: number) => string): Numbers {
  const range = ({ low, high }: Interval) => `${write(low)} to ${write(high)}`;
  const withUnit = (text: string) => (unit === '' ? text : `${text} ${unit}`);
  return {
    heading,
    value: (value) => (value === null ? NONE : write(value)),
    range: (interval) => (interval === null ? NONE : range(interval)),
    spoken: (value) => withUnit(write(value)),
    spokenRange: (interval) => withUnit(range(interval)),
  };
}

/** Whether two ranges differ, in what is written of them. */
export function differs(a: Interval | null, b: Interval | null, { range }: Numbers): boolean {
  return range(a) !== range(b);
}

/** "1 device", "2 devices". */
export function counted(count: number, one: string): string {
  return count === 1 ? `1 ${one}` : `${count} ${one}s`;
}
