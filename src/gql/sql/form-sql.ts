/**
 * One form of the paths of a MATCH as SQL. Over 400 lines, since everything in it writes the one SELECT that is at hand, which is
 * another after each hop.
 */
import type { EdgePattern, Expression, LabelExpression } from '../language/ast.ts';
import { namesIn } from '../plan/free-names.ts';
import { textLiteral } from './dialect.ts';
import type { Frame, Reading } from './expressions.ts';
import { Differences, type Differing } from './form-differences.ts';
import type { Binding, Condition, EdgeLink, Form, HopLink, Link, Stretch } from './forms.ts';
import { type HopColumns, hopColumnNames, renamed } from './hop-columns.ts';
import { type JoinStep, joinOrder } from './join-order.ts';
import { impliesNode, topEdgeLabels } from './label-sql.ts';
import {
  type Compilation,
  columnNamesOf,
  hasSubquery,
  type Inner,
  type Relation,
  START,
  seedsOf,
  type Variable,
} from './relation.ts';
import { apart, joined, type Piece } from './sql-lists.ts';
import { columnsOf, NotInSql, ofKind, Select, type SqlValue } from './sql-value.ts';

export interface FormSettings {
  readonly reading: Reading;
  readonly differentEdges: boolean;
  /** Conditions of the MATCH. */
  readonly conditions: readonly Expression[];
  /** Whether to write down how each path was walked, by which equal ones are told. */
  readonly walks: boolean;
  /** Whether to write down what a path search chooses by. */
  readonly search: boolean;
  /** Whether no repetition need come to a node twice. */
  readonly shortest: boolean;
}

/** A part of the WITH clause, and what its columns are. */
export interface FormTable {
  readonly name: string;
  /** Variables of the MATCH; parts as expressions over the part. */
  readonly variables: ReadonlyMap<string, Variable>;
  readonly seen: string | undefined;
  readonly seenNames: ReadonlySet<string>;
  readonly walk: string | undefined;
  readonly taken: string;
  readonly steps: string | undefined;
  readonly ids: string | undefined;
  readonly first: string;
  readonly last: string;
}

/** Thrown while a name is not bound yet. */
class NotYet extends Error {}

export class FormSql {
  readonly #form: Form;
  readonly #input: Relation;
  readonly #compilation: Compilation;
  readonly #inner: Inner;
  readonly #settings: FormSettings;
  #select: Select;
  /** Name of what the SELECT begins with. */
  #base: string | undefined;
  readonly #places: (string | undefined)[];
  readonly #links: (string | undefined)[];
  readonly #hops = new Map<number, HopColumns>();
  /** Elements by scope and name. */
  readonly #named = new Map<string, string>();
  #pending: readonly Condition[];
  readonly #differences: Differences;
  #differing: readonly Differing[];
  /** What conditions of a hop's body see outside. */
  readonly #outside: ((name: string) => SqlValue | undefined) | undefined;
  /** What its columns begin with, since parts inside of one another have some of each other's. */
  readonly #own: string;

  constructor(
    form: Form,
    input: Relation,
    compilation: Compilation,
    inner: Inner,
    settings: FormSettings,
    outside?: (name: string) => SqlValue | undefined,
  ) {
    this.#form = form;
    this.#input = input;
    this.#compilation = compilation;
    this.#inner = inner;
    this.#settings = settings;
    this.#base = input.name;
    this.#select = this.#from(input.name);
    this.#places = form.places.map(() => undefined);
    this.#links = form.links.map(() => undefined);
    this.#outside = outside;
    this.#own = compilation.program.fresh('f');
    this.#pending = [
      ...form.conditions,
      ...settings.conditions.map((expression) => ({ expression, scope: 0 })),
    ];
    this.#differences = new Differences(form, {
      edges: settings.differentEdges,
      nodes: compilation.distinctNodes,
    });
    this.#differing = this.#differences.pairs();
  }

  table(): FormTable {
    const { program } = this.#compilation;
    this.#walkPaths();
    this.#settle(true);
    this.#differFromSeen();
    const name = this.#stage();
    const [path] = this.#form.paths;
    const seen = this.#seenAfter();
    return {
      name,
      variables: this.#variables(),
      seen: seen && this.#joined(seen, this.#compilation.dialect.types.string),
      seenNames: this.#seenNames(),
      walk: this.#settings.walks ? this.#walkText() : undefined,
      taken: textLiteral(this.#form.taken),
      steps: this.#settings.search ? this.#stepsOf(path!) : undefined,
      ids: this.#settings.search ? this.#idsOf(path!, program.fresh) : undefined,
      first: this.#places[path!.first]!,
      last: this.#places[path!.last]!,
    };
  }

  // ─── Paths ────────────────────────────────────────────────────────────────────────────────────────────────────

  #walkPaths(): void {
    const { schema } = this.#compilation;
    const { links } = this.#form;
    const steps = joinOrder(this.#form, {
      counts: schema.counts,
      classes: this.#differences.classes(),
      isKnown: (place) =>
        this.#form.places[place]!.patterns.some(
          ({ pattern }) =>
            pattern.variable !== undefined &&
            this.#input.variables.get(pattern.variable.text)?.value.parts.node !== undefined,
        ),
      readBy: (hop) => this.#readInside(links[hop] as HopLink),
    });
    const isJoin = ({ kind }: JoinStep) => kind === 'link';
    for (const [i, step] of steps.entries()) {
      if (step.kind === 'place') {
        // A repetition begins at a node that is there; so its edge will do to begin with.
        const next = steps[i + 1];
        const isBegun =
          this.#outside && i === 0 && next?.kind === 'link' && links[next.link]!.kind === 'edge';
        if (!(isBegun && isEndOf(links[next.link]!, step.place))) this.#bindPlace(step.place, undefined);
        continue;
      }
      const link = links[step.link]!;
      if (link.kind === 'hop') this.#walkHop(step.link, link);
      else {
        const joined = steps.slice(0, i).some(isJoin);
        if (joined && this.#isStepwise()) {
          this.#settle(false);
          this.#stage([], true);
        }
        this.#bindEdge(step.link, link, step.isWide);
      }
    }
  }

  /** Whether there are too many tables for the engine to put in order. */
  #isStepwise(): boolean {
    const { places, links } = this.#form;
    const edges = links.filter(({ kind }) => kind === 'edge').length;
    const labels = places.filter(({ patterns }) => patterns.some(({ pattern }) => pattern.labels)).length;
    return edges + labels > this.#compilation.dialect.joined;
  }

  /** Places of what conditions in a repetition read outside of it. */
  #readInside({ bodies }: HopLink): readonly number[] {
    return bodies.flatMap(({ conditions, scopes }) =>
      conditions.flatMap(({ expression }) =>
        [...namesIn(expression)].flatMap((name) => {
          const binding = scopes[0]!.has(name) ? undefined : this.#form.scopes[0]!.get(name);
          if (binding?.kind === 'node') return [binding.place];
          if (binding?.kind === 'edge') return [this.#form.links[binding.link]!.from];
          return [];
        }),
      ),
    );
  }

  /** Binds a place, to the node that an edge leads to or to any. */
  #bindPlace(at: number, reached: string | undefined): void {
    const { expressions, program, schema } = this.#compilation;
    const { reading } = this.#settings;
    const there = this.#places[at];
    if (there !== undefined) {
      if (reached !== undefined) this.#select.where.push(`${reached} = ${there}`);
      return;
    }
    const patterns = this.#form.places[at]!.patterns;
    const named = patterns.flatMap(({ pattern, scope }) =>
      pattern.variable ? [{ scope, name: pattern.variable.text }] : [],
    );
    const known = named.flatMap(({ scope, name }) => this.#elementNamed('node', scope, name) ?? []);
    let node = reached ?? known[0];
    const labels = patterns.flatMap(({ pattern }) => pattern.labels ?? []);
    const certainly = schema.uncertain && reading === 'certain';
    if (node === undefined) {
      // A label's rows are few beside all nodes.
      const leading = labels.find(({ kind }) => kind === 'label-name');
      if (leading) {
        node = this.#joinLabel(
          leading as Extract<LabelExpression, { kind: 'label-name' }>,
          undefined,
          certainly,
        );
        labels.splice(labels.indexOf(leading), 1);
      } else {
        const alias = program.fresh('n');
        this.#select.join(`nodes AS ${alias}`);
        node = `${alias}.id`;
        this.#select.has('nodes', node, alias);
      }
    } else if (
      reached !== undefined &&
      known.length === 0 &&
      !labels.some(impliesNode) &&
      !(this.#outside && at === 0)
    ) {
      // An edge may lead to a node that is not there; a repetition begins where another has led.
      const alias = program.fresh('n');
      this.#select.join(`nodes AS ${alias}`);
      this.#select.where.push(`${alias}.id = ${reached}`);
      this.#select.has('nodes', reached, alias);
    }
    for (const other of known) if (other !== node) this.#select.where.push(`${node} = ${other}`);
    for (const test of labels) {
      if (test.kind === 'label-name') this.#joinLabel(test, node, certainly);
      else this.#select.where.push(expressions.nodeLabels(node, test, reading));
    }
    this.#places[at] = node;
    for (const { scope, name } of named) this.#named.set(`${scope} ${name}`, node);
  }

  /** Joins the rows of a label; there is one for each node that has it. */
  #joinLabel(
    { name }: Extract<LabelExpression, { kind: 'label-name' }>,
    node: string | undefined,
    certainly: boolean,
  ): string {
    const alias = this.#compilation.program.fresh('l');
    this.#select.join(`labels AS ${alias}`);
    this.#select.where.push(`${alias}.label = ${textLiteral(name)}`);
    if (certainly) this.#select.where.push(`${alias}.probability >= 1`);
    if (node !== undefined) this.#select.where.push(`${alias}.node = ${node}`);
    return `${alias}.node`;
  }

  #bindEdge(at: number, { pattern, scope, from }: EdgeLink, isWide: boolean): void {
    const { program, schema, expressions } = this.#compilation;
    const { reading } = this.#settings;
    const alias = program.fresh('e');
    const [here, there] = [this.#places[from], this.#places[from + 1]];
    const select = isWide && this.#isStepwise() ? this.#from(undefined) : this.#select;
    const [near, far] = this.#joinEdges(pattern, alias, select);
    if (pattern.labels) select.where.push(topEdgeLabels(`${alias}.label`, pattern.labels));
    if (schema.uncertain && reading === 'certain') select.where.push(`NOT ${alias}.uncertain`);
    if (select !== this.#select) {
      const [next, end] = here === undefined ? [from, near] : [from + 1, far];
      for (const { pattern: node } of this.#form.places[next]!.patterns)
        if (node.labels) select.where.push(expressions.nodeLabels(end, node.labels, reading));
      const edges = program.define('h', select.sql([`${alias}.*`]), { once: true });
      this.#select.join(`${edges} AS ${alias}`);
    }
    if (here !== undefined) this.#select.where.push(`${near} = ${here}`);
    else if (there !== undefined) this.#select.where.push(`${far} = ${there}`);
    const edge = `${alias}.edge`;
    this.#select.has('edges', edge, alias);
    if (pattern.variable) {
      const name = pattern.variable.text;
      const known = this.#elementNamed('edge', scope, name);
      if (known) this.#select.where.push(`${edge} = ${known}`);
      this.#named.set(`${scope} ${name}`, edge);
    }
    this.#links[at] = edge;
    if (here === undefined) this.#bindPlace(from, near);
    if (here !== undefined || there === undefined) this.#bindPlace(from + 1, far);
  }

  /** Joins the edges that a pattern may walk along; answers the columns of the near and the far end. */
  #joinEdges({ direction }: EdgePattern, alias: string, select: Select): readonly [string, string] {
    if (direction === 'right' || direction === 'left') {
      select.join(`edges AS ${alias}`);
      select.where.push(`${alias}.directed`);
      const ends = [`${alias}.source`, `${alias}.target`] as const;
      return direction === 'right' ? ends : [ends[1], ends[0]];
    }
    // Along the edge, and against it; a loop leads back either way, and counts once.
    const along: Record<string, string> = {
      undirected: 'NOT x.directed',
      'left-or-undirected': 'NOT x.directed OR x.source = x.target',
      'undirected-or-right': 'TRUE',
      'left-or-right': 'x.directed',
      any: 'TRUE',
    };
    const against: Record<string, string> = {
      undirected: 'NOT x.directed',
      'left-or-undirected': 'TRUE',
      'undirected-or-right': 'NOT x.directed',
      'left-or-right': 'x.directed',
      any: 'TRUE',
    };
    select.join(
      `(SELECT x.*, x.source AS near_end, x.target AS far_end FROM edges AS x WHERE ${along[direction]} UNION ALL ` +
        `SELECT x.*, x.target, x.source FROM edges AS x WHERE (${against[direction]}) AND x.source <> x.target) AS ${alias}`,
    );
    return [`${alias}.near_end`, `${alias}.far_end`];
  }

  #elementNamed(kind: 'node' | 'edge', scope: number, name: string): string | undefined {
    const known = this.#named.get(`${scope} ${name}`);
    if (known) return known;
    const outer = this.#input.variables.get(name)?.value.parts[kind];
    return outer === undefined ? undefined : `${this.#base}.${outer}`;
  }

  // ─── Stages ───────────────────────────────────────────────────────────────────────────────────────────────────

  #from(name: string | undefined): Select {
    return new Select(name === undefined ? [] : [name], this.#compilation.program.fresh);
  }

  /** Makes a part of the WITH clause of what is bound so far, and goes on from there; answers its name. */
  #stage(extra: readonly string[] = [], once = false): string {
    const columns: string[] = columnNamesOf(this.#input).map((column) => `${this.#base}.${column}`);
    const write = (sql: string | undefined, name: string): void => {
      if (sql !== undefined) columns.push(`${sql} AS ${name}`);
    };
    this.#places.forEach((sql, i) => {
      write(sql, this.#placeColumn(i));
    });
    this.#links.forEach((sql, i) => {
      write(sql, this.#linkColumn(i));
    });
    for (const hop of this.#hops.values())
      for (const column of hopColumnNames(hop)) columns.push(`${this.#base}.${column}`);
    const name = this.#compilation.program.define('s', this.#select.sql([...columns, ...extra]), { once });
    this.#goOnFrom(name);
    return name;
  }

  #placeColumn(place: number): string {
    return `${this.#own}_p${place}`;
  }

  #linkColumn(link: number): string {
    return `${this.#own}_l${link}`;
  }

  #goOnFrom(name: string): void {
    this.#base = name;
    this.#select = this.#from(name);
    for (const [other, known] of this.#hops) this.#hops.set(other, renamed(known, name));
    this.#places.forEach((sql, i) => {
      if (sql !== undefined) this.#places[i] = `${name}.${this.#placeColumn(i)}`;
    });
    this.#links.forEach((sql, i) => {
      if (sql !== undefined) this.#links[i] = `${name}.${this.#linkColumn(i)}`;
    });
    this.#named.clear();
    this.#form.places.forEach(({ patterns }, i) => {
      const node = this.#places[i];
      if (node === undefined) return;
      for (const { pattern, scope } of patterns)
        if (pattern.variable && !this.#named.has(`${scope} ${pattern.variable.text}`))
          this.#named.set(`${scope} ${pattern.variable.text}`, node);
    });
    this.#form.links.forEach((link, i) => {
      const edge = this.#links[i];
      if (link.kind === 'edge' && edge !== undefined && link.pattern.variable)
        this.#named.set(`${link.scope} ${link.pattern.variable.text}`, edge);
    });
  }

  /** Writes the conditions whose names are bound; at the end all must be, and those with subqueries are written too. */
  #settle(atEnd: boolean): void {
    const { expressions, dialect } = this.#compilation;
    const waiting: Condition[] = [];
    for (const condition of this.#pending) {
      const { expression, scope } = condition;
      if (hasSubquery(expression) || !this.#isReady(expression, scope)) {
        waiting.push(condition);
        continue;
      }
      const sql = expressions.condition(expression, this.#frame(scope), this.#settings.reading);
      this.#select.where.push(this.#joinsBy(condition) ? sql : dialect.afterJoins(sql));
    }
    this.#differing = this.#differing.filter((one) => {
      const sql = this.#differingSql(one);
      if (sql !== undefined) this.#select.where.push(sql);
      return sql === undefined;
    });
    this.#pending = waiting;
    if (!atEnd || waiting.length === 0) return;
    for (const { expression, scope } of waiting)
      if (!this.#isReady(expression, scope))
        throw new NotInSql(
          expression.span,
          'This condition reads what is bound elsewhere in a way that is not compiled to SQL',
        );
    // Subqueries are answered for all rows together, which are numbered for them.
    const number = this.#compilation.program.fresh('r');
    this.#stage([`row_number() OVER () AS ${number}`], true);
    for (const { expression, scope } of waiting) {
      const frame = this.#frame(scope, number, namesIn(expression));
      this.#select.where.push(expressions.condition(expression, frame, this.#settings.reading));
    }
    this.#pending = [];
  }

  /** Whether a condition is of one element, or equates what no edges join. */
  #joinsBy({ expression, scope }: Condition): boolean {
    const names = [...namesIn(expression)];
    if (names.length < 2) return true;
    if (expression.kind !== 'comparison' || expression.operator !== '=') return false;
    const parts = this.#joinedParts();
    const partOf = (name: string): number | undefined => {
      const binding = this.#bindingOf(name, scope);
      if (binding?.kind === 'node') return parts[binding.place];
      return binding?.kind === 'edge' ? parts[this.#form.links[binding.link]!.from] : undefined;
    };
    return new Set(names.map(partOf)).size > 1;
  }

  /** For each place a number that it has in common with those that links and names join it to; undefined: with the row outside. */
  #joinedParts(): readonly (number | undefined)[] {
    const parts: (number | undefined)[] = [...this.#differences.classes()];
    const join = (a: number | undefined, b: number | undefined) => {
      const [from, to] = a === undefined ? [b, a] : [a, b];
      parts.forEach((one, i) => {
        if (one === from) parts[i] = to;
      });
    };
    for (const { from } of this.#form.links) join(parts[from], parts[from + 1]);
    this.#form.places.forEach(({ patterns }, i) => {
      const isOuter = patterns.some(
        ({ pattern }) => pattern.variable && this.#input.variables.has(pattern.variable.text),
      );
      if (isOuter) join(parts[i], undefined);
    });
    return parts;
  }

  #isReady(expression: Expression, scope: number): boolean {
    try {
      for (const name of namesIn(expression)) this.#find(name, scope);
      return true;
    } catch (error) {
      if (error instanceof NotYet) return false;
      throw error;
    }
  }

  #frame(scope: number, number?: string, names: ReadonlySet<string> = new Set()): Frame {
    const base = this.#base!;
    const select = this.#select;
    // The row as bodies see it: its columns by their names in this part.
    const row = (): Relation => {
      const variables = new Map<string, Variable>();
      for (const name of names) {
        const value = this.#find(name, scope);
        if (value)
          variables.set(name, { value: this.#asColumns(value, base), isGroup: this.#isGroup(name, scope) });
      }
      return seedsOf({ ...START, name: base, variables, number }, names);
    };
    return {
      select,
      find: (name) => this.#find(name, scope),
      isGroup: (name) => this.#isGroup(name, scope),
      exists: (node, reading) => {
        const body = this.#inner.exists(node, row(), reading);
        return `(${base}.${number} IN (SELECT ${body.key} FROM ${body.name}))`;
      },
      query: (node) => {
        const body = this.#inner.value(node, row());
        select.from.push(`LEFT JOIN ${body.name} ON ${body.name}.${body.key} = ${base}.${number}`);
        return columnsOf(body.value, (kind) => `${body.name}.${body.value.parts[kind]}`);
      },
    };
  }

  /** A value whose parts are columns of the part at hand, by their bare names. */
  #asColumns(value: SqlValue, base: string): SqlValue {
    return columnsOf(value, (kind) => {
      const sql = value.parts[kind]!;
      if (sql.startsWith(`${base}.`) && /^[a-z0-9_]+$/.test(sql.slice(base.length + 1)))
        return sql.slice(base.length + 1);
      throw new NotInSql(
        this.#pendingSpan(),
        'A list or path that EXISTS or VALUE reads here is not compiled to SQL',
      );
    });
  }

  #pendingSpan() {
    return (
      this.#settings.conditions[0]?.span ?? this.#form.conditions[0]?.expression.span ?? { start: 0, end: 0 }
    );
  }

  #isGroup(name: string, scope: number): boolean {
    const binding = this.#bindingOf(name, scope);
    return binding ? binding.kind === 'group' : (this.#input.variables.get(name)?.isGroup ?? false);
  }

  #bindingOf(name: string, scope: number): Binding | undefined {
    return this.#form.scopes[scope]!.get(name) ?? this.#form.scopes[0]!.get(name);
  }

  /** What a name means; throws {@link NotYet} before it is bound. */
  #find(name: string, scope: number): SqlValue | undefined {
    const binding = this.#bindingOf(name, scope);
    const outer = this.#input.variables.get(name);
    if (outer && (!binding || !this.#form.scopes[scope]!.has(name) || scope === 0))
      return columnsOf(outer.value, (kind) => `${this.#base}.${outer.value.parts[kind]}`);
    if (!binding) return this.#outside?.(name);
    switch (binding.kind) {
      case 'node':
        return ofKind('node', bound(this.#places[binding.place]));
      case 'edge':
        return ofKind('edge', bound(this.#links[binding.link]));
      case 'null':
        return { parts: {} };
      case 'path':
        return ofKind('path', this.#elementsOf(binding.stretch));
      case 'group':
        return this.#groupOf(binding);
      default:
        return binding satisfies never;
    }
  }

  #groupOf({ of, items }: Extract<Binding, { kind: 'group' }>): SqlValue {
    if (of === 'path') {
      const hop = this.#form.links.find((link) => link.kind === 'hop') as HopLink | undefined;
      throw new NotInSql(hop?.span ?? { start: 0, end: 0 }, 'A list of paths is not compiled to SQL');
    }
    const { dialect } = this.#compilation;
    const pieces: Piece[] = items.map((item) => {
      if (item.kind === 'node') return { item: this.#token('n', bound(this.#places[item.place])) };
      if (item.kind === 'edge') return { item: this.#token('e', bound(this.#links[item.link])) };
      return { list: bound(this.#hops.get(item.link)?.groups.get(item.name)) };
    });
    return { parts: { list: this.#joined(pieces, dialect.types.string) }, items: [of] };
  }

  #token(letter: 'n' | 'e', sql: string): string {
    return letter === 'n'
      ? `('n' || ${sql})`
      : `('e' || CAST(${sql} AS ${this.#compilation.dialect.types.string}))`;
  }

  #joined(pieces: readonly Piece[], type: string): string {
    return joined(pieces, type, this.#compilation.dialect);
  }

  /** The elements of a stretch as items of a list. */
  #elementsOf({ first, last }: Stretch): string {
    const pieces: Piece[] = [{ item: this.#token('n', bound(this.#places[first])) }];
    for (let place = first; place < last; place++) {
      const at = this.#form.links.findIndex(({ from }) => from === place);
      if (this.#form.links[at]!.kind === 'hop') pieces.push({ list: bound(this.#hops.get(at)?.elements) });
      else
        pieces.push(
          { item: this.#token('e', bound(this.#links[at])) },
          { item: this.#token('n', bound(this.#places[place + 1])) },
        );
    }
    return this.#joined(pieces, this.#compilation.dialect.types.string);
  }

  /** Everything that paths bind, by which equal ones are told: elements, and the names at each. */
  #walkText(): string {
    const pieces: Piece[] = [];
    for (const { first, last } of this.#form.paths) {
      pieces.push({ item: "'/'" }, { item: this.#token('n', this.#places[first]!) }, ...this.#namesAt(first));
      for (let place = first; place < last; place++) {
        const at = this.#form.links.findIndex(({ from }) => from === place);
        const link = this.#form.links[at]!;
        if (link.kind === 'hop') pieces.push({ list: this.#hops.get(at)!.walk! });
        else {
          pieces.push({ item: this.#token('e', this.#links[at]!) });
          if (link.pattern.variable) pieces.push({ item: textLiteral(`:${link.pattern.variable.text}`) });
          pieces.push({ item: this.#token('n', this.#places[place + 1]!) });
        }
        pieces.push(...this.#namesAt(place + 1));
      }
    }
    return this.#joined(pieces, this.#compilation.dialect.types.string);
  }

  #namesAt(place: number): Piece[] {
    const names = new Set(
      this.#form.places[place]!.patterns.flatMap(({ pattern }) => pattern.variable?.text ?? []),
    );
    return [...names].sort().map((name) => ({ item: textLiteral(`:${name}`) }));
  }

  #stepsOf({ first, last }: Stretch): string {
    const links = this.#form.links
      .map((link, at) => ({ link, at }))
      .filter(({ link: { from } }) => from >= first && from < last);
    const fixed = links.filter(({ link }) => link.kind === 'edge').length;
    return [String(fixed), ...links.flatMap(({ at }) => this.#hops.get(at)?.steps ?? [])].join(' + ');
  }

  /** Ids of the elements of a path in turn. */
  #idsOf({ first, last }: Stretch, fresh: () => string): string {
    const text = this.#compilation.dialect.types.string;
    const pieces: Piece[] = [{ item: this.#places[first]! }];
    for (let place = first; place < last; place++) {
      const at = this.#form.links.findIndex(({ from }) => from === place);
      if (this.#form.links[at]!.kind === 'hop') pieces.push({ list: this.#hops.get(at)!.ids! });
      else {
        const own = fresh();
        pieces.push(
          { item: `(SELECT ${own}.id FROM edges AS ${own} WHERE ${own}.edge = ${this.#links[at]})` },
          { item: this.#places[place + 1]! },
        );
      }
    }
    return this.#joined(pieces, text);
  }

  #variables(): ReadonlyMap<string, Variable> {
    const variables = new Map<string, Variable>();
    for (const [name, binding] of this.#form.scopes[0]!) {
      if (name.startsWith('\0') || this.#input.variables.has(name)) continue;
      variables.set(name, { value: this.#find(name, 0)!, isGroup: binding.kind === 'group' });
    }
    return variables;
  }

  // ─── What must differ ─────────────────────────────────────────────────────────────────────────────────────────

  #differingSql({ links, nodes }: Differing): string | undefined {
    const { dialect } = this.#compilation;
    if (links) {
      const [a, b] = links.map((at) =>
        this.#form.links[at]!.kind === 'hop'
          ? { list: this.#hops.get(at)?.edges }
          : { item: this.#links[at] },
      ) as [{ list?: string; item?: string }, { list?: string; item?: string }];
      if ((a.list ?? a.item) === undefined || (b.list ?? b.item) === undefined) return undefined;
      return apart(a, b, dialect);
    }
    const [a, b] = nodes!.map((side) =>
      'place' in side ? { item: this.#places[side.place] } : { list: this.#hops.get(side.hop)?.inside },
    ) as [{ list?: string; item?: string }, { list?: string; item?: string }];
    if ((a.list ?? a.item) === undefined || (b.list ?? b.item) === undefined) return undefined;
    const [x, y] = nodes!;
    if ('hop' in x && 'hop' in y && x.hop === y.hop) return dialect.allDiffer(a.list!);
    return apart(a, b, dialect);
  }

  /** Conditions on nodes of clauses before, and what is seen afterwards. */
  #seenAfter(): readonly Piece[] | undefined {
    if (!this.#compilation.distinctNodes || this.#outside) return undefined;
    const { seen } = this.#input;
    const classes = this.#differences.classes();
    const pieces: Piece[] = seen ? [{ list: `${this.#base}.${seen.column}` }] : [];
    this.#form.places.forEach((_, place) => {
      if (classes[place] === place) pieces.push({ item: this.#places[place]! });
    });
    for (const { inside } of this.#hops.values()) if (inside) pieces.push({ list: inside });
    return pieces;
  }

  #seenNames(): ReadonlySet<string> {
    const own = this.#form.places.flatMap(({ patterns }) =>
      patterns.flatMap(({ pattern, scope }) =>
        scope === 0 && pattern.variable ? [pattern.variable.text] : [],
      ),
    );
    return new Set([...(this.#input.seen?.names ?? []), ...own]);
  }

  /** Nodes that clauses before have matched, and these have not by name, differ from all of these. */
  #differFromSeen(): void {
    const { seen } = this.#input;
    if (!seen) return;
    const { dialect } = this.#compilation;
    const classes = this.#differences.classes();
    const list = `${this.#base}.${seen.column}`;
    this.#form.places.forEach((_, place) => {
      if (classes[place] !== place) return;
      const names = this.#form.places.flatMap(({ patterns }, other) =>
        classes[other] === place
          ? patterns.flatMap(({ pattern, scope }) =>
              scope === 0 && pattern.variable ? [pattern.variable.text] : [],
            )
          : [],
      );
      if (!names.some((name) => seen.names.has(name)))
        this.#select.where.push(`NOT ${dialect.contains(list, this.#places[place]!)}`);
    });
    for (const { inside } of this.#hops.values())
      if (inside) this.#select.where.push(`NOT ${dialect.overlaps(list, inside)}`);
  }

  // ─── Hops ─────────────────────────────────────────────────────────────────────────────────────────────────────

  #walkHop(at: number, link: HopLink): void {
    const { program, dialect } = this.#compilation;
    const { search, walks, shortest } = this.#settings;
    const trail = this.#differences.isTrail(at);
    const differ = this.#differences.isAcyclic(at);
    if (link.max === undefined && !trail && !differ && !shortest)
      throw new NotInSql(
        link.span,
        'Walks without an end are compiled to SQL only where a shortest one is asked for by conditions on single elements',
      );
    if (walks && link.bodies.some(({ taken }) => taken !== ''))
      throw new NotInSql(link.span, '|+| in a repetition without a small maximum is not compiled to SQL');
    this.#settle(false);
    this.#stage();
    const before = this.#base!;
    const own = (name: string) => `${this.#own}_h${at}_${name}`;
    const covered = this.#form.scopes.some((scope) =>
      [...scope.values()].some(
        (binding) =>
          binding.kind === 'path' && binding.stretch.first <= link.from && link.from < binding.stretch.last,
      ),
    );
    const keeps = {
      edges: trail,
      inside: differ,
      visited: shortest,
      elements: covered,
      walk: walks,
      ids: search,
      steps: search,
    };
    const groups = [...link.names].flatMap(([name, of], i) =>
      of === 'path' ? [] : [{ name, column: own(`g${i}`) }],
    );
    const bodies = link.bodies.map((body, tag) =>
      this.#body(
        body,
        tag,
        groups.map(({ name }) => name),
        keeps,
        trail,
      ),
    );
    const isOne = bodies.length === 1;
    const widest = (of: 'places' | 'links') =>
      Math.max(
        0,
        ...bodies.map(({ deferred, form }) => (deferred.length > 0 || isOne ? form[of].length : 0)),
      );
    const width = { places: widest('places'), links: widest('links') };
    const written = bodies.map((body) => body.sql(width, isOne));
    const hop = program.define('b', written.map(({ sql }) => sql).join('\n  UNION ALL '), {
      once: dialect.joined === 0,
    });
    // What a repetition adds: of one body, made of its elements where it is added.
    const { adds } = written[0]!;
    const added = (column: string) => (isOne ? adds.get(column)! : `b.${column}`);
    const columns = this.#stageColumns();
    const { string: text, edge, node } = dialect.types;
    const lists: { readonly column: string; readonly type: string; readonly next: string }[] = [];
    const gather = (wanted: boolean, name: string, type: string, next?: string) => {
      if (wanted)
        lists.push({ column: own(name), type, next: next ?? dialect.concat(`q.${own(name)}`, added(name)) });
    };
    const name = program.fresh('q');
    const here = own('here');
    const count = own('count');
    const passed = (column: string) =>
      `CASE WHEN q.${count} = 0 THEN q.${own(column)} ELSE ${dialect.concat(`q.${own(column)}`, dialect.list([`q.${here}`], node))} END`;
    gather(keeps.edges, 'edges', edge);
    gather(keeps.inside, 'inside', node, dialect.concat(passed('inside'), added('inside')));
    gather(keeps.visited, 'visited', node, passed('visited'));
    gather(keeps.elements, 'elements', text);
    gather(keeps.walk, 'walk', text);
    gather(keeps.ids, 'ids', text);
    for (const [i, { column }] of groups.entries())
      lists.push({ column, type: text, next: dialect.concat(`q.${column}`, added(`g${i}`)) });
    const start = [
      ...columns.map((column) => `${before}.${column}`),
      `${this.#places[link.from]} AS ${here}`,
      `0 AS ${count}`,
      ...(keeps.steps ? [`0 AS ${own('steps')}`] : []),
      ...lists.map(({ column, type }) => `${dialect.list([], type)} AS ${column}`),
    ];
    const step = new Select(
      [`${name} AS q`, `JOIN ${hop} AS b ON ${added('first_node')} = q.${here}`],
      program.fresh,
    );
    if (link.max !== undefined) step.where.push(`q.${count} < ${link.max}`);
    if (keeps.edges) {
      step.where.push(`NOT ${dialect.overlaps(`q.${own('edges')}`, added('edges'))}`);
      this.#differing = this.#differing.filter(({ links }) => {
        if (!links?.includes(at)) return true;
        const other = links[0] === at ? links[1] : links[0];
        const earlier = this.#links[other]
          ? `NOT ${dialect.contains(added('edges'), `q.${this.#linkColumn(other)}`)}`
          : this.#hops.get(other)?.edges &&
            `NOT ${dialect.overlaps(added('edges'), `q.${this.#own}_h${other}_edges`)}`;
        if (earlier) step.where.push(earlier);
        return !earlier;
      });
    }
    for (const column of ['inside', 'visited'] as const)
      if (keeps[column])
        step.where.push(
          `(q.${count} = 0 OR (q.${here} <> q.${this.#placeColumn(link.from)} AND NOT ${dialect.contains(`q.${own(column)}`, `q.${here}`)}))`,
        );
    for (const [tag, { deferred, form }] of bodies.entries())
      for (const { expression } of deferred) {
        const frame = this.#hopFrame(form, expression, step);
        const sql = dialect.afterJoins(
          this.#compilation.expressions.condition(expression, frame, this.#settings.reading),
        );
        step.where.push(bodies.length > 1 ? `(b.tag <> ${tag} OR ${sql})` : sql);
      }
    const next = [
      ...columns.map((column) => `q.${column}`),
      added('last_node'),
      `q.${count} + 1`,
      ...(keeps.steps ? [`q.${own('steps')} + ${added('steps')}`] : []),
      ...lists.map(({ next }) => next),
    ];
    program.recursive(name, `SELECT ${start.join(', ')} FROM ${before}\n  UNION ALL ${step.sql(next)}`);
    this.#goOnFrom(name);
    this.#select.where.push(`${name}.${count} >= ${link.min}`);
    const column = (wanted: boolean, of: string) => (wanted ? `${name}.${own(of)}` : undefined);
    this.#hops.set(at, {
      edges: column(keeps.edges, 'edges'),
      inside: column(keeps.inside, 'inside'),
      elements: column(keeps.elements, 'elements'),
      walk: column(keeps.walk, 'walk'),
      ids: column(keeps.ids, 'ids'),
      steps: column(keeps.steps, 'steps'),
      groups: new Map(groups.map(({ name: group, column: of }) => [group, `${name}.${of}`])),
    });
    this.#bindPlace(link.from + 1, `${name}.${here}`);
  }

  #stageColumns(): readonly string[] {
    return [
      ...columnNamesOf(this.#input),
      ...this.#places.flatMap((sql, i) => (sql === undefined ? [] : [this.#placeColumn(i)])),
      ...this.#links.flatMap((sql, i) => (sql === undefined ? [] : [this.#linkColumn(i)])),
      ...[...this.#hops.values()].flatMap(hopColumnNames),
    ];
  }

  /** What a condition of a repetition sees that also reads what is outside. */
  #hopFrame(form: Form, { span }: Expression, select: Select): Frame {
    const outside = (name: string): SqlValue | undefined => {
      const value = this.#find(name, 0);
      // Columns of the stage, which the recursive query has under the same names.
      return value && columnsOf(value, (kind) => value.parts[kind]!.replace(`${this.#base}.`, 'q.'));
    };
    return {
      select,
      find: (name) => {
        const binding = form.scopes[0]!.get(name);
        if (!binding) return outside(name);
        if (binding.kind === 'node') return ofKind('node', `b.p${binding.place}`);
        if (binding.kind === 'edge') return ofKind('edge', `b.l${binding.link}`);
        if (binding.kind === 'null') return { parts: {} };
        throw new NotInSql(
          span,
          'A path inside a repetition that is compared with what is outside is not compiled to SQL',
        );
      },
      isGroup: (name) => !form.scopes[0]!.has(name) && this.#isGroup(name, 0),
      exists: () => {
        throw new NotInSql(span, 'EXISTS in a repetition that reads what is outside is not compiled to SQL');
      },
      query: () => {
        throw new NotInSql(span, 'VALUE in a repetition that reads what is outside is not compiled to SQL');
      },
    };
  }

  /** One repetition, as a table of where it leads from and to. */
  #body(
    form: Form,
    tag: number,
    groups: readonly string[],
    keeps: { readonly [wanted: string]: boolean },
    trail: boolean,
  ) {
    const local: Condition[] = [];
    const deferred: Condition[] = [];
    for (const condition of form.conditions) {
      const isOutside = [...namesIn(condition.expression)].some(
        (name) => !form.scopes[0]!.has(name) && this.#isKnownOutside(name),
      );
      if (!isOutside) local.push(condition);
      else {
        // What comes later in the text is not bound yet.
        if (!this.#isReadyOutside(condition.expression, form))
          throw new NotInSql(
            condition.expression.span,
            'A condition in a repetition that reads what comes after it is not compiled to SQL',
          );
        deferred.push(condition);
      }
    }
    const body = new FormSql(
      { ...form, conditions: local },
      START,
      { ...this.#compilation, distinctNodes: false },
      this.#inner,
      {
        ...this.#settings,
        differentEdges: trail,
        conditions: [],
        walks: false,
        search: false,
        shortest: false,
      },
      () => undefined,
    );
    return {
      form,
      deferred,
      sql: (width: { readonly places: number; readonly links: number }, isOne: boolean) =>
        body.bodySql(tag, groups, keeps, width, isOne),
    };
  }

  #isKnownOutside(name: string): boolean {
    return this.#input.variables.has(name) || this.#form.scopes[0]!.has(name);
  }

  #isReadyOutside(expression: Expression, form: Form): boolean {
    try {
      for (const name of namesIn(expression)) if (!form.scopes[0]!.has(name)) this.#find(name, 0);
      return true;
    } catch (error) {
      if (error instanceof NotYet) return false;
      throw error;
    }
  }

  /**
   * The SELECT of a form that is one repetition, with the columns that it adds to lists, by name. `isOne`: there is no other body,
   * and these are expressions over the places and links of the SELECT, which goes by `b`; so the lists are not kept for every
   * repetition that there could be.
   */
  bodySql(
    tag: number,
    groups: readonly string[],
    keeps: { readonly [wanted: string]: boolean },
    width: { readonly places: number; readonly links: number },
    isOne: boolean,
  ): { readonly sql: string; readonly adds: ReadonlyMap<string, string> } {
    const { dialect, program } = this.#compilation;
    const { string: text, edge, node } = dialect.types;
    const { places, links } = this.#form;
    this.#walkPaths();
    this.#settle(true);
    const last = places.length - 1;
    const placeAt = (i: number) => (isOne ? `b.p${i}` : this.#places[i]!);
    const linkAt = (i: number) => (isOne ? `b.l${i}` : this.#links[i]!);
    const elements: Piece[] = [];
    const walk: Piece[] = this.#namesAt(0);
    const ids: Piece[] = [];
    links.forEach((link, at) => {
      const [end, next] = [linkAt(at), placeAt(link.from + 1)];
      elements.push({ item: this.#token('e', end) }, { item: this.#token('n', next) });
      walk.push({ item: this.#token('e', end) });
      if (link.kind === 'edge' && link.pattern.variable)
        walk.push({ item: textLiteral(`:${link.pattern.variable.text}`) });
      walk.push({ item: this.#token('n', next) }, ...this.#namesAt(link.from + 1));
      const own = program.fresh();
      ids.push(
        { item: `(SELECT ${own}.id FROM edges AS ${own} WHERE ${own}.edge = ${end})` },
        { item: next },
      );
    });
    const adds = new Map<string, string>();
    adds.set('first_node', placeAt(0));
    adds.set('last_node', placeAt(last));
    if (keeps.edges)
      adds.set(
        'edges',
        dialect.list(
          links.map((_, at) => linkAt(at)),
          edge,
        ),
      );
    if (keeps.inside)
      adds.set(
        'inside',
        dialect.list(
          places.slice(1, last).map((_, i) => placeAt(i + 1)),
          node,
        ),
      );
    if (keeps.elements) adds.set('elements', this.#joined(elements, text));
    if (keeps.walk) adds.set('walk', this.#joined(walk, text));
    if (keeps.ids) {
      adds.set('ids', this.#joined(ids, text));
      adds.set('steps', String(links.length));
    }
    for (const [i, name] of groups.entries()) {
      const binding = this.#form.scopes[0]!.get(name);
      const items =
        binding?.kind === 'node'
          ? [this.#token('n', placeAt(binding.place))]
          : binding?.kind === 'edge'
            ? [this.#token('e', linkAt(binding.link))]
            : [];
      adds.set(`g${i}`, dialect.list(items, text));
    }
    const columns = [
      ...(isOne ? [] : [`${tag} AS tag`, ...[...adds].map(([name, sql]) => `${sql} AS ${name}`)]),
      ...Array.from(
        { length: width.places },
        (_, i) => `${this.#places[i] ?? `CAST(NULL AS ${node})`} AS p${i}`,
      ),
      ...Array.from(
        { length: width.links },
        (_, i) => `${this.#links[i] ?? `CAST(NULL AS ${edge})`} AS l${i}`,
      ),
    ];
    return { sql: this.#select.sql(columns), adds };
  }
}

function isEndOf({ from }: Link, place: number): boolean {
  return from === place || from + 1 === place;
}

function bound<T>(sql: T | undefined): T {
  if (sql === undefined) throw new NotYet();
  return sql;
}
