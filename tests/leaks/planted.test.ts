import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { weightsOf } from '../../src/api-schema/cost.ts';
import type { Archive } from '../../src/archive.ts';
import { serviceSchema } from '../../src/service/graphql/schema.ts';
import type { Facts } from '../../src/state/facts.ts';
import { State } from '../../src/state/state.ts';
import { archiveOf } from './archives.ts';
import { Asked, difference, type Told } from './asking.ts';
import { type Case, casesOf } from './cases.ts';
import { HIDDEN_IDS } from './hidden.ts';

// The differential test can fail: for every way in which a state tells what there is, a state of readers that answers it as the desk's
// does is found out by the questions of `cases.ts`; so are answers that leak beside the state.

let archive: Archive;
let whole: Asked;
let wanted: ReadonlyMap<Case, Told>;
let questions: readonly Case[];

/** Questions that take little time: each of the schema's, with what is usual, and with a hidden id of each kind in turn. */
function cheap(): readonly Case[] {
  const schema = serviceSchema();
  const weights = weightsOf(schema);
  const kinds = new Set(HIDDEN_IDS.map(({ kind }) => kind));
  const known = new Set<string>();
  return casesOf(schema, weights).filter(({ place, argument, kind, cursor, origin }) => {
    const [type, field] = place.split('.');
    const isDear = (weights.get(place) ?? 0) > 2_000 || field === 'whatIf';
    if (kind === 'a rejection that holds') return true;
    if (isDear || cursor || origin !== undefined) return false;
    if (kind === 'plain')
      return (
        type === 'Query' || ['Publication', 'Part', 'Maker', 'ProductLine', 'Device'].includes(type ?? '')
      );
    // One of each kind: a misspelt id tells near names, a hidden one whether it is known.
    const pair = `${kind} ${argument}`;
    const isNew =
      (kinds.has(kind) || kind.startsWith('hidden word') || kind.startsWith('visible')) && !known.has(pair);
    known.add(pair);
    return isNew;
  });
}

beforeAll(async () => {
  archive = await archiveOf('whole');
  whole = new Asked(archive, 'reader');
  const seen = new Asked(await archiveOf('seen'), 'reader');
  questions = cheap();
  const answers = new Map<Case, Told>();
  for (const one of questions) answers.set(one, await seen.graphql(one.query, one.variables));
  wanted = answers;
  await seen.close();
});
afterAll(() => whole.close());

/** The first question whose answer is not that of an archive in which the hidden never was. */
async function firstFound(
  change: (told: Told, one: Case) => Told = (told) => told,
): Promise<Case | undefined> {
  for (const one of questions) {
    const told = change(await whole.graphql(one.query, one.variables), one);
    if (difference(told, wanted.get(one) as Told)) return one;
  }
  return undefined;
}

/** Ways in which a state tells what there is, as one finds them in its class. */
const MEMBERS = [
  'device',
  'devices',
  'specimenRow',
  'specimenRows',
  'holdersOf',
  'maker',
  'makers',
  'productLines',
  'publication',
  'publications',
  'search',
] as const satisfies readonly (keyof State)[];

/** Parts of what a state is made from. */
const PARTS = [
  'devices',
  'specimens',
  'holders',
  'links',
  'corrections',
] as const satisfies readonly (keyof Facts)[];

describe('a state of readers that answers as the desk does is found out', () => {
  /** Whether a state in place of the readers' is found out. */
  const isFound = async (leaking: State) => {
    Object.defineProperty(archive, 'state', { configurable: true, value: () => leaking });
    try {
      return (await firstFound()) !== undefined;
    } finally {
      Reflect.deleteProperty(archive, 'state');
    }
  };

  test.each(MEMBERS)('%s', async (member) => {
    const [reader, desk] = [archive.state('reader'), archive.state('desk')];
    // A state of its own: what the readers' has derived already is kept in it.
    const leaking = new State(reader.facts, reader.shared, { ...reader });
    const value = desk[member];
    Object.defineProperty(leaking, member, {
      value: typeof value === 'function' ? value.bind(desk) : value,
    });
    expect(await isFound(leaking)).toBe(true);
  });

  test.each(PARTS)('%s of its facts', async (part) => {
    const [reader, desk] = [archive.state('reader'), archive.state('desk')];
    const facts = { ...reader.facts, [part]: desk.facts[part] };
    expect(await isFound(new State(facts, reader.shared, { ...reader }))).toBe(true);
  });
});

describe('an answer that tells of something hidden beside the state is found out', () => {
  const PLANTED: readonly (readonly [string, (told: Told, one: Case) => Told])[] = [
    [
      'a count of one more',
      (told) => ({
        ...told,
        body: told.body.replace(/"totalCount":(\d+)/u, (_, n) => `"totalCount":${Number(n) + 1}`),
      }),
    ],
    [
      'a suggestion',
      (told) => ({
        ...told,
        body: told.body.replace('is in the archive', 'is in the archive; did you mean "aa-hidden"?'),
      }),
    ],
    [
      'a cursor with a place among all',
      (told) => ({ ...told, body: told.body.replace(/"endCursor":"/u, '"endCursor":"Mz') }),
    ],
    [
      'the name of a version that waits, in a correction',
      (told) => ({ ...told, body: told.body.replace('dev-11 plain is now', 'dev-11 zebrawood is now') }),
    ],
    [
      'a rejection that is open again',
      (told) => ({ ...told, body: told.body.replace('"REJECTED"', '"REOPENED"') }),
    ],
    ['another status', (told) => ({ ...told, status: told.body.includes('aa-hidden') ? 403 : told.status })],
    ['a header', (told) => ({ ...told, headers: `${told.headers} x-entries: 109` })],
  ];
  test.each(PLANTED)('%s', async (_, change) => {
    expect(await firstFound(change)).toBeDefined();
  });

  test('and nothing is found where nothing was planted', async () => {
    const found = await firstFound();
    expect(found && `${found.place} ${JSON.stringify(found.variables)}`).toBeUndefined();
  });
});
