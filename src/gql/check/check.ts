import { Source } from '../../text/source.ts';
import { STANDARD_FUNCTIONS } from '../expression/functions/standard.ts';
import type { Query } from '../language/ast.ts';
import { MAX_PROBLEMS } from '../language/limits.ts';
import { type Problem, problemAt } from '../language/problem.ts';
import { analyse } from './analysis.ts';
import type { CheckContext, CheckOptions } from './rule.ts';
import { RULES } from './rules.ts';

/**
 * What is wrong with a query that could be read, in the order of the text: errors, which keep it from being run, and
 * warnings. At most MAX_PROBLEMS; errors go before warnings when there are more.
 *
 * @param text the text that the query was read from
 */
export function checkQuery(query: Query, text: string, options: CheckOptions = {}): readonly Problem[] {
  const source = new Source(text);
  const problems: Problem[] = [];
  const seen = new Set<string>();
  const context: CheckContext = {
    query,
    analysis: analyse(query),
    options: { ...options, functions: options.functions ?? STANDARD_FUNCTIONS },
    report(code, span, message, details) {
      const key = `${code} ${span.start} ${span.end}`;
      // Calculating a place takes time, and so many would not be read.
      if (seen.has(key) || seen.size > 4 * MAX_PROBLEMS) return;
      seen.add(key);
      problems.push(problemAt(source, code, span, message, details));
    },
  };
  for (const { check, ofEach } of RULES) {
    if (!ofEach) check(context);
    else
      for (const one of context.analysis.queries)
        check({
          ...context,
          query: one.query,
          analysis: { ...context.analysis, variables: one.variables },
        });
  }
  const errors = problems.filter(({ severity }) => severity === 'error');
  const warnings = problems.filter(({ severity }) => severity === 'warning');
  return [...errors, ...warnings].slice(0, MAX_PROBLEMS).sort((a, b) => a.span.start - b.span.start);
}
