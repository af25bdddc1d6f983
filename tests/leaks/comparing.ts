import type { GraphQLSchema } from 'graphql/index.js';
import { type Asked, answered, cursorsOf, difference } from './asking.ts';
import type { Case } from './cases.ts';

// The differential test itself: a list of questions, asked of two services, and every answer that is not the same.

/** A question that two archives answer otherwise. */
export interface Leak {
  readonly place: string;
  /** Argument, kind and value, and the first place where the answers differ. */
  readonly told: string;
}

export interface Compared {
  readonly leaks: readonly Leak[];
  /** Fields that were answered with something, `Type.field`. */
  readonly answered: ReadonlySet<string>;
  readonly questions: number;
}

/** A cursor of the desk's is taken from here: of what is hidden from readers where there is any. */
const CURSORS = 2;

/**
 * Asks two services the same, each question once, and answers where they differ.
 * @param desk the service for the desk over the first archive, which makes cursors
 */
export async function compare(
  schema: GraphQLSchema,
  cases: readonly Case[],
  [one, other]: readonly [Asked, Asked],
  desk: Asked,
): Promise<Compared> {
  const leaks: Leak[] = [];
  const all = new Set<string>();
  let questions = 0;
  for (const question of cases) {
    for (const variables of await variablesOf(question, desk, other)) {
      questions++;
      const told = await one.graphql(question.query, variables);
      const wanted = await other.graphql(question.query, variables);
      answered(schema, question.query, wanted.body, all);
      const differs = difference(told, wanted) ?? failure(told.body);
      if (differs) {
        const { place, argument = '', kind } = question;
        leaks.push({ place, told: `${argument} ${kind} ${JSON.stringify(variables)}\n      ${differs}` });
      }
    }
  }
  return { leaks, answered: all, questions };
}

/** A question that the service could not answer at all is no question. */
function failure(body: string): string | undefined {
  return body.includes('"INTERNAL"') || body.includes('Variable "$') ? body.slice(0, 300) : undefined;
}

/** Variables to ask a question with: those it has, or several, each with a cursor that the desk was given. */
async function variablesOf(question: Case, desk: Asked, reader: Asked): Promise<readonly object[]> {
  const { cursor, variables } = question;
  if (!cursor) return [variables];
  const own = new Set(await cursorsOf(reader, question));
  const desks = await cursorsOf(desk, question);
  const hidden = desks.filter((one) => !own.has(one));
  return [...hidden, ...desks.filter((one) => own.has(one))]
    .slice(0, CURSORS)
    .map((value) => ({ ...variables, [cursor.variable]: value }));
}

/** A question asked of an earlier instant. */
export function at(instant: string, question: Case): Case {
  const under = (query: string) => {
    const open = query.indexOf('{');
    const declared = query
      .slice('query'.length, open)
      .trim()
      .replace(/^\(|\)$/gu, '');
    const all = [declared, '$instant: DateTime!'].filter((text) => text !== '').join(', ');
    return `query(${all}) { asOf(instant: $instant) ${query.slice(open)} }`;
  };
  const { cursor } = question;
  return {
    ...question,
    place: `asOf ${question.place}`,
    query: under(question.query),
    variables: { ...question.variables, instant },
    ...(cursor && { cursor: { ...cursor, of: under(cursor.of) } }),
  };
}

/** Leaks as a failed test shows them: a few, and how many there are. */
export function shown(leaks: readonly Leak[]): string {
  const byPlace = Map.groupBy(leaks, ({ place }) => place);
  const places = [...byPlace].map(
    ([place, all]) =>
      `${place} (${all.length})\n   ${all
        .slice(0, 2)
        .map(({ told }) => told)
        .join('\n   ')}`,
  );
  return places.join('\n');
}
