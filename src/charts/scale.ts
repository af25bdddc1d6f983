import { SMALL } from './house-style.ts';
import { widthOf } from './text-width.ts';

/** A scale of numbers with the values that its axis names. */
export interface Scale {
  readonly domain: readonly [number, number];
  readonly values: readonly number[];
  /** Width of the widest label, px. */
  readonly width: number;
  /** Format of labels after d3-format. */
  readonly format: string;
}

/** Shares, from none to all. */
export function shareScale(values: readonly number[] = [0, 0.25, 0.5, 0.75, 1]): Scale {
  return { domain: [0, 1], values, width: widthOf('100%', SMALL), format: '.0%' };
}

/** A scale from 0 (or below, where there is something) over all numbers, with about so many steps of 1, 2 or 5. */
export function amountScale(numbers: readonly number[], steps: number): Scale {
  const low = numbers.reduce((a, b) => Math.min(a, b), 0);
  const high = numbers.reduce((a, b) => Math.max(a, b), 0);
  // Less than this is nothing beside what a double can tell apart.
  const range = high - low > 1e-12 ? high - low : 1;
  const magnitude = 10 ** Math.floor(Math.log10(range / steps));
  const step = [1, 2, 5].map((one) => one * magnitude).find((one) => range / one <= steps) ?? 10 * magnitude;
  const first = Math.floor(low / step);
  const last = Math.max(Math.ceil(high / step), first + 1);
  // Multiples are taken from whole numbers, so that 0.3 is not 0.30000000000000004.
  const values = Array.from({ length: last - first + 1 }, (_, i) =>
    Number(((first + i) * step).toPrecision(12)),
  );
  const isShort = Math.max(-low, high) < 1e6 && step > 1e-4;
  const format = isShort ? ',~r' : '.3~e';
  const written = (value: number) =>
    isShort ? value.toLocaleString('en-US', { maximumFractionDigits: 5 }) : '−9.99e+99';
  return {
    domain: [values[0], values[values.length - 1]],
    values,
    width: Math.max(...values.map((value) => widthOf(written(value), SMALL))),
    format,
  };
}

/** The axis of a scale as Vega-Lite takes it. */
export function axisOf({ values, format }: Scale) {
  return { values, format, grid: true, domain: false, ticks: false, labelPadding: 6 };
}
