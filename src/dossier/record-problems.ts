import type { Problem } from '../model/problems.ts';
import { problemsOf } from './issues.ts';
import type { Schema } from './schema-walk.ts';

/**
 * What a schema found wrong with a record that stands in no file, such as one put together from options.
 * @param issues what the schema found
 * @param field the field under test, where the value is that of one field
 */
export function recordProblems(
  issues: Parameters<typeof problemsOf>[0],
  value: unknown,
  schema: Schema,
  field = '',
): readonly Problem[] {
  return problemsOf(issues, value, schema, NO_FILE, field).map(({ path, what, fix }) => ({
    path,
    what,
    fix,
  }));
}

const nowhere = () => ({ line: 1, column: 1 });

/** Takes the place of a file's text where there is none. */
const NO_FILE = {
  problems: [],
  value: () => undefined,
  scalar: () => undefined,
  locate: nowhere,
  locateKey: nowhere,
};
