/** Syntax tree to canonical text: `parsePattern(printQuery(q)).query` equals `q` but for the spans. */
import type {
  Clause,
  EdgeDirection,
  EdgePattern,
  Expression,
  MatchClause,
  NodePattern,
  ParenthesizedPath,
  PathFactor,
  PathPattern,
  QuantifiedPath,
  Query,
  ReturnClause,
  SortKey,
} from './ast.ts';
import { expressionText, labelText } from './print-expression.ts';
import { keyText, variableText } from './print-names.ts';

/** The text of a query, one clause a line. */
export function printQuery(query: Query): string {
  return queryText(query, '\n');
}

function queryText(query: Query, separator: string): string {
  const { clauses, result } = query;
  const [first] = clauses;
  const lines = clauses.map((clause) => clauseText(clause, separator));
  if (!result.implied) {
    if (first?.kind === 'table') lines.splice(1, 0, 'NEXT');
    lines.push(returnText(result), ...pageTexts(query));
  }
  return lines.join(separator);
}

function pageTexts({ orderBy, offset, limit }: Pick<Query, 'orderBy' | 'offset' | 'limit'>): string[] {
  const texts: string[] = [];
  if (orderBy.length > 0) texts.push(`ORDER BY ${orderBy.map(sortText).join(', ')}`);
  if (offset) texts.push(`OFFSET ${printExpression(offset)}`);
  if (limit) texts.push(`LIMIT ${printExpression(limit)}`);
  return texts;
}

/** The text of an expression; also the name of a column that has no alias. */
export function printExpression(expression: Expression): string {
  return expressionText(expression, (inner) =>
    'kind' in inner ? queryText(inner, ' ') : inner.map((clause) => clauseText(clause, ' ')).join(' '),
  );
}

/** The text of a path pattern, such as `(a:Sensor)-[:CONNECTS]-(b)`. */
export function printPath({ variable, search, mode, factors }: PathPattern): string {
  const name = variable ? `${variableText(variable.text)} = ` : '';
  return `${name}${search ? `${search} ` : ''}${mode ? `${mode} ` : ''}${factorsText(factors)}`;
}

/** The text of one element or part of a path. */
export function printFactor(factor: PathFactor): string {
  switch (factor.kind) {
    case 'node-pattern':
      return `(${fillerText(factor)})`;
    case 'edge-pattern':
      return edgeText(factor);
    case 'parenthesized-path':
      return parenthesizedText(factor);
    case 'quantified-path':
      return printFactor(factor.path) + quantifierText(factor);
    case 'questioned-path':
      return `${printFactor(factor.path)}?`;
    case 'path-alternation':
      return factor.branches
        .map(({ factors }) => factorsText(factors))
        .join(factor.multiset ? ' |+| ' : ' | ');
    default:
      return factor satisfies never;
  }
}

function clauseText(clause: Clause, separator: string): string {
  switch (clause.kind) {
    case 'match':
      return matchText(clause, separator);
    case 'let':
      return `LET ${variableText(clause.variable.text)} = ${printExpression(clause.value)}`;
    case 'filter':
      return `FILTER ${printExpression(clause.condition)}`;
    case 'for': {
      const { variable, list, position } = clause;
      const counted = position ? ` WITH ${position.kind} ${variableText(position.variable.text)}` : '';
      return `FOR ${variableText(variable.text)} IN ${printExpression(list)}${counted}`;
    }
    case 'page':
      return pageTexts(clause).join(separator);
    case 'table': {
      const parts = clause.parts.flatMap(({ conjunction, query }) => [
        ...(conjunction ? [conjunction] : []),
        queryText(query, separator),
      ]);
      const input = clause.input ? [clauseText(clause.input, separator), 'NEXT'] : [];
      return [...input, ...parts].join(separator);
    }
    case 'optional': {
      const [first] = clause.clauses;
      if (clause.clauses.length === 1 && first?.kind === 'match')
        return `OPTIONAL ${matchText(first, separator)}`;
      return `OPTIONAL { ${clause.clauses.map((inner) => clauseText(inner, ' ')).join(' ')} }`;
    }
    default:
      return clause satisfies never;
  }
}

function matchText({ mode, paths, where }: MatchClause, separator: string): string {
  const list = paths.map(printPath).join(separator === '\n' ? ',\n      ' : ', ');
  const condition = where ? `${separator}WHERE ${printExpression(where)}` : '';
  return `MATCH ${mode ? `${mode} ` : ''}${list}${condition}`;
}

function returnText({ distinct, items, groupBy }: ReturnClause): string {
  const list = items?.map(
    ({ value, alias }) => printExpression(value) + (alias ? ` AS ${variableText(alias.text)}` : ''),
  );
  const keys = groupBy?.map(({ name }) => variableText(name)).join(', ');
  const group = keys === undefined ? '' : ` GROUP BY ${keys || '()'}`;
  return `RETURN ${distinct ? 'DISTINCT ' : ''}${list?.join(', ') ?? '*'}${group}`;
}

function sortText({ value, descending, nulls }: SortKey): string {
  return `${printExpression(value)}${descending ? ' DESC' : ''}${nulls ? ` NULLS ${nulls}` : ''}`;
}

/** Two edges without a node between them are separated, since `--` would begin a comment. */
function factorsText(factors: readonly PathFactor[]): string {
  return factors
    .map((factor, i) => (i > 0 && isEdge(factor) && isEdge(factors[i - 1]!) ? ' ' : '') + printFactor(factor))
    .join('');
}

function isEdge(factor: PathFactor): boolean {
  if (factor.kind === 'quantified-path' || factor.kind === 'questioned-path') return isEdge(factor.path);
  return factor.kind === 'edge-pattern';
}

function fillerText({ variable, labels, properties, where }: NodePattern | EdgePattern): string {
  const head = `${variable ? variableText(variable.text) : ''}${labels ? `:${labelText(labels)}` : ''}`;
  const tests = properties.map(({ key, value }) => `${keyText(key.text)}: ${printExpression(value)}`);
  const predicate = where
    ? `WHERE ${printExpression(where)}`
    : tests.length > 0
      ? `{${tests.join(', ')}}`
      : '';
  return [head, predicate].filter((part) => part !== '').join(' ');
}

/** Left and right of the brackets. */
const STROKES: Readonly<Record<EdgeDirection, readonly [string, string]>> = {
  right: ['-', '->'],
  left: ['<-', '-'],
  undirected: ['~', '~'],
  'left-or-undirected': ['<~', '~'],
  'undirected-or-right': ['~', '~>'],
  'left-or-right': ['<-', '->'],
  any: ['-', '-'],
};

const ABBREVIATED: Readonly<Record<EdgeDirection, string>> = {
  right: '->',
  left: '<-',
  undirected: '~',
  'left-or-undirected': '<~',
  'undirected-or-right': '~>',
  'left-or-right': '<->',
  any: '-',
};

function edgeText(edge: EdgePattern): string {
  const filler = fillerText(edge);
  const [left, right] = STROKES[edge.direction];
  return filler === '' ? ABBREVIATED[edge.direction] : `${left}[${filler}]${right}`;
}

function parenthesizedText({ variable, mode, factors, where }: ParenthesizedPath): string {
  const name = variable ? `${variableText(variable.text)} = ` : '';
  const condition = where ? ` WHERE ${printExpression(where)}` : '';
  return `(${name}${mode ? `${mode} ` : ''}${factorsText(factors)}${condition})`;
}

function quantifierText({ min, max }: QuantifiedPath): string {
  if (max === undefined) return min === 0 ? '*' : min === 1 ? '+' : `{${min},}`;
  return min === max ? `{${min}}` : `{${min},${max}}`;
}
