/** Evaluation of expression trees on a store. */
import type { Aggregate, Expression } from '../language/ast.ts';
import type { PropertyValue } from '../storage/input.ts';
import type { Store } from '../storage/store.ts';
import type { Accumulator, Evaluate, Expressions } from './compile.ts';
import type { Scope } from './scope.ts';

export function expressionsFor(store: Store): Expressions {
  const compile: Expressions['compile'] = (e, scope, exists) => evaluator(store, e, scope, exists);
  return {
    compile,
    accumulator: (node) => () => accumulator(node),
    keyOf: (v) => JSON.stringify(v) ?? 'null',
    compare: (a, b) => ((a as number) < (b as number) ? -1 : (a as number) > (b as number) ? 1 : 0),
    nullsFirst: () => false,
    output: (v) => {
      if (v && typeof v === 'object' && 'node' in v)
        return { kind: 'node', id: store.nodeId((v as { node: number }).node) };
      return v;
    },
  };
}
function accumulator(node: Aggregate): Accumulator {
  let n = 0;
  let sum = 0;
  const list: unknown[] = [];
  const seen = new Set<string>();
  return {
    bytes: 32,
    add(v) {
      if (node.argument && (v === null || v === undefined)) return;
      if (node.distinct) {
        const k = JSON.stringify(v);
        if (seen.has(k)) return;
        seen.add(k);
      }
      n++;
      if (typeof v === 'number') sum += v;
      list.push(v);
    },
    result() {
      switch (node.name) {
        case 'COUNT':
          return n;
        case 'SUM':
          return n ? sum : null;
        case 'AVG':
          return n ? sum / n : null;
        case 'MIN':
          return n ? list.reduce((a, b) => ((a as number) < (b as number) ? a : b)) : null;
        case 'MAX':
          return n ? list.reduce((a, b) => ((a as number) > (b as number) ? a : b)) : null;
        default:
          return list;
      }
    },
  };
}
function evaluator(
  store: Store,
  e: Expression,
  scope: Scope,
  exists: Parameters<Expressions['compile']>[2],
): Evaluate {
  const sub = (x: Expression) => evaluator(store, x, scope, exists);
  switch (e.kind) {
    case 'number':
    case 'string':
    case 'boolean': {
      const v = e.value;
      return () => v;
    }
    case 'null':
      return () => null;
    case 'parameter':
      return (s) => s.parameters[e.name] ?? null;
    case 'variable': {
      const b = scope.find(e.name);
      if (!b) throw new Error(`no variable ${e.name}`);
      if (b.kind === 'node') return (s) => (s.row[b.slot]! < 0 ? null : { node: s.row[b.slot] });
      if (b.kind === 'edge') return (s) => (s.row[b.slot]! < 0 ? null : { edge: s.row[b.slot] });
      return (s) => s.values[b.slot] ?? null;
    }
    case 'property': {
      const o = sub(e.object);
      const key = e.key.text;
      return (s) => {
        const v = o(s) as { node?: number; edge?: number } | null;
        if (!v) return null;
        const k = store.catalog.findKey(key);
        if (k < 0) return null;
        const r: PropertyValue | undefined =
          v.node !== undefined ? store.nodeProperty(v.node, k) : store.edgeProperty(v.edge!, k);
        return r ?? null;
      };
    }
    case 'comparison': {
      const [l, r] = [sub(e.left), sub(e.right)];
      return (s) => {
        const [a, b] = [l(s) as number, r(s) as number];
        if (a === null || b === null) return null;
        if (typeof a === 'object') return (JSON.stringify(a) === JSON.stringify(b)) === (e.operator === '=');
        switch (e.operator) {
          case '=':
            return a === b;
          case '<>':
            return a !== b;
          case '<':
            return a < b;
          case '<=':
            return a <= b;
          case '>':
            return a > b;
          default:
            return a >= b;
        }
      };
    }
    case 'not': {
      const o = sub(e.operand);
      return (s) => {
        const v = o(s);
        return v === null ? null : !v;
      };
    }
    case 'logical': {
      const os = e.operands.map(sub);
      return (s) => {
        const vs = os.map((o) => o(s));
        if (e.operator === 'AND') return vs.includes(false) ? false : vs.includes(null) ? null : true;
        if (e.operator === 'OR') return vs.includes(true) ? true : vs.includes(null) ? null : false;
        return vs.includes(null) ? null : vs.reduce((a, b) => a !== b);
      };
    }
    case 'arithmetic': {
      const [l, r] = [sub(e.left), sub(e.right)];
      return (s) => {
        const [a, b] = [l(s) as number, r(s) as number];
        if (a === null || b === null) return null;
        return e.operator === '+' ? a + b : e.operator === '-' ? a - b : e.operator === '*' ? a * b : a / b;
      };
    }
    case 'is-null': {
      const o = sub(e.operand);
      return (s) => ((o(s) ?? null) === null) !== e.negated;
    }
    case 'exists': {
      const t = exists(e);
      return (s) => t(s);
    }
    case 'in': {
      const [o, l] = [sub(e.operand), sub(e.list)];
      return (s) => {
        const v = o(s);
        const list = l(s) as unknown[];
        if (v === null || list === null) return null;
        const hit = list.includes(v);
        return hit !== e.negated;
      };
    }
    case 'list': {
      const os = e.items.map(sub);
      return (s) => os.map((o) => o(s));
    }
    default:
      throw new Error(`not yet: ${e.kind}`);
  }
}
