import { lstatSync, readFileSync, realpathSync } from 'node:fs';
import { dirname, join, sep } from 'node:path';
import type { DossierDocument, ReadDocument } from '../dossier/document/document.ts';
import { PICTURE_ENDINGS, PICTURE_TYPES, type PictureType } from '../model/photo-file.ts';
import type { Problem } from '../model/problems.ts';
import { digestOf, MOST_BYTES } from './bytes.ts';
import type { InspectedPhoto } from './inspect.ts';
import type { PhotosAtHand } from './kept.ts';
import { NoPhoto } from './refusal.ts';
import type { PhotoStore } from './store.ts';

/** Files of the photos of some dossiers, and what is wrong with them. */
export interface PhotosBeside {
  readonly photos: PhotosAtHand;
  /** At the lines of the dossiers. */
  readonly problems: readonly Problem[];
}

/**
 * Reads the files that dossiers name beside themselves, and looks up the others where photos are kept.
 * @param store where the archive keeps photos, if there is one
 * @param isHeld whether the archive has the file of a photo already, so that it need not come along again
 */
export async function photosBeside(
  documents: readonly ReadDocument[],
  store: PhotoStore | undefined,
  isHeld: (document: DossierDocument, sha256: string) => boolean,
): Promise<PhotosBeside> {
  const photos = new Map<string, InspectedPhoto>();
  const problems: Problem[] = [];
  for (const document of documents) {
    if (document.kind !== 'dossier') continue;
    for (const [i, { id, sha256, file }] of document.dossier.photos.entries()) {
      if (photos.has(sha256)) continue;
      const report = (name: 'file' | 'sha256', what: string, fix: string) =>
        problems.push({
          file: document.file,
          ...document.locate(['photos', i, name]),
          path: `photos[${i}].${name}`,
          what,
          fix,
        });
      const found =
        byDigest(document.file, sha256) ?? (file === undefined ? undefined : readBeside(document.file, file));
      if (found instanceof NoPhoto) report('file', `photo "${id}": ${found.why}`, found.fix);
      else if (found) {
        const is = digestOf(found);
        if (is !== sha256)
          report(
            'sha256',
            `photo "${id}": ${file} is another file, with the digest ${is}`,
            'bring the photo that was recorded, or record its digest if this is the one that is meant',
          );
        else
          await inspected(found, photos, (error) => report('file', `photo "${id}": ${error.why}`, error.fix));
      } else if (!isHeld(document, sha256)) {
        const kept = await store?.get(sha256);
        if (kept && digestOf(kept) === sha256) await inspected(kept, photos, () => undefined);
        else if (file !== undefined)
          report(
            'file',
            `photo "${id}": there is no file ${file} beside the dossier`,
            'put it there, or leave "file" out: the photo is then known by its digest alone',
          );
      }
    }
  }
  return { photos, problems };
}

/** Name under which an export puts the file of a photo beside its dossier, whatever it was called where it came from. */
export function nameByDigest(sha256: string, type: PictureType): string {
  return `photos/${sha256}.${PICTURE_ENDINGS[type]}`;
}

/** The file that an export put beside a dossier; undefined where there is none, or it is not the one. */
function byDigest(dossier: string, sha256: string): Uint8Array | undefined {
  for (const type of PICTURE_TYPES) {
    const found = readBeside(dossier, nameByDigest(sha256, type));
    if (found instanceof Uint8Array && digestOf(found) === sha256) return found;
  }
  return undefined;
}

async function inspected(
  content: Uint8Array,
  into: Map<string, InspectedPhoto>,
  refuse: (error: NoPhoto) => void,
): Promise<void> {
  // What decodes pictures is not loaded for dossiers without any.
  const { inspectPhoto } = await import('./inspect.ts');
  try {
    const photo = await inspectPhoto(content);
    into.set(photo.file.sha256, photo);
  } catch (error) {
    if (!(error instanceof NoPhoto)) throw error;
    refuse(error);
  }
}

/**
 * The bytes of a file that a dossier names. The name may be that of somebody else's dossier: only what lies in the folder of the
 * dossier or beneath it is read, and no link that leads out of it is followed.
 * @returns undefined where there is none
 */
function readBeside(dossier: string, name: string): Uint8Array | NoPhoto | undefined {
  const steps = name.split('/');
  if (name.includes('\\') || steps.some((step) => step === '' || step.startsWith('.')))
    return new NoPhoto(
      `"${name}" is no name of a file beside the dossier`,
      'write its name, with folders beneath that of the dossier if there are any: photos/main-top.jpg',
    );
  const folder = dirname(dossier);
  const path = join(folder, ...steps);
  try {
    const stat = lstatSync(path, { throwIfNoEntry: false });
    if (!stat) return undefined;
    if (!`${realpathSync(path)}`.startsWith(`${realpathSync(folder)}${sep}`.replace(/(.)\/\/$/u, '$1/')))
      return new NoPhoto(`${name} leads out of the folder of the dossier`, 'copy the photo into it');
    if (!stat.isFile()) return new NoPhoto(`${name} is no file`, 'name a photo');
    if (stat.size > MOST_BYTES)
      return new NoPhoto(
        `${name} has ${Math.ceil(stat.size / 2 ** 20)} MB, and photos have up to ${MOST_BYTES / 2 ** 20} MB`,
        'save it with more compression or fewer pixels',
      );
    return readFileSync(path);
  } catch (error) {
    return new NoPhoto(`${name} cannot be read (${(error as Error).message})`, 'check its permissions');
  }
}
