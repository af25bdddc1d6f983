import { describe, expect, test } from 'vitest';
import { findPattern } from '../../src/patterns/find.ts';
import type { Holder } from '../../src/state/holder.ts';
import { deviceWeights, mayHave, type Subject } from '../../src/trends/subject.ts';
import { visibleDevices } from '../../src/trends/visible-devices.ts';
import { DEVICE, dossierChange, dossierOf, entriesOf, liveOf, SMALL_CATALOGUE } from '../state/archive-of.ts';
import { demoArchive } from './demo.ts';

const NOW = '2026-06-01T00:00:00.000Z';

async function found(live: Holder, subject: Subject, audience: 'reader' | 'desk' = 'reader') {
  const weights = await deviceWeights(live.state(audience, NOW), subject);
  return Object.fromEntries(
    [...weights].flatMap(([id, { certain, probability, verdict }]) =>
      verdict === 'ABSENT' ? [] : [[id, { certain, probability }]],
    ),
  );
}

/** A specimen of an invented device with one chip, taken for the given candidates. */
function specimen(
  device: object | string,
  id: string,
  candidates: readonly object[],
  more: object = {},
): ReturnType<typeof dossierChange> {
  return dossierChange({
    device,
    specimen: { id },
    components: [{ id: 'U1' }],
    identifications: [{ component: 'U1', candidates }],
    ...more,
  } as Parameters<typeof dossierOf>[0]);
}

const BOTH = [
  { part: 'quistle/QWR4T60', probability: 0.6 },
  { part: 'ostrel/OS7', probability: 0.3 },
];

describe('devices with a category, part or maker', () => {
  test.each(['PressureSensor', 'Gyroscope', 'InertialSensor', 'Radio', 'Converter', 'Charger', 'Battery'])(
    '%s: the same devices and probabilities as its pattern finds in the demo archive',
    async (category) => {
      const archive = await demoArchive();
      const view = archive.state('reader');
      const { devices } = await findPattern(view, { text: `MATCH (x:${category}) RETURN x` });
      const asPattern = devices.map(({ deviceId, certain, probability }) => [
        deviceId,
        certain,
        expect.closeTo(probability, 8),
      ]);
      const weights = await deviceWeights(view, { category });
      expect(
        [...weights]
          .filter(([, one]) => mayHave(one))
          .map(([id, one]) => [id, one.certain, one.probability])
          .sort((a, b) => (a[0] < b[0] ? -1 : 1)),
      ).toEqual(asPattern);
      expect(weights.size).toBeGreaterThan(0);
      await archive.close();
    },
  );

  test('each function of a chip counts, and each rival candidate', async () => {
    const live = liveOf([...SMALL_CATALOGUE, specimen(DEVICE, 'a', BOTH)]);
    const one = (probability: number, certain = false) => ({ [DEVICE.id]: { certain, probability } });
    expect(await found(live, { category: 'Accelerometer' })).toEqual(one(0.6));
    expect(await found(live, { category: 'Gyroscope' })).toEqual(one(0.6));
    expect(await found(live, { category: 'BluetoothRadio' })).toEqual(one(0.3));
    expect(await found(live, { category: 'Component' })).toEqual(one(1, true));
    expect(await found(live, { part: 'ostrel/OS7' })).toEqual(one(0.3));
    expect(await found(live, { maker: 'quistle' })).toEqual(one(0.6));
    expect(await found(live, { category: 'Microphone' })).toEqual({});
  });

  test('of several specimens the most certain counts', async () => {
    const live = liveOf([
      ...SMALL_CATALOGUE,
      specimen(DEVICE, 'a', BOTH),
      specimen(DEVICE.id, 'b', [{ part: 'quistle/QWR4T10', probability: 0.97 }]),
    ]);
    expect(await found(live, { category: 'Accelerometer' })).toEqual({
      [DEVICE.id]: { certain: true, probability: 0.97 },
    });
  });

  test('what is hidden from the reader does not count', async () => {
    const secret = { ...DEVICE, id: 'tarn-secret', name: 'Secret' };
    const live = liveOf([
      ...SMALL_CATALOGUE,
      specimen(DEVICE, 'a', BOTH),
      specimen(DEVICE.id, 'b', [{ part: 'quistle/QWR4T10', probability: 1 }], { visibility: 'draft' }),
      specimen(secret, 'a', [{ part: 'quistle/QWR4T10', probability: 1 }], { visibility: 'draft' }),
    ]);
    expect(await found(live, { category: 'Accelerometer' })).toEqual({
      [DEVICE.id]: { certain: false, probability: 0.6 },
    });
    expect(Object.keys(await found(live, { category: 'Accelerometer' }, 'desk'))).toEqual([
      'tarn-secret',
      DEVICE.id,
    ]);
  });

  test('a later identification is followed', async () => {
    const live = liveOf([...SMALL_CATALOGUE, specimen(DEVICE, 'a', BOTH)]);
    await found(live, { category: 'Accelerometer' });
    const identification = dossierOf({
      device: DEVICE.id,
      specimen: { id: 'a' },
      identifications: [{ component: 'U1', candidates: [{ category: 'Microphone', probability: 0.99 }] }],
    }).identifications[0];
    live.apply(
      entriesOf(
        [
          {
            actor: 'bench',
            reason: 'seen under the microscope',
            kind: 'identification-set',
            payload: { specimen: `${DEVICE.id}/a`, identification },
          },
        ],
        live.sequence + 1,
      ),
    );
    expect(await found(live, { category: 'Accelerometer' })).toEqual({});
    expect(await found(live, { category: 'Microphone' })).toEqual({
      [DEVICE.id]: { certain: true, probability: 0.99 },
    });
  });

  test('unknown subjects are refused, with a near name if there is one', async () => {
    const live = liveOf(SMALL_CATALOGUE);
    await expect(found(live, { category: 'Gyroscop' })).rejects.toThrow(/did you mean "Gyroscope"/u);
    await expect(found(live, { part: 'quistle/none' })).rejects.toMatchObject({ code: 'NOT_FOUND' });
    await expect(found(live, { maker: 'tarn' })).rejects.toMatchObject({ code: 'NOT_FOUND' });
    await expect(found(live, { pattern: 'none' })).rejects.toMatchObject({ code: 'NOT_FOUND' });
    await expect(found(live, { text: 'MATCH (x:Nothing) RETURN x' })).rejects.toThrow(/Nothing/u);
  });

  test('a device without a component on record was not examined', () => {
    const live = liveOf([...SMALL_CATALOGUE, dossierChange({ device: DEVICE, specimen: { id: 'a' } })]);
    expect(visibleDevices(live.state('reader', NOW)).lookedInto.has(DEVICE.id)).toBe(false);
  });
});
