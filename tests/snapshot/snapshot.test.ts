import { spawnSync } from 'node:child_process';
import {
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test, vi } from 'vitest';
import type { SnapshotPlace } from '../../src/archive/opening.ts';
import { Archive } from '../../src/archive.ts';
import { impactOf } from '../../src/evidence/impact-of.ts';
import { STANDARD_CONFUSION, withSlips } from '../../src/identification/confusion.ts';
import { identifierOf, learnTogether, setConfusion } from '../../src/identification/questions.ts';
import type { Journal } from '../../src/journal/journal.ts';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import { TERMS } from '../../src/model/taxonomy.ts';
import { findPattern } from '../../src/patterns/find.ts';
import { devicePresence, presenceKept, presenceOf, readTogether } from '../../src/presence/presence.ts';
import { modelDigest } from '../../src/snapshot/model-digest.ts';
import { readEarly } from '../../src/snapshot/read-early.ts';
import { restoreSnapshot } from '../../src/snapshot/snapshot.ts';
import { type MadeOf, Sections, SnapshotFile, writeSnapshot } from '../../src/snapshot/snapshot-file.ts';
import type { State } from '../../src/state/state.ts';
import { trend } from '../../src/trends/trends.ts';
import { seededRandom } from '../bench/generate.ts';
import { BY, generatedFiles } from '../presence/archives.ts';
import { testSeed } from '../random.ts';
import { documents } from '../seed/seed.ts';
import { contentOf } from '../state/content-of.ts';

// A state from a snapshot and the entries behind it is held to the same journal folded from its first entry.

vi.setConfig({ testTimeout: 240_000 });

const folder = mkdtempSync(join(tmpdir(), 'caseback-test-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const AUDIENCES = ['reader', 'desk'] as const;
const NOW = () => new Date('2026-11-30T12:00:00Z');
let files = 0;

/** Where a snapshot of a test's own is. */
function place(more: Partial<SnapshotPlace> = {}): SnapshotPlace {
  const onUnusable = (why: string) => {
    throw new Error(why);
  };
  return { file: join(folder, `snapshot-${++files}`), ahead: [], onUnusable, ...more };
}

/** A journal up to an entry; `readFrom` notes from where it is read. */
function upTo(journal: Journal, bounds: { readonly last: number }, readFrom: number[] = []): Journal {
  return {
    append: () => Promise.reject(new Error('not here')),
    read(options = {}) {
      readFrom.push(options.after ?? 0);
      return journal.read({ ...options, upTo: bounds.last });
    },
    readStored: (options) => journal.readStored({ ...options, upTo: bounds.last }),
    head: () => journal.head(),
    identity: () => journal.identity(),
    secret: () => journal.secret(),
    appended: (key) => journal.appended(key),
    keys: () => journal.keys(),
    watch: () => () => undefined,
    close: async () => undefined,
  };
}

/** A random archive: some of it hidden, opened twice, not named, and then worked on. */
async function randomJournal(seed: number): Promise<MemoryJournal> {
  const random = seededRandom(seed);
  const one = <T>(items: readonly T[]): T => items[Math.floor(random() * items.length)] as T;
  const journal = new MemoryJournal({ clock: NOW });
  const archive = await Archive.open(journal, NOW);
  const hidings = [
    { visibility: 'draft' },
    { visibility: 'embargoed', embargoUntil: '2026-10-01T00:00:00Z' },
    { visibility: 'embargoed', embargoUntil: '2027-10-01T00:00:00Z' },
  ] as const;
  const given = generatedFiles(seed, 14);
  const dossiers = given.flatMap((file) => (file.kind === 'dossier' ? [file.dossier] : []));
  // What is published may not name what is hidden.
  const before = new Set(
    dossiers.flatMap(({ device }) => (typeof device === 'string' ? [] : device.succeeds)),
  );
  const opened = new Set(dossiers.flatMap(({ device }) => (typeof device === 'string' ? [device] : [])));
  const generated = given.map((file) => {
    if (file.kind !== 'dossier' || random() < 0.4) return file;
    const { device } = file.dossier;
    const isFree =
      typeof device === 'string' ? !before.has(device) : !before.has(device.id) && !opened.has(device.id);
    return isFree ? { ...file, dossier: { ...file.dossier, ...one(hidings) } } : file;
  });
  await archive.importDocuments(generated, BY);
  const patterns = documents.filter(
    (one_) => one_.kind === 'catalogue' && one_.catalogue.patterns.length > 0,
  );
  await archive.importDocuments(patterns.slice(0, 6), BY);
  for (let step = 0; step < 24; step++) {
    const row = one(archive.state('desk').specimenRows());
    const specimen = archive.state('desk').specimen(row.id);
    const component = one(specimen?.dossier.components ?? []);
    const observations = specimen?.dossier.observations ?? [];
    const kind = Math.floor(random() * 5);
    if (kind === 0)
      await archive.recordObservation(
        row.id,
        { id: `later-${step}`, about: [component.id], kind: 'appearance', text: `Glossy ${step}.` } as never,
        BY,
        'desk',
      );
    else if (kind === 1)
      await archive.setIdentification(
        row.id,
        {
          component: component.id,
          candidates: [
            {
              part: one(
                archive
                  .state('desk')
                  .parts()
                  .map(({ maker, number }) => `${maker}/${number}`),
              ),
              probability: one([0.3, 0.7, 0.99]),
            },
          ],
          state: 'favoured',
          basis: [],
        } as never,
        BY,
        'desk',
      );
    else if (kind === 2 && observations.length > 0)
      await archive.withdrawObservation(row.id, one(observations).id, BY, 'desk').catch(() => undefined);
    else if (kind === 3)
      await archive
        .judgeIdentification(
          row.id,
          {
            component: component.id,
            part: one(
              archive
                .state('desk')
                .parts()
                .map(({ maker, number }) => `${maker}/${number}`),
            ),
            weight: 5,
            id: `j-${step}`,
          } as never,
          BY,
          'desk',
        )
        .catch(() => undefined);
    else await archive.importDocuments([one(generated.filter((file) => file.kind === 'dossier'))], BY);
  }
  return journal;
}

/** Makes presence, the pattern index and what specimens teach, and writes the snapshot. */
async function saved(journal: Journal, where: SnapshotPlace, withIndexes = true): Promise<Archive> {
  const archive = await Archive.open(journal, NOW, where);
  if (withIndexes) {
    for (const audience of AUDIENCES) {
      readTogether(archive.state(audience));
      await learnTogether(archive.state(audience));
      await presenceOf(archive.state(audience));
      await identifierOf(archive.state(audience));
    }
  }
  expect(await archive.saveSnapshot(withIndexes ? AUDIENCES : [])).toBe(true);
  return archive;
}

const TEXTS = [
  'MATCH (a:Accelerometer)~[:CONNECTS]~(m:Microcontroller) RETURN a, m',
  'MATCH (a:Sensor) RETURN a',
  'MATCH (a:Battery) RETURN a',
  'MATCH (m:Microcontroller) WHERE NOT EXISTS { MATCH (m)~[:CONNECTS]~(:Connector) } RETURN m',
  'MATCH (a)-[:IDENTIFIED_AS]->(p)-[:MADE_BY]->(k:Maker) RETURN k',
];
/** More than there are in any specimen. */
const MATCHES = 1_000;
const WORDS = ['accelerometer', 'glossy', 'band', 'micro', 'battery charger', 'u1'];

/** Everything that a state says, asked through each of its surfaces. */
async function answers(state: State): Promise<Record<string, unknown>> {
  const rows = state.specimenRows();
  const patterns: unknown[] = [];
  for (const text of [...TEXTS, ...state.patterns().map(({ text: own }) => own)])
    patterns.push(await findPattern(state, { text, matchesEach: MATCHES }));
  const presence = state
    .devices()
    .map(({ id }) => [
      id,
      TERMS.filter((_, at) => at % 3 === 0).map((term) => devicePresence(state, id, term)),
    ]);
  const identifier = await identifierOf(state);
  const learnt = ['nobody', ...state.devices().map(({ id }) => id)].map((id) => {
    const { habits, confusion, ...lessons } = identifier.lessonsFor(id);
    const counts = [habits.total('neighbour'), habits.agreement('package'), habits.values('reading')];
    return [id, lessons, counts, confusion.read, confusion.slips];
  });
  return {
    learnt,
    facts: contentOf(state.facts, state.shared.names),
    sequence: [state.sequence, state.instant],
    search: WORDS.map((word) => [...state.search(word)]),
    specimens: rows.map((row) => {
      const { labels, spreads } = state.peek(row);
      return [row.id, [...labels].map(([id, weights]) => [id, [...weights]]), [...spreads]];
    }),
    holders: state
      .parts()
      .map(({ maker, number }) => state.holdersOf(`${maker}/${number}`).map(({ id }) => id)),
    patterns,
    presence,
    trend: await trend(state, { of: { share: { category: 'Accelerometer' } } } as never).catch(String),
    impact: await Promise.all(
      state
        .devices()
        .slice(0, 3)
        .map(({ id }) => Promise.resolve(impactOf(state, id))),
    ).catch(String),
  };
}

describe('a state from a snapshot and the entries behind it', () => {
  test.each([1, 2])('is that of the whole journal, for everyone (random journal %i)', async (at) => {
    const random = seededRandom(testSeed() + at);
    const journal = await randomJournal(testSeed() + at);
    const { sequence: last } = await journal.head();
    const whole = await Archive.open(journal, NOW);
    const expected = {
      desk: await answers(whole.state('desk')),
      reader: await answers(whole.state('reader')),
    };
    // The last entry; somewhere before it; and before, without indexes.
    const cuts = [
      last,
      Math.floor(last * (0.93 + 0.06 * random())),
      Math.floor(last * (0.8 + 0.2 * random())),
    ];
    for (const [turn, cut] of cuts.entries()) {
      const where = place({ ahead: turn !== 1 ? AUDIENCES : [] });
      const bounds = { last: cut };
      const before = await saved(upTo(journal, bounds), where, turn !== 2);
      const readFrom: number[] = [];
      // Once it is begun before the archive is opened.
      const begun = turn === 0 ? readEarly(where.file) : undefined;
      const restored = await Archive.open(upTo(journal, { last }, readFrom), NOW, { ...where, begun });
      // Without the snapshot it would read from the first entry on.
      expect(readFrom[0]).toBe(cut);
      bounds.last = last;
      for (const audience of ['reader', 'desk'] as const) {
        const got = await answers(restored.state(audience));
        expect(got, `${audience}, from entry ${cut}`).toEqual(expected[audience]);
      }
      await before.close();
      await restored.close();
    }
  });

  test('can be saved again, and again is the same', async () => {
    const journal = await randomJournal(testSeed());
    const { sequence: last } = await journal.head();
    const expected = await answers((await Archive.open(journal, NOW)).state('desk'));
    const where = place();
    await saved(upTo(journal, { last: last - 7 }), where, false);
    for (let round = 0; round < 2; round++) {
      const restored = await Archive.open(upTo(journal, { last }), NOW, where);
      expect(await answers(restored.state('desk'))).toEqual(expected);
      expect(await restored.saveSnapshot(AUDIENCES)).toBe(true);
    }
    const { header } = new SnapshotFile(where.file);
    expect(header.sequence).toBe(last);
  });

  test('does not read what is in it again: presence and patterns are there at once', async () => {
    const journal = await randomJournal(testSeed());
    const where = place({ ahead: AUDIENCES });
    await saved(journal, where);
    const restored = await Archive.open(upTo(journal, { last: (await journal.head()).sequence }), NOW, where);
    const state = restored.state('desk');
    const peek = vi.spyOn(Object.getPrototypeOf(state), 'peek');
    const { found } = await findPattern(state, { text: TEXTS[0] as string }).then((answer) => ({
      found: answer,
    }));
    expect(JSON.stringify(found).length).toBeGreaterThan(100);
    expect(state.specimenRows().every((row) => presenceKept(state, row))).toBe(true);
    expect(peek).not.toHaveBeenCalled();
    peek.mockRestore();
  });
});

describe('what specimens teach', () => {
  /** How many specimens a state's identifier reads. */
  async function readFor(state: State): Promise<number> {
    return (await identifierOf(state)).readings;
  }

  test('is read of those alone that changed since the snapshot', async () => {
    const journal = await randomJournal(testSeed());
    const { sequence: last } = await journal.head();
    for (const cut of [last, last - 5]) {
      const where = place({ ahead: AUDIENCES });
      const before = await saved(upTo(journal, { last: cut }), where);
      const rows = new Map(
        before
          .state('desk')
          .specimenRows()
          .map((row) => [row.id, row.version]),
      );
      const restored = await Archive.open(upTo(journal, { last }), NOW, where);
      const changed = restored
        .state('desk')
        .specimenRows()
        .filter(({ id, version }) => rows.get(id) !== version);
      expect(changed.length).toBeLessThan(rows.size);
      expect(await readFor(restored.state('desk'))).toBe(changed.length);
      await before.close();
      await restored.close();
    }
  });

  test('is in a snapshot without indexes once somebody asked, and in none where nobody did', async () => {
    const journal = await randomJournal(testSeed());
    const where = place();
    const { length } = (await saved(journal, where, false)).state('desk').specimenRows();
    expect(length).toBeGreaterThan(5);
    const asked = await Archive.open(journal, NOW, where);
    expect(await readFor(asked.state('desk'))).toBe(length);
    expect(await asked.saveSnapshot([])).toBe(true);
    const spared = await Archive.open(journal, NOW, where);
    expect(await readFor(spared.state('desk'))).toBe(0);
  });

  test('is not taken from eyes that confuse other characters', async () => {
    const journal = await randomJournal(testSeed());
    const where = place();
    const { length } = (await saved(journal, where)).state('desk').specimenRows();
    const restored = await Archive.open(journal, NOW, where);
    setConfusion(
      restored.state('desk'),
      withSlips(STANDARD_CONFUSION, { ...STANDARD_CONFUSION.slips, doubled: 0.02 }),
    );
    expect(await readFor(restored.state('desk'))).toBe(length);
  });

  test('is read as other indexes are made, with one unpacking for all', async () => {
    const archive = await Archive.open(await randomJournal(testSeed()), NOW);
    const state = archive.state('desk');
    readTogether(state);
    await learnTogether(state);
    await presenceOf(state);
    const open = vi.spyOn(Object.getPrototypeOf(state), 'specimen');
    expect(await readFor(state)).toBe(state.specimenRows().length);
    expect(open).not.toHaveBeenCalled();
    open.mockRestore();
  });
});

describe('what a killed process left of a snapshot', () => {
  /** Id of a process that has ended. */
  const gone = spawnSync(process.execPath, ['-e', '']).pid;
  const alive = process.ppid;

  test('is removed before the next is written, and nothing else', async () => {
    const where = place();
    const own = join(folder, 'with-leftovers');
    mkdirSync(own);
    const file = join(own, 'snapshot');
    const leave = (name: string, minutes = 0) => {
      const path = join(own, name);
      const inside = name.startsWith('.') ? join(path, 'search.sqlite') : undefined;
      if (inside) mkdirSync(path);
      writeFileSync(inside ?? path, 'half');
      const touched = new Date(Date.now() - minutes * 60_000);
      for (const one of inside ? [inside, path] : [path]) utimesSync(one, touched, touched);
    };
    const kept = [
      `snapshot.part-${alive}`,
      `.snapshot-${alive}-aB3_x9`,
      `snapshot.part-${gone}.txt`,
      'snapshot.part-',
      `other.part-${gone}`,
      '.snapshot-notes',
      `journal.sqlite`,
    ];
    for (const name of kept) leave(name, 9);
    for (const name of [`snapshot.part-${gone}`, `.snapshot-${gone}-aB3_x9`]) leave(name);
    // Some process has the id of one that was killed.
    for (const name of [`.snapshot-${process.pid}-aB3_x9`, `.snapshot-${alive}-Zz0000`]) leave(name, 11);
    const archive = await saved(await randomJournal(testSeed()), { ...where, file }, false);
    await archive.close();
    expect(readdirSync(own).sort()).toEqual(['snapshot', ...kept].sort());
  });
});

describe('a snapshot is not used', () => {
  /** A journal, a snapshot of it, and what each part of it is. */
  async function made() {
    const journal = await randomJournal(testSeed());
    const where = place();
    await saved(journal, where);
    return { journal, file: where.file, bytes: readFileSync(where.file) };
  }

  test('when a byte of it is another, or it is cut off, wherever that is', async () => {
    const { journal, bytes } = await made();
    const random = seededRandom(testSeed());
    const altered = join(folder, 'altered');
    for (let round = 0; round < 200; round++) {
      const at = Math.floor(random() * bytes.length);
      const other = Buffer.from(bytes);
      other[at] = (other[at] as number) ^ (1 + Math.floor(random() * 255));
      writeFileSync(altered, round % 5 === 0 ? bytes.subarray(0, at) : other);
      expect(() => {
        const file = new SnapshotFile(altered);
        try {
          for (const [name] of file.header.sections) file.bytes(name);
        } finally {
          file.close();
        }
      }, `byte ${at} of ${bytes.length}`).toThrow();
      if (round % 20 > 0) continue;
      const whys: string[] = [];
      const onUnusable = (why: string) => whys.push(why);
      expect(
        await restoreSnapshot(altered, journal, { ahead: AUDIENCES, now: NOW(), onUnusable }),
      ).toBeUndefined();
      expect(whys).toHaveLength(1);
      const early = { ahead: [], begun: readEarly(altered), now: NOW(), onUnusable };
      expect(await restoreSnapshot(altered, journal, early)).toBeUndefined();
      expect(whys).toHaveLength(2);
      expect(whys[1]).toBe(whys[0]);
    }
  });

  test('in the one part that is damaged, and the rest is right, where parts are read when they are wanted', async () => {
    const { journal, bytes } = await made();
    const expected = await answers((await Archive.open(journal, NOW)).state('desk'));
    const altered = join(folder, 'altered-part');
    writeFileSync(altered, bytes);
    const file = new SnapshotFile(altered);
    let at = Buffer.from('caseback snapshot\n').length;
    const places = file.header.sections.map(([name, length]) => {
      at += length;
      return { name, from: at - length, length };
    });
    file.close();
    for (const prefix of [
      'desk.patterns.graph.adjRow',
      'desk.presence.counts',
      'desk.lessons.places',
      'search',
      'links',
      'devices',
    ]) {
      const { from, length } = places.find(({ name }) => name === prefix) as (typeof places)[number];
      const other = Buffer.from(bytes);
      other[from + (length >> 1)] = (other[from + (length >> 1)] as number) ^ 1;
      writeFileSync(altered, other);
      const whys: string[] = [];
      const where = { file: altered, ahead: [], onUnusable: (why: string) => whys.push(why) };
      const archive = await Archive.open(
        upTo(journal, { last: (await journal.head()).sequence }),
        NOW,
        where,
      );
      expect(await answers(archive.state('desk')), prefix).toEqual(expected);
      expect(whys.join()).toContain(prefix);
      await archive.close();
    }
  });

  test('when it is of another program, another archive, another history or a longer one', async () => {
    const { journal, file } = await made();
    const { header } = new SnapshotFile(file);
    const { format: _, sections, ...madeOf } = header;
    expect(madeOf.model).toBe(modelDigest());
    const why = async (other: Partial<MadeOf>): Promise<string> => {
      const reading = new SnapshotFile(file);
      const writing = new Sections(async () => undefined);
      for (const [name] of sections) writing.bytes(name, reading.bytes(name));
      reading.close();
      const changed = join(folder, 'changed');
      await writeSnapshot(changed, { ...madeOf, ...other }, writing, () => true);
      const whys: string[] = [];
      await restoreSnapshot(changed, journal, {
        ahead: [],
        now: NOW(),
        onUnusable: (one) => whys.push(one),
      });
      return whys.join();
    };
    expect(await why({})).toBe('');
    expect(await why({ model: modelDigest().replace(/^./u, 'x') })).toContain(
      'another version of the program',
    );
    expect(await why({ archive: '7d444840-9dc0-11d1-b245-5ffdce74fad2' })).toContain('another archive');
    expect(await why({ hash: '0'.repeat(64) })).toContain('another entry');
    expect(await why({ sequence: header.sequence + 1 })).toContain('fewer entries');
  });

  test('when something was written meanwhile: then the one before stays, and nothing is left of the new one', async () => {
    const { file } = await made();
    const before = readFileSync(file);
    const { header } = new SnapshotFile(file);
    const writing = new Sections(async () => undefined);
    writing.json('meta', {});
    expect(await writeSnapshot(file, header, writing, () => false)).toBe(false);
    expect(readFileSync(file)).toEqual(before);
    expect(readdirSync(folder).filter((name) => name.includes('.part') || name.startsWith('.'))).toEqual([]);
  });
});
