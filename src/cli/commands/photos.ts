import { toTable } from '../../export/table.ts';
import {
  annotationsAt,
  deviceCollectionAt,
  manifestAt,
  pictureAt,
  thumbnailAt,
} from '../../iiif/addresses.ts';
import { shownAs } from '../../iiif/shown.ts';
import type { Photo } from '../../model/dossier.ts';
import { specimenNamed, thingId } from '../../model/ids.ts';
import { percentFragment } from '../../model/photo-region.ts';
import { CasebackError } from '../../model/problems.ts';
import { keptFile } from '../../photos/kept.ts';
import { picturesOfStep, thumbnailOfRegion } from '../../photos/step-pictures.ts';
import { annotationsOf, photoCollection, photoManifest, photoPlace } from '../../questions/photos.ts';
import type { SpecimenRow } from '../../state/facts.ts';
import { resolved } from '../../state/resolve.ts';
import type { OpenedSpecimen } from '../../state/specimen.ts';
import type { State } from '../../state/state.ts';
import { defineCommand } from '../frame/command.ts';
import { UsageError } from '../frame/exit.ts';
import { writeText } from '../frame/files.ts';
import { choice, text } from '../frame/options.ts';

/** Documents of open standards. */
const DOCUMENTS = ['manifest', 'annotations'] as const;
/** Where a service listens unless it is told otherwise. */
const USUAL = 'http://127.0.0.1:4860/';

interface PhotoListed {
  readonly specimen: string;
  readonly photo: Photo;
  /** Undefined where the archive knows the photo by its digest alone. */
  readonly size: string | undefined;
}

export const command = defineCommand({
  name: 'photos',
  about:
    'Photos of a device, a specimen, or one photo: what they show, whose they are, where their regions lie, and pictures of the steps of the teardown, with addresses under which a service has them. With --as manifest: what any viewer of the IIIF Presentation API 3.0 opens, of a specimen as a manifest, of a device or (without an id) of everything as a collection. With --as annotations: the regions of a photo as W3C Web Annotations (JSON-LD).',
  arguments: [
    {
      name: 'ID',
      help: 'a device, a specimen or a photo; left out with --as manifest for everything',
      optional: true,
    },
  ],
  options: {
    as: choice('KIND', DOCUMENTS, { help: 'manifest or annotations: a document for other programs' }),
    base: text('ADDRESS', `where addresses begin, that of the service (default: ${USUAL})`),
    out: text('FILE', 'with --as: where to write it (default: standard output)'),
  },
  uses: 'view',
  formats: ['text', 'csv', 'json'],
  examples: [
    'photos tarn-sennit-3/a',
    'photos tarn-sennit-3/a --as manifest --base https://desk.example.org/ --out manifest.json',
    'photos tarn-sennit-3/a/photo-main-top --as annotations',
  ],

  async run(call) {
    const [id] = call.arguments;
    const { as, out, base = USUAL } = call.options;
    if (out !== undefined && as === undefined)
      throw new UsageError('--out goes with --as, such as --as manifest');
    const view = await call.view();
    const place = await photoPlace(base);
    if (as !== undefined) {
      const document =
        as === 'annotations'
          ? await annotationsOf(view, named(id, '--as annotations asks for the id of a photo'), place)
          : await manifestOrCollection(view, id, base);
      const content = `${JSON.stringify(document, null, 2)}\n`;
      if (out === undefined) call.terminal.out(content);
      else {
        writeText(out, content);
        call.terminal.message(`Written to ${out}; its addresses begin with ${place.base}\n`);
      }
      return 0;
    }
    const wanted = named(id, 'name a device, a specimen or a photo');
    const found = resolved(view, wanted, ['Device', 'Specimen', 'Photo']);
    const specimens =
      found.kind === 'Device'
        ? view.specimensOf(found.id).map(({ id: one }) => one)
        : [found.kind === 'Photo' ? specimenNamed(found.id) : found.id];
    const opened = specimens.map((one) => view.specimen(one) as OpenedSpecimen);
    const only = found.kind === 'Photo' ? found.thing.id : undefined;
    const rowOf = (one: OpenedSpecimen) => view.specimenRow(one.id) as SpecimenRow;

    const photos = opened.flatMap((one) =>
      one.dossier.photos
        .filter((photo) => only === undefined || photo.id === only)
        .map((photo): PhotoListed => {
          const file = keptFile(rowOf(one), photo.sha256);
          return { specimen: one.id, photo, size: file && `${file.width} x ${file.height}` };
        }),
    );
    const photoRows = photos.map(({ specimen, photo, size }) => {
      const at = thingId(specimen, photo.id);
      return {
        photo: at,
        shows: photo.caption ?? '',
        board: [photo.board, photo.side].filter(Boolean).join(', '),
        credit: photo.credit,
        licence: photo.licence,
        pixels: size ?? 'no file here',
        regions: String(photo.regions.length),
        address: size === undefined ? '' : pictureAt(place.base, at),
      };
    });
    const regionRows = opened.flatMap((one) =>
      one.dossier.photos
        .filter(({ id: local }) => local === only)
        .flatMap((photo) => {
          const file = keptFile(rowOf(one), photo.sha256);
          return photo.regions.map((region) => ({
            region: shownAs(one, region.of)?.label ?? region.of,
            where: percentFragment(region),
            corners: String(region.polygon?.length ?? ''),
            address: file
              ? thumbnailAt(place.base, thingId(one.id, photo.id), thumbnailOfRegion(file, region))
              : '',
          }));
        }),
    );
    const stepRows =
      only === undefined
        ? opened.flatMap((one) =>
            one.dossier.teardown.steps.flatMap(({ do: done }, i) =>
              picturesOfStep(rowOf(one), one, i + 1).map(({ photo, region, thumbnail }) => ({
                step: `${one.id} ${i + 1}`,
                do: done,
                photo: photo.id,
                where: region ? percentFragment(region) : 'the whole photo',
                address: thumbnail ? thumbnailAt(place.base, thingId(one.id, photo.id), thumbnail) : '',
              })),
            ),
          )
        : [];
    const documents =
      photos.some(({ size }) => size !== undefined) && found.kind !== 'Photo'
        ? [
            found.kind === 'Device'
              ? deviceCollectionAt(place.base, found.id)
              : manifestAt(place.base, found.id),
          ]
        : photos.flatMap(({ specimen, photo, size }) =>
            size === undefined ? [] : [annotationsAt(place.base, thingId(specimen, photo.id))],
          );
    return {
      text: () =>
        photoRows.length === 0
          ? `No photos are on record of ${found.id}.\n`
          : [photoRows, regionRows, stepRows]
              .filter((rows) => rows.length > 0)
              .map((rows) => toTable(rows))
              .join('\n'),
      csv: () => photoRows,
      json: () => ({ photos: photoRows, regions: regionRows, steps: stepRows, documents }),
      messages: documents.map((address) =>
        found.kind === 'Photo' ? `Its regions as Web Annotations: ${address}` : `For viewers: ${address}`,
      ),
    };
  },
});

function named(id: string | undefined, otherwise: string): string {
  if (id !== undefined) return id;
  throw new UsageError(otherwise);
}

/** The manifest of a specimen, the collection of a device, or that of everything, on all its pages as one. */
async function manifestOrCollection(view: State, id: string | undefined, base: string): Promise<object> {
  const place = await photoPlace(base);
  if (id === undefined) return photoCollection(view, undefined, place);
  const found = resolved(view, id, ['Device', 'Specimen', 'Photo']);
  if (found.kind === 'Photo')
    throw new CasebackError(
      'BAD_INPUT',
      `A manifest is of a specimen or a device: caseback photos ${specimenNamed(id)} --as manifest`,
    );
  return found.kind === 'Device' ? photoCollection(view, id, place) : photoManifest(view, id, place);
}
