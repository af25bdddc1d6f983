import { type ReadDocument, readDocument } from '../../src/dossier/read.ts';
import { formatProblem } from '../../src/model/problems.ts';

/** A sound dossier of an invented device, on which tests make one mistake at a time. */
export const GOOD_DOSSIER = `caseback: dossier/1
device:
  id: tarn-sennit-3
  name: Tarn Sennit 3
  maker: tarn
  productLine: tarn-sennit
  released: 2019-04
  bodySite: wrist
  mass: 43 g
  dimensions: { length: 40 mm, width: 38 mm }
  price: { amount: 199, currency: EUR }
specimen: { id: a, revision: 1.10, bought: 2019-05-02, region: NO }
teardown:
  on: 2019-06
  by: I. Example
  hazards: [lithium-cell]
boards:
  - id: main
    kind: rigid
    outline: { length: 30, width: 20 }
  - id: sensor
    kind: flex
    sides: [top]
    outline: { points: [[0, 0], [10, 0], [0, 10]] }
components:
  - id: U1
    board: main
    side: top
    at: { x: 5, y: 5 }
    marking: 1E30
    package: LGA-14
  - id: U2
    board: sensor
    side: top
    at: { x: 2, y: 2 }
connections:
  - between: [U1, U2]
    medium: flex
    bus: I2C
    basis: [seen-1]
observations:
  - id: seen-1
    about: [U1]
    kind: marking
    marking: 1E30
identifications:
  - component: U1
    candidates:
      - { part: quistle/QWR4T10, probability: 0.7 }
      - { category: Gyroscope, probability: 0.2 }
    basis: [seen-1]
`;

/** The catalogue that the dossier leans on, all invented. */
export const GOOD_CATALOGUE = `caseback: catalogue/1
makers:
  - { id: tarn, name: Tarn, makes: [devices], invented: true }
  - { id: quistle, name: Quistle, makes: [parts], invented: true }
  - { id: ostrel, name: Ostrel, makes: [parts], invented: true }
productLines:
  - { id: tarn-sennit, name: Tarn Sennit, maker: tarn }
parts:
  - { number: QWR4T10, maker: quistle, categories: [Accelerometer], introduced: 2017 }
  - { number: OS7, maker: ostrel, categories: [Microcontroller], introduced: 2018 }
`;

/** One document read from text. */
export function documentOf(text: string, file = 'a.yaml'): ReadDocument {
  const { document, problems } = readDocument(Buffer.from(text, 'utf8'), file);
  if (!document) throw new Error(JSON.stringify(problems));
  return document;
}

/** The text with one part of it replaced; an error when the part is not there. */
export function changed(text: string, from: string, to: string): string {
  if (!text.includes(from)) throw new Error(`"${from}" does not stand in the text`);
  return text.replace(from, to);
}

/** What is said of a file called d.yaml, one line a problem. */
export function problemsIn(text: string | Uint8Array): readonly string[] {
  const bytes = typeof text === 'string' ? Buffer.from(text, 'utf8') : text;
  return readDocument(bytes, 'd.yaml').problems.map(formatProblem);
}

/** The sound dossier with nets, pinouts, mated pins, values, a place that is not fitted and a board with a cut-out. */
export const DOSSIER_WITH_NETS = [
  [
    'kind: rigid\n    outline: { length: 30, width: 20 }',
    'kind: rigid\n    outline: { points: [[0, 0], [30, 0], [30, 20], [0, 20]], holes: [{ points: [[10, 10], [12, 10], [12, 11], [10, 11]] }] }',
  ],
  [
    'package: LGA-14\n',
    'package: LGA-14\n    pinout: [{ number: 1, name: VDD, direction: power-input }, { number: 4, name: SDA }, { number: 7, name: GND }, { number: 8, name: GND }]\n',
  ],
  [
    'connections:',
    '  - { id: R1, board: main, side: top, value: 4.7 kOhm }\n  - { id: R2, board: main, side: top, value: 10 kOhm, fitted: false }\nconnections:',
  ],
  ['bus: I2C\n', "bus: I2C\n    pins: [[SDA, '2']]\n"],
  [
    'observations:',
    `nets:
  - { id: vdd, label: VDD, kind: power, voltage: 1.8 V, pins: [U1.VDD, R1.1, R2.1], complete: true, basis: [seen-1] }
  - { id: gnd, kind: ground, pins: [U1.GND, U2] }
  - { id: sda, kind: signal, bus: I2C, medium: flex, pins: [U1.4, R1.2, R2.2, U2.2], note: pulled up }
observations:
  - { id: seen-2, about: [sda], kind: probe, text: 400 kHz }`,
  ],
  [
    'identifications:\n',
    'identifications:\n  - { component: U2, candidates: [{ part: ostrel/OS7, probability: 0.9 }] }\n',
  ],
].reduce((text, [from, to]) => changed(text, from, to), GOOD_DOSSIER);

/** The catalogue, in which one part has a pinout. */
export const CATALOGUE_WITH_PINOUT = changed(
  GOOD_CATALOGUE,
  'introduced: 2018',
  'introduced: 2018, pinout: [{ number: 2, name: SDA, function: data }]',
);
