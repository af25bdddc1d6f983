import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Cite } from '@citation-js/core';
import { Ajv } from 'ajv';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import {
  archiveItem,
  type CslItem,
  citationText,
  publicationItem,
  sourceItem,
} from '../../src/citation/csl.ts';
import { publicationSchema, sourceSchema } from '../../src/model/catalogue.ts';
import { CATALOGUE, DOSSIERS } from '../service/invented.ts';
import { archiveOf, type Served, serve } from '../service/serving.ts';

// Outside checks: the schema of CSL-JSON by the Citation Style Language project (tests/fixtures/README.md), and @citation-js/core,
// which reads it for reference managers.

const schema = JSON.parse(readFileSync(join(import.meta.dirname, '../fixtures/csl-data.json'), 'utf8'));
const isCsl = new Ajv({ strict: false }).compile(schema);

function expectCsl(items: readonly CslItem[]): void {
  expect([isCsl(items), isCsl.errors]).toEqual([true, null]);
  const read = new Cite(items as unknown as object[]);
  // The reader adds what it needs and keeps what it was given.
  expect(read.data).toEqual(items.map((item) => expect.objectContaining(item)));
}

const SOURCE_KINDS = sourceSchema.shape.kind.options;
const PUBLICATION_KINDS = publicationSchema.shape.kind.options;

describe('items of CSL-JSON', () => {
  test('sources of every kind, dated to the year, month or day', () => {
    const items = SOURCE_KINDS.flatMap((kind, number) =>
      [undefined, '2017', '2017-05', '2017-05-02'].map((accessed, at) =>
        sourceItem({
          id: `s${number}-${at}`,
          kind,
          title: 'Über die „Norm“',
          accessed,
          url: 'https://example.org/a?b=c',
        }),
      ),
    );
    expectCsl(items);
    expect(items.slice(0, 4).map(({ accessed }) => accessed?.['date-parts'])).toEqual([
      undefined,
      [[2017]],
      [[2017, 5]],
      [[2017, 5, 2]],
    ]);
  });

  test('publications of every kind, published or not', () => {
    const items = PUBLICATION_KINDS.flatMap((kind) =>
      ['2026-03', undefined].map((published) =>
        publicationItem(publicationSchema.parse({ id: kind, kind, title: 'T', published })),
      ),
    );
    expectCsl(items);
    expect(items.map(({ status }) => status)).toEqual(
      PUBLICATION_KINDS.flatMap(() => [undefined, 'in preparation']),
    );
  });

  test('the archive, and an answer of it with its address', () => {
    const instant = '2026-03-01T09:00:00.000Z';
    const answer = { id: 'mass-by-year', title: 'Mass by year' };
    const items = [
      archiveItem({ instant, isExact: true, isInvented: true }),
      archiveItem({
        instant,
        isExact: true,
        isInvented: false,
        answer,
        address: 'https://example.org/cite/x',
      }),
    ];
    expectCsl(items);
    expect(items.map(citationText)).toEqual([
      'Caseback archive of opened wearables. State of 2026-03-01T09:00:00.000Z. Invented demo data: no such device exists.',
      'Mass by year. In: Caseback archive of opened wearables. State of 2026-03-01T09:00:00.000Z. https://example.org/cite/x',
    ]);
  });

  test('no item would pass with a field that the standard does not know', () => {
    expect(
      isCsl([{ ...archiveItem({ instant: '2026-03-01', isExact: false, isInvented: false }), kind: 'x' }]),
    ).toBe(false);
    expect(isCsl([{ id: 'x', type: 'data set' }])).toBe(false);
  });
});

describe('in GraphQL', () => {
  let reader: Served;
  let desk: Served;
  beforeAll(async () => {
    const extra = {
      caseback: 'catalogue/1',
      sources: [
        { id: 'a-standard', kind: 'standard', title: 'A standard', accessed: '2026-02-03' },
        { id: 'a-draft', kind: 'press', title: 'A draft', visibility: 'draft' },
      ],
    };
    const archive = await archiveOf([CATALOGUE, ...DOSSIERS, extra]);
    reader = await serve({}, archive);
    desk = await serve({ audience: 'desk' }, archive);
  });
  afterAll(async () => {
    await reader.app.close();
    await desk.close();
  });

  test('sources, publications and the archive say how to cite them', async () => {
    const { source, publications, archive } = await reader.ask(`{
      source(id: "a-standard") { citation } publications { nodes { citation } } archive { citation } }`);
    expectCsl([
      source.citation,
      archive.citation,
      ...publications.nodes.map((one: { citation: CslItem }) => one.citation),
    ]);
    expect(source.citation).toEqual({
      id: 'a-standard',
      type: 'standard',
      title: 'A standard',
      accessed: { 'date-parts': [[2026, 2, 3]] },
    });
  });

  test('the archive is dated by the day, and by the instant where it is asked about one', async () => {
    const instant = new Date().toISOString();
    const query =
      'query ($at: DateTime!) { archive { citation } asOf(instant: $at) { archive { citation } } }';
    const { archive, asOf } = await desk.ask(query, { at: instant });
    const [year, month, day] = instant.slice(0, 10).split('-').map(Number);
    expect(archive.citation.issued['date-parts']).toEqual([[year, month, day]]);
    expect(archive.citation.version).toBeUndefined();
    expect(asOf.archive.citation.version).toBe(`state of ${instant}`);
  });

  test('a source that readers do not see cannot be cited by them', async () => {
    const query = '{ source(id: "a-draft") { citation } }';
    expect((await reader.ask(query)).source).toBeNull();
    expect((await desk.ask(query)).source.citation.title).toBe('A draft');
  });
});
