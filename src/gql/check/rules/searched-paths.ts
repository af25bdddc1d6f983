import type {
  MatchClause,
  NodePattern,
  PathPattern,
  QuantifiedPath,
  Span,
  Syntax,
} from '../../language/ast.ts';
import { children } from '../../language/children.ts';
import { declaredInFactors } from '../../plan/free-names.ts';
import { endsOfPath } from '../../plan/path-ends.ts';
import type { CheckContext, Rule } from '../rule.ts';

/**
 * 16.4 and 16.6, syntax rules on selective path patterns, from memory; Deutsch and others, "Graph pattern matching in GQL and
 * SQL/PGQ", SIGMOD 2022, section 5. Which paths are kept must not depend on what else is matched.
 */
export const searchedPaths: Rule = {
  sentence: 'What ANY and SHORTEST choose among depends on the path pattern alone.',
  check(context) {
    for (const clause of context.analysis.matches)
      for (const path of clause.paths) if (path.search && path.search !== 'ALL') look(path, clause, context);
  },
};

function look(path: PathPattern, clause: MatchClause, context: CheckContext): void {
  const { report } = context;
  const isRepeatable = clause.mode === 'REPEATABLE ELEMENTS';
  if (clause.paths.length > 1 && !isRepeatable)
    report(
      'path-search',
      { start: path.span.start, end: path.span.start + path.search!.length },
      `Edges of all paths of a MATCH must differ, so that what ${path.search} takes would hang on the other paths; give the path a MATCH of its own, or write MATCH REPEATABLE ELEMENTS.`,
    );
  const { first, last, between, around } = endsOfPath(path);
  const inner = declaredInFactors(between);
  for (const { variable } of around) if (variable) inner.add(variable.text);
  for (const end of [first, last]) if (end?.variable) inner.delete(end.variable.text);
  const others = new Set(
    clause.paths.flatMap((other) =>
      other === path
        ? []
        : [...declaredInFactors(other.factors), ...(other.variable ? [other.variable.text] : [])],
    ),
  );
  for (const { name, span, before, clause: of } of context.analysis.declarations) {
    const isHere = of === clause && path.span.start <= span.start && span.end <= path.span.end;
    if (isHere && inner.has(name) && (before || others.has(name)))
      report(
        'path-search',
        span,
        `"${name}" is bound elsewhere too, but what ${path.search} takes depends on its own path alone; take another name and compare after WHERE with SAME(…). Only the first and the last node can be shared.`,
      );
  }
  const own = declaredInFactors(path.factors);
  for (const { name, span } of readIn(path, [first, last]))
    if (others.has(name) && !own.has(name))
      report(
        'path-search',
        span,
        `"${name}" belongs to another path, but what ${path.search} takes depends on its own path alone; put the condition into the WHERE of the MATCH, where it is asked of the path that was taken.`,
      );
  const restricted = [path.mode, ...around.map(({ mode }) => mode)].some((mode) => mode && mode !== 'WALK');
  if (isRepeatable && !restricted) endless(path, around, context);
}

/** Without bounds, what is asked of all of a walk could be asked of endless walks. */
function endless(
  path: PathPattern,
  around: ReturnType<typeof endsOfPath>['around'],
  { report }: CheckContext,
): void {
  const unbounded = quantifiedIn(path).filter(({ max }) => max === undefined);
  if (unbounded.length === 0) return;
  const why =
    'it looks at all of a walk, and without an upper bound there are endless ones; give one, such as {1,8}, or put TRAIL, SIMPLE or ACYCLIC before the path.';
  for (const part of piecesOf(path))
    if (part.kind === 'parenthesized-path' && part.mode && part.mode !== 'WALK' && !around.includes(part))
      report('unbounded-quantifier', part.span, `A mode inside a searched path cannot stand here: ${why}`);
  for (const quantified of unbounded) {
    const declared = declaredInFactors([quantified]);
    for (const { name, span } of readIn(path, []))
      if (declared.has(name) && !(quantified.span.start <= span.start && span.end <= quantified.span.end))
        report('unbounded-quantifier', span, `A condition on the list "${name}" cannot stand here: ${why}`);
  }
}

/** All of a path pattern but for what its subqueries ask, whose patterns are no part of the walk. */
function piecesOf(root: Syntax): Syntax[] {
  const found: Syntax[] = [root];
  for (const node of found)
    if (node.kind !== 'exists' && node.kind !== 'value-query') found.push(...children(node));
  return found;
}

function quantifiedIn(path: PathPattern): QuantifiedPath[] {
  return piecesOf(path).filter((node) => node.kind === 'quantified-path');
}

/** Variables in the conditions of a path, but for those of some of its nodes. */
function readIn(
  path: PathPattern,
  without: readonly (NodePattern | undefined)[],
): { readonly name: string; readonly span: Span }[] {
  const visit = (node: Syntax): Syntax[] =>
    without.includes(node as NodePattern) ? [] : [node, ...children(node).flatMap(visit)];
  return visit(path).filter((node) => node.kind === 'variable');
}
