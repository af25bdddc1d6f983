import { describe, expect, test } from 'vitest';
import { readDocument } from '../../src/dossier/read.ts';
import { writeCatalogue, writeDossier } from '../../src/dossier/write.ts';
import { catalogueSchema } from '../../src/model/catalogue.ts';
import { dossierSchema } from '../../src/model/dossier.ts';

/** A dossier as the writer writes it: what an editor would write, too. */
const WRITTEN = `caseback: dossier/1
device:
  id: tarn-sennit-3
  name: Tarn Sennit 3
  maker: tarn
  released: 2019
  bodySite: wrist
  mass: 43 g
  dimensions: {length: 40 mm, width: 38 ± 0.5 mm}
  price: {amount: 199, currency: EUR}
specimen:
  id: a
  revision: "1.10"
  bought: 2019-05-02
  region: "NO"
teardown:
  on: 2019-06
  by: I. Example
  hazards: [lithium-cell, blade]
boards:
  - id: main
    kind: rigid
    outline: {length: 30, width: 20}
components:
  - id: U1
    board: main
    side: top
    at: {x: 5, y: 5.25}
    package: LGA-14
    marking: |-
      QWR4T
      1E3?
connections:
  - between: [U1, main]
    medium: trace
    bus: I2C
observations:
  - id: seen-1
    about: [U1]
    kind: marking
    text: "Read twice: by lens, then under raking light."
identifications:
  - component: U1
    candidates:
      - {part: quistle/QWR4T10, probability: 0.7}
      - {category: Gyroscope, probability: 0.2}
    basis: [seen-1]
`;

describe('the writer', () => {
  test('writes as an editor would: units beside numbers, short groups on one line, defaults left out', () => {
    const { document } = readDocument(Buffer.from(WRITTEN), 'a.yaml');
    if (document?.kind !== 'dossier') throw new Error('no dossier');
    expect(writeDossier(document.dossier)).toBe(WRITTEN);
  });

  test('keeps the order of the schema, whatever the order of the record', () => {
    const dossier = dossierSchema.parse({
      caseback: 'dossier/1',
      device: 'd',
      specimen: { id: 'a' },
      teardown: { on: '2020', by: 'I.' },
    });
    const reversed = Object.fromEntries(Object.entries(dossier).reverse()) as typeof dossier;
    expect(writeDossier(reversed)).toBe(writeDossier(dossier));
    expect(writeDossier(dossier)).toBe(
      'caseback: dossier/1\ndevice: d\nspecimen:\n  id: a\nteardown:\n  on: 2020\n  by: I.\n',
    );
  });

  test('writes value and unit where text would be read as text', () => {
    const catalogue = catalogueSchema.parse({
      caseback: 'catalogue/1',
      patterns: [
        {
          id: 'p',
          name: 'P',
          idea: 'I.',
          text: 'MATCH (n) RETURN n',
          reasons: ['R.'],
          check: { name: 'c', inputs: { a: '3.7 V', b: { value: 3.7, unit: 'V' }, c: 3.7 } },
        },
      ],
    });
    expect(writeCatalogue(catalogue)).toContain('inputs: {a: 3.7 V, b: {value: 3.7, unit: V}, c: 3.7}');
  });

  test('has no list for a collection that is empty', () => {
    expect(writeCatalogue(catalogueSchema.parse({ caseback: 'catalogue/1' }))).toBe(
      'caseback: catalogue/1\n',
    );
  });
});
