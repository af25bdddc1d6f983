import { afterAll, beforeAll, expect, test } from 'vitest';
import { differenceText } from '../../src/cli/answers/difference-text.ts';
import type { Difference } from '../../src/evidence/difference.ts';
import { FILES } from './invented.ts';
import { caseback, Folder } from './running.ts';

// Messages in the words of the interface that was asked, each with the fix.

const folder = new Folder(FILES);
beforeAll(async () => {
  const { code } = await caseback(['import', 'catalogue.yaml', 'band-1.yaml', '--data', 'data'], {
    cwd: folder.path,
  });
  expect(code).toBe(0);
});
afterAll(() => folder.remove());

test.each([
  [['devices', '--from', '2027', '--to', '2020'], 2, /--from 2027 is after --to 2020; swap them/u],
  [['trend', 'category:Gyro'], 1, /"Gyro" is not a term of the component taxonomy; write Gyroscope/u],
  [['devices', '--as-of', '2020-01-01'], 2, /^caseback devices: --as-of: 2020-01-01T\S+ is too early/mu],
  [
    ['pattern', 'MATCH (a:Accelerometer-[:ON]->(b) RETURN a'],
    1,
    /^1:23: "-" is not allowed here.*\nMATCH \(a:Accelerometer-\[:ON\]->\(b\) RETURN a\n {22}\^\ncaseback pattern: the pattern cannot be read\n$/u,
  ],
])('%j', async (args, exit, told) => {
  const { code, err } = await caseback([...args, '--data', 'data'], { cwd: folder.path });
  expect([code, err]).toEqual([exit, expect.stringMatching(told)]);
});

test.each([
  [['disagreements'], 'component,recorded,as,evidence,speaks for,at,against'],
  [['corrections'], 'correction,on,by,publications,sentences,summary,reason'],
  [['search', 'zeppelin'], 'kind,id,title'],
  [['pattern', 'MATCH (c:Magnetometer) RETURN c.designator AS which, c.board AS board'], 'which,board'],
  [
    ['devices', '--to', '1999'],
    'device,name,maker,released,body site,product line,specimens,components,visible',
  ],
])('%j without rows keeps its heading as csv', async (args, heading) => {
  const { out } = await caseback([...args, '--format', 'csv', '--data', 'data'], { cwd: folder.path });
  expect(out).toBe(`${heading}\r\n`);
});

test('and it is the one that rows have', async () => {
  const { out } = await caseback(['devices', '--format', 'csv', '--data', 'data'], { cwd: folder.path });
  expect(out.split('\r\n')[0]).toBe(
    'device,name,maker,released,body site,product line,specimens,components,visible',
  );
});

test('rows that read the same before and after are counted and left out', () => {
  const cell = { specimenId: 'a/a', row: 'r', unit: '1' };
  const figures = (expected: number) => ({ certain: null, expected, possible: null });
  const difference = {
    devices: ['a'],
    gained: [],
    lost: [],
    moved: [],
    cells: [
      { ...cell, label: 'One', before: figures(1.0312), after: figures(1.0309) },
      { ...cell, label: 'Other', before: figures(1.031), after: figures(0.4) },
    ],
    trendPoints: [
      { subject: 'category GasSensor', year: 2026, deviceId: 'a', before: 0.0001, after: 0.0002 },
    ],
    claims: [],
  } as unknown as Difference;
  const text = differenceText(difference);
  expect(text).toContain('Other');
  expect(text).not.toMatch(/One|GasSensor/u);
  expect(text).toContain('2 figures more by less than is shown');
});
