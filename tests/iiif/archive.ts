import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Archive } from '../../src/archive.ts';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import { type InspectedPhoto, inspectPhoto } from '../../src/photos/inspect.ts';
import { Photos } from '../../src/photos/photos.ts';
import { MemoryPhotos } from '../photos/memory-store.ts';
import { pictureOf } from '../photos/pictures.ts';
import { BY, documentOf } from '../service/serving.ts';

// A small invented archive of photos: one turned by its orientation, one on its side with an outline, licences of every kind, a photo
// known by its digest alone, steps with pictures, a draft, and a second version of a published specimen that waits with a photo more.

const pictures = {
  top: await inspectPhoto(await pictureOf('jpeg', { width: 1500, height: 1000, orientation: 6 })),
  bottom: await inspectPhoto(await pictureOf('png', { width: 640, height: 480, seed: 2 })),
  lid: await inspectPhoto(await pictureOf('webp', { width: 200, height: 100, seed: 3 })),
  hidden: await inspectPhoto(await pictureOf('png', { width: 64, height: 48, seed: 4 })),
  waiting: await inspectPhoto(await pictureOf('png', { width: 72, height: 48, seed: 5 })),
} satisfies Record<string, InspectedPhoto>;

export type PictureName = keyof typeof pictures;
/** The pictures, upright as the archive has them. */
export const PICTURES: Readonly<Record<PictureName, InspectedPhoto>> = pictures;

export const OUTLINE: [number, number][] = [
  [10, 10],
  [60.5, 12],
  [50, 70.25],
];

const photo = (name: PictureName, more: object = {}) => ({
  id: name,
  sha256: pictures[name].file.sha256,
  credit: 'A. Example',
  licence: 'CC-BY-4.0',
  ...more,
});

const CATALOGUE = {
  caseback: 'catalogue/1',
  makers: [
    { id: 'tarn', name: 'Tarn', makes: ['devices'], invented: true },
    { id: 'quistle', name: 'Quistle', makes: ['parts'], invented: true },
  ],
  parts: [{ number: 'QWR4T10', maker: 'quistle', categories: ['Accelerometer'] }],
};

const device = (id: string, name: string) => ({
  id,
  name,
  maker: 'tarn',
  bodySite: 'wrist',
  released: '2021-05',
  invented: true,
});

const DOSSIERS = [
  {
    caseback: 'dossier/1',
    device: device('tarn-sennit-3', 'Tarn Sennit 3'),
    specimen: { id: 'a' },
    teardown: {
      on: '2023-06-17',
      by: 'I. Example',
      steps: [
        { do: 'Run the cell down.', minutes: 30, hazards: ['lithium-cell'] },
        { do: 'Lift the lid.', tool: 'plastic wedge', minutes: 5, photo: 'lid' },
        { do: 'Lift the board out.', minutes: 5, photo: 'top' },
      ],
    },
    boards: [{ id: 'main', kind: 'rigid', name: 'Main board', sides: ['top', 'bottom'] }],
    components: [
      { id: 'U1', board: 'main', side: 'top', marking: '4T10' },
      { id: 'U2', board: 'main', side: 'top' },
      { id: 'J1', board: 'main', side: 'bottom', appears: 'Connector' },
    ],
    observations: [{ id: 'seen-1', about: ['U1'], kind: 'marking', marking: '4T10', photo: 'top' }],
    identifications: [
      {
        component: 'U1',
        candidates: [{ part: 'quistle/QWR4T10', probability: 0.7 }],
        basis: ['seen-1'],
      },
    ],
    photos: [
      photo('top', {
        caption: '<b>Top</b> & "bare"',
        board: 'main',
        side: 'top',
        regions: [
          { of: 'U1', xywh: [25, 40, 10, 5] },
          { of: 'U2', xywh: [0, 0, 100, 100] },
          { of: 'step-3', xywh: [33.33, 50.5, 20.25, 10] },
        ],
      }),
      photo('bottom', {
        board: 'main',
        side: 'bottom',
        licence: 'May be shown with the article.',
        credit: '<i>B. Example</i>',
        regions: [
          { of: 'J1', polygon: OUTLINE },
          { of: 'main', xywh: [5, 5, 90, 90] },
        ],
      }),
      photo('lid', { caption: 'The lid.', licence: 'http://rightsstatements.org/page/InC/1.0/' }),
      {
        id: 'digest-only',
        sha256: 'ab12'.repeat(16),
        credit: 'A. Example',
        licence: 'CC0-1.0',
        regions: [{ of: 'U1', xywh: [1, 2, 3, 4] }],
      },
    ],
  },
  {
    caseback: 'dossier/1',
    device: 'tarn-sennit-3',
    specimen: { id: 'b' },
    teardown: { on: '2023-07-01', by: 'I. Example' },
    photos: [],
  },
  {
    caseback: 'dossier/1',
    visibility: 'draft',
    device: device('tarn-veiled-1', 'Tarn Veiled 1'),
    specimen: { id: 'a' },
    teardown: { on: '2024-01-05', by: 'I. Example' },
    components: [{ id: 'U1' }],
    photos: [photo('hidden', { caption: 'Nobody sees this', regions: [{ of: 'U1', xywh: [1, 2, 30, 40] }] })],
  },
  {
    caseback: 'dossier/1',
    visibility: 'draft',
    device: 'tarn-sennit-3',
    specimen: { id: 'c' },
    teardown: { on: '2024-01-06', by: 'I. Example' },
    photos: [photo('waiting', { caption: 'Nobody sees this' })],
  },
];

/** The archive, in memory. */
export async function photoArchive(): Promise<Archive> {
  const folder = mkdtempSync(join(tmpdir(), 'caseback-renditions-'));
  const photos = new Photos(new MemoryPhotos(), folder);
  const archive = await Archive.open(new MemoryJournal(), undefined, undefined, photos);
  const atHand = new Map(Object.values(pictures).map((one) => [one.file.sha256, one]));
  await archive.importDocuments([CATALOGUE, ...DOSSIERS].map(documentOf), BY, { photos: atHand });
  return archive;
}
