import type { ChildProcess } from 'node:child_process';
import { cpSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { SqliteJournal } from '../../src/journal/sqlite/journal.ts';
import { verify } from '../../src/journal/verify.ts';
import { seededRandom } from '../bench/generate.ts';
import { writeArchive } from '../bench/write-archive.ts';
import { caseback, ended, Folder, headOf, start } from './running.ts';

// An import is killed (SIGKILL, which no program can catch) at twenty seeded points: ten spread over its whole
// length, ten over the stretch from the first byte that reaches the disk to the end of the process. Afterwards the
// archive holds all of the import or none of it.

const DEVICES = 24;
/** Each device is a record and a dossier. */
const ENTRIES = 2 * DEVICES;
const folder = new Folder();
const at = (name: string) => join(folder.path, name);
const random = seededRandom(20260301);
let none: Awaited<ReturnType<typeof headOf>>;
/** Milliseconds of a whole import, and of the part of it that writes. */
let length: number;
let writing: number;

function startImport(data: string): ChildProcess {
  return start(['import', 'files/dossiers', '--data', data], folder.path);
}

/** Resolves when the write-ahead log of a journal has grown, or the process has ended. */
async function firstByteWritten(data: string, child: ChildProcess): Promise<void> {
  const log = at(join(data, 'journal.sqlite-wal'));
  while (child.exitCode === null && !((statSync(log, { throwIfNoEntry: false })?.size ?? 0) > 0))
    await pause(1);
}

beforeAll(async () => {
  writeArchive(DEVICES, at('files'), 7);
  expect(
    (await caseback(['import', 'files/catalogue.yaml', '--data', 'base'], { cwd: folder.path })).code,
  ).toBe(0);
  none = await headOf(at('base'));
  cpSync(at('base'), at('whole'), { recursive: true });
  const begun = performance.now();
  const child = startImport('whole');
  const end = ended(child);
  await firstByteWritten('whole', child);
  const written = performance.now();
  expect((await end).code).toBe(0);
  length = performance.now() - begun;
  writing = performance.now() - written;
  expect((await headOf(at('whole'))).sequence).toBe(none.sequence + ENTRIES);
});
afterAll(() => folder.remove());

async function expectAllOrNone(data: string): Promise<'all' | 'none'> {
  const head = await headOf(at(data));
  const journal = new SqliteJournal(at(join(data, 'journal.sqlite')));
  expect(await verify(journal)).toEqual({ intact: true, entries: head.sequence });
  await journal.close();
  if (head.sequence === none.sequence) {
    expect(head).toEqual(none);
    return 'none';
  }
  expect(head.sequence).toBe(none.sequence + ENTRIES);
  return 'all';
}

test.each(Array.from({ length: 20 }, (_, i) => ({ run: i + 1, whenWriting: i >= 10, share: random() })))(
  'killed at point $run, the archive holds all or nothing',
  async ({ run, whenWriting, share }) => {
    const data = `run-${run}`;
    cpSync(at('base'), at(data), { recursive: true });
    const child = startImport(data);
    const end = ended(child);
    if (whenWriting) await firstByteWritten(data, child);
    await pause(share * (whenWriting ? writing : length));
    child.kill('SIGKILL');
    await end;
    await expectAllOrNone(data);
  },
);

test('an import that was killed can simply be repeated', async () => {
  const { code } = await ended(startImport('run-1'));
  expect(code).toBe(0);
  expect(await expectAllOrNone('run-1')).toBe('all');
});
