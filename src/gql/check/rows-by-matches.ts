import { Source } from '../../text/source.ts';
import type { FunctionTable } from '../expression/functions/define.ts';
import type { Expression, NumberLiteral, Parameter, Query, Syntax } from '../language/ast.ts';
import { children } from '../language/children.ts';
import { type Problem, problemAt } from '../language/problem.ts';
import { functionsOf } from '../search/functions.ts';
import { analyse, rowAggregatesIn } from './analysis.ts';

/**
 * What in a checked text makes that it has a row something else than that its clauses have a match; empty for other texts.
 * Whatever asks for one match (segment by segment, with a probability) takes only such texts.
 * @param parameters values of the text's parameters
 */
export function rowsNotByMatches(
  {
    text,
    tree,
    functions,
  }: { readonly text: string; readonly tree: Query; readonly functions?: string | undefined },
  parameters: Readonly<Record<string, unknown>> = {},
): readonly Problem[] {
  const source = new Source(text);
  const problems: Problem[] = [];
  const report = (span: Query['span'], message: string) =>
    problems.push(problemAt(source, 'rows-not-by-matches', span, message));
  const first = tree.clauses.find(({ kind }) => kind === 'match' || kind === 'optional');
  if (!first)
    report(
      tree.span,
      'A text without MATCH has its rows whatever is there, so they have no probability; match something.',
    );
  if (first?.kind === 'optional')
    report(
      first.span,
      'A text that begins with OPTIONAL has a row whatever is there, so it has no probability; begin with MATCH.',
    );
  const { variables } = analyse(tree);
  const reads = new LabelReaders(functionsOf(functions));
  for (const clause of tree.clauses) {
    if (clause.kind !== 'let' || !reads.note(clause.variable.text, clause.value)) continue;
    if (variables.get(clause.variable.text)?.kind !== 'value')
      report(
        clause.span,
        `Which element "${clause.variable.text}" is depends on labels, so no probability of a row is known; name it in MATCH.`,
      );
  }
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

/** Which values depend on labels, by name. */
class LabelReaders {
  readonly #functions: FunctionTable;
  readonly #names = new Set<string>();

  constructor(functions: FunctionTable) {
    this.#functions = functions;
  }

  /** Notes a value by name; answers whether it depends on labels. */
  note(name: string, value: Expression): boolean {
    const depends = [...everyNode(value)].some((node) => this.#isReader(node));
    if (depends) this.#names.add(name);
    return depends;
  }

  #isReader(node: Syntax): boolean {
    switch (node.kind) {
      case 'is-labeled':
      case 'exists':
        return true;
      case 'call':
        return this.#functions.get(node.name)?.readsLabels ?? false;
      case 'variable':
        return this.#names.has(node.name);
      default:
        return false;
    }
  }
}

function* everyNode(root: Syntax): Generator<Syntax> {
  yield root;
  for (const child of children(root)) yield* everyNode(child);
}
