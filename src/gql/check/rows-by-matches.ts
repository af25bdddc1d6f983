import { Source } from '../../text/source.ts';
import type { FunctionTable } from '../expression/functions/define.ts';
import type {
  Clause,
  Expression,
  NumberLiteral,
  Parameter,
  PathAlternation,
  PathPattern,
  Query,
  Syntax,
} from '../language/ast.ts';
import { children } from '../language/children.ts';
import { type Problem, problemAt } from '../language/problem.ts';
import { columnName, hasRowsOfClauses, itemsOf } from '../plan/free-names.ts';
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
  const clauses = oneByOne(tree, report);
  const first = clauses.find(({ kind }) => kind === 'match' || kind === 'optional');
  if (!first && problems.length === 0)
    report(
      tree.span,
      'A text without MATCH has its rows whatever is there, so they have no probability; match something.',
    );
  if (first?.kind === 'optional')
    report(
      first.span,
      'A text that begins with OPTIONAL has a row whatever is there, so it has no probability; begin with MATCH.',
    );
  const analysis = analyse(tree);
  const reads = new LabelReaders(functionsOf(functions));
  for (const clause of clauses) {
    if (clause.kind === 'for' && reads.isRead(clause.list))
      report(
        clause.list.span,
        'What this list holds depends on labels, so no probability of a row for one of its items is known; match what it is made of.',
      );
    if (clause.kind !== 'let' || !reads.isRead(clause.value)) continue;
    const { text: name } = clause.variable;
    reads.note(name);
    if (analysis.elementValues.has(clause.value))
      report(
        clause.span,
        `Which element "${name}" is depends on labels, so no probability of a row is known; name it in MATCH.`,
      );
  }
  for (const node of choicesIn(tree))
    if (node.kind === 'path-alternation')
      report(
        node.span,
        'Which of several alternatives of a path has a match depends on what is uncertain, and their probability is not calculated; write one pattern for each, or ask for rows.',
      );
    else
      report(
        { start: node.span.start, end: node.span.start + node.search!.length },
        `Which path ${node.search} takes depends on everything that may be there or not, so it has no probability; leave ${node.search} out, or ask for rows.`,
      );
  const { items, groupBy } = tree.result;
  if (items && (groupBy ? groupBy.length === 0 : true)) {
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

/**
 * The clauses of a text in their order, those before NEXT included, with a LET for each column that is handed on; reports what does
 * not make one row of one.
 */
function oneByOne(query: Query, report: (span: Query['span'], message: string) => void): readonly Clause[] {
  return query.clauses.flatMap((clause): readonly Clause[] => {
    if (clause.kind !== 'table')
      for (const node of everyNode(clause))
        if (node.kind === 'value-query')
          report(
            node.span,
            'A row that depends on VALUE { … } depends on other matches than its own, so its probability is not known; ask with EXISTS, or for rows.',
          );
    if (clause.kind === 'page')
      report(
        clause.span,
        'ORDER BY, OFFSET and LIMIT between clauses look at all rows together, so one match has no probability; leave them out or put them behind RETURN.',
      );
    if (clause.kind !== 'table') return [clause];
    const [first, second] = clause.parts;
    if (second) {
      const word = second.conjunction!.split(' ')[0];
      report(
        clause.span,
        `${word} combines the rows of several queries, of which no common probability is known; ask each by itself.`,
      );
      return [];
    }
    const inner = first!.query;
    if (!hasRowsOfClauses(inner)) {
      report(
        inner.result.span,
        'What RETURN groups, merges, sorts or cuts before NEXT is not one match, so it has no probability; return what is matched, as it is.',
      );
      return [];
    }
    return [
      ...oneByOne(inner, report),
      ...itemsOf(inner).map((item): Clause => {
        const { span } = item.value;
        for (const node of everyNode(item.value))
          if (node.kind === 'value-query')
            report(
              span,
              'What is handed on depends on VALUE { … }, and so on other matches than its own: no probability of a row is known.',
            );
        return {
          kind: 'let',
          variable: { kind: 'name', text: columnName(item), span },
          value: item.value,
          span,
        };
      }),
    ];
  });
}

/** What in a text looks at rows together before its last RETURN: no search goes through that one match at a time. */
export function tablesIn({
  text,
  tree,
}: {
  readonly text: string;
  readonly tree: Query;
}): readonly Problem[] {
  const source = new Source(text);
  const problems: Problem[] = [];
  oneByOne(tree, (span, message) => problems.push(problemAt(source, 'rows-not-by-matches', span, message)));
  return problems;
}

/** Which values depend on labels, by name. */
class LabelReaders {
  readonly #functions: FunctionTable;
  readonly #names = new Set<string>();

  constructor(functions: FunctionTable) {
    this.#functions = functions;
  }

  /** Notes that the value of a variable depends on labels. */
  note(name: string): void {
    this.#names.add(name);
  }

  isRead(value: Expression): boolean {
    return [...everyNode(value)].some((node) => this.#isReader(node));
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

/** Path patterns that keep some paths only, and alternatives of paths, in subqueries as well. */
function choicesIn(tree: Query): (PathPattern | PathAlternation)[] {
  const found: Syntax[] = [tree];
  for (const node of found) found.push(...children(node));
  return found.filter(
    (node): node is PathPattern | PathAlternation =>
      node.kind === 'path-alternation' ||
      (node.kind === 'path-pattern' && node.search !== undefined && node.search !== 'ALL'),
  );
}
