import type { Journal } from '../journal/journal.ts';
import { PhotoDigests } from '../journal/photo-digests.ts';
import { digestOf } from './bytes.ts';
import type { PhotoStore } from './store.ts';

/** What was found of the files of photos. */
export interface PhotosExamined {
  /** Files that are there: those that are what was kept, or where they were not read, all that are there. */
  readonly whole: number;
  /** Those that are missing or altered, in sentences. */
  readonly damage: readonly string[];
  readonly notes: readonly string[];
}

/**
 * Looks for the file of every photo that an entry says the archive has, and holds it against its digest. Entries that cannot be
 * read are passed over: whoever examines the journal names them.
 * @param isRead whether files are read; else it is only seen whether they are there
 */
export async function examinePhotos(
  journal: Pick<Journal, 'readStored'>,
  store: PhotoStore,
  isRead = true,
): Promise<PhotosExamined> {
  const kept = await digestsIn(journal);
  const damage: string[] = [];
  let whole = 0;
  for (const [sha256, photos] of kept) {
    const fault = isRead
      ? faultOf(await store.get(sha256), sha256)
      : (await store.has(sha256))
        ? undefined
        : 'is missing';
    if (fault === undefined) whole++;
    else damage.push(`the file of ${photos.join(', ')} ${fault} (${sha256})`);
  }
  let others = 0;
  for await (const sha256 of store.list()) if (!kept.has(sha256)) others++;
  const files = others === 1 ? 'is 1 file of a photo' : `are ${others} files of photos`;
  return {
    whole,
    damage,
    notes: others === 0 ? [] : [`there ${files} that no entry names, left by an import that did not end`],
  };
}

function faultOf(content: Uint8Array | undefined, sha256: string): string | undefined {
  if (!content) return 'is missing';
  return digestOf(content) === sha256 ? undefined : 'has been altered: it does not match its digest';
}

async function digestsIn(journal: Pick<Journal, 'readStored'>): Promise<PhotoDigests> {
  const kept = new PhotoDigests();
  try {
    for await (const entries of journal.readStored())
      for (const entry of entries) {
        try {
          kept.add(entry);
        } catch {
          // Named by whoever examines the journal.
        }
      }
  } catch {
    // Likewise: what stands before the damage is looked for.
  }
  return kept;
}
