import { nameOrWhyNot } from '../../access/local-account.ts';
import { tablesOf } from '../../export/rows.ts';
import { toTable } from '../../export/table.ts';
import type { Feed } from '../../model/catalogue.ts';
import { createService } from '../../service/create-service.ts';
import type { Data } from '../../service/feeds/ask.ts';
import { rowsOfFeed } from '../../service/feeds/representations.ts';
import { resolved } from '../../state/resolve.ts';
import type { Answer } from '../frame/answer.ts';
import type { Call } from '../frame/call.ts';
import { defineCommand } from '../frame/command.ts';
import { EXIT, Unable, UsageError } from '../frame/exit.ts';
import { readText } from '../frame/files.ts';
import { text } from '../frame/options.ts';
import type { Terminal } from '../frame/terminal.ts';

const OPTIONS = {
  query: text('TEXT', 'the question itself'),
  variables: text('JSON', 'values of its variables, or @FILE'),
  operation: text('NAME', 'which operation of the document to run'),
  feed: text(
    'ID',
    'the stored question of a feed, with its variables; csv and table have the rows of the feed',
  ),
  url: text('URL', 'ask a running service instead, such as http://127.0.0.1:4860/graphql'),
};

export const command = defineCommand({
  name: 'ask',
  about:
    'The question is a GraphQL document from a file, from standard input (-) or from --query. It is answered from the data folder, by the schema that the service answers by, or by a running service with --url. What can be asked is in schema/api/ and, of a running service, in its explorer. table and csv have a row for each item of the lists in the answer.\nExit code 1 when the answer has an error; what could be answered is printed all the same.',
  arguments: [{ name: 'FILE', help: 'a file with the question; - for standard input', optional: true }],
  options: OPTIONS,
  uses: 'view',
  givesFigures: true,
  formats: ['json', 'table', 'csv'],
  examples: [
    "ask --format table --query '{ devices(first: 5) { nodes { name released maker { name } } } }'",
    `ask question.graphql --variables '{"id": "tarn-sennit-3"}'`,
    'ask question.graphql --format csv > rows.csv',
    'ask --feed pressure-sensors-by-year --format csv',
    "ask --as-of 2026-03-01 --query '{ devices { totalCount } }'",
  ],

  async run(call): Promise<Answer> {
    const { url, operation } = call.options;
    const elsewhere = ['data', 'as-of', 'audience'].find((name) => call.given.has(camelCase(name)));
    if (url !== undefined && elsewhere !== undefined)
      throw new UsageError(`--${elsewhere} does not go with --url: the service decides that for itself`);
    const feed = await feedIn(call);
    const variables = feed?.variables ?? variablesIn(call.options.variables, call.terminal);
    const question = feed?.question ?? questionIn(call.arguments[0], call.options.query, call.terminal);
    const body = { query: question, variables, operationName: operation };
    const response = url === undefined ? await askArchive(body, call) : await askService(body, url);
    const { data, errors } = response;
    return {
      json: () => response,
      // Several lists are several tables, each under its name.
      text: () => {
        if (feed && isWhole(response)) return toTable(rowsOfFeed(feed, response.data));
        const tables = data ? tablesOf(data) : [];
        const title = (name: string) => (tables.length > 1 ? `${name}\n` : '');
        return tables.map(({ name, rows }) => `${title(name)}${toTable(rows)}`).join('\n');
      },
      csv: () => (feed && isWhole(response) ? rowsOfFeed(feed, response.data) : rowsOfOne(data)),
      messages: (errors ?? []).map(messageOf),
      exit: errors ? EXIT.problems : EXIT.fine,
    };
  },
});

interface Response {
  readonly data?: unknown;
  readonly errors?: readonly {
    readonly message: string;
    readonly path?: readonly (string | number)[];
    readonly locations?: readonly { readonly line: number; readonly column: number }[];
  }[];
}

/** Whether there is nothing but data, as a service answers a feed. */
function isWhole(response: Response): response is { readonly data: Data } {
  return typeof response.data === 'object' && response.data !== null && !response.errors;
}

/** The feed whose question is asked, if one is named. @throws UsageError where something else says what is asked */
async function feedIn(call: Call<typeof OPTIONS>): Promise<Feed | undefined> {
  const { feed, query, variables, operation, url } = call.options;
  if (feed === undefined) return undefined;
  if (url !== undefined)
    throw new UsageError('--feed does not go with --url: a service answers feeds under /feeds/');
  const others = [call.arguments[0], query, variables, operation];
  if (others.some((one) => one !== undefined))
    throw new UsageError('--feed brings its question and its variables; leave the others out');
  return resolved(await call.view(), feed, ['Feed']).thing;
}

function camelCase(option: string): string {
  return option.replaceAll(/-(.)/gu, (_, letter: string) => letter.toUpperCase());
}

function messageOf({ message, locations, path }: NonNullable<Response['errors']>[number]): string {
  const place = locations?.[0] ? `${locations[0].line}:${locations[0].column}: ` : '';
  return `caseback ask: ${place}${path ? `${path.join('.')}: ` : ''}${message}`;
}

function questionIn(file: string | undefined, query: string | undefined, terminal: Terminal): string {
  if (query !== undefined && file === undefined) {
    if (query.trim() !== '') return query;
    throw new UsageError(`--query is empty; write the question, such as '{ devices { totalCount } }'`);
  }
  if (query !== undefined) throw new UsageError('give either a file or --query, not both');
  const missing = 'the question is missing; name a file with it, or give --query';
  if (file === undefined && terminal.isInputTyped) throw new UsageError(missing);
  const question = readText(file ?? '-', terminal);
  if (question.trim() !== '') return question;
  throw new UsageError(
    file === undefined ? missing : `${file === '-' ? 'standard input' : file} is empty; ${missing}`,
  );
}

function variablesIn(written: string | undefined, terminal: Terminal): object | undefined {
  if (written === undefined) return undefined;
  const json = written.startsWith('@') ? readText(written.slice(1), terminal) : written;
  let read: unknown;
  try {
    read = JSON.parse(json);
  } catch {
    throw new UsageError('--variables is not valid JSON; write an object, such as {"id": "tarn-sennit-3"}');
  }
  if (typeof read === 'object' && read !== null && !Array.isArray(read)) return read;
  throw new UsageError('--variables must be a JSON object, such as {"id": "tarn-sennit-3"}');
}

/** Answers from the data folder, by the same service that answers over the network. */
async function askArchive(body: object, call: Call<typeof OPTIONS>): Promise<Response> {
  const app = createService({
    archive: await call.archive(),
    audience: call.audience,
    readOnly: call.asOf !== undefined,
    hosts: 'any',
    limits: ALONE,
    // Whoever asks here has the files, and so every right.
    access: {
      local: { ...nameOrWhyNot(() => call.actor()), role: 'administrator' },
    },
  });
  try {
    const response = await app.inject({ method: 'POST', url: '/graphql', payload: body, headers: ACCEPT });
    return JSON.parse(response.body) as Response;
  } finally {
    await app.close();
  }
}

/** Whoever asks here has the machine to themselves; the limits of a service for many do not apply. */
const ALONE = { cost: 100_000_000, depth: 64, tokens: 100_000 } as const;

async function askService(body: object, url: string): Promise<Response> {
  let answer: string;
  try {
    const headers = { ...ACCEPT, 'content-type': 'application/json' };
    const response = await fetch(url, { method: 'POST', headers, body: JSON.stringify(body) });
    answer = await response.text();
  } catch (error) {
    const cause = (error as { cause?: Error }).cause ?? (error as Error);
    throw new Unable(`no service answers at ${url} (${cause.message}); start it with "caseback serve"`);
  }
  try {
    return JSON.parse(answer) as Response;
  } catch {
    throw new Unable(`what answers at ${url} is not a GraphQL service; the address ends in /graphql`);
  }
}

const ACCEPT = { accept: 'application/graphql-response+json' };

function rowsOfOne(data: unknown) {
  const tables = data ? tablesOf(data) : [];
  if (tables.length > 1)
    throw new UsageError(
      `a CSV file has one list, and the answer has ${tables.map(({ name }) => name).join(', ')}; ask for one of them`,
    );
  return tables[0]?.rows ?? [];
}
