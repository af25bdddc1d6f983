/**
 * Conditions as JavaScript source, where that is simple and surely means the same as evaluating the tree: arithmetic
 * and comparisons of numbers, equality of strings, null tests, labels, and their combinations in three-valued logic.
 * Anything else answers undefined and is evaluated as a tree.
 *
 * A predicate is written twice over, as "is surely true" and "is surely false"; unknown is neither.
 */
import type { ComparisonOperator, Expression, PropertyReference } from '../language/ast.ts';
import type { Catalog, Layout, Storage } from '../storage/catalog.ts';
import { labelTest } from './label-of.ts';
import { nodeKindTruths, TRUE } from './label-test.ts';
import type { EmitScope } from './pattern.ts';
import type { Binding, Scope } from './scope.ts';

export interface EmitContext {
  readonly catalog: Catalog;
  readonly scope: Scope;
  readonly parameters: Readonly<Record<string, unknown>>;
  /** Number of a string in the graph, -1 when nothing holds it. */
  readonly stringNumber: (text: string) => number;
  /** Lowest label truth that counts as having the label. */
  readonly leastTruth: number;
}

/** A number: its source, and what must hold for it not to be null. */
interface NumberSource {
  readonly guards: readonly string[];
  readonly source: string;
  /** Whether it may be beyond the largest number. */
  readonly computed?: boolean;
}

/** The source of "the expression is true", or undefined when it cannot be written. */
export function emitCondition(
  expression: Expression,
  context: EmitContext,
  out: EmitScope,
): string | undefined {
  return new Emitter(context, out).truth(expression, true);
}

class Emitter {
  readonly #context: EmitContext;
  readonly #out: EmitScope;
  /** Slot variables of the comparison being written, by element and property. */
  readonly #slots = new Map<string, string>();

  constructor(context: EmitContext, out: EmitScope) {
    this.#context = context;
    this.#out = out;
  }

  /** Source of "the predicate is true" (or is false); undefined when it cannot be written. */
  truth(expression: Expression, wanted: boolean): string | undefined {
    switch (expression.kind) {
      case 'boolean':
        return String(expression.value === wanted);
      case 'null':
        return 'false';
      case 'not':
        return this.truth(expression.operand, !wanted);
      case 'logical': {
        if (expression.operator === 'XOR') return undefined;
        const parts = expression.operands.map((operand) => this.truth(operand, wanted));
        if (parts.some((part) => part === undefined)) return undefined;
        return `(${parts.join((expression.operator === 'AND') === wanted ? ' && ' : ' || ')})`;
      }
      case 'comparison':
        return (
          this.#numbers(expression.operator, expression.left, expression.right, wanted) ??
          this.#strings(expression.operator, expression.left, expression.right, wanted)
        );
      case 'is-null': {
        const present = this.#present(expression.operand);
        if (present === undefined) return undefined;
        return expression.negated === wanted ? present : `!(${present})`;
      }
      case 'property-exists': {
        const present = this.#presence(expression.element.name, expression.key.text);
        if (present === undefined) return undefined;
        return wanted ? present : `!(${present})`;
      }
      case 'is-labeled': {
        const binding = this.#context.scope.find(expression.element.name);
        if (binding?.kind !== 'node') return undefined;
        const truths = nodeKindTruths(labelTest(expression.labels), this.#context.catalog);
        // That a label is missing is possible when it is uncertain, and certain when it is impossible.
        const missing = expression.negated === wanted;
        const table = truths.map((truth) =>
          (missing ? TRUE - truth : truth) >= this.#context.leastTruth ? 1 : 0,
        );
        return `${this.#out.constant(table)}[nodeKind[${this.#out.element(binding.slot)}]] === 1`;
      }
      case 'in': {
        if (expression.list.kind !== 'list') return undefined;
        const equal = expression.negated ? !wanted : wanted;
        const parts = expression.list.items.map(
          (item) =>
            this.#numbers('=', expression.operand, item, equal) ??
            this.#strings('=', expression.operand, item, equal),
        );
        if (parts.length === 0 || parts.some((part) => part === undefined)) return undefined;
        return `(${parts.join(equal ? ' || ' : ' && ')})`;
      }
      case 'property': {
        this.#slots.clear();
        const field = this.#field(expression, 'boolean');
        if (!field) return undefined;
        return `(${field.guard || 'true'} && words[${field.record} + ${field.slot}] === ${wanted ? 1 : 0})`;
      }
      default:
        return undefined;
    }
  }

  #numbers(
    operator: ComparisonOperator,
    left: Expression,
    right: Expression,
    wanted: boolean,
  ): string | undefined {
    // All guards come before everything they guard, so a property that occurs twice is looked up once.
    this.#slots.clear();
    const a = this.#number(left);
    const b = a && this.#number(right);
    if (!a || !b) return undefined;
    const guards = [...a.guards, ...b.guards];
    const sides = [a, b].map(({ source, computed }) => {
      if (!computed) return source;
      // A sum or product that is not finite is null.
      const value = this.#out.fresh();
      guards.push(`Math.abs(${value} = ${source}) < Infinity`);
      return value;
    });
    const compared = `${sides[0]} ${operatorSource(operator)} ${sides[1]}`;
    return `(${[...guards, wanted ? compared : `!(${compared})`].join(' && ')})`;
  }

  #number(expression: Expression): NumberSource | undefined {
    switch (expression.kind) {
      case 'number':
        return { guards: [], source: this.#literal(expression.value) };
      case 'parameter': {
        const value = this.#context.parameters[expression.name];
        return typeof value === 'number' ? { guards: [], source: this.#literal(value) } : undefined;
      }
      case 'sign': {
        const operand = this.#number(expression.operand);
        return operand && { ...operand, source: `(${expression.operator}(${operand.source}))` };
      }
      case 'arithmetic': {
        // Division by zero is an error of its own.
        if (expression.operator === '/') return undefined;
        const left = this.#number(expression.left);
        const right = left && this.#number(expression.right);
        if (!left || !right) return undefined;
        return {
          guards: [...left.guards, ...right.guards],
          source: `(${left.source} ${expression.operator} ${right.source})`,
          computed: true,
        };
      }
      case 'property': {
        const field = this.#field(expression, 'number');
        return (
          field && {
            guards: field.guard ? [field.guard] : [],
            source: `doubles[(${field.record} >> 1) + ${field.slot}]`,
          }
        );
      }
      default:
        return undefined;
    }
  }

  #literal(value: number): string {
    return Number.isFinite(value) ? `(${String(value)})` : this.#out.constant(value);
  }

  #strings(
    operator: ComparisonOperator,
    left: Expression,
    right: Expression,
    wanted: boolean,
  ): string | undefined {
    if (operator !== '=' && operator !== '<>') return undefined;
    this.#slots.clear();
    const a = this.#string(left);
    const b = a && this.#string(right);
    if (!a || !b) return undefined;
    const equal = (operator === '=') === wanted;
    return `(${[...a.guards, ...b.guards, `${a.source} ${equal ? '===' : '!=='} ${b.source}`].join(' && ')})`;
  }

  /** Not written into the code, which then is the same for graphs that number their strings differently. */
  #stringConstant(text: string): string {
    return this.#out.constant(this.#context.stringNumber(text));
  }

  /** The number of a string; strings are equal when their numbers are. */
  #string(expression: Expression): NumberSource | undefined {
    switch (expression.kind) {
      case 'string':
        return { guards: [], source: this.#stringConstant(expression.value) };
      case 'parameter': {
        const value = this.#context.parameters[expression.name];
        return typeof value === 'string' ? { guards: [], source: this.#stringConstant(value) } : undefined;
      }
      case 'property': {
        const field = this.#field(expression, 'string');
        return (
          field && {
            guards: field.guard ? [field.guard] : [],
            source: `words[${field.record} + ${field.slot}]`,
          }
        );
      }
      default:
        return undefined;
    }
  }

  #present(expression: Expression): string | undefined {
    if (expression.kind !== 'property' || expression.object.kind !== 'variable') return undefined;
    return this.#presence(expression.object.name, expression.key.text);
  }

  #presence(variable: string, key: string): string | undefined {
    const element = this.#element(variable);
    if (!element) return undefined;
    const slots = slotTable(this.#context.catalog, element.kind, key, undefined);
    return `${this.#out.constant(slots)}[${element.kindSource}] >= 0`;
  }

  /** Where a property stands; undefined when some elements store it in another way. */
  #field(
    { object, key }: PropertyReference,
    storage: Storage,
  ): { guard: string; record: string; slot: string } | undefined {
    if (object.kind !== 'variable') return undefined;
    const element = this.#element(object.name);
    if (!element) return undefined;
    const storages = storagesOf(this.#context.catalog, element.kind, key.text);
    if ([...storages].some((other) => other !== storage)) return undefined;
    if (storages.size === 0 && storage !== 'number') return undefined;
    const place = `${element.kindSource} ${key.text}`;
    const known = this.#slots.get(place);
    if (known) return { guard: '', record: element.recordSource, slot: known };
    const slots = slotTable(this.#context.catalog, element.kind, key.text, storage);
    const slot = this.#out.fresh();
    this.#slots.set(place, slot);
    return {
      guard: `(${slot} = ${this.#out.constant(slots)}[${element.kindSource}]) >= 0`,
      record: element.recordSource,
      slot,
    };
  }

  #element(
    variable: string,
  ): { kind: 'node' | 'edge'; kindSource: string; recordSource: string } | undefined {
    const binding: Binding | undefined = this.#context.scope.find(variable);
    if (binding?.kind !== 'node' && binding?.kind !== 'edge') return undefined;
    const element = this.#out.element(binding.slot);
    return binding.kind === 'node'
      ? { kind: 'node', kindSource: `nodeKind[${element}]`, recordSource: `nodeRecord[${element}]` }
      : { kind: 'edge', kindSource: `edgeKind[${element}]`, recordSource: `edgeRecord[${element}]` };
  }
}

function operatorSource(operator: ComparisonOperator): string {
  if (operator === '=') return '===';
  return operator === '<>' ? '!==' : operator;
}

function layoutsOf(catalog: Catalog, kind: 'node' | 'edge'): Layout[] {
  const kinds = kind === 'node' ? catalog.nodeKinds : catalog.edgeKinds;
  return kinds.map(({ layout }) => catalog.layouts[layout]!);
}

function storagesOf(catalog: Catalog, kind: 'node' | 'edge', key: string): Set<Storage> {
  const id = catalog.findKey(key);
  const storages = new Set<Storage>();
  for (const { fields } of layoutsOf(catalog, kind))
    for (const field of fields) if (field.key === id) storages.add(field.storage);
  return storages;
}

/** Per kind, the slot of a property, -1 when it is absent (or stored otherwise). */
function slotTable(
  catalog: Catalog,
  kind: 'node' | 'edge',
  key: string,
  storage: Storage | undefined,
): Int32Array {
  const id = catalog.findKey(key);
  return Int32Array.from(layoutsOf(catalog, kind), ({ fields }) => {
    const field = fields.find((f) => f.key === id && (storage === undefined || f.storage === storage));
    return field ? field.slot : -1;
  });
}
