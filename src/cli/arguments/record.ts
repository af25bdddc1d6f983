import type { z } from 'zod';
import { recordProblems } from '../../dossier/record-problems.ts';
import { CasebackError } from '../../model/problems.ts';

/**
 * A record put together from arguments and options, once its schema takes it.
 * @param what the record is, such as `observation`
 * @throws CasebackError BAD_INPUT with every problem and its fix
 */
export function checkedRecord<T>(schema: z.ZodType<T>, what: string, written: object): T {
  const read = schema.safeParse(written);
  if (read.success) return read.data;
  const problems = recordProblems(read.error.issues, written, schema);
  const count = problems.length === 1 ? 'a problem' : `${problems.length} problems`;
  throw new CasebackError('BAD_INPUT', `the ${what} has ${count}; nothing was written`, problems);
}
