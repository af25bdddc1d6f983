import { afterAll, beforeAll, expect, test } from 'vitest';
import { unseenByReaders } from '../../src/questions/summary.ts';
import { CATALOGUE, dossier } from './invented.ts';
import { archiveOf, BY, type Served, serve } from './serving.ts';

// Who may see each kind of thing, as filed here by hand.

const UNTIL = '2998-05-01T00:00:00Z';
const PAST = '2001-05-01T00:00:00Z';
const draft = { visibility: 'draft' } as const;
const embargo = (embargoUntil = UNTIL) => ({ visibility: 'embargoed', embargoUntil }) as const;
const publication = {
  id: 'letter-two',
  kind: 'article',
  title: 'Marks',
  claims: [
    { id: 'said', sentence: 'It is worn.', supportedBy: ['tarn-sennit-1/a/U1'] },
    { id: 'held', sentence: 'It is new.', supportedBy: ['tarn-sennit-1/a/U1'], ...embargo() },
    { id: 'over', sentence: 'It is old.', supportedBy: ['tarn-sennit-1/a/U1'], ...embargo(PAST) },
  ],
} as const;
const MARKED = {
  ...CATALOGUE,
  makers: [
    ...(CATALOGUE.makers ?? []),
    { id: 'sallow', name: 'Sallow', makes: ['devices'], ...draft },
    { id: 'alder', name: 'Alder', makes: ['devices'], visibility: 'published' },
  ],
  productLines: [
    ...(CATALOGUE.productLines ?? []),
    { id: 'tarn-loop', name: 'Tarn Loop', maker: 'tarn', ...embargo() },
  ],
  devices: [
    { id: 'tarn-loop-1', name: 'Loop', maker: 'tarn', released: '2021', bodySite: 'wrist', ...embargo() },
  ],
  parts: [...(CATALOGUE.parts ?? []), { number: 'OS10', maker: 'ostrel', categories: ['Sensor'], ...draft }],
  sources: [
    ...(CATALOGUE.sources ?? []),
    { id: 'note-2', kind: 'paper', title: 'Another', ...embargo() },
    { id: 'note-3', kind: 'paper', title: 'Open since', ...embargo(PAST) },
  ],
  publications: [publication, { id: 'hidden-film', kind: 'video', title: 'Hidden film', ...draft }],
  patterns: [...(CATALOGUE.patterns ?? []), { ...CATALOGUE.patterns?.[0], id: 'secret-idea', ...draft }],
};
const OPENED = dossier({ id: 'tarn-sennit-1', name: 'Tarn Sennit 1', released: '2016-05' });
const DOSSIER = {
  ...OPENED,
  identifications: [
    ...(OPENED.identifications ?? []),
    { component: 'J1', candidates: [{ category: 'FlexConnector', probability: 1 }], ...draft },
  ],
};

let desk: Served;
let reader: Served;
let hiddenBeforeCorrection: number;
beforeAll(async () => {
  const archive = await archiveOf([MARKED, DOSSIER]);
  hiddenBeforeCorrection = unseenByReaders(archive.state('desk'));
  for (const until of [undefined, UNTIL]) {
    const observe = {
      specimen: 'tarn-sennit-1/a',
      id: until === undefined ? 'seen-1' : 'seen-2',
      about: ['U1'],
      kind: 'appearance' as const,
      text: 'Matt.',
    };
    await archive.correct({ observe }, BY, 'desk', until);
  }
  desk = await serve({ audience: 'desk' }, archive);
  reader = await serve({ audience: 'reader' }, archive);
});
afterAll(async () => {
  await reader.app.close();
  await desk.close();
});

const MARKS = '... on KIND { visibility embargoUntil }';
const KINDS = ['Device', 'Maker', 'ProductLine', 'Part', 'Source', 'Pattern', 'Feed', 'Claim'];
const QUERY = `query ($id: ID!) { node(id: $id) { id ${KINDS.map((kind) => MARKS.replace('KIND', kind)).join(' ')} } }`;

test.each([
  ['tarn-loop-1', 'EMBARGOED', UNTIL],
  ['tarn-sennit-1', 'PUBLISHED', null],
  ['sallow', 'DRAFT', null],
  ['alder', 'PUBLISHED', null],
  ['tarn', null, null],
  ['tarn-loop', 'EMBARGOED', UNTIL],
  ['tarn-sennit', null, null],
  ['ostrel/OS10', 'DRAFT', null],
  ['ostrel/OS9', 'PUBLISHED', null],
  ['note-1', 'PUBLISHED', null],
  ['note-2', 'EMBARGOED', UNTIL],
  ['note-3', 'EMBARGOED', PAST],
  ['secret-idea', 'DRAFT', null],
  ['front-end-at-sensor', 'PUBLISHED', null],
  ['letter-two/said', null, null],
  ['letter-two/held', 'EMBARGOED', UNTIL],
  ['letter-two/over', 'EMBARGOED', PAST],
])('the desk sees who may see %s; readers are not told', async (id, visibility, embargoUntil) => {
  expect((await desk.ask(QUERY, { id })).node).toEqual({ id, visibility, embargoUntil });
  const open = visibility === null || visibility === 'PUBLISHED' || embargoUntil === PAST;
  const seen = (await reader.ask(QUERY, { id })).node;
  // A product line is known through its devices.
  if (id !== 'tarn-sennit' && id !== 'alder')
    expect(seen).toEqual(open ? { id, visibility: null, embargoUntil: null } : null);
});

test('the same of identifications and corrections', async () => {
  const query = `{
    specimen(id: "tarn-sennit-1/a") { identifications { nodes { component { id } visibility embargoUntil } } }
    corrections { nodes { visibility embargoUntil } }
  }`;
  const none = { visibility: null, embargoUntil: null };
  const [all, seen] = [await desk.ask(query), await reader.ask(query)];
  const of = (answer: typeof all, id: string) =>
    answer.specimen.identifications.nodes
      .filter(({ component }: { component: { id: string } }) => component.id === `tarn-sennit-1/a/${id}`)
      .map(({ component: _, ...marks }: { component: object }) => marks);
  expect([of(all, 'J1'), of(all, 'U1')]).toEqual([[{ visibility: 'DRAFT', embargoUntil: null }], [none]]);
  expect([of(seen, 'J1'), of(seen, 'U1')]).toEqual([[], [none]]);
  expect(all.corrections.nodes).toEqual(
    expect.arrayContaining([none, { visibility: 'EMBARGOED', embargoUntil: UNTIL }]),
  );
  expect(seen.corrections.nodes).toEqual([none]);
});

test('whatever readers do not see as it stands is counted, of every kind that can be hidden', async () => {
  // A maker, a product line, a device, a part, a source, a publication, a pattern, a sentence and an identification.
  expect(hiddenBeforeCorrection).toBe(9);
  const state = desk.archive.state('desk');
  // The correction that is held back and the specimen as it is with it, in which the identification is not counted again.
  expect(state.specimenRow('tarn-sennit-1/a')?.visibility).toBe('embargoed');
  expect(unseenByReaders(state)).toBe(9 + 2 - 1);
});

test('an identification and a pattern are recorded as hidden by mutations, too', async () => {
  const archive = await archiveOf([MARKED, DOSSIER]);
  const [at, read] = [
    await serve({ audience: 'desk' }, archive),
    await serve({ audience: 'reader' }, archive),
  ];
  const identify = (visible: string) =>
    at.answer(`mutation { setIdentification(input: { specimen: "tarn-sennit-1/a", reason: "r", identification: {
      component: "U1", candidates: [{ category: "Sensor", probability: 0.375 }], ${visible} } }) {
      component { identification { visibility candidates { probability } } } } }`);
  expect(await identify('visibility: EMBARGOED')).toMatchObject({
    errors: [{ message: expect.stringContaining('is embargoed without an end') }],
  });
  expect(await identify(`visibility: EMBARGOED, embargoUntil: "${UNTIL}"`)).toMatchObject({
    data: {
      setIdentification: {
        component: { identification: { visibility: 'EMBARGOED', candidates: [{ probability: 0.375 }] } },
      },
    },
  });
  const seen = await read.answer(
    '{ node(id: "tarn-sennit-1/a/U1") { ... on Component { identification { candidates { probability } } } } }',
  );
  expect(JSON.stringify(seen)).not.toContain('0.375');
  const saved =
    await at.answer(`mutation { savePattern(input: { id: "kept-back", name: "N", idea: "I.", reasons: ["r"],
    text: "MATCH (s:Sensor) RETURN s", visibility: DRAFT, reason: "r" }) { pattern { visibility } } }`);
  expect(saved).toMatchObject({ data: { savePattern: { pattern: { visibility: 'DRAFT' } } } });
  expect(await read.answer('{ pattern(id: "kept-back") { id } }')).toMatchObject({ data: { pattern: null } });
  await read.app.close();
  await at.close();
});
