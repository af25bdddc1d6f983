/** Predicates on values and elements that the interpreter and the compiled form share (ISO/IEC 39075:2024, clause 19). */
import type { ComparisonOperator, LabelExpression } from '../language/ast.ts';
import { equals, less } from './compare.ts';
import { labelsSatisfy, not, or, type Truth } from './truth.ts';
import {
  type ElementAccess,
  type ElementReference,
  fieldOf,
  isElement,
  isList,
  type Value,
} from './value.ts';

/** 19.3 <comparison predicate>. */
export function compare(operator: ComparisonOperator, a: Value, b: Value): Truth {
  switch (operator) {
    case '=':
      return equals(a, b);
    case '<>':
      return not(equals(a, b));
    case '<':
      return less(a, b);
    case '>':
      return less(b, a);
    case '<=':
      return not(less(b, a));
    case '>=':
      return not(less(a, b));
    default:
      return operator satisfies never;
  }
}

/** `a IN list`: true when it equals an item, else unknown when a comparison was. Not in the standard; as in SQL. */
export function isIn(a: Value, list: Value): Truth {
  if (!isList(list)) return null;
  let found: Truth = false;
  for (const item of list) {
    found = or(found, equals(a, item));
    if (found === true) return true;
  }
  return found;
}

/** 20.11 <property reference>: of an element or a record; null of anything else. */
export function propertyOf(object: Value, key: string, elements: ElementAccess): Value {
  if (isElement(object)) return elements.property(object, key);
  if (typeof object !== 'object' || object === null || isList(object) || object.kind !== 'record')
    return null;
  return fieldOf(object, key);
}

/** 19.9 <labeled predicate>. */
export function isLabeled(element: Value, labels: LabelExpression, elements: ElementAccess): Truth {
  if (!isElement(element)) return null;
  const has = (label: string) => elements.hasLabel(element, label);
  return labelsSatisfy(labels, has, () => elements.labels(element).length);
}

/** 19.8 <directed predicate>. */
export function isDirected(edge: Value, elements: ElementAccess): Truth {
  return isElement(edge) && edge.kind === 'edge' ? elements.isDirected(edge) : null;
}

/** 19.10 <source/destination predicate>: an undirected edge has neither. */
export function isEndpoint(
  end: 'SOURCE' | 'DESTINATION',
  node: Value,
  edge: Value,
  elements: ElementAccess,
): Truth {
  if (!isElement(node) || !isElement(edge) || node.kind !== 'node' || edge.kind !== 'edge') return null;
  if (!elements.isDirected(edge)) return false;
  const { source, target } = elements.ends(edge);
  return (end === 'SOURCE' ? source : target).key === node.key;
}

/** 19.11 <all_different predicate>: unknown when one is null. */
export function allDifferent(values: readonly Value[]): Truth {
  if (values.some((value) => !isElement(value))) return null;
  const keys = (values as readonly ElementReference[]).map(({ kind, key }) => `${kind} ${typeof key} ${key}`);
  return new Set(keys).size === keys.length;
}

/** 19.12 <same predicate>: unknown when one is null. */
export function same(values: readonly Value[]): Truth {
  if (values.some((value) => !isElement(value))) return null;
  const [first, ...rest] = values as readonly ElementReference[];
  return rest.every(({ kind, key }) => kind === first!.kind && key === first!.key);
}

/** 19.13 <property_exists predicate>: unknown when the element is null. A property that is null does not exist. */
export function propertyExists(element: Value, key: string, elements: ElementAccess): Truth {
  return isElement(element) ? elements.property(element, key) !== null : null;
}
