import { existsSync, mkdirSync, renameSync } from 'node:fs';
import { dirname, isAbsolute, join, relative, resolve } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { fileURLToPath } from 'node:url';
import { Archive } from '../../archive.ts';
import type { ReadDocument } from '../../dossier/document/document.ts';
import { badFiles } from '../../dossier/plan.ts';
import type { Journal } from '../../journal/journal.ts';
import { madeWhenWritten } from '../../journal/made-when-written.ts';
import { HeadFile } from '../../journal/sqlite/head-file.ts';
import { photosBeside } from '../../photos/beside.ts';
import { readWithProgress } from '../arguments/documents.ts';
import {
  DEMO_BY,
  demoFolder,
  demoShare,
  hasArchive,
  journalFile,
  openJournal,
  written,
} from './data-folder.ts';
import { Unable } from './exit.ts';
import { photosOf } from './photos.ts';
import type { Terminal } from './terminal.ts';

const SEED = fileURLToPath(new URL('../../../seed-data', import.meta.url));

/** The pattern library that ships with Caseback; without what the given files say themselves of a pattern. */
export function patternLibrary(besides: readonly ReadDocument[] = []): readonly ReadDocument[] {
  const own = new Set(besides.flatMap(patternsOf));
  return readWithProgress([join(SEED, 'patterns')]).filter(
    (document) => !patternsOf(document).some((id) => own.has(id)),
  );
}

/** Whether a file is one of the demo, but for its patterns, which are anybody's. */
export function isOfDemo({ file }: ReadDocument): boolean {
  const inside = relative(SEED, resolve(file));
  return !inside.startsWith('..') && !isAbsolute(inside) && !inside.startsWith('patterns');
}

function patternsOf(document: ReadDocument): readonly string[] {
  return document.kind === 'catalogue' ? document.catalogue.patterns.map(({ id }) => id) : [];
}

/** Fills an archive with the invented demo. */
export async function fillWithDemo(archive: Archive, folder: string, terminal: Terminal): Promise<void> {
  terminal.message(`Making the demo archive in ${written(folder)}, all of it invented …\n`);
  const documents = readWithProgress([SEED]);
  const { photos, problems } = await photosBeside(documents, undefined, () => false);
  if (problems.length > 0) throw badFiles(problems);
  await archive.importDocuments(documents, DEMO_BY, { photos });
}

/** Makes the demo archive in a folder that has none. */
export async function makeDemo(folder: string, terminal: Terminal): Promise<void> {
  const journal = madeWhenWritten(() => openJournal(folder));
  const archive = await Archive.open(journal, undefined, undefined, photosOf({ folder }));
  try {
    await fillWithDemo(archive, folder, terminal);
  } finally {
    await archive.close();
  }
}

/** The journal of one's own archive that is yet to be made in a folder: it is made with the first entry. */
export function journalToMake(folder: string, terminal: Terminal): Journal {
  return madeWhenWritten(() => makeJournal(folder, terminal));
}

/** Makes the journal of one's own archive; the demo that an earlier version kept in its folder moves out of the way. */
export function makeJournal(folder: string, terminal: Terminal): Journal {
  if (demoShare(folder) === 'all')
    terminal.message(
      `The demo archive, which an earlier version kept in ${written(folder)}, is now in ${written(moveDemo(folder))}\n`,
    );
  return openJournal(folder);
}

/** Moves the journal of the demo, and the note beside it, to the folder of the demo, or to one beside its place where that is taken. */
function moveDemo(folder: string): string {
  const file = journalFile(folder);
  // The last to close it takes its log away; where one is left, somebody else is using it.
  const db = new DatabaseSync(file);
  db.exec('PRAGMA wal_checkpoint(TRUNCATE)');
  db.close();
  if (existsSync(`${file}-wal`) || existsSync(`${file}-shm`))
    throw new Unable(
      `${written(folder)} holds the demo archive of an earlier version, and a running service uses it; stop that, then run the command again`,
    );
  const to = [demoFolder(), ...[1, 2, 3, 4, 5, 6, 7, 8, 9].map((n) => join(folder, `demo-${n}`))].find(
    (one) => !hasArchive(one) && canMove(file, journalFile(one)),
  );
  if (to === undefined)
    throw new Unable(`${written(folder)} holds the demo archive of an earlier version; move it elsewhere`);
  return to;
}

function canMove(from: string, to: string): boolean {
  try {
    mkdirSync(dirname(to), { recursive: true });
    renameSync(from, to);
    const [note, moved] = [new HeadFile(from).path, new HeadFile(to).path];
    if (existsSync(note)) renameSync(note, moved);
    return true;
  } catch {
    // Another disk, or a folder that may not be written to.
    return false;
  }
}
