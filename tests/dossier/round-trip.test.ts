import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { z } from 'zod';
import { readDocument } from '../../src/dossier/read.ts';
import { writeCatalogue, writeDossier, writeJson } from '../../src/dossier/write.ts';
import { type Catalogue, catalogueSchema } from '../../src/model/catalogue.ts';
import { type Dossier, dossierSchema } from '../../src/model/dossier.ts';
import { accepted } from './arbitrary.ts';

function recordOf(text: string, file: string): Dossier | Catalogue {
  const { document, problems } = readDocument(Buffer.from(text, 'utf8'), file);
  expect(problems).toEqual([]);
  if (!document) throw new Error('nothing was read');
  return document.kind === 'dossier' ? document.dossier : document.catalogue;
}

/** Generated records; those that break a rule across fields (a candidate that names nothing) are passed over. */
function records<T>(schema: z.ZodType<T>) {
  return accepted(schema)
    .map((input) => schema.safeParse(input))
    .filter((result) => result.success)
    .map(({ data }) => data as T);
}

test('what is drawn has everything that the model has', () => {
  const drawn = fc.sample(records(dossierSchema as z.ZodType<Dossier>), { numRuns: 400, seed: 11 });
  const components = drawn.flatMap((one) => one.components);
  const outlines = drawn.flatMap(({ boards }) => boards.flatMap(({ outline }) => outline ?? []));
  const shaped = outlines.flatMap((one) => ('points' in one ? [one] : []));
  const nets = drawn.flatMap((one) => one.nets ?? []);
  const counts = {
    'a value': components.filter(({ value }) => value !== undefined).length,
    'an empty place': components.filter(({ fitted }) => fitted === false).length,
    'a pinout': components.filter(({ pinout }) => (pinout?.length ?? 0) > 0).length,
    'a net with a pin': nets.filter(({ pins }) => pins.some((pin) => pin.includes('.'))).length,
    'a net with a voltage': nets.filter(({ voltage }) => voltage).length,
    'mated pins': drawn.flatMap((one) => one.connections).filter(({ pins }) => (pins?.length ?? 0) > 0)
      .length,
    'an arc': shaped.filter(({ points }) => points.some((one) => !Array.isArray(one))).length,
    'a cut-out': shaped.filter(({ holes }) => (holes?.length ?? 0) > 0).length,
    'a piece that breaks off': shaped.filter(({ breakaway }) => (breakaway?.length ?? 0) > 0).length,
  };
  expect(Object.entries(counts).filter(([, count]) => count < 5)).toEqual([]);
});

describe.each([
  {
    name: 'dossiers',
    all: records<Dossier | Catalogue>(dossierSchema as z.ZodType<Dossier>),
    write: writeDossier as (record: Dossier | Catalogue) => string,
  },
  {
    name: 'catalogues',
    all: records<Dossier | Catalogue>(catalogueSchema as z.ZodType<Catalogue>),
    write: writeCatalogue as (record: Dossier | Catalogue) => string,
  },
])('$name', ({ all, write }) => {
  test('read back as they were written, and are written again to the same text', () => {
    fc.assert(
      fc.property(all, (record) => {
        const written = write(record);
        const read = recordOf(written, 'generated.yaml');
        expect(read).toStrictEqual(record);
        expect(write(read)).toBe(written);
      }),
      { numRuns: 150 },
    );
  });

  test('read back from JSON too', () => {
    fc.assert(
      fc.property(all, (record) => {
        expect(recordOf(writeJson(record), 'generated.json')).toStrictEqual(record);
      }),
      { numRuns: 60 },
    );
  });
});
