import { Readable } from 'node:stream';
import env from '@zazuko/env-node';
import CsvwParser from '@zazuko/rdf-parser-csvw';
import { Parser, type Quad } from 'n3';
import { validateTerm } from 'rdf-validate-datatype';
import { beforeAll, expect, test } from 'vitest';
import { exportFiles } from '../../src/questions/exports.ts';
import type { State } from '../../src/state/state.ts';
import { quadsOf } from '../linked/reading.ts';
import { demoArchive } from '../trends/demo.ts';
import { parseCsv } from './rfc4180.ts';

// Tables with their metadata as a processor of CSV on the Web makes RDF of them that was written without this project
// (@zazuko/rdf-parser-csvw; W3C "Generating RDF from Tabular Data on the Web", 2015). The metadata are read as JSON-LD by another one.

/** Of the context at http://www.w3.org/ns/csvw (W3C, 2015): the terms that our metadata have, as it defines them. */
const CONTEXT = {
  csvw: 'http://www.w3.org/ns/csvw#',
  dc: 'http://purl.org/dc/terms/',
  schema: 'http://schema.org/',
  xsd: 'http://www.w3.org/2001/XMLSchema#',
  minimum: 'csvw:minInclusive',
  maximum: 'csvw:maxInclusive',
  base: { '@id': 'csvw:base', '@language': null },
  columnReference: { '@id': 'csvw:columnReference', '@language': null, '@container': '@list' },
  columns: { '@id': 'csvw:column', '@type': '@id', '@container': '@list' },
  datatype: { '@id': 'csvw:datatype', '@type': '@vocab' },
  delimiter: { '@id': 'csvw:delimiter', '@language': null },
  dialect: { '@id': 'csvw:dialect', '@type': '@id' },
  doubleQuote: { '@id': 'csvw:doubleQuote', '@type': 'xsd:boolean' },
  encoding: { '@id': 'csvw:encoding', '@language': null },
  foreignKeys: { '@id': 'csvw:foreignKey', '@type': '@id' },
  format: { '@id': 'csvw:format', '@language': null },
  header: { '@id': 'csvw:header', '@type': 'xsd:boolean' },
  name: { '@id': 'csvw:name', '@language': null },
  primaryKey: { '@id': 'csvw:primaryKey', '@language': null },
  quoteChar: { '@id': 'csvw:quoteChar', '@language': null },
  reference: { '@id': 'csvw:reference', '@type': '@id' },
  required: { '@id': 'csvw:required', '@type': 'xsd:boolean' },
  resource: { '@id': 'csvw:resource', '@type': 'xsd:anyURI' },
  separator: { '@id': 'csvw:separator', '@language': null },
  tables: { '@id': 'csvw:table', '@type': '@id', '@container': '@set' },
  tableSchema: { '@id': 'csvw:tableSchema', '@type': '@id' },
  titles: { '@id': 'csvw:title', '@container': '@language' },
  url: { '@id': 'csvw:url', '@type': 'xsd:anyURI' },
} as const;

interface Metadata {
  readonly '@context': readonly [string, object];
  readonly tables: readonly { readonly url: string }[];
}

let state: State;
beforeAll(async () => {
  state = (await demoArchive()).state('desk');
});

/** What the processor makes of the cells of a table: the literals, by row and column. */
async function cellsOf(metadata: Metadata, url: string, csv: string): Promise<readonly Quad[]> {
  const { tables, '@context': context, ...group } = metadata;
  // A table by itself, which inherits what is said of the group (Metadata Vocabulary, section 5.1).
  const document = { '@context': [CONTEXT, context[1]], ...group, ...tables.find((one) => one.url === url) };
  const nquads = await quadsOf(document);
  const dataset = env.dataset(new Parser({ format: 'N-Quads' }).parse(nquads) as never);
  const parser = new CsvwParser({ metadata: dataset as never, baseIRI: 'http://a/', timezone: 'utc' });
  const quads = (await parser.import(Readable.from([csv]) as never).toArray()) as Quad[];
  return quads.filter(({ predicate }) => predicate.value.startsWith('http://a/#'));
}

test.for([undefined, 'tarn-sennit-3/a'])(
  'of %s: every cell that is not empty is a literal that its datatype allows',
  async (id) => {
    const texts = new Map<string, string>();
    for (const file of await exportFiles(state, id, 'csv', { date: '2026-11-30' })) {
      let text = '';
      for await (const piece of file.pieces(() => undefined)) text += piece;
      texts.set(file.name, text);
    }
    const metadata = JSON.parse(texts.get('csv-metadata.json') as string) as Metadata;
    expect(metadata.tables.length).toBeGreaterThan(4);
    let checked = 0;
    for (const { url } of metadata.tables) {
      const csv = texts.get(url) as string;
      const cells = await cellsOf(metadata, url, csv);
      const { heading, rows } = parseCsv(csv);
      const filled = rows.flatMap((row) =>
        heading.flatMap((name) => (row[name] === '' ? [] : [[name, row[name]]])),
      );
      expect(
        cells.map(({ predicate, object }) => [
          decodeURIComponent(predicate.value.slice('http://a/#'.length)),
          object.value,
        ]),
        url,
      ).toEqual(filled);
      const wrong = cells.filter(({ object }) => !validateTerm(object as never));
      expect(wrong.map(({ predicate, object }) => [url, predicate.value, object.value])).toEqual([]);
      checked += cells.length;
    }
    expect(checked).toBeGreaterThan(id === undefined ? 10_000 : 500);
  },
);

test('a cell of another type is found, so that this checks something', async () => {
  const files = await exportFiles(state, 'tarn-sennit-3/a', 'csv', { date: '2026-11-30' });
  const named = async (name: string) => {
    let text = '';
    for await (const piece of files.find((one) => one.name === name)!.pieces(() => undefined)) text += piece;
    return text;
  };
  const metadata = JSON.parse(await named('csv-metadata.json')) as Metadata;
  const csv = await named('placement.csv');
  const [heading, first] = csv.split('\r\n') as [string, string];
  const at = heading.split(',').indexOf('centre_x_mm');
  const broken = first.split(',').with(at, 'left').join(',');
  const cells = await cellsOf(metadata, 'placement.csv', `${heading}\r\n${broken}\r\n`);
  expect(
    cells.filter(({ object }) => !validateTerm(object as never)).map(({ object }) => object.value),
  ).toEqual(['left']);
});
