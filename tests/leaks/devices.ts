import type { z } from 'zod';
import type { catalogueSchema } from '../../src/model/catalogue.ts';
import type { dossierSchema } from '../../src/model/dossier.ts';
import { photoDigest } from './photos.ts';

// Invented devices that all have one architecture, with enough difference between them that everything the service
// calculates comes out with a number: shares that rise over the years, chips in doubt, nets, mated connectors.

export type DossierInput = z.input<typeof dossierSchema>;
export type CatalogueInput = Omit<z.input<typeof catalogueSchema>, 'caseback'>;

export interface Wanted {
  readonly id: string;
  readonly released: string;
  readonly maker?: string;
  readonly productLine?: string;
  readonly succeeds?: readonly string[];
  /** Decides which parts it has; devices of one number have the same circuit. */
  readonly number: number;
  readonly specimen?: string;
  /** Only the id of the device stands in the dossier. */
  readonly isOnlyNamed?: boolean;
  /** Beside or in place of what every device has. */
  readonly more?: Partial<DossierInput>;
  /** Beside or in place of what the device says of itself. */
  readonly device?: object;
  /** A word that stands in the texts of this dossier. */
  readonly word?: string;
}

const ACCELEROMETERS = ['quistle/QWR4T10', 'quistle/QWR4T60', 'quistle/QWR4T80'];
const MARKINGS = ['4T10', '4T60', '4T80'];

/** A dossier of two boards that meet in connectors: processor, sensors, regulator, cell, and what stands between. */
export function dossier(wanted: Wanted): DossierInput {
  const { id, released, maker = 'tarn', productLine, succeeds = [], number, word = 'plain' } = wanted;
  const name = `${id} ${word}`;
  const chip = number % 3;
  const hasPressure = number >= 8 || number % 5 === 0;
  const doubt = number % 5 === 2;
  // A maker that comes into a line, perhaps a device earlier, and goes, perhaps a device later.
  const compass = number >= 10 && number < 20 ? 0.97 : number === 8 || number === 20 ? 0.3 : 0;
  const pressure = hasPressure
    ? {
        component: {
          id: 'U3',
          board: 'sense',
          side: 'top' as const,
          at: { x: 6, y: 3 },
          package: 'LGA-10',
          marking: 'P2001',
          subsystem: 'sensing',
        },
        identification: {
          component: 'U3',
          candidates: [{ part: 'quistle/QWR2001', probability: doubt ? 0.7 : 0.98 }],
          state: 'settled' as const,
          basis: ['o3'],
        },
        observation: {
          id: 'o3',
          about: ['U3'],
          kind: 'marking' as const,
          marking: 'P2001',
          cites: ['note-1'],
          method: 'microscope',
          by: 'I. Example',
          note: 'Read twice.',
        },
      }
    : undefined;
  return {
    caseback: 'dossier/1',
    device: wanted.isOnlyNamed
      ? id
      : {
          id,
          name,
          maker,
          ...(productLine && { productLine }),
          released,
          succeeds: [...succeeds],
          bodySite: (['wrist', 'finger', 'ear'] as const)[number % 3],
          mass: `${20 + number} g`,
          dimensions: { length: `${40 + number} mm`, width: '36 mm', height: '11 mm' },
          price: { amount: 99 + 10 * number, currency: 'EUR' },
          ingress: 'IP67',
          regulatoryIds: [{ scheme: 'fcc', id: `TST${number}` }],
          invented: true,
          note: `A ${word} note.`,
          ...wanted.device,
        },
    specimen: {
      id: wanted.specimen ?? 'a',
      revision: `B${number}`,
      bought: '2025-06',
      region: 'DE',
      serial: `S-${number}-${word}`,
      note: `Bought ${word}.`,
    },
    teardown: {
      on: '2025-07-05',
      by: 'I. Example',
      place: `${word} bench`,
      hazards: ['lithium-cell'],
      steps: [
        { do: `Warm the ${word} rim.`, tool: 'plate', hazards: ['heat'], minutes: 4 },
        { do: 'Cut the seal.', destructive: true, hazards: ['blade'], photo: 'p1' },
      ],
      note: 'It came off whole.',
    },
    boards: [
      {
        id: 'main',
        name: 'Main board',
        kind: 'rigid',
        outline: {
          points: [
            [0, 0],
            [30, 0],
            [30, 20],
            [0, 20],
          ],
          holes: [{ centre: [4, 16], diameter: 2 }],
        },
        layers: 6,
        fullyInventoried: number !== 1 && number !== 7,
        fullyTraced: number % 2 === 0,
        note: 'Green.',
      },
      {
        id: 'sense',
        kind: 'flex',
        outline: { length: 10, width: 8 },
        sides: ['top'],
        stackedOn: 'main',
        fullyInventoried: number !== 1 && number !== 7,
      },
    ],
    subsystems: [
      { id: 'sensing', kind: 'sensing', name: 'Sensing', note: 'At the skin.' },
      { id: 'power', kind: 'power' },
    ],
    components: [
      {
        id: 'U1',
        board: 'main',
        side: 'top',
        at: { x: 8, y: 6 },
        rotation: 90,
        printed: true,
        package: 'QFN-32',
        pins: 32,
        body: { length: 4, width: 4, height: 0.8 },
        marking: 'OS7',
        reading: 0.98,
        pinout: [
          { number: 1, name: 'VDD', function: 'supply-input', direction: 'power-input' },
          { number: 4, name: 'SDA', direction: 'bidirectional', function: 'data' },
        ],
        note: 'Under a shield.',
      },
      {
        id: 'U2',
        board: 'sense',
        side: 'top',
        at: { x: 2, y: 3 },
        package: 'LGA-12',
        body: { length: 2, width: 2 },
        marking: number % 4 === 1 ? `${MARKINGS[chip]?.slice(0, 2)}?0` : MARKINGS[chip],
        subsystem: 'sensing',
      },
      ...(pressure ? [pressure.component] : []),
      {
        id: 'U4',
        board: 'main',
        side: 'bottom',
        at: { x: 20, y: 6 },
        package: 'SOT-23-5',
        marking: 'BW18',
        subsystem: 'power',
      },
      // In later devices nobody could name it.
      {
        id: 'U5',
        board: 'main',
        side: 'top',
        at: { x: 14, y: 12 },
        package: 'QFN-16',
        marking: `Z${number}K`,
      },
      ...(compass ? [{ id: 'U6', board: 'main', side: 'top' as const, package: 'LGA-10' }] : []),
      { id: 'Q1', board: 'main', side: 'top', at: { x: 15, y: 15 }, package: 'SOT-23' },
      { id: 'R1', board: 'main', side: 'top', at: { x: 11, y: 6 }, value: '4.7 kOhm', appears: 'Resistor' },
      { id: 'R3', board: 'main', side: 'top', at: { x: 11, y: 9 }, value: '22 Ohm', appears: 'Resistor' },
      { id: 'FB1', board: 'main', side: 'top', at: { x: 22, y: 9 }, appears: 'FerriteBead' },
      { id: 'R2', board: 'main', side: 'top', at: { x: 12, y: 6 }, value: '1 kOhm', fitted: false },
      { id: 'J1', board: 'main', side: 'top', at: { x: 25, y: 10 }, appears: 'FlexConnector' },
      { id: 'J2', board: 'sense', side: 'top', at: { x: 8, y: 4 }, appears: 'FlexConnector' },
      {
        id: 'D1',
        board: 'sense',
        side: 'top',
        at: { x: 4, y: 6 },
        appears: 'Photodiode',
        subsystem: 'sensing',
      },
      { id: 'A1', board: 'main', side: 'top', at: { x: 3, y: 3 }, package: 'module' },
      { id: 'C1', board: 'main', inside: 'A1', appears: 'Capacitor', value: '100 nF' },
      { id: 'BT1', marking: 'YBAP', appears: 'PouchCell', subsystem: 'power' },
    ],
    connections: [
      {
        between: ['U1', 'U2'],
        medium: 'trace',
        bus: 'I2C',
        lines: 2,
        basis: ['o2'],
        note: 'Through the flex.',
      },
      ...(pressure
        ? [{ between: ['U1', 'U3'] as [string, string], medium: 'trace' as const, bus: 'I2C' as const }]
        : []),
      { between: ['D1', 'U2'], medium: 'trace', bus: 'analogue' },
      {
        between: ['J1', 'J2'],
        medium: 'flex',
        pins: [
          ['1', '1'],
          ['2', '2'],
        ],
      },
      { between: ['BT1', 'main'], medium: 'wire' },
    ],
    nets: [
      { id: 'vbat', label: 'VBAT', kind: 'power', voltage: '3.7 V', pins: ['BT1.1', 'FB1.1'] },
      { id: 'vbat-2', label: 'VBAT', kind: 'power', voltage: '3.7 V', pins: ['FB1.2', 'U4.1'] },
      { id: 'int-1', kind: 'signal', pins: ['U1.6', 'R3.1'] },
      { id: 'int-2', kind: 'signal', pins: ['R3.2', 'U5.3'] },
      {
        id: 'v1',
        label: '1V8',
        kind: 'power',
        voltage: '1.8 V',
        pins: ['U4.5', 'U1.VDD', 'R1.1', 'Q1'],
        basis: ['o2'],
        note: 'Probed.',
      },
      {
        id: 'sda',
        label: 'SDA',
        kind: 'signal',
        bus: 'I2C',
        pins: ['U1.4', 'R1.2', 'J1.1', 'U5.2'],
        complete: true,
        medium: 'flex',
      },
      {
        id: 'sda-2',
        label: 'SDA',
        kind: 'signal',
        bus: 'I2C',
        pins: ['J2.1', 'U2.3', ...(pressure ? ['U3.2'] : [])],
      },
      { id: 'gnd', label: 'GND', kind: 'ground', pins: ['U1.GND', 'U4.2', 'BT1.2'] },
    ],
    observations: [
      {
        id: 'o1',
        about: ['U2'],
        kind: 'marking',
        marking: MARKINGS[chip],
        photo: 'p1',
        suggestion: {
          by: 'reader 1',
          marking: MARKINGS[chip],
          region: 'xywh=percent:10,20,5,5',
          turned: 90,
        },
        on: '2025-07-05',
        by: 'I. Example',
        text: `Read by ${word} light.`,
      },
      { id: 'o2', about: ['U1', 'sda'], kind: 'trace', leadsTo: ['U2'], cites: ['note-1'] },
      ...(pressure ? [pressure.observation] : []),
      { id: 'o4', about: ['U2'], kind: 'body-size', value: '2 ± 0.1 mm' },
      { id: 'o5', about: ['U2'], kind: 'marking', marking: MARKINGS[chip], corrects: 'o1' },
    ],
    identifications: [
      {
        component: 'U1',
        candidates: [{ part: 'ostrel/OS7', probability: 0.97 }],
        state: 'settled',
        by: 'I. Example',
        on: '2025-07-06',
        reason: 'Marking and body agree.',
        cites: ['note-1'],
      },
      {
        component: 'U2',
        candidates: [
          { part: ACCELEROMETERS[chip], probability: doubt ? 0.6 : 0.97 },
          { part: ACCELEROMETERS[(chip + 2) % 3], probability: doubt ? 0.3 : 0.02 },
        ],
        state: 'settled',
        basis: ['o5'],
      },
      ...(pressure ? [pressure.identification] : []),
      { component: 'U4', candidates: [{ part: 'brackwen/BWN1018', probability: 0.96 }], state: 'settled' },
      ...(number < 8
        ? [
            {
              component: 'U5',
              candidates: [{ category: 'FlashMemory', probability: 0.97 }],
              state: 'settled' as const,
            },
          ]
        : []),
      ...(compass ? [{ component: 'U6', candidates: [{ part: 'havelin/HV1', probability: compass }] }] : []),
      { component: 'Q1', candidates: [{ category: 'Transistor', maker: 'brackwen', probability: 0.6 }] },
      { component: 'BT1', candidates: [{ part: 'akkerby/YBAP1', probability: 0.97 }], state: 'settled' },
    ],
    photos: [
      {
        id: 'p1',
        sha256: photoDigest(word),
        file: 'p1.jpg',
        caption: `The ${word} board.`,
        credit: 'I. Example',
        licence: 'CC-BY-4.0',
        board: 'main',
        side: 'top' as const,
        // Of an invented camera; the last one is off by a pixel.
        points: [
          { at: [9.375, 91.667], mm: [0, 0], within: 0.01 },
          { at: [83.705, 93.006], mm: [30, 0] },
          { at: [79.385, 20.161], mm: [30, 20] },
          { at: [12.556, 11.161], mm: [0, 20] },
          { at: [48.131, 52.083], mm: [15, 10] },
          { at: [48.644, 92.374], mm: [15, 0] },
          { at: [12.618, 49.135], mm: [0, 10] },
        ],
        regions: [
          { of: 'U2', xywh: [10, 20, 5, 5] },
          { of: 'U1', xywh: [25.94, 58.3, 10.25, 16.89] },
          // No board is seen so.
          { of: 'R1', xywh: [40, 40, 30, 0.2] },
          {
            of: 'step-1',
            polygon: [
              [10, 10],
              [60, 10],
              [30, 70],
            ],
          },
        ],
      },
      {
        // Known by its digest alone.
        id: 'p2',
        sha256: 'ab12'.repeat(16),
        credit: 'I. Example',
        licence: 'CC-BY-4.0',
        regions: [{ of: 'U2', xywh: [30, 20, 5, 5] }],
      },
    ],
    ...wanted.more,
  };
}

const maker = (id: string, makes: 'devices' | 'parts') => ({
  id,
  name: id.charAt(0).toUpperCase() + id.slice(1),
  makes: [makes],
  invented: true as const,
  country: 'DE',
  note: 'Invented.',
});

/** What is published of the catalogue from the start. */
export const CATALOGUE: CatalogueInput = {
  makers: [
    maker('tarn', 'devices'),
    maker('nolvey', 'devices'),
    ...['quistle', 'ostrel', 'brackwen', 'akkerby', 'havelin'].map((id) => maker(id, 'parts')),
  ],
  productLines: [
    { id: 'tarn-sennit', name: 'Tarn Sennit', maker: 'tarn', note: 'Bands.' },
    { id: 'tarn-lobe', name: 'Tarn Lobe', maker: 'tarn' },
    { id: 'nolvey-ferrule', name: 'Nolvey Ferrule', maker: 'nolvey' },
  ],
  parts: [
    ...['4T10', '4T60', '4T80'].map((digits, at) => ({
      number: `QWR${digits}`,
      maker: 'quistle',
      name: 'accelerometer',
      categories: at === 1 ? ['Accelerometer', 'Gyroscope'] : ['Accelerometer'],
      package: 'LGA-12',
      pins: 12,
      body: { length: 2, width: 2, height: 1 },
      markings: [digits],
      introduced: `${2012 + at}-03`,
      discontinued: '2024',
      pinout: [{ number: 3, name: 'SDA', function: 'data' as const, direction: 'bidirectional' as const }],
      parameters: {
        axes: 3,
        supplyMin: '1.7 V',
        activeCurrent: `${10 + at} uA`,
        accelerationNoise: '0.002 m/s2',
      },
      note: 'From the sheet.',
    })),
    {
      number: 'QWR2001',
      maker: 'quistle',
      categories: ['PressureSensor'],
      package: 'LGA-10',
      markings: ['P2001'],
    },
    {
      number: 'OS7',
      maker: 'ostrel',
      categories: ['Microcontroller', 'BluetoothRadio'],
      introduced: '2014',
      package: 'QFN-32',
      markings: ['OS7'],
    },
    { number: 'HV1', maker: 'havelin', categories: ['Magnetometer'], package: 'LGA-10' },
    { number: 'OS7R', maker: 'ostrel', categories: ['Accelerometer'], relabels: 'quistle/QWR4T10' },
    {
      number: 'BWN1018',
      maker: 'brackwen',
      categories: ['LinearRegulator'],
      package: 'SOT-23-5',
      markings: ['BW18'],
      pinout: [
        { number: 1, name: 'VIN', function: 'supply-input', direction: 'power-input' },
        { number: 2, name: 'GND', function: 'ground' },
        { number: 5, name: 'VOUT', function: 'supply-output', direction: 'power-output', output: 'main' },
      ],
      parameters: { outputVoltage: '1.8 V', quiescentCurrent: '1 uA' },
    },
    {
      number: 'YBAP1',
      maker: 'akkerby',
      categories: ['PouchCell'],
      markings: ['YBAP'],
      parameters: {
        outputVoltage: '3.7 V',
        capacity: '90 mAh',
        chemistry: 'lithium polymer',
        rechargeable: true,
      },
    },
  ],
  sources: [
    {
      id: 'note-1',
      kind: 'correspondence',
      title: 'A letter',
      url: 'https://example.org/note',
      licence: 'CC-BY-4.0',
      accessed: '2024-03',
      note: 'On paper.',
    },
  ],
  patterns: [
    {
      id: 'sensor-on-the-bus',
      name: 'Sensor on the bus',
      idea: 'The sensor speaks to the processor directly.',
      text: 'MATCH (s:Sensor)~[:CONNECTS]~(p:Processor) RETURN s, p',
      reasons: ['Fewer parts.'],
      against: ['It may be a prototype.'],
      strength: 0.8,
      check: { name: 'averaging', inputs: { count: 'count(s, p)', noise: 's.accelerationNoise' } },
      note: 'Usual.',
    },
    {
      id: 'part-shared-by-makers',
      name: 'One part in devices of two makers',
      idea: 'Both buy the same part.',
      scope: 'archive',
      text: 'MATCH (a:Sensor)-[:IDENTIFIED_AS]->(p:Part)<-[:IDENTIFIED_AS]-(b:Sensor) WHERE a.specimen < b.specimen RETURN a, b, p',
      reasons: ['It is the best to be had.'],
    },
  ],
  listMappings: [
    {
      id: 'places-by-shop',
      title: 'Placement lists of the assembler',
      columns: [
        { heading: 'Kind', field: 'value', unit: 'nF' },
        { heading: 'East', field: 'centreX', unit: 'mil' },
      ],
      sheet: 'Places',
      headingRow: 3,
      decimal: 'comma',
      unit: 'mil',
      note: 'Since 2025.',
    },
  ],
  feeds: [
    {
      id: 'gauges-by-year',
      title: 'Pressure sensors by year',
      question:
        'query ($of: String!) { trend(of: { share: { category: $of } }) { of total { periods { period value } } } }',
      variables: { of: 'PressureSensor' },
      rows: 'trend.total.periods',
      maxAge: 300,
      origins: ['https://desk.example.org'],
      note: 'For the page of the newsroom.',
    },
  ],
};
