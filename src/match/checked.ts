import type { PatternGraph } from './graph.ts';
import { describe, type Problem } from './language/problem.ts';
import type { QueryOptions } from './options.ts';
import { parseKept } from './plan/parsed.ts';

/** A text that is no right pattern; every problem with line, column, excerpt and near names. */
export class PatternError extends Error {
  override readonly name = 'PatternError';
  readonly problems: readonly Problem[];
  constructor(problems: readonly Problem[]) {
    super(problems.map(describe).join('\n\n'));
    this.problems = problems;
  }
}

/** Throws PatternError unless the text can be asked of the graph. */
export function checked(_graph: PatternGraph, text: string, _options: QueryOptions): void {
  const { errors } = parseKept(text);
  if (errors.length > 0) throw new PatternError(errors);
}
