/**
 * Runs a pattern on a graph given as two CSV files; for the columns see `read-csv.ts`. What the command line wraps.
 */
import { type Answer, runPattern } from '../engine.ts';
import { explainPattern } from '../explain.ts';
import type { Problem } from '../language/problem.ts';
import type { QueryOptions } from '../options.ts';
import { loadGraphFiles } from './load-csv.ts';

export interface MatchFilesInput extends QueryOptions {
  /** Path of the CSV file with the nodes, and of the one with the edges. */
  readonly nodes: string;
  readonly edges: string;
  readonly pattern: string;
  /** Say how the pattern is searched instead of what it finds. */
  readonly explain?: boolean;
}

/**
 * Answers the rows, the text to print (tab-separated values with a header line, or the plan), and warnings: what other
 * implementations of the language read differently, and names that the graph does not have.
 * Throws CsvError, GraphInputError or PatternError, whose messages say file and line, or place in the pattern.
 */
export async function matchFiles(input: MatchFilesInput): Promise<{
  readonly answer: Answer | undefined;
  readonly text: string;
  readonly warnings: readonly Problem[];
}> {
  const graph = await loadGraphFiles(input.nodes, input.edges);
  if (input.explain) {
    const { text, warnings } = await explainPattern(graph, input.pattern, input);
    return { answer: undefined, text, warnings };
  }
  const answer = await runPattern(graph, input.pattern, input);
  const lines = [answer.columns, ...answer.rows].map((row) => row.map(cell).join('\t'));
  if (answer.note) lines.push(`# ${answer.note}`);
  return { answer, text: lines.join('\n'), warnings: answer.warnings };
}

/** One value on one line, without tabs. */
function cell(value: unknown): string {
  if (value === null || value === undefined) return '';
  if (typeof value === 'string') return value.replace(/[\t\r\n]+/g, ' ');
  if (typeof value !== 'object') return String(value);
  const element = value as { kind?: string; id?: string };
  if ((element.kind === 'node' || element.kind === 'edge') && element.id !== undefined) return element.id;
  return JSON.stringify(value);
}
