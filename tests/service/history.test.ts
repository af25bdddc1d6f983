import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import { observationSchema } from '../../src/model/dossier.ts';
import { archiveOf, BY, type Served, serve } from './serving.ts';

// What was written about things, and what differs between instants, through GraphQL over invented records. The clock of the
// journal is the test's: records came on 1 March 2026, later things a day each.

const day = (n: number) => `2026-03-${String(n).padStart(2, '0')}T08:00:00.000Z`;

let desk: Served;
let reader: Served;
let now = day(1);

beforeAll(async () => {
  const journal = new MemoryJournal({ clock: () => new Date(now) });
  const archive = await archiveOf(undefined, journal);
  now = day(2);
  const seen = { id: 'late', about: ['U2'], kind: 'appearance', text: 'Matt.' };
  await archive.recordObservation('tarn-sennit-2/a', observationSchema.parse(seen), BY, 'desk');
  now = day(3);
  await archive.correct({ value: { of: 'tarn-sennit-2', field: 'note', is: 'Weighed again.' } }, BY, 'desk');
  desk = await serve({ audience: 'desk' }, archive);
  reader = await serve({ audience: 'reader' }, archive);
});
afterAll(async () => {
  await reader.app.close();
  await desk.close();
});

const HISTORY = 'query ($id: ID!) { history(id: $id) { nodes { kind subject countsFrom actor } } }';
const historyOf = async (id: string) => {
  const { history } = await desk.ask(HISTORY, { id });
  return history.nodes.map(({ kind, subject }: { kind: string; subject: string }) => `${kind} ${subject}`);
};

describe('history', () => {
  // What each must have is read off the records and the three changes above.
  test.each([
    ['tarn', ['RECORD_PUT tarn']],
    ['quistle/QWR4T10', ['RECORD_PUT quistle/QWR4T10']],
    ['tarn-sennit-2/a', ['DOSSIER_PUT tarn-sennit-2/a', 'OBSERVATION_RECORDED tarn-sennit-2/a/late']],
    ['tarn-sennit-2/a/U2', ['DOSSIER_PUT tarn-sennit-2/a', 'OBSERVATION_RECORDED tarn-sennit-2/a/late']],
    ['tarn-sennit-2/a/main', ['DOSSIER_PUT tarn-sennit-2/a']],
    ['tarn-sennit-2/a/teardown', ['DOSSIER_PUT tarn-sennit-2/a']],
    ['tarn-sennit-2/a/late', ['OBSERVATION_RECORDED tarn-sennit-2/a/late']],
    // Put once as an import takes it, and once as older archives have it.
    ['letter-one', ['RECORD_PUT letter-one', 'RECORD_PUT letter-one']],
    ['letter-one/c1', ['RECORD_PUT letter-one', 'RECORD_PUT letter-one']],
  ])('of %s', async (id, expected) => {
    expect(await historyOf(id)).toEqual(expected);
  });

  test('of a device has its record, its dossiers, what was recorded since and its corrections', async () => {
    const all = await historyOf('tarn-sennit-2');
    expect(all.filter((one: string) => one === 'DOSSIER_PUT tarn-sennit-2/a').length).toBe(1);
    expect(all).toContain('OBSERVATION_RECORDED tarn-sennit-2/a/late');
    expect(all.at(-1)).toMatch(/^CORRECTION_MADE correction-/u);
    const [, correction] = (all.at(-1) as string).split(' ') as [string, string];
    expect(await historyOf(correction)).toEqual([`CORRECTION_MADE ${correction}`]);
  });

  test.each(['nobody', 'tarn-sennit-2/a/U99', 'tarn-sennit-2/z', 'letter-one/c99', 'correction-99'])(
    'of %s, which never was, is an error',
    async (id) => {
      const { errors } = await desk.answer(HISTORY, { id });
      expect(errors?.[0]?.extensions.code).toBe('NOT_FOUND');
    },
  );

  test('is not for readers, whether there is such a thing or not', async () => {
    for (const id of ['tarn-sennit-2', 'tarn-hidden', 'nobody'])
      expect(await reader.answer(HISTORY, { id })).toMatchObject({
        errors: [{ extensions: { code: 'NOT_ALLOWED' } }],
      });
  });
});

const DIFFERENCE = `query ($from: DateTime!, $to: DateTime, $of: ID) { difference(from: $from, to: $to, of: $of) {
  records { nodes { id kind change fields { path before after } } } } }`;
const differing = async (variables: object) => {
  const { difference } = await desk.ask(DIFFERENCE, variables);
  return difference.records.nodes;
};

describe('the difference between two instants', () => {
  test('names what was recorded and corrected between them, field by field', async () => {
    expect(await differing({ from: day(1), to: day(2) })).toEqual([
      {
        id: expect.stringContaining('tarn-sennit-2/a@'),
        kind: 'SPECIMEN',
        change: 'CHANGED',
        fields: [
          {
            path: 'observations[late]',
            before: null,
            after: expect.stringContaining('"text":"Matt."'),
          },
        ],
      },
    ]);
    const all = await differing({ from: day(1) });
    expect(all.map(({ id, kind, change }: Record<string, string>) => `${kind} ${id} ${change}`)).toEqual([
      'DEVICE tarn-sennit-2 CHANGED',
      'SPECIMEN tarn-sennit-2/a CHANGED',
      expect.stringMatching(/^CORRECTION correction-\S+ ADDED$/u),
    ]);
    expect(all[0].fields).toContainEqual({ path: 'note', before: null, after: '"Weighed again."' });
  });

  test('is empty between equal instants, and narrowed to one record', async () => {
    expect(await differing({ from: day(3), to: day(3) })).toEqual([]);
    expect(await differing({ from: day(1), of: 'tarn' })).toEqual([]);
    const { errors } = await desk.answer(DIFFERENCE, { from: day(1), of: 'tarn-sennet-2' });
    expect(errors?.[0]?.message).toContain('did you mean "tarn-sennit-2"');
  });

  test('refuses instants the wrong way round, in the future, and before the archive', async () => {
    const told = async (variables: object) => (await desk.answer(DIFFERENCE, variables)).errors?.[0]?.message;
    expect(await told({ from: day(3), to: day(1) })).toContain('is earlier; change their places');
    expect(await told({ from: '2199-01-01T00:00:00Z' })).toContain('lies in the future');
    expect(await told({ from: '2026-02-28T00:00:00Z' })).toContain(`the archive begins on ${day(1)}`);
  });
});

test('a reader learns from an instant before the archive no more than that there was nothing to see', async () => {
  const { errors } = await reader.answer('{ asOf(instant: "2026-02-28T00:00:00Z") { archive { devices } } }');
  expect(errors?.[0]?.message).toBe(
    'At 2026-02-28T00:00:00.000Z the archive held nothing to see; ask for a later instant',
  );
});

test('a corrected clock moves what an instant shows, and leaves what was written', async () => {
  const devices = async (instant: string) =>
    (await desk.ask(`{ asOf(instant: "${instant}") { node(id: "tarn-sennit-2/a/late") { id } } }`)).asOf.node;
  expect(await devices(day(1))).toBeNull();
  const { history } = await desk.ask(
    '{ history(id: "tarn-sennit-2/a/late") { nodes { sequence instant } } }',
  );
  const [{ sequence, instant }] = history.nodes;
  now = day(4);
  const correct = `mutation ($first: Int!, $last: Int!) { correctClock(input: { first: $first, last: $last, at: "2026-03-01T08:00:00Z",
    actor: "bench", reason: "a day ahead" }) { entry { kind } } }`;
  const { correctClock } = await desk.ask(correct, { first: sequence, last: sequence });
  expect(correctClock.entry.kind).toBe('CLOCK_CORRECTED');
  expect((await devices(day(1)))?.id).toContain('tarn-sennit-2/a/late@');
  const after = await desk.ask('{ history(id: "tarn-sennit-2/a/late") { nodes { instant countsFrom } } }');
  expect(after.history.nodes).toEqual([{ instant, countsFrom: day(1) }]);
  const { errors } = await desk.answer(correct, { first: 1, last: 10_000 });
  expect(errors?.[0]?.message).toContain('1 to 10000 is no part of them');
});
