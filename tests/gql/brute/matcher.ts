/**
 * The matches of a query by brute force: a path pattern is written out as all its rigid patterns (patterns without
 * quantifiers), each of which is laid on every walk of its length; modes and conditions are tested afterwards, on what
 * is then whole. The way of A. Deutsch and others, "Graph Pattern Matching in GQL and SQL/PGQ", SIGMOD 2022, section 6,
 * with nothing done to be fast. It shares no code with the engine.
 */
import {
  compare,
  type Element,
  elementId,
  hasLabels,
  inOrder,
  isElement,
  labelsOf,
  type Path,
  propertyOf,
  type Row,
  type Subquery,
  sortValue,
  termValue,
  truthOf,
  type Value,
} from './conditions.ts';
import type {
  Clause,
  Condition,
  Direction,
  EdgePart,
  GroupPart,
  MatchClause,
  Mode,
  NodePart,
  Part,
  PathPattern,
} from './query.ts';
import {
  type Course,
  type SmallEdge,
  type SmallGraph,
  type SmallNode,
  TooMuchWork,
  type Walk,
  walksOf,
} from './walks.ts';

/** Where names are looked up: an iteration of a quantified part, or the whole pattern, which has no outer frame. */
interface Frame {
  readonly outer?: Frame;
  /** What is repeated. */
  readonly part?: EdgePart | GroupPart;
}

/** A rigid pattern: nodes and edges in the order of the walk; groups by where they begin and end. */
type Atom =
  | { readonly atom: 'node'; readonly part: NodePart; readonly frame: Frame }
  | { readonly atom: 'edge'; readonly part: EdgePart; readonly frame: Frame }
  /** Which way of alternatives that stay apart. */
  | { readonly atom: 'way'; readonly way: number }
  | { readonly atom: 'open'; readonly part: GroupPart; readonly frame: Frame }
  | { readonly atom: 'close'; readonly part: GroupPart; readonly frame: Frame };

/** A name bound to something at a place in a pattern. */
interface Binding {
  readonly name: string;
  readonly value: Element | Path;
  readonly frame: Frame;
  /** Where along the path: twice the number of the node, or between two nodes. */
  readonly place: number;
}

/** A rigid pattern laid on a walk that fits it by topology, labels and the values of properties. */
interface Laid {
  readonly walk: Walk;
  readonly bindings: readonly Binding[];
  readonly ways: readonly number[];
  readonly conditions: readonly { readonly condition: Condition; readonly frame: Frame }[];
}

export interface MatcherOptions {
  readonly distinctNodes?: boolean;
  /** Laid patterns that are looked at, before {@link TooMuchWork}. */
  readonly work?: number;
  /**
   * Which of so many things to take where the language leaves it open: a number from 0 to below `count`.
   * @default the first
   */
  readonly choose?: (count: number) => number;
}

export class Matcher {
  readonly #graph: SmallGraph;
  readonly #distinctNodes: boolean;
  readonly #laid = new WeakMap<PathPattern, readonly Laid[]>();
  readonly #choose: (count: number) => number;
  #work: number;
  /** Names around a subquery that it does not take up: their nodes may be its nodes too. */
  #apart: ReadonlySet<string> = new Set();

  constructor(
    graph: SmallGraph,
    { distinctNodes = false, work = Number.POSITIVE_INFINITY, choose = () => 0 }: MatcherOptions = {},
  ) {
    this.#choose = choose;
    this.#graph = graph;
    this.#distinctNodes = distinctNodes;
    this.#work = work;
  }

  /** The rows of a sequence of clauses, in no order. */
  rowsOf(clauses: readonly Clause[], before: readonly Row[] = [new Map()]): readonly Row[] {
    let rows = before;
    for (const clause of clauses) {
      if (clause.clause === 'page') {
        const { order, offset = 0, limit = Number.POSITIVE_INFINITY } = clause;
        const keyed = rows.map((row) => ({ row, keys: order.map(({ by }) => sortValue(by, row)) }));
        keyed.sort((left, right) => inOrder(order, left.keys, right.keys));
        rows = keyed.slice(offset, offset + limit).map(({ row }) => row);
        continue;
      }
      rows = rows.flatMap((row): readonly Row[] => {
        switch (clause.clause) {
          case 'match':
            return this.#matches(clause, row);
          case 'optional': {
            const found = this.rowsOf(clause.of, [row]);
            return found.length > 0 ? found : [withNulls(row, clause.of.flatMap(namesOfClause))];
          }
          case 'filter':
            return truthOf(clause.where, row, this.#subquery) === true ? [row] : [];
          case 'for': {
            const list = termValue(clause.list, row, this.#subquery);
            if (typeof list !== 'object' || list?.kind !== 'list') return [];
            const { name, counter } = clause;
            return list.of.map((item, at) => {
              const longer = new Map(row).set(name, item);
              return counter === undefined ? longer : longer.set(counter.name, at + counter.from);
            });
          }
          case 'let': {
            const longer = new Map(row);
            for (const { name, of } of clause.names) longer.set(name, termValue(of, longer, this.#subquery));
            return [longer];
          }
        }
      });
    }
    return rows;
  }

  readonly #subquery: Subquery = (of, row) => {
    const around = this.#apart;
    const used = new Set(of.flatMap(namesOfClause));
    this.#apart = new Set([...row.keys()].filter((name) => !used.has(name)));
    const found = this.rowsOf(of, [row]);
    this.#apart = around;
    return found;
  };

  #matches(clause: MatchClause, before: Row): Row[] {
    const rootFrame: Frame = {};
    const found = new Map<string, Row>();
    const laidOf = new Map(clause.paths.map((path) => [path, this.#kept(path, clause.repeatable, before)]));
    const test = (combined: readonly Laid[]): void => {
      const bindings = combined.flatMap((laid) => laid.bindings);
      const joined = join(bindings, before);
      if (!joined) return;
      if (!clause.repeatable && hasTwice(combined.flatMap(({ walk }) => walk.edges))) return;
      const earlier = [...before].filter(([name]) => !this.#apart.has(name));
      const nodes = this.#distinctNodes ? differentNodes(combined, earlier) : [];
      if (nodes === undefined) return;
      const asked = [
        ...combined.flatMap(({ conditions }) => conditions),
        ...(clause.where === undefined ? [] : [{ condition: clause.where, frame: rootFrame }]),
      ];
      const names = clause.paths.flatMap((path) => declared(path));
      for (const { condition, frame } of asked) {
        const row = seenFrom(frame, names, bindings, before);
        if (truthOf(condition, row, this.#subquery) !== true) return;
      }
      const row = new Map(seenFrom(rootFrame, names, bindings, before));
      for (const [at, node] of nodes.entries()) row.set(` ${before.size}.${at}`, { kind: 'node', node });
      found.set(combined.map(reduced).join('; '), row);
    };
    const combine = (paths: readonly PathPattern[], combined: readonly Laid[]): void => {
      const [path, ...others] = paths;
      if (path === undefined) {
        test(combined);
        return;
      }
      for (const laid of laidOf.get(path) ?? []) {
        this.#work--;
        if (this.#work < 0) throw new TooMuchWork();
        combine(others, [...combined, laid]);
      }
    };
    combine(clause.paths, []);
    return [...found.values()];
  }

  /**
   * What a path search keeps, of what passes all conditions inside the path: per pair of ends one or all that are
   * shortest. `ANY` promises no more than one, and CONFORMANCE.md ("Path search") which.
   */
  #kept(path: PathPattern, repeatable: boolean, before: Row): readonly Laid[] {
    const all = this.#laidOf(path, repeatable);
    if (path.search === undefined || path.search === 'ALL') return all;
    const names = declared(path);
    const passing = all.filter(({ walk, bindings, conditions }) => {
      this.#work--;
      if (this.#work < 0) throw new TooMuchWork();
      if (!join(bindings, new Map()) || (!repeatable && hasTwice(walk.edges))) return false;
      return conditions.every(
        ({ condition, frame }) =>
          truthOf(condition, seenFrom(frame, names, bindings, before), this.#subquery) === true,
      );
    });
    const matches = [...new Map(passing.map((laid) => [reduced(laid), laid])).values()];
    const ends = Map.groupBy(matches, ({ walk }) => `${walk.nodes[0]?.id} ${walk.nodes.at(-1)?.id}`);
    return [...ends.values()].flatMap((between) => {
      const least = Math.min(...between.map(({ walk }) => walk.edges.length));
      const shortest = between.filter(({ walk }) => walk.edges.length === least);
      if (path.search === 'ALL SHORTEST') return shortest;
      const order = shortest.toSorted((left, right) => inIdOrder(left.walk, right.walk));
      const first = order.filter(({ walk }) => inIdOrder(walk, (order[0] as Laid).walk) === 0);
      return [first[first.length === 1 ? 0 : this.#choose(first.length)] as Laid];
    });
  }

  #laidOf(path: PathPattern, repeatable: boolean): readonly Laid[] {
    let laid = this.#laid.get(path);
    if (laid === undefined) {
      const frame: Frame = {};
      // Without an upper bound a path still repeats no edge, or no node but its first: that is a rule of the language.
      // A shortest path among those that may repeat all has no two repetitions that begin at the same node, but for those
      // that there have to be.
      const isFree = repeatable && (path.mode === undefined || path.mode === 'WALK');
      const { nodes, edges } = this.#graph;
      const most: Most =
        isFree && path.search !== undefined
          ? { more: Math.max(0, nodes.length - 1), edges: Number.POSITIVE_INFINITY }
          : { more: Math.max(nodes.length, edges.length), edges: Math.max(nodes.length, edges.length) };
      laid = rigidPatternsIn(path, frame, most).flatMap((atoms) => {
        const whole: GroupPart = { ...path, part: 'group' };
        const rigid: Atom[] = [
          { atom: 'open', part: whole, frame },
          ...atoms,
          { atom: 'close', part: whole, frame },
        ];
        const length = edgesIn(atoms);
        if (length > most.edges && isUnbounded(path)) return [];
        const walks = walksOf(this.#graph, length);
        this.#work -= walks.length;
        if (this.#work < 0) throw new TooMuchWork();
        return walks.flatMap((walk) => layOn(walk, rigid) ?? []);
      });
      this.#laid.set(path, laid);
    }
    return laid;
  }
}

/** How far parts without an upper bound are written out. */
interface Most {
  /** Repetitions beyond the lower bound. */
  readonly more: number;
  /** Edges of the path. */
  readonly edges: number;
}

/** Order by the ids of edges and nodes in turn, by UTF-16 units. */
function inIdOrder(left: Walk, right: Walk): number {
  for (const [at, edge] of left.edges.entries()) {
    const pairs = [
      [edge.id, right.edges[at]?.id ?? ''],
      [left.nodes[at + 1]?.id ?? '', right.nodes[at + 1]?.id ?? ''],
    ] as const;
    for (const [one, other] of pairs) if (one !== other) return one < other ? -1 : 1;
  }
  return 0;
}

/** All rigid patterns of a path with its alternatives. */
function rigidPatternsIn({ parts, or }: PathPattern | GroupPart, frame: Frame, limit: Most): Atom[][] {
  return [parts, ...(or?.of ?? [])].flatMap((one, way) => {
    const rigid = rigidPatterns(one, frame, limit);
    return or?.by === '|+|' ? rigid.map((atoms): Atom[] => [{ atom: 'way', way }, ...atoms]) : rigid;
  });
}

/** All rigid patterns of a sequence of parts. */
function rigidPatterns(parts: readonly Part[], frame: Frame, limit: Most): Atom[][] {
  let rigid: Atom[][] = [[]];
  for (const part of parts) {
    const next = rigidPatternsOf(part, frame, limit);
    rigid = rigid.flatMap((before) => next.map((after) => [...before, ...after]));
    if (rigid.length > 2_000) throw new TooMuchWork(`${rigid.length} rigid patterns`);
  }
  return rigid;
}

function rigidPatternsOf(part: Part, frame: Frame, limit: Most): Atom[][] {
  if (part.part === 'node') return [[{ atom: 'node', part, frame }]];
  const once = (inside: Frame): Atom[][] =>
    part.part === 'edge'
      ? [[{ atom: 'edge', part, frame: inside }]]
      : rigidPatternsIn(part, inside, limit).map((atoms) => [
          { atom: 'open', part, frame: inside },
          ...atoms,
          { atom: 'close', part, frame: inside },
        ]);
  if (part.quantifier === undefined) return once(frame);
  const { least, most, questioned } = part.quantifier;
  if (questioned) return [[], ...once(frame)];
  const last = most === Number.POSITIVE_INFINITY ? least + limit.more : most;
  const all: Atom[][] = [];
  let repeated: Atom[][] = [[]];
  for (let times = 0; times <= last; times++) {
    if (times > 0)
      repeated = repeated.flatMap((before) =>
        once({ outer: frame, part }).map((next) => [...before, ...next]),
      );
    if (most === Number.POSITIVE_INFINITY)
      repeated = repeated.filter((atoms) => edgesIn(atoms) <= limit.edges);
    if (repeated.length > 2_000) throw new TooMuchWork(`${repeated.length} rigid patterns`);
    if (times >= least) all.push(...repeated);
  }
  return all;
}

function edgesIn(atoms: readonly Atom[]): number {
  return atoms.filter(({ atom }) => atom === 'edge').length;
}

function isUnbounded({ parts, or }: PathPattern | GroupPart): boolean {
  return [parts, ...(or?.of ?? [])]
    .flat()
    .some(
      (part) =>
        part.part !== 'node' &&
        (part.quantifier?.most === Number.POSITIVE_INFINITY || (part.part === 'group' && isUnbounded(part))),
    );
}

function layOn(walk: Walk, atoms: readonly Atom[]): Laid | undefined {
  const bindings: Binding[] = [];
  const conditions: { condition: Condition; frame: Frame }[] = [];
  const ways: number[] = [];
  const opened: number[] = [];
  let at = 0;
  for (const one of atoms) {
    if (one.atom === 'way') {
      ways.push(one.way);
      continue;
    }
    const { part, frame } = one;
    if (part.where !== undefined && one.atom !== 'open') conditions.push({ condition: part.where, frame });
    if (one.atom === 'open') opened.push(at);
    else if (one.atom === 'close') {
      const from = opened.pop() ?? 0;
      const nodes = walk.nodes.slice(from, at + 1);
      const edges = walk.edges.slice(from, at);
      if (!obeys(one.part.mode, nodes, edges)) return undefined;
      if (part.name !== undefined)
        bindings.push({ name: part.name, value: { kind: 'path', nodes, edges }, frame, place: 2 * at });
    } else {
      const isEdge = one.atom === 'edge';
      const element: Element = isEdge
        ? { kind: 'edge', edge: walk.edges[at] as SmallEdge }
        : { kind: 'node', node: walk.nodes[at] as SmallNode };
      if (isEdge && !goes(one.part.direction, walk.courses[at] as Course)) return undefined;
      if (one.part.label !== undefined && !hasLabels(one.part.label, labelsOf(element))) return undefined;
      for (const [key, value] of one.part.properties ?? [])
        if (compare('=', propertyOf(element, key), value) !== true) return undefined;
      if (part.name !== undefined)
        bindings.push({ name: part.name, value: element, frame, place: isEdge ? 2 * at + 1 : 2 * at });
      if (isEdge) at++;
    }
  }
  return { walk, bindings, ways, conditions };
}

function goes(direction: Direction, course: Course): boolean {
  const courses: Readonly<Record<Direction, readonly Course[]>> = {
    '<-': ['backwards'],
    '~': ['undirected'],
    '->': ['forwards'],
    '<~': ['backwards', 'undirected'],
    '~>': ['undirected', 'forwards'],
    '<->': ['backwards', 'forwards'],
    '-': ['backwards', 'undirected', 'forwards'],
  };
  return courses[direction].includes(course);
}

function obeys(mode: Mode | undefined, nodes: readonly SmallNode[], edges: readonly SmallEdge[]): boolean {
  switch (mode) {
    case undefined:
    case 'WALK':
      return true;
    case 'TRAIL':
      return !hasTwice(edges);
    case 'ACYCLIC':
      return !hasTwice(nodes);
    case 'SIMPLE': {
      const closed = edges.length > 0 && nodes[0] === nodes.at(-1);
      return !hasTwice(closed ? nodes.slice(1) : nodes);
    }
  }
}

function hasTwice(things: readonly object[]): boolean {
  return new Set(things).size < things.length;
}

/** Whether a name is bound to one thing wherever a frame binds it, and to what the row before has. */
function join(bindings: readonly Binding[], before: Row): boolean {
  const root: Frame = {};
  const bound = new Map<Frame, Map<string, string>>();
  for (const { name, value, frame } of bindings) {
    if (!isElement(value)) continue;
    const key = frame.outer === undefined ? root : frame;
    const names = bound.get(key) ?? new Map<string, string>();
    bound.set(key, names);
    const id = elementId(value);
    if ((names.get(name) ?? id) !== id) return false;
    names.set(name, id);
    if (before.has(name)) {
      const earlier = before.get(name) as Element | null;
      if (earlier === null || elementId(earlier) !== id) return false;
    }
  }
  return true;
}

/** What the names mean inside a frame: elements of the frame and of what stands around it; lists of what is elsewhere. */
function seenFrom(frame: Frame, names: readonly Declared[], bindings: readonly Binding[], before: Row): Row {
  const row = new Map(before);
  const inside = frame.part === undefined ? [] : namesOfPart(frame.part);
  for (const { name, group } of names) {
    const own = bindings.filter((one) => one.name === name);
    if (!group) row.set(name, own[0]?.value ?? null);
    else if (inside.includes(name)) row.set(name, own.find((one) => one.frame === frame)?.value ?? null);
    else row.set(name, { kind: 'list', of: own.map(({ value }) => value) });
  }
  return row;
}

function withNulls(row: Row, names: readonly string[]): Row {
  const all = new Map(row);
  for (const name of names) if (!all.has(name)) all.set(name, null);
  return all;
}

interface Declared {
  readonly name: string;
  /** Whether it is a list outside. */
  readonly group: boolean;
}

/** The names that a path declares. */
export function declared(path: PathPattern | GroupPart, group = false): Declared[] {
  const own = path.name === undefined ? [] : [{ name: path.name, group }];
  return [
    ...own,
    ...[path.parts, ...(path.or?.of ?? [])].flat().flatMap((part) => {
      const quantifier = part.part === 'node' ? undefined : part.quantifier;
      const inside = group || (quantifier !== undefined && !quantifier.questioned);
      if (part.part === 'group') return declared(part, inside);
      return part.name === undefined ? [] : [{ name: part.name, group: inside }];
    }),
  ];
}

function namesOfPart(part: EdgePart | GroupPart): string[] {
  if (part.part === 'edge') return part.name === undefined ? [] : [part.name];
  return declared(part).map(({ name }) => name);
}

export function namesOfPath(path: PathPattern): string[] {
  return declared(path).map(({ name }) => name);
}

export function namesOfClause(clause: Clause): string[] {
  switch (clause.clause) {
    case 'match':
      return clause.paths.flatMap(namesOfPath);
    case 'optional':
      return clause.of.flatMap(namesOfClause);
    case 'let':
      return clause.names.map(({ name }) => name);
    case 'for':
      return [clause.name, ...(clause.counter === undefined ? [] : [clause.counter.name])];
    case 'filter':
    case 'page':
      return [];
  }
}

/**
 * A match as its reduced path binding (section 6.5 of the paper): the path, and what is bound by name at which place
 * along it. Two that are equal here are one match.
 */
function reduced({ walk, bindings, ways }: Laid): string {
  const path = walk.nodes.flatMap(({ id }, at) => [
    id,
    ...(walk.edges[at] === undefined ? [] : [walk.edges[at].id]),
  ]);
  const named = bindings
    .filter(({ value }) => value.kind !== 'path')
    .map(({ name, place }) => `${name}@${place}`)
    .toSorted();
  const paths = bindings.flatMap(({ name, value, place }) =>
    value.kind === 'path' ? [`${name}@${place - 2 * value.edges.length}-${place}`] : [],
  );
  return `${path.join(' ')} | ${named.join(' ')} | ${paths.join(' ')} | ${ways.join(' ')}`;
}

/**
 * The nodes of a match that no name of the row will have, if all nodes differ from each other and from those of the row
 * before. Places of the path that are bound by one name are one node of the match; names for one node before are too.
 */
function differentNodes(
  combined: readonly Laid[],
  before: readonly (readonly [string, Value])[],
): SmallNode[] | undefined {
  let all: { readonly node: SmallNode; readonly names: readonly string[] }[] = [];
  const add = (node: SmallNode, names: readonly string[]): void => {
    const joined = all.filter((one) => one.names.some((name) => names.includes(name)));
    all = all.filter((one) => !joined.includes(one));
    all.push({ node, names: [...names, ...joined.flatMap((one) => one.names)] });
  };
  const earlier = before.flatMap(([name, value]) =>
    isElement(value) && value.kind === 'node' ? [{ name, ...value }] : [],
  );
  for (const same of [...Map.groupBy(earlier, ({ node }) => node.id).values()]) {
    const [first] = same;
    if (first !== undefined)
      add(
        first.node,
        same.map(({ name }) => name),
      );
  }
  const frames: Frame[] = [];
  for (const { walk, bindings } of combined) {
    for (const [at, node] of walk.nodes.entries()) {
      const names = bindings
        .filter(({ value, place }) => value.kind === 'node' && place === 2 * at)
        .map(({ name, frame }) => {
          if (frame.outer === undefined) return name;
          if (!frames.includes(frame)) frames.push(frame);
          return `${name} in ${frames.indexOf(frame)}`;
        });
      add(node, names);
    }
  }
  if (new Set(all.map(({ node }) => node.id)).size < all.length) return undefined;
  return all.filter(({ names }) => names.every((name) => name.includes(' in '))).map(({ node }) => node);
}
