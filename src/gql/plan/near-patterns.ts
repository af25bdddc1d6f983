/**
 * Near matches: the ways to take one node, one edge or one condition out of a pattern.
 */
import type {
  Clause,
  EdgePattern,
  Expression,
  MatchClause,
  NodePattern,
  PathFactor,
  PathPattern,
  Query,
  Span,
} from '../language/ast.ts';
import { conjunction, conjuncts, declaredNames, namesIn } from './free-names.ts';
import { withPushedFilters } from './pushed-filters.ts';

/** What was taken out. */
export interface Removed {
  readonly kind: 'node' | 'edge' | 'condition';
  /** For a condition on one element: what it is about. */
  readonly condition: 'labels' | 'property' | 'where' | undefined;
  /** Variable of the element, when it has one. */
  readonly variable: string | undefined;
  /** Place in the text. */
  readonly span: Span;
}

export interface Relaxation {
  readonly removed: Removed;
  /** What is left, made when it is asked for: a large pattern has many, each as large. Undefined when nothing is left. */
  readonly query: () => Query | undefined;
}

const known = new WeakMap<Query, readonly Relaxation[]>();

/**
 * All patterns with one element or condition less, conditions first, then edges, then nodes. Only elements of the
 * query's own MATCH clauses are taken out, not those inside quantified paths, OPTIONAL or EXISTS.
 */
export function relaxations(query: Query): readonly Relaxation[] {
  let all = known.get(query);
  if (!all) {
    all = relaxationsOf(query);
    known.set(query, all);
  }
  return all;
}

function relaxationsOf(given: Query): Relaxation[] {
  const query = { ...given, clauses: withPushedFilters(given.clauses) };
  const conditions: Relaxation[] = [];
  const edges: Relaxation[] = [];
  const nodes: Relaxation[] = [];
  const seenNodes = new Set<string>();
  query.clauses.forEach((clause, c) => {
    if (clause.kind === 'filter') {
      const removed: Removed = {
        kind: 'condition',
        condition: 'where',
        variable: undefined,
        span: clause.condition.span,
      };
      const left = () =>
        settled(
          query,
          query.clauses.filter((other) => other !== clause),
        );
      conditions.push({ removed, query: left });
    }
    if (clause.kind !== 'match') return;
    const withClause = (removed: Removed, change: () => MatchClause | undefined): Relaxation => ({
      removed,
      query: () => {
        const changed = change();
        const clauses = query.clauses.flatMap((other, i) => (i === c ? (changed ? [changed] : []) : [other]));
        return settled(query, clauses);
      },
    });
    const wheres = conjuncts(clause.where);
    wheres.forEach((condition, w) => {
      const where = () => conjunction(wheres.filter((_, i) => i !== w));
      const removed: Removed = {
        kind: 'condition',
        condition: 'where',
        variable: undefined,
        span: condition.span,
      };
      conditions.push(withClause(removed, () => ({ ...clause, where: where() })));
    });
    clause.paths.forEach((path, p) => {
      path.factors.forEach((factor, f) => {
        const replacing = (changed: PathFactor): MatchClause => ({
          ...clause,
          paths: clause.paths.map((other, i) =>
            i === p ? { ...path, factors: path.factors.map((g, j) => (j === f ? changed : g)) } : other,
          ),
        });
        if (factor.kind === 'node-pattern' || factor.kind === 'edge-pattern')
          for (const { removed, changed } of withoutOneTest(factor))
            conditions.push(withClause(removed, () => replacing(changed())));
        if (factor.kind === 'node-pattern') {
          const name = factor.variable?.text;
          if (name !== undefined && seenNodes.has(name)) return;
          if (name !== undefined) seenNodes.add(name);
          const removed: Removed = { kind: 'node', condition: undefined, variable: name, span: factor.span };
          nodes.push({ removed, query: () => withoutNode(query, factor) });
        } else {
          const removed: Removed = {
            kind: 'edge',
            condition: undefined,
            variable: factor.kind === 'edge-pattern' ? factor.variable?.text : undefined,
            span: factor.span,
          };
          const left = () =>
            withPaths(
              clause,
              p,
              cut(path, (_, i) => i === f),
            );
          edges.push(withClause(removed, left));
        }
      });
    });
  });
  return [...conditions, ...edges, ...nodes];
}

/** A pattern element with one of its labels, properties or conditions taken out. */
function withoutOneTest(
  factor: NodePattern | EdgePattern,
): { removed: Removed; changed: () => NodePattern | EdgePattern }[] {
  const variable = factor.variable?.text;
  const found: { removed: Removed; changed: () => NodePattern | EdgePattern }[] = [];
  if (factor.labels)
    found.push({
      removed: { kind: 'condition', condition: 'labels', variable, span: factor.labels.span },
      changed: () => ({ ...factor, labels: undefined }),
    });
  factor.properties.forEach((test, t) => {
    found.push({
      removed: { kind: 'condition', condition: 'property', variable, span: test.span },
      changed: () => ({ ...factor, properties: factor.properties.filter((_, i) => i !== t) }),
    });
  });
  const wheres = conjuncts(factor.where);
  wheres.forEach((condition, w) => {
    found.push({
      removed: { kind: 'condition', condition: 'where', variable, span: condition.span },
      changed: () => ({ ...factor, where: conjunction(wheres.filter((_, i) => i !== w)) }),
    });
  });
  return found;
}

/** The query without a node: every mention of its variable goes, and the edges at it. */
function withoutNode(query: Query, node: NodePattern): Query | undefined {
  const is = (factor: PathFactor | undefined) =>
    factor?.kind === 'node-pattern' &&
    (factor === node || (node.variable !== undefined && factor.variable?.text === node.variable.text));
  const clauses = query.clauses.flatMap((clause): Clause[] => {
    if (clause.kind !== 'match') return [clause];
    const paths = clause.paths.flatMap((path) =>
      cut(path, (factor, i) => {
        if (is(factor)) return true;
        if (factor.kind === 'node-pattern') return false;
        return is(path.factors[i - 1]) || is(path.factors[i + 1]);
      }),
    );
    return paths.length > 0 ? [{ ...clause, paths }] : [];
  });
  return settled(query, clauses);
}

function withPaths(clause: MatchClause, at: number, pieces: readonly PathPattern[]): MatchClause | undefined {
  const paths = clause.paths.flatMap((path, i) => (i === at ? pieces : [path]));
  return paths.length > 0 ? { ...clause, paths } : undefined;
}

/** A path without some of its factors, as the pieces that are left. */
function cut(path: PathPattern, gone: (factor: PathFactor, index: number) => boolean): PathPattern[] {
  const pieces: PathFactor[][] = [[]];
  let whole = true;
  path.factors.forEach((factor, i) => {
    if (gone(factor, i)) {
      whole = false;
      pieces.push([]);
    } else pieces.at(-1)!.push(factor);
  });
  if (whole) return [path];
  return pieces
    .filter((factors) => factors.length > 0)
    .map((factors) => ({ ...path, variable: undefined, factors }));
}

/** Drops what refers to removed variables; undefined when nothing is left to match. */
function settled(query: Query, clauses: readonly Clause[]): Query | undefined {
  const bound = new Set<string>();
  let matches = 0;
  const kept = clauses.flatMap((clause): readonly Clause[] => {
    const gone = (expression: Expression) =>
      [...namesIn(expression)].some((name) => !bound.has(name) && wasBound(query, name));
    if (clause.kind === 'let' && gone(clause.value)) return [];
    for (const name of declaredNames([clause])) bound.add(name);
    if (clause.kind === 'filter') return gone(clause.condition) ? [] : [clause];
    if (clause.kind !== 'match') return [clause];
    matches++;
    const changed: Clause = {
      ...clause,
      where: conjunction(conjuncts(clause.where).filter((condition) => !gone(condition))),
      paths: clause.paths.map((path) => ({
        ...path,
        factors: path.factors.map((factor) => {
          if (factor.kind !== 'node-pattern' && factor.kind !== 'edge-pattern') return factor;
          return {
            ...factor,
            properties: factor.properties.filter(({ value }) => !gone(value)),
            where: conjunction(conjuncts(factor.where).filter((condition) => !gone(condition))),
          };
        }),
      })),
    };
    return [changed];
  });
  if (matches === 0) return undefined;
  return {
    ...query,
    clauses: kept,
    result: { ...query.result, distinct: false, items: undefined, groupBy: undefined },
    orderBy: [],
    offset: undefined,
    limit: undefined,
  };
}

const declared = new WeakMap<Query, ReadonlySet<string>>();

function wasBound(query: Query, name: string): boolean {
  let names = declared.get(query);
  if (!names) {
    names = new Set(declaredNames(query.clauses));
    declared.set(query, names);
  }
  return names.has(name);
}
