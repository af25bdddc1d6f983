/**
 * Which variable means what at every place of a query: one walk, whose findings the rules look at.
 *
 * A variable is single where it binds one element (or path), conditional where `?` may have left it out, and a
 * group variable where it is used outside a quantified path that declares it (ISO/IEC 39075:2024, 16.7, on the degree
 * of reference).
 */
import { type ElementKind, elementKindOf, type FindHeld, itemKindOf } from '../expression/element-kind.ts';
import type {
  Aggregate,
  Clause,
  EdgePattern,
  Expression,
  MatchClause,
  Name,
  NodePattern,
  ParenthesizedPath,
  PathAlternation,
  PathFactor,
  PathPattern,
  PathTerm,
  QuantifiedPath,
  Query,
  QuestionedPath,
  Span,
  Syntax,
  TableClause,
} from '../language/ast.ts';
import { children } from '../language/children.ts';
import { columnName, declaredInFactors, itemsOf } from '../plan/free-names.ts';

export type VariableKind = 'node' | 'edge' | 'path' | 'value';
export type Degree = 'single' | 'conditional' | 'group';

/** What a name means at a place. */
export interface Visible {
  readonly kind: VariableKind;
  readonly degree: Degree;
  /** The pattern that a path variable names, while the place is inside it: it has no value there. */
  readonly inside: boolean;
  /** For a list: what its items are, as far as the text shows. */
  readonly items?: ElementKind | undefined;
}

export interface Declaration {
  readonly name: string;
  readonly kind: 'node' | 'edge' | 'path';
  /** As seen from the clause. */
  readonly degree: Degree;
  readonly span: Span;
  /**
   * What may be walked several times or not at all around it, outermost first: quantified and questioned paths, and
   * branches of alternations of which not all declare the name.
   */
  readonly around: readonly (QuantifiedPath | QuestionedPath | PathTerm)[];
  /** All branches of alternations around it, outermost first, with their alternations. */
  readonly branches: readonly { readonly of: PathAlternation; readonly branch: PathTerm }[];
  /** For a path variable, what it names. */
  readonly pattern: PathPattern | ParenthesizedPath | undefined;
  /** What the name meant before this clause. */
  readonly before: Visible | undefined;
  readonly clause: MatchClause;
}

/** A variable that is declared for a value. */
export interface ValueDeclaration {
  readonly name: Name;
  /** What the name meant before. */
  readonly before: Visible | undefined;
}

export type Part = 'where' | 'property' | 'filter' | 'value' | 'return' | 'sort';

/** An expression and what its names mean. Bodies of EXISTS in it are sites of their own. */
export interface Site {
  readonly root: Expression;
  readonly part: Part;
  find(name: string): Visible | undefined;
  /** All names that mean something. */
  names(): Iterable<string>;
}

export interface Analysis {
  readonly declarations: readonly Declaration[];
  readonly values: readonly ValueDeclaration[];
  /** Expressions whose value is a node or edge for the clauses behind: of LET, and of RETURN before NEXT. */
  readonly elementValues: ReadonlySet<Expression>;
  /** Names of a query before NEXT, or of UNION and the like, that are no columns of it. */
  readonly ended: ReadonlySet<string>;
  readonly sites: readonly Site[];
  /** The site of a column or sort key. */
  siteOf(root: Expression): Site;
  readonly matches: readonly MatchClause[];
  /** Every linear query, those of tables included, with the variables after its last clause. */
  readonly queries: readonly { readonly query: Query; readonly variables: ReadonlyMap<string, Visible> }[];
  /** Variables after the last clause, in the order of their declaration. */
  readonly variables: ReadonlyMap<string, Visible>;
}

type Scope = ReadonlyMap<string, Visible>;

const NOTHING: Declaration['around'] = [];
/** What is around a declaration; branches and all, as long as it is not known which name it is. */
type Around = readonly (QuantifiedPath | QuestionedPath | Declaration['branches'][number])[];

export function analyse(query: Query): Analysis {
  return new Analyser().analyse(query);
}

class Analyser {
  readonly #declarations: Declaration[] = [];
  readonly #values: ValueDeclaration[] = [];
  readonly #elementValues = new Set<Expression>();
  readonly #ended = new Set<string>();
  readonly #sites: Site[] = [];
  readonly #matches: MatchClause[] = [];
  readonly #queries: { readonly query: Query; readonly variables: Scope }[] = [];
  /** Scopes inside paths, which all elements with the same surroundings share. */
  readonly #inside = new WeakMap<object, WeakMap<object, Scope>>();

  analyse(query: Query): Analysis {
    const variables = this.#query(query, new Map());
    const byRoot = new Map(this.#sites.map((site) => [site.root, site]));
    return {
      declarations: this.#declarations,
      values: this.#values,
      elementValues: this.#elementValues,
      ended: this.#ended,
      sites: this.#sites,
      siteOf: (root) => byRoot.get(root)!,
      matches: this.#matches,
      queries: this.#queries,
      variables,
    };
  }

  /** The scope after the clauses of a query. */
  #query(query: Query, scope: Scope): Scope {
    const variables = this.#clauses(query.clauses, scope);
    for (const { value } of query.result.items ?? []) this.#site(value, 'return', variables);
    const columns = new Map(variables);
    for (const { value, alias } of query.result.items ?? []) {
      if (alias) columns.set(alias.text, visibleValue(value, variables));
    }
    for (const { value } of query.orderBy) this.#site(value, 'sort', columns);
    this.#queries.push({ query, variables });
    return variables;
  }

  /** The scope behind a table: its columns, and what is outside. */
  #table({ input, parts }: TableClause, outer: Scope): Scope {
    const start = input ? this.#table(input, outer) : outer;
    const columns = parts.map(({ query }) => {
      const variables = this.#query(query, start);
      const own = new Map(
        itemsOf(query).map((item) => [columnName(item), this.#computed(item.value, variables)]),
      );
      for (const name of variables.keys()) if (!own.has(name)) this.#ended.add(name);
      return own;
    });
    const [first, ...others] = columns;
    const common = [...first!].map(([name, visible]): [string, Visible] => {
      const twins = others.map((other) => other.get(name));
      const agrees = (field: 'kind' | 'items') => twins.every((twin) => twin?.[field] === visible[field]);
      return [
        name,
        {
          ...visible,
          kind: agrees('kind') ? visible.kind : 'value',
          items: agrees('items') ? visible.items : undefined,
        },
      ];
    });
    return new Map([...outer, ...common]);
  }

  /** The scope after the clauses. */
  #clauses(clauses: readonly Clause[], scope: Scope): Scope {
    return clauses.reduce((before, clause) => this.#clause(clause, before), scope);
  }

  #clause(clause: Clause, before: Scope): Scope {
    switch (clause.kind) {
      case 'match':
        return this.#match(clause, before);
      case 'optional':
        return this.#clauses(clause.clauses, before);
      case 'let':
        this.#site(clause.value, 'value', before);
        return this.#withValue(clause.variable, this.#computed(clause.value, before), before);
      case 'filter':
        this.#site(clause.condition, 'filter', before);
        return before;
      case 'for': {
        const { variable, list, position } = clause;
        this.#site(list, 'value', before);
        const { items, ...value } = computed(list, before);
        const item: Visible = { ...value, kind: items ?? 'value', degree: 'single' };
        const after = this.#withValue(variable, item, before);
        if (!position) return after;
        return this.#withValue(position.variable, { kind: 'value', degree: 'single', inside: false }, after);
      }
      case 'page':
        for (const { value } of clause.orderBy) this.#site(value, 'value', before);
        return before;
      case 'table':
        return this.#table(clause, before);
      default:
        return clause satisfies never;
    }
  }

  #computed(value: Expression, scope: Scope): Visible {
    const visible = computed(value, scope);
    if (visible.kind === 'node' || visible.kind === 'edge') this.#elementValues.add(value);
    return visible;
  }

  #withValue(name: Name, value: Visible, before: Scope): Scope {
    this.#values.push({ name, before: before.get(name.text) });
    return before.has(name.text) ? before : new Map(before).set(name.text, value);
  }

  #match(clause: MatchClause, before: Scope): Scope {
    this.#matches.push(clause);
    const own: Declaration[] = [];
    for (const path of clause.paths) {
      if (path.variable) own.push(this.#declaration(path.variable, 'path', [], path, clause, before));
      for (const factor of path.factors) this.#declare(factor, [], clause, before, own);
    }
    this.#declarations.push(...own);
    for (const path of clause.paths) {
      const paths = [path];
      for (const factor of path.factors) this.#insides(factor, paths, NOTHING, own, before);
    }
    const after = new Map(before);
    for (const { name, kind, degree } of own) {
      if (!after.has(name)) after.set(name, { kind, degree, inside: false });
    }
    if (clause.where) this.#site(clause.where, 'where', after);
    return after;
  }

  #declare(factor: PathFactor, around: Around, clause: MatchClause, before: Scope, own: Declaration[]): void {
    switch (factor.kind) {
      case 'node-pattern':
      case 'edge-pattern': {
        const kind = factor.kind === 'node-pattern' ? 'node' : 'edge';
        if (factor.variable)
          own.push(this.#declaration(factor.variable, kind, around, undefined, clause, before));
        return;
      }
      case 'parenthesized-path':
        if (factor.variable)
          own.push(this.#declaration(factor.variable, 'path', around, factor, clause, before));
        for (const inner of factor.factors) this.#declare(inner, around, clause, before, own);
        return;
      case 'quantified-path':
      case 'questioned-path':
        this.#declare(factor.path, [...around, factor], clause, before, own);
        return;
      case 'path-alternation':
        for (const branch of factor.branches)
          for (const inner of branch.factors)
            this.#declare(inner, [...around, { of: factor, branch }], clause, before, own);
        return;
      default:
        factor satisfies never;
    }
  }

  #declaration(
    { text: name, span }: Name,
    kind: Declaration['kind'],
    all: Around,
    pattern: Declaration['pattern'],
    clause: MatchClause,
    before: Scope,
  ): Declaration {
    const branches = all.filter((one) => 'branch' in one);
    const around = all.flatMap((one): Declaration['around'] => {
      if (!('branch' in one)) return [one];
      return one.of.branches.every(({ factors }) => declaredInFactors(factors).has(name)) ? [] : [one.branch];
    });
    const degree = degreeSeenFrom([], around);
    return { name, kind, degree, span, around, branches, pattern, before: before.get(name), clause };
  }

  /** Expressions inside a path: each sees the variables of its clause, by what encloses both. */
  #insides(
    factor: PathFactor,
    paths: readonly (PathPattern | ParenthesizedPath)[],
    around: Declaration['around'],
    own: readonly Declaration[],
    before: Scope,
  ): void {
    switch (factor.kind) {
      case 'node-pattern':
      case 'edge-pattern':
        if (factor.where || factor.properties.length > 0) {
          this.#filler(factor, this.#scopeInside(paths, around, own, before));
        }
        return;
      case 'parenthesized-path': {
        const inner = [...paths, factor];
        for (const part of factor.factors) this.#insides(part, inner, around, own, before);
        if (factor.where) this.#site(factor.where, 'where', this.#scopeInside(inner, around, own, before));
        return;
      }
      case 'quantified-path':
      case 'questioned-path':
        this.#insides(factor.path, paths, [...around, factor], own, before);
        return;
      case 'path-alternation':
        for (const branch of factor.branches) {
          const inside = [...around, branch];
          for (const inner of branch.factors) this.#insides(inner, paths, inside, own, before);
        }
        return;
      default:
        factor satisfies never;
    }
  }

  #scopeInside(
    paths: readonly (PathPattern | ParenthesizedPath)[],
    around: Declaration['around'],
    own: readonly Declaration[],
    before: Scope,
  ): Scope {
    const known = this.#inside.get(paths)?.get(around);
    if (known) return known;
    const scope = new Map(before);
    for (const { name, kind, around: theirs, pattern } of own) {
      const inside = pattern !== undefined && paths.includes(pattern);
      const degree = degreeSeenFrom(around, theirs);
      // Of a name that several branches declare, the own branch's counts.
      if (before.has(name) || (scope.has(name) && degree !== 'single')) continue;
      scope.set(name, { kind, degree, inside });
    }
    const siblings = this.#inside.get(paths) ?? new WeakMap();
    this.#inside.set(paths, siblings.set(around, scope));
    return scope;
  }

  #filler({ properties, where }: NodePattern | EdgePattern, scope: Scope): void {
    for (const { value } of properties) this.#site(value, 'property', scope);
    if (where) this.#site(where, 'where', scope);
  }

  #site(root: Expression, part: Part, scope: Scope): void {
    this.#sites.push({ root, part, find: (name) => scope.get(name), names: () => scope.keys() });
    for (const node of expressionsIn(root)) {
      if (node.kind === 'exists') this.#clauses(node.clauses, scope);
      else if (node.kind === 'value-query') this.#query(node.query, scope);
    }
  }
}

/** The degree of a variable declared inside `theirs` for a place inside `mine`. */
function degreeSeenFrom(mine: Declaration['around'], theirs: Declaration['around']): Degree {
  const apart = theirs.filter((path) => !mine.includes(path));
  if (apart.some(({ kind }) => kind === 'quantified-path')) return 'group';
  return apart.length > 0 ? 'conditional' : 'single';
}

/** What a variable means that holds the value of an expression. */
export function computed(value: Expression, scope: Scope): Visible {
  const find: FindHeld = (name) => {
    const known = scope.get(name);
    return known && { kind: known.kind, isGroup: known.degree === 'group', items: known.items };
  };
  const known = value.kind === 'variable' ? scope.get(value.name) : undefined;
  if (known && known.degree !== 'group') return { ...known, inside: false };
  const kind = elementKindOf(value, find) ?? 'value';
  return { kind, degree: 'single', inside: false, items: itemKindOf(value, find) };
}

function visibleValue(value: Expression, scope: Scope): Visible {
  const known = value.kind === 'variable' ? scope.get(value.name) : undefined;
  return known ?? { kind: 'value', degree: 'single', inside: false };
}

/** The nodes of an expression, itself first; bodies of EXISTS are left out, as they are sites of their own. */
export function* expressionsIn(root: Expression): Generator<Syntax> {
  const open: Syntax[] = [root];
  for (let node = open.pop(); node; node = open.pop()) {
    yield node;
    if (node.kind !== 'exists' && node.kind !== 'value-query') open.push(...[...children(node)].reverse());
  }
}

/** Group variables in an aggregate's argument, as seen from a site. */
export function groupsIn(node: Aggregate, site: Site): readonly string[] {
  if (!node.argument) return [];
  const names = new Set<string>();
  for (const inner of expressionsIn(node.argument)) {
    if (inner.kind === 'variable' && site.find(inner.name)?.degree === 'group') names.add(inner.name);
  }
  return [...names];
}

/** Aggregates of an expression that run over rows. */
export function rowAggregatesIn(root: Expression, site: Site): readonly Aggregate[] {
  return [...expressionsIn(root)].filter(
    (node): node is Aggregate => node.kind === 'aggregate' && groupsIn(node, site).length === 0,
  );
}
