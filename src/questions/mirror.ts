// Patterns on another engine. Engine and drivers are loaded on first use.

import type { MirrorRows, SqlQuestion } from '../mirror/ask.ts';
import type { Mirror } from '../mirror/mirror.ts';
import { mistakesTold, parseable } from './pattern-mistakes.ts';

export type { Mirror, MirrorReport } from '../mirror/mirror.ts';

/** SQL engines that patterns are written for. */
export type SqlDialect = 'postgres' | 'duckdb';

/**
 * Rows of a pattern over the mirror at an address or in a folder, of the state that was mirrored.
 * @throws CasebackError BAD_PATTERN, also for what is not compiled to SQL; NOT_FOUND without a mirror; UNAVAILABLE
 */
export function patternRowsOn(place: string, question: SqlQuestion): Promise<MirrorRows> {
  return mistakesTold(async () => {
    await parseable(question.text);
    const { rowsOn } = await import('../mirror/ask.ts');
    return rowsOn(place, question);
  });
}

/**
 * A pattern as the SQL that gives its rows over the tables of a mirror; the same for every archive.
 * @throws CasebackError BAD_PATTERN, also for what is not compiled to SQL
 */
export function patternSql(question: SqlQuestion, dialect: SqlDialect): Promise<string> {
  return mistakesTold(async () => {
    await parseable(question.text);
    const { patternSql: written } = await import('../mirror/ask.ts');
    return (await written(question, dialect)).sql;
  });
}

/** The mirror at an address or in a folder, to be brought to states. @throws CasebackError UNAVAILABLE, BAD_INPUT */
export async function openMirror(place: string): Promise<Mirror> {
  const { openMirror: open } = await import('../mirror/open.ts');
  return open(place);
}
