import { readFileSync } from 'node:fs';
import { toCsv } from '../export/csv.ts';
import { tablesOf } from '../export/rows.ts';
import { toTable } from '../export/table.ts';
import { CasebackError } from '../model/problems.ts';
import { createService } from '../service/create-service.ts';
import { type Command, choiceOf, EXIT, textOf, Unable, UsageError, type Values } from './command.ts';
import { confusionFor, followConfusion } from './confusion.ts';
import { DATA_HELP, DATA_OPTION, dataFolder } from './data-folder.ts';
import { pastInstant } from './instant.ts';
import { openArchive } from './open-archive.ts';

export const command: Command = {
  usage:
    'ask [FILE|-] [--query TEXT] [--variables JSON|@FILE] [--format json|table|csv] [--as-of WHEN] [--audience reader|desk] [--url URL]',
  help: `The question is a GraphQL document from a file, from standard input (-) or from --query. It is answered from the data
folder, by the schema that the service answers by, or by a running service with --url. What can be asked
stands in schema/api/ and, of a running service, in its explorer.

${DATA_HELP}
  --query TEXT      the question itself
  --variables JSON  values of its variables, or @FILE
  --operation NAME  which operation of the document to run
  --format json     the whole answer (default); table and csv make a row of each item of its lists
  --as-of WHEN      the archive as it stood at an instant (2026-03-01T09:00:00Z) or at the end of a day, UTC
                    (2026-03-01); read only
  --audience reader what is published (default); desk shows drafts and what is under embargo too
  --url URL         ask a running service instead, such as http://127.0.0.1:4860/graphql

Exit code 1 when the answer holds an error; what could be answered is printed all the same.

  caseback ask --format table --query '{ devices(first: 5) { nodes { name released maker { name } } } }'
  caseback ask question.graphql --variables '{"id": "tarn-loop-3"}'
  caseback ask question.graphql --format csv > rows.csv
  caseback ask --as-of 2026-03-01 --query '{ devices { totalCount } }'`,
  options: {
    ...DATA_OPTION,
    query: { type: 'string' },
    variables: { type: 'string' },
    operation: { type: 'string' },
    format: { type: 'string' },
    'as-of': { type: 'string' },
    audience: { type: 'string' },
    url: { type: 'string' },
  },
  words: 1,

  async run([file], values) {
    const format = choiceOf(values, 'format', ['json', 'table', 'csv'], 'json');
    const url = textOf(values, 'url');
    const elsewhere = ['data', 'as-of', 'audience'].find((name) => values[name] !== undefined);
    if (url !== undefined && elsewhere !== undefined)
      throw new UsageError(`--${elsewhere} does not go with --url: the service decides that for itself`);
    const variables = variablesOf(values);
    const body = { query: questionOf(file, values), variables, operationName: textOf(values, 'operation') };
    const answer = url === undefined ? await askFolder(body, values) : await askService(body, url);
    if (format === 'json') process.stdout.write(`${JSON.stringify(answer, null, 2)}\n`);
    else if (answer.data)
      process.stdout.write(format === 'table' ? inTables(answer.data) : inCsv(answer.data));
    for (const { message, locations, path } of answer.errors ?? []) {
      const place = locations?.[0] ? `${locations[0].line}:${locations[0].column}: ` : '';
      process.stderr.write(`caseback ask: ${place}${path ? `${path.join('.')}: ` : ''}${message}\n`);
    }
    return answer.errors ? EXIT.problems : EXIT.fine;
  },
};

interface Answer {
  readonly data?: unknown;
  readonly errors?: readonly {
    readonly message: string;
    readonly path?: readonly (string | number)[];
    readonly locations?: readonly { readonly line: number; readonly column: number }[];
  }[];
}

function questionOf(file: string | undefined, values: Values): string {
  const query = textOf(values, 'query');
  if (query !== undefined && file === undefined) return query;
  if (query !== undefined) throw new UsageError('give either a file or --query, not both');
  if (file === undefined && process.stdin.isTTY)
    throw new UsageError('name a file with the question, or give --query');
  return readText(file === undefined || file === '-' ? 0 : file);
}

function variablesOf(values: Values): object | undefined {
  const written = textOf(values, 'variables');
  if (written === undefined) return undefined;
  const text = written.startsWith('@') ? readText(written.slice(1)) : written;
  let read: unknown;
  try {
    read = JSON.parse(text);
  } catch (error) {
    throw new UsageError(`--variables is no JSON: ${(error as Error).message}`);
  }
  if (typeof read === 'object' && read !== null && !Array.isArray(read)) return read;
  throw new UsageError('--variables must be a JSON object, such as {"id": "tarn-loop-3"}');
}

function readText(file: string | 0): string {
  try {
    return readFileSync(file, 'utf8');
  } catch (error) {
    const name = file === 0 ? 'standard input' : file;
    throw new CasebackError('BAD_FILE', `${name} cannot be read: ${(error as Error).message}`);
  }
}

/** Answers from the data folder, by the same service that answers over the network. */
async function askFolder(body: object, values: Values): Promise<Answer> {
  const audience = choiceOf(values, 'audience', ['reader', 'desk'], 'reader');
  const asOf = textOf(values, 'as-of');
  const until = asOf === undefined ? undefined : pastInstant(asOf, '--as-of', new Date());
  const folder = dataFolder(values);
  const confusion = confusionFor(folder);
  const archive = await openArchive(folder, until);
  followConfusion(archive, confusion);
  const app = createService({
    archive,
    audience,
    readOnly: until !== undefined,
    hosts: 'any',
    limits: ALONE,
  });
  try {
    const response = await app.inject({ method: 'POST', url: '/graphql', payload: body, headers: ACCEPT });
    return JSON.parse(response.body) as Answer;
  } finally {
    await app.close();
    await archive.close();
  }
}

/** Whoever asks here has the machine to themselves; the limits of a service for many do not apply. */
const ALONE = { cost: 100_000_000, depth: 64, tokens: 100_000 } as const;

async function askService(body: object, url: string): Promise<Answer> {
  let text: string;
  try {
    const headers = { ...ACCEPT, 'content-type': 'application/json' };
    const response = await fetch(url, { method: 'POST', headers, body: JSON.stringify(body) });
    text = await response.text();
  } catch (error) {
    const cause = (error as { cause?: Error }).cause ?? (error as Error);
    throw new Unable(`no service answers at ${url} (${cause.message}); start it with "caseback serve"`);
  }
  try {
    return JSON.parse(text) as Answer;
  } catch {
    throw new Unable(`what answers at ${url} is no GraphQL service; the address ends in /graphql`);
  }
}

const ACCEPT = { accept: 'application/graphql-response+json' };

/** Each list of the answer as a table, under its name where there are several. */
function inTables(data: unknown): string {
  const tables = tablesOf(data);
  return tables.map(({ name, rows }) => `${tables.length > 1 ? `${name}\n` : ''}${toTable(rows)}`).join('\n');
}

function inCsv(data: unknown): string {
  const tables = tablesOf(data);
  if (tables.length > 1)
    throw new UsageError(
      `a CSV file holds one list, and the answer has ${tables.map(({ name }) => name).join(', ')}; ask for one of them`,
    );
  return toCsv(tables[0].rows);
}
