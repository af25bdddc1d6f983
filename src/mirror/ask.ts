import {
  type CompiledSql,
  compileSql,
  type DialectName,
  decodedRows,
  describeInLine,
  type GraphCounts,
  PropertyColumns,
} from '../gql/gql.ts';
import { CasebackError } from '../model/problems.ts';
import { preparedPattern } from '../pattern-texts/prepared.ts';
import type { PatternQuestion } from '../patterns/answer.ts';
import { plainValue } from '../patterns/plain-value.ts';
import type { PatternRows } from '../patterns/rows.ts';
import type { SqlEngine } from './engine.ts';
import type { Watermark } from './mirror.ts';
import { isDatabase } from './open.ts';
import { firstColumns } from './segments.ts';
import { SQL_FUNCTIONS } from './sql-functions.ts';

/** Maximum number of rows, as for the archive's own engine. */
const MAX_ROWS = 10_000;

export type SqlQuestion = Pick<PatternQuestion, 'text' | 'parameters' | 'distinctNodes'>;

/**
 * A pattern as SQL over the tables of a mirror.
 * @throws PatternError for what is not compiled
 */
export async function patternSql(
  question: SqlQuestion,
  dialect: DialectName,
  columns: PropertyColumns = firstColumns(),
  { rows, counts }: { readonly rows?: number; readonly counts?: GraphCounts | undefined } = {},
): Promise<CompiledSql & { readonly warnings: readonly string[] }> {
  const pattern = await preparedPattern(question);
  const compiled = compileSql(pattern, {
    dialect,
    // Labels of a mirror have their probabilities, and whoever reads the text cannot know whether all are 1.
    schema: { ...columns.schema(true), counts },
    parameters: question.parameters,
    // A text that says REPEATABLE ELEMENTS means it, as everywhere.
    distinctNodes: !pattern.repeatsElements && (question.distinctNodes ?? true),
    functions: SQL_FUNCTIONS,
    rows,
  });
  return { ...compiled, warnings: pattern.warnings.map(describeInLine) };
}

/** Rows of a pattern from a mirror, with the query that gave them. */
export interface MirrorRows extends PatternRows {
  readonly sql: string;
  readonly watermark: Watermark;
}

/**
 * Rows of a pattern over a mirror, as the archive's own engine has them for the state that was mirrored.
 * @param place address of a database, or a folder
 * @throws PatternError for what is not compiled; CasebackError NOT_FOUND when there is no mirror, UNAVAILABLE when nobody answers
 */
export async function rowsOn(place: string, question: SqlQuestion): Promise<MirrorRows> {
  const { engine, watermark, columns, counts } = await opened(place);
  try {
    const compiled = await patternSql(question, engine.dialect, columns, { rows: MAX_ROWS + 1, counts });
    return await engine.atOnce(async () => {
      const cells = await engine.rows(compiled.sql);
      const found = cells.slice(0, MAX_ROWS);
      const values = await decodedRows(found, compiled.columns, (sql) => engine.rows(sql));
      const complete = cells.length <= MAX_ROWS;
      return {
        columns: compiled.columns.map(({ name }) => name),
        rows: values.map((row) => row.map(plainValue)),
        complete,
        note: complete
          ? undefined
          : `There are more than ${MAX_ROWS.toLocaleString('en')} rows; these are the first. Say LIMIT or COUNT, or run the SQL itself.`,
        searched: undefined,
        warnings: compiled.warnings,
        sql: compiled.sql,
        watermark,
      };
    });
  } finally {
    await engine.close();
  }
}

interface OpenedMirror {
  readonly engine: SqlEngine;
  readonly watermark: Watermark;
  readonly columns: PropertyColumns;
  /** Undefined of a database, which keeps statistics itself. */
  readonly counts: GraphCounts | undefined;
}

async function opened(place: string): Promise<OpenedMirror> {
  if (!isDatabase(place)) {
    const { openFolder } = await import('./parquet-mirror.ts');
    const { engine, manifest } = await openFolder(place);
    const columns = new PropertyColumns(manifest.columns);
    return { engine, watermark: manifest, columns, counts: manifest.counts };
  }
  const [{ keptIn, placeIn }, { PostgresEngine }] = await Promise.all([
    import('./postgres-mirror.ts'),
    import('./postgres-engine.ts'),
  ]);
  const { url, schema } = placeIn(place);
  const engine = await PostgresEngine.open(url);
  try {
    const kept = await keptIn(engine, schema);
    if (!kept)
      throw new CasebackError(
        'NOT_FOUND',
        `The database has no mirror in the schema ${schema}; make one with "caseback mirror --to ADDRESS"`,
      );
    await engine.rows(`SET search_path TO ${schema}`);
    return { engine, watermark: kept, columns: new PropertyColumns(kept.columns), counts: undefined };
  } catch (error) {
    await engine.close();
    throw error;
  }
}
