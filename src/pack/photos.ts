import { createHash } from 'node:crypto';
import type { Photo } from '../model/dossier.ts';
import { thingId } from '../model/ids.ts';
import { fallenIn } from '../model/standing.ts';
import { resolve } from '../state/resolve.ts';
import type { State } from '../state/state.ts';
import { whyNotHandedOn } from './licences.ts';
import type { Statement } from './statement.ts';

/** Files of photos, which an archive knows by digest alone. */
export interface PhotoFiles {
  /** The bytes of a file of that name; undefined where there is none. */
  read(file: string): Uint8Array | undefined;
}

/** A photo under a sentence. */
export interface PhotoUnder {
  /** `device/specimen/photo`. */
  readonly id: string;
  readonly photo: Photo;
  /** Sentences that name it or an observation that is seen on it. */
  readonly sentences: readonly string[];
  /** Its bytes, or why they are not handed on. */
  readonly content: Uint8Array | string;
}

const MEDIA_TYPES: Readonly<Record<string, string>> = {
  jpg: 'image/jpeg',
  jpeg: 'image/jpeg',
  png: 'image/png',
  webp: 'image/webp',
  tif: 'image/tiff',
  tiff: 'image/tiff',
};

/** Photos under the sentences of a publication, in order of their ids. */
export function photosUnder(
  view: State,
  { sentences }: Statement,
  files: PhotoFiles | undefined,
): readonly PhotoUnder[] {
  const found = new Map<string, { readonly photo: Photo; readonly sentences: Set<string> }>();
  for (const { id, support } of sentences) {
    for (const [at, photo] of support.flatMap((item) => photosOf(view, item.id))) {
      const shown = found.get(at) ?? { photo, sentences: new Set() };
      shown.sentences.add(id);
      found.set(at, shown);
    }
  }
  return [...found]
    .map(([id, { photo, sentences }]) => ({
      id,
      photo,
      sentences: [...sentences],
      content: contentOf(photo, files),
    }))
    .sort((a, b) => (a.id < b.id ? -1 : 1));
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

function contentOf({ licence, file, sha256 }: Photo, files: PhotoFiles | undefined): Uint8Array | string {
  const why = whyNotHandedOn(licence);
  if (why !== undefined) return why;
  if (file === undefined) return 'no file of it is named in the archive';
  if (mediaTypeOf(file) === undefined) return `${file} is none of the kinds of pictures that are handed on`;
  const content = files?.read(file);
  if (content === undefined) return 'its file was not at hand when the pack was made';
  const is = createHash('sha256').update(content).digest('hex');
  return is === sha256 ? content : `the file ${file} at hand is not the photo that is on record`;
}

/** Media type of a picture by the ending of its name. */
export function mediaTypeOf(file: string): string | undefined {
  return MEDIA_TYPES[file.slice(file.lastIndexOf('.') + 1).toLowerCase()];
}
