import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { CATALOGUE, DOSSIERS, HIDDEN } from '../service/invented.ts';
import { archiveOf, type Served, serve } from '../service/serving.ts';
import { by, changesOf } from './made.ts';

const CIRCUITS = changesOf(
  Array.from({ length: 6 }, (_, at) => ({
    id: `tarn-mast-${at}`,
    released: String(2015 + at),
    components: ['Microcontroller', 'Accelerometer', 'FuelGauge', 'PouchCell'],
    joined: [by('I2C', 0, 1), by('I2C', 0, 2), by('power', 2, 3)],
  })),
).map(({ payload }) => payload);

let reader: Served;
let desk: Served;
beforeAll(async () => {
  const archive = await archiveOf([CATALOGUE, ...DOSSIERS, ...CIRCUITS]);
  reader = await serve({ audience: 'reader' }, archive);
  desk = await serve({ audience: 'desk' }, archive);
});
afterAll(async () => {
  await reader.app.close();
  await desk.close();
});

const FIELDS = `{ found devices minSupport relations isComplete cautions structures {
  words text kinds links { from to relation bus medium boards } support share shareInterval { low high } possible expected
  chance { expected meeting meetingError lift liftInterval { low high } } year { n years p q slope }
  knownAs { pattern { id } share } variants isExtendable devices(first: 200) { nodes { id } } } }`;

describe('structures', () => {
  test('structures with all their fields', async () => {
    const { structures } = await reader.ask(`{ structures(minSupport: 5) ${FIELDS} }`);
    expect(structures).toMatchObject({ found: 1, minSupport: 5, isComplete: true });
    const [one] = structures.structures;
    expect(one).toMatchObject({ support: 6, possible: 6, expected: 6, knownAs: [], isExtendable: false });
    expect([...one.kinds].sort()).toEqual(['Accelerometer', 'FuelGauge', 'Microcontroller', 'PouchCell']);
    expect(structures.relations).toEqual(['FEEDS', 'SIGNAL_PATH', 'CONNECTS']);
    const told = one.links.map(
      ({ relation, bus }: { relation: string; bus: string | null }) => `${relation} ${bus}`,
    );
    expect(told.sort()).toEqual(['FEEDS null', 'SIGNAL_PATH I2C', 'SIGNAL_PATH I2C']);
    const feeding = one.links.find(({ relation }: { relation: string }) => relation === 'FEEDS');
    expect([one.kinds[feeding.from], one.kinds[feeding.to]]).toEqual(['PouchCell', 'FuelGauge']);
    expect(one.devices.nodes.map(({ id }: { id: string }) => id)).toEqual(
      Array.from({ length: 6 }, (_, at) => `tarn-mast-${at}`),
    );
    const { findPattern } = await reader.ask(
      `query ($text: String!) { findPattern(text: $text) { nodes { device { id } } } }`,
      { text: one.text },
    );
    expect(findPattern.nodes.map(({ device }: { device: { id: string } }) => device)).toEqual(
      one.devices.nodes,
    );
  });

  test('every argument has an effect', async () => {
    const { structures } = await reader.ask(`{ structures(
      minSupport: 6, minSize: 2, maxSize: 3, level: 1, without: ["Battery"], relations: [CONNECTS], links: NONE, distinguishBoards: true, order: SUPPORT,
      includeVariants: true, onlyUnnamed: true, first: 3) ${FIELDS} }`);
    for (const { kinds, links } of structures.structures) {
      expect(kinds.every((kind: string) => ['Processor', 'Sensor', 'FuelGauge'].includes(kind))).toBe(true);
      expect(
        links.every(({ bus, boards }: { bus: null; boards: string }) => bus === null && boards === 'UNKNOWN'),
      ).toBe(true);
    }
    expect(structures.structures.length).toBeGreaterThan(0);
  });

  test.each([
    ['minSupport: 1', /minSupport is 1/u],
    ['without: ["Sensr"]', /did you mean "Sensor"/u],
    ['maxSize: 12', /maxSize is 12/u],
  ])('%s is refused', async (args, why) => {
    const { errors } = await reader.answer(`{ structures(${args}) { found } }`);
    expect(errors?.[0].extensions.code).toBe('BAD_INPUT');
    expect(errors?.[0].message).toMatch(why);
  });

  test('no word of a hidden device reaches a reader', async () => {
    const query = `{ structures(minSupport: 2, minSize: 2, includeVariants: true, first: 200) ${FIELDS} }`;
    const [told, all] = [await reader.ask(query), await desk.ask(query)];
    for (const id of [...HIDDEN.devices, ...HIDDEN.makers]) expect(JSON.stringify(told)).not.toContain(id);
    expect(all.structures.devices).toBeGreaterThan(told.structures.devices);
  });
});

describe('savePattern', () => {
  const SAVE = `mutation ($id: ID!, $text: String!, $reasons: [String!]! = ["The gauge counts all."]) {
    savePattern(input: { id: $id, name: "Gauge on the bus", idea: "The processor asks the gauge.", text: $text, reasons: $reasons,
      strength: 0.6, reason: "found by its recurrence" }) {
      pattern { id name text strength } entry { sequence actor reason kind } } }`;
  const textOf = async () =>
    (await desk.ask(`{ structures(minSupport: 5) { structures { text } } }`)).structures.structures[0]
      .text as string;

  test('puts the pattern into the library, journaled; it finds the same devices and is known from then on', async () => {
    const text = await textOf();
    const { savePattern } = await desk.ask(SAVE, { id: 'gauge-on-the-bus', text });
    expect(savePattern.pattern).toMatchObject({ id: 'gauge-on-the-bus', strength: 0.6, text });
    expect(savePattern.entry).toMatchObject({
      actor: 'bench',
      reason: 'found by its recurrence',
      kind: 'RECORD_PUT',
    });
    const { findPattern, structures } = await reader.ask(`{
      findPattern(id: "gauge-on-the-bus") { totalCount }
      structures(minSupport: 5) { structures { knownAs { pattern { id } share } } }
    }`);
    expect(findPattern.totalCount).toBe(6);
    expect(structures.structures[0].knownAs).toEqual([{ pattern: { id: 'gauge-on-the-bus' }, share: 1 }]);
  });

  test.each([
    [
      'an id that is taken',
      { id: 'front-end-at-sensor', text: 'MATCH (x:Sensor) RETURN x' },
      'CONFLICT',
      /another id/u,
    ],
    [
      'an id of another record',
      { id: 'tarn', text: 'MATCH (x:Sensor) RETURN x' },
      'BAD_FILE',
      /nothing was written/u,
    ],
    ['a text that cannot be parsed', { id: 'new-one', text: 'MATCH (x' }, 'BAD_PATTERN', /Line 1/u],
    [
      'a text with an unknown label',
      { id: 'new-one', text: 'MATCH (x:Sensr) RETURN x' },
      'BAD_PATTERN',
      /Sensr/u,
    ],
    ['an id that is none', { id: 'New One', text: 'MATCH (x:Sensor) RETURN x' }, 'BAD_INPUT', /id/u],
    [
      'no reasons',
      { id: 'new-one', text: 'MATCH (x:Sensor) RETURN x', reasons: [] },
      'BAD_INPUT',
      /reasons/u,
    ],
  ])('%s is refused and nothing is written', async (_, variables, code, why) => {
    const before = (await desk.ask('{ archive { sequence } }')).archive.sequence;
    const { errors } = await desk.answer(SAVE, variables);
    expect(errors?.[0].extensions.code).toBe(code);
    expect(errors?.[0].message).toMatch(why);
    expect((await desk.ask('{ archive { sequence } }')).archive.sequence).toBe(before);
  });
});
