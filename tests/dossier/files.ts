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
      - { part: quillon/QWR4410, probability: 0.7 }
      - { category: Gyroscope, probability: 0.2 }
    basis: [seen-1]
`;

/** The catalogue that the dossier leans on, all invented. */
export const GOOD_CATALOGUE = `caseback: catalogue/1
makers:
  - { id: tarn, name: Tarn, makes: [devices], invented: true }
  - { id: quillon, name: Quillon, makes: [parts], invented: true }
  - { id: ostrel, name: Ostrel, makes: [parts], invented: true }
productLines:
  - { id: tarn-sennit, name: Tarn Sennit, maker: tarn }
parts:
  - { number: QWR4410, maker: quillon, categories: [Accelerometer], introduced: 2017 }
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
