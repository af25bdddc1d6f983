import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { caseback, Folder, headOf } from './running.ts';

// Decisions, audit, checking sheet, impact, what-if and correct on the command line, over the invented demo archive.

const folder = new Folder();
const cwd = folder.path;
const data = join(cwd, 'data');
beforeAll(async () => {
  const seed = join(import.meta.dirname, '../../seed-data');
  const { code, err } = await caseback(['import', seed, '--reason', 'demo'], { cwd });
  if (code !== 0) throw new Error(err);
});
afterAll(() => folder.remove());

const run = (...args: string[]) => caseback(args, { cwd });

test("decisions of a device, and an editor's judgement of a decision", async () => {
  const listed = await run('decisions', 'tarn-sennit-5');
  expect(listed.code).toBe(0);
  expect(listed.out).toMatch(/^tarn-sennit-5:duplicated-sensors +0\.\d{3} +\S.* proposed /mu);
  const full = await run('decisions', 'thovane-calcar-2:duplicated-sensors');
  expect(full).toMatchObject({ code: 0, err: '' });
  expect(full.out).toContain('Averaging two readings lowers the noise.');
  expect(full.out).toContain('may be an assembly option');
  expect(full.out).toMatch(/^thovane-calcar-2\/a +U2 +quistle\/QWR4T20 +U3 +0\.\d{3}$/mu);
  expect(full.out).toMatch(/^thovane-calcar-2\/a\/o1 +measurement: 26\.5 mm/mu);
  expect(full.out).toContain('To calculate it: caseback calculate averaging "count=2"');
  const none = await run('decisions', 'thovane-calcar-2:single-board');
  expect(none.code).toBe(1);
  expect(none.err).toContain('"caseback decisions thovane-calcar-2" lists those of the device');
  const judged = await run(
    'judge-decision',
    'tarn-sennit-5:duplicated-sensors',
    'rejected',
    '--reason',
    'an option',
  );
  expect(judged).toMatchObject({ code: 0, out: '' });
  expect((await run('decisions', '--pattern', 'duplicated-sensors')).out).toMatch(
    /^tarn-sennit-5:duplicated-sensors .* rejected /mu,
  );
  expect((await run('history', 'tarn-sennit-5:duplicated-sensors')).out).toContain('decision-judged');
});

test("an editor's judgement of an identification is weighed with the evidence", async () => {
  const judge = (...words: string[]) =>
    run('judge-identification', 'mirrelk-mullion-1/a/FL1', ...words, '--reason', 'the marks of its maker');
  const before = (await run('candidates', 'mirrelk-mullion-1/a/FL1', '--format', 'json')).out;
  expect(await judge('against', 'aerlith/AVYF24', '30')).toMatchObject({ code: 0, out: '' });
  const after = (await run('candidates', 'mirrelk-mullion-1/a/FL1', '--format', 'json')).out;
  expect(before).not.toContain('the marks of its maker');
  // The evidence says what was read, not only that something was.
  expect(before).toMatch(/"description": "marking \\"[^"]+\\""/u);
  expect(after).toContain('the marks of its maker');
  const chance = (answer: string) =>
    JSON.parse(answer).parts.find(({ part }: { part: string }) => part === 'aerlith/AVYF24')?.probability ??
    0;
  expect(chance(after)).toBeLessThan(chance(before) / 10);
  expect((await judge('for', 'aerlith/AVYF24', 'much')).err).toContain('decibans');
  expect((await judge('for', 'aerlith/AVYF24', '90')).code).toBe(1);
  expect((await judge('for', 'aerlith/NOT', '3')).err).toContain('aerlith/NOT');
});

test.each([
  [['decisions', 'tarn-senit-5'], 'No device "tarn-senit-5" is in the archive; did you mean "tarn-sennit-5"'],
  [['decisions', '--pattern', 'duplicate-sensors'], 'did you mean "duplicated-sensors"?'],
  [['compare', 'tarn-sennit-3', 'tarn-senit-5'], 'did you mean "tarn-sennit-5"'],
  [
    ['generations', 'tarn-senit'],
    'No product line "tarn-senit" is in the archive; did you mean "tarn-sennit"?',
  ],
  [['audit', 'bench-letter-30'], 'did you mean "bench-letter-31"?'],
  [['next', 'tarn-senit-5/a/U3'], 'did you mean "tarn-sennit-5/a/U3"'],
  [['impact', 'tarn-sennit-3/a/u3'], 'did you mean "tarn-sennit-3/a/U3"?'],
  [['calculate', 'charge-rate', '--device', 'tarn-senit-5'], 'did you mean "tarn-sennit-5"'],
  [['trend', 'pattern:duplicate-sensors'], 'did you mean "duplicated-sensors"?'],
  [['history', 'tarn-senit-5'], 'did you mean "tarn-sennit-5'],
])('a mistyped id is reported with the nearest id: %s', async (words, says) => {
  const { code, err } = await run(...words);
  expect([code, err.includes(says)], err).toEqual([1, true]);
});

test('audit lists sentences that do not fit, and ends with code 1', async () => {
  const { code, out, err } = await run('audit', 'rings-shed-weight');
  expect(code).toBe(1);
  expect(out).toContain('rings-shed-weight/c3');
  expect(out).toMatch(/^ {2}understated: It says "perhaps"/mu);
  expect(err).toMatch(/3 sentences checked, 1 with a finding/u);
  const csv = await run('audit', 'rings-shed-weight', '--all', '--format', 'csv');
  expect(csv.out.split('\r\n')[0]).toBe('claim,probability,finding,message');
  expect(csv.out).toContain('rings-shed-weight/c2');
});

test('the checking sheet is a single self-contained page', async () => {
  const file = join(cwd, 'sheet.html');
  expect((await run('sheet', 'pulse-comes-to-the-wrist', '--out', file)).code).toBe(0);
  const page = readFileSync(file, 'utf8');
  for (const id of ['tarn-sennit-3/a/o2', 'tarn-sennit-3/a/photo-sense-bottom', 'pulse-front-end-sheet'])
    expect(page).toContain(id);
  expect(page).not.toMatch(/<(?:link|script)\b/u);
  // Photos stand in it, too.
  const pictures = [...page.matchAll(/<img\b[^>]*\bsrc="([^"]*)"/gu)].map(([, address]) => address);
  expect(pictures.length).toBeGreaterThan(0);
  expect(pictures.filter((one) => !one.startsWith('data:image/jpeg;base64,'))).toEqual([]);
  expect(page).toContain('pouch cell');
});

test('impact leads from a reading to the sentence that it supports', async () => {
  const { code, out } = await run('impact', 'sallowby-keelson-3/a/o2');
  expect(code).toBe(0);
  expect(out).toMatch(/^ +1 +Claim +bench-letter-31\/c1 +is supported by it/mu);
  expect(out).toMatch(/^ +2 +Publication +bench-letter-31 +asserts it/mu);
});

describe('a change', () => {
  const CHANGE = ['withdraw', 'dunmarrow-leadline-4/a/o7'];

  test('is tried out without a trace, then made, with the same result', async () => {
    const before = await headOf(data);
    const tried = await run('what-if', ...CHANGE, '--audience', 'desk', '--format', 'json');
    expect(await headOf(data)).toEqual(before);
    const made = await run(
      'correct',
      ...CHANGE,
      '--reason',
      'tried out',
      '--actor',
      'this change',
      '--format',
      'json',
    );
    const { difference, correction } = JSON.parse(made.out);
    expect(difference).toEqual(JSON.parse(tried.out));
    expect(difference.lost.map(({ id }: { id: string }) => id)).toEqual([
      'dunmarrow-leadline-4:sensors-behind-a-load-switch',
    ]);
    expect(correction.publications[0].notice).toContain(
      'The pulse front end is switched off by a load switch',
    );
    expect((await headOf(data)).sequence).toBe(before.sequence + 2);
  });

  test('from a file, in any of its forms', async () => {
    const file = folder.write(
      'change.yaml',
      'identify:\n  specimen: nolvey-ferrule-1/a\n  component: U6\n  candidates: [{ category: Accelerometer, probability: 0.9 }]\n',
    );
    const { code, out } = await run('what-if', '--file', file);
    expect(code).toBe(0);
    expect(out).toContain('category TemperatureSensor');
    expect(out).toMatch(/rings-shed-weight\/c3 {2}0\.930 > 0\.000/u);
  });

  test.each([
    [['what-if'], 2, /say what to change/u],
    [['what-if', 'identify', 'tarn-sennit-3/a/U3', 'quistle/QWR4T16'], 2, /is not a valid candidate/u],
    [
      ['what-if', 'withdraw', 'tarn-sennit-3/a/o99'],
      1,
      /No observation "tarn-sennit-3\/a\/o99" is in the archive/u,
    ],
    [['what-if', 'value', 'quistle/QWR4T10', 'pins', 'many'], 1, /pins/u],
    [['correct', 'withdraw', 'tarn-sennit-3/a/o1'], 2, /--reason/u],
    [
      ['judge-decision', 'tarn-sennit-5:duplicated-sensors', 'liked', '--reason', 'x'],
      2,
      /endorsed, doubted, rejected/u,
    ],
  ])('that cannot be made is refused with its reason: %j', async (args, code, says) => {
    const before = await headOf(data);
    const ended = await run(...args);
    expect(ended.code).toBe(code);
    expect(ended.err).toMatch(says);
    expect(await headOf(data)).toEqual(before);
  });
});

describe('an observation', () => {
  test('is added with its observations, and withdrawn without a trace in any number', async () => {
    const candidates = async () =>
      JSON.parse((await run('candidates', 'tarn-sennit-5/a/U2', '--format', 'json')).out);
    const before = await candidates();
    const added = await run(
      ...['observe', 'tarn-sennit-5/a', 'look-again', 'pin-count', '--about', 'U2', '--value', '99'],
      ...['--method', 'raking light', '--reason', 'second look'],
    );
    expect(added).toMatchObject({ code: 0, out: '' });
    expect(added.err).toMatch(/tarn-sennit-5\/a\/look-again recorded, journaled as entry \d+/u);
    expect(await candidates()).not.toEqual(before);
    expect((await run('withdraw', 'tarn-sennit-5/a/look-again', '--reason', 'another unit')).code).toBe(0);
    expect(await candidates()).toEqual(before);
    expect((await run('history', 'tarn-sennit-5/a/look-again')).out).toMatch(
      /observation-recorded .*observation-withdrawn /su,
    );
  });

  test.each([
    [['observe', 'tarn-sennit-5/a', 'x1', 'marking', '--reason', 'x'], 1, /about/u],
    [['observe', 'tarn-sennit-5/a', 'x1', 'glance', '--about', 'U2', '--reason', 'x'], 1, /kind/u],
    [['observe', 'tarn-sennit-5/a', 'x1', 'marking', '--about', 'U99', '--reason', 'x'], 1, /U99/u],
    [['observe', 'tarn-sennit-5/a', 'x1', 'marking', '--about', 'U2'], 2, /--reason/u],
    [['withdraw', 'tarn-sennit-5/a/o99', '--reason', 'x'], 1, /o99/u],
  ])('that is not allowed is refused with its reason: %j', async (args, code, says) => {
    const before = await headOf(data);
    const ended = await run(...args);
    expect(ended.code).toBe(code);
    expect(ended.err).toMatch(says);
    expect(await headOf(data)).toEqual(before);
  });
});
