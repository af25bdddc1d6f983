import { isObjectType } from 'graphql/index.js';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { weightsOf } from '../../src/api-schema/cost.ts';
import { serviceSchema } from '../../src/service/graphql/schema.ts';
import { seededRandom } from '../bench/generate.ts';
import { testSeed } from '../random.ts';
import { archiveOf, EMBARGO_END, INSTANTS, type World } from './archives.ts';
import { Asked } from './asking.ts';
import { type Case, casesOf, drawn, waysTo } from './cases.ts';
import { at, type Compared, compare, shown } from './comparing.ts';

// What an anonymous reader is told of an archive that hides things is, byte for byte, what one is told of an archive in which the
// hidden never was (`archives.ts`): for every field of the schema, with arguments that touch hidden things (`cases.ts`, `values.ts`).
// CASEBACK_LEAKS=all asks everything; otherwise a draw is asked that has every pair of an argument and a kind of hidden thing.

const ALL = process.env.CASEBACK_LEAKS === 'all';
const schema = serviceSchema();
const weights = weightsOf(schema);
const cases = casesOf(schema, weights);

/** Fields that a reader is never given anything for here, and why. */
const NEVER_ANSWERED: Readonly<Record<string, string>> = {
  'Archive.sequence': 'null for readers: it counts changes that they may not see',
  'Archive.changedAt': 'null for readers, as the sequence',
  'Archive.treeHead': 'null for readers, as the sequence',
  'Query.history': 'readers are refused the history',
  'Query.readPhoto': 'photos are read for whoever has signed in; tests/service/photo-reading.test.ts has it',
  'Query.people': 'administrators alone are told of people',
  'Query.webhooks': 'editors alone are told of webhooks',
  'Pack.changes': 'a sealed name of a state is of one archive, so that none is asked with',
  'Asker.name': 'null for a visitor',
  'Asker.displayName': 'null for a visitor',
  'Asker.expires': 'null for a visitor',
  'NextObservation.pin': 'no step at the bench is about a single pin of these boards',
  ...Object.fromEntries(
    [
      'PatternRows.note',
      'PatternRows.searched',
      'PatternDeviceConnection.note',
      'PatternDeviceConnection.searched',
      'PatternSearched.specimens',
      'PatternSearched.of',
      'PatternNearMatchConnection.note',
    ].map((field) => [field, 'only of a search that took too long']),
  ),
};

/** Types of which a reader is given nothing at all, and why. */
const NEVER_GIVEN: Readonly<Record<string, string>> = {
  HistoryEntry: 'readers are refused the history: it counts and names changes that they may not see',
  HistoryEntryConnection: 'as HistoryEntry',
  HistoryEntryEdge: 'as HistoryEntry',
  Person: 'administrators alone are told of people',
  PersonConnection: 'as Person',
  PersonEdge: 'as Person',
  Token: 'as Person',
  PhotoReading: 'photos are read for whoever has signed in; tests/service/photo-reading.test.ts has it',
  ...Object.fromEntries(
    [
      'PhotoLine',
      'PhotoCharacter',
      'CharacterAlternative',
      'OtherPhotoReading',
      'CandidatesIfConfirmed',
      'PartIfConfirmed',
    ].map((type) => [type, 'as PhotoReading']),
  ),
  Webhook: 'editors alone are told of webhooks',
  WebhookConnection: 'as Webhook',
  WebhookEdge: 'as Webhook',
  WebhookMessage: 'as Webhook',
  PackDifference:
    'a sealed name of a state is of one archive, so that none is asked with; tests/service/packs.test.ts has it',
  PackChange: 'as PackDifference',
  Recalled: 'the desk alone is told what was recalled',
};
/** Whether the schema says that readers are given nothing for a field. */
const isForTheDesk = (field: string) => {
  const [type = '', name = ''] = field.split('.');
  const owner = schema.getType(type);
  return isObjectType(owner) && /\bFor readers null\b/u.test(owner.getFields()[name]?.description ?? '');
};
const isExcused = (field: string) =>
  isForTheDesk(field) || field in NEVER_ANSWERED || (field.split('.')[0] as string) in NEVER_GIVEN;

/** Of the questions about an earlier instant, how many are asked in a draw. */
const EARLIER = 0.04;
/** Kinds of questions that are asked of every instant: they have told of versions that wait today. */
const ALWAYS = ['hidden word', 'a rejection that holds', 'figures of a part'];

/** Questions that make most of what states share: graphs, tables, what was learnt. */
const SHARED = [
  'Query.findPattern',
  'Query.decisions',
  'Query.candidates',
  'Query.search',
  'Query.similarDevices',
];

/** An archive that hides things, for a reader and for the desk, and what a reader is to be told. */
interface Pair {
  readonly whole: Asked;
  readonly desk: Asked;
  readonly wanted: Asked;
}

let archives: { readonly seen: Pair; readonly early: Pair };
beforeAll(async () => {
  archives = { seen: await pairWith('seen'), early: await pairWith('early') };
});

/**
 * Two archives of their own for each comparison: the order of rows that nobody sorted may follow from what was asked before, so both
 * are to have been asked the same by readers.
 */
async function pairWith(world: World): Promise<Pair> {
  const archive = await archiveOf('whole');
  const desk = new Asked(archive, 'desk');
  // The desk asks first, so that whatever both audiences share has been made from everything.
  const isFirst = ({ kind, place }: Case) =>
    kind === 'plain' && (ALL || (world === 'seen' ? place.startsWith('Query.') : SHARED.includes(place)));
  for (const { query, variables } of cases.filter(isFirst)) await desk.graphql(query, variables);
  return {
    whole: new Asked(archive, 'reader'),
    desk,
    wanted: new Asked(await archiveOf(world), 'reader'),
  };
}

afterAll(async () => {
  for (const pair of Object.values(archives))
    for (const asked of Object.values(pair) as Asked[]) await asked.close();
});

describe('an anonymous reader is told what an archive would tell in which the hidden never was', () => {
  let now: Compared;

  test('of every field, whatever it is given', async () => {
    const asked = ALL ? cases : drawn(cases, seededRandom(testSeed()));
    now = await compare(schema, asked, [archives.seen.whole, archives.seen.wanted], archives.seen.desk);
    expect(shown(now.leaks)).toBe('');
    expect(now.questions).toBeGreaterThan(1_500);
  });

  test('and every field was answered with something', () => {
    const fields = [...waysTo(schema, weights).keys()].flatMap((name) => {
      const type = schema.getType(name);
      return type && 'getFields' in type
        ? Object.keys(type.getFields()).map((field) => `${name}.${field}`)
        : [];
    });
    const silent = fields.filter((field) => !now.answered.has(field));
    expect(silent.filter((field) => !isExcused(field))).toEqual([]);
    expect([...now.answered].filter(isForTheDesk)).toEqual([]);
    expect(Object.keys(NEVER_ANSWERED).filter((field) => !silent.includes(field))).toEqual([]);
  });

  // What is given instants of its own answers of those.
  const isOfItsInstant = ({ query }: Case) => !/\b(?:difference|asOf|node)\(/u.test(query);

  test.each(Object.entries(INSTANTS))('of an earlier instant: %s', async (_, instant) => {
    const random = seededRandom(testSeed());
    const isAsked = ({ kind }: Case) =>
      ALL || ALWAYS.includes(kind) || random() < (kind === 'plain' ? 2 * EARLIER : EARLIER);
    const asked = drawn(cases, seededRandom(testSeed()))
      .filter(isOfItsInstant)
      .filter(isAsked)
      .map((one) => at(instant, one));
    // Before an embargo ended what it hid is hidden.
    const { whole, wanted, desk } = instant < EMBARGO_END ? archives.early : archives.seen;
    const { leaks, questions } = await compare(schema, asked, [whole, wanted], desk);
    expect(shown(leaks)).toBe('');
    expect(questions).toBeGreaterThan(40);
  });
});
