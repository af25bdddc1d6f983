import { existsSync } from 'node:fs';
import { CsvError, matchFiles } from '../../gql/files.ts';
import { describeInLine, GraphInputError, type Searched } from '../../gql/gql.ts';
import { CasebackError } from '../../model/problems.ts';
import { cellText, plainValue } from '../../patterns/plain-value.ts';
import { patternRowsOn } from '../../questions/mirror.ts';
import { explainPattern, patternRows } from '../../questions/patterns.ts';
import { nearHint } from '../../state/resolve.ts';
import { systemTrouble } from '../../text/system-trouble.ts';
import type { Answer } from '../frame/answer.ts';
import { defineCommand } from '../frame/command.ts';
import { quoted, UsageError } from '../frame/exit.ts';
import { readText } from '../frame/files.ts';
import { flag, text } from '../frame/options.ts';
import type { Terminal } from '../frame/terminal.ts';

export const command = defineCommand({
  name: 'pattern',
  about:
    'The pattern is text in the read-only subset of ISO/IEC 39075 (GQL), a file that has it, or the name of one of the library. Lists the rows of its RETURN; ask findPattern for devices and probabilities.',
  arguments: [{ name: 'PATTERN', help: 'text in quotation marks, a file, or the id of a named pattern' }],
  options: {
    explain: flag('the plan with estimated and real counts instead of rows'),
    on: text(
      'MIRROR',
      'asks the mirror at postgres://… or in a folder ("caseback mirror"): the same rows, of the state that was mirrored; no probabilities',
    ),
    showSql: flag('with --on, the SQL that gives the rows instead of them'),
    nodes: text(
      'FILE',
      'a graph of your own: CSV with id, labels (separated by ;), and properties as further columns',
    ),
    edges: text(
      'FILE',
      'its edges: CSV with source, target, label, directed (true or false), and properties',
    ),
  },
  uses: 'view',
  givesFigures: true,
  formats: ['table', 'csv', 'json'],
  examples: [
    "pattern 'MATCH (s:Sensor)~[:CONNECTS]~(a:Amplifier) RETURN s.specimen, COUNT(*) AS pairs ORDER BY pairs DESC'",
    'pattern two-unlike-processors --explain',
    "pattern 'MATCH (c:Charger) RETURN c.designator, COUNT(*) AS boards' --on ./mirror --show-sql",
  ],

  async run(call) {
    const [given] = call.arguments;
    const { explain, nodes, edges, on, showSql } = call.options;
    if (on !== undefined && (explain || nodes !== undefined))
      throw new UsageError(
        '--on goes with neither --explain nor --nodes; --show-sql shows how a mirror is asked',
      );
    if (showSql && on === undefined) throw new UsageError('--show-sql goes with --on; name the mirror');
    if ((nodes === undefined) !== (edges === undefined))
      throw new UsageError('--nodes and --edges go together; give both files');
    if (nodes !== undefined && edges !== undefined) {
      const pattern = patternText(given, '', call.terminal);
      const { answer, text: plan, warnings: problems } = await matched({ nodes, edges, pattern, explain });
      const warnings = problems.map(describeInLine);
      if (!answer) return planAnswer(plan, warnings);
      return rowsAnswer({ ...answer, rows: answer.rows.map((row) => row.map(plainValue)), warnings });
    }
    if (on !== undefined) {
      // A text needs no archive here; the name of a pattern does.
      const isText = /\bMATCH\b/iu.test(given) || given === '-' || existsSync(given);
      const known = isText ? undefined : (await call.view()).pattern(given)?.text;
      const pattern = known ?? patternText(given, '', call.terminal);
      const answer = await patternRowsOn(on, { text: pattern });
      if (showSql) return { text: () => `${answer.sql}\n`, messages: answer.warnings.map(warningText) };
      const { instant, audience } = answer.watermark;
      const seen = audience === 'desk' ? 'the desk' : 'readers';
      const since = `As the mirror has it: what ${seen} see, up to ${instant}.`;
      return rowsAnswer(answer, [since]);
    }
    const view = await call.view();
    const pattern =
      view.pattern(given)?.text ?? patternText(given, nearHint(view, given, ['Pattern']), call.terminal);
    if (explain) {
      const { text: plan, warnings } = await explainPattern(view, { text: pattern });
      return planAnswer(plan, warnings);
    }
    return rowsAnswer(await patternRows(view, { text: pattern }));
  },
});

interface Rows {
  readonly columns: readonly string[];
  readonly rows: readonly (readonly unknown[])[];
  readonly complete: boolean;
  readonly note?: string | undefined;
  readonly searched?: Searched | undefined;
  readonly warnings: readonly string[];
}

function planAnswer(plan: string, warnings: readonly string[]): Answer {
  return { text: () => `${plan}\n`, messages: warnings.map(warningText) };
}

function warningText(warning: string): string {
  return `Warning: ${warning}`;
}

function rowsAnswer(
  { columns, rows, complete, note, searched, warnings }: Rows,
  more: readonly string[] = [],
): Answer {
  return {
    table: () =>
      rows.map((row) => Object.fromEntries(columns.map((column, i) => [column, cellText(row[i])]))),
    heading: columns,
    json: () => ({ columns, rows, complete, note, ...(complete ? {} : { searched }), warnings }),
    messages: [...(note ? [note] : []), ...more, ...warnings.map(warningText)],
  };
}

/**
 * Words that a text begins with, of this language or of others in which people write patterns: a mistake in one is to be
 * told with its place, and not as a file that is missing.
 */
const FIRST_WORDS =
  /^(?:(?:\s|\/\*[\s\S]*?\*\/|(?:--|\/\/).*\n)*)(?:RETURN|LET|FILTER|FOR|OPTIONAL|USE|UNWIND|WITH|CALL|CREATE|MERGE|INSERT|SET|DELETE|DETACH|REMOVE|DROP|FOREACH|LOAD|EXPLAIN|PROFILE|USING|START|SHOW|SELECT)\b\s*[^\s.\\/]/iu;

/** Text of a pattern given as such or as a file. @param hint named patterns that may have been meant */
function patternText(given: string, hint: string, terminal: Terminal): string {
  if (/\bMATCH\b/iu.test(given)) return given;
  if (given === '-' || existsSync(given)) return readText(given, terminal);
  if (FIRST_WORDS.test(given) && /[\s({]/u.test(given.trim())) return given;
  throw new CasebackError(
    'NOT_FOUND',
    `${quoted(given)} is not the text of a pattern, a file, or a named pattern of the archive${hint}`,
  );
}

async function matched(question: Parameters<typeof matchFiles>[0]): ReturnType<typeof matchFiles> {
  try {
    return await matchFiles(question);
  } catch (error) {
    if (error instanceof CsvError || error instanceof GraphInputError)
      throw new CasebackError('BAD_FILE', error.message);
    const trouble = systemTrouble(error);
    throw trouble ? new CasebackError('BAD_FILE', `${trouble.path ?? 'a file'} ${trouble.what}`) : error;
  }
}
