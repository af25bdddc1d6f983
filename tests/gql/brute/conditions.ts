/**
 * Conditions in three-valued logic, and the values they are about.
 */
import type { Aggregate, Clause, Comparison, Condition, Label, Literal, SortKey, Term } from './query.ts';
import type { SmallEdge, SmallNode } from './walks.ts';

export type Element =
  | { readonly kind: 'node'; readonly node: SmallNode }
  | { readonly kind: 'edge'; readonly edge: SmallEdge };
export interface Path {
  readonly kind: 'path';
  readonly nodes: readonly SmallNode[];
  readonly edges: readonly SmallEdge[];
}
export interface List {
  readonly kind: 'list';
  readonly of: readonly Value[];
}
export interface FieldValues {
  readonly kind: 'record';
  readonly fields: ReadonlyMap<string, Value>;
}
export type Value = Literal | Element | Path | List | FieldValues;

/** Values by name. A name that is there without a value has null. */
export type Row = ReadonlyMap<string, Value>;

/** Null is unknown. */
export type Truth = boolean | null;

export function isElement(value: Value | undefined): value is Element {
  return typeof value === 'object' && value !== null && (value.kind === 'node' || value.kind === 'edge');
}

export function elementId(element: Element): string {
  return element.kind === 'node' ? element.node.id : element.edge.id;
}

export function hasLabels(label: Label, labels: readonly string[]): boolean {
  switch (label.label) {
    case 'name':
      return labels.includes(label.name);
    case 'any':
      return labels.length > 0;
    case 'not':
      return !hasLabels(label.of, labels);
    case 'and':
      return label.of.every((one) => hasLabels(one, labels));
    case 'or':
      return label.of.some((one) => hasLabels(one, labels));
  }
}

export function labelsOf(element: Element): readonly string[] {
  if (element.kind === 'node') return element.node.labels;
  return element.edge.label === undefined ? [] : [element.edge.label];
}

export function propertyOf(element: Element, key: string): Literal {
  return (element.kind === 'node' ? element.node : element.edge).properties[key] ?? null;
}

/** Unlike types, and null, compare as unknown (CONFORMANCE.md, "Errors of data"). */
export function compare(op: Comparison, left: Value, right: Value): Truth {
  if (left === null || right === null) return null;
  if (isElement(left) && isElement(right)) {
    if (left.kind !== right.kind) return null;
    const same = elementId(left) === elementId(right);
    return op === '=' ? same : op === '<>' ? !same : null;
  }
  if (
    typeof left === 'object' &&
    typeof right === 'object' &&
    left.kind === 'record' &&
    right.kind === 'record'
  ) {
    // Only records with the same fields are compared here, in whatever order these are written.
    if (
      left.fields.size !== right.fields.size ||
      [...left.fields.keys()].some((name) => !right.fields.has(name))
    )
      throw new Error('records of other fields');
    const same = [...left.fields]
      .map(([name, value]) => compare('=', value, right.fields.get(name) ?? null))
      .reduce(and, true);
    return op === '=' ? same : op === '<>' ? not(same) : null;
  }
  if (typeof left === 'object' || typeof right === 'object' || typeof left !== typeof right) return null;
  switch (op) {
    case '=':
      return left === right;
    case '<>':
      return left !== right;
    case '<':
      return left < right;
    case '>':
      return left > right;
    case '<=':
      return left <= right;
    case '>=':
      return left >= right;
  }
}

function not(truth: Truth): Truth {
  return truth === null ? null : !truth;
}

function and(left: Truth, right: Truth): Truth {
  if (left === false || right === false) return false;
  return left === null || right === null ? null : true;
}

function or(left: Truth, right: Truth): Truth {
  return not(and(not(left), not(right)));
}

/** Numbers summed in quarters and halves stay exact; what is rounded is compared to nine digits. */
export function aggregate(fn: Aggregate, values: readonly Value[]): Value {
  const present = values.filter((value) => value !== null);
  switch (fn) {
    case 'COUNT':
      return present.length;
    case 'COLLECT_LIST':
      return { kind: 'list', of: present };
    case 'SUM':
    case 'AVG': {
      if (present.length === 0) return null;
      const sum = present.reduce((total: number, value) => total + (value as number), 0);
      return fn === 'SUM' ? sum : sum / present.length;
    }
    case 'MIN':
    case 'MAX': {
      if (present.length === 0) return null;
      const [first, ...others] = present;
      return others.reduce((best: Value, value) => {
        const order = valueOrder(value, best);
        return (fn === 'MIN' ? order < 0 : order > 0) ? value : best;
      }, first as Value);
    }
  }
}

/** Order of values in ORDER BY, MIN and MAX: truth values, numbers, texts (CONFORMANCE.md); null is above everything. */
export function valueOrder(left: Value, right: Value): number {
  const rank = (value: Value): number =>
    value === null ? 9 : typeof value === 'boolean' ? 0 : typeof value === 'number' ? 1 : 2;
  if (rank(left) !== rank(right)) return rank(left) - rank(right);
  if (left === null || right === null || left === right) return 0;
  return left < right ? -1 : 1;
}

/** What a row is sorted by. */
export function sortValue(by: SortKey['by'], row: Row): Value {
  const value = row.get(typeof by === 'string' ? by : by.of) ?? null;
  if (typeof by === 'string') return value;
  if (!isElement(value)) return null;
  return by.key === undefined ? elementId(value) : propertyOf(value, by.key);
}

/** Order of rows by their sort keys. */
export function inOrder(order: readonly SortKey[], left: readonly Value[], right: readonly Value[]): number {
  for (const [at, { descending, nulls }] of order.entries()) {
    const [one, other] = [left[at] as Value, right[at] as Value];
    if ((one === null) !== (other === null) && nulls !== undefined)
      return (one === null) === (nulls === 'FIRST') ? -1 : 1;
    const by = valueOrder(one, other) * (descending ? -1 : 1);
    if (by !== 0) return by;
  }
  return 0;
}

/** The rows that clauses have beside a row. */
export type Subquery = (of: readonly Clause[], row: Row) => readonly Row[];

export function termValue(term: Term, row: Row, subquery: Subquery): Value {
  switch (term.term) {
    case 'literal':
      return term.value;
    case 'list':
      return { kind: 'list', of: term.of };
    case 'query': {
      const { of } = term;
      const rows = subquery(term.clauses, row);
      return of === undefined
        ? rows.length
        : aggregate(
            term.fn,
            rows.map((one) => termValue(of, one, subquery)),
          );
    }
    case 'record': {
      const fields = term.fields.map(([field, of]) => [field, termValue(of, row, subquery)] as const);
      return { kind: 'record', fields: new Map(fields) };
    }
    case 'truth':
      return truthOf(term.of, row, subquery);
    case 'sum':
    case 'difference':
    case 'product': {
      const left = termValue(term.left, row, subquery);
      const right = termValue(term.right, row, subquery);
      if (typeof left !== 'number' || typeof right !== 'number') return null;
      return term.term === 'sum' ? left + right : term.term === 'product' ? left * right : left - right;
    }
  }
  const name = term.term === 'variable' ? term.name : term.of;
  const value = row.get(name);
  if (value === undefined) throw new Error(`no variable ${name}`);
  switch (term.term) {
    case 'variable':
      return value;
    case 'property':
      if (typeof value === 'object' && value?.kind === 'record') return value.fields.get(term.key) ?? null;
      return isElement(value) ? propertyOf(value, term.key) : null;
    case 'length':
      return value === null ? null : (value as Path).edges.length;
    case 'size':
      return value === null ? null : (value as List).of.length;
    case 'along': {
      const { key } = term;
      if (value === null) return null;
      const of = (value as List).of;
      return aggregate(term.fn, key === undefined ? of : of.map((one) => propertyOf(one as Element, key)));
    }
  }
}

/** The truth of a condition. */
export function truthOf(condition: Condition, row: Row, subquery: Subquery): Truth {
  const value = ((): Truth => {
    switch (condition.test) {
      case 'compare':
        return compare(
          condition.op,
          termValue(condition.left, row, subquery),
          termValue(condition.right, row, subquery),
        );
      case 'value': {
        const value = termValue(condition.of, row, subquery);
        return typeof value === 'boolean' ? value : null;
      }
      case 'and':
      case 'or':
      case 'xor': {
        const [left, right] = condition.of.map((one) => truthOf(one, row, subquery)) as [Truth, Truth];
        if (condition.test === 'xor') return left === null || right === null ? null : left !== right;
        return condition.test === 'and' ? and(left, right) : or(left, right);
      }
      case 'not':
        return not(truthOf(condition.of, row, subquery));
      case 'truth':
        return truthOf(condition.of, row, subquery) === condition.value;
      case 'null':
        return termValue(condition.of, row, subquery) === null;
      case 'in': {
        const of = termValue(condition.of, row, subquery);
        return condition.list.map((one) => compare('=', of, one)).reduce(or, false);
      }
      case 'labeled': {
        const of = row.get(condition.of) ?? null;
        return of === null ? null : hasLabels(condition.label, labelsOf(of as Element));
      }
      case 'directed': {
        const of = row.get(condition.of) ?? null;
        return of === null ? null : (of as { edge: SmallEdge }).edge.directed;
      }
      case 'source':
      case 'destination': {
        const node = row.get(condition.node) ?? null;
        const edge = row.get(condition.edge) ?? null;
        if (node === null || edge === null) return null;
        const { source, target, directed } = (edge as { edge: SmallEdge }).edge;
        return directed && elementId(node as Element) === (condition.test === 'source' ? source : target);
      }
      case 'same':
      case 'different': {
        const of = condition.of.map((name) => row.get(name) ?? null);
        if (of.includes(null)) return null;
        const ids = new Set(of.map((one) => elementId(one as Element)));
        return condition.test === 'same' ? ids.size === 1 : ids.size === of.length;
      }
      case 'has': {
        const of = row.get(condition.of) ?? null;
        return of === null ? null : propertyOf(of as Element, condition.key) !== null;
      }
      case 'exists':
        return subquery(condition.of, row).length > 0;
    }
  })();
  return 'negated' in condition && condition.negated ? not(value) : value;
}
