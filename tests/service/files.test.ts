import { once } from 'node:events';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Worker } from 'node:worker_threads';
import fc from 'fast-check';
import { afterEach, describe, expect, test, vi } from 'vitest';
import { Archive } from '../../src/archive.ts';
import type { Path, ReadDocument } from '../../src/dossier/document/document.ts';
import { readDocument } from '../../src/dossier/read.ts';
import { gatherRead } from '../../src/dossier/read-files.ts';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import { placed, placesOf } from '../../src/service/files/places.ts';
import { readApart, readDocumentsApart, readTradeFilesApart } from '../../src/service/files/read-apart.ts';
import { read } from '../../src/service/files/reading.ts';
import { Look } from '../../src/service/server/request-body.ts';
import { readTradeFile } from '../../src/trade-files/read.ts';
import { changed, GOOD_CATALOGUE, GOOD_DOSSIER } from '../dossier/files.ts';
import { turnsOf } from '../taking-turns.ts';
import { CATALOGUE, DOSSIERS } from './invented.ts';
import { archiveOf, BY, documentOf, type Served, serve } from './serving.ts';

const open: Served[] = [];
afterEach(async () => {
  vi.restoreAllMocks();
  for (const one of open.splice(0)) await one.close();
});
async function desk(...given: Parameters<typeof serve>): Promise<Served> {
  const served = await serve({ audience: 'desk', ...given[0] }, given[1]);
  open.push(served);
  return served;
}

const never = new AbortController().signal;
const IMPORT =
  'mutation ($files: [FileInput!]!) { importDossier(input: { files: $files, reason: "opened" }) { entries } }';
const ARRAY = changed(
  GOOD_DOSSIER,
  'connections:\n',
  '  - { id: R1..R9, board: main, at: { x: 1, y: 1 }, pitch: { x: 2, y: 0 }, package: "0402" }\n  - { id: C7, board: main }\nconnections:\n',
);
/** A comment that makes a file longer than is read at once. */
const LONG = `# ${'x'.repeat(8_000)}\n`;

/** All paths of a value, and beside each one that is not there. */
function* pathsIn(value: unknown, path: Path = []): Generator<Path> {
  yield path;
  yield [...path, 'nothing', 3];
  if (typeof value !== 'object' || value === null) return;
  for (const [key, inner] of Object.entries(value))
    yield* pathsIn(inner, [...path, Array.isArray(value) ? Number(key) : key]);
}
const contentOf = (document: ReadDocument) =>
  document.kind === 'dossier' ? document.dossier : document.catalogue;
/** What a document says of every path: the reader's own answer is held against what another thread sends. */
const toldBy = (document: ReadDocument) =>
  [...pathsIn(contentOf(document))].map((path) => [
    path,
    document.locate(path),
    document.written?.(path) ?? path,
  ]);

describe('what another thread read', () => {
  const seeds = join(import.meta.dirname, '../../seed-data/dossiers');
  const files = readdirSync(seeds).slice(0, 2);
  test.each([
    ['a dossier', GOOD_DOSSIER],
    ['components in a row', ARRAY],
    ['a catalogue', GOOD_CATALOGUE],
    ['JSON', JSON.stringify({ ...DOSSIERS[0] }, undefined, 1)],
    ...files.map((name) => [name, readFileSync(join(seeds, name), 'utf8')]),
  ])('says of every place what the reader says: %s', (_, text) => {
    const { document } = read({ name: 'd', text });
    if (!document) throw new Error('it has problems');
    const other = { ...document, written: undefined, ...placed(structuredClone(placesOf(document))) };
    expect(toldBy(other)).toEqual(toldBy(document));
  });

  test('is the same as read here, sound or not', async () => {
    const broken = changed(ARRAY, 'package: "0402"', 'colour: 7');
    const texts = [
      ARRAY,
      broken,
      'caseback: [',
      GOOD_CATALOGUE,
      changed(GOOD_DOSSIER, 'basis: [seen-1]', 'basis: [x]'),
    ];
    const sent = texts.map((text, i) => ({ name: `${i}.yaml`, text: LONG + text }));
    const here = gatherRead(sent.map(({ name, text }) => readDocument(Buffer.from(text), name)));
    const there = await readDocumentsApart(sent, never);
    expect(there.problems).toEqual(here.problems);
    expect(there.problems.length).toBeGreaterThan(1);
    expect([there.files, there.isBlind]).toEqual([here.files, here.isBlind]);
    expect(there.documents.map(contentOf)).toEqual(here.documents.map(contentOf));
    expect(there.documents.map(toldBy)).toEqual(here.documents.map(toldBy));
    expect(there.parts.map(({ document: _, ...part }) => part)).toEqual(
      here.parts.map(({ document: _, ...part }) => part),
    );
    expect(there.parts.map(({ document }) => toldBy(document))).toEqual(
      here.parts.map(({ document }) => toldBy(document)),
    );
    expect(here.parts.length).toBe(1);
  });

  test('trade files, too, and columns that are named', async () => {
    const text = `Odd,Value\n${Array.from({ length: 2_000 }, (_, i) => `R${i},4k7`).join('\n')}\n`;
    const reading = { columns: new Map([['Odd', 'designator']]) };
    const sent = [
      { name: 'bom.csv', text, reading },
      { name: 'x', text: 'nothing', reading },
    ];
    const found = await readTradeFilesApart(sent, never);
    expect(found).toEqual([readTradeFile(Buffer.from(text), 'bom.csv', reading), undefined]);
    expect(found[0]?.boards?.[0].components.length).toBe(2_000);
  });
});

describe('reading', () => {
  // Brackets in brackets: the slowest text by length that is known.
  const slow = [{ name: 'a.yaml', text: '['.repeat(60_000) }];

  test('ends when its asker goes, and the next is read', async () => {
    const gone = new AbortController();
    const reading = readApart({ as: 'documents', files: slow }, gone.signal);
    gone.abort(new Error('gone'));
    await expect(reading).rejects.toThrow('gone');
    const [{ document }] = (
      await readDocumentsApart([{ name: 'a', text: LONG + GOOD_DOSSIER }], never)
    ).documents.map((one) => ({ document: one }));
    expect(document.kind).toBe('dossier');
  });

  test('leaves no thread with a grown heap behind', async () => {
    const started: Worker[] = [];
    const note = (worker: Worker) => started.push(worker);
    process.on('worker', note);
    try {
      await Promise.allSettled([1, 2].map(() => readApart({ as: 'documents', files: slow }, never, 1)));
      // None waits for work now.
      const startedFor = async (text: string) => {
        const before = started.length;
        await readDocumentsApart([{ name: 'a.yaml', text }], never);
        return started.slice(before);
      };
      const small = LONG + GOOD_DOSSIER;
      const [first] = await startedFor(small);
      const ended = once(first as Worker, 'exit');
      // The same thread reads the next, and is ended behind a large one, so that another is started then.
      expect(await startedFor(small)).toEqual([]);
      expect(await startedFor(`# ${'x'.repeat(500_000)}\n${GOOD_DOSSIER}`)).toEqual([]);
      expect((await startedFor(small)).length).toBe(1);
      await ended;
    } finally {
      process.off('worker', note);
    }
  });

  test('that takes too long is refused with the way that remains', async () => {
    await expect(readApart({ as: 'documents', files: slow }, never, 1)).rejects.toMatchObject({
      code: 'OUT_OF_BUDGET',
      message: expect.stringContaining('caseback import'),
    });
  });

  test('holds nobody up: what was asked after an import is answered before it', async () => {
    const { answer } = await desk();
    const order: string[] = [];
    const asked = (name: string, answered: Promise<unknown>) => answered.then(() => order.push(name));
    await Promise.all([
      asked('import', answer(IMPORT, { files: slow })),
      asked('light', answer('{ __typename }')),
    ]);
    expect(order).toEqual(['light', 'import']);
  });
});

describe('an import', () => {
  const catalogue = documentOf({ ...CATALOGUE, publications: [] });
  const documents = [catalogue, ...DOSSIERS.map((one) => documentOf(one))];

  test('is planned and folded in with turns of others, who see all of it or nothing', async () => {
    const archive = await archiveOf([]);
    const seen = new Set<string>();
    let isOver = false;
    const look = () => {
      const state = archive.state('desk');
      seen.add(`${[...state.devices()].length} ${archive.version}`);
      if (!isOver) setImmediate(look);
    };
    const { steps, value } = await turnsOf(async () => {
      look();
      return archive.importDocuments(documents, BY);
    });
    isOver = true;
    look();
    expect([...seen]).toEqual(['0 0', `${[...archive.state('desk').devices()].length} ${value.entries}`]);
    // A turn for each rule and dossier, and for each entry.
    expect(steps.length).toBeGreaterThan(20 * DOSSIERS.length + value.entries);
    await archive.close();
  });

  test('that another process made is folded in so, too; readers see what came before it meanwhile', async () => {
    const journal = new MemoryJournal();
    const [writer, follower] = [await Archive.open(journal), await Archive.open(journal)];
    const countOf = () => [...follower.state('reader').devices()].length;
    await writer.importDocuments(documents.slice(0, 2), BY);
    await follower.follow();
    const first = countOf();
    await writer.importDocuments(documents.slice(2, 3), BY);
    // Folded in by one follower, and not looked at yet.
    await follower.follow();
    await writer.importDocuments(documents.slice(3), BY);
    const seen = new Set<number>();
    let isOver = false;
    const look = () => {
      seen.add(countOf());
      if (!isOver) setImmediate(look);
    };
    await turnsOf(async () => {
      setImmediate(look);
      await follower.follow();
    });
    isOver = true;
    look();
    expect(countOf()).toBe([...writer.state('reader').devices()].length);
    expect([...seen]).toEqual([first + 1, countOf()]);
    await follower.close();
  });

  test('of an asker who goes before it is written writes nothing', async () => {
    const archive = await archiveOf([]);
    const gone = new AbortController();
    const { value } = await turnsOf(async () => {
      const importing = archive.importDocuments(documents, BY, { signal: gone.signal });
      setImmediate(() => setImmediate(() => gone.abort(new Error('gone'))));
      return importing.then(
        () => 'written',
        (error: Error) => error.message,
      );
    });
    expect([value, archive.version]).toEqual(['gone', 0]);
    expect((await archive.importDocuments(documents, BY)).dossiers).toBe(DOSSIERS.length);
    await archive.close();
  });

  test('of more than a service takes at once is refused with the way that remains', async () => {
    const { answer, archive } = await desk({ limits: { filesBytes: 9_000 } });
    const files = (length: number) => ({ files: [{ name: 'a', text: '#'.repeat(length) }] });
    const { errors } = await answer(IMPORT, files(9_001));
    expect(errors?.[0].extensions.code).toBe('TOO_LARGE');
    expect(errors?.[0].message).toBe(
      'The files have 9,001 bytes; a service takes at most 9,000 at once. Send fewer at once, or import them on its machine: caseback import FILE',
    );
    expect((await answer(IMPORT, files(9_000))).errors?.[0].extensions.code).toBe('BAD_FILE');
    expect(
      (await answer(IMPORT, { files: [{ name: 'a', text: 'é'.repeat(4_501) }] })).errors?.[0].message,
    ).toContain('9,002 bytes');
    expect(archive.version).toBe((await archiveOf()).version);
  });

  test('of trade files with more than a service takes at once, likewise', async () => {
    const { answer } = await desk({ limits: { designItems: 10 } });
    const bom = (rows: number) =>
      `Ref,Value\n${Array.from({ length: rows }, (_, i) => `R${i + 50},4k7\n`).join('')}`;
    const importing = (rows: number) =>
      answer('mutation ($input: ImportTradeFilesInput!) { importTradeFiles(input: $input) { entries } }', {
        input: {
          device: 'tarn-sennit-1',
          specimen: 'z',
          opened: '2024-03',
          reason: 'x',
          dryRun: true,
          files: [{ name: 'b.csv', text: bom(rows) }],
        },
      });
    expect((await importing(11)).errors?.[0]).toMatchObject({
      message: expect.stringMatching(
        /^The files have 11 components, pins and nets; .* 10 .*caseback import/u,
      ),
      extensions: { code: 'TOO_LARGE' },
    });
    expect((await importing(10)).data.importTradeFiles.entries).toBe(1);
  });
});

describe('a body that comes in pieces', () => {
  /** Fields and items as `request-body.ts` counts them, of what JSON.parse makes of a text, and levels. */
  const counted = (value: unknown): { values: number; depth: number } => {
    if (typeof value !== 'object' || value === null) return { values: 0, depth: 0 };
    const inner = Object.values(value);
    const below = inner.map(counted);
    const separators = Math.max(0, inner.length - 1) + (Array.isArray(value) ? 0 : inner.length);
    return {
      values: below.reduce((sum, one) => sum + one.values, 1 + separators),
      depth: 1 + Math.max(0, ...below.map(({ depth }) => depth)),
    };
  };

  test('is looked at as if it came whole, however strings and what is escaped in them are cut', () => {
    const text = fc
      .array(fc.constantFrom('"', '\\', '[', '{', ',', ':', '}', 'é'), { maxLength: 6 })
      .map((all) => all.join(''));
    const { value } = fc.letrec((tie) => ({
      value: fc.oneof(
        { maxDepth: 5 },
        text,
        fc.array(tie('value'), { maxLength: 4 }),
        fc.dictionary(text, tie('value'), { maxKeys: 4 }),
      ),
    }));
    fc.assert(
      fc.property(value, fc.array(fc.integer({ min: 1, max: 5 }), { minLength: 1 }), (content, sizes) => {
        const body = Buffer.from(JSON.stringify([content]));
        const look = new Look();
        for (let at = 0, i = 0; at < body.length; i++) {
          const to = at + (sizes[i % sizes.length] as number);
          expect(look.at(body.subarray(at, to))).toBeUndefined();
          at = to;
        }
        const { values, depth } = counted([content]);
        expect([look.values, look.deepest]).toEqual([values, depth]);
      }),
      { numRuns: 500 },
    );
  });
});
