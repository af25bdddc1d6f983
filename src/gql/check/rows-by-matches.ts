import { Source } from '../../text/source.ts';
import type { NumberLiteral, Parameter, Query } from '../language/ast.ts';
import { type Problem, problemAt } from '../language/problem.ts';
import { analyse, rowAggregatesIn } from './analysis.ts';

/**
 * What in a checked text makes that it has a row something else than that its clauses have a match; empty for other texts.
 * Whatever asks for one match (segment by segment, with a probability) takes only such texts.
 * @param parameters values of the text's parameters
 */
export function rowsNotByMatches(
  { text, tree }: { readonly text: string; readonly tree: Query },
  parameters: Readonly<Record<string, unknown>> = {},
): readonly Problem[] {
  const source = new Source(text);
  const problems: Problem[] = [];
  const report = (span: Query['span'], message: string) =>
    problems.push(problemAt(source, 'rows-not-by-matches', span, message));
  const [first] = tree.clauses;
  if (first?.kind === 'optional')
    report(
      first.span,
      'A text that begins with OPTIONAL has a row whatever is there, so it has no probability; begin with MATCH.',
    );
  const { items, groupBy } = tree.result;
  if (items && (groupBy ? groupBy.length === 0 : true)) {
    const analysis = analyse(tree);
    const isAggregate = items.map(({ value }) => rowAggregatesIn(value, analysis.siteOf(value)).length > 0);
    if (groupBy || isAggregate.every((is) => is))
      report(
        tree.result.span,
        'RETURN of aggregates alone has a row whatever is there, so it has no probability; return what is matched.',
      );
  }
  const count = (node: NumberLiteral | Parameter | undefined) =>
    node?.kind === 'parameter' ? parameters[node.name] : node?.value;
  if (tree.limit && count(tree.limit) === 0)
    report(tree.limit.span, 'LIMIT 0 leaves no row, so there is no probability of one; leave it out.');
  if (tree.offset && count(tree.offset) !== 0)
    report(
      tree.offset.span,
      'With OFFSET it takes several rows to leave one, so the probability of one match says nothing; leave it out.',
    );
  return problems;
}
