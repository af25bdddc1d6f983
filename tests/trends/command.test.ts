import { fileURLToPath } from 'node:url';
import { parse } from 'csv-parse/sync';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { caseback, Folder } from '../cli/running.ts';

const folder = new Folder();
const run = (...args: string[]) => caseback(args, { cwd: folder.path });

beforeAll(() => run('import', fileURLToPath(new URL('../../seed-data', import.meta.url))));
afterAll(() => folder.remove());

test('a table for each measure, its verdict below, cautions separate', async () => {
  const { code, out, err } = await run('trend', 'category:PressureSensor', 'quantity:mass', '--from', '2015');
  expect(code).toBe(0);
  const [share, mass] = out.trim().split('\n\n');
  expect(share).toMatch(
    /^share of devices with a component of the category PressureSensor\nyear +n +not observed/u,
  );
  expect(share).toMatch(/\n2016 +3 +1 +1 +65 % +20 % to 93 % +9 % to 97 % +50 % to 75 % +1\.95\n/u);
  expect(share).toMatch(/\n(No clear direction|Rising trend|Falling trend)/u);
  expect(share).toMatch(/\nFirst, or among the first: /u);
  expect(mass).toMatch(/^median mass of a device\nyear +n/u);
  expect(err).toMatch(/caution: Devices that were opened and pass the filter: \d+, .* not the market\./u);
});

test('CSV has a row for each group and period at full precision, and groups add up', async () => {
  const { out } = await run(
    'trend',
    'count:Sensor',
    '--by',
    'body-site',
    '--per',
    'half-year',
    '--format',
    'csv',
  );
  const rows = parse(out, { columns: true }) as Record<string, string>[];
  const sum = (group: (name: string) => boolean) =>
    rows
      .filter((row) => row.period === 'all' && group(row.group))
      .reduce((total, row) => total + Number(row.expected), 0);
  expect(rows.every(({ period }) => period === 'all' || /^\d{4}-H[12]$/u.test(period))).toBe(true);
  expect(sum((name) => name === 'all')).toBeGreaterThan(0);
  expect(sum((name) => name !== 'all')).toBeCloseTo(
    sum((name) => name === 'all'),
    6,
  );
});

test.each([
  [['trend'], 2, /MEASURE is missing/u],
  [['trend', 'PressureSensor'], 2, /is not a valid measure; write pattern:/u],
  [['trend', 'quantity:capacity'], 2, /capacity:Battery/u],
  [['trend', 'count:Sensor', '--currency', 'EUR'], 2, /--currency goes with/u],
  [['trend', 'count:Sensr'], 1, /did you mean "Sensor"/u],
  [['trend', 'text:MATCH (x'], 1, /^1:9: The text ends too early/mu],
  [['trend', 'category:Sensor', '--by', 'price-band', '--edges', '5,x'], 2, /--edges is "5,x"/u],
])('%j is refused', async (words, expected, why) => {
  const { code, err } = await run(...words);
  expect(err).toMatch(why);
  expect(code).toBe(expected);
});
