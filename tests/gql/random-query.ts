/**
 * Random small graphs and random queries on them, as text.
 */
import type { EdgeInput, NodeInput } from '../../src/gql/storage/input.ts';

/** What may stand between two queries. */
export const CONJUNCTIONS = [
  ...(['UNION', 'UNION ALL', 'EXCEPT', 'EXCEPT ALL'] as const),
  ...(['INTERSECT', 'INTERSECT ALL', 'OTHERWISE'] as const),
] as const;

export type Random = () => number;

export interface SmallGraph {
  readonly nodes: readonly NodeInput[];
  readonly edges: readonly (EdgeInput & { readonly id: string; readonly directed: boolean })[];
}

export function pick<T>(random: Random, list: readonly T[]): T {
  return list[Math.floor(random() * list.length)]!;
}

const LABELS = ['A', 'B', 'C'];
const EDGE_LABELS = ['R', 'S'];

/** Two to `most` nodes, parallel edges and loops among the edges. */
export function smallGraph(random: Random, most = 6): SmallGraph {
  const size = 2 + Math.floor(random() * (most - 1));
  const nodes: NodeInput[] = Array.from({ length: size }, (_, i) => ({
    id: `n${i}`,
    labels: LABELS.filter(() => random() < 0.5),
    properties: {
      ...(random() < 0.8 ? { k: Math.floor(random() * 4) } : {}),
      ...(random() < 0.7 ? { s: pick(random, ['x', 'y', 'z']) } : {}),
      ...(random() < 0.4 ? { b: random() < 0.5 } : {}),
    },
  }));
  const count = Math.floor(random() * size * 2);
  const edges = Array.from({ length: count }, (_, i) => ({
    id: `e${i}`,
    source: `n${Math.floor(random() * size)}`,
    target: `n${Math.floor(random() * size)}`,
    directed: random() < 0.6,
    ...(random() < 0.9 ? { label: pick(random, EDGE_LABELS) } : {}),
    properties: random() < 0.6 ? { w: Math.floor(random() * 4) } : {},
  }));
  return { nodes, edges };
}

/** Writes queries that use most of the language. */
export class QueryWriter {
  readonly #random: Random;
  #nodes: string[] = [];
  #edges: string[] = [];
  #groups: string[] = [];
  #paths: string[] = [];
  #values: string[] = [];
  /** Whether patterns ask for little, so that something is left after several steps. */
  #isLoose = false;
  #fresh = 0;

  constructor(random: Random) {
    this.#random = random;
  }

  query(): string {
    this.#forget();
    const clauses = [this.#match(false)];
    while (this.#chance(0.3)) clauses.push(this.#chance(0.5) ? this.#match(true) : this.#match(false));
    return `${clauses.join(' ')} ${this.#result()}`;
  }

  #forget(): void {
    this.#nodes = [];
    this.#edges = [];
    this.#groups = [];
    this.#paths = [];
    this.#values = [];
  }

  /** A query of several statements: other clauses among its MATCH, NEXT, UNION and the like. */
  steps(): string {
    this.#isLoose = true;
    this.#forget();
    const statements = [this.#statement()];
    while (this.#chance(0.45)) statements.push(this.#statement());
    return statements.join(' NEXT ');
  }

  #statement(): string {
    if (this.#chance(0.75)) {
      const clauses = this.#clauses();
      return `${clauses} ${this.#chance(0.7) ? this.#handedOn() : this.#grouped()}`;
    }
    // All queries of a composite go on from the same variables, and have the same columns.
    const before = {
      nodes: this.#nodes,
      edges: this.#edges,
      groups: this.#groups,
      paths: this.#paths,
      values: this.#values,
    };
    const columns = [this.#new('c'), this.#new('c')];
    let text = '';
    const count = 2 + Math.floor(this.#random() * 1.3);
    for (let i = 0; i < count; i++) {
      this.#nodes = [...before.nodes];
      this.#edges = [...before.edges];
      this.#groups = [...before.groups];
      this.#paths = [...before.paths];
      this.#values = [...before.values];
      const clauses = this.#clauses();
      const nodes = columns.map(() => (this.#nodes.length > 0 ? this.#pick(this.#nodes) : 'NULL'));
      const items = columns.map(
        (name, at) => `${nodes[at]}${at === 1 && nodes[at] !== 'NULL' ? '.k' : ''} AS ${name}`,
      );
      if (this.#chance(0.2)) items.reverse();
      const word = this.#pick(CONJUNCTIONS);
      text += `${i > 0 ? ` ${word} ` : ''}${clauses} RETURN ${items.join(', ')}`;
    }
    this.#forget();
    // A column that is null in every query is no node.
    if (!text.includes('NULL AS')) this.#nodes = [columns[0]!];
    this.#values = [columns[1]!];
    return text;
  }

  #clauses(): string {
    const clauses: string[] = [];
    if (this.#nodes.length === 0 || this.#chance(0.6)) clauses.push(this.#match(false));
    while (this.#chance(0.45)) clauses.push(this.#clause());
    return clauses.join(' ');
  }

  /** RETURN of some variables, which are all that the next statement has. */
  #handedOn(): string {
    const kept: string[] = [];
    const some = <T extends string>(names: readonly T[]): T[] => {
      const chosen = [...new Set(names)].filter(() => this.#chance(0.7));
      kept.push(...chosen);
      return chosen;
    };
    const [nodes, edges, values] = [some(this.#nodes), some(this.#edges), some(this.#values)];
    const extra = nodes.length > 0 && this.#chance(0.3) ? this.#pick(nodes) : undefined;
    this.#forget();
    this.#nodes = nodes;
    this.#edges = edges;
    this.#values = values;
    if (extra) {
      const name = this.#new('l');
      this.#values.push(name);
      kept.push(`${extra}.k AS ${name}`);
    }
    if (kept.length === 0) {
      const name = this.#new('l');
      this.#values.push(name);
      kept.push(`1 AS ${name}`);
    }
    return `RETURN ${this.#chance(0.3) ? 'DISTINCT ' : ''}${kept.join(', ')}`;
  }

  #grouped(): string {
    const node = this.#nodes.length > 0 ? this.#pick(this.#nodes) : undefined;
    const [count, most] = [this.#new('l'), this.#new('l')];
    const text = node
      ? `RETURN ${node}, COUNT(*) AS ${count}, MAX(${this.#pick(this.#nodes)}.k) AS ${most}`
      : `RETURN COUNT(*) AS ${count}`;
    this.#forget();
    if (node) this.#nodes = [node];
    this.#values = node ? [count, most] : [count];
    return text;
  }

  #clause(): string {
    const roll = this.#random();
    if (roll < 0.15) return this.#match(true);
    if (roll < 0.4) return this.#match(false);
    if (roll < 0.5) return this.#for();
    return roll < 0.75 ? this.#let() : `FILTER ${this.#condition(2)}`;
  }

  /** A value, which conditions compare, or a node by another name, which patterns go on from. */
  #let(): string {
    const node = this.#nodes.length > 0 ? this.#pick(this.#nodes) : undefined;
    if (node && this.#chance(0.3)) {
      const name = this.#new('v');
      this.#nodes.push(name);
      return `LET ${name} = ${node}`;
    }
    const value = node
      ? this.#pick([
          ...[`${node}.k + 1`, `${node}.s`, `${node} IS LABELED A`, `[${node}.k, 2]`, `{k: ${node}.k}.k`],
          `VALUE { MATCH (${node})${this.#edge(false)}(x) RETURN COUNT(*) AS n }`,
          `VALUE { MATCH (x:A) FILTER x.k = ${node}.k RETURN x.k }`,
          `VALUE { MATCH (x) RETURN x.k AS k NEXT RETURN MAX(k) AS m }`,
        ])
      : this.#pick(['1', "'x'"]);
    const name = this.#new('l');
    this.#values.push(name);
    return `LET ${name} = ${value}`;
  }

  #for(): string {
    const node = this.#nodes.length > 0 ? this.#pick(this.#nodes) : undefined;
    const group = this.#groups.length > 0 && this.#chance(0.5) ? this.#pick(this.#groups) : undefined;
    const name = this.#new('l');
    this.#values.push(name);
    const list =
      group ??
      this.#pick(
        node
          ? [`[${node}.k, 2, 2]`, `[${node}.s]`, `[1, ${node}.k]`, `${node}.k`]
          : ['[1, 2]', '[1]', 'NULL'],
      );
    if (!this.#chance(0.4)) return `FOR ${name} IN ${list}`;
    const position = this.#new('l');
    this.#values.push(position);
    return `FOR ${name} IN ${list} WITH ${this.#pick(['ORDINALITY', 'OFFSET'])} ${position}`;
  }

  #chance(p: number): boolean {
    return this.#random() < p;
  }

  #pick<T>(list: readonly T[]): T {
    return pick(this.#random, list);
  }

  #match(optional: boolean): string {
    const before = { nodes: [...this.#nodes], edges: [...this.#edges], groups: [...this.#groups] };
    const mode = this.#chance(0.3) ? 'REPEATABLE ELEMENTS ' : this.#chance(0.2) ? 'DIFFERENT EDGES ' : '';
    // Under DIFFERENT EDGES a path search stands alone.
    const alone = this.#chance(0.2);
    const paths = [this.#path(mode !== 'REPEATABLE ELEMENTS ', alone)];
    if (!alone && this.#chance(0.3)) paths.push(this.#path(mode !== 'REPEATABLE ELEMENTS '));
    const where = this.#chance(this.#isLoose ? 0.1 : 0.4) ? ` WHERE ${this.#condition(2)}` : '';
    const text = `${optional ? 'OPTIONAL ' : ''}MATCH ${mode}${paths.join(', ')}${where}`;
    // Variables of an optional clause may be null, which later patterns are told apart by.
    if (optional && this.#chance(0.5)) {
      this.#nodes = before.nodes;
      this.#edges = before.edges;
    }
    return text;
  }

  #path(edgesDiffer: boolean, mayChoose = !edgesDiffer && this.#chance(0.2)): string {
    const search = mayChoose ? `${this.#pick(['ANY', 'ANY', 'ANY SHORTEST', 'ALL SHORTEST', 'ALL'])} ` : '';
    const mode = this.#chance(0.3) ? `${this.#pick(['TRAIL', 'SIMPLE', 'ACYCLIC', 'WALK'])} ` : '';
    const finite = edgesDiffer || (mode !== '' && mode !== 'WALK ');
    const name = this.#chance(0.2) ? this.#new('p') : undefined;
    // Now and then nothing stands between, before or after quantified parts, which then may be empty side by side.
    const between = () => (this.#chance(this.#isLoose ? 0.95 : 0.85) ? this.#node() : '');
    let text = between();
    const length = 1 + Math.floor(this.#random() * (this.#isLoose ? 1.4 : 2.6));
    for (let i = 0; i < length; i++) {
      if (this.#chance(0.25)) text += this.#quantified(finite) + between();
      else if (this.#chance(0.1)) text += `${this.#edge(true)}?${between()}`;
      else if (this.#chance(0.15)) text += this.#parenthesized(finite) + between();
      else if (this.#chance(0.12)) text += this.#alternatives(finite) + between();
      else text += this.#edge(true) + between();
    }
    if (name) this.#paths.push(name);
    return `${name ? `${name} = ` : ''}${search}${mode}${text.replaceAll('--', '- -').replaceAll('->-', '-> -')}`;
  }

  /** One way or another, or either of them a few times. */
  #alternatives(finite: boolean): string {
    const shared = this.#chance(0.4) ? this.#new('c') : undefined;
    const branch = () => {
      const roll = this.#random();
      if (roll < 0.15) return this.#quantified(finite);
      if (roll < 0.25) return this.#node();
      const start =
        shared && this.#chance(0.7)
          ? `(${shared}${this.#chance(0.4) ? `:${this.#labels(LABELS, 1)}` : ''})`
          : '';
      return `${start}${this.#edge(true)}${this.#chance(0.5) ? this.#node() : ''}${this.#chance(0.2) ? this.#edge(true) : ''}`;
    };
    const bar = this.#chance(0.7) ? ' | ' : ' |+| ';
    const branches = [branch(), branch(), ...(this.#chance(0.2) ? [branch()] : [])];
    if (shared) this.#nodes.push(shared);
    const mode = this.#chance(0.15) ? `${this.#pick(['TRAIL', 'SIMPLE', 'ACYCLIC'])} ` : '';
    return `(${mode}${branches.join(bar)})${this.#chance(0.2) ? '{0,2}' : ''}`;
  }

  /** A part of a path with a mode, a name or a condition of its own; now and then one that may be left out. */
  #parenthesized(finite: boolean): string {
    const mode = this.#chance(0.5) ? `${this.#pick(['TRAIL', 'SIMPLE', 'ACYCLIC', 'WALK'])} ` : '';
    const name = this.#chance(0.2) ? this.#new('q') : undefined;
    if (name) this.#paths.push(name);
    if (this.#chance(0.3)) {
      const [a, b] = [this.#new('o'), this.#new('o')];
      const where = this.#chance(0.3) ? ` WHERE ${a}.k <> ${b}.k` : '';
      return `(${name ? `${name} = ` : ''}${mode}(${a})${this.#edge(true)}(${b})${where})?`;
    }
    const inner = this.#chance(0.5)
      ? this.#quantified(finite || !['', 'WALK '].includes(mode))
      : this.#edge(true);
    const where = this.#chance(0.3) ? ` WHERE ${this.#condition(0)}` : '';
    return `(${name ? `${name} = ` : ''}${mode}${this.#node()}${inner}${this.#node()}${where})`;
  }

  #new(letter: string): string {
    return `${letter}${this.#fresh++}`;
  }

  #node(): string {
    const roll = this.#random();
    let name = '';
    if (roll < 0.25 && this.#nodes.length > 0) name = this.#pick(this.#nodes);
    else if (roll < 0.8) {
      name = this.#new('v');
      this.#nodes.push(name);
    }
    const labels = this.#chance(this.#isLoose ? 0.1 : 0.35) ? `:${this.#labels(LABELS, 2)}` : '';
    const test = this.#chance(this.#isLoose ? 0.03 : 0.12) ? ` {k: ${Math.floor(this.#random() * 4)}}` : '';
    const where = test === '' && name !== '' && this.#chance(0.1) ? ` WHERE ${name}.k < 3` : '';
    return `(${name}${labels}${test}${where})`;
  }

  #edge(named: boolean): string {
    let name = '';
    if (named && this.#chance(0.4)) {
      name = this.#new('e');
      this.#edges.push(name);
    }
    const labels = this.#chance(this.#isLoose ? 0.1 : 0.4) ? `:${this.#labels(EDGE_LABELS, 1)}` : '';
    const test = this.#chance(this.#isLoose ? 0.03 : 0.1) ? ` {w: ${Math.floor(this.#random() * 4)}}` : '';
    const [left, right] = this.#pick([
      ['-[', ']->'],
      ['<-[', ']-'],
      ['~[', ']~'],
      ['-[', ']-'],
      ['<-[', ']->'],
      ['<~[', ']~'],
      ['~[', ']~>'],
    ] as const);
    return `${left}${name}${labels}${test}${right}`;
  }

  #quantified(finite: boolean): string {
    const most = 1 + Math.floor(this.#random() * 2);
    const least = Math.floor(this.#random() * (most + 1));
    const bounds = finite && this.#chance(0.25) ? this.#pick(['+', '*', '{2,}']) : `{${least},${most}}`;
    if (this.#chance(0.6)) {
      const name = this.#chance(0.5) ? this.#new('g') : '';
      if (name) this.#groups.push(name);
      const edge = this.#edge(false).replace(/\[/, `[${name}`);
      return edge + bounds;
    }
    const [a, e] = [this.#new('h'), this.#new('f')];
    this.#groups.push(a, e);
    const edge = this.#edge(false).replace(/\[/, `[${e}`);
    const outer = this.#chance(0.3) && this.#nodes.length > 0 ? this.#pick(this.#nodes) : undefined;
    const operator = this.#pick(['<', '>=', '<>']);
    const where = this.#chance(0.4) ? ` WHERE ${a}.k ${operator} ${outer ? `${outer}.k` : '2'}` : '';
    const labels = this.#chance(0.3) ? `:${this.#labels(LABELS, 1)}` : '';
    // What comes later in the iteration may be asked for before.
    const [b, ahead] = this.#chance(0.2) ? [this.#new('h'), true] : ['', false];
    return `((${a}${labels}${ahead ? ` WHERE ${a}.k <> ${b}.k` : ''})${edge}(${b})${where})${bounds}`;
  }

  #labels(names: readonly string[], depth: number): string {
    if (depth === 0 || this.#chance(0.5)) return this.#pick(names);
    switch (Math.floor(this.#random() * 5)) {
      case 0:
        return `!${this.#pick(names)}`;
      case 1:
        return '%';
      case 2:
        return `${this.#pick(names)}&${this.#labels(names, 0)}`;
      case 3:
        return `(${this.#labels(names, depth - 1)}|${this.#pick(names)})`;
      default:
        return `!(${this.#pick(names)}|${this.#pick(names)})`;
    }
  }

  #condition(depth: number): string {
    if (this.#values.length > 0 && this.#chance(0.2)) {
      const value = this.#pick(this.#values);
      return this.#pick([`${value} = 2`, `${value} IS NOT NULL`, `NOT ${value} = 'x'`, `${value} = TRUE`]);
    }
    if (depth > 0 && this.#chance(0.4)) {
      const [a, b] = [this.#condition(depth - 1), this.#condition(depth - 1)];
      return this.#pick([`(${a} AND ${b})`, `(${a} OR ${b})`, `NOT (${a})`, `(${a} XOR ${b})`]);
    }
    const node = this.#nodes.length > 0 ? this.#pick(this.#nodes) : undefined;
    if (!node) return 'TRUE';
    const other = this.#pick(this.#nodes);
    switch (Math.floor(this.#random() * 11)) {
      case 0:
        return `${node}.k ${this.#pick(['=', '<', '<=', '>', '>=', '<>'])} ${Math.floor(this.#random() * 4)}`;
      case 1:
        return `${node}.k ${this.#pick(['=', '<', '>'])} ${other}.k`;
      case 2:
        return `${node}.s = ${this.#pick(["'x'", `${other}.s`, '$t'])}`;
      case 3:
        return `${node}.k + ${other}.k * 2 > ${Math.floor(this.#random() * 6)}`;
      case 4:
        return `${node}.s IS ${this.#pick(['', 'NOT '])}NULL`;
      case 5:
        return `${node} IS ${this.#pick(['', 'NOT '])}LABELED ${this.#labels(LABELS, 1)}`;
      case 6:
        return `${node}.k ${this.#pick(['', 'NOT '])}IN [0, 2]`;
      case 7:
        return node === other ? `${node}.b` : `ALL_DIFFERENT(${node}, ${other})`;
      case 8: {
        const inner = this.#chance(0.5)
          ? `(${node})${this.#edge(false)}()`
          : `(${node})${this.#edge(false)}(:A)`;
        return `${this.#pick(['', 'NOT '])}EXISTS { ${inner} }`;
      }
      case 9:
        return this.#edges.length > 0 ? `${this.#pick(this.#edges)}.w > 1` : `${node}.b = TRUE`;
      default:
        return this.#groups.length > 0
          ? `SIZE(${this.#pick(this.#groups)}) > 1`
          : `CHAR_LENGTH(${node}.s || 'a') = 2`;
    }
  }

  #result(): string {
    const all = [...this.#nodes, ...this.#edges, ...this.#groups, ...this.#paths, ...this.#values];
    if (all.length === 0) return 'RETURN COUNT(*) AS n';
    const node = this.#nodes.length > 0 ? this.#pick(this.#nodes) : undefined;
    switch (Math.floor(this.#random() * 6)) {
      case 0:
        return 'RETURN COUNT(*) AS n';
      case 1:
        return node
          ? `RETURN ${node}.s AS s, COUNT(*) AS n, SUM(${node}.k) AS t, MIN(${node}.k) AS m`
          : 'RETURN *';
      case 2:
        return node ? `RETURN DISTINCT ${node}.k AS k, ${this.#pick(all)} AS a` : 'RETURN *';
      case 3:
        return node ? `RETURN ${node}.k AS k, ${node}.s AS s ORDER BY k DESC, s LIMIT 3` : 'RETURN *';
      default:
        return 'RETURN *';
    }
  }
}
