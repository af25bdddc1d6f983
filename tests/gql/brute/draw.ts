/**
 * Random graphs and queries. What is drawn keeps to the rules that CONFORMANCE.md lists ("Rules of patterns that checks
 * enforce"), so that a query that is refused is a finding too.
 */
import { declared, namesOfClause, namesOfPath } from './matcher.ts';
import {
  type Clause,
  COMPARISONS,
  CONJUNCTIONS,
  type Condition,
  DIRECTIONS,
  type EdgePart,
  type GroupPart,
  type Item,
  type Label,
  type Linear,
  type Literal,
  type MatchClause,
  MODES,
  type Mode,
  type Part,
  type PathPattern,
  type Quantifier,
  type Query,
  type Result,
  SEARCHES,
  type Search,
  type SortKey,
  type Statement,
  type Term,
} from './query.ts';
import { columnOf } from './result.ts';
import type { SmallEdge, SmallGraph, SmallNode } from './walks.ts';

/** Random numbers by mulberry32, so that a seed draws the same everywhere. */
export class Random {
  #state: number;

  constructor(seed: number) {
    this.#state = seed;
  }

  /** From 0 to below 1. */
  next(): number {
    this.#state = (this.#state + 0x6d2b79f5) | 0;
    let t = Math.imul(this.#state ^ (this.#state >>> 15), 1 | this.#state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  }
  chance(probability: number): boolean {
    return this.next() < probability;
  }
  /** A whole number, both bounds included. */
  whole(least: number, most: number): number {
    return least + Math.floor(this.next() * (most - least + 1));
  }
  pick<T>(from: readonly T[]): T {
    if (from.length === 0) throw new Error('nothing to pick from');
    return from[this.whole(0, from.length - 1)] as T;
  }
  /** Some of them, in their order. */
  some<T>(from: readonly T[], probability: number): T[] {
    return from.filter(() => this.chance(probability));
  }
}

const NODE_LABELS = ['A', 'B', 'C'];
const EDGE_LABELS = ['R', 'S'];
/** `k` has numbers, `t` texts, `m` values of any type. Every one may be missing. */
const VALUES: Readonly<Record<string, readonly Literal[]>> = {
  k: [0, 1, 2],
  t: ['x', 'y'],
  m: [0, 1, 'x', true, false],
};
const KEYS = Object.keys(VALUES);

export function drawGraph(random: Random): SmallGraph {
  const properties = (): Record<string, Literal> =>
    Object.fromEntries(random.some(KEYS, 0.6).map((key) => [key, random.pick(VALUES[key] ?? [])]));
  const count = random.chance(0.03) ? 0 : random.whole(1, 5);
  const nodes = Array.from(
    { length: count },
    (_, at): SmallNode => ({
      id: `n${at}`,
      labels: random.some(NODE_LABELS, 0.45),
      properties: properties(),
    }),
  );
  const edgeCount = count === 0 ? 0 : random.whole(0, Math.min(7, 2 * count));
  const edges = Array.from({ length: edgeCount }, (_, at): SmallEdge => {
    const source = random.pick(nodes).id;
    return {
      id: `e${at}`,
      source,
      target: random.chance(0.15) ? source : random.pick(nodes).id,
      directed: random.chance(0.7),
      ...(random.chance(0.8) && { label: random.pick(EDGE_LABELS) }),
      properties: properties(),
    };
  });
  return { nodes, edges };
}

/** What a name stands for. */
type Kind = 'node' | 'edge' | 'path' | 'nodes' | 'edges' | 'paths' | 'value' | 'list' | 'record';
interface Name {
  readonly name: string;
  readonly kind: Kind;
  /** It may be null, because `?` left it out. */
  readonly conditional?: boolean;
  /** What a list is of. */
  readonly of?: 'node' | 'edge';
}

interface Place {
  /** Names in sight. */
  readonly names: Name[];
  /** Edges that the longest path may still have. */
  length: number;
  /** Subqueries that may still stand inside each other. */
  readonly depth: number;
  /** Edges by name that may stand here again. */
  readonly edges: string[];
  readonly repeatable: boolean;
  /** Whether quantifiers need an upper bound. */
  bounded: boolean;
  /** How many names come from earlier clauses. */
  readonly earlier: number;
  /** In a path search: how many names were declared before it, by which only its ends may be called. */
  readonly own?: number;
  /** Whether a path search stands alone. Elsewhere conditions inside it do not ask for what other paths may declare. */
  readonly alone?: boolean;
  /** Names inside path searches, which other paths do not share. */
  readonly closed: Set<string>;
  /** Nothing inside asks for lists or has a mode of its own. */
  plain?: boolean;
}

export interface DrawOptions {
  /** Nodes of a match differ: subqueries are of one MATCH then. */
  readonly distinctNodes?: boolean;
  /** How many of the MATCH clauses search for paths. @default 0.12 */
  readonly searches?: number;
  /** How many definitions are records, how many results are grouped in writing or of all variables. @default 0.1 */
  readonly values?: number;
}

export function drawQuery(random: Random, options: DrawOptions = {}): Query {
  return new QueryDrawing(random, options).query();
}

class QueryDrawing {
  readonly #random: Random;
  readonly #distinctNodes: boolean;
  readonly #searches: number;
  readonly #values: number;
  /** How many names were declared before a quantified part. */
  readonly #before = new WeakMap<Part, number>();
  #names = 0;

  constructor(random: Random, { distinctNodes = false, searches = 0.12, values = 0.1 }: DrawOptions) {
    this.#values = values;
    this.#searches = distinctNodes ? 0 : searches;
    this.#random = random;
    this.#distinctNodes = distinctNodes;
  }

  query(): Query {
    const random = this.#random;
    let names: Name[] = [];
    const before: Statement[] = [];
    if (!this.#distinctNodes || random.chance(0.3)) {
      for (let left = random.pick([0, 0, 0, 0, 0, 1, 1, 2]); left > 0; left--) {
        const [statement, handed] = this.#handing(names);
        before.push(statement);
        names = handed;
      }
      if (random.chance(0.12)) return { ...this.#joined(names), before };
    }
    const clauses = this.#clauses(names, 2, before.length > 0 ? 3 : 5);
    const last = before.at(-1)?.result.items.map(columnOf) ?? [];
    return { clauses, result: this.#result(names, clauses, last), others: [], before };
  }

  /** A statement before NEXT, and the names that it hands on. */
  #handing(names: readonly Name[]): [Statement, Name[]] {
    const random = this.#random;
    if (random.chance(0.2)) {
      const joined = this.#joined(names);
      return [joined, joined.result.items.map((item) => ({ name: columnOf(item), kind: 'value' }))];
    }
    const own = [...names];
    const clauses = this.#clauses(own, 1, 3);
    const items: Item[] = [];
    const handed: Name[] = [];
    for (const { name, kind, conditional } of random.some(own, 0.7)) {
      const alias = random.chance(0.3) ? this.#fresh(kind) : undefined;
      items.push({ item: 'term', of: { term: 'variable', name }, ...(alias !== undefined && { alias }) });
      const of = kind === 'nodes' ? 'node' : kind === 'edges' ? 'edge' : undefined;
      const list = of !== undefined || kind === 'paths';
      handed.push({
        name: alias ?? name,
        kind: list ? 'list' : kind,
        ...(of !== undefined && { of }),
        ...(conditional && { conditional }),
      });
    }
    const singles = own.filter(({ kind }) => kind === 'node' || kind === 'edge');
    const push = (item: (alias: string) => Item): void => {
      const alias = this.#fresh('value');
      items.push(item(alias));
      handed.push({ name: alias, kind: 'value' });
    };
    if (singles.length > 0 && random.chance(0.4)) {
      const of: Term = { term: 'property', of: random.pick(singles).name, key: random.pick(['k', 'm']) };
      push((alias) => ({ item: 'term', of, alias }));
    }
    if (singles.length > 0 && random.chance(0.2)) {
      const of: Term = { term: 'property', of: random.pick(singles).name, key: 'k' };
      push((alias) => ({
        item: 'aggregate',
        fn: random.pick(['COUNT', 'SUM', 'MAX']),
        distinct: false,
        of,
        alias,
      }));
    }
    if (items.length === 0 || random.chance(0.15)) push((alias) => ({ item: 'count', alias }));
    const result: Result = { distinct: random.chance(0.25), items, order: [] };
    return [{ clauses, result, others: [] }, handed];
  }

  /** Two or three results joined, with the same columns. */
  #joined(names: readonly Name[]): Statement {
    const random = this.#random;
    const columns = Array.from({ length: random.whole(1, 2) }, () => this.#fresh('value'));
    const part = (): Linear => {
      const own = [...names];
      const clauses = this.#clauses(own, 1, 2);
      const singles = own.filter(({ kind }) => kind === 'node' || kind === 'edge');
      const items = columns.map((alias): Item => {
        if (singles.length === 0) return { item: 'count', alias };
        return { item: 'term', of: { term: 'property', of: random.pick(singles).name, key: 'k' }, alias };
      });
      const turned = random.chance(0.2) ? items.toReversed() : items;
      return { clauses, result: { distinct: random.chance(0.15), items: turned, order: [] } };
    };
    const others = Array.from({ length: random.pick([1, 1, 1, 2]) }, () => ({
      by: random.pick(CONJUNCTIONS),
      part: part(),
    }));
    return { ...part(), others };
  }

  #fresh(kind: Kind | 'column'): string {
    this.#names++;
    return `${{ node: 'n', edge: 'e', path: 'p', nodes: 'x', edges: 'y', paths: 'q', value: 'v', list: 'l', record: 'r', column: 'c' }[kind]}${this.#names}`;
  }

  /** Clauses, which add to the names in sight. */
  #clauses(names: Name[], depth: number, length: number, inExists = false): Clause[] {
    const random = this.#random;
    const clauses: Clause[] = [];
    const count = this.#distinctNodes && inExists ? 1 : random.pick([1, 1, 1, 2, 2, 3]);
    const steps = !inExists;
    if (steps && random.chance(0.04)) clauses.push(this.#let(names, depth));
    for (let at = 0; at < count; at++) {
      const room = at === 0 ? length : Math.min(2, length);
      const optional = !(this.#distinctNodes && inExists) && random.chance(at === 0 ? 0.08 : 0.45);
      if (!optional) clauses.push(this.#match(names, depth, room));
      else if (random.chance(0.75))
        clauses.push({ clause: 'optional', of: [this.#match(names, depth, room)] });
      else {
        const first = this.#match(names, depth, Math.min(2, room));
        const second = this.#match(names, depth, 1);
        const inner: Clause = random.chance(0.3) ? { clause: 'optional', of: [second] } : second;
        clauses.push({ clause: 'optional', of: [first, inner] });
      }
      if (steps && random.chance(0.15)) clauses.push(this.#let(names, depth));
      if (steps && random.chance(0.12))
        clauses.push({ clause: 'filter', where: this.#condition(names, depth, 2), long: random.chance(0.5) });
      if (steps && random.chance(0.08)) clauses.push(this.#for(names));
      const sortable = names.every(({ kind }) => kind === 'node' || kind === 'edge' || kind === 'value');
      if (steps && sortable && names.length > 0 && random.chance(0.08)) clauses.push(this.#page(names));
    }
    return clauses;
  }

  #for(names: Name[]): Clause {
    const random = this.#random;
    const lists = names.flatMap(({ name, kind, of }) => {
      const item = kind === 'nodes' ? 'node' : kind === 'edges' ? 'edge' : of;
      return item === undefined ? [] : [{ name, item }];
    });
    const literal: Term = {
      term: 'list',
      of: Array.from({ length: random.whole(0, 3) }, () => random.pick([0, 1, 2, 'x', null])),
    };
    const list = lists.length > 0 && random.chance(0.7) ? random.pick(lists) : undefined;
    const name = this.#fresh(list?.item ?? 'value');
    const counter = random.chance(0.4)
      ? { name: this.#fresh('value'), from: random.pick([0, 1] as const) }
      : undefined;
    names.push({ name, kind: list?.item ?? 'value' });
    if (counter !== undefined) names.push({ name: counter.name, kind: 'value' });
    const from: Term = list === undefined ? literal : { term: 'variable', name: list.name };
    return { clause: 'for', name, list: from, ...(counter !== undefined && { counter }) };
  }

  /** A page of rows in an order that leaves nothing open. */
  #page(names: readonly Name[]): Clause {
    const random = this.#random;
    const order = names.map(({ name, kind }): SortKey => {
      return { by: kind === 'value' ? name : { of: name }, descending: random.chance(0.4) };
    });
    return {
      clause: 'page',
      order,
      ...(random.chance(0.4) && { offset: random.whole(0, 2) }),
      ...(random.chance(0.8) && { limit: random.whole(0, 4) }),
    };
  }

  #let(names: Name[], depth: number): Clause {
    const random = this.#random;
    const defined = Array.from({ length: random.pick([1, 1, 2]) }, () => {
      const elements = names.filter(({ kind }) => kind === 'node' || kind === 'edge');
      if (elements.length > 0 && random.chance(0.2)) {
        const other = random.pick(elements);
        const name = this.#fresh(other.kind);
        names.push({ ...other, name });
        return { name, of: { term: 'variable', name: other.name } as const };
      }
      if (random.chance(this.#values)) {
        const record = this.#record(names, depth);
        const name = this.#fresh('record');
        names.push({ name, kind: 'record' });
        return { name, of: record };
      }
      const of: Term = random.chance(0.2)
        ? { term: 'truth', of: this.#condition(names, depth, 1) }
        : this.#value(names, 1, depth);
      const name = this.#fresh('value');
      names.push({ name, kind: 'value' });
      return { name, of };
    });
    return { clause: 'let', names: defined };
  }

  /** A record with fields a and b, in either order. */
  #record(names: readonly Name[], depth: number): Term {
    const random = this.#random;
    const fields: readonly (readonly [string, Term])[] = [
      ['a', this.#value(names, 0, depth)],
      ['b', random.chance(0.2) ? { term: 'literal', value: null } : this.#value(names, 0, depth)],
    ];
    return {
      term: 'record',
      fields: random.chance(0.3) ? fields.toReversed() : fields,
      long: random.chance(0.3),
    };
  }

  /** A value, mostly a number. */
  #value(names: readonly Name[], depth: number, room: number): Term {
    const random = this.#random;
    const named = names.filter(({ kind }) => kind !== 'path' && kind !== 'paths');
    if (depth > 0 && room > 0 && random.chance(0.12)) {
      const inner = names.filter(({ kind }) => kind === 'node' || kind === 'edge' || kind === 'value');
      const clauses = [this.#match(inner, room - 1, 2)];
      const singles = inner.filter(({ kind }) => kind === 'node' || kind === 'edge');
      if (singles.length === 0 || random.chance(0.5)) return { term: 'query', clauses, fn: 'COUNT' };
      const of: Term = { term: 'property', of: random.pick(singles).name, key: 'k' };
      return { term: 'query', clauses, fn: random.pick(['SUM', 'MIN', 'COUNT', 'MAX', 'AVG']), of };
    }
    if (depth > 0 && random.chance(0.3)) {
      const term = random.pick(['sum', 'difference', 'product'] as const);
      return { term, left: this.#value(names, depth - 1, room), right: this.#value(names, depth - 1, room) };
    }
    if (named.length === 0 || random.chance(0.2)) return { term: 'literal', value: random.whole(0, 2) };
    const { name, kind } = random.pick(named);
    if (kind === 'value') return { term: 'variable', name };
    if (kind === 'nodes' || kind === 'edges' || kind === 'list') return { term: 'size', of: name };
    if (kind === 'record') return { term: 'property', of: name, key: random.pick(['a', 'b']) };
    return { term: 'property', of: name, key: random.pick(['k', 'k', 'm']) };
  }

  #match(names: Name[], depth: number, length: number): MatchClause {
    const random = this.#random;
    const repeatable = random.chance(0.3);
    const edges = names
      .filter(({ kind, conditional }) => kind === 'edge' && !conditional)
      .map(({ name }) => name);
    const place: Place = {
      names: [...names],
      length,
      depth,
      edges,
      repeatable,
      bounded: repeatable,
      earlier: names.length,
      closed: new Set(),
    };
    const searches = random.chance(this.#searches);
    // Where edges differ, a path that is searched for stands alone.
    const count = searches && !repeatable ? 1 : random.pick([1, 1, 1, 2, 2, 3]);
    const paths: PathPattern[] = [];
    for (let at = 0; at < count; at++) {
      if (at > 0) place.length = Math.min(place.length, 2);
      paths.push(
        searches && (count === 1 || random.chance(0.6))
          ? this.#search(place, count === 1)
          : this.#path(place),
      );
    }
    const conditioned = paths.map((path) => {
      // A path is not complete inside its own pattern.
      const own = new Set(namesOfPath(path));
      const sight = place.names.filter(({ name, kind }, index) => {
        if (isSelective(path) && (index >= place.earlier || count > 1) && !own.has(name)) return false;
        if (isPlain(path, repeatable) && own.has(name) && (kind === 'nodes' || kind === 'edges'))
          return false;
        return !isPath(kind) || !own.has(name);
      });
      return this.#withConditions(path, sight, place);
    });
    names.splice(0, names.length, ...place.names);
    return {
      clause: 'match',
      repeatable,
      paths: conditioned,
      ...(random.chance(0.4) && { where: this.#condition(place.names, depth, 2) }),
    };
  }

  /** A path with a path search before it. */
  #search(place: Place, alone: boolean): PathPattern {
    const random = this.#random;
    const search = random.pick(SEARCHES);
    const own = place.names.length;
    const inside: Place = { ...place, edges: [], ...(search !== 'ALL' && { own, alone }) };
    const path = { ...this.#path(inside, search), search };
    place.length = inside.length;
    if (search === 'ALL') return path;
    const last = path.parts.at(-1);
    const declared = place.names.at(-1);
    const others = place.names
      .slice(0, own)
      .filter(({ name, kind, conditional }) => kind === 'node' && !conditional && !place.closed.has(name));
    let parts = path.parts;
    if (last?.part === 'node' && others.length > 0 && random.chance(0.35)) {
      const fresh = last.name !== undefined && last.name === declared?.name;
      if (fresh) place.names.pop();
      if (fresh || last.name === undefined)
        parts = parts.with(-1, { ...last, name: random.pick(others).name });
    }
    const ends = new Set(
      [parts[0], parts.at(-1)].map((part) => (part?.part === 'node' ? part.name : undefined)),
    );
    for (const { name } of place.names.slice(own)) if (!ends.has(name)) place.closed.add(name);
    return { ...path, parts };
  }

  #path(place: Place, search?: Search): PathPattern {
    const random = this.#random;
    const mode = random.chance(0.4) ? this.#mode() : undefined;
    const isFree = place.repeatable && (mode === undefined || mode === 'WALK');
    const selective = search !== undefined && search !== 'ALL';
    place.bounded = isFree && !selective;
    place.plain = selective && isFree;
    const parts = this.#parts(place, random.pick([0, 1, 1, 2, 2, 3]), {
      inGroup: undefined,
      conditional: false,
      isWhole: true,
    });
    const name = random.chance(0.25) ? this.#fresh('path') : undefined;
    if (name !== undefined) place.names.push({ name, kind: 'path' });
    return {
      ...(name !== undefined && { name }),
      ...(mode !== undefined && { mode }),
      parts,
    };
  }

  /**
   * Parts of a path: nodes, with something that has edges between them.
   * @param inGroup names of the iteration that they are drawn for
   */
  #parts(
    place: Place,
    steps: number,
    inside: {
      readonly inGroup: Name[] | undefined;
      readonly conditional: boolean;
      readonly isWhole?: boolean;
    },
  ): Part[] {
    const random = this.#random;
    const parts: Part[] = [];
    const isInner = inside.inGroup !== undefined || inside.conditional;
    if (random.chance(isInner ? 0.6 : 0.8)) parts.push(this.#node(place, inside, inside.isWhole));
    for (let at = 0; at < steps && place.length > 0; at++) {
      if (!isInner && random.chance(0.3)) parts.push(this.#group(place));
      else parts.push(this.#edge(place, inside, at === 0));
      if (random.chance(isInner ? 0.5 : 0.75)) parts.push(this.#node(place, inside));
      if (random.chance(0.05)) parts.push(this.#node(place, inside));
    }
    // A path has at least one node that is written.
    if (!isInner && !parts.some(({ part }) => part === 'node')) parts.push(this.#node(place, inside));
    return parts;
  }

  #mode(): Mode {
    return this.#random.pick(MODES);
  }

  #node(
    place: Place,
    { inGroup, conditional }: { inGroup: Name[] | undefined; conditional: boolean },
    isFirst = false,
  ): Part {
    const random = this.#random;
    let name: string | undefined;
    const from = isFirst ? 0 : (place.own ?? 0);
    const earlier = place.names
      .slice(from)
      .filter(({ name: one, kind, conditional: may }) => kind === 'node' && !may && !place.closed.has(one));
    if (inGroup === undefined && !conditional && earlier.length > 0 && random.chance(0.35))
      name = random.pick(earlier).name;
    else if (random.chance(0.7)) {
      name = this.#declare(place, 'node', inGroup, conditional);
    }
    return { part: 'node', ...(name !== undefined && { name }), ...this.#filler(NODE_LABELS) };
  }

  #declare(place: Place, kind: 'node' | 'edge', inGroup: Name[] | undefined, conditional: boolean): string {
    const name = this.#fresh(inGroup === undefined ? kind : `${kind}s`);
    if (inGroup === undefined) place.names.push({ name, kind, ...(conditional && { conditional }) });
    else {
      inGroup.push({ name, kind, ...(conditional && { conditional }) });
      place.names.push({ name, kind: `${kind}s` });
    }
    return name;
  }

  #filler(labels: readonly string[]): Pick<EdgePart, 'label' | 'properties'> {
    const random = this.#random;
    const key = random.pick(KEYS);
    return {
      ...(random.chance(0.25) && { label: this.#label(labels, 2) }),
      ...(random.chance(0.08) && { properties: [[key, random.pick(VALUES[key] ?? [])]] as const }),
    };
  }

  #label(labels: readonly string[], depth: number): Label {
    const random = this.#random;
    const shape =
      depth === 0 ? 'name' : random.pick(['name', 'name', 'name', 'any', 'not', 'and', 'or'] as const);
    switch (shape) {
      case 'name':
        return { label: 'name', name: random.pick(labels) };
      case 'any':
        return { label: 'any' };
      case 'not':
        return { label: 'not', of: this.#label(labels, depth - 1) };
      default:
        return { label: shape, of: [this.#label(labels, depth - 1), this.#label(labels, depth - 1)] };
    }
  }

  #quantifier(room: number, bounded: boolean): Quantifier {
    if (!bounded && this.#random.chance(0.12))
      return { least: this.#random.whole(0, 2), most: Number.POSITIVE_INFINITY };
    const all: readonly Quantifier[] = [
      { least: 0, most: 1, questioned: true },
      { least: 0, most: 1 },
      { least: 0, most: 2 },
      { least: 1, most: 2 },
      { least: 1, most: 1 },
      { least: 2, most: 2 },
      { least: 0, most: 3 },
    ];
    return this.#random.pick(all.filter(({ most }) => most <= room));
  }

  #edge(
    place: Place,
    inside: { inGroup: Name[] | undefined; conditional: boolean },
    isFirst: boolean,
  ): EdgePart {
    const random = this.#random;
    const isInner = inside.inGroup !== undefined || inside.conditional;
    const quantifier: Quantifier | undefined = isInner
      ? inside.inGroup !== undefined && !isFirst && random.chance(0.2)
        ? { least: 0, most: 1, questioned: true }
        : undefined
      : random.chance(0.35)
        ? this.#quantifier(place.length, place.bounded)
        : undefined;
    place.length = Math.max(0, place.length - (quantifier?.most ?? 1));
    const before = place.names.length;
    const listed = quantifier !== undefined && !quantifier.questioned;
    const named = random.chance(0.55);
    const again =
      !isInner && quantifier === undefined && place.edges.length > 0 && random.chance(0.15)
        ? random.pick(place.edges)
        : undefined;
    if (again !== undefined && !place.repeatable) place.edges.splice(place.edges.indexOf(again), 1);
    const name =
      again ??
      (named
        ? this.#declare(
            place,
            'edge',
            listed ? [] : inside.inGroup,
            quantifier?.questioned === true || inside.conditional,
          )
        : undefined);
    if (name !== undefined && place.repeatable && !isInner && quantifier === undefined)
      place.edges.push(name);
    const edge: EdgePart = {
      part: 'edge',
      direction: random.pick(DIRECTIONS),
      ...(name !== undefined && { name }),
      ...this.#filler(EDGE_LABELS),
      ...(quantifier !== undefined && { quantifier }),
    };
    this.#before.set(edge, before);
    return edge;
  }

  #group(place: Place): GroupPart {
    const random = this.#random;
    const quantifier = random.chance(0.8) ? this.#quantifier(place.length, place.bounded) : undefined;
    const most = Math.min(quantifier?.most ?? 1, Math.max(1, place.length));
    const conditional = quantifier?.questioned === true;
    const inGroup: Name[] | undefined = quantifier === undefined || conditional ? undefined : [];
    const own: Place = { ...place, names: place.names, length: Math.floor(place.length / most) };
    const before = place.names.length;
    const steps = random.pick([1, 1, 2]);
    const ways = quantifier === undefined && random.chance(0.4) ? random.pick([2, 2, 3]) : 1;
    const room = own.length;
    let rest = room;
    const [parts = [], ...others] = Array.from({ length: ways }, () => {
      own.length = room;
      const way = this.#parts(own, steps, { inGroup, conditional: conditional || ways > 1 });
      rest = Math.min(rest, own.length);
      return way;
    });
    own.length = rest;
    const or = { by: random.pick(['|', '|+|'] as const), of: others };
    place.length -= most * (Math.floor(place.length / most) - own.length);
    let name: string | undefined;
    if (random.chance(0.15)) {
      const kind = inGroup === undefined ? 'path' : 'paths';
      name = this.#fresh(kind);
      place.names.push({ name, kind, ...(conditional && { conditional }) });
      inGroup?.push({ name, kind: 'path' });
    }
    // What the iteration sees: what stands around it, and its own names as single things.
    const around = place.names
      .slice(0, before)
      .filter(
        (one, at) =>
          (at < place.earlier && place.alone !== false) || (at >= (place.own ?? 0) && isSingle(one)),
      );
    const sight = [...around, ...(inGroup ?? place.names.slice(before))].filter((one) => one.name !== name);
    const where = random.chance(0.35) && sight.some(({ kind }) => kind === 'node' || kind === 'edge');
    const group: GroupPart = {
      part: 'group',
      ...(name !== undefined && { name }),
      ...(random.chance(0.25) && place.plain !== true && { mode: this.#mode() }),
      parts,
      ...(others.length > 0 && { or }),
      ...(where && { where: this.#condition(sight, place.depth, 1) }),
      ...(quantifier !== undefined && { quantifier }),
    };
    this.#before.set(group, before);
    return group;
  }

  /** The same path with conditions inside some of its elements, once all names of the MATCH are known. */
  #withConditions(
    path: PathPattern,
    names: readonly Name[],
    { depth, earlier, names: all }: Place,
  ): PathPattern {
    const random = this.#random;
    const within = (part: Part, around: readonly Name[]): Part => {
      const quantifier = part.part === 'node' ? undefined : part.quantifier;
      const listed = quantifier !== undefined && !quantifier.questioned;
      // Quantified parts and alternatives do not ask about each other here, nor about paths: where two would wait for each other, the
      // engine refuses the query and says what to write.
      const before = this.#before.get(part);
      const inside = new Set(part.part === 'group' ? declared(part).map(({ name }) => name) : [part.name]);
      const sight =
        before !== undefined && (quantifier !== undefined || (part.part === 'group' && part.or !== undefined))
          ? around.filter((one) => {
              const index = all.indexOf(one);
              return index < earlier || isSingle(one) || inside.has(one.name);
            })
          : around;
      if (part.part === 'group') {
        const own = listed ? namesIn(part, names) : [];
        const others = sight.filter(({ name }) => !own.some((one) => one.name === name));
        return {
          ...part,
          parts: part.parts.map((inner) => within(inner, [...others, ...own])),
        };
      }
      if (part.properties !== undefined || !random.chance(0.12)) return part;
      const own: Name[] = part.name !== undefined && listed ? [{ name: part.name, kind: 'edge' }] : [];
      const seen = [...sight.filter(({ name }) => !own.some((one) => one.name === name)), ...own];
      if (seen.every(({ kind }) => kind !== 'node' && kind !== 'edge')) return part;
      return { ...part, where: this.#condition(seen, depth, 1) };
    };
    return { ...path, parts: path.parts.map((part) => within(part, names)) };
  }

  #condition(names: readonly Name[], depth: number, size: number): Condition {
    const random = this.#random;
    const singles = names.filter(({ kind }) => kind === 'node' || kind === 'edge');
    if (size > 0 && random.chance(0.35)) {
      const test = random.pick(['and', 'or', 'or', 'xor', 'not', 'not', 'truth'] as const);
      const of = this.#condition(names, depth, size - 1);
      if (test === 'not') return { test, of };
      if (test === 'truth')
        return { test, of, value: random.pick([true, false, null]), negated: random.chance(0.4) };
      return { test, of: [of, this.#condition(names, depth, size - 1)] };
    }
    if (depth > 0 && random.chance(0.15)) return this.#exists(names, depth);
    if (random.chance(0.12))
      return {
        test: 'compare',
        op: random.pick(COMPARISONS),
        left: this.#value(names, 1, depth),
        right: this.#value(names, 1, depth),
      };
    const records = names.filter(({ kind }) => kind === 'record');
    if (records.length > 0 && random.chance(0.3))
      return {
        test: 'compare',
        op: random.pick(['=', '<>']),
        left: { term: 'variable', name: random.pick(records).name },
        right: random.chance(0.5)
          ? { term: 'variable', name: random.pick(records).name }
          : this.#record(names, 0),
      };
    const values = names.filter(({ kind }) => kind === 'value');
    if ((values.length > 0 || singles.length > 0) && random.chance(0.05)) {
      const of: Term =
        values.length > 0
          ? { term: 'variable', name: random.pick(values).name }
          : { term: 'property', of: random.pick(singles).name, key: 'm' };
      return { test: 'value', of };
    }
    const negated = random.chance(0.3);
    const lists = names.filter(({ kind }) => kind === 'edges' || kind === 'nodes');
    if (lists.length > 0 && random.chance(0.25)) {
      const term: Term = random.chance(0.5)
        ? { term: 'size', of: random.pick(lists).name }
        : {
            term: 'along',
            fn: random.pick(['COUNT', 'SUM', 'MIN', 'MAX', 'AVG']),
            of: random.pick(lists).name,
            key: 'k',
          };
      return {
        test: 'compare',
        op: random.pick(COMPARISONS),
        left: term,
        right: { term: 'literal', value: random.whole(0, 2) },
      };
    }
    const paths = names.filter(({ kind }) => kind === 'path');
    if (paths.length > 0 && random.chance(0.2))
      return {
        test: 'compare',
        op: random.pick(COMPARISONS),
        left: { term: 'length', of: random.pick(paths).name },
        right: { term: 'literal', value: random.whole(0, 2) },
      };
    if (singles.length === 0)
      return {
        test: 'compare',
        op: random.pick(COMPARISONS),
        left: { term: 'literal', value: 1 },
        right: { term: 'literal', value: random.whole(0, 2) },
      };
    const one = random.pick(singles);
    const nodes = singles.filter(({ kind }) => kind === 'node');
    const edges = singles.filter(({ kind }) => kind === 'edge');
    const alike = one.kind === 'node' ? nodes : edges;
    const shape = random.whole(0, 12);
    const key = random.pick(KEYS);
    const left: Term = { term: 'property', of: one.name, key };
    if (shape <= 2)
      return {
        test: 'compare',
        op: random.pick(COMPARISONS),
        left,
        right: { term: 'literal', value: random.pick(VALUES[key] ?? []) },
      };
    if (shape <= 5)
      return {
        test: 'compare',
        op: random.pick(COMPARISONS),
        left,
        right: {
          term: 'property',
          of: random.pick(singles).name,
          key: random.pick([key, key, random.pick(KEYS)]),
        },
      };
    if (shape === 6) return { test: 'null', of: left, negated };
    if (shape === 7)
      return {
        test: 'in',
        of: left,
        list: Array.from({ length: random.whole(1, 3) }, () =>
          random.chance(0.2) ? null : random.pick(VALUES[key] ?? []),
        ),
        negated,
      };
    if (shape === 8)
      return {
        test: 'labeled',
        of: one.name,
        label: this.#label(one.kind === 'node' ? NODE_LABELS : EDGE_LABELS, 1),
        negated,
      };
    if (shape === 9 && edges.length > 0) {
      const edge = random.pick(edges).name;
      if (nodes.length === 0 || random.chance(0.3)) return { test: 'directed', of: edge, negated };
      return { test: random.pick(['source', 'destination']), node: random.pick(nodes).name, edge, negated };
    }
    if (shape === 10)
      return {
        test: 'compare',
        op: random.pick(['=', '<>']),
        left: { term: 'variable', name: one.name },
        right: { term: 'variable', name: random.pick(alike).name },
      };
    if (shape === 11 && alike.length > 1)
      return {
        test: random.pick(['same', 'different']),
        of: [one.name, ...random.some(alike, 0.5).map(({ name }) => name), random.pick(alike).name],
      };
    return random.chance(0.5)
      ? { test: 'has', of: one.name, key }
      : { test: 'null', of: { term: 'variable', name: one.name }, negated };
  }

  #exists(names: readonly Name[], depth: number): Condition {
    const random = this.#random;
    // Conditional names are no elements for certain, and lists and paths cannot be shared.
    const sight = names.filter(({ kind }) => kind === 'node' || kind === 'edge' || kind === 'value');
    const inner = [...sight];
    const isBlock = random.chance(0.25);
    const of: Clause[] = isBlock
      ? this.#clauses(inner, depth - 1, 2, true)
      : [this.#match(inner, depth - 1, 2)];
    const exists: Condition = { test: 'exists', of, bare: random.chance(0.5) };
    return random.chance(0.4) ? { test: 'not', of: exists } : exists;
  }

  /** A result with GROUP BY written out. */
  #written(names: readonly Name[]): Result {
    const random = this.#random;
    const keys = names.filter(
      ({ kind }) => kind === 'node' || kind === 'edge' || kind === 'value' || kind === 'record',
    );
    const items: Item[] = [];
    const groupBy: string[] = [];
    for (const { name, kind } of random.some(keys, 0.4)) {
      groupBy.push(name);
      if (random.chance(0.7)) items.push({ item: 'term', of: { term: 'variable', name } });
      if ((kind === 'node' || kind === 'edge') && random.chance(0.4))
        items.push({
          item: 'term',
          of: { term: 'property', of: name, key: 'k' },
          alias: this.#fresh('column'),
        });
    }
    const others = keys.filter(({ kind }) => kind === 'node' || kind === 'edge');
    if (others.length > 0 && random.chance(0.5)) {
      const alias = this.#fresh('column');
      items.push({
        item: 'term',
        of: { term: 'property', of: random.pick(others).name, key: random.pick(KEYS) },
        alias,
      });
      groupBy.push(alias);
    }
    if (items.length === 0 || random.chance(0.7)) items.push({ item: 'count', alias: this.#fresh('column') });
    if (others.length > 0 && random.chance(0.3))
      items.push({
        item: 'aggregate',
        fn: random.pick(['COUNT', 'SUM', 'MIN']),
        distinct: random.chance(0.3),
        of: { term: 'property', of: random.pick(others).name, key: 'k' },
        alias: this.#fresh('column'),
      });
    return { distinct: random.chance(0.15), items, order: [], groupBy };
  }

  #result(names: readonly Name[], clauses?: readonly Clause[], handed: readonly string[] = []): Result {
    const random = this.#random;
    const none: Result = { distinct: false, items: [], order: [] };
    const singles = names.filter(({ kind }) => kind === 'node' || kind === 'edge');
    const alias = (): string => this.#fresh('column');
    const property = (): Item => ({
      item: 'term',
      of: { term: 'property', of: random.pick(singles).name, key: random.pick(KEYS) },
      alias: alias(),
    });
    const variable = (name: string): Item => ({ item: 'term', of: { term: 'variable', name } });
    if (names.length === 0 || random.chance(0.1))
      return { ...none, items: [{ item: 'count', alias: alias() }] };
    if (clauses !== undefined && random.chance(this.#values)) {
      const all = new Set([...handed, ...clauses.flatMap(namesOfClause)]);
      const distinct = random.chance(0.3);
      return { distinct, items: [...all].map(variable), order: [], star: true };
    }
    if (random.chance(this.#values)) return this.#written(names);
    const items: Item[] = [];
    const shape = random.whole(0, 5);
    if (shape <= 2 || singles.length === 0) {
      items.push(...random.some(names, 0.8).map(({ name }) => variable(name)));
      if (singles.length > 0 && random.chance(0.3)) items.push(property());
      const lists = names.filter(({ kind }) => kind === 'edges' || kind === 'nodes');
      if (lists.length > 0 && random.chance(0.3))
        items.push({
          item: 'term',
          of: {
            term: 'along',
            fn: random.pick(['SUM', 'COUNT', 'MAX', 'COLLECT_LIST']),
            of: random.pick(lists).name,
            key: 'k',
          },
          alias: alias(),
        });
      if (items.length === 0) items.push(variable(random.pick(names).name));
    } else if (shape === 3) {
      items.push(...Array.from({ length: random.whole(1, 2) }, property));
    } else {
      if (random.chance(0.7))
        items.push(random.chance(0.6) ? property() : variable(random.pick(singles).name));
      if (random.chance(0.5)) items.push({ item: 'count', alias: alias() });
      const fn = random.pick(['COUNT', 'SUM', 'AVG', 'MIN', 'MAX', 'COLLECT_LIST'] as const);
      const { name } = random.pick(singles);
      const key = fn === 'SUM' || fn === 'AVG' ? 'k' : random.pick(KEYS);
      const of: Term =
        fn === 'COUNT' && random.chance(0.4)
          ? { term: 'variable', name }
          : { term: 'property', of: name, key };
      items.push({ item: 'aggregate', fn, distinct: random.chance(0.3), of, alias: alias() });
    }
    const grouped = items.some(({ item }) => item !== 'term');
    const distinct = random.chance(0.25);
    const order: SortKey[] = [];
    const sortable = items.filter(
      (item) =>
        item.alias !== undefined &&
        (item.item === 'term'
          ? item.of.term === 'property'
          : item.item === 'count' || item.fn !== 'COLLECT_LIST'),
    );
    const sort = (by: SortKey['by']): SortKey => ({
      by,
      descending: random.chance(0.5),
      ...(random.chance(0.2) && { nulls: random.pick(['FIRST', 'LAST']) }),
    });
    if (random.chance(0.4)) {
      order.push(...random.some(sortable, 0.6).map((item) => sort(item.alias as string)));
      if (!grouped && !distinct && singles.length > 0 && random.chance(0.4))
        order.push(sort({ of: random.pick(singles).name, key: random.pick(KEYS) }));
    }
    return {
      distinct,
      items,
      order,
      ...(random.chance(0.1) && { offset: random.whole(0, 2) }),
      ...(random.chance(0.2) && { limit: random.whole(1, 5) }),
    };
  }
}

/** Whether a path search keeps some of the paths only. */
function isSelective({ search }: PathPattern): boolean {
  return search !== undefined && search !== 'ALL';
}

/** Whether a path search goes through walks that repeat what they like. */
function isPlain(path: PathPattern, repeatable: boolean): boolean {
  return repeatable && isSelective(path) && (path.mode === undefined || path.mode === 'WALK');
}

function isPath(kind: Kind): boolean {
  return kind === 'path' || kind === 'paths';
}

/** Whether a name is of one element for certain. */
function isSingle({ kind, conditional }: Name): boolean {
  return (kind === 'node' || kind === 'edge') && conditional !== true;
}

/** The names that a repeated group declares, as single things. */
function namesIn(group: GroupPart, names: readonly Name[]): Name[] {
  const single = { nodes: 'node', edges: 'edge', paths: 'path' } as const;
  const inside = new Set([group.name, ...group.parts.map(({ name }) => name)]);
  const left = new Set(
    group.parts.flatMap((part) => (part.part !== 'node' && part.quantifier?.questioned ? [part.name] : [])),
  );
  return names.flatMap(({ name, kind }) =>
    inside.has(name) && kind in single
      ? [{ name, kind: single[kind as keyof typeof single], ...(left.has(name) && { conditional: true }) }]
      : [],
  );
}
