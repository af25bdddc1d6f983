import { expect } from 'vitest';
import type { Chart } from '../../src/charts/chart.ts';

// What charts of cells are held to: bars, table and words have the same numbers.

interface Drawn {
  readonly mark: Readonly<Record<string, unknown>> & { readonly type: string };
  readonly data: { readonly values: readonly Readonly<Record<string, string | number>>[] };
}

/** The layers of a chart, of all its panels. */
export function layersOf(document: object): readonly Drawn[] {
  const { concat, layer } = document as { concat?: readonly { layer: Drawn[] }[]; layer?: Drawn[] };
  return (concat ?? [{ layer }]).flatMap((panel) => panel.layer ?? []);
}

/** Three digits of the number as it reads, halves away from zero: a text is an exact decimal to Intl (ECMA-402, 15.5.21). */
const DIGITS = new Intl.NumberFormat('en', { maximumSignificantDigits: 3, useGrouping: false });
const write = (value: unknown) => String(Number(DIGITS.format(String(value) as `${number}`)));

/** Holds bars, numbers beside them, table and words of a chart of cells against each other. */
export function expectCells({ document, rows, description }: Chart, [what, whose]: [string, string]): void {
  const layers = layersOf(document);
  const bars = layers.flatMap(({ mark, data }) =>
    mark.type === 'rule' && mark.strokeWidth === 10
      ? data.values.map(
          ({ column, row, low, high }) => `${column} | ${row} | ${write(low)} to ${write(high)}`,
        )
      : [],
  );
  const ticks = layers.flatMap(({ mark, data }) =>
    mark.type === 'tick'
      ? data.values.map(({ column, row, expected }) => `${column} | ${row} | ${write(expected)}`)
      : [],
  );
  const texts = layers.flatMap(({ mark }) => (typeof mark.text === 'string' ? [mark.text] : []));
  const listedBars: string[] = [];
  const listedTicks: string[] = [];
  for (const row of rows) {
    const name = `${row[what]} | ${row[whose]}`;
    const { certain, expected, possible } = row;
    expect(texts).toContain(expected);
    expect(description).toContain(`${row[whose]} ${expected}`);
    if (expected === 'none' || expected === 'not observed') {
      expect([certain, possible]).toEqual([expected, expected]);
      continue;
    }
    const low = certain === '–' ? expected : certain;
    const high = write(Math.max(Number(expected), possible === '–' ? 0 : Number(possible)));
    if (Number(high) > Number(low)) listedBars.push(`${name} | ${low} to ${high}`);
    if (certain !== '–' && Number(certain) > 0) listedBars.push(`${name} | 0 to ${certain}`);
    if ([certain, possible].some((one) => one !== '–' && one !== expected))
      listedTicks.push(`${name} | ${expected}`);
  }
  // What is written to three digits may differ by less than that.
  const told = bars.filter((bar) => {
    const [low, high] = (bar.split(' | ')[2] ?? '').split(' to ');
    return low !== high;
  });
  expect(told.toSorted()).toEqual(listedBars.toSorted());
  expect(ticks.toSorted()).toEqual(listedTicks.toSorted());
}
