import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { caseback, Folder } from './running.ts';

const folder = new Folder();
const cwd = folder.path;
beforeAll(async () => {
  const seed = join(import.meta.dirname, '../../seed-data');
  const { code, err } = await caseback(['import', seed, '--reason', 'demo'], { cwd });
  if (code !== 0) throw new Error(err);
});
afterAll(() => folder.remove());

const run = (...args: string[]) => caseback(args, { cwd });

describe('compare', () => {
  test('figures side by side, in the order asked', async () => {
    const { out, code } = await run(
      'compare',
      'tarn-sennit-1',
      'tarn-sennit-3/b',
      '--sections',
      'sensors,boards',
    );
    expect(code).toBe(0);
    expect(out).toMatch(/^Sensors +unit +tarn-sennit-1 +tarn-sennit-3$/mu);
    expect(out).toMatch(/^Photodiode +- +1$/mu);
    expect(out).toMatch(/^Board area +cm² +3\.375 +7\.03$/mu);
  });

  test('CSV has what is certain, expected and missing in columns of their own', async () => {
    const { out } = await run('compare', 'tarn-sennit-1', '--sections', 'sensors', '--format', 'csv');
    const [head, first] = out.split('\r\n');
    expect(head).toBe(
      'section,key,label,unit,tarn-sennit-1 certain,tarn-sennit-1 expected,tarn-sennit-1 missing,tarn-sennit-1 note',
    );
    expect(first).toBe('sensors,sensors.Sensor,Sensor,1,1,0.97,,');
  });

  test('two hardware revisions, component by component', async () => {
    const { out } = await run('compare', 'tarn-sennit-3/a', 'tarn-sennit-3/b', '--components');
    expect(out).toMatch(/^Accelerometer +U2 quistle\/QWR4T20 +U2 vantrill\/VKR20 +replaced/mu);
    expect(out).toMatch(/^LoadSwitch +U9 brackwen\/BWN4460 +- +removed/mu);
    expect(out).toMatch(/^tarn-sennit-3\/a +tarn-sennit-3\/b +replaced +4/mu);
  });

  test('decisions, after which the command ends', async () => {
    const { out, code } = await run('compare', 'tarn-sennit-1', '--sections', 'decisions');
    expect(code).toBe(0);
    expect(out).toMatch(/^Single board/mu);
  });

  test('mistakes are named with their fix', async () => {
    const wrong = await run(
      'compare',
      'tarn-sennit-1',
      'tarn-sennit-2',
      '--components',
      '--weights',
      'labels',
    );
    expect([wrong.code, wrong.err]).toEqual([2, expect.stringContaining('labels=0.5')]);
    const section = await run('compare', 'tarn-sennit-1', '--sections', 'sensor');
    expect([section.code, section.err]).toEqual([1, expect.stringContaining('did you mean "sensors"')]);
    const unknown = await run('compare', 'tarn-sennit-1', 'never-was', '--components');
    expect([unknown.code, unknown.err]).toEqual([1, expect.stringContaining('never-was')]);
  });
});

describe('generations', () => {
  test('steps along every branch', async () => {
    const { out } = await run('generations', 'tarn-sennit');
    expect(out).toMatch(/^from +to +released +kept +replaced +moved +added +removed +not-observed$/mu);
    // The line splits after its third device.
    expect(out).toMatch(/^tarn-sennit-3 +tarn-sennit-slim/mu);
    expect(out).toMatch(/^tarn-sennit-3 +tarn-sennit-4/mu);
  });

  test.each([
    ['sensors', /^generation,device,released,/u],
    ['parts', /^part,first,last,/u],
    ['makers', /^maker,first,last,/u],
    ['kept', /^device,part,probability,since,released\r\n/u],
    ['decisions', /^from,to,decision,change,before,after,probability\r\n/u],
    ['integration', /^generation,device,chips,functions,/u],
    ['revisions', /^from,to,revision,kept,/u],
  ])('--show %s', async (show, head) => {
    const { out, code } = await run('generations', 'tarn-sennit', '--show', show, '--format', 'csv');
    expect(code).toBe(0);
    expect(out).toMatch(head);
    expect(out.trim().split('\r\n').length).toBeGreaterThan(1);
  });
});

describe('similar', () => {
  test('nearest devices with what they share', async () => {
    const { out } = await run('similar', 'tarn-sennit-4', '--first', '1');
    expect(out).toMatch(/^tarn-sennit-5 +2022-05 +0\.\d{3} +\w+ beside \w+/mu);
  });
  test('clusters, and the distance of two circuits', async () => {
    const clusters = await run('similar', '--clusters', '--format', 'json');
    expect(clusters.err).toMatch(/^44 devices in \d+ clusters; modularity 0\.\d\d$/mu);
    expect(JSON.parse(clusters.out)).toHaveLength(44);
    const distance = await run('similar', 'tarn-sennit-3/a', 'tarn-sennit-3/b', '--subsystem', 'power');
    expect(distance.err).toMatch(/^\d+ changes: /mu);
  });
  test('JSON has every number at full precision, and the distance beside its pairs', async () => {
    const json = async (...args: string[]) => JSON.parse((await run(...args, '--format', 'json')).out);
    const isLong = (value: unknown) => typeof value === 'number' && String(value).length > 6;
    const near: { similarity: unknown }[] = await json('similar', 'tarn-sennit-4', '--first', '3');
    expect(near.map(({ similarity }) => isLong(similarity))).toEqual([true, true, true]);
    const [first] = await json('similar', '--clusters');
    expect([first.cluster, isLong(first['mean similarity'])]).toEqual([1, true]);
    const [step] = await json('generations', 'tarn-sennit');
    expect(step.kept).toEqual({ certain: expect.any(Number), expected: expect.any(Number) });
    expect(isLong(step.kept.expected)).toBe(true);
    const [generation] = await json('generations', 'tarn-sennit', '--show', 'sensors');
    expect(generation.Gyroscope).toMatchObject({
      missing: expect.stringMatching(/^(?:absent|not-observed)$/u),
    });
    const circuits = ['similar', 'tarn-sennit-3/a', 'tarn-sennit-3/b', '--subsystem', 'power'];
    const { distance, atLeast, atMost, changes, pairs } = await json(...circuits);
    expect([atLeast, atMost]).toEqual([distance, distance]);
    const sum = Object.values(changes as Record<string, number>).reduce((a, b) => a + b, 0);
    expect(sum).toBe(distance);
    expect(pairs.length).toBeGreaterThan(1);
    const [heading = '', pair = ''] = (await run(...circuits, '--format', 'csv')).out.split('\r\n');
    expect(heading).toMatch(/,distance at least,distance at most$/u);
    expect(pair).toMatch(new RegExp(`,${distance},${distance}$`, 'u'));
  });
  test('the distance of whole circuits, exact or as a range', async () => {
    const { code, err } = await run('similar', 'tarn-sennit-3', 'tarn-sennit-4');
    expect([code, err]).toEqual([0, expect.stringMatching(/^(?:between \d+ and )?\d+ changes\b/mu)]);
  });
});
