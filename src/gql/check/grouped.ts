/** What has a single value in each row of an answer whose bindings are grouped or merged. */
import type { Expression, Span, Syntax } from '../language/ast.ts';
import { children } from '../language/children.ts';
import { printExpression } from '../language/print.ts';
import { expressionsIn, groupsIn, type Site } from './analysis.ts';

/** What is known to have a single value. */
export interface Settled {
  /** Expressions, by their text. */
  readonly texts: ReadonlySet<string>;
  /** Variables and columns. */
  readonly names: ReadonlySet<string>;
}

/** A variable at a place where it may have several values. */
export interface Loose {
  readonly name: string;
  readonly span: Span;
}

/** A column of the answer, whether RETURN lists it or `*` does. */
interface Column {
  readonly value: Expression;
  readonly alias: { readonly text: string } | undefined;
}

/**
 * Variables of an expression that may have several values in a row, outside aggregates over rows.
 *
 * @param counts whether an expression that is among the settled ones word for word means the same here
 */
export function* looseIn(
  node: Syntax,
  settled: Settled,
  site: Site,
  counts: (node: Expression) => boolean = () => true,
  inSubquery = false,
): Generator<Loose> {
  if (node.kind === 'aggregate' && !inSubquery && groupsIn(node, site).length === 0) return;
  if (isExpression(node) && settled.texts.has(printExpression(node)) && counts(node)) return;
  const named = nameIn(node);
  // A subquery's own variables are not known at its site.
  if (named && site.find(named.name) && !settled.names.has(named.name)) yield named;
  for (const child of children(node))
    yield* looseIn(child, settled, site, counts, inSubquery || isSubquery(node));
}

/** The variable that a node refers to, or declares in a pattern: in a subquery that may be one from outside. */
function nameIn(node: Syntax): Loose | undefined {
  switch (node.kind) {
    case 'variable':
      return node;
    case 'node-pattern':
    case 'edge-pattern':
    case 'path-pattern':
    case 'parenthesized-path':
      return node.variable && { name: node.variable.text, span: node.variable.span };
    default:
      return undefined;
  }
}

function isExpression(node: Syntax): node is Expression {
  return (
    ![
      'name',
      'match',
      'optional',
      'case-branch',
      'property-test',
      'questioned-path',
      'path-alternation',
      'path-term',
    ].includes(node.kind) && !/^label-|-pattern$|-path$/.test(node.kind)
  );
}

/**
 * Whether an expression holds a name that is a column and, before RETURN, something else: in ORDER BY it means the
 * column.
 */
export function holdsShadow(root: Expression, items: readonly Column[]): boolean {
  return shadowsIn(root, items).length > 0;
}

/** The variables of an expression that are names of columns and not those columns' own values. */
export function shadowsIn(root: Expression, items: readonly Column[]): readonly Loose[] {
  const found: Loose[] = [];
  const open: Syntax[] = [...expressionsIn(root)];
  for (const node of open) {
    const named = nameIn(node);
    const column = named && items.find(({ alias }) => alias?.text === named.name);
    if (named && column && !(column.value.kind === 'variable' && column.value.name === named.name))
      found.push(named);
    if (isSubquery(node)) open.push(...inside(node));
  }
  return found;
}

function inside(root: Syntax): Syntax[] {
  return children(root).flatMap((child) => [child, ...inside(child)]);
}

function isSubquery({ kind }: Syntax): boolean {
  return kind === 'exists' || kind === 'value-query';
}
