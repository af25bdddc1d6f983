import { beforeAll, describe, expect, test } from 'vitest';
import type { Archive } from '../../src/archive.ts';
import { scratchOf } from '../../src/graph/scratch.ts';
import { View } from '../../src/graph/view.ts';
import { type Decision, decisionById, decisionsByPattern, decisionsOf } from '../../src/infer/decisions.ts';
import type { NamedPattern } from '../../src/model/catalogue.ts';
import type { PatternDevice } from '../../src/patterns/answer.ts';
import { findPattern } from '../../src/patterns/find.ts';
import { demoArchive } from '../trends/demo.ts';

/** What a decision says of the shape, in a form that can be told apart. */
const shapeOf = (
  { deviceId, matches, ...one }: Pick<PatternDevice, 'deviceId' | 'matches' | 'method'>,
  p: number,
) => [
  deviceId,
  p,
  one.method,
  matches
    .map(({ specimenId, probability, bindings }) => JSON.stringify([specimenId, probability, bindings]))
    .sort(),
];

describe('decisions of the demo archive', () => {
  let archive: Archive;
  let view: View;
  beforeAll(async () => {
    archive = await demoArchive();
    view = archive.view('desk');
  }, 60_000);

  test('are what each pattern within one device finds over the whole archive, for every device', async () => {
    const patterns = view.patterns().filter(({ scope }) => scope === 'device');
    expect(patterns.length).toBeGreaterThan(20);
    const found = new Map<string, unknown>();
    for (const { id, text, strength } of patterns) {
      for (const one of (await findPattern(view, { text })).devices)
        found.set(`${one.deviceId}:${id}`, [
          ...shapeOf(one, one.probability),
          Number((one.probability * strength).toFixed(9)),
        ]);
    }
    const decided = new Map<string, unknown>();
    const within = new Set(patterns.map(({ id }) => id));
    for (const { id } of view.devices()) {
      for (const one of await decisionsOf(view, id))
        if (within.has(one.patternId)) decided.set(one.id, [...shapeOf(one, one.shape), one.probability]);
    }
    expect(found.size).toBeGreaterThan(100);
    expect([...decided.keys()].sort()).toEqual([...found.keys()].sort());
    for (const [id, shape] of decided) expect(shape).toEqual(found.get(id));
  }, 60_000);

  test('of a pattern that spans the archive are what it finds in that device', async () => {
    const pattern = view.pattern('part-shared-by-makers') as NamedPattern;
    const { devices } = await findPattern(view, { text: pattern.text, scope: 'archive' });
    expect(devices.length).toBeGreaterThan(3);
    for (const one of devices) {
      const decision = await decisionById(view, `${one.deviceId}:${pattern.id}`);
      expect(decision?.shape).toBe(one.probability);
    }
    expect((await decisionsByPattern(view, pattern.id)).map(({ deviceId }) => deviceId)).toEqual(
      devices.map(({ deviceId }) => deviceId),
    );
  });

  test('of a device in a scratch state equal those in the archive', async () => {
    for (const id of ['thovane-calcar-2', 'tarn-loop-3', 'mirrelk-mullion-3']) {
      const small = new View(scratchOf(view, [id]), 'desk', view.now);
      const own = (all: readonly Decision[]) =>
        all
          .filter(({ patternId }) => view.pattern(patternId)?.scope === 'device')
          .map((one) => [one.id, one.probability, one.standing, shapeOf(one, one.shape)]);
      expect(own(await decisionsOf(small, id))).toEqual(own(await decisionsOf(view, id)));
    }
  });
});
