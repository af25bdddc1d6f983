import fc from 'fast-check';
import { afterAll, describe, expect, test } from 'vitest';
import type { Archive } from '../../src/archive.ts';
import { defaultPool, syntaxProblems } from '../../src/gql/gql.ts';
import { TERMS } from '../../src/model/taxonomy.ts';
import { findPattern } from '../../src/patterns/find.ts';
import type { StructureQuestion } from '../../src/structures/answer.ts';
import { findStructures } from '../../src/structures/find-structures.ts';
import { gqlText, structureText } from '../../src/structures/gql-text.ts';
import { demoArchive } from '../trends/demo.ts';
import { type Kind, type Made, viewOf } from './made.ts';

afterAll(() => defaultPool().close());

const KINDS = ['Accelerometer', 'InertialSensor', 'Sensor', 'Microcontroller', 'LinearRegulator', 'Resistor'];
const sureKind: fc.Arbitrary<Kind> = fc.constantFrom(...KINDS);
const doubtfulKind = fc.oneof<fc.MaybeWeightedArbitrary<Kind>[]>(
  { weight: 4, arbitrary: sureKind },
  {
    weight: 1,
    arbitrary: fc.constantFrom<Kind[]>(
      { Accelerometer: 0.9 },
      { Accelerometer: 0.6, Gyroscope: 0.38 },
      { Microcontroller: 0.97 },
      { Microcontroller: 0.5, LinearRegulator: 0.3 },
    ),
  },
);

/** Devices of few kinds, so that much recurs; some connections without a bus, several between the same two. */
const devices = (kind: fc.Arbitrary<Kind>): fc.Arbitrary<Made[]> =>
  fc
    .array(
      fc.integer({ min: 2, max: 5 }).chain((size) =>
        fc.record({
          components: fc.array(kind, { minLength: size, maxLength: size }),
          boards: fc.array(fc.constantFrom('main', 'flex', undefined), { minLength: size, maxLength: size }),
          joined: fc.array(
            fc.record({
              ends: fc.tuple(fc.nat(size - 1), fc.nat(size - 1)).filter(([a, b]) => a !== b),
              medium: fc.constantFrom('trace' as const, 'flex' as const),
              bus: fc.constantFrom(undefined, 'I2C' as const, 'power' as const),
            }),
            { minLength: 1, maxLength: 7 },
          ),
        }),
      ),
      { minLength: 2, maxLength: 6 },
    )
    .map((all) =>
      all.map(({ components, boards, joined }, at) => ({
        id: `device-${at}`,
        components,
        boards,
        joined: joined.map(({ ends, medium, bus }) => ({ between: ends, medium, ...(bus ? { bus } : {}) })),
      })),
    );

const questions: fc.Arbitrary<StructureQuestion> = fc.record({
  minSupport: fc.constant(2),
  minSize: fc.constant(2),
  maxSize: fc.constant(4),
  level: fc.constantFrom(undefined, 1, 2),
  without: fc.constantFrom(['Passive'], []),
  links: fc.constantFrom('bus', 'medium', 'none'),
  boards: fc.boolean(),
  first: fc.constant(200),
  variants: fc.constant(true),
});

describe('the text of a structure finds the devices that it was found in', () => {
  test('exactly these, when nothing is uncertain', async () => {
    await fc.assert(
      fc.asyncProperty(devices(sureKind), questions, async (made, question) => {
        const view = viewOf(made);
        const { structures, found } = await findStructures(view, question);
        expect(structures.length).toBe(Math.min(200, found));
        for (const { text, devices: having, possible, expected } of structures) {
          const answer = await findPattern(view, { text });
          expect(answer.devices.map(({ deviceId }) => deviceId)).toEqual(having.map(({ id }) => id));
          expect([possible, expected]).toEqual([having.length, having.length]);
        }
      }),
      { numRuns: 40 },
    );
  });

  test('at least these, and otherwise only devices with a doubtful kind', async () => {
    await fc.assert(
      fc.asyncProperty(devices(doubtfulKind), questions, async (made, question) => {
        const view = viewOf(made);
        for (const { text, devices: having } of (await findStructures(view, question)).structures) {
          const answer = await findPattern(view, { text });
          const ids = new Set(having.map(({ id }) => id));
          const found = answer.devices.map(({ deviceId }) => deviceId);
          expect(found).toEqual(expect.arrayContaining([...ids]));
          // Several doubtful matches may make a device certain together; none is by itself.
          for (const { deviceId, matches } of answer.devices)
            if (!ids.has(deviceId)) expect(matches.some(({ certain }) => certain)).toBe(false);
        }
      }),
      { numRuns: 40 },
    );
  });

  test.each<StructureQuestion>([
    {},
    { order: 'support', links: 'medium', boards: true },
    { order: 'year', level: 1, links: 'none', without: [], minSupport: 12 },
  ])('over the demo archive, %j', async (question) => {
    const archive: Archive = await demoArchive();
    const view = archive.state('desk');
    const { structures } = await findStructures(view, question);
    expect(structures.length).toBeGreaterThan(5);
    for (const { text, devices: having, support, possible } of structures) {
      const answer = await findPattern(view, { text });
      const found = new Map(answer.devices.map((one) => [one.deviceId, one]));
      for (const { id } of having) expect(found.has(id)).toBe(true);
      expect([having.length, found.size]).toEqual([support, possible]);
      for (const { id } of having) found.delete(id);
      for (const { matches } of found.values()) expect(matches.some(({ certain }) => certain)).toBe(false);
    }
    await archive.close();
  });
});

test('every term of the taxonomy makes a text that can be parsed', () => {
  for (const term of TERMS) {
    for (const kinds of [
      [term, 'Microcontroller'],
      [term, term],
    ]) {
      const text = gqlText({ kinds, links: [{ from: 0, to: 1, medium: 'trace', boards: 'two' }] });
      expect(syntaxProblems(text)).toEqual([]);
    }
  }
});

test('text and words of a structure', () => {
  const structure = {
    kinds: ['Emitter', 'Emitter', 'EmitterDriver'],
    links: [
      { from: 0, to: 2, bus: 'analog', boards: 'one' as const },
      { from: 2, to: 1, medium: 'flex', boards: 'unknown' as const },
    ],
  };
  expect(
    gqlText(structure),
  ).toBe(`MATCH (emitter1:Emitter)~[:CONNECTS {bus: 'analog'}]~(theEmitterDriver:EmitterDriver),
      (theEmitterDriver)~[link2:CONNECTS {medium: 'flex'}]~(emitter2:Emitter)
WHERE emitter1.board = theEmitterDriver.board
  AND link2.bus IS NULL
  AND (theEmitterDriver.board IS NULL OR emitter2.board IS NULL)
RETURN emitter1, emitter2, theEmitterDriver`);
  expect(structureText(structure)).toBe(
    'Emitter 1 –analog, one board– EmitterDriver; EmitterDriver –flex– Emitter 2',
  );
});
