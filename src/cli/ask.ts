import { readFileSync } from 'node:fs';
import { toCsv } from '../export/csv.ts';
import { rowsOf } from '../export/rows.ts';
import { toTable } from '../export/table.ts';
import { CasebackError } from '../model/problems.ts';
import { createService } from '../service/createService.ts';
import { type Command, choiceOf, EXIT, textOf, UsageError, type Values } from './command.ts';
import { DATA_HELP, DATA_OPTION, dataFolder, openArchive } from './dataFolder.ts';

export const command: Command = {
  summary: 'asks a GraphQL question of the archive, with or without a running service',
  usage: 'ask [FILE|-] [--query TEXT] [--variables JSON|@FILE] [--format json|table|csv]',
  help: `The question comes from a file, from standard input (-) or from --query. It is answered from the data folder, or by
a running service with --url.

${DATA_HELP}
  --query TEXT      the question itself
  --variables JSON  values of its variables, or @FILE
  --format json     whole answer; table and csv show its first list, a row an item
  --audience reader what is published; desk shows drafts and what is under embargo too
  --url URL         ask a running service instead, such as http://127.0.0.1:4860/graphql

  caseback ask --format table --query '{ devices(first: 5) { nodes { name released maker { name } } } }'
  caseback ask question.graphql --variables '{"id": "tarn-loop-3"}'`,
  options: {
    ...DATA_OPTION,
    query: { type: 'string' },
    variables: { type: 'string' },
    format: { type: 'string' },
    audience: { type: 'string' },
    url: { type: 'string' },
  },

  async run([file], values) {
    const format = choiceOf(values, 'format', ['json', 'table', 'csv'], 'json');
    const query = questionOf(file, values);
    const body = { query, variables: variablesOf(values) };
    const url = textOf(values, 'url');
    const answer = url === undefined ? await askFolder(body, values) : await askService(body, url);
    if (format === 'json') process.stdout.write(`${JSON.stringify(answer, null, 2)}\n`);
    else if (answer.data)
      process.stdout.write(format === 'table' ? toTable(rowsOf(answer.data)) : toCsv(rowsOf(answer.data)));
    for (const { message, locations, path } of answer.errors ?? []) {
      const place = locations?.[0] ? `${locations[0].line}:${locations[0].column}: ` : '';
      process.stderr.write(`${place}${path ? `${path.join('.')}: ` : ''}${message}\n`);
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

function variablesOf(values: Values): unknown {
  const written = textOf(values, 'variables');
  if (written === undefined) return undefined;
  const text = written.startsWith('@') ? readText(written.slice(1)) : written;
  try {
    return JSON.parse(text);
  } catch (error) {
    throw new UsageError(`--variables is no JSON: ${(error as Error).message}`);
  }
}

function readText(file: string | 0): string {
  try {
    return readFileSync(file, 'utf8');
  } catch (error) {
    throw new CasebackError(
      'BAD_FILE',
      `${file === 0 ? 'standard input' : file} cannot be read: ${(error as Error).message}`,
    );
  }
}

/** Answers from the data folder, by the same service that answers over the network. */
async function askFolder(body: object, values: Values): Promise<Answer> {
  const audience = choiceOf(values, 'audience', ['reader', 'desk'], 'reader');
  const archive = await openArchive(dataFolder(values));
  const app = createService({ archive, audience, hosts: 'any' });
  try {
    const response = await app.inject({ method: 'POST', url: '/graphql', payload: body, headers: ACCEPT });
    return JSON.parse(response.body) as Answer;
  } finally {
    await app.close();
    await archive.close();
  }
}

async function askService(body: object, url: string): Promise<Answer> {
  try {
    const headers = { ...ACCEPT, 'content-type': 'application/json' };
    const response = await fetch(url, { method: 'POST', headers, body: JSON.stringify(body) });
    return (await response.json()) as Answer;
  } catch (error) {
    const cause = (error as { cause?: Error }).cause ?? (error as Error);
    throw new CasebackError(
      'NOT_FOUND',
      `No service answers at ${url} (${cause.message}); start it with "caseback serve"`,
    );
  }
}

const ACCEPT = { accept: 'application/graphql-response+json' };
