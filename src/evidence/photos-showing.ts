import type { Photo } from '../model/dossier.ts';
import { specimenOfId, thingId } from '../model/ids.ts';
import type { PhotoFile } from '../model/photo-file.ts';
import { type Box, boxOfRegion } from '../model/photo-region.ts';
import { fallenIn } from '../model/standing.ts';
import { keptFile } from '../photos/kept.ts';
import { resolve } from '../state/resolve.ts';
import type { State } from '../state/state.ts';

/** A photo that shows something. */
export interface PhotoShowing {
  /** `device/specimen/photo`. */
  readonly id: string;
  readonly photo: Photo;
  /** The component that it shows, by its local id, where it was asked for one; it may have a region of its own on the photo. */
  readonly component: string | undefined;
}

/**
 * A photo itself, that on which an observation was made, or those that show a component: by a region, or by an observation of it that
 * stands. Nothing for what is none of these.
 */
export function photosShowing(state: State, id: string): readonly PhotoShowing[] {
  const found = resolve(state, id);
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
  const shows = (photo: Photo): readonly (string | undefined)[] => {
    if (found.kind === 'Component') return [found.thing.id];
    if (found.kind !== 'Observation') return [undefined];
    const about = found.thing.about.filter((local) => photo.regions.some(({ of }) => of === local));
    return about.length > 0 ? about : [undefined];
  };
  return dossier.photos
    .filter((one) => named.has(one.id))
    .flatMap((photo) =>
      shows(photo).map((component) => ({ id: thingId(specimen, photo.id), photo, component })),
    );
}

/** A photo to be looked at beside a sentence: the part of it that shows a component, or all of it. */
export interface ShownPhoto {
  /** `device/specimen/photo`. */
  readonly id: string;
  readonly photo: Photo;
  /** Its file; undefined where the archive knows it by its digest alone. */
  readonly file: PhotoFile | undefined;
  /** Id of the component that the part shows, and that part; undefined for all of the photo. */
  readonly part: { readonly of: string; readonly local: string; readonly box: Box } | undefined;
}

/** Photos of what supports a sentence, by ids of that, each part once; all of a photo only where no part of it is shown. */
export function photosOfEvidence(state: State, ids: Iterable<string>): readonly ShownPhoto[] {
  const found = new Map<string, ShownPhoto>();
  for (const id of new Set(ids))
    for (const { id: at, photo, component } of photosShowing(state, id)) {
      const region = component === undefined ? undefined : photo.regions.find(({ of }) => of === component);
      const key = `${at} ${region ? component : ''}`;
      if (found.has(key)) continue;
      const specimen = specimenOfId(at);
      const row = state.specimenRow(specimen);
      const file = row && keptFile(row, photo.sha256);
      const part =
        region && component !== undefined
          ? { of: thingId(specimen, component), local: component, box: boxOfRegion(region) }
          : undefined;
      found.set(key, { id: at, photo, file, part });
    }
  const inParts = new Set([...found.values()].flatMap(({ id, part }) => (part ? [id] : [])));
  return [...found.values()].filter(({ id, part }) => part !== undefined || !inParts.has(id));
}
