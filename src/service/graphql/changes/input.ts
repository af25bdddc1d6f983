import type { z } from 'zod';
import type { Who } from '../../../access/roles.ts';
import { recordProblems } from '../../../dossier/record-problems.ts';
import type { Authorship, Entry } from '../../../model/entry.ts';
import { CasebackError, formatProblem } from '../../../model/problems.ts';
import { enumName } from '../words.ts';

/** Characters of a reason. */
const LONGEST = 2_000;

/** Who makes a change and why, as an input has it. */
interface Authored {
  readonly actor?: string | null | undefined;
  readonly reason: string;
}

/**
 * Who and why, tidied. The actor is whoever has signed in: nobody writes in another's name.
 * @throws CasebackError NOT_ALLOWED for another name, SIGNED_OUT for a visitor, UNAVAILABLE for whoever has no name; BAD_INPUT when the reason is empty or too long
 */
export function authorship(given: Authored, who: Who): Authorship {
  const { name, nameless } = who;
  if (nameless !== undefined) throw new CasebackError('UNAVAILABLE', nameless);
  if (name === undefined) throw new CasebackError('SIGNED_OUT', 'every change says who makes it; sign in');
  const actor = given.actor?.normalize('NFC').trim();
  if (actor !== undefined && actor !== name)
    throw new CasebackError(
      'NOT_ALLOWED',
      `actor is not the name that you have signed in with, "${name}"; leave it out`,
    );
  const reason = given.reason.trim();
  if (reason === '') throw new CasebackError('BAD_INPUT', 'reason is empty; every change says who and why');
  if (reason.length > LONGEST)
    throw new CasebackError('BAD_INPUT', `reason has ${reason.length} characters; at most ${LONGEST}`);
  return { actor: name, reason };
}

/** An entry of the journal, as the schema has it. */
export function entrySource({ sequence, id, instant, actor, reason, kind, hash }: Entry) {
  return { sequence, id, instant, actor, reason, hash, kind: enumName(kind) };
}

/**
 * A record from an input object. Fields given as null count as not given.
 * @param argument name of the argument, which paths of problems begin with
 * @throws CasebackError BAD_INPUT with every problem
 */
export function recordOf<T>(schema: z.ZodType<T>, input: object, argument: string): T {
  const record = withoutNulls(input);
  const read = schema.safeParse(record);
  if (read.success) return read.data;
  const problems = recordProblems(read.error.issues, record, schema).map(({ path = '', ...problem }) => ({
    path: `${argument}${argument === '' || path === '' || path.startsWith('[') ? '' : '.'}${path}`,
    ...problem,
  }));
  const count = problems.length === 1 ? 'one problem' : `${problems.length} problems`;
  throw new CasebackError(
    'BAD_INPUT',
    `${argument === '' ? 'the input' : argument} has ${count}: ${formatProblem(problems[0])}`,
    problems,
  );
}

function withoutNulls(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(withoutNulls);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value).flatMap(([key, inner]) => (inner === null ? [] : [[key, withoutNulls(inner)]])),
  );
}
