/** Value expressions, predicates and label expressions to text, with the fewest parentheses that keep the tree. */
import type { Case, CaseBranch, Clause, Expression, LabelExpression, Query } from './ast.ts';
import { functionText, keyText, numberText, parameterText, stringText, variableText } from './print-names.ts';
import { BARE_FUNCTIONS } from './words.ts';

/** How tightly an expression binds: the rule of the grammar that reads it. */
const BINDS = {
  or: 1,
  and: 2,
  not: 3,
  predicate: 4,
  concatenation: 5,
  sum: 6,
  term: 7,
  sign: 8,
  reference: 9,
  primary: 10,
} as const;

/** Prints what EXISTS and VALUE hold; comes from the printer of patterns, which prints expressions in turn. */
export type PrintInner = (inner: readonly Clause[] | Query) => string;

export function expressionText(node: Expression, clauses: PrintInner): string {
  /** The node, in parentheses when it binds less tightly than its place needs. */
  const at = (inner: Expression, least: number): string => {
    const text = expressionText(inner, clauses);
    return binding(inner) < least ? `(${text})` : text;
  };
  const list = (items: readonly Expression[]): string => items.map((item) => at(item, 0)).join(', ');
  const negation = (negated: boolean): string => (negated ? 'NOT ' : '');
  switch (node.kind) {
    case 'number':
      return numberText(node.value);
    case 'string':
      return stringText(node.value);
    case 'boolean':
      return node.value ? 'TRUE' : 'FALSE';
    case 'null':
      return 'NULL';
    case 'temporal':
      return `${node.type} ${stringText(node.text)}`;
    case 'list':
      return `[${list(node.items)}]`;
    case 'parameter':
      return parameterText(node.name);
    case 'variable':
      return variableText(node.name);
    case 'property': {
      const object = at(node.object, BINDS.reference);
      return `${node.object.kind === 'number' ? `(${object})` : object}.${keyText(node.key.text)}`;
    }
    case 'sign':
      return `${node.operator}${at(node.operand, BINDS.reference)}`;
    case 'arithmetic': {
      const own = binding(node);
      return `${at(node.left, own)} ${node.operator} ${at(node.right, own + 1)}`;
    }
    case 'concatenation':
      return `${at(node.left, BINDS.concatenation)} || ${at(node.right, BINDS.sum)}`;
    case 'comparison':
      return `${at(node.left, BINDS.concatenation)} ${node.operator} ${at(node.right, BINDS.concatenation)}`;
    case 'not':
      return `NOT ${at(node.operand, BINDS.predicate)}`;
    case 'logical':
      return node.operands.map((inner) => at(inner, binding(node) + 1)).join(` ${node.operator} `);
    case 'is-null':
      return `${at(node.operand, BINDS.reference)} ${isText(node)}`;
    case 'is-truth':
      return `${at(node.operand, BINDS.concatenation)} ${isText(node)}`;
    case 'is-labeled':
      return `${at(node.element, 0)} IS ${negation(node.negated)}LABELED ${labelText(node.labels)}`;
    case 'is-directed':
      return `${at(node.edge, 0)} IS ${negation(node.negated)}DIRECTED`;
    case 'is-endpoint':
      return `${at(node.node, 0)} IS ${negation(node.negated)}${node.end} OF ${at(node.edge, 0)}`;
    case 'in': {
      const operand = at(node.operand, BINDS.concatenation);
      return `${operand} ${negation(node.negated)}IN ${at(node.list, BINDS.concatenation)}`;
    }
    case 'exists':
      return `EXISTS { ${clauses(node.clauses)} }`;
    case 'value-query':
      return `VALUE { ${clauses(node.query)} }`;
    case 'record': {
      const fields = node.fields.map(({ key, value }) => `${keyText(key.text)}: ${at(value, 0)}`);
      return `{${fields.join(', ')}}`;
    }
    case 'all-different':
      return `ALL_DIFFERENT(${list(node.elements)})`;
    case 'same':
      return `SAME(${list(node.elements)})`;
    case 'property-exists':
      return `PROPERTY_EXISTS(${at(node.element, 0)}, ${keyText(node.key.text)})`;
    case 'case':
      return caseText(node, clauses);
    case 'case-subject':
      return '';
    case 'cast':
      return `CAST(${at(node.operand, 0)} AS ${node.type})`;
    case 'trim': {
      const character = node.character ? `${at(node.character, BINDS.concatenation)} ` : '';
      return `TRIM(${node.side} ${character}FROM ${at(node.source, BINDS.concatenation)})`;
    }
    case 'call':
      return callText(node.name, node.arguments, list);
    case 'aggregate': {
      const argument = node.argument ? at(node.argument, 0) : '*';
      const fraction = node.fraction ? `, ${at(node.fraction, 0)}` : '';
      return `${node.name}(${node.distinct ? 'DISTINCT ' : ''}${argument}${fraction})`;
    }
    default:
      return node satisfies never;
  }
}

function binding(node: Expression): number {
  switch (node.kind) {
    case 'logical':
      return node.operator === 'AND' ? BINDS.and : BINDS.or;
    case 'not':
      return BINDS.not;
    // After NOT it needs parentheses.
    case 'is-truth':
      return BINDS.not;
    case 'comparison':
    case 'in':
    case 'is-null':
    case 'is-labeled':
    case 'is-directed':
    case 'is-endpoint':
      return BINDS.predicate;
    case 'concatenation':
      return BINDS.concatenation;
    case 'arithmetic':
      return node.operator === '+' || node.operator === '-' ? BINDS.sum : BINDS.term;
    case 'sign':
      return BINDS.sign;
    case 'property':
      return BINDS.reference;
    default:
      return BINDS.primary;
  }
}

function isText(node: Extract<Expression, { kind: 'is-null' | 'is-truth' }>): string {
  const not = node.negated ? 'NOT ' : '';
  if (node.kind === 'is-null') return `IS ${not}NULL`;
  return `IS ${not}${node.truth === null ? 'UNKNOWN' : node.truth ? 'TRUE' : 'FALSE'}`;
}

function callText(
  name: string,
  items: readonly Expression[],
  list: (items: readonly Expression[]) => string,
): string {
  if (items.length === 0 && BARE_FUNCTIONS.has(name)) return name;
  const form = items[1];
  if (
    name === 'NORMALIZE' &&
    items.length === 2 &&
    form?.kind === 'string' &&
    /^NFK?[CD]$/.test(form.value)
  ) {
    return `NORMALIZE(${list([items[0]!])}, ${form.value})`;
  }
  if (name === 'TRIM') return `TRIM(${items.map((item) => inParentheses(item, list)).join(', ')})`;
  return `${functionText(name)}(${list(items)})`;
}

/** Operands of TRIM are read without boolean operators. */
function inParentheses(item: Expression, list: (items: readonly Expression[]) => string): string {
  return binding(item) < BINDS.concatenation ? `(${list([item])})` : list([item]);
}

function caseText(node: Case, clauses: PrintInner): string {
  const text = (inner: Expression): string => expressionText(inner, clauses);
  const condition = (inner: Expression): string => {
    if (node.subject === undefined) return text(inner);
    if (inner.kind === 'comparison' && inner.left.kind === 'case-subject') {
      const right = text(inner.right);
      if (inner.operator === '=') return right;
      return `${inner.operator} ${binding(inner.right) < BINDS.concatenation ? `(${right})` : right}`;
    }
    if (inner.kind === 'is-null' || inner.kind === 'is-truth') return isText(inner);
    return text(inner);
  };
  const branch = ({ conditions, result }: CaseBranch): string =>
    `WHEN ${conditions.map(condition).join(', ')} THEN ${text(result)}`;
  return [
    node.subject ? `CASE ${text(node.subject)}` : 'CASE',
    ...node.branches.map(branch),
    ...(node.otherwise ? [`ELSE ${text(node.otherwise)}`] : []),
    'END',
  ].join(' ');
}

export function labelText(node: LabelExpression): string {
  switch (node.kind) {
    case 'label-name':
      return keyText(node.name);
    case 'label-wildcard':
      return '%';
    case 'label-negation':
      return `!${labelIn(node.operand, ['label-negation', 'label-conjunction', 'label-disjunction'])}`;
    case 'label-conjunction':
      return node.operands
        .map((inner) => labelIn(inner, ['label-conjunction', 'label-disjunction']))
        .join('&');
    case 'label-disjunction':
      return node.operands.map((inner) => labelIn(inner, ['label-disjunction'])).join('|');
    default:
      return node satisfies never;
  }
}

function labelIn(node: LabelExpression, loose: readonly LabelExpression['kind'][]): string {
  return loose.includes(node.kind) ? `(${labelText(node)})` : labelText(node);
}
