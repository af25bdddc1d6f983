import { readdirSync } from 'node:fs';
import { beforeAll, describe, expect, test } from 'vitest';
import { exportDossiers } from '../../src/archive/as-files.ts';
import { Archive } from '../../src/archive.ts';
import { readFiles } from '../../src/dossier/read-files.ts';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import type { PatternAnswer } from '../../src/patterns/answer.ts';
import { findPattern, nearPattern } from '../../src/questions/patterns.ts';
import type { State } from '../../src/state/state.ts';

// The named patterns on the invented demo archive.

let archive: Archive;
let view: State;
const answers = new Map<string, PatternAnswer>();
const names = readdirSync('seed-data/patterns').map((file) => file.replace('.yaml', ''));

beforeAll(async () => {
  archive = await Archive.open(new MemoryJournal());
  await archive.importDocuments(readFiles(['seed-data']).documents, { actor: 'test', reason: 'demo' });
  view = archive.state('desk');
  for (const pattern of view.patterns()) {
    answers.set(pattern.id, await findPattern(view, { text: pattern.text, scope: pattern.scope }));
  }
});

const devicesOf = (id: string) => answers.get(id)?.devices.map(({ deviceId }) => deviceId) ?? [];

test('there are at least 24 named patterns, each in a file of its name', () => {
  expect(names.length).toBeGreaterThanOrEqual(24);
  expect(
    view
      .patterns()
      .map(({ id }) => id)
      .sort(),
  ).toEqual(names.sort());
});

test.each(names)('%s is found in some devices, and the search is complete', (id) => {
  expect(answers.get(id)?.complete).toBe(true);
  expect(devicesOf(id).length).toBeGreaterThan(0);
});

test.each(names.filter((name) => name !== 'part-shared-by-makers'))(
  '%s is absent from some devices',
  (id) => {
    expect(devicesOf(id).length).toBeLessThan([...view.devices()].length);
  },
);

describe('counted again by loops over the dossiers, which know nothing of patterns', () => {
  const dossiers = () => [...exportDossiers(view)];
  const deviceIdOf = (dossier: ReturnType<typeof dossiers>[number]) =>
    typeof dossier.device === 'string' ? dossier.device : dossier.device.id;

  test('single board', () => {
    const expected = dossiers()
      .filter(({ boards }) => boards.length === 1)
      .map(deviceIdOf);
    expect(devicesOf('single-board')).toEqual([...new Set(expected)].sort());
  });

  test('boards stacked', () => {
    const expected = dossiers()
      .filter(({ boards }) => boards.some(({ stackedOn }) => stackedOn))
      .map(deviceIdOf);
    expect(devicesOf('boards-stacked')).toEqual([...new Set(expected)].sort());
  });

  test('programming contacts left', () => {
    const expected = dossiers()
      .filter(({ components, nets = [] }) => {
        const pads = components.filter(({ appears }) => appears === 'TestPad').map(({ id }) => id);
        return (
          components.some(({ appears, board }) => appears === 'ProgrammingContact' && board) ||
          // All nets of that bus in the archive end at a processor.
          nets.some(({ bus, pins }) => bus === 'SWD' && pads.some((id) => pins.includes(`${id}.1`)))
        );
      })
      .map(deviceIdOf);
    expect(devicesOf('programming-contacts-left')).toEqual([...new Set(expected)].sort());
  });

  test('duplicated sensors of one part, within one specimen', () => {
    const expected = dossiers().filter((dossier) => {
      const specimen = view.specimen(`${deviceIdOf(dossier)}/${dossier.specimen.id}`);
      const parts = new Map<string, number>();
      for (const [designator, { candidates }] of specimen?.identified ?? []) {
        if ((specimen?.labels.get(designator)?.get('Sensor') ?? 0) === 0) continue;
        for (const part of new Set(candidates.flatMap((one) => one.part ?? []))) {
          parts.set(part, (parts.get(part) ?? 0) + 1);
        }
      }
      return [...parts.values()].some((count) => count > 1);
    });
    expect(devicesOf('duplicated-sensors')).toEqual([...new Set(expected.map(deviceIdOf))].sort());
  });
});

test('the part shared by makers spans devices; asked within a device it cannot be found', async () => {
  const { text } = view.pattern('part-shared-by-makers') ?? { text: '' };
  expect((await findPattern(view, { text, scope: 'device' })).devices).toEqual([]);
  expect(devicesOf('part-shared-by-makers').length).toBeGreaterThan(10);
});

test('a condition that every device meets changes no probability, whatever it is', async () => {
  const ask = async (condition: string) =>
    (await findPattern(view, { text: `MATCH (c:Processor&Radio) ${condition} RETURN c` })).devices.map(
      ({ deviceId, probability, method }) => ({ deviceId, probability, method }),
    );
  const plain = await ask('');
  expect(plain.length).toBeGreaterThan(0);
  expect(await ask("WHERE c.designator <> 'exists'")).toEqual(plain);
  expect(await ask('WHERE NOT EXISTS { MATCH (c)-[:SUCCEEDS]->(d:Device) }')).toEqual(plain);
});

test('the probability of a device is that of its uncertain components', async () => {
  const answer = await findPattern(view, { text: 'MATCH (c:Processor&Radio) RETURN c' });
  for (const { deviceId, probability, method } of answer.devices) {
    expect(method).toBe('exact');
    // By hand: for each specimen 1 - product over components of (1 - P(component is both)).
    const byHand = view.specimensOf(deviceId).map(({ id }) => {
      const specimen = view.specimen(id);
      let none = 1;
      for (const { candidates } of specimen?.identified.values() ?? []) {
        const both = candidates.filter(({ part, category }) => {
          const terms = [
            ...(part ? (view.part(part)?.categories ?? []) : []),
            ...(category ? [category] : []),
          ];
          const isUnder = (...names: string[]) => terms.some((term) => names.includes(term));
          return (
            isUnder(
              'Microcontroller',
              'ApplicationProcessor',
              'SensorHub',
              'SignalProcessor',
              'Processor',
              'NeuralProcessor',
            ) &&
            isUnder(
              'Radio',
              'BluetoothRadio',
              'WifiRadio',
              'CellularRadio',
              'SatelliteReceiver',
              'NearFieldRadio',
              'UltraWidebandRadio',
            )
          );
        });
        none *= 1 - both.reduce((sum, one) => sum + one.probability, 0);
      }
      return 1 - none;
    });
    expect(probability).toBeCloseTo(Math.max(...byHand), 6);
  }
});

test('near matches name what is missing and are no matches', async () => {
  const { text } = view.pattern('amplifier-at-the-sensor') ?? { text: '' };
  const near = await nearPattern(view, { text });
  const found = new Set(devicesOf('amplifier-at-the-sensor'));
  expect(near.devices.length).toBeGreaterThan(0);
  for (const { deviceId, missing } of near.devices) {
    expect(found.has(deviceId)).toBe(false);
    expect(missing.length).toBeGreaterThan(0);
  }
});

test('readers find no hidden devices, not as near matches either', async () => {
  const reader = archive.state('reader');
  const text = 'MATCH (c:Component) RETURN c';
  const hidden = [...view.devices()].filter(({ id }) => !reader.device(id)).map(({ id }) => id);
  expect(hidden.length).toBe(2);
  const seen = (await findPattern(reader, { text })).devices.map(({ deviceId }) => deviceId);
  expect(seen.filter((id) => hidden.includes(id))).toEqual([]);
  const near = await nearPattern(reader, {
    text: 'MATCH (c:Component) WHERE c.pins > 100000 RETURN c',
  });
  expect(near.devices.filter(({ deviceId }) => hidden.includes(deviceId))).toEqual([]);
});
