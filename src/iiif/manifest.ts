import type { Device } from '../model/dossier.ts';
import { recordOfId, thingId } from '../model/ids.ts';
import { keptFile } from '../photos/kept.ts';
import { thumbnailOfWhole } from '../photos/step-pictures.ts';
import type { SpecimenRow } from '../state/facts.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';
import type { State } from '../state/state.ts';
import {
  annotationsAt,
  deviceCollectionAt,
  manifestAt,
  type PhotoPlace,
  pictureAt,
  thumbnailAt,
  wholeAt,
} from './addresses.ts';
import type { PhotoInside } from './annotations.ts';
import { rightsOf } from './rights.ts';
import { pixelFragment, selectorOf } from './selectors.ts';
import { shownAs } from './shown.ts';
import { asRecorded, english, type Words } from './words.ts';

/** Address of the context of the IIIF Presentation API 3.0. */
export const PRESENTATION = 'http://iiif.io/api/presentation/3/context.json';

interface Entry {
  readonly label: Words;
  readonly value: Words;
}

/** A document of the IIIF Presentation API 3.0, as JSON. */
export type PresentationDocument = Readonly<Record<string, unknown>> & { readonly id: string };

/** The photos of a specimen of which the archive has the files, in the order of its dossier. */
export function photosInside(row: SpecimenRow, opened: OpenedSpecimen): readonly PhotoInside[] {
  if (row.added.photoFiles.length === 0) return [];
  return opened.dossier.photos.flatMap((photo) => {
    const file = keptFile(row, photo.sha256);
    return file ? [{ id: thingId(opened.id, photo.id), photo, file, opened }] : [];
  });
}

/**
 * The photos of a specimen as a manifest of the IIIF Presentation API 3.0: a canvas a photo, painted with its picture from the image
 * service, with its regions as annotations.
 * @param photos one at least
 */
export function manifestOf(
  state: State,
  opened: OpenedSpecimen,
  photos: readonly PhotoInside[],
  place: PhotoPlace,
): PresentationDocument {
  const { base } = place;
  const { teardown } = opened.dossier;
  const id = manifestAt(base, opened.id);
  const deviceId = recordOfId(opened.id);
  const device = state.device(deviceId) as Device;
  const licences = [...new Set(photos.map(({ photo }) => photo.licence))];
  const [licence] = licences;
  const maker = state.maker(device.maker);
  return {
    '@context': PRESENTATION,
    id,
    type: 'Manifest',
    label: asRecorded(labelOfSpecimen(device, opened)),
    summary: english(`Opened ${teardown.on} by ${teardown.by}.`),
    metadata: [
      entry('Device', asRecorded(device.name)),
      ...(maker ? [entry('Maker', asRecorded(maker.name))] : []),
      entry('First sold', asRecorded(device.released)),
      entry('Opened', asRecorded(teardown.on)),
      entry('Opened by', asRecorded(teardown.by)),
      ...(device.invented
        ? [entry('Note', english('Invented for the demonstration: no such device exists.'))]
        : []),
      ...licenceEntries(licences),
    ],
    requiredStatement: creditsOf(photos),
    ...(licences.length === 1 && licence !== undefined ? rightsOf(licence) : {}),
    thumbnail: thumbnailOf(photos[0] as PhotoInside, base),
    seeAlso: [
      {
        id: `${base}records/${opened.id}.jsonld`,
        type: 'Dataset',
        label: english('All that is on record of the specimen, as linked data'),
        format: 'application/ld+json',
      },
    ],
    partOf: [{ id: deviceCollectionAt(base, deviceId), type: 'Collection', label: asRecorded(device.name) }],
    items: photos.map((one) => canvasOf(one, place)),
  };
}

/** Name of a specimen among others: that of its device, and its own id. */
export function labelOfSpecimen(device: Device, { dossier }: OpenedSpecimen): string {
  return `${device.name}, specimen ${dossier.specimen.id}`;
}

function canvasOf(one: PhotoInside, { base }: PhotoPlace): object {
  const { id, photo, file, opened } = one;
  const { width, height } = file;
  const picture = pictureAt(base, id);
  const canvas = `${picture}/canvas`;
  const annotations = regionsOn(one, canvas);
  const board = photo.board === undefined ? undefined : opened.boards.get(photo.board);
  return {
    id: canvas,
    type: 'Canvas',
    label: asRecorded(photo.caption ?? photo.file ?? photo.id),
    width,
    height,
    metadata: [
      ...(board
        ? [entry('Board', asRecorded([board.name ?? board.id, photo.side].filter(Boolean).join(', ')))]
        : []),
      ...licenceEntries([photo.licence]),
    ],
    requiredStatement: creditsOf([one]),
    ...rightsOf(photo.licence),
    thumbnail: thumbnailOf(one, base),
    seeAlso: [
      {
        id: annotationsAt(base, id),
        type: 'Dataset',
        label: english('Regions of the photo as W3C Web Annotations'),
        format: 'application/ld+json',
        profile: 'http://www.w3.org/ns/anno.jsonld',
      },
    ],
    items: [
      {
        id: `${canvas}/painting`,
        type: 'AnnotationPage',
        items: [
          {
            id: `${canvas}/painting/1`,
            type: 'Annotation',
            motivation: 'painting',
            body: {
              id: wholeAt(base, id),
              type: 'Image',
              format: 'image/jpeg',
              width,
              height,
              service: [{ id: picture, type: 'ImageService3', profile: 'level0' }],
            },
            target: canvas,
          },
        ],
      },
    ],
    ...(annotations.length > 0
      ? { annotations: [{ id: `${canvas}/regions`, type: 'AnnotationPage', items: annotations }] }
      : {}),
  };
}

/** Regions on a canvas, with what they show in words: viewers list these beside the picture. */
function regionsOn({ photo, file, opened }: PhotoInside, canvas: string): readonly object[] {
  return photo.regions.flatMap((region, i) => {
    const shown = shownAs(opened, region.of);
    if (!shown) return [];
    return [
      {
        id: `${canvas}/regions/${i + 1}`,
        type: 'Annotation',
        motivation: 'tagging',
        body: {
          type: 'TextualBody',
          value: shown.label.toWellFormed(),
          format: 'text/plain',
          language: 'en',
        },
        target: region.polygon
          ? {
              type: 'SpecificResource',
              source: { id: canvas, type: 'Canvas' },
              selector: selectorOf(region, file),
            }
          : `${canvas}#${pixelFragment(region, file)}`,
      },
    ];
  });
}

/** Who took what, in the words that the record asks for; viewers must show it. */
function creditsOf(photos: readonly PhotoInside[]): Entry {
  const credits = new Set(photos.map(({ photo }) => `${photo.credit} (${photo.licence})`));
  return entry(credits.size === 1 ? 'Photo' : 'Photos', asRecorded(...credits));
}

/** Licences that are no address which IIIF admits, in their own words. */
function licenceEntries(licences: readonly string[]): readonly Entry[] {
  const others = licences.filter((licence) => rightsOf(licence).rights === undefined);
  return others.length > 0
    ? [entry(others.length === 1 ? 'Licence' : 'Licences', asRecorded(...others))]
    : [];
}

/** The smallest copy of a picture, from its image service. */
export function thumbnailOf({ id, file }: Pick<PhotoInside, 'id' | 'file'>, base: string): readonly object[] {
  const picture = pictureAt(base, id);
  const small = thumbnailOfWhole(file);
  return [
    {
      id: thumbnailAt(base, id, small),
      type: 'Image',
      format: 'image/jpeg',
      width: small.width,
      height: small.height,
      service: [{ id: picture, type: 'ImageService3', profile: 'level0' }],
    },
  ];
}

function entry(label: string, value: Words): Entry {
  return { label: english(label), value };
}
