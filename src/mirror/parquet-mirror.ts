import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import {
  columnsOfTable,
  createTables,
  type GraphCounts,
  type PropertyColumn,
  PropertyColumns,
  rowsOfSegment,
  type SegmentInput,
  TABLES,
  type TableRow,
} from '../gql/gql.ts';
import { CasebackError } from '../model/problems.ts';
import type { State } from '../state/state.ts';
import { DuckDbEngine } from './duckdb-engine.ts';
import { graphCounts } from './graph-counts.ts';
import type { Mirror, MirrorReport, Watermark } from './mirror.ts';
import {
  ArchiveSegments,
  digestOfAll,
  firstColumns,
  isMirrored,
  type MirroredSegment,
  segmentOf,
} from './segments.ts';

// A folder of Parquet files: for each table a file for each bucket of segments, which is written anew when a segment of it
// changes, and `mirror.json`, which names the files that count. It is replaced last, so that a reader sees the state before
// or the state after.

const MANIFEST = 'mirror.json';
const FORMAT = 2;
/** Segments in a bucket when a mirror is made, and most buckets. */
const SEGMENTS_A_BUCKET = 500;
const MOST_BUCKETS = 256;
/** Where more than one segment in so many was written, what is there is counted again. */
const COUNTED_AGAIN = 10;

export interface Manifest extends Watermark {
  readonly format: number;
  readonly buckets: number;
  readonly nextEdge: number;
  readonly generation: number;
  readonly columns: readonly PropertyColumn[];
  /** What there was when much of it was last written: by it joins are put in order. */
  readonly counts?: GraphCounts;
  /** By bucket: its files, and the digests of its segments. */
  readonly files: readonly Bucket[];
}

interface Bucket {
  readonly bucket: number;
  readonly nodes: string;
  readonly labels: string;
  readonly edges: string;
  readonly segments: Readonly<Record<string, string>>;
}

/** The manifest of a folder; undefined when it has none. @throws CasebackError for a folder that is not a mirror of this format */
export function manifestIn(folder: string): Manifest | undefined {
  const file = join(folder, MANIFEST);
  if (!existsSync(file)) {
    mustBeOurs(folder);
    return undefined;
  }
  let manifest: Manifest;
  try {
    manifest = JSON.parse(readFileSync(file, 'utf8')) as Manifest;
  } catch {
    throw new CasebackError(
      'BAD_FILE',
      `${file} is not JSON; make the mirror anew with "caseback mirror --rebuild"`,
    );
  }
  if (manifest.format !== FORMAT)
    throw new CasebackError(
      'CONFLICT',
      `The mirror in ${folder} has format ${manifest.format} and this program writes ${FORMAT}; make it anew with "caseback mirror --rebuild"`,
    );
  return manifest;
}

const TABLE_FILE = /^(?:nodes|labels|edges)-\d+-(?<generation>\d+)\.parquet$/;

function isOurs(name: string): boolean {
  return name === MANIFEST || TABLE_FILE.test(name) || name === `${MANIFEST}.new`;
}

/** @throws CasebackError CONFLICT for a folder that has no manifest, and files that are none of a mirror */
function mustBeOurs(folder: string): void {
  const names = existsSync(folder) ? readdirSync(folder) : [];
  if (!names.includes(MANIFEST) && names.some((name) => !isOurs(name)))
    throw new CasebackError(
      'CONFLICT',
      `${folder} has files and is not a mirror; name an empty folder or a new one`,
    );
}

/** By the names of files, which are there also where the manifest cannot be read; 0 when there are none. */
function lastGeneration(folder: string): number {
  const names = existsSync(folder) ? readdirSync(folder) : [];
  return Math.max(0, ...names.map((name) => Number(TABLE_FILE.exec(name)?.groups?.generation ?? 0)));
}

export class ParquetMirror implements Mirror {
  readonly #folder: string;
  readonly #segments = new ArchiveSegments();

  constructor(folder: string) {
    this.#folder = resolve(folder);
  }

  async watermark(): Promise<Watermark | undefined> {
    return manifestIn(this.#folder);
  }

  async bring(state: State, { rebuild = false, now = new Date() } = {}): Promise<MirrorReport> {
    const kept = rebuild ? undefined : manifestIn(this.#folder);
    if (rebuild) mustBeOurs(this.#folder);
    if (kept && kept.audience !== state.audience)
      throw new CasebackError(
        'CONFLICT',
        `The mirror holds what ${kept.audience === 'desk' ? 'the desk' : 'a reader'} sees; give --audience ${kept.audience}, or --rebuild to make it anew`,
      );
    const wanted = await this.#segments.of(state);
    mkdirSync(this.#folder, { recursive: true });
    const writer = new FolderWriter(this.#folder, {
      ...(kept ?? emptyManifest(wanted.size)),
      generation: lastGeneration(this.#folder) + 1,
    });
    const { audience, instant } = state;
    const holds = { instant, digest: digestOfAll(wanted) };
    const report = await writer.bring(wanted, (key) => segmentOf(state, key), {
      audience,
      ...holds,
      mirroredOn: now.toISOString(),
    });
    return { ...report, ...holds, rebuilt: !kept };
  }

  async close(): Promise<void> {}
}

function emptyManifest(segments: number): Omit<Manifest, keyof Watermark> {
  return {
    format: FORMAT,
    buckets: Math.min(MOST_BUCKETS, Math.max(1, Math.ceil(segments / SEGMENTS_A_BUCKET))),
    nextEdge: 1,
    generation: 0,
    columns: firstColumns().all,
    files: [],
  };
}

/** Writes the files of a generation. */
export class FolderWriter {
  readonly #folder: string;
  readonly #before: Omit<Manifest, keyof Watermark>;

  constructor(folder: string, before: Omit<Manifest, keyof Watermark>) {
    this.#folder = folder;
    this.#before = before;
  }

  async bring(
    wanted: ReadonlyMap<string, MirroredSegment>,
    segmentOf: (key: string) => SegmentInput,
    watermark: Watermark,
  ): Promise<Pick<MirrorReport, 'segments' | 'written' | 'removed'>> {
    const { buckets, generation } = this.#before;
    const columns = new PropertyColumns(this.#before.columns);
    const byBucket = Array.from({ length: buckets }, (): MirroredSegment[] => []);
    for (const segment of wanted.values()) byBucket[bucketOf(segment.key, buckets)]!.push(segment);
    let { nextEdge } = this.#before;
    let [written, removed] = [0, 0];
    const files: Bucket[] = [];
    let { counts } = this.#before;
    const engine = await DuckDbEngine.open({ threads: 2 });
    try {
      for (const [bucket, segments] of byBucket.entries()) {
        const held = this.#before.files.find((one) => one.bucket === bucket);
        const changed = segments.filter(({ key, digest }) => held?.segments[key] !== digest);
        const keys = new Set(segments.map(({ key }) => key));
        const gone = Object.keys(held?.segments ?? {}).filter((key) => !keys.has(key));
        written += changed.length;
        removed += gone.length;
        if (held && changed.length === 0 && gone.length === 0) {
          files.push(held);
          continue;
        }
        const rows = segments.map(({ key }) =>
          rowsOfSegment(key, segmentOf(key), { columns, nextEdge: () => nextEdge++, keeps: isMirrored }),
        );
        const names: Record<string, string> = {};
        for (const table of TABLES) names[table] = `${table}-${bucket}-${generation}.parquet`;
        await this.#write(engine, columns, names, (table) => rows.flatMap((one) => one[table]));
        files.push({
          ...(names as Pick<Bucket, 'nodes' | 'labels' | 'edges'>),
          bucket,
          segments: Object.fromEntries(segments.map(({ key, digest }) => [key, digest])),
        });
      }
      if (!counts || (written + removed) * COUNTED_AGAIN > wanted.size) {
        for (const table of TABLES) await engine.rows(`DROP TABLE IF EXISTS ${table}`);
        await viewFiles(engine, this.#folder, files, columns);
        counts = await graphCounts(engine);
      }
    } finally {
      await engine.close();
    }
    const manifest: Manifest = {
      ...this.#before,
      ...watermark,
      generation,
      nextEdge,
      columns: columns.all,
      counts,
      files,
    };
    const file = join(this.#folder, MANIFEST);
    writeFileSync(`${file}.new`, JSON.stringify(manifest), { flush: true });
    renameSync(`${file}.new`, file);
    const counting = new Set(files.flatMap(({ nodes, labels, edges }) => [nodes, labels, edges]));
    for (const name of readdirSync(this.#folder))
      if (isOurs(name) && name !== MANIFEST && !counting.has(name))
        rmSync(join(this.#folder, name), { force: true });
    return { segments: wanted.size, written, removed };
  }

  async #write(
    engine: DuckDbEngine,
    columns: PropertyColumns,
    names: Readonly<Record<string, string>>,
    rowsOf: (table: (typeof TABLES)[number]) => readonly TableRow[],
  ): Promise<void> {
    for (const table of TABLES) await engine.rows(`DROP TABLE IF EXISTS ${table}`);
    for (const sql of createTables(columns, 'duckdb')) await engine.rows(sql);
    for (const table of TABLES) {
      await appendRows(engine, table, rowsOf(table), columns);
      await writeParquet(engine, table, join(this.#folder, names[table]!));
    }
  }
}

/** Appends rows to a table of DuckDB, without writing SQL for each. */
export async function appendRows(
  engine: DuckDbEngine,
  table: (typeof TABLES)[number],
  rows: readonly TableRow[],
  columns: PropertyColumns,
): Promise<void> {
  const layout = columnsOfTable(table, columns, 'duckdb');
  const appender = await engine.connection.createAppender(table);
  for (const row of rows) {
    for (const { name, kind } of layout) {
      const value = row[name];
      if (value === null || value === undefined) appender.appendNull();
      else if (kind === 'string') appender.appendVarchar(value as string);
      else if (kind === 'boolean') appender.appendBoolean(value as boolean);
      else if (kind === 'edge') appender.appendBigInt(BigInt(value as number));
      else appender.appendDouble(value as number);
    }
    appender.endRow();
  }
  appender.closeSync();
}

function bucketOf(key: string, buckets: number): number {
  return createHash('sha256').update(key).digest().readUInt32BE(0) % buckets;
}

/** By what rows are sorted in a file: statistics of its groups then say which of them have a label. */
const ORDER = { nodes: 'id', labels: 'label, node', edges: 'label, source' } as const;
/** Rows that have statistics of their own: few, so that a label takes up whole groups. */
const GROUP_ROWS = 16_384;

/** Writes rows of a table to a file. `rows`: a query for them. @default all */
export async function writeParquet(
  engine: DuckDbEngine,
  table: (typeof TABLES)[number],
  file: string,
  rows = `SELECT * FROM ${table}`,
): Promise<void> {
  await engine.rows(
    `COPY (${rows} ORDER BY ${ORDER[table]}) TO '${file.replaceAll("'", "''")}' (FORMAT parquet, COMPRESSION zstd, ROW_GROUP_SIZE ${GROUP_ROWS})`,
  );
}

/** Makes the tables of files visible. */
async function viewFiles(
  engine: DuckDbEngine,
  folder: string,
  files: readonly Bucket[],
  columns: PropertyColumns,
): Promise<void> {
  for (const table of TABLES) {
    const names = files.map((one) => `'${join(folder, one[table]).replaceAll("'", "''")}'`);
    const list = columnsOfTable(table, columns, 'duckdb').map(({ name }) => name);
    await engine.rows(
      `CREATE VIEW ${table} AS SELECT ${list.join(', ')} FROM read_parquet([${names.join(', ')}], union_by_name => true)`,
    );
  }
}

/** DuckDB with the tables of a folder. @throws CasebackError NOT_FOUND when it has no mirror */
export async function openFolder(
  folder: string,
): Promise<{ readonly engine: DuckDbEngine; readonly manifest: Manifest }> {
  const manifest = manifestIn(folder);
  if (!manifest)
    throw new CasebackError(
      'NOT_FOUND',
      `${folder} has no mirror; make one with "caseback mirror --to ${folder}"`,
    );
  const engine = await DuckDbEngine.open();
  const columns = new PropertyColumns(manifest.columns);
  try {
    await viewFiles(engine, resolve(folder), manifest.files, columns);
  } catch (error) {
    await engine.close();
    throw new CasebackError(
      'BAD_FILE',
      `The mirror in ${folder} cannot be read: ${(error as Error).message.split('\n', 1)[0]}; make it anew with "caseback mirror --rebuild"`,
    );
  }
  return { engine, manifest };
}
