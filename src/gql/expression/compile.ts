/**
 * Expressions as closures: names are looked up once, constants are computed once, and what is left runs without
 * looking at the tree. Means the same as the interpreter in `tests/gql/expression/evaluate.ts`.
 */
import type {
  Aggregate,
  Case,
  Exists,
  Expression,
  LabelExpression,
  Logical,
  ValueQuery,
  Variable,
} from '../language/ast.ts';
import { readTemporal } from '../language/temporal.ts';
import { accumulatorFor } from './aggregate.ts';
import { arithmetic, concatenate, signed } from './arithmetic.ts';
import { cast } from './cast.ts';
import { apply, type FunctionSetting, type FunctionTable } from './functions/define.ts';
import { trim } from './functions/text.ts';
import { groupVariablesOf } from './group-variables.ts';
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
} from './predicates.ts';
import { and, not, or, type Truth, truthOf, xor } from './truth.ts';
import { isList, recordOf, type Value } from './value.ts';

/** Gives the value for what is bound now. */
export type Reader<State> = (state: State) => Value;

/** How an expression reaches what its names mean; asked while compiling, but for what it answers with readers. */
export interface Slots<State> extends FunctionSetting {
  readonly functions: FunctionTable;
  /** A variable: an element, a list of elements for a group variable, a path, a value, or null. */
  variable(name: string): Reader<State>;
  isGroup(name: string): boolean;
  /** A property of a variable that holds a single element, when it can be read without making a reference first. */
  readonly property?: (variable: string, key: string) => Reader<State> | undefined;
  /** Whether a variable that holds a single element has labels; unknown (null) when it holds none. */
  readonly labeled?: (variable: string, labels: LabelExpression) => ((state: State) => Truth) | undefined;
  /** A parameter whose value is the same for all states. */
  parameter(name: string): Value;
  exists(node: Exists): (state: State) => boolean;
  query(node: ValueQuery): Reader<State>;
  /** An aggregate over rows, when the expression is used with groups of rows. */
  readonly aggregate?: (node: Aggregate) => Reader<State>;
}

/** Compiles a checked expression. Throws when a function is not in the table. */
export function compileExpression<State>(expression: Expression, slots: Slots<State>): Reader<State> {
  const code = new Compiler(slots).compile(expression);
  return code.run;
}

interface Code<State> {
  readonly run: Reader<State>;
  /** Set when the value is the same for all states. */
  readonly constant: { readonly value: Value } | undefined;
}

class Compiler<State> {
  readonly #slots: Slots<State>;
  /** Readers that replace a name: the current item of a group variable in an aggregate. */
  readonly #bound = new Map<string, Reader<State>>();
  /** The value of the innermost simple CASE. */
  #subject: Reader<State> = () => null;

  constructor(slots: Slots<State>) {
    this.#slots = slots;
  }

  compile(node: Expression): Code<State> {
    const { elements } = this.#slots;
    switch (node.kind) {
      case 'number':
      case 'string':
      case 'boolean':
        return constant(node.value);
      case 'null':
        return constant(null);
      case 'temporal':
        return constant(readTemporal(node.type, node.text) ?? null);
      case 'parameter':
        return constant(this.#slots.parameter(node.name));
      case 'list':
        return this.#all(node.items, (values) => [...values]);
      case 'record': {
        const keys = node.fields.map(({ key }) => key.text);
        const values = node.fields.map(({ value }) => value);
        return this.#all(values, (items) => recordOf(keys.map((key, i) => [key, items[i]!])));
      }
      case 'value-query':
        return varying(this.#slots.query(node));
      case 'variable':
        return varying(this.#variable(node.name));
      case 'property': {
        if (node.object.kind === 'variable' && !this.#bound.has(node.object.name)) {
          const direct = this.#slots.property?.(node.object.name, node.key.text);
          if (direct) return varying(direct);
        }
        const key = node.key.text;
        return this.#one(node.object, (object) => propertyOf(object, key, elements));
      }
      case 'sign': {
        const { operator } = node;
        return this.#one(node.operand, (value) => signed(operator, value));
      }
      case 'arithmetic':
        return this.#arithmetic(node);
      case 'concatenation':
        return this.#two(node.left, node.right, concatenate);
      case 'comparison':
        return this.#comparison(node);
      case 'not':
        return this.#one(node.operand, (value) => not(truthOf(value)));
      case 'logical':
        return this.#logical(node);
      case 'is-null': {
        const { negated } = node;
        return this.#one(node.operand, (value) => (value === null) !== negated);
      }
      case 'is-truth': {
        const { truth, negated } = node;
        return this.#one(node.operand, (value) => (truthOf(value) === truth) !== negated);
      }
      case 'is-labeled':
        return this.#labeled(node.element, node.labels, node.negated);
      case 'is-directed':
        return this.#one(
          node.edge,
          negatable(node.negated, (edge) => isDirected(edge, elements)),
        );
      case 'is-endpoint': {
        const { end, negated } = node;
        return this.#two(node.node, node.edge, (a, b) => {
          const is = isEndpoint(end, a, b, elements);
          return negated ? not(is) : is;
        });
      }
      case 'in': {
        const { negated } = node;
        return this.#two(node.operand, node.list, (a, list) => {
          const found = isIn(a, list);
          return negated ? not(found) : found;
        });
      }
      case 'exists':
        return varying(this.#slots.exists(node));
      case 'all-different':
        return this.#all(node.elements, allDifferent);
      case 'same':
        return this.#all(node.elements, same);
      case 'property-exists': {
        const key = node.key.text;
        return this.#one(node.element, (element) => propertyExists(element, key, elements));
      }
      case 'case':
        return this.#case(node);
      case 'case-subject':
        return varying(this.#subject);
      case 'cast': {
        const { type } = node;
        return this.#one(node.operand, (value) => cast(value, type));
      }
      case 'trim': {
        const { side } = node;
        const character = node.character ?? ({ kind: 'string', value: ' ', span: node.span } as const);
        return this.#two(node.source, character, (source, one) => trim(source, one, side));
      }
      case 'call': {
        const definition = this.#slots.functions.get(node.name);
        if (!definition) throw new Error(`There is no function ${node.name}`);
        const call = (values: readonly Value[]): Value => apply(definition, values, this.#slots);
        // Without arguments the result depends on the instant of the query, which a cached query must read again.
        if (node.arguments.length === 0) return varying(() => call([]));
        return this.#all(node.arguments, call);
      }
      case 'aggregate':
        return varying(this.#aggregate(node));
      default:
        return node satisfies never;
    }
  }

  #variable(name: string): Reader<State> {
    return this.#bound.get(name) ?? this.#slots.variable(name);
  }

  #one(operand: Expression, compute: (value: Value) => Value): Code<State> {
    const { run, constant: known } = this.compile(operand);
    return known ? constant(compute(known.value)) : varying((state) => compute(run(state)));
  }

  #two(left: Expression, right: Expression, compute: (a: Value, b: Value) => Value): Code<State> {
    const a = this.compile(left);
    const b = this.compile(right);
    if (a.constant && b.constant) return constant(compute(a.constant.value, b.constant.value));
    const [readA, readB] = [a.run, b.run];
    return varying((state) => compute(readA(state), readB(state)));
  }

  #all(operands: readonly Expression[], compute: (values: readonly Value[]) => Value): Code<State> {
    const codes = operands.map((operand) => this.compile(operand));
    if (codes.every((code) => code.constant))
      return constant(compute(codes.map((code) => code.constant!.value)));
    const readers = codes.map((code) => code.run);
    return varying((state) => compute(readers.map((read) => read(state))));
  }

  #arithmetic(node: Extract<Expression, { kind: 'arithmetic' }>): Code<State> {
    const { operator } = node;
    return this.#two(node.left, node.right, (a, b) => arithmetic(operator, a, b));
  }

  #comparison({ operator, left, right }: Extract<Expression, { kind: 'comparison' }>): Code<State> {
    switch (operator) {
      case '=':
        return this.#two(left, right, (a, b) =>
          typeof a === 'string' && typeof b === 'string' ? a === b : compare('=', a, b),
        );
      case '<':
        return this.#two(left, right, (a, b) =>
          typeof a === 'number' && typeof b === 'number' ? a < b : compare('<', a, b),
        );
      case '>':
        return this.#two(left, right, (a, b) =>
          typeof a === 'number' && typeof b === 'number' ? a > b : compare('>', a, b),
        );
      default:
        return this.#two(left, right, (a, b) => compare(operator, a, b));
    }
  }

  /** Stops at the operand that decides; which order operands run in cannot be seen, since none has effects. */
  #logical({ operator, operands }: Logical): Code<State> {
    if (operator === 'XOR') return this.#all(operands, (values) => values.map(truthOf).reduce(xor));
    const deciding = operator === 'OR';
    const combine = deciding ? or : and;
    const codes = operands.map((operand) => this.compile(operand));
    if (codes.every((code) => code.constant)) {
      return constant(codes.map((code) => truthOf(code.constant!.value)).reduce(combine));
    }
    const readers = codes.map((code) => code.run);
    return varying((state) => {
      let truth: Truth = !deciding;
      for (const read of readers) {
        truth = combine(truth, truthOf(read(state)));
        if (truth === deciding) return truth;
      }
      return truth;
    });
  }

  #labeled(element: Variable, labels: LabelExpression, negated: boolean): Code<State> {
    const { elements } = this.#slots;
    const direct = this.#bound.has(element.name) ? undefined : this.#slots.labeled?.(element.name, labels);
    if (direct) return varying(negated ? (state) => not(direct(state)) : direct);
    return this.#one(
      element,
      negatable(negated, (value) => isLabeled(value, labels, elements)),
    );
  }

  #case(node: Case): Code<State> {
    let current: Value = null;
    const subject = node.subject ? this.compile(node.subject).run : undefined;
    const outer = this.#subject;
    if (subject) this.#subject = () => current;
    const conditions = node.branches.map((branch) => branch.conditions.map((one) => this.compile(one).run));
    this.#subject = outer;
    const branches = node.branches.map((branch, i) => ({
      conditions: conditions[i]!,
      result: this.compile(branch.result).run,
    }));
    const otherwise = node.otherwise ? this.compile(node.otherwise).run : () => null;
    return varying((state) => {
      if (subject) current = subject(state);
      for (const branch of branches) {
        if (branch.conditions.some((condition) => condition(state) === true)) return branch.result(state);
      }
      return otherwise(state);
    });
  }

  #aggregate(node: Aggregate): Reader<State> {
    const isGroup = (name: string): boolean => !this.#bound.has(name) && this.#slots.isGroup(name);
    const [along] = groupVariablesOf(node, isGroup);
    if (along === undefined || !node.argument) {
      const read = this.#slots.aggregate?.(node);
      if (!read) throw new Error(`${node.name} is used where there are no groups of rows`);
      return read;
    }
    let item: Value = null;
    const list = this.#slots.variable(along);
    const fraction = node.fraction ? this.compile(node.fraction).run : () => null;
    this.#bound.set(along, () => item);
    const argument = this.compile(node.argument).run;
    this.#bound.delete(along);
    return (state) => {
      const items = list(state);
      if (!isList(items)) return null;
      const accumulator = accumulatorFor(node, fraction(state));
      for (const next of items) {
        item = next;
        accumulator.add(argument(state));
      }
      return accumulator.result();
    };
  }
}

function constant<State>(value: Value): Code<State> {
  return { run: () => value, constant: { value } };
}

function varying<State>(run: Reader<State>): Code<State> {
  return { run, constant: undefined };
}

function negatable(negated: boolean, test: (value: Value) => Truth): (value: Value) => Truth {
  return negated ? (value) => not(test(value)) : test;
}
