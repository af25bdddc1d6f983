import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { TERMS } from '../../src/model/taxonomy.ts';
import { type DevicePresence, presenceOf } from '../../src/presence/presence.ts';
import { caseback, Folder } from '../cli/running.ts';
import { demo } from './archives.ts';

// The command line over the demo archive, against presence asked in this process.

const folder = new Folder();
const run = async (...args: string[]) => {
  const { code, out, err } = await caseback([...args, '--data', folder.path], { cwd: folder.path });
  expect([code, err]).toEqual([0, expect.anything()]);
  return out;
};
const said = new Map<string, ReadonlyMap<string, DevicePresence>>();
beforeAll(async () => {
  const seed = join(import.meta.dirname, '../../seed-data');
  await run('import', seed, '--actor', 'bench', '--reason', 'test');
  const archive = await demo();
  const presence = await presenceOf(archive.state('desk'));
  for (const term of TERMS) said.set(term, presence.of(term));
  await archive.close();
});
afterAll(() => folder.remove());

interface Row {
  readonly of: string;
  readonly verdict: string;
  readonly probability: number;
}

test('every term that devices certainly or possibly have', async () => {
  for (const device of ['tarn-sennit-3', 'dunmarrow-leadline-5', 'tarn-sennit-2', 'pellforth-conch-4']) {
    const rows = JSON.parse(await run('presence', device, '--format', 'json')) as Row[];
    const expected = TERMS.flatMap((term) => {
      const presence = said.get(term)?.get(device);
      return presence && presence.probability >= 0.05
        ? [{ of: term, verdict: presence.verdict, probability: presence.probability }]
        : [];
    });
    const found = rows.filter(({ of }) => said.has(of));
    expect([device, found.map(({ of, verdict, probability }) => ({ of, verdict, probability }))]).toEqual([
      device,
      expected,
    ]);
  }
});

test('a single thing at a time: absent, not observed, revisions that differ', async () => {
  const ask = async (device: string, of: string) =>
    (JSON.parse(await run('presence', device, '--of', of, '--format', 'json')) as Row[])[0];
  expect(await ask('tarn-sennit-3', 'ImageSensor')).toMatchObject({ verdict: 'ABSENT' });
  expect(await ask('thovane-calcar-3', 'ImageSensor')).toMatchObject({ verdict: 'NOT_OBSERVED' });
  // Revision C0 has a charger where B1 has a power chip.
  expect(await ask('tarn-sennit-3', 'PowerManagement')).toMatchObject({
    verdict: 'CERTAIN',
    revisionsDiffer: true,
    specimens: [{ verdict: 'CERTAIN' }, { verdict: 'ABSENT' }],
  });
});

test('the share of every term over the years', async () => {
  for (let at = 0; at < TERMS.length; at += 40) {
    const asked = TERMS.slice(at, at + 40);
    const answers = JSON.parse(
      await run('trend', ...asked.map((term) => `category:${term}`), '--format', 'json'),
    ) as readonly {
      readonly total: { readonly total: { readonly certain: number; readonly possible: number } };
    }[];
    answers.forEach(({ total: { total } }, place) => {
      const all = [...(said.get(asked[place]) ?? new Map()).values()] as DevicePresence[];
      expect([asked[place], total.certain, total.possible]).toEqual([
        asked[place],
        all.filter(({ verdict }) => verdict === 'CERTAIN').length,
        all.filter(({ probability }) => probability >= 0.05).length,
      ]);
    });
  }
});

test('unknown names are refused, with near names', async () => {
  const refused = async (...args: string[]) =>
    (await caseback(['presence', ...args, '--data', folder.path], { cwd: folder.path })).err;
  expect(await refused('tarn-sennit-33')).toMatch(/did you mean "tarn-sennit-3"/u);
  expect(await refused('tarn-sennit-3', '--of', 'Gyroscop')).toMatch(/did you mean "Gyroscope"/u);
  expect(await refused('tarn-sennit-3', '--of', 'quistle/QWR4T1')).toMatch(/quistle\/QWR4T1/u);
});
