import { createHash } from 'node:crypto';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { gunzipSync } from 'node:zlib';
import { describe, expect, test } from 'vitest';
import { Archive } from '../../src/archive.ts';
import { decisionById } from '../../src/decisions/decisions.ts';
import { correctionsIn } from '../../src/evidence/corrections.ts';
import { canonicalJson } from '../../src/journal/canonical.ts';
import { fromVersion1 } from '../../src/journal/payload/from-version-1.ts';
import { SqliteJournal } from '../../src/journal/sqlite/journal.ts';
import type { StoredEntry } from '../../src/journal/stored.ts';
import { verify } from '../../src/journal/verify.ts';
import { entriesOf } from './contract.ts';
import { inFolder } from './places.ts';

// A journal written by the program before payloads had versions: the demo archive, an observation, judgements of an
// identification and of two decisions, a withdrawal, and four corrections. Its head hash was noted then.
const FIXTURE = new URL('../fixtures/journal-version-1.sqlite.gz', import.meta.url);
const HEAD = '4081579184bfb21fd246beba7933caba220990445553e9e010571bb1b227cb63';
const ENTRIES = 434;

/** Opens a copy of the fixture. */
function opened<T>(work: (journal: SqliteJournal, file: string) => Promise<T>): Promise<T> {
  return inFolder(async (folder) => {
    const file = join(folder, 'journal.sqlite');
    writeFileSync(file, gunzipSync(readFileSync(FIXTURE)));
    const journal = new SqliteJournal(file);
    try {
      return await work(journal, file);
    } finally {
      await journal.close();
    }
  });
}

async function storedOf(journal: SqliteJournal): Promise<readonly StoredEntry[]> {
  const all: StoredEntry[] = [];
  for await (const entries of journal.readStored()) all.push(...entries);
  return all;
}

describe('a journal from before payloads had versions', () => {
  test('verifies completely, with the head noted when it was written', () =>
    opened(async (journal) => {
      expect(await verify(journal)).toEqual({ intact: true, entries: ENTRIES });
      expect(await journal.head()).toEqual({ sequence: ENTRIES, hash: HEAD });
    }));

  test('keeps every stored byte, with its SHA-256 calculated independently', () =>
    opened(async (journal, file) => {
      const db = new DatabaseSync(file);
      const rows = db.prepare('SELECT * FROM entries ORDER BY sequence').all() as unknown as StoredEntry[];
      db.close();
      expect(await storedOf(journal)).toEqual(rows.map((row) => ({ ...row })));
      expect(new Set(rows.map(({ version }) => version))).toEqual(new Set([1]));
      for (const { previousHash, hash, actor, id, instant, kind, payload, reason, sequence } of rows) {
        const covered = JSON.stringify({ actor, id, instant, kind, payload: 0, reason, sequence });
        const text = covered.replace('"payload":0', () => `"payload":${payload}`);
        expect(
          createHash('sha256')
            .update(previousHash + text)
            .digest('hex'),
          `entry ${sequence}`,
        ).toBe(hash);
      }
    }));

  test('has payloads in canonical form, byte for byte', () =>
    opened(async (journal) => {
      for (const { payload } of await storedOf(journal))
        expect(canonicalJson(JSON.parse(payload))).toBe(payload);
    }));

  test('gives the same answers as the program that wrote it', () =>
    opened(async (journal) => {
      const archive = await Archive.open(journal);
      const view = archive.state('desk');
      // Counted in the fixture with SQL: devices and specimens of its dossiers, records by collection.
      expect([...view.devices()]).toHaveLength(43);
      expect([...view.specimenRows()]).toHaveLength(44);
      expect(view.publications()).toHaveLength(9);
      expect(view.productLines()).toHaveLength(11);
      expect(view.device('tarn-loop-3')).toMatchObject({
        productLine: 'tarn-loop',
        mass: { value: 31, unit: 'g' },
      });
      expect(view.productLine('tarn-loop')?.maker).toBe('tarn');
      const claims = view.publications().flatMap((publication) => publication.claims);
      expect(claims.length).toBeGreaterThan(20);
      expect(claims.every(({ supportedBy }) => supportedBy.length > 0)).toBe(true);
      const corrections = correctionsIn(view);
      expect(
        corrections.map(({ id, publications }) => [id, publications.map((one) => one.publication)]),
      ).toEqual([
        ['correction-1', ['bench-letter-31']],
        ['correction-2', ['pulse-comes-to-the-wrist']],
        ['correction-3', ['bench-letter-31']],
        ['correction-4', []],
      ]);
      const judged = async (pattern: string) =>
        (await decisionById(view, `tarn-loop-3:${pattern}`))?.standing;
      expect(await judged('boards-linked-by-flex')).toBe('endorsed');
      // Its evidence is what it was, so the rejection holds.
      expect(await judged('programming-contacts-left')).toBe('rejected');
    }));

  test('leaves no word of the old form in what is read', () =>
    opened(async (journal) => {
      const names = new Set<string>();
      const walk = (value: unknown): void => {
        if (typeof value !== 'object' || value === null) return;
        for (const [name, member] of Object.entries(value)) {
          if (!Array.isArray(value)) names.add(name);
          walk(member);
        }
      };
      for (const { payload } of await entriesOf(journal)) walk(payload);
      expect(['family', 'families', 'restsOn', 'piece', 'pieces'].filter((name) => names.has(name))).toEqual(
        [],
      );
    }));

  test('is written on, and verifies again', () =>
    opened(async (journal, file) => {
      const archive = await Archive.open(journal);
      const observation = { id: 'later', about: ['U3'], kind: 'appearance', text: 'Matt lid.' } as const;
      await archive.recordObservation(
        'tarn-loop-3/a',
        observation as never,
        { actor: 'tester', reason: 'today' },
        'desk',
      );
      expect(await verify(journal)).toEqual({ intact: true, entries: ENTRIES + 1 });
      const stored = await storedOf(journal);
      expect(stored.at(-1)).toMatchObject({ version: 4, previousHash: HEAD });
      const again = new SqliteJournal(file);
      expect(await verify(again)).toEqual({ intact: true, entries: ENTRIES + 1 });
      expect((await entriesOf(again)).at(-1)?.payload).toEqual({ specimen: 'tarn-loop-3/a', observation });
      await again.close();
    }));
});

describe('the step from version 1', () => {
  test('renames what is stored of publications, their figures and corrections of a product line', () => {
    const supported = {
      id: 'c1',
      sentence: 'S.',
      restsOn: ['a-1'],
      figures: [{ share: {}, where: { family: 'a' } }],
    };
    const record = {
      id: 'p',
      title: 'T',
      claims: [supported, { id: 'c2', sentence: 'T.', restsOn: ['a-2'] }],
    };
    expect(fromVersion1('record-put', { collection: 'pieces', record })).toEqual({
      collection: 'publications',
      record: {
        id: 'p',
        title: 'T',
        claims: [
          {
            id: 'c1',
            sentence: 'S.',
            supportedBy: ['a-1'],
            figures: [{ share: {}, where: { productLine: 'a' } }],
          },
          { id: 'c2', sentence: 'T.', supportedBy: ['a-2'] },
        ],
      },
    });
    const amendment = { value: { of: 'a-1', field: 'family', is: 'b' } };
    expect(
      fromVersion1('correction-made', { id: 'correction-1', amendment, pieces: [{ piece: 'p' }] }),
    ).toEqual({
      id: 'correction-1',
      amendment: { value: { of: 'a-1', field: 'productLine', is: 'b' } },
      publications: [{ publication: 'p' }],
    });
  });

  test('leaves everything else as it is', () => {
    const part = { collection: 'parts', record: { number: 'X', maker: 'm', note: 'family of pieces' } };
    expect(fromVersion1('record-put', part)).toBe(part);
    const dossier = { device: 'a-1', observations: [{ id: 'o1', text: 'restsOn' }] };
    expect(fromVersion1('dossier-put', dossier)).toBe(dossier);
    const judged = { device: 'a-1', pattern: 'p', verdict: 'endorsed', evidence: 'family' };
    expect(fromVersion1('decision-judged', judged)).toBe(judged);
  });
});
