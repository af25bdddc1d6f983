import { Archive } from '../../src/archive.ts';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import { documents } from '../seed/seed.ts';

/** The demo archive in memory, folded once for all tests of a file. */
export async function demoArchive(): Promise<Archive> {
  const archive = await Archive.open(new MemoryJournal());
  await archive.importDocuments(documents, { actor: 'bench', reason: 'test' });
  return archive;
}
