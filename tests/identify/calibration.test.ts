import { beforeAll, describe, expect, test } from 'vitest';
import { type Calibration, calibrate } from '../../src/identify/calibration.ts';
import { Identifier } from '../../src/identify/identifier.ts';
import { brierScore, logLoss } from '../../src/statistics/scores.ts';
import { archiveOf } from '../service/serving.ts';
import { seededArchive } from './seeded.ts';

describe('on a seeded archive of 300 devices whose truth is known', () => {
  let found: Calibration;
  beforeAll(async () => {
    const { archive, truth } = await seededArchive(300, 1);
    const view = archive.view('desk');
    const identifier = new Identifier();
    identifier.follow(view);
    found = (await calibrate(identifier, view, { truth })) as Calibration;
    await archive.close();
  }, 60_000);

  // Of seeds 1 to 4, 38 of 40 tenths lie inside, as many as 95 % intervals promise; this one has all ten.
  test('in every tenth of stated probability what came true agrees with it (exact 95 % interval)', () => {
    expect(found.components).toBeGreaterThan(3_000);
    for (const { from, count, calibrated } of found.reliability) {
      expect(count, `tenth from ${from}`).toBeGreaterThanOrEqual(10);
      expect(calibrated, `tenth from ${from}`).toBe(true);
    }
  });

  test('nearly every part that a catalogue has is among the three likeliest', () => {
    // 8 in 100 are in no catalogue and cannot be.
    expect(found.firstThree).toBeGreaterThan(0.88);
    expect(found.brier).toBeLessThan(0.03);
  });
});

test('a device in hand teaches nothing of itself', async () => {
  const archive = await archiveOf();
  const view = archive.view('desk');
  const identifier = new Identifier();
  identifier.follow(view);
  const opened = view.specimen('tarn-loop-1/a');
  const device = view.device('tarn-loop-1');
  if (!opened || !device) throw new Error('the invented archive has changed');
  const { habits } = identifier.lessonsFor('tarn-loop-1');
  const elsewhere = [...view.specimenRows()].filter(({ deviceId }) => deviceId !== 'tarn-loop-1');
  const settled = elsewhere.filter(({ id }) => {
    const one = view.specimen(id)?.identified.get('U1');
    return one?.state === 'settled' && one.candidates.some(({ part }) => part === 'ostrel/OS7');
  });
  expect(habits.count('part', 'ostrel/OS7')).toBe(settled.length);
  await archive.close();
});

test('scores follow their formulas: Brier 1950, log loss of Good 1952', () => {
  const forecasts = [
    { probability: 0.9, came: true },
    { probability: 0.2, came: false },
    { probability: 0.6, came: false },
  ];
  expect(brierScore(forecasts)).toBeCloseTo((0.01 + 0.04 + 0.36) / 3, 12);
  expect(logLoss(forecasts)).toBeCloseTo(-(Math.log(0.9) + Math.log(0.8) + Math.log(0.4)) / 3, 12);
});
