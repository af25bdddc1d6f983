/**
 * The interpreter: what an expression means, said once and plainly, for tests to compare with. `compile.ts` must agree
 * with it and is what runs in a search.
 */

import { accumulatorFor } from '../../../src/gql/expression/aggregate.ts';
import { arithmetic, concatenate, signed } from '../../../src/gql/expression/arithmetic.ts';
import { cast } from '../../../src/gql/expression/cast.ts';
import {
  apply,
  type FunctionSetting,
  type FunctionTable,
} from '../../../src/gql/expression/functions/define.ts';
import { trim } from '../../../src/gql/expression/functions/text.ts';
import { groupVariablesOf } from '../../../src/gql/expression/group-variables.ts';
import {
  allDifferent,
  compare,
  isDirected,
  isEndpoint,
  isIn,
  isLabeled,
  propertyExists,
  propertyOf,
  same,
} from '../../../src/gql/expression/predicates.ts';
import { and, not, or, type Truth, truthOf, xor } from '../../../src/gql/expression/truth.ts';
import { isList, recordOf, type Value } from '../../../src/gql/expression/value.ts';
import type {
  Aggregate,
  Case,
  Exists,
  Expression,
  LabelExpression,
  ValueQuery,
} from '../../../src/gql/language/ast.ts';
import { readTemporal } from '../../../src/gql/language/temporal.ts';

/** Where an expression stands: what its names mean. */
export interface Environment extends FunctionSetting {
  readonly functions: FunctionTable;
  /** Null for a variable without a value (OPTIONAL MATCH); a list for a group variable. */
  variable(name: string): Value;
  /** Whether the variable is a group variable here. */
  isGroup(name: string): boolean;
  parameter(name: string): Value;
  /** Whether the body has a match that agrees with this environment. */
  exists(node: Exists, environment: Environment): boolean;
  /** The value of a VALUE query for this environment. */
  query(node: ValueQuery, environment: Environment): Value;
  /** The value of an aggregate over the rows of the group at hand. */
  aggregate(node: Aggregate): Value;
  /** Unless given, labels are asked of `elements`. */
  readonly labeled?: (element: Value, labels: LabelExpression) => Truth;
}

/** The value of an expression. Throws only when the query was not checked: an unknown function. */
export function evaluate(node: Expression, at: Environment): Value {
  const value = (inner: Expression): Value => evaluate(inner, at);
  const values = (inner: readonly Expression[]): Value[] => inner.map(value);
  const { elements } = at;
  switch (node.kind) {
    case 'number':
    case 'string':
    case 'boolean':
      return node.value;
    case 'null':
      return null;
    case 'temporal':
      return readTemporal(node.type, node.text) ?? null;
    case 'list':
      return values(node.items);
    case 'parameter':
      return at.parameter(node.name);
    case 'variable':
      return at.variable(node.name);
    case 'property':
      return propertyOf(value(node.object), node.key.text, elements);
    case 'sign':
      return signed(node.operator, value(node.operand));
    case 'arithmetic':
      return arithmetic(node.operator, value(node.left), value(node.right));
    case 'concatenation':
      return concatenate(value(node.left), value(node.right));
    case 'comparison':
      return compare(node.operator, value(node.left), value(node.right));
    case 'not':
      return not(truthOf(value(node.operand)));
    case 'logical': {
      const operator = node.operator === 'AND' ? and : node.operator === 'OR' ? or : xor;
      return values(node.operands).map(truthOf).reduce(operator);
    }
    case 'is-null':
      return (value(node.operand) === null) !== node.negated;
    case 'is-truth':
      return (truthOf(value(node.operand)) === node.truth) !== node.negated;
    case 'is-labeled': {
      const element = value(node.element);
      const labeled = at.labeled
        ? at.labeled(element, node.labels)
        : isLabeled(element, node.labels, elements);
      return node.negated ? not(labeled) : labeled;
    }
    case 'is-directed': {
      const directed = isDirected(value(node.edge), elements);
      return node.negated ? not(directed) : directed;
    }
    case 'is-endpoint': {
      const is = isEndpoint(node.end, value(node.node), value(node.edge), elements);
      return node.negated ? not(is) : is;
    }
    case 'in': {
      const found = isIn(value(node.operand), value(node.list));
      return node.negated ? not(found) : found;
    }
    case 'exists':
      return at.exists(node, at);
    case 'value-query':
      return at.query(node, at);
    case 'record':
      return recordOf(node.fields.map(({ key, value: field }) => [key.text, value(field)]));
    case 'all-different':
      return allDifferent(values(node.elements));
    case 'same':
      return same(values(node.elements));
    case 'property-exists':
      return propertyExists(value(node.element), node.key.text, elements);
    case 'case':
      return evaluateCase(node, at);
    case 'case-subject':
      return at.variable(CASE_SUBJECT);
    case 'cast':
      return cast(value(node.operand), node.type);
    case 'trim':
      return trim(value(node.source), node.character ? value(node.character) : ' ', node.side);
    case 'call': {
      const definition = at.functions.get(node.name);
      if (!definition) throw new Error(`There is no function ${node.name}`);
      return apply(definition, values(node.arguments), at);
    }
    case 'aggregate':
      return evaluateAggregate(node, at);
    default:
      return node satisfies never;
  }
}

/** A name that no variable can have, for the value that a simple CASE is about. */
const CASE_SUBJECT = '';

function evaluateCase(node: Case, at: Environment): Value {
  const subject = node.subject ? evaluate(node.subject, at) : null;
  const inside = node.subject ? rebound(at, new Map([[CASE_SUBJECT, subject]])) : at;
  const branch = node.branches.find(({ conditions }) =>
    conditions.some((condition) => evaluate(condition, inside) === true),
  );
  if (branch) return evaluate(branch.result, at);
  return node.otherwise ? evaluate(node.otherwise, at) : null;
}

/** Over the rows of a group, or along a group variable. */
function evaluateAggregate(node: Aggregate, at: Environment): Value {
  const [along] = groupVariablesOf(node, (name) => at.isGroup(name));
  if (along === undefined || !node.argument) return at.aggregate(node);
  const list = at.variable(along);
  if (!isList(list)) return null;
  const accumulator = accumulatorFor(node, node.fraction ? evaluate(node.fraction, at) : null);
  for (const item of list) accumulator.add(evaluate(node.argument, rebound(at, new Map([[along, item]]))));
  return accumulator.result();
}

/** The same place, with some names bound to one value each. */
export function rebound(at: Environment, values: ReadonlyMap<string, Value>): Environment {
  return {
    ...at,
    elements: at.elements,
    variable: (name) => (values.has(name) ? values.get(name)! : at.variable(name)),
    isGroup: (name) => !values.has(name) && at.isGroup(name),
    parameter: (name) => at.parameter(name),
    exists: (inner, environment) => at.exists(inner, environment),
    query: (inner, environment) => at.query(inner, environment),
    aggregate: (inner) => at.aggregate(inner),
  };
}
