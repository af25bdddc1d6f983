import { parquetMetadata, parquetReadObjects } from 'hyparquet';
import { beforeAll, describe, expect, test } from 'vitest';
import { exportFiles } from '../../src/questions/exports.ts';
import type { State } from '../../src/state/state.ts';
import { demoArchive } from '../trends/demo.ts';
import { everyId } from './every-id.ts';
import { parseCsv } from './rfc4180.ts';

// Parquet tables of the demo archive, read by hyparquet, which shares no code with the engine that wrote them, and held to the CSV of the
// same tables and to its metadata.

let state: State;
beforeAll(async () => {
  state = (await demoArchive()).state('desk');
});

interface Said {
  readonly tables: readonly {
    readonly url: string;
    readonly tableSchema: {
      readonly columns: readonly {
        readonly name: string;
        readonly datatype: { readonly base: string };
        readonly separator?: string;
        readonly 'schema:unitText'?: string;
      }[];
    };
  }[];
}

async function written(
  id: string | undefined,
  format: 'csv' | 'parquet',
): Promise<ReadonlyMap<string, Buffer>> {
  const contents = new Map<string, Buffer>();
  for (const { name, pieces } of await exportFiles(state, id, format, { date: '2026-11-30' })) {
    const gathered: Buffer[] = [];
    for await (const piece of pieces(() => undefined)) gathered.push(Buffer.from(piece as string));
    contents.set(name, Buffer.concat(gathered));
  }
  return contents;
}

const bufferOf = (bytes: Buffer) =>
  bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.length) as ArrayBuffer;

describe.each([
  ['everything', undefined],
  ['a specimen', 'tarn-sennit-3/a'],
])('%s', (_, id) => {
  test('has the rows of the CSV, each cell with the type of its column, and null where that is empty', async () => {
    const [csv, parquet] = [await written(id, 'csv'), await written(id, 'parquet')];
    const said = JSON.parse(String(csv.get('csv-metadata.json'))) as Said;
    expect([...parquet.keys()]).toEqual(said.tables.map(({ url }) => url.replace('csv', 'parquet')));
    let compared = 0;
    for (const { url, tableSchema } of said.tables) {
      const file = bufferOf(parquet.get(url.replace('csv', 'parquet'))!);
      const rows = await parquetReadObjects({ file });
      const lines = parseCsv(String(csv.get(url))).rows;
      expect(rows.length, url).toBe(lines.length);
      const about = JSON.parse(
        parquetMetadata(file).key_value_metadata?.find(({ key }) => key === 'caseback')?.value as string,
      ) as { date: string; columns: Record<string, { description: string; unit?: string }> };
      expect(about.date).toBe('2026-11-30');
      for (const { name, datatype, separator, 'schema:unitText': unit } of tableSchema.columns) {
        expect(about.columns[name]?.unit, `${url} ${name}`).toBe(unit);
        const expected = lines.map((line) => {
          const cell = line[name] as string;
          if (cell === '') return null;
          if (separator !== undefined) return cell.split(separator);
          if (datatype.base === 'json') return JSON.parse(cell) as unknown;
          if (datatype.base === 'boolean') return cell === 'true';
          return datatype.base === 'string' ? cell : Number(cell);
        });
        const read = rows.map((row) => row[name] ?? null);
        expect(read, `${url} ${name}`).toEqual(expected);
        compared += read.filter((cell) => cell !== null).length;
      }
    }
    expect(compared).toBeGreaterThan(500);
  });
});

test('every id of the archive comes back', async () => {
  const file = bufferOf((await written(undefined, 'parquet')).get('nodes.parquet')!);
  const nodes = await parquetReadObjects({ file, columns: ['id', 'kind'] });
  const ids = nodes.flatMap(({ id, kind }) => (kind === 'Term' ? [] : [id as string]));
  expect(ids.toSorted()).toEqual([...everyId(state)].toSorted());
});

test('beside a date as recorded stand the first and the last day that it may be', async () => {
  const file = bufferOf((await written(undefined, 'parquet')).get('components.parquet')!);
  const rows = await parquetReadObjects({ file });
  const dated = rows.filter(({ identified_on }) => identified_on);
  expect(dated.length).toBeGreaterThan(100);
  for (const { identified_on, identified_on_first_day, identified_on_last_day } of dated) {
    // ISO 8601: a date without a day or month stands for all days of it; the day before the next month is its last.
    const [year, month, day] = String(identified_on).split('-').map(Number) as [number, number?, number?];
    expect(identified_on_first_day).toEqual(new Date(Date.UTC(year, (month ?? 1) - 1, day ?? 1)));
    expect(identified_on_last_day).toEqual(
      new Date(day ? Date.UTC(year, (month as number) - 1, day) : Date.UTC(year, month ?? 12, 0)),
    );
  }
});
