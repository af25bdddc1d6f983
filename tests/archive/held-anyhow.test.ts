import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { weightsOf } from '../../src/api-schema/cost.ts';
import { Archive } from '../../src/archive.ts';
import { identifierOf, learnTogether } from '../../src/identification/questions.ts';
import { backupOf } from '../../src/journal/backup.ts';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import { PostgresJournal } from '../../src/journal/postgres/journal.ts';
import { restoreIntoDatabase } from '../../src/journal/postgres/restore.ts';
import { openBackup } from '../../src/journal/read-backup.ts';
import { SqliteJournal } from '../../src/journal/sqlite/journal.ts';
import { restoreInto } from '../../src/journal/sqlite/restore.ts';
import { filesInZip } from '../../src/pack/read-zip.ts';
import { presenceOf, readTogether } from '../../src/presence/presence.ts';
import { serviceSchema } from '../../src/service/graphql/schema.ts';
import { type Random, seededRandom } from '../../src/statistics/random.ts';
import { Clock, NOW, write } from '../leaks/archives.ts';
import { Asked, difference } from '../leaks/asking.ts';
import { type Case, casesOf } from '../leaks/cases.ts';
import { at } from '../leaks/comparing.ts';
import { sharedSchema } from '../postgres/shared.ts';

// One journal, held in every way that there is: by an archive that wrote it, was asked all the while, and took back what it was told; folded from
// its first entry; begun from a snapshot; restored from a backup into a file and into a database. Whatever is asked, over GraphQL and as files,
// the answers are the same to the byte.

vi.setConfig({ testTimeout: 240_000, hookTimeout: 240_000 });

const AUDIENCES = ['desk', 'reader'] as const;
const BY = { actor: 'bench', reason: 'test' } as const;
/** What is drawn is drawn before the tests: one seed for all of them. */
const SEED = process.env.CASEBACK_TEST_SEED ?? '1';
const schema = serviceSchema();
/** Every question about a field of the schema with nothing varied, and some of those that vary an argument. */
const cases = chosen(seededRandom(`questions ${SEED}`));
const folder = mkdtempSync(join(tmpdir(), 'caseback-test-'));

function chosen(random: Random): readonly Case[] {
  const all = casesOf(schema, weightsOf(schema)).filter(({ cursor }) => !cursor);
  // The history is asked of the journal, an entry after the other, and people of another store.
  return all.filter(({ place, kind }) =>
    place.startsWith('Query.') && (kind === 'plain' || place === 'by hand') ? true : random.uniform() < 0.008,
  );
}

const FILES = [
  ...['nodes.csv', 'edges.csv', 'components.csv', 'csv.zip', 'graph.graphml'].map(
    (file) => `/exports/archive/${file}`,
  ),
  ...['letter-one', 'dev-1', 'dev-1/a/U2', 'dev-1:sensor-on-the-bus'].map((id) => `/records/${id}.jsonld`),
  ...['letter-one', 'letter-two'].map((id) => `/publications/${id}/sheet`),
  '/',
];

const held = new Map<string, Archive>();
const asked = new Map<string, Asked>();
const dropped: (() => unknown)[] = [];

function service(way: string, audience: (typeof AUDIENCES)[number]): Asked {
  const key = `${way} ${audience}`;
  const known = asked.get(key) ?? new Asked(held.get(way) as Archive, audience);
  asked.set(key, known);
  return known;
}

beforeAll(async () => {
  const clock = new Clock();
  const journal = new MemoryJournal({ clock: clock.read });
  const random = seededRandom(`changes ${SEED}`);
  const worked = await write('whole', journal, clock);
  vi.useFakeTimers({ toFake: ['Date'], now: new Date(NOW) });
  held.set('worked on', worked);
  for (let step = 0; step < 6; step++) {
    for (const audience of AUDIENCES)
      for (const { query, variables } of cases.filter((_, place) => place % 7 === step))
        await service('worked on', audience).graphql(query, variables);
    await thereAndBack(worked, random, step);
  }
  const { photos } = worked;
  held.set('folded anew', await Archive.open(journal, clock.read, undefined, photos));

  const place = {
    file: join(folder, 'snapshot'),
    ahead: AUDIENCES,
    onUnusable: (why: string) => {
      throw new Error(why);
    },
  };
  const saving = await Archive.open(journal, clock.read, place, photos);
  for (const audience of AUDIENCES) {
    const state = saving.state(audience);
    readTogether(state);
    await learnTogether(state);
    await presenceOf(state);
    await identifierOf(state);
  }
  if (!(await saving.saveSnapshot(AUDIENCES))) throw new Error('no snapshot was written');
  held.set('begun from a snapshot', await Archive.open(journal, clock.read, place, photos));

  const pieces: Buffer[] = [];
  for await (const piece of backupOf(journal, [], clock.now)) pieces.push(Buffer.from(piece));
  const backup = () =>
    openBackup(
      (async function* () {
        yield* pieces;
      })(),
    );
  const file = join(folder, 'journal.sqlite');
  const intoFile = await backup();
  await restoreInto(file, intoFile.header.archive, intoFile.entries, intoFile.keys);
  const sqlite = new SqliteJournal(file, { clock: clock.read });
  held.set('restored into a file', await Archive.open(sqlite, clock.read, undefined, photos));

  const database = await sharedSchema();
  dropped.push(() => database.drop());
  const { header, entries, keys } = await backup();
  await restoreIntoDatabase(database.url, { identity: header.archive, entries, keys }, async () => undefined);
  const postgres = new PostgresJournal(database.url, { clock: clock.read });
  held.set('restored into a database', await Archive.open(postgres, clock.read, undefined, photos));
});

afterAll(async () => {
  vi.useRealTimers();
  for (const one of asked.values()) await one.close();
  for (const archive of held.values()) await archive.close();
  for (const drop of dropped) await drop();
  rmSync(folder, { recursive: true, force: true });
});

/** Something seen and concluded of a component, which is taken back. */
async function thereAndBack(archive: Archive, random: Random, step: number): Promise<void> {
  const state = archive.state('desk');
  const specimen = state.specimen(random.pick(state.specimenRows()).id);
  const component = random.pick([...(specimen?.identified.keys() ?? [])]);
  const before = specimen?.identified.get(component);
  if (!specimen || !before) return;
  const observation = `seen-${step}`;
  const seen = { id: observation, about: [component], kind: 'package', text: 'QFN-32 by its outline' };
  await archive.recordObservation(specimen.id, seen as never, BY, 'desk');
  const concluded = {
    component,
    state: 'proposed',
    basis: [observation],
    candidates: [{ category: random.pick(['Gyroscope', 'Charger', 'Microphone']), probability: 0.55 }],
  };
  await archive.setIdentification(specimen.id, concluded as never, BY, 'desk');
  for (const { query, variables } of cases.slice(step * 5, step * 5 + 5))
    await service('worked on', 'desk').graphql(query, variables);
  await archive.withdrawObservation(specimen.id, observation, BY, 'desk');
  await archive.setIdentification(specimen.id, before as never, BY, 'desk');
}

/** Files of a pack; the name of the state is sealed anew each time, and digests follow from it. */
async function packOf({ app }: Asked): Promise<readonly (readonly [string, string])[]> {
  const id = 'letter-one';
  const { headers } = await app.inject({ method: 'GET', url: `/publications/${id}/pack.zip` });
  const { rawPayload } = await app.inject({ method: 'GET', url: String(headers.location) });
  return [...(await filesInZip(rawPayload, id))].map(([path, content]) => [
    path,
    Buffer.from(content)
      .toString('latin1')
      .replaceAll(/[\w-]{64}/gu, 'name or digest'),
  ]);
}

const WAYS = ['worked on', 'begun from a snapshot', 'restored into a file', 'restored into a database'];

describe.each(AUDIENCES)('the %s is told the same', (audience) => {
  test.each(WAYS)('by an archive %s as by one folded anew', async (way) => {
    const anew = service('folded anew', audience);
    const other = service(way, audience);
    const differing: string[] = [];
    let told = 0;
    for (const { place, query, variables } of cases) {
      const wanted = await anew.graphql(query, variables);
      const differs = difference(await other.graphql(query, variables), wanted);
      if (differs) differing.push(`${place} ${JSON.stringify(variables)}: ${differs}`);
      if (!wanted.body.includes('"errors"')) told++;
    }
    for (const url of FILES) {
      const request = { method: 'GET', url };
      // Headers tell whether it was asked for before: then its length and tag are known from the first byte on.
      const [one, two] = [await other.request(request), await anew.request(request)];
      const differs = difference({ ...one, headers: '' }, { ...two, headers: '' });
      if (differs) differing.push(`${url}: ${differs}`);
    }
    if (JSON.stringify(await packOf(other)) !== JSON.stringify(await packOf(anew)))
      differing.push('the pack');
    expect(differing.slice(0, 5)).toEqual([]);
    expect(told).toBeGreaterThan(80);
  });

  // Ids carry the instant that they were asked under. What is cited, where files lie and what is tried out is of now alone.
  const isOfAState = ({ query, place }: Case) =>
    !/\b(?:difference|asOf|node|whatIf)\(|\b(?:history|citation|exports)\b/u.test(query) &&
    place !== 'by hand';

  test('of the instant of the last entry as of now', async () => {
    const anew = service('folded anew', audience);
    const differing: string[] = [];
    let told = 0;
    for (const one of cases.filter(isOfAState)) {
      const { query, variables } = at(NOW, one);
      const then = JSON.parse((await anew.graphql(query, variables)).body) as { data?: { asOf?: object } };
      const now = JSON.parse((await anew.graphql(one.query, one.variables)).body) as { data?: object };
      if (!now.data || !then.data) continue;
      told++;
      const bare = (value: unknown) => JSON.stringify(value)?.replaceAll(/@\d{4}-[\d-]+T[\d:.]+Z/gu, '');
      if (bare(then.data.asOf) !== bare(now.data))
        differing.push(
          `${one.place}: ${bare(then.data.asOf)?.slice(0, 300)} | ${bare(now.data)?.slice(0, 300)}`,
        );
    }
    expect(differing.slice(0, 5)).toEqual([]);
    expect(told).toBeGreaterThan(40);
  });
});
