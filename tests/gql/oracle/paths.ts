/**
 * Path patterns, matched by trying everything (ISO/IEC 39075:2024, 22.2 to 22.4, from memory; Deutsch and others,
 * "Graph pattern matching in GQL and SQL/PGQ", SIGMOD 2022, sections 4 to 6). A path pattern is walked from left to
 * right; conditions are kept aside until the whole clause is bound, so nothing here depends on the order of the text.
 */
import { labelsSatisfy } from '../../../src/gql/expression/truth.ts';
import type {
  EdgeReference,
  ElementReference,
  NodeReference,
  Value,
} from '../../../src/gql/expression/value.ts';
import type {
  EdgePattern,
  Expression,
  NodePattern,
  PathFactor,
  PathMode,
  PathPattern,
} from '../../../src/gql/language/ast.ts';
import type { Elements } from './graph.ts';

/** A variable's value. Group variables are lists. */
export interface Cell {
  readonly value: Value;
  readonly group: boolean;
}

export type Row = ReadonlyMap<string, Cell>;

/** A condition, and the bindings of the iterations that it stands in, innermost first. */
export interface Pending {
  readonly expression: Expression;
  readonly scopes: readonly Row[];
}

/** A path so far. */
export interface Walk {
  readonly elements: readonly ElementReference[];
  /** Names of the variables at each element; positions that share one hold one element by intention. */
  readonly names: readonly ReadonlySet<string>[];
  /** Variables of this level. */
  readonly row: Row;
  /** Conditions of this level. */
  readonly open: readonly Expression[];
  /** Conditions of iterations that are over. */
  readonly sealed: readonly Pending[];
  /** Branches taken where |+| stands between them, which keep matches apart. */
  readonly taken: string;
}

/** Elements from `from` on must keep to the mode. */
interface Restriction {
  readonly mode: PathMode;
  readonly from: number;
}

/** Longest path, against texts that the checks should have refused. */
const LONGEST = 200;

export class PathMatcher {
  readonly #elements: Elements;
  readonly #outer: Row;
  readonly #differentEdges: boolean;
  #iteration = 0;

  /**
   * @param outer variables that are bound already; a pattern that names one must find the same element
   * @param differentEdges whether no edge may come twice
   */
  constructor(elements: Elements, outer: Row, differentEdges: boolean) {
    this.#elements = elements;
    this.#outer = outer;
    this.#differentEdges = differentEdges;
  }

  /** All walks that fit the pattern. */
  *match(pattern: PathPattern): Generator<Walk> {
    const restrictions: Restriction[] = [{ mode: pattern.mode ?? 'WALK', from: 0 }];
    if (this.#differentEdges) restrictions.push({ mode: 'TRAIL', from: 0 });
    const empty: Walk = { elements: [], names: [], row: new Map(), open: [], sealed: [], taken: '' };
    for (const walk of this.#factors(pattern.factors, empty, restrictions)) {
      for (const whole of this.#started(walk)) yield this.#named(whole, pattern.variable?.text, 0);
    }
  }

  *#factors(
    factors: readonly PathFactor[],
    walk: Walk,
    restrictions: readonly Restriction[],
  ): Generator<Walk> {
    const [factor, ...rest] = factors;
    if (!factor) {
      yield walk;
      return;
    }
    for (const next of this.#factor(factor, walk, restrictions))
      yield* this.#factors(rest, next, restrictions);
  }

  *#factor(factor: PathFactor, walk: Walk, restrictions: readonly Restriction[]): Generator<Walk> {
    switch (factor.kind) {
      case 'node-pattern':
        for (const started of this.#started(walk)) yield* this.#node(factor, started);
        return;
      case 'edge-pattern':
        for (const started of this.#started(walk)) yield* this.#edge(factor, started, restrictions);
        return;
      case 'parenthesized-path':
        for (const started of this.#started(walk)) {
          const from = started.elements.length - 1;
          const inside = [...restrictions, { mode: factor.mode ?? 'WALK', from }];
          for (const inner of this.#factors(factor.factors, started, inside)) {
            const named = this.#named(inner, factor.variable?.text, from);
            yield factor.where ? { ...named, open: [...named.open, factor.where] } : named;
          }
        }
        return;
      case 'questioned-path':
        for (const started of this.#started(walk)) {
          const nulls = [...variablesOf(factor.path)].filter((name) => !started.row.has(name));
          yield { ...started, row: withCells(started.row, nulls, { value: null, group: false }) };
          yield* this.#factor(factor.path, started, restrictions);
        }
        return;
      case 'quantified-path':
        for (const started of this.#started(walk)) {
          const names = [...variablesOf(factor.path)];
          const before = { ...started, row: withCells(started.row, names, { value: [], group: true }) };
          yield* this.#iterations(
            factor.path,
            names,
            factor.min,
            factor.max ?? LONGEST,
            before,
            restrictions,
          );
        }
        return;
      case 'path-alternation':
        for (const started of this.#started(walk)) {
          const all = [...variablesOf(factor)].filter((name) => !started.row.has(name));
          for (const [b, { factors }] of factor.branches.entries()) {
            const own = new Set(factors.flatMap((inner) => [...variablesOf(inner)]));
            const nulls = all.filter((name) => !own.has(name));
            const taken = factor.multiset ? `${started.taken} ${b}` : started.taken;
            const row = withCells(started.row, nulls, { value: null, group: false });
            yield* this.#factors(factors, { ...started, row, taken }, restrictions);
          }
        }
        return;
      default:
        factor satisfies never;
    }
  }

  /** From `walk`, `least` to `most` further iterations. */
  *#iterations(
    path: PathFactor,
    names: readonly string[],
    least: number,
    most: number,
    walk: Walk,
    restrictions: readonly Restriction[],
  ): Generator<Walk> {
    if (walk.elements.length > LONGEST) throw new Error('The oracle does not walk paths as long as this');
    if (least <= 0) yield walk;
    if (most <= 0) return;
    const fresh: Walk = { ...walk, row: new Map(), open: [], sealed: [] };
    for (const once of this.#factor(path, fresh, restrictions)) {
      const row = new Map(walk.row);
      for (const name of names) {
        const cell = once.row.get(name);
        // An iteration in which the variable was left out (by ?) adds nothing.
        if (!cell || cell.value === null) continue;
        const items = cell.group ? (cell.value as readonly Value[]) : [cell.value];
        row.set(name, { value: [...(row.get(name)!.value as readonly Value[]), ...items], group: true });
      }
      const sealed: Pending[] = [
        ...walk.sealed,
        ...once.sealed.map((pending) => ({ ...pending, scopes: [...pending.scopes, once.row] })),
        ...once.open.map((expression) => ({ expression, scopes: [once.row] })),
      ];
      yield* this.#iterations(
        path,
        names,
        least - 1,
        most - 1,
        { ...once, row, open: walk.open, sealed, names: this.#ofOneIteration(once.names, names) },
        restrictions,
      );
    }
  }

  /** A name inside an iteration means another element in the next one, so that it says nothing about these being one. */
  #ofOneIteration(places: Walk['names'], inside: readonly string[]): Walk['names'] {
    const iteration = this.#iteration++;
    return places.map(
      (names) => new Set([...names].map((name) => (inside.includes(name) ? `${name}\0${iteration}` : name))),
    );
  }

  /** The walk itself when it has a first node, else one walk for every node. */
  *#started(walk: Walk): Generator<Walk> {
    if (walk.elements.length > 0) yield walk;
    else {
      for (const id of this.#elements.nodes.keys()) {
        yield { ...walk, elements: [{ kind: 'node', key: id }], names: [new Set()] };
      }
    }
  }

  *#node(pattern: NodePattern, walk: Walk): Generator<Walk> {
    const node = walk.elements.at(-1)!;
    if (!this.#hasLabels(pattern, node)) return;
    const bound = this.#bound(walk, pattern, node);
    if (bound) yield bound;
  }

  *#edge(pattern: EdgePattern, walk: Walk, restrictions: readonly Restriction[]): Generator<Walk> {
    const at = walk.elements.at(-1) as NodeReference;
    for (const { id, source, target, directed } of this.#elements.edges.values()) {
      const edge: EdgeReference = { kind: 'edge', key: id };
      if (!this.#hasLabels(pattern, edge)) continue;
      for (const end of endsReached(pattern.direction, String(at.key), source, target, directed)) {
        const longer: Walk = {
          ...walk,
          elements: [...walk.elements, edge, { kind: 'node', key: end }],
          names: [...walk.names, new Set(), new Set()],
        };
        if (!restrictions.every((restriction) => keepsTo(restriction, longer.elements))) continue;
        const bound = this.#bound(longer, pattern, edge);
        if (bound) yield bound;
      }
    }
  }

  #hasLabels(pattern: NodePattern | EdgePattern, element: ElementReference): boolean {
    if (!pattern.labels) return true;
    const labels = this.#elements.labels(element);
    return labelsSatisfy(
      pattern.labels,
      (label) => labels.includes(label),
      () => labels.length,
    );
  }

  /** The walk with the element bound to the pattern's variable; undefined when the variable is another element. */
  #bound(walk: Walk, pattern: NodePattern | EdgePattern, element: ElementReference): Walk | undefined {
    const open = [...walk.open];
    const own = pattern.variable?.text ?? `\0${pattern.span.start} ${pattern.kind}`;
    for (const { key, value, span } of pattern.properties) {
      const object = { kind: 'variable', name: own, span } as const;
      const left = { kind: 'property', object, key, span } as const;
      open.push({ kind: 'comparison', operator: '=', left, right: value, span });
    }
    if (pattern.where) open.push(pattern.where);
    const row = new Map(walk.row);
    const known = row.get(own) ?? (pattern.variable ? this.#outer.get(own) : undefined);
    if (known && pattern.variable) {
      const value = known.value as ElementReference | null;
      if (value === null || value.kind !== element.kind || value.key !== element.key) return undefined;
    }
    row.set(own, { value: element, group: false });
    const names = [...walk.names];
    const place = walk.elements.lastIndexOf(element);
    names[place] = new Set([...names[place]!, ...(pattern.variable ? [own] : [])]);
    return { ...walk, row, open, names };
  }

  #named(walk: Walk, name: string | undefined, from: number): Walk {
    if (name === undefined) return walk;
    const path: Value = { kind: 'path', elements: walk.elements.slice(from) };
    return { ...walk, row: new Map(walk.row).set(name, { value: path, group: false }) };
  }
}

/** The far ends that an edge leads to from a node, in the direction that the pattern asks for. */
function endsReached(
  direction: EdgePattern['direction'],
  at: string,
  source: string,
  target: string,
  directed: boolean,
): Set<string> {
  const right = ['right', 'undirected-or-right', 'left-or-right', 'any'].includes(direction);
  const left = ['left', 'left-or-undirected', 'left-or-right', 'any'].includes(direction);
  const undirected = ['undirected', 'undirected-or-right', 'left-or-undirected', 'any'].includes(direction);
  const ends = new Set<string>();
  if (directed ? right : undirected) if (source === at) ends.add(target);
  if (directed ? left : undirected) if (target === at) ends.add(source);
  return ends;
}

/** 16.6 <path pattern prefix>: TRAIL no edge twice; ACYCLIC no node twice; SIMPLE none but the first as the last. */
function keepsTo({ mode, from }: Restriction, elements: readonly ElementReference[]): boolean {
  const part = elements.slice(from);
  const keys = (kind: 'node' | 'edge'): string[] =>
    part.filter((element) => element.kind === kind).map(({ key }) => String(key));
  switch (mode) {
    case 'WALK':
      return true;
    case 'TRAIL':
      return allDiffer(keys('edge'));
    case 'ACYCLIC':
      return allDiffer(keys('node'));
    case 'SIMPLE': {
      const nodes = keys('node');
      return allDiffer(nodes.slice(1)) && allDiffer(nodes.slice(0, -1));
    }
    default:
      return mode satisfies never;
  }
}

function allDiffer(keys: readonly string[]): boolean {
  return new Set(keys).size === keys.length;
}

function withCells(row: Row, names: readonly string[], cell: Cell): Row {
  return new Map([...row, ...names.map((name) => [name, cell] as const)]);
}

/** Variables that a piece of path declares. */
export function variablesOf(factor: PathFactor): Set<string> {
  const names = new Set<string>();
  const visit = (inner: PathFactor): void => {
    if ('path' in inner) {
      visit(inner.path);
      return;
    }
    if (inner.kind === 'path-alternation') {
      for (const { factors } of inner.branches) factors.forEach(visit);
      return;
    }
    if (inner.variable) names.add(inner.variable.text);
    if (inner.kind === 'parenthesized-path') inner.factors.forEach(visit);
  };
  visit(factor);
  return names;
}
