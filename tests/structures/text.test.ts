import fc from 'fast-check';
import { afterAll, describe, expect, test } from 'vitest';
import type { Archive } from '../../src/archive.ts';
import { defaultPool, syntaxProblems } from '../../src/gql/gql.ts';
import { TERMS } from '../../src/model/taxonomy.ts';
import { findPattern } from '../../src/patterns/find.ts';
import { RELATIONS, type StructureQuestion } from '../../src/structures/answer.ts';
import { findStructures } from '../../src/structures/find-structures.ts';
import { gqlText, structureText } from '../../src/structures/gql-text.ts';
import { demoArchive } from '../trends/demo.ts';
import { type Kind, type Made, viewOf } from './made.ts';

afterAll(() => defaultPool().close());

const KINDS = [
  'Accelerometer',
  'InertialSensor',
  'Sensor',
  'Microcontroller',
  'LinearRegulator',
  'Resistor',
  'FlexConnector',
];
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
              medium: fc.constantFrom('trace' as const, 'flex' as const, 'optical-path' as const),
              bus: fc.constantFrom(undefined, 'I2C' as const, 'power' as const),
            }),
            { minLength: 1, maxLength: 7 },
          ),
          nets: fc.array(
            fc.record({
              kind: fc.constantFrom('power' as const, 'signal' as const),
              bus: fc.constantFrom(undefined, 'I2C' as const),
              members: fc.uniqueArray(fc.nat(size - 1), { minLength: 1, maxLength: size }),
            }),
            { maxLength: 3 },
          ),
        }),
      ),
      { minLength: 2, maxLength: 6 },
    )
    .map((all) =>
      all.map(({ components, boards, joined, nets }, at) => ({
        id: `device-${at}`,
        components,
        boards,
        nets: nets.map(({ bus, ...net }) => ({ ...net, ...(bus ? { bus } : {}) })),
        joined: joined.map(({ ends, medium, bus }) => ({ between: ends, medium, ...(bus ? { bus } : {}) })),
      })),
    );

const questions: fc.Arbitrary<StructureQuestion> = fc
  .record({
    minSupport: fc.constant(2),
    minSize: fc.constant(2),
    maxSize: fc.constant(4),
    level: fc.constantFrom(undefined, 1, 2),
    without: fc.constantFrom(['Passive'], []),
    links: fc.constantFrom('bus', 'medium', 'none'),
    relations: fc.option(fc.subarray([...RELATIONS], { minLength: 1 }), { nil: undefined }),
    boards: fc.boolean(),
    first: fc.constant(200),
    variants: fc.constant(true),
  })
  .map(({ relations, ...rest }) => ({ ...rest, ...(relations ? { relations } : {}) }));

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
      const link = { from: 0, to: 1, relation: 'connects' as const, medium: 'trace', boards: 'two' as const };
      const text = gqlText({ kinds, links: [link] }, { links: 'bus', relations: ['connects'] });
      expect(syntaxProblems(text)).toEqual([]);
    }
  }
});

test('text and words of a structure', () => {
  const structure = {
    kinds: ['Emitter', 'Emitter', 'EmitterDriver'],
    links: [
      { from: 0, to: 2, relation: 'connects' as const, bus: 'analogue', boards: 'one' as const },
      { from: 2, to: 1, relation: 'connects' as const, medium: 'flex', boards: 'unknown' as const },
    ],
  };
  expect(
    gqlText(structure, { links: 'bus', relations: ['connects'] }),
  ).toBe(`MATCH (emitter1:Emitter)~[:CONNECTS {bus: 'analogue'}]~(theEmitterDriver:EmitterDriver),
      (theEmitterDriver)~[link2:CONNECTS {medium: 'flex'}]~(emitter2:Emitter)
WHERE emitter1.board = theEmitterDriver.board
  AND link2.bus IS NULL
  AND (theEmitterDriver.board IS NULL OR emitter2.board IS NULL)
RETURN emitter1, emitter2, theEmitterDriver`);
  expect(structureText(structure)).toBe(
    'Emitter 1 –analogue, one board– EmitterDriver; EmitterDriver –flex– Emitter 2',
  );
});

test('text and words of what follows from nets', () => {
  const structure = {
    kinds: ['BuckConverter', 'Microcontroller', 'Accelerometer', 'Module'],
    links: [
      { from: 0, to: 1, relation: 'feeds' as const },
      { from: 1, to: 2, relation: 'signal-path' as const, bus: 'SPI' },
      { from: 2, to: 0, relation: 'shares-net' as const },
      { from: 1, to: 3, relation: 'connects' as const, medium: 'flex', alone: true as const },
    ],
  };
  const relations = ['feeds', 'signal-path', 'shares-net', 'connects'] as const;
  expect(
    gqlText(structure, { links: 'bus', relations }),
  ).toBe(`MATCH (theBuckConverter:BuckConverter)-[:FEEDS]->(theMicrocontroller:Microcontroller),
      (theMicrocontroller)~[:SIGNAL_PATH {bus: 'SPI'}]~(theAccelerometer:Accelerometer),
      (theAccelerometer)~[link3:SHARES_NET]~(theBuckConverter),
      (theMicrocontroller)~[link4:CONNECTS {medium: 'flex'}]~(theModule:Module)
WHERE link3.bus IS NULL
  AND link4.bus IS NULL
  AND NOT EXISTS { (theMicrocontroller)-[:FEEDS|SIGNAL_PATH|SHARES_NET]-(theModule) }
RETURN theBuckConverter, theMicrocontroller, theAccelerometer, theModule`);
  expect(structureText(structure)).toBe(
    'BuckConverter –feeds→ Microcontroller; Microcontroller –SPI– Accelerometer; Accelerometer –net– BuckConverter; Microcontroller –flex– Module',
  );
  const joined = { kinds: ['Emitter', 'EmitterDriver'], links: [{ from: 0, to: 1 }] };
  expect(
    gqlText(joined, { links: 'none', relations }),
  ).toBe(`MATCH (theEmitter:Emitter)-[:FEEDS|SIGNAL_PATH|SHARES_NET|CONNECTS]-(theEmitterDriver:EmitterDriver)
RETURN theEmitter, theEmitterDriver`);
});
