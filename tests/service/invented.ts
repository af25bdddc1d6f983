import type { z } from 'zod';
import type { catalogueSchema } from '../../src/model/catalogue.ts';
import type { dossierSchema } from '../../src/model/dossier.ts';

// A small invented archive that has what the service must get right: two product lines, a hardware revision,
// rival candidates, a correction, a draft and an embargoed device, and a publication that rests on a hidden one.

export const CATALOGUE: z.input<typeof catalogueSchema> = {
  caseback: 'catalogue/1',
  makers: [
    { id: 'tarn', name: 'Tarn', makes: ['devices'], country: 'FI', invented: true },
    { id: 'veil', name: 'Veil', makes: ['devices'], invented: true, note: 'known through a draft only' },
    { id: 'quistle', name: 'Quistle', makes: ['parts'], invented: true },
    { id: 'ostrel', name: 'Ostrel', makes: ['parts'], invented: true },
  ],
  productLines: [
    { id: 'tarn-sennit', name: 'Tarn Sennit', maker: 'tarn' },
    { id: 'tarn-lobe', name: 'Tarn Lobe', maker: 'tarn' },
    { id: 'veil-ring', name: 'Veil Ring', maker: 'veil' },
  ],
  parts: [
    {
      number: 'QWR4T10',
      maker: 'quistle',
      categories: ['Accelerometer'],
      package: 'LGA-12',
      pins: 12,
      introduced: '2014',
      markings: ['4T10\n{date:YWW}'],
      parameters: { supplyMin: '1.7 V' },
    },
    {
      number: 'QWR4T60',
      maker: 'quistle',
      categories: ['Accelerometer', 'Gyroscope'],
      introduced: '2016-03',
    },
    { number: 'QWR2001', maker: 'quistle', categories: ['PressureSensor'] },
    { number: 'OS7', maker: 'ostrel', categories: ['Microcontroller', 'BluetoothRadio'], introduced: '2015' },
    { number: 'OS7R', maker: 'ostrel', categories: ['Accelerometer'], relabels: 'quistle/QWR4T10' },
    { number: 'OS9', maker: 'ostrel', categories: ['AnalogueFrontEnd'] },
  ],
  sources: [{ id: 'note-1', kind: 'correspondence', title: 'A letter' }],
  publications: [
    {
      id: 'letter-one',
      kind: 'article',
      title: 'Loops counted',
      published: '2024-02',
      claims: [
        {
          id: 'c1',
          sentence: 'The Sennit 2 senses pressure.',
          supportedBy: ['tarn-sennit-2/a/U2', 'tarn-hidden/a', 'note-1'],
          probability: 0.9,
        },
      ],
    },
    { id: 'hidden-film', kind: 'video', title: 'Hidden film', visibility: 'draft', claims: [] },
  ],
  patterns: [
    {
      id: 'front-end-at-sensor',
      name: 'Front end at the sensor',
      idea: 'The signal is amplified where it arises.',
      text: 'MATCH (s:Sensor)~[:CONNECTS]~(a:AnalogueFrontEnd) RETURN s, a',
      reasons: ['Less noise on the way.'],
    },
  ],
};

type DossierInput = z.input<typeof dossierSchema>;

interface Wanted {
  readonly id: string;
  readonly name: string;
  readonly released: string;
  readonly productLine?: string;
  readonly maker?: string;
  readonly succeeds?: string[];
  readonly more?: Partial<DossierInput>;
}

/** A dossier with two boards, a handful of components on both sides, and connections between them. */
export function dossier({
  id,
  name,
  released,
  productLine,
  maker = 'tarn',
  succeeds = [],
  more = {},
}: Wanted): DossierInput {
  return {
    caseback: 'dossier/1',
    device: {
      id,
      name,
      maker,
      ...(productLine && { productLine }),
      released,
      succeeds,
      bodySite: 'wrist',
      mass: '31 g',
      dimensions: { length: '41 mm', width: '36.5 mm', height: '11 mm' },
      price: { amount: 199, currency: 'EUR' },
      ingress: 'IP67',
      invented: true,
    },
    specimen: { id: 'a', revision: 'B1' },
    teardown: {
      on: '2024-01-05',
      by: 'I. Example',
      steps: [
        { do: 'Warm the rim.', hazards: ['heat'], minutes: 4 },
        { do: 'Cut the seal.', destructive: true, hazards: ['blade'] },
      ],
    },
    boards: [
      { id: 'main', kind: 'rigid-flex', outline: { length: 30, width: 20 }, layers: 8 },
      {
        id: 'sense',
        kind: 'flex',
        outline: {
          points: [
            [0, 0],
            [10, 0],
            [0, 10],
          ],
        },
        sides: ['top'],
        stackedOn: 'main',
      },
    ],
    subsystems: [
      { id: 'sensing', kind: 'sensing' },
      { id: 'processing', kind: 'processing' },
    ],
    components: [
      {
        id: 'U1',
        board: 'main',
        side: 'top',
        at: { x: 5, y: 6 },
        marking: 'OS7',
        reading: 0.98,
        subsystem: 'processing',
      },
      {
        id: 'U2',
        board: 'sense',
        side: 'top',
        at: { x: 2, y: 3 },
        marking: 'A?1\n4[8B]',
        subsystem: 'sensing',
      },
      {
        id: 'U10',
        board: 'main',
        side: 'bottom',
        subsystem: 'sensing',
        package: 'LGA-12',
        body: { length: 2, width: 2 },
      },
      { id: 'D1', board: 'sense', side: 'top', appears: 'Photodiode', subsystem: 'sensing' },
      { id: 'J1', board: 'sense', side: 'top', appears: 'FlexConnector' },
      { id: 'BT1', appears: 'Battery' },
    ],
    connections: [
      { between: ['U1', 'U10'], medium: 'trace', bus: 'I2C', lines: 2, basis: ['o2'] },
      { between: ['D1', 'U2'], medium: 'trace', bus: 'analogue' },
      { between: ['U2', 'J1'], medium: 'trace' },
      { between: ['J1', 'main'], medium: 'flex' },
    ],
    observations: [
      { id: 'o1', about: ['U2'], kind: 'marking', marking: 'A?1\n4[8B]', photo: 'p1', on: '2024-01-05' },
      { id: 'o2', about: ['U1'], kind: 'trace', leadsTo: ['U10'] },
      { id: 'o3', about: ['U2'], kind: 'marking', marking: 'AB1\n48', corrects: 'o1' },
      { id: 'o4', about: ['U10'], kind: 'body-size', value: '2 ± 0.1 mm' },
    ],
    identifications: [
      { component: 'U1', candidates: [{ part: 'ostrel/OS7', probability: 0.97 }], state: 'settled' },
      { component: 'U2', candidates: [{ part: 'ostrel/OS9', probability: 0.9 }], basis: ['o3'] },
      {
        component: 'U10',
        candidates: [
          { part: 'quistle/QWR4T60', probability: 0.25 },
          { part: 'quistle/QWR4T10', probability: 0.6 },
        ],
        state: 'favoured',
        basis: ['o4'],
      },
    ],
    photos: [
      {
        id: 'p1',
        sha256: 'ab12'.repeat(16),
        credit: 'I. Example',
        licence: 'CC-BY-4.0',
        regions: [{ of: 'U2', xywh: [10, 20, 5, 5] }],
      },
    ],
    ...more,
  };
}

const SECRETS = { notes: 'zebrawood' } as const;

export const DOSSIERS: readonly DossierInput[] = [
  dossier({ id: 'tarn-sennit-1', name: 'Tarn Sennit 1', released: '2016-05', productLine: 'tarn-sennit' }),
  dossier({
    id: 'tarn-sennit-2',
    name: 'Tarn Sennit 2',
    released: '2018',
    productLine: 'tarn-sennit',
    succeeds: ['tarn-sennit-1'],
    more: {
      identifications: [
        { component: 'U2', candidates: [{ part: 'quistle/QWR2001', probability: 0.99 }], state: 'settled' },
      ],
    },
  }),
  {
    ...dossier({ id: 'tarn-sennit-2', name: 'Tarn Sennit 2', released: '2018' }),
    device: 'tarn-sennit-2',
    specimen: { id: 'b', revision: 'C0', condition: 'damaged-in-opening' },
    teardown: { on: '2023-06-01', by: 'I. Example' },
  },
  dossier({
    id: 'tarn-sennit-3',
    name: 'Tarn Sennit 3',
    released: '2020-09-15',
    productLine: 'tarn-sennit',
    succeeds: ['tarn-sennit-2'],
  }),
  dossier({ id: 'tarn-lobe-1', name: 'Tarn Lobe', released: '2020', productLine: 'tarn-lobe' }),
  dossier({
    id: 'tarn-hidden',
    name: `Tarn Secret ${SECRETS.notes}`,
    released: '2023-11',
    productLine: 'tarn-sennit',
    succeeds: ['tarn-sennit-3'],
    more: { visibility: 'embargoed', embargoUntil: '2999-01-01T00:00:00Z' },
  }),
  dossier({
    id: 'veil-ring-1',
    name: `Veil Ring ${SECRETS.notes}`,
    released: '2023',
    productLine: 'veil-ring',
    maker: 'veil',
    more: { visibility: 'draft' },
  }),
];

/** Ids that only the desk may know of. */
export const HIDDEN = {
  devices: ['tarn-hidden', 'veil-ring-1'],
  specimens: ['tarn-hidden/a', 'veil-ring-1/a'],
  inside: ['tarn-hidden/a/U1', 'veil-ring-1/a/main', 'veil-ring-1/a/o1', 'veil-ring-1/a/teardown'],
  makers: ['veil'],
  productLines: ['veil-ring'],
  publications: ['hidden-film'],
  /** A word that stands in hidden records alone. */
  word: SECRETS.notes,
} as const;
