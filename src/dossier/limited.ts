import type { Problem } from '../model/problems.ts';

/** Problems listed at once; nobody fixes more in one go. */
export const MAX_PROBLEMS = 100;

/** The first problems, and one line that counts the rest. */
export function limited<P extends Problem>(problems: readonly P[]): readonly (P | Problem)[] {
  if (problems.length <= MAX_PROBLEMS) return problems;
  const rest = problems.length - MAX_PROBLEMS;
  const files = new Set(problems.map(({ file }) => file));
  const more: Problem = {
    ...(files.size === 1 && problems[0].file !== undefined ? { file: problems[0].file } : {}),
    what: `and ${rest.toLocaleString('en')} more`,
    fix: 'fix these first, then check again',
  };
  return [...problems.slice(0, MAX_PROBLEMS), more];
}
