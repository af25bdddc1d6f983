import {
  annotationsAt,
  deviceCollectionAt,
  manifestAt,
  pictureAt,
  thumbnailAt,
} from '../../../iiif/addresses.ts';
import { thingId } from '../../../model/ids.ts';
import { percentFragment } from '../../../model/photo-region.ts';
import { keptFile } from '../../../photos/kept.ts';
import {
  picturesOfStep,
  stepMeant,
  type Thumbnail,
  thumbnailOfRegion,
} from '../../../photos/step-pictures.ts';
import { annotationsOf, hasPhotos, photoPlace } from '../../../questions/photos.ts';
import type { SpecimenRow } from '../../../state/facts.ts';
import type { OpenedSpecimen } from '../../../state/specimen.ts';
import type { State } from '../../../state/state.ts';
import { findInside } from '../node.ts';
import type { Resolvers } from '../resolver-types.ts';
import { photoSource } from '../specimens/sources.ts';

/** Addresses that are relative to the service. */
const HERE = '/';

const rowOf = (view: State, { id }: OpenedSpecimen) => view.specimenRow(id) as SpecimenRow;

/** @param id of the photo */
const thumbnail = (small: Thumbnail, id: string) => ({
  address: thumbnailAt(HERE, id, small),
  widthPx: small.width,
  heightPx: small.height,
});

/** Regions of photos, what viewers of open standards are given, and pictures of steps. */
export const photoViewers: Resolvers = {
  Photo: {
    annotations: async ({ view, opened, localId }, { base }) =>
      annotationsOf(view, thingId(opened.id, localId), await photoPlace(base ?? undefined)),
  },
  Picture: {
    widthPx: ({ width }) => width,
    heightPx: ({ height }) => height,
    mediaType: ({ type }) => type,
    servedSha256: ({ served }) => served.sha256,
    address: ({ photo }) => pictureAt(HERE, photo),
    annotationsAddress: ({ photo }) => annotationsAt(HERE, photo),
  },
  PhotoRegion: {
    of: ({ view, opened, region }) => findInside(view, opened, region.of),
    fragment: ({ region }) => percentFragment(region),
    step: ({ view, opened, region }) => {
      const step = stepMeant(opened, region.of);
      const done = step === undefined ? undefined : opened.dossier.teardown.steps[step - 1];
      return done && step !== undefined ? { ...done, number: step, view, opened } : null;
    },
    polygon: ({ region }) => region.polygon?.map(([left, top]) => ({ left, top })) ?? null,
    thumbnail: ({ view, opened, photo, region }) => {
      const file = keptFile(rowOf(view, opened), photo.sha256);
      return file ? thumbnail(thumbnailOfRegion(file, region), thingId(opened.id, photo.id)) : null;
    },
  },
  TeardownStep: {
    pictures: ({ view, opened, number }) =>
      picturesOfStep(rowOf(view, opened), opened, number).map(({ photo, region, thumbnail: small }) => ({
        photo: photoSource(view, opened, photo),
        fragment: region ? percentFragment(region) : null,
        thumbnail: small ? thumbnail(small, thingId(opened.id, photo.id)) : null,
      })),
  },
  Specimen: {
    photoManifestAddress: ({ view, opened }) =>
      hasPhotos(rowOf(view, opened)) ? manifestAt(HERE, opened.id) : null,
  },
  Device: {
    photoCollectionAddress: ({ view, id }) =>
      view.specimensOf(id).some(hasPhotos) ? deviceCollectionAt(HERE, id) : null,
  },
};
