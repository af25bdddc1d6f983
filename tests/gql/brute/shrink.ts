/**
 * A case cut down to what is needed for it to go wrong: clauses, paths, parts, conditions, columns, nodes, edges,
 * labels and properties are left out one at a time, as long as the rest still goes wrong in the same manner.
 */
import type { Case } from './disagreement.ts';
import type {
  Clause,
  Condition,
  GroupPart,
  Linear,
  MatchClause,
  Part,
  PathPattern,
  Query,
  Result,
} from './query.ts';
import type { SmallGraph } from './walks.ts';

/**
 * @param goesWrong whether a case still goes wrong; must answer false for cases that make no sense
 */
export async function shrunk(start: Case, goesWrong: (one: Case) => Promise<boolean>): Promise<Case> {
  let best = start;
  for (let again = true; again; ) {
    again = false;
    for (const smaller of smallerCases(best)) {
      if (await goesWrong(smaller)) {
        best = smaller;
        again = true;
        break;
      }
    }
  }
  return best;
}

/** Whether lists are asked for where a query has lists: leaving out a quantifier may make single elements of them. */
export function makesSense(query: Query): boolean {
  const lists = new Set<unknown>();
  const asked = new Set<unknown>();
  const look = (value: unknown, repeated: boolean): void => {
    if (Array.isArray(value)) for (const one of value) look(one, repeated);
    else if (typeof value === 'object' && value !== null) {
      const { term, of, part, name, quantifier } = value as Record<string, unknown>;
      if (term === 'size' || term === 'along') asked.add(of);
      const isList =
        repeated ||
        (quantifier !== undefined && (quantifier as { questioned?: boolean }).questioned !== true);
      if (part !== undefined && name !== undefined && isList) lists.add(name);
      for (const one of Object.values(value)) look(one, part === undefined ? repeated : isList);
    }
  };
  look(query, false);
  return [...asked].every((name) => lists.has(name));
}

function* smallerCases(one: Case): Generator<Case> {
  for (const query of smallerQueries(one.query)) yield { ...one, query };
  for (const graph of smallerGraphs(one.graph)) yield { ...one, graph };
}

function* smallerGraphs(graph: SmallGraph): Generator<SmallGraph> {
  const { nodes, edges } = graph;
  for (const { id } of nodes)
    yield {
      nodes: nodes.filter((node) => node.id !== id),
      edges: edges.filter(({ source, target }) => source !== id && target !== id),
    };
  for (const { id } of edges) yield { nodes, edges: edges.filter((edge) => edge.id !== id) };
  for (const [at, node] of nodes.entries()) {
    for (const label of node.labels)
      yield { nodes: nodes.with(at, { ...node, labels: node.labels.filter((one) => one !== label) }), edges };
    for (const key of Object.keys(node.properties))
      yield { nodes: nodes.with(at, { ...node, properties: without(node.properties, key) }), edges };
  }
  for (const [at, edge] of edges.entries()) {
    if (edge.label !== undefined) yield { nodes, edges: edges.with(at, without(edge, 'label')) };
    for (const key of Object.keys(edge.properties))
      yield { nodes, edges: edges.with(at, { ...edge, properties: without(edge.properties, key) }) };
  }
}

function without<T extends object>(from: T, key: keyof T & string): T {
  return Object.fromEntries(Object.entries(from).filter(([one]) => one !== key)) as T;
}

function* smallerQueries(query: Query): Generator<Query> {
  const { before, others } = query;
  for (const part of others) yield { ...query, ...part.part, others: [] };
  for (const [at] of others.entries()) yield { ...query, others: others.toSpliced(at, 1) };
  for (const [at, one] of before.entries()) {
    yield { ...one, before: before.slice(0, at) };
    yield { ...query, before: before.toSpliced(at, 1) };
  }
  for (const less of smallerLinear(query)) yield { ...query, ...less };
  for (const [at, { by, part }] of others.entries())
    for (const less of smallerLinear(part)) yield { ...query, others: others.with(at, { by, part: less }) };
  for (const [at, one] of before.entries())
    for (const less of smallerLinear(one)) yield { ...query, before: before.with(at, { ...one, ...less }) };
}

function* smallerLinear({ clauses, result }: Linear): Generator<Linear> {
  for (const fewer of smallerLists(clauses, smallerClauses))
    if (fewer.length > 0) yield { clauses: fewer, result };
  for (const less of smallerResults(result)) yield { clauses, result: less };
}

function* smallerResults(result: Result): Generator<Result> {
  const { items, order } = result;
  if (items.length !== 1 || items[0]?.item !== 'count')
    yield { distinct: false, items: [{ item: 'count', alias: 'c' }], order: [] };
  if (result.star) yield without(result, 'star');
  if (result.groupBy !== undefined) yield without(result, 'groupBy');
  if (result.distinct) yield { ...result, distinct: false };
  if (result.limit !== undefined) yield without(result, 'limit');
  if (result.offset !== undefined) yield without(result, 'offset');
  for (const [at] of order.entries()) yield { ...result, order: order.toSpliced(at, 1) };
  if (items.length > 1 && !result.star)
    for (const [at] of items.entries()) yield { ...result, items: items.toSpliced(at, 1) };
}

/** A list with one thing less, or with one thing smaller. */
function* smallerLists<T>(list: readonly T[], smaller: (one: T) => Iterable<T>): Generator<readonly T[]> {
  for (const [at] of list.entries()) yield list.toSpliced(at, 1);
  for (const [at, one] of list.entries()) for (const less of smaller(one)) yield list.with(at, less);
}

function* smallerClauses(clause: Clause): Generator<Clause> {
  switch (clause.clause) {
    case 'match':
      yield* smallerMatches(clause);
      return;
    case 'filter':
      for (const where of smallerConditions(clause.where)) yield { ...clause, where };
      return;
    case 'for':
      if (clause.counter !== undefined) yield without(clause, 'counter');
      return;
    case 'page':
      return;
    case 'let':
      for (const [at] of clause.names.entries())
        if (clause.names.length > 1) yield { ...clause, names: clause.names.toSpliced(at, 1) };
      return;
  }
  const [only, ...others] = clause.of;
  if (only !== undefined && others.length === 0) yield only;
  for (const of of smallerLists(clause.of, smallerClauses)) if (of.length > 0) yield { ...clause, of };
}

function* smallerMatches(match: MatchClause): Generator<MatchClause> {
  if (match.repeatable) yield { ...match, repeatable: false };
  for (const paths of smallerLists(match.paths, smallerPaths))
    if (paths.length > 0) yield { ...match, paths };
  yield* smallerWheres(match);
}

function* smallerPaths(path: PathPattern): Generator<PathPattern> {
  if (path.search !== undefined) yield without(path, 'search');
  if (path.mode !== undefined) yield without(path, 'mode');
  if (path.name !== undefined) yield without(path, 'name');
  for (const parts of smallerLists(path.parts, smallerParts)) if (parts.length > 0) yield { ...path, parts };
  yield* smallerAlternatives(path);
}

function* smallerAlternatives<T extends PathPattern | GroupPart>(path: T): Generator<T> {
  const { or } = path;
  if (or === undefined) return;
  yield without(path, 'or');
  for (const parts of or.of) yield { ...without(path, 'or'), parts };
  if (or.by === '|+|') yield { ...path, or: { ...or, by: '|' } };
  for (const of of smallerLists(or.of, (parts) => smallerLists(parts, smallerParts)))
    if (of.length > 0 && of.every((parts) => parts.length > 0)) yield { ...path, or: { ...or, of } };
}

function* smallerParts(part: Part): Generator<Part> {
  if (part.part !== 'group') {
    if (part.name !== undefined) yield without(part, 'name');
    if (part.label !== undefined) yield without(part, 'label');
    if (part.properties !== undefined) yield without(part, 'properties');
    if (part.part === 'edge') {
      if (part.direction !== '->') yield { ...part, direction: '->' };
      if (part.quantifier !== undefined) yield without(part, 'quantifier');
    }
    yield* smallerWheres(part);
    return;
  }
  if (part.quantifier !== undefined) {
    yield without(part, 'quantifier');
    const { least, most } = part.quantifier;
    if (most === Number.POSITIVE_INFINITY) yield { ...part, quantifier: { least, most: least + 1 } };
    else if (most > 1 && most > least) yield { ...part, quantifier: { least, most: most - 1 } };
    if (least > 0) yield { ...part, quantifier: { least: least - 1, most } };
  }
  if (part.mode !== undefined) yield without(part, 'mode');
  if (part.name !== undefined) yield without(part, 'name');
  yield* smallerWheres(part);
  for (const parts of smallerLists(part.parts, smallerParts)) if (parts.length > 0) yield { ...part, parts };
  yield* smallerAlternatives(part);
}

function* smallerWheres<T extends { readonly where?: Condition }>(owner: T): Generator<T> {
  if (owner.where === undefined) return;
  yield without(owner, 'where');
  for (const where of smallerConditions(owner.where)) yield { ...owner, where };
}

function* smallerConditions(condition: Condition): Generator<Condition> {
  switch (condition.test) {
    case 'and':
    case 'or':
    case 'xor': {
      const [left, right] = condition.of;
      yield left;
      yield right;
      for (const less of smallerConditions(left)) yield { ...condition, of: [less, right] };
      for (const less of smallerConditions(right)) yield { ...condition, of: [left, less] };
      return;
    }
    case 'not':
    case 'truth':
      yield condition.of;
      for (const less of smallerConditions(condition.of)) yield { ...condition, of: less };
      return;
    case 'exists':
      for (const of of smallerLists(condition.of, smallerClauses))
        if (of.length > 0) yield { ...condition, of };
      return;
    default:
      if ('negated' in condition && condition.negated) yield { ...condition, negated: false };
  }
}
