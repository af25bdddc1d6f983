import { parse } from 'csv-parse/sync';
import { beforeAll, describe, expect, test } from 'vitest';
import { exportDossiers } from '../../src/archive/as-files.ts';
import type { Archive } from '../../src/archive.ts';
import type { Loss } from '../../src/questions/exports.ts';
import { exportFiles } from '../../src/questions/exports.ts';
import type { State } from '../../src/state/state.ts';
import { demoArchive } from '../trends/demo.ts';
import { everyId } from './every-id.ts';
import { parseCsv } from './rfc4180.ts';

// Tables of the demo archive, read back by a parser that knows RFC 4180 and the W3C's metadata vocabulary alone
// (rfc4180.ts), and held to the records that went in.

interface ColumnSaid {
  readonly name: string;
  readonly datatype: {
    readonly base: string;
    readonly format?: string;
    readonly minimum?: number;
    readonly maximum?: number;
  };
  readonly required?: boolean;
  readonly separator?: string;
  readonly 'schema:unitCode'?: string;
}
interface TableSaid {
  readonly url: string;
  readonly tableSchema: {
    readonly columns: readonly ColumnSaid[];
    readonly primaryKey: string | readonly string[];
    readonly foreignKeys: readonly {
      readonly columnReference: string;
      readonly reference: { readonly resource: string; readonly columnReference: string };
    }[];
  };
}
interface Said {
  readonly '@context': unknown;
  readonly tables: readonly TableSaid[];
  readonly [key: string]: unknown;
}

let archive: Archive;
let state: State;
beforeAll(async () => {
  archive = await demoArchive();
  state = archive.state('desk');
});

/** Each export is made once for all tests. */
const made = new Map<string | undefined, ReturnType<typeof exportedAnew>>();
function exported(id: string | undefined) {
  const known = made.get(id) ?? exportedAnew(id);
  made.set(id, known);
  return known;
}

async function exportedAnew(id: string | undefined) {
  const losses: Loss[] = [];
  const texts = new Map<string, string>();
  for (const { name, pieces } of await exportFiles(state, id, 'csv', { date: '2026-11-30' })) {
    let whole = '';
    for await (const piece of pieces((loss) => losses.push(loss))) whole += piece;
    texts.set(name, whole);
  }
  const said = JSON.parse(texts.get('csv-metadata.json') as string) as Said;
  const tables = new Map(said.tables.map(({ url }) => [url, parseCsv(texts.get(url) as string)]));
  const rows = (file: string) => tables.get(file)?.rows ?? [];
  return { losses, texts, said, tables, rows };
}

/** Lexical forms of XML Schema 1.1 Part 2: double (3.3.5), nonNegativeInteger (3.4.20), boolean (3.3.2). */
const LEXICAL: Readonly<Record<string, RegExp>> = {
  double: /^-?(?:\d+(?:\.\d*)?|\.\d+)(?:[Ee][-+]?\d+)?$/u,
  nonNegativeInteger: /^\d+$/u,
  boolean: /^(?:true|false)$/u,
  string: /^/u,
};

describe.each([
  ['everything', undefined],
  ['a device', 'tarn-sennit-3'],
  ['a specimen', 'tarn-sennit-3/a'],
])('tables of %s', (_, id) => {
  test('hold what their metadata promises: headings, datatypes, keys, required cells', async () => {
    const { said, tables, texts } = await exported(id);
    // Metadata Vocabulary for Tabular Data, sections 5.1.2, 5.2 and 5.3.
    expect(said['@context']).toEqual(['http://www.w3.org/ns/csvw', { '@language': 'en' }]);
    expect(said['dc:date']).toEqual({ '@value': '2026-11-30', '@type': 'xsd:date' });
    expect([...texts.keys()]).toEqual([...said.tables.map(({ url }) => url), 'csv-metadata.json']);
    let cells = 0;
    for (const { url, tableSchema } of said.tables) {
      const { heading, rows } = tables.get(url)!;
      expect(heading, url).toEqual(tableSchema.columns.map(({ name }) => name));
      expect(rows.length, url).toBeGreaterThan(5);
      for (const { name, datatype, required, separator } of tableSchema.columns)
        for (const row of rows) {
          const cell = row[name] as string;
          if (cell === '') {
            expect(required, `${url} ${name}`).not.toBe(true);
            continue;
          }
          cells++;
          for (const one of separator ? cell.split(separator) : [cell]) {
            if (datatype.base === 'json') JSON.parse(one);
            else expect(one, `${url} ${name}`).toMatch(LEXICAL[datatype.base] as RegExp);
            if (datatype.format) expect(datatype.format.split('|'), `${url} ${name}`).toContain(one);
            if (datatype.minimum !== undefined) expect(Number(one)).toBeGreaterThanOrEqual(datatype.minimum);
            if (datatype.maximum !== undefined) expect(Number(one)).toBeLessThanOrEqual(datatype.maximum);
          }
        }
      const key = [tableSchema.primaryKey].flat();
      const keys = rows.map((row) => key.map((name) => row[name]).join(' '));
      expect(new Set(keys).size, url).toBe(rows.length);
      for (const { columnReference, reference } of tableSchema.foreignKeys) {
        const there = new Set(
          tables.get(reference.resource)?.rows.map((row) => row[reference.columnReference]),
        );
        const missing = rows
          .map((row) => row[columnReference])
          .filter((cell) => cell !== '' && !there.has(cell));
        expect(missing, `${url} ${columnReference}`).toEqual([]);
      }
    }
    expect(cells).toBeGreaterThan(500);
  });
});

test('lines end in CRLF, the last one too, and no table has a byte order mark (RFC 4180, section 2)', async () => {
  const { texts } = await exported('tarn-sennit-3');
  for (const [name, text] of texts) {
    if (!name.endsWith('.csv')) continue;
    expect(text.endsWith('\r\n'), name).toBe(true);
    expect(text.startsWith('\uFEFF'), name).toBe(false);
  }
});

test('csv-parse, set to RFC 4180 and nothing laxer, reads every table as the grammar has it', async () => {
  const { texts, tables } = await exported(undefined);
  for (const [name, text] of texts) {
    if (!name.endsWith('.csv')) continue;
    const read = parse(text, {
      columns: true,
      record_delimiter: '\r\n',
      relax_quotes: false,
      relax_column_count: false,
      trim: false,
    });
    expect(read.length, name).toBeGreaterThan(5);
    expect(read, name).toEqual(tables.get(name)?.rows);
  }
});

test('every id of the archive is a node once, and there is no other', async () => {
  const { rows } = await exported(undefined);
  const ids = rows('nodes.csv').map(({ id }) => id as string);
  expect(new Set(ids).size).toBe(ids.length);
  const isTerm = new Set(rows('nodes.csv').flatMap(({ id, kind }) => (kind === 'Term' ? [id] : [])));
  expect(ids.filter((id) => !isTerm.has(id)).toSorted()).toEqual([...everyId(state)].toSorted());
});

test('details hold the record of each component whole', async () => {
  const { rows } = await exported(undefined);
  const details = new Map(
    rows('nodes.csv').map(({ id, details: json }) => [id, JSON.parse(json as string) as unknown]),
  );
  let compared = 0;
  for (const dossier of exportDossiers(state))
    for (const { id, ...component } of dossier.components) {
      const device = typeof dossier.device === 'string' ? dossier.device : dossier.device.id;
      expect(details.get(`${device}/${dossier.specimen.id}/${id}`)).toEqual(component);
      compared++;
    }
  expect(compared).toBeGreaterThan(800);
});

test('edges: odds of each identification, ends of each net, support of each sentence', async () => {
  const { rows } = await exported(undefined);
  const edges = rows('edges.csv');
  const count = (label: string) => edges.filter((row) => row.label === label).length;
  const dossiers = [...exportDossiers(state)];
  const sum = (of: (dossier: (typeof dossiers)[number]) => number) =>
    dossiers.reduce((all, one) => all + of(one), 0);
  expect(count('IDENTIFIED_AS')).toBe(
    sum((one) => one.identifications.reduce((all, { candidates }) => all + candidates.length, 0)),
  );
  expect(count('JOINS')).toBe(sum(({ nets = [] }) => nets.reduce((all, { pins }) => all + pins.length, 0)));
  expect(count('CONNECTS')).toBe(sum((one) => one.connections.length));
  expect(count('SUPPORTED_BY')).toBe(
    state
      .publications()
      .reduce((all, { claims }) => all + claims.reduce((some, one) => some + one.supportedBy.length, 0), 0),
  );
  for (const { label, probability, directed } of edges) {
    expect(probability !== '', label).toBe(label === 'IDENTIFIED_AS');
    expect(directed).toBe(String(label !== 'CONNECTS'));
  }
});

describe('bill of materials and placement', () => {
  test('each component that counts is on one line, and quantities are those of its designators', async () => {
    const { rows } = await exported(undefined);
    const counting = rows('components.csv').filter(({ counts }) => counts === 'true');
    const bill = rows('bill-of-materials.csv');
    const listed = bill.flatMap(({ components }) => (components as string).split(' '));
    expect(listed.toSorted()).toEqual(counting.map(({ id }) => id).toSorted());
    for (const { quantity, designators, components } of bill) {
      expect((designators as string).split(',').length).toBe(Number(quantity));
      expect((components as string).split(' ').length).toBe(Number(quantity));
    }
  });

  test('a part has one line a specimen; what is seen has neither part nor odds; odds are those of the components', async () => {
    const { rows } = await exported(undefined);
    const bill = rows('bill-of-materials.csv');
    const keys = bill.filter(({ part }) => part !== '').map(({ specimen, part }) => `${specimen} ${part}`);
    expect(keys.length).toBeGreaterThan(50);
    expect(new Set(keys).size).toBe(keys.length);
    const byId = new Map(rows('components.csv').map((row) => [row.id, row]));
    const kinds = new Set<string>();
    for (const line of bill) {
      kinds.add(line.knowledge as string);
      const odds = (line.components as string)
        .split(' ')
        .map((id) => Number(byId.get(id)?.[line.part ? 'part_probability' : 'category_probability']));
      if (line.knowledge === 'concluded') {
        expect(Number(line.probability_minimum)).toBe(Math.min(...odds));
        expect(Number(line.probability_maximum)).toBe(Math.max(...odds));
        expect(line.state).not.toBe('');
      } else
        expect([line.part, line.probability_minimum, line.probability_maximum, line.state]).toEqual([
          '',
          '',
          '',
          '',
        ]);
    }
    expect([...kinds].toSorted()).toEqual(['concluded', 'seen', 'unknown']);
  });

  test('placement has every component with a position, in mm and degrees, and tells of those on a board without', async () => {
    const { rows, losses, said } = await exported(undefined);
    const dossiers = [...exportDossiers(state)];
    const onBoard = dossiers.flatMap(({ components }) =>
      components.filter(({ board, fitted }) => board && fitted !== false),
    );
    const placed = onBoard.filter(({ at }) => at);
    expect(rows('placement.csv').length).toBe(placed.length);
    expect(losses.filter(({ field }) => field === 'at').length).toBe(onBoard.length - placed.length);
    const units = said.tables.find(({ url }) => url === 'placement.csv')?.tableSchema.columns;
    expect(
      units?.flatMap(({ name, ...column }) =>
        column['schema:unitCode'] ? [`${name} ${column['schema:unitCode']}`] : [],
      ),
    ).toEqual(['centre_x_mm MMT', 'centre_y_mm MMT', 'rotation DD']);
  });
});
