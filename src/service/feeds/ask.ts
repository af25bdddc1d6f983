import { type ExecutionResult, GraphQLError } from 'graphql/index.js';
import type { Archive } from '../../archive.ts';
import type { Feed } from '../../model/catalogue.ts';
import { CasebackError } from '../../model/problems.ts';
import type { State } from '../../state/state.ts';
import { type Asker, VISITOR } from '../access/asker.ts';
import type { Context } from '../graphql/context.ts';
import { type Executor, NotRun } from '../server/executor.ts';
import type { Limits } from '../server/options.ts';

/** The data that a question was answered with, as GraphQL has it. */
export type Data = Readonly<Record<string, unknown>>;

/** What asks the questions of feeds. */
export interface FeedAsker {
  readonly executor: Pick<Executor, 'run'>;
  readonly limits: Pick<Limits, 'time' | 'filesBytes' | 'designItems'>;
}

/** Whoever is at the desk, without a name: an answer is kept for all of them, and must tell none of them who another one is. */
const SOMEBODY: Asker = { ...VISITOR, role: 'contributor' };

/**
 * Asks the stored question of a feed of a state, within the limits of any question.
 * @param charge told the work of the question before it runs
 * @throws CasebackError with the code of what went wrong: a partial answer is none
 */
export async function askFeed(
  { executor, limits }: FeedAsker,
  archive: Archive,
  view: State,
  { id, question, variables }: Feed,
  charge: (work: number) => void = () => undefined,
): Promise<Data> {
  const late = new AbortController();
  const who = view.audience === 'desk' ? SOMEBODY : VISITOR;
  const context: Context = { archive, view, who, accounts: undefined, limits, signal: () => late.signal };
  const asked = { query: question, operationName: undefined, variables };
  const tooLate = new CasebackError(
    'OUT_OF_BUDGET',
    `The question of the feed "${id}" took longer than ${limits.time.toLocaleString('en')} ms; let it ask for less`,
  );
  let timer: NodeJS.Timeout | undefined;
  const over = new Promise<never>((_, reject) => {
    timer = setTimeout(() => {
      reject(tooLate);
      late.abort(tooLate);
    }, limits.time);
  });
  try {
    const running = executor.run(asked, context, refuseChanges, ({ work }) => charge(work));
    const { data, errors = [] }: ExecutionResult = await Promise.race([running, over]);
    if (errors.length > 0) throw failureOf(id, errors);
    return data as Data;
  } catch (error) {
    throw error instanceof NotRun ? failureOf(id, error.errors) : error;
  } finally {
    clearTimeout(timer);
  }
}

function refuseChanges(): never {
  throw new CasebackError('NOT_ALLOWED', 'The question of a feed changes nothing');
}

/** What went wrong, by the first error in the order of the document, whichever came first. */
function failureOf(id: string, errors: readonly GraphQLError[]): Error {
  const place = ({ locations }: GraphQLError) => locations?.[0] ?? { line: 0, column: 0 };
  const [first] = errors.toSorted((a, b) => {
    const [one, other] = [place(a), place(b)];
    return one.line - other.line || one.column - other.column;
  });
  const cause = first.originalError ?? first;
  // Ours have a code; anything unforeseen is logged and told as its request.
  if (cause instanceof CasebackError)
    return new CasebackError(
      cause.code,
      `The question of the feed "${id}": ${cause.message}`,
      cause.problems,
    );
  if (!(cause instanceof GraphQLError)) return cause;
  const code = first.extensions.code === 'OUT_OF_BUDGET' ? 'OUT_OF_BUDGET' : 'CONFLICT';
  return new CasebackError(code, `The question of the feed "${id}" cannot be answered: ${first.message}`);
}
