import { afterAll, beforeAll, expect, test } from 'vitest';
import { comparisonTable } from '../../src/compare/comparison-table.ts';
import { generations } from '../../src/compare/generations.ts';
import { demo } from '../presence/archives.ts';
import { type Served, serve } from './serving.ts';

// What the start page prints is what the API answers to the same question: somebody quotes it.

let served: Served;
let page = '';
beforeAll(async () => {
  served = await serve({ audience: 'reader' }, await demo());
  page = (await served.app.inject('/')).body;
}, 120_000);
afterAll(() => served.close());

/** Rows of a table in a section of the page, as texts of their cells. */
function rowsOf(section: string): readonly (readonly string[])[] {
  const part = page.split(`<section aria-labelledby="${section}">`)[1]?.split('</section>')[0] ?? '';
  const body = part.split('<tbody>')[1]?.split('</tbody>')[0] ?? '';
  return [...body.matchAll(/<tr>(.*?)<\/tr>/gsu)].map(([, row = '']) =>
    [...row.matchAll(/<t[hd][^>]*>(.*?)<\/t[hd]>/gsu)].map(([, cell = '']) =>
      cell
        .replaceAll(/<[^>]*>/gu, '')
        .replaceAll('\u00a0', ' ')
        .trim(),
    ),
  );
}

const percent = (share: number) => {
  if (share >= 0.995 && share < 1) return '&gt;99 %';
  return share > 0 && share < 0.005 ? '&lt;1 %' : `${Math.round(share * 100)} %`;
};

test('the share by year is that of the trend, of which not observed is no "no"', async () => {
  const { trend } = await served.ask(`{ trend(of: { share: { category: "PressureSensor" } }) { total {
    total { n notObserved } periods { period devices n notObserved value interval { low high } } } } }`);
  const { total, periods } = trend.total;
  expect(total.notObserved).toBeGreaterThan(0);
  expect(page).toContain(`n = ${total.n}, not observed in ${total.notObserved} more`);
  const rows = rowsOf('share');
  expect(rows.map(([year]) => year)).toEqual(periods.map(({ period }: { period: string }) => period));
  for (const [at, { period, devices, n, notObserved, value, interval }] of periods.entries()) {
    if (devices === 0) expect(rows[at]).toEqual([period, '0', 'none opened']);
    else if (value === null)
      expect(rows[at]).toEqual([period, String(n), String(notObserved), 'not observed']);
    else {
      expect(rows[at].slice(0, 3)).toEqual([period, String(n), String(notObserved)]);
      const [share, range] = rows[at].slice(-2).map((cell) => cell.replace(/&#\d+;/gu, ''));
      expect([period, share]).toEqual([period, percent(value)]);
      expect(range).toBe(`${percent(interval.low)} to ${percent(interval.high)}`);
    }
  }
});

test('a count of none says whether it was looked for: on the page, over GraphQL and in a comparison', async () => {
  const state = served.archive.state('reader');
  const { generations: line, comparison } = generations(state, 'tarn-sennit');
  const ids = line.map(({ device }) => device.id);
  const { sections } = await comparisonTable(state, ids, { sections: ['sensors'] });
  const { generations: told } = await served.ask(
    '{ generations(productLine: "tarn-sennit") { comparison { sensors { kind counts { verdict certain } } } } }',
  );
  const onPage = page.includes('Tarn Sennit: sensors by kind') ? rowsOf('line') : undefined;
  let unseen = 0;
  for (const [at, { kind, counts }] of comparison.sensors.entries()) {
    const row = sections[0].rows.find(({ label }) => label === kind);
    const verdicts = counts.map(({ verdict }) => verdict);
    const missing = verdicts.map((verdict) =>
      verdict === 'NOT_OBSERVED' ? 'not-observed' : verdict === 'ABSENT' ? 'absent' : null,
    );
    expect([kind, row?.cells.map((cell) => cell.missing)]).toEqual([kind, missing]);
    expect(told.comparison.sensors[at].counts.map((one: { verdict: string }) => one.verdict)).toEqual(
      verdicts,
    );
    unseen += verdicts.filter((verdict) => verdict === 'NOT_OBSERVED').length;
    const cells = onPage?.[at]?.slice(1);
    expect(cells?.map((cell) => cell === 'not observed')).toEqual(
      verdicts.slice(-8).map((verdict) => verdict === 'NOT_OBSERVED'),
    );
  }
  expect(unseen).toBeGreaterThan(0);
});
