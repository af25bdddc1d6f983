import type { Photo } from '../model/dossier.ts';
import { specimenOfId, thingId } from '../model/ids.ts';
import type { PhotoFile } from '../model/photo-file.ts';
import { fallenIn } from '../model/standing.ts';
import { keptFile } from '../photos/kept.ts';
import { resolve } from '../state/resolve.ts';
import type { State } from '../state/state.ts';
import { whyNotHandedOn } from './licences.ts';
import type { Statement } from './statement.ts';

/** Where the files of photos are, as they are handed on. */
export interface PhotoFiles {
  /** Undefined where the file is missing, or is not the one that was kept. */
  served(file: PhotoFile): Promise<Uint8Array | undefined>;
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
  /** Its bytes, or why they are not handed on. */
  readonly content: Uint8Array | string;
}

/** Photos under the sentences of a publication, in order of their ids. */
export async function photosUnder(
  view: State,
  { sentences }: Statement,
  files: PhotoFiles | undefined,
): Promise<readonly PhotoUnder[]> {
  const found = new Map<string, { readonly photo: Photo; readonly sentences: Set<string> }>();
  for (const { id, support } of sentences) {
    for (const [at, photo] of support.flatMap((item) => photosOf(view, item.id))) {
      const shown = found.get(at) ?? { photo, sentences: new Set() };
      shown.sentences.add(id);
      found.set(at, shown);
    }
  }
  const under: PhotoUnder[] = [];
  for (const [id, { photo, sentences }] of found) {
    const row = view.specimenRow(specimenOfId(id));
    const file = row && keptFile(row, photo.sha256);
    const content = await contentOf(photo, file, files);
    under.push({ id, photo, file, sentences: [...sentences], content });
  }
  return under.sort((a, b) => (a.id < b.id ? -1 : 1));
}

/** A photo itself, that on which an observation was made, or those that show a component: by a region, or by an observation of it. */
function photosOf(view: State, id: string): readonly (readonly [string, Photo])[] {
  const found = resolve(view, id);
  if (found?.kind !== 'Photo' && found?.kind !== 'Observation' && found?.kind !== 'Component') return [];
  const { dossier, id: specimen } = found.opened;
  const named = new Set<string>();
  if (found.kind === 'Photo') named.add(found.thing.id);
  if (found.kind === 'Observation' && found.thing.photo !== undefined) named.add(found.thing.photo);
  if (found.kind === 'Component') {
    const { id: local } = found.thing;
    const fallen = fallenIn(dossier.observations);
    for (const { id: seen, about, photo } of dossier.observations)
      if (photo !== undefined && !fallen.has(seen) && about.includes(local)) named.add(photo);
    for (const { id: photo, regions } of dossier.photos)
      if (regions.some(({ of }) => of === local)) named.add(photo);
  }
  return dossier.photos.filter((one) => named.has(one.id)).map((one) => [thingId(specimen, one.id), one]);
}

async function contentOf(
  { licence }: Photo,
  file: PhotoFile | undefined,
  files: PhotoFiles | undefined,
): Promise<Uint8Array | string> {
  const why = whyNotHandedOn(licence);
  if (why !== undefined) return why;
  if (file === undefined) return 'the archive knows it by its digest alone';
  return (await files?.served(file)) ?? 'its file is missing, or is not the photo that is on record';
}
