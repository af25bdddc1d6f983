import type { z } from 'zod';
import type { Authorship } from '../../../archive.ts';
import { recordProblems } from '../../../dossier/record-problems.ts';
import type { Entry } from '../../../model/entry.ts';
import { CasebackError, formatProblem } from '../../../model/problems.ts';
import { enumName } from '../words.ts';

/** Characters of a name or a reason. */
const LONGEST = { actor: 200, reason: 2_000 } as const;

/**
 * Who and why, tidied.
 * @throws CasebackError BAD_INPUT when one is empty or too long
 */
export function authorship(given: Authorship): Authorship {
  const tidy = (field: 'actor' | 'reason') => {
    const text = given[field].trim();
    if (text === '') throw new CasebackError('BAD_INPUT', `${field} is empty; every change says who and why`);
    if (text.length > LONGEST[field]) {
      throw new CasebackError(
        'BAD_INPUT',
        `${field} has ${text.length} characters; at most ${LONGEST[field]}`,
      );
    }
    return text;
  };
  return { actor: tidy('actor'), reason: tidy('reason') };
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
