import { beforeAll, describe, expect, test } from 'vitest';
import type { Archive } from '../../src/archive.ts';
import {
  type Decision,
  decisionById,
  decisionsByPattern,
  decisionsOf,
} from '../../src/decisions/decisions.ts';
import type { NamedPattern } from '../../src/model/catalogue.ts';
import { observationSchema } from '../../src/model/dossier.ts';
import type { PatternDevice } from '../../src/patterns/answer.ts';
import { findPattern } from '../../src/patterns/find.ts';
import { excerptOf } from '../../src/state/excerpt.ts';
import type { State } from '../../src/state/state.ts';
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
  let view: State;
  beforeAll(async () => {
    archive = await demoArchive();
    view = archive.state('desk');
  });

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
  });

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

  test('of a device in an excerpt equal those in the archive', async () => {
    for (const id of ['thovane-calcar-2', 'tarn-sennit-3', 'mirrelk-mullion-3']) {
      const small = excerptOf(view, [id]);
      const own = (all: readonly Decision[]) =>
        all
          .filter(({ patternId }) => view.pattern(patternId)?.scope === 'device')
          .map((one) => [one.id, one.probability, one.standing, shapeOf(one, one.shape)]);
      expect(own(await decisionsOf(small, id))).toEqual(own(await decisionsOf(view, id)));
    }
  });

  test('of a pattern that spans the archive stay rejected for an audience that sees less, until something of the device changes', async () => {
    const BY = { actor: 'E. Ditor', reason: 'a house part' };
    const own = await demoArchive();
    const pattern = 'part-shared-by-makers';
    const reader = own.state('reader');
    const devices = (await decisionsByPattern(own.state('desk'), pattern)).map(({ deviceId }) => deviceId);
    expect(devices.filter((id) => !reader.device(id)).length).toBeGreaterThan(0);
    for (const id of devices) await own.judgeDecision(`${id}:${pattern}`, 'rejected', BY, 'desk');
    const open = async (audience: 'desk' | 'reader') =>
      (await decisionsByPattern(own.state(audience), pattern))
        .filter(({ standing }) => standing !== 'rejected')
        .map(({ deviceId }) => deviceId);
    expect(await open('desk')).toEqual([]);
    expect(await open('reader')).toEqual([]);
    const [decision] = await decisionsByPattern(own.state('reader'), pattern);
    const bound = decision.matches[0].bindings
      .flatMap(({ ids }) => ids)
      .find((id) => id.startsWith(`${decision.matches[0].specimenId}/U`)) as string;
    const about = [bound.slice(bound.lastIndexOf('/') + 1)];
    const seen = observationSchema.parse({ id: 'seen-late', about, kind: 'marking', text: 'seen' });
    await own.recordObservation(decision.matches[0].specimenId, seen, BY, 'desk');
    expect(await open('desk')).toEqual([decision.deviceId]);
    expect(await open('reader')).toEqual([decision.deviceId]);
  });
});
