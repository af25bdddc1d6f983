import { photosShowing } from '../evidence/photos-showing.ts';
import type { Photo } from '../model/dossier.ts';
import { specimenOfId } from '../model/ids.ts';
import type { PhotoFile } from '../model/photo-file.ts';
import { keptFile } from '../photos/kept.ts';
import type { State } from '../state/state.ts';
import { whyNotHandedOn } from './licences.ts';
import type { Statement } from './statement.ts';

/** Where the files of photos are, as they are handed on. */
export interface PhotoFiles {
  /** Undefined where the file is missing, or is not the one that was kept. */
  served(file: PhotoFile): Promise<Uint8Array | undefined>;
  /** Whether there is a file, right or not; nothing is read. */
  has(file: PhotoFile): Promise<boolean>;
}

/** A photo under a sentence. */
export interface PhotoUnder {
  /** `device/specimen/photo`. */
  readonly id: string;
  readonly photo: Photo;
  /** Its file, where the archive has it. */
  readonly file: PhotoFile | undefined;
  /** Sentences that name it or an observation that is seen on it. */
  readonly sentences: readonly string[];
  /** Its bytes, or why they are not handed on. Where files are not read, `there` stands for the bytes. */
  readonly content: Uint8Array | 'there' | { readonly why: string };
}

/**
 * Photos under the sentences of a publication, in order of their ids.
 * @param isRead whether files are read and held against their digests; else it is only seen whether they are there
 */
export async function photosUnder(
  view: State,
  { sentences }: Statement,
  files: PhotoFiles | undefined,
  isRead: boolean,
): Promise<readonly PhotoUnder[]> {
  const found = new Map<string, { readonly photo: Photo; readonly sentences: Set<string> }>();
  for (const { id, support } of sentences) {
    for (const { id: at, photo } of support.flatMap((item) => photosShowing(view, item.id))) {
      const shown = found.get(at) ?? { photo, sentences: new Set() };
      shown.sentences.add(id);
      found.set(at, shown);
    }
  }
  const under: PhotoUnder[] = [];
  for (const [id, { photo, sentences }] of found) {
    const row = view.specimenRow(specimenOfId(id));
    const file = row && keptFile(row, photo.sha256);
    const content = await contentOf(photo, file, files, isRead);
    under.push({ id, photo, file, sentences: [...sentences], content });
  }
  return under.sort((a, b) => (a.id < b.id ? -1 : 1));
}

async function contentOf(
  { licence }: Photo,
  file: PhotoFile | undefined,
  files: PhotoFiles | undefined,
  isRead: boolean,
): Promise<PhotoUnder['content']> {
  const why = whyNotHandedOn(licence);
  if (why !== undefined) return { why };
  if (file === undefined) return { why: 'the archive knows it by its digest alone' };
  if (!isRead && (await files?.has(file))) return 'there';
  return (await files?.served(file)) ?? { why: 'its file is missing, or is not the photo that is on record' };
}
