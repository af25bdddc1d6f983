import type { Photo } from '../model/dossier.ts';
import { thingId } from '../model/ids.ts';
import { fallenIn } from '../model/standing.ts';
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
  const component = found.kind === 'Component' ? found.thing.id : undefined;
  return dossier.photos
    .filter((one) => named.has(one.id))
    .map((photo) => ({ id: thingId(specimen, photo.id), photo, component }));
}
