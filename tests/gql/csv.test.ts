import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { stringify } from 'csv-stringify/sync';
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { readGraphFiles } from '../../src/gql/csv/read-csv.ts';
import { CsvError, scanCsv } from '../../src/gql/csv/scan-csv.ts';

let folder = '';
const file = (name: string) => join(folder, name);
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'csv-'));
});
afterAll(() => rm(folder, { recursive: true }));

/** Columns, then records, each as its fields. */
async function scanned(text: string | Buffer, chunk?: number): Promise<string[][]> {
  await writeFile(file('scanned.csv'), text);
  const rows: string[][] = [];
  await scanCsv(
    file('scanned.csv'),
    (header) => {
      rows.push([...header.columns]);
      return (record) => rows.push(Array.from({ length: record.size }, (_, field) => record.text(field)));
    },
    chunk,
  );
  return rows;
}

const field = fc.oneof(
  fc.string({ unit: fc.constantFrom('a', ',', '"', '\n', '\r\n', ' ', 'é', '語', '🎈'), maxLength: 8 }),
  fc.string({ maxLength: 40 }),
);

describe('CSV', () => {
  // What csv-stringify writes, whatever is read of it at once.
  test('is read as it was written', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.tuple(field, field, field), { maxLength: 8 }),
        fc.record({
          quoted: fc.boolean(),
          bom: fc.boolean(),
          record_delimiter: fc.constantFrom('\n', '\r\n', '\r'),
        }),
        fc.integer({ min: 1, max: 40 }),
        async (rows, options, chunk) => {
          const all = [['x', 'y', 'z'], ...rows];
          // Old line ends inside of fields: the writer quotes a field for the line end in use alone.
          const text = stringify(all, { ...options, quoted_match: /[\r\n]/ });
          expect(await scanned(text, chunk)).toEqual(all);
        },
      ),
      { numRuns: 150 },
    );
  });

  // Any text at all, against csv-parse: both refuse it, or both read the same.
  test('is refused where it is not CSV', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.string({ unit: fc.constantFrom('a', 'b', ',', ',', '"', '\n', 'é'), maxLength: 30 }),
        fc.integer({ min: 1, max: 12 }),
        async (body, chunk) => {
          const text = `x,y\n${body}`;
          let expected: string[][] | undefined;
          try {
            expected = parse(text, { skip_empty_lines: true });
          } catch {
            expected = undefined;
          }
          const found = await scanned(text, chunk).catch((error) => {
            expect(error).toBeInstanceOf(CsvError);
            return undefined;
          });
          expect(found).toEqual(expected);
        },
      ),
      { numRuns: 400 },
    );
  });

  test('may have records that are longer than what is read at once', async () => {
    const long = 'long '.repeat(60_000);
    expect(await scanned(`x,y\n"${long}",1\n${long},2`, 1000)).toEqual([
      ['x', 'y'],
      [long, '1'],
      [long, '2'],
    ]);
  });

  test.each([
    ['x,y\na,b\nc,"d', 3, 'a quote is opened that is not closed'],
    ['x,y\n"a\nb",c\nd,e"f\n', 4, 'a quote stands inside a field'],
    ['x,y\n"a"b,c\n', 2, 'a quoted field has text behind its closing quote'],
    ['x,y\na,b\n\n\nc\n', 5, 'the line has 1 field, but there are 2 columns'],
    ['x,y,x\n', 1, 'two columns are named x'],
    ['x,,y\n', 1, 'column 2 has no name'],
  ])('%j is wrong in line %i', async (text, line, message) => {
    await expect(scanned(text)).rejects.toThrow(`scanned.csv:${line}: ${message}`);
  });

  test('without any line has no columns', async () => {
    expect(await scanned('')).toEqual([]);
    expect(await scanned('\uFEFF')).toEqual([]);
  });
});

describe('a graph in CSV', () => {
  const value = fc.oneof(
    fc.constantFrom(
      'true',
      'false',
      '0',
      '-0',
      '007',
      '1e3',
      '1.',
      '.5',
      '-1.25',
      'NaN',
      ' 1',
      '"',
      'é',
      'e\u0301',
    ),
    fc.integer().map(String),
    fc.maxSafeInteger().map(String),
    fc.stringMatching(/^-?\d{1,17}(\.\d{0,17})?$/),
    fc.double({ noNaN: true, noDefaultInfinity: true }).map(String),
    fc.string({ maxLength: 6 }),
  );

  // More values than are kept, and such as fall on the same places.
  test('has the values that its fields stand for', async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(fc.tuple(value, value), { maxLength: 60 }), async (rows) => {
        const all = [...rows, ...rows];
        const table = all.map(([a, b], i) => [`n${i}`, a, b]);
        await writeFile(file('nodes.csv'), stringify([['id', 'a', 'b:string'], ...table]));
        await writeFile(file('edges.csv'), 'source,target\n');
        const { nodes } = await readGraphFiles(file('nodes.csv'), file('edges.csv'));
        expect(nodes).toEqual(
          all.map(([a, b], i) => ({
            id: `n${i}`,
            labels: [],
            properties: { ...(a === '' ? {} : { a: typed(a) }), ...(b === '' ? {} : { b }) },
          })),
        );
      }),
      { numRuns: 60 },
    );
  });

  /** A boolean, a number as JSON (RFC 8259) writes it, or a string. */
  function typed(text: string): unknown {
    if (text.trim() !== text) return text;
    try {
      const read: unknown = JSON.parse(text);
      return typeof read === 'number' || typeof read === 'boolean' ? read : text;
    } catch {
      return text;
    }
  }

  test('has ids of its own in each line', async () => {
    const ids = Array.from({ length: 5000 }, (_, i) => `device/${i % 1300}/c${i}`);
    await writeFile(file('nodes.csv'), `id\n${ids.join('\n')}\n`);
    await writeFile(
      file('edges.csv'),
      `source,target,id,label,directed\n${ids.map((id, i) => `${id},${ids[(i * 7) % 5000]},e${i},L${i % 3},${i % 2 === 0}`).join('\n')}`,
    );
    const { nodes, edges } = await readGraphFiles(file('nodes.csv'), file('edges.csv'));
    expect(nodes.map(({ id }) => id)).toEqual(ids);
    expect(edges).toEqual(
      ids.map((id, i) => ({
        source: id,
        target: ids[(i * 7) % 5000],
        id: `e${i}`,
        label: `L${i % 3}`,
        directed: i % 2 === 0,
        properties: {},
      })),
    );
  });

  test.each([
    ['target\na\n', 'edges.csv:1: the column source is missing; the columns are target'],
    ['source,target\na,\n', 'edges.csv:2: source and target must both be given'],
    ['source,target,directed\na,b,true\na,b,no\n', 'edges.csv:3: directed is no; it has to be true or false'],
  ])('%j is refused', async (text, message) => {
    await writeFile(file('nodes.csv'), 'id\na\n');
    await writeFile(file('edges.csv'), text);
    await expect(readGraphFiles(file('nodes.csv'), file('edges.csv'))).rejects.toThrow(message);
  });
});
