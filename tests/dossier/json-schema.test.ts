import { readFileSync } from 'node:fs';
import { Ajv2020, type ValidateFunction } from 'ajv/dist/2020.js';
import formats from 'ajv-formats';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { jsonSchemas } from '../../src/dossier/json-schema.ts';
import { writtenForm } from '../../src/dossier/written-form.ts';
import { catalogueSchema } from '../../src/model/catalogue.ts';
import { dossierSchema } from '../../src/model/dossier.ts';
import { accepted } from './arbitrary.ts';
import { changed, GOOD_DOSSIER } from './files.ts';

// Ajv is an independent implementation of JSON Schema 2020-12; strict, so that nothing in our schema is unknown to it.
function validator(name: string): ValidateFunction {
  const ajv = new Ajv2020({ strict: true, strictTypes: false, strictTuples: false, allErrors: true });
  formats.default(ajv);
  return ajv.compile(JSON.parse(jsonSchemas().get(name) ?? ''));
}

test.each([...jsonSchemas()])(
  'schema/%s follows from the model; fix with "npm run generate"',
  (name, text) => {
    expect(readFileSync(new URL(`../../schema/${name}`, import.meta.url), 'utf8')).toBe(text);
  },
);

test.each([...jsonSchemas()])(
  '%s is a valid schema of JSON Schema 2020-12 and stays small enough to read',
  (name, text) => {
    expect(validator(name)).toBeTypeOf('function');
    expect(JSON.parse(text).$schema).toBe('https://json-schema.org/draft/2020-12/schema');
    expect(text.length).toBeLessThan(68_000);
  },
);

describe.each([
  { name: 'dossier.schema.json', schema: dossierSchema },
  { name: 'catalogue.schema.json', schema: catalogueSchema },
])('$name', ({ name, schema }) => {
  test('accepts what the writer writes, for every record', () => {
    const validate = validator(name);
    const records = accepted(schema)
      .map((input) => schema.safeParse(input))
      .filter((result) => result.success);
    fc.assert(
      fc.property(records, ({ data }) => {
        expect(validate(writtenForm(schema, data)), JSON.stringify(validate.errors)).toBe(true);
      }),
      { numRuns: 80 },
    );
  });
});

describe('mistakes that an editor would see while typing', () => {
  const validate = validator('dossier.schema.json');
  // YAML tools take an unquoted 1E30 for a number and underline it; our reader takes it as it is written.
  const quoted = GOOD_DOSSIER.replaceAll('1E30', "'1E30'").replace('1.10', "'1.10'");

  test('the dossier without a mistake passes', () => {
    expect(validate(parse(quoted)), JSON.stringify(validate.errors)).toBe(true);
  });

  test('equal components in a row, nets and pins pass', () => {
    const more = `  - { id: LED1..LED16, board: main, side: top, at: { x: 1, y: 1 }, pitch: { x: 1.5, y: 0 } }
  - { id: R1, fitted: false, value: 4.7 kOhm, pinout: [{ number: 1 }, { name: SDA, direction: passive }] }
nets:
  - { id: sda, kind: signal, pins: [U1.4, main:R1.SDA, U2] }
connections:`;
    const text = changed(quoted, 'connections:', more);
    expect(validate(parse(text)), JSON.stringify(validate.errors)).toBe(true);
    for (const [from, to] of [
      ['pitch: { x: 1.5, y: 0 }', 'pitch: 1.5'],
      ['id: LED1..LED16', 'id: LED1...LED16'],
      ['pins: [U1.4', 'pins: [4'],
      ['direction: passive', 'direction: through'],
      ['kind: signal', 'kind: data'],
    ])
      expect([from, validate(parse(changed(text, from, to)))]).toEqual([from, false]);
  });

  test.each([
    ['bodySite: wrist', 'bodySite: arm'],
    ['bodySite: wrist', 'bodysite: wrist'],
    ['mass: 43 g', 'mass: 43'],
    ['id: tarn-sennit-3', 'id: Tarn Sennit 3'],
    ['released: 2019-04', 'released: April 2019'],
    ['- id: U1', '- id: 3C'],
    ['side: top', 'side: front'],
    ['between: [U1, U2]', 'between: [U1]'],
    ['part: quistle/QWR4T10', 'part: QWR4T10'],
    ['probability: 0.7', 'probability: 70'],
    ['category: Gyroscope', 'category: Gyro'],
    ['  name: Tarn Sennit 3\n', ''],
  ])('"%s" written as "%s" does not', (from, to) => {
    expect(validate(parse(changed(quoted, from, to)))).toBe(false);
  });
});
