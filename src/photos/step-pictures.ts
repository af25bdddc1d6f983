import type { Photo, PhotoRegion } from '../model/dossier.ts';
import type { PhotoFile } from '../model/photo-file.ts';
import { stepName, stepNumber } from '../model/photo-region.ts';
import type { SpecimenRow } from '../state/facts.ts';
import { localThing, type OpenedSpecimen } from '../state/specimen.ts';
import { cropOf } from './crop.ts';
import { keptFile } from './kept.ts';
import { type Size, sizesOf } from './sizes.ts';

/** What shows a step of a teardown: a region of a photo, or the whole of it. */
export interface StepPicture {
  readonly photo: Photo;
  readonly region?: PhotoRegion;
  /** Undefined where the archive knows the photo by its digest alone. */
  readonly thumbnail?: Thumbnail;
}

/** A small picture. */
export interface Thumbnail extends Size {
  /** Below the address of its photo. */
  readonly path: string;
}

/**
 * Pictures of a step of the teardown: the regions that name it, those of the photo that the step names first; that photo as a whole
 * where none of its regions does.
 * @param number from 1
 */
export function picturesOfStep(
  row: SpecimenRow,
  opened: OpenedSpecimen,
  number: number,
): readonly StepPicture[] {
  const { photos, teardown } = opened.dossier;
  const own = teardown.steps[number - 1]?.photo;
  const name = stepName(number);
  const isStep = stepMeant(opened, name) !== undefined;
  const inOrder = [...photos.filter(({ id }) => id === own), ...photos.filter(({ id }) => id !== own)];
  return inOrder.flatMap((photo): readonly StepPicture[] => {
    const file = keptFile(row, photo.sha256);
    const regions = isStep ? photo.regions.filter(({ of }) => of === name) : [];
    if (regions.length === 0 && photo.id === own)
      return [{ photo, ...(file && { thumbnail: thumbnailOfWhole(file) }) }];
    return regions.map((region) => ({
      photo,
      region,
      ...(file && { thumbnail: thumbnailOfRegion(file, region) }),
    }));
  });
}

/** The place of the step that a region names, from 1; undefined where something else has that very name, or there is no such step. */
export function stepMeant(opened: OpenedSpecimen, of: string): number | undefined {
  const number = localThing(opened, of) ? undefined : stepNumber(of);
  return number !== undefined && number <= opened.dossier.teardown.steps.length ? number : undefined;
}

/** A region as a small picture. */
export function thumbnailOfRegion(file: PhotoFile, region: PhotoRegion): Thumbnail {
  const { name, size } = cropOf(file, region);
  return { path: `regions/${name}.jpg`, ...size };
}

/** A photo as a small picture: the smallest of its sizes. */
export function thumbnailOfWhole(file: PhotoFile): Thumbnail {
  const { width, height } = sizesOf(file)[0] as Size;
  const size = width === file.width ? 'max' : `${width},${height}`;
  return { path: `full/${size}/0/default.jpg`, width, height };
}
