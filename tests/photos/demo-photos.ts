import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Archive } from '../../src/archive.ts';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import { photosBeside } from '../../src/photos/beside.ts';
import { Photos } from '../../src/photos/photos.ts';
import { documents } from '../seed/seed.ts';
import { MemoryPhotos } from './memory-store.ts';

/** The demo with the files of its photos, in memory. */
export async function demoWithPhotos(): Promise<{ readonly archive: Archive; readonly store: MemoryPhotos }> {
  const store = new MemoryPhotos();
  const { photos, problems } = await photosBeside(documents, undefined, () => false);
  if (problems.length > 0) throw new Error(JSON.stringify(problems[0]));
  const folder = mkdtempSync(join(tmpdir(), 'caseback-renditions-'));
  const archive = await Archive.open(new MemoryJournal(), undefined, undefined, new Photos(store, folder));
  await archive.importDocuments(documents, { actor: 'bench', reason: 'test' }, { photos });
  return { archive, store };
}
