import type { Clause, Expression, MatchClause } from '../language/ast.ts';
import { conjunction, conjuncts, declaredNames, namesIn } from './free-names.ts';

/**
 * Clauses in which every condition of a FILTER is tested as early as it can be: in the WHERE of the MATCH that declares the last
 * of its variables, where it means the same, and right behind whatever else declares it. A row that a condition leaves out is left
 * out whichever clauses that do not touch its variables come before it.
 */
export function withPushedFilters(clauses: readonly Clause[]): readonly Clause[] {
  if (!clauses.some(({ kind }) => kind === 'filter')) return clauses;
  const known = new Set<string>();
  const placed: Placed[] = [];
  const put = (condition: Expression, clause: Clause & { readonly kind: 'filter' }): void => {
    const names = [...namesIn(condition)];
    let at = placed.length;
    while (at > 0 && mayPass(placed[at - 1]!, names)) at--;
    // What needs no variable goes into the first clause.
    const host = placed[Math.max(0, at - 1)];
    if (host?.clause.kind === 'match') host.clause = withCondition(host.clause, condition);
    else placed.splice(at, 0, { clause: { ...clause, condition }, declares: new Set() });
  };
  for (const clause of clauses) {
    if (clause.kind === 'filter') {
      for (const condition of conjuncts(clause.condition)) put(condition, clause);
      continue;
    }
    const declares = new Set(declaredNames([clause]).filter((name) => !known.has(name)));
    for (const name of declares) known.add(name);
    placed.push({ clause, declares });
  }
  return placed.map(({ clause }) => clause);
}

interface Placed {
  clause: Clause;
  readonly declares: ReadonlySet<string>;
}

/** Whether a condition may be tested before a clause: not where rows are counted, or made of others. */
function mayPass({ clause, declares }: Placed, names: readonly string[]): boolean {
  return clause.kind !== 'page' && clause.kind !== 'table' && !names.some((name) => declares.has(name));
}

function withCondition(clause: MatchClause, condition: Expression): MatchClause {
  return { ...clause, where: conjunction([...conjuncts(clause.where), condition]) };
}
