import type { MatchClause, PathFactor, PathPattern, Syntax, Variable } from '../../language/ast.ts';
import { children } from '../../language/children.ts';
import type { Rule } from '../rule.ts';

/**
 * Ours: iterations are walked with everything bound that their conditions read. So a condition inside a quantified or questioned
 * path, or in one of several alternatives, reads no path that is complete only when all of the MATCH is, and two of them do
 * not wait for one another.
 */
export const iterationConditions: Rule = {
  sentence:
    'Conditions inside a quantified path or alternatives read nothing that can be known only after it.',
  check({ analysis, report }) {
    for (const clause of analysis.matches) {
      const repeats = clause.paths.flatMap(repeatsIn);
      const isAlternation = (at: number): boolean => repeats[at]!.kind === 'path-alternation';
      const paths = new Set(pathNames(clause));
      const declared = repeats.map((repeat) => new Set(names(repeat, 'declared').map(({ name }) => name)));
      const waitsFor = repeats.map((repeat, i) => {
        const read = names(repeat, 'read').filter(({ name }) => !declared[i]!.has(name));
        for (const { name, span } of read)
          if (paths.has(name))
            report(
              'quantified-path',
              span,
              `The path "${name}" is complete only when the ${isAlternation(i) ? 'alternatives around this condition are' : 'quantified path around this condition is'}; put the condition into the WHERE of the MATCH.`,
            );
        return new Map(
          read.flatMap((variable) => {
            const by = declared.findIndex((own) => own.has(variable.name));
            return by < 0 ? [] : [[by, variable] as const];
          }),
        );
      });
      repeats.forEach((_, i) => {
        for (const [by, { name, span }] of waitsFor[i]!)
          if (reaches(waitsFor, by, i))
            report(
              'quantified-path',
              span,
              `"${name}" is declared in ${isAlternation(by) ? 'alternatives' : 'a quantified path'} whose conditions wait for this one; put one of the conditions into the WHERE of the MATCH.`,
            );
      });
    }
  },
};

function reaches(waitsFor: readonly ReadonlyMap<number, unknown>[], from: number, to: number): boolean {
  const seen = new Set([from]);
  for (const at of seen) {
    if (at === to) return true;
    for (const next of waitsFor[at]!.keys()) seen.add(next);
  }
  return false;
}

/** Quantified and questioned paths, and alternatives, that are in no other. */
function repeatsIn(path: PathPattern | PathFactor): PathFactor[] {
  switch (path.kind) {
    case 'quantified-path':
    case 'questioned-path':
    case 'path-alternation':
      return [path];
    case 'path-pattern':
    case 'parenthesized-path':
      return path.factors.flatMap(repeatsIn);
    default:
      return [];
  }
}

/** Names of paths outside of iterations. */
function pathNames({ paths }: MatchClause): string[] {
  const own = (path: PathPattern | PathFactor): string[] =>
    path.kind === 'path-pattern' || path.kind === 'parenthesized-path'
      ? [...(path.variable ? [path.variable.text] : []), ...path.factors.flatMap(own)]
      : [];
  return paths.flatMap(own);
}

/** Variables that are declared in a piece of path, or read by its conditions. */
function names(root: Syntax, which: 'declared' | 'read'): Pick<Variable, 'name' | 'span'>[] {
  const found: Pick<Variable, 'name' | 'span'>[] = [];
  const open: Syntax[] = [root];
  for (let node = open.pop(); node; node = open.pop()) {
    if (node.kind === 'variable') {
      if (which === 'read') found.push(node);
    } else if ('variable' in node && node.variable && which === 'declared')
      found.push({ name: node.variable.text, span: node.variable.span });
    open.push(...children(node));
  }
  return found;
}
