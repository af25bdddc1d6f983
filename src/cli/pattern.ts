import { readFileSync } from 'node:fs';
import { toCsv } from '../export/csv.ts';
import { toTable } from '../export/table.ts';
import { PatternError } from '../gql/checked.ts';
import { matchFiles } from '../gql/command/match-files.ts';
import { CsvError } from '../gql/command/read-csv.ts';
import { GraphInputError } from '../gql/storage/input.ts';
import { CasebackError } from '../model/problems.ts';
import { explainPattern, patternRows } from '../questions/patterns.ts';
import { nearHint } from '../state/resolve.ts';
import { type Command, choiceOf, EXIT, textOf, UsageError } from './command.ts';
import { DATA_HELP, DATA_OPTION, dataFolder } from './data-folder.ts';
import { openArchive } from './open-archive.ts';

export const command: Command = {
  usage: 'pattern TEXT|FILE|NAME [--explain] [--format table|csv|json] [--nodes FILE --edges FILE]',
  help: `The pattern is text in the read-only subset of ISO/IEC 39075 (GQL), a file that holds it, or the name of one of the
library's. Answers the rows of its RETURN; ask findPattern for devices and probabilities.

${DATA_HELP}
  --explain         the plan with estimated and real counts instead of rows
  --format table    or csv or json
  --audience reader what is published; desk shows drafts and what is under embargo too
  --nodes FILE      a graph of your own: CSV with id, labels (parted by ;), and properties as further columns
  --edges FILE      CSV with source, target, label, directed (true or false), and properties

  caseback pattern 'MATCH (s:Sensor)~[:CONNECTS]~(a:Amplifier) RETURN s.specimen, COUNT(*) AS pairs ORDER BY pairs DESC'
  caseback pattern two-unlike-processors --explain`,
  options: {
    ...DATA_OPTION,
    explain: { type: 'boolean' },
    format: { type: 'string' },
    audience: { type: 'string' },
    nodes: { type: 'string' },
    edges: { type: 'string' },
  },

  async run([given, ...more], values) {
    if (given === undefined || more.length > 0) throw new UsageError('give one pattern, in quotation marks');
    const format = choiceOf(values, 'format', ['table', 'csv', 'json'], 'table');
    const explain = values.explain === true;
    const [nodes, edges] = [textOf(values, 'nodes'), textOf(values, 'edges')];
    if ((nodes === undefined) !== (edges === undefined))
      throw new UsageError('--nodes and --edges go together');
    try {
      if (nodes !== undefined && edges !== undefined) {
        const { text } = await matchFiles({ nodes, edges, pattern: patternOf(given, ''), explain });
        process.stdout.write(`${text}\n`);
        return EXIT.fine;
      }
      const archive = await openArchive(dataFolder(values));
      try {
        const view = archive.view(choiceOf(values, 'audience', ['reader', 'desk'], 'reader'));
        const text = view.pattern(given)?.text ?? patternOf(given, nearHint(view, given, ['Pattern']));
        if (explain) {
          process.stdout.write(`${await explainPattern(view, { text })}\n`);
          return EXIT.fine;
        }
        const { columns, rows, complete, note } = await patternRows(view, { text });
        const plain = rows.map((row) =>
          Object.fromEntries(columns.map((column, i) => [column, inCell(row[i])])),
        );
        if (format === 'json')
          process.stdout.write(`${JSON.stringify({ columns, rows, complete, note }, null, 2)}\n`);
        else process.stdout.write(format === 'csv' ? toCsv(plain) : toTable(plain));
        if (note) process.stderr.write(`${note}\n`);
        return EXIT.fine;
      } finally {
        await archive.close();
      }
    } catch (error) {
      if (error instanceof PatternError) throw new CasebackError('BAD_PATTERN', `\n${error.message}`);
      if (error instanceof CsvError || error instanceof GraphInputError)
        throw new CasebackError('BAD_FILE', error.message);
      throw error;
    }
  },
};

/** Text of a pattern given as such or as a file. @param hint named patterns that may have been meant */
function patternOf(given: string, hint: string): string {
  if (/\bMATCH\b/iu.test(given)) return given;
  try {
    return readFileSync(given, 'utf8');
  } catch {
    throw new CasebackError(
      'NOT_FOUND',
      `"${given}" is not the text of a pattern, a file, or a named pattern of the archive${hint}`,
    );
  }
}

function inCell(value: unknown): string {
  if (value === null || value === undefined) return '';
  return typeof value === 'object' ? JSON.stringify(value) : String(value);
}
