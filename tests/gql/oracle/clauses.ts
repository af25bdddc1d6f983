/** MATCH and OPTIONAL MATCH on binding tables (ISO/IEC 39075:2024, 14.4 and 16.3 to 16.4). */
import { valueKey } from '../../../src/gql/expression/compare.ts';
import { type ElementReference, isList, type Value } from '../../../src/gql/expression/value.ts';
import type {
  Clause,
  Exists,
  Expression,
  MatchClause,
  PageClause,
  PathSearch,
  Query,
  ReturnItem,
  TableClause,
  ValueQuery,
} from '../../../src/gql/language/ast.ts';
import { printExpression } from '../../../src/gql/language/print.ts';
import { namesIn } from '../../../src/gql/plan/free-names.ts';
import { type Environment, evaluate } from '../expression/evaluate.ts';
import type { Elements } from './graph.ts';
import { type Cell, PathMatcher, type Pending, type Row, variablesOf, type Walk } from './paths.ts';

export interface ClauseSetting {
  readonly elements: Elements;
  readonly base: Pick<Environment, 'functions' | 'now' | 'parameter'>;
  /** Every node pattern stands for a node of its own. */
  readonly distinctNodes: boolean;
  /** The value of a VALUE query that goes on from a row. */
  readonly answer: (query: Query, row: Row) => Value;
}

/** A node or edge that earlier clauses have bound, with the names it goes by. */
interface Seen {
  readonly element: ElementReference;
  readonly names: ReadonlySet<string>;
}

/** A row on its way through the clauses. */
export interface Running {
  readonly row: Row;
  readonly seen: readonly Seen[];
}

/** Clauses that take one row at a time. */
export type RowClause = Exclude<Clause, PageClause | TableClause>;

/** The rows that clauses make of a row. */
export function runClauses(clauses: readonly RowClause[], start: Running, setting: ClauseSetting): Running[] {
  return clauses.reduce<Running[]>(
    (rows, clause) => rows.flatMap((row) => runClause(clause, row, setting)),
    [start],
  );
}

function runClause(clause: RowClause, running: Running, setting: ClauseSetting): Running[] {
  if (clause.kind === 'match') return runMatch(clause, running, setting);
  // 14.7 <let statement>, 14.6 <filter statement>.
  if (clause.kind === 'let') {
    const value = evaluate(clause.value, environment(running.row, setting));
    return [{ ...running, row: new Map(running.row).set(clause.variable.text, { value, group: false }) }];
  }
  // 14.8 <for statement>: what is no list has no items.
  if (clause.kind === 'for') {
    const list = evaluate(clause.list, environment(running.row, setting));
    if (!isList(list)) return [];
    return list.map((value, i) => {
      const row = new Map(running.row).set(clause.variable.text, { value, group: false });
      const { position } = clause;
      if (position)
        row.set(position.variable.text, { value: position.kind === 'OFFSET' ? i : i + 1, group: false });
      return { ...running, row };
    });
  }
  if (clause.kind === 'filter') return holds(clause.condition, running.row, setting) ? [running] : [];
  const rows = runClauses(clause.clauses, running, setting);
  if (rows.length > 0) return rows;
  const row = new Map(running.row);
  for (const [name, group] of declared(clause.clauses)) {
    if (!row.has(name)) row.set(name, { value: null, group });
  }
  return [{ ...running, row }];
}

/** Variables that clauses declare, and whether they are group variables. */
export function declared(clauses: readonly Clause[]): Map<string, boolean> {
  const names = new Map<string, boolean>();
  for (const clause of clauses) {
    if (clause.kind === 'filter' || clause.kind === 'page') continue;
    if (clause.kind === 'for') {
      names.set(clause.variable.text, false);
      if (clause.position) names.set(clause.position.variable.text, false);
      continue;
    }
    if (clause.kind === 'table') {
      const { clauses: inner, result } = clause.parts[0]!.query;
      const columns = result.items?.map(columnOf) ?? [...declared(inner).keys()];
      for (const name of columns) names.set(name, false);
      continue;
    }
    if (clause.kind === 'let') {
      names.set(clause.variable.text, false);
      continue;
    }
    if (clause.kind === 'optional') {
      for (const [name, group] of declared(clause.clauses)) names.set(name, group);
      continue;
    }
    for (const path of clause.paths) {
      if (path.variable) names.set(path.variable.text, false);
      const groups = new Set(path.factors.flatMap((factor) => [...groupsOf(factor)]));
      for (const factor of path.factors) {
        for (const name of variablesOf(factor)) names.set(name, groups.has(name));
      }
    }
  }
  return names;
}

/** 14.11 <return statement>: what a column is called. */
export function columnOf({ alias, value }: ReturnItem): string {
  return alias?.text ?? (value.kind === 'variable' ? value.name : printExpression(value));
}

function groupsOf(factor: MatchClause['paths'][number]['factors'][number]): Set<string> {
  if (factor.kind === 'quantified-path') return variablesOf(factor);
  if (factor.kind === 'parenthesized-path')
    return new Set(factor.factors.flatMap((inner) => [...groupsOf(inner)]));
  if (factor.kind === 'path-alternation')
    return new Set(
      factor.branches.flatMap(({ factors }) => factors.flatMap((inner) => [...groupsOf(inner)])),
    );
  return new Set();
}

function runMatch(clause: MatchClause, running: Running, setting: ClauseSetting): Running[] {
  const differentEdges = clause.mode !== 'REPEATABLE ELEMENTS';
  const found = new Map<string, Running>();
  const go = (index: number, row: Row, walks: readonly Walk[]): void => {
    const path = clause.paths[index];
    if (path) {
      const kept = searched(
        path.search,
        [...new PathMatcher(setting.elements, row, differentEdges).match(path)],
        (walk) => {
          const at = joined(row, walk.row);
          const known = (expression: Expression, scopes: readonly Row[]) =>
            [...namesIn(expression)].every((name) => at.has(name) || scopes.some((scope) => scope.has(name)));
          return (
            (!setting.distinctNodes || nodesDiffer([walk], [])) &&
            pendingOf(walk).every(
              ({ expression, scopes }) =>
                !known(expression, scopes) || holds(expression, within(scopes, at), setting),
            )
          );
        },
      );
      for (const walk of kept) {
        if (differentEdges && shareEdge(walks, walk)) continue;
        go(index + 1, joined(row, walk.row), [...walks, walk]);
      }
      return;
    }
    if (setting.distinctNodes && !nodesDiffer(walks, running.seen)) return;
    const pending = walks.flatMap(pendingOf);
    if (!pending.every(({ expression, scopes }) => holds(expression, within(scopes, row), setting))) return;
    if (clause.where && !holds(clause.where, row, setting)) return;
    const visible = visibleOf(row);
    // Two ways to walk that bind the same at the same places are one match (Deutsch and others, 6.5, on reduction).
    const key =
      walks.map(({ elements }) => valueKey(elements)).join(' ') +
      walks.map(({ names }) => names.map(namedAt).join(' ')).join('|') +
      keyOf(visible) +
      walks.map(({ taken }) => taken).join();
    const seen = walks.flatMap((walk) =>
      walk.elements.map((element, i) => ({ element, names: walk.names[i]! })),
    );
    if (!found.has(key)) found.set(key, { row: visible, seen: [...running.seen, ...seen] });
  };
  go(0, running.row, []);
  return [...found.values()];
}

/** The names of the text that are bound at one place of a walk, whatever the iteration. */
function namedAt(names: ReadonlySet<string>): string {
  return [...new Set([...names].map((name) => name.split('\0')[0]!))].sort().join();
}

function pendingOf(walk: Walk): Pending[] {
  return [...walk.sealed, ...walk.open.map((expression) => ({ expression, scopes: [walk.row] }))];
}

/** Thrown where ANY could take one path with its variables bound in several ways. */
export class SeveralWays extends Error {
  override readonly name = 'SeveralWays';
}

/**
 * 16.6 and 22.4, <path search prefix>: of the paths that pass their own conditions, those kept for each pair of ends. Where
 * one is to be taken, ours is a shortest, and the first by the ids of its edges and nodes in turn.
 */
function searched(
  search: PathSearch | undefined,
  all: readonly Walk[],
  passes: (walk: Walk) => boolean,
): readonly Walk[] {
  if (!search || search === 'ALL') return all;
  const idsOf = ({ elements }: Walk) => elements.map(({ key }) => String(key));
  const ends = ({ elements }: Walk) => `${elements[0]!.key} ${elements.at(-1)!.key}`;
  const walks = all.filter(passes);
  return [...new Set(walks.map(ends))].flatMap((pair) => {
    const own = walks.filter((walk) => ends(walk) === pair);
    const least = Math.min(...own.map(({ elements }) => elements.length));
    const shortest = own.filter(({ elements }) => elements.length === least);
    if (search === 'ALL SHORTEST') return shortest;
    const [first] = shortest.map(idsOf).sort((a, b) => {
      const at = a.findIndex((id, i) => id !== b[i]);
      return at < 0 ? 0 : a[at]! < b[at]! ? -1 : 1;
    });
    const taken = shortest.filter((walk) => idsOf(walk).join(' ') === first!.join(' '));
    const ways = new Set(taken.map(({ row, taken: branches }) => keyOf(visibleOf(row)) + branches));
    if (ways.size > 1) throw new SeveralWays();
    return taken;
  });
}

function visibleOf(row: Row): Row {
  return new Map([...row].filter(([name]) => !name.startsWith('\0')));
}

function keyOf(row: Row): string {
  return [...row].map(([name, { value }]) => `${name} ${valueKey(value)}`).join(' ');
}

function joined(row: Row, more: Row): Row {
  return new Map([...row, ...more]);
}

/** The innermost scope speaks first. */
function within(scopes: readonly Row[], row: Row): Row {
  return scopes.reduceRight<Row>((outer, inner) => joined(outer, inner), row);
}

function shareEdge(walks: readonly Walk[], walk: Walk): boolean {
  const edges = (one: Walk): ElementReference[] => one.elements.filter(({ kind }) => kind === 'edge');
  const used = new Set(walks.flatMap(edges).map(({ key }) => key));
  return edges(walk).some(({ key }) => used.has(key));
}

/** Whether places that hold one node are one place by their names: neighbours in a chain of shared names. */
function nodesDiffer(walks: readonly Walk[], seen: readonly Seen[]): boolean {
  const places = [
    ...seen,
    ...walks.flatMap((walk) => walk.elements.map((element, i) => ({ element, names: walk.names[i]! }))),
  ].filter(({ element }) => element.kind === 'node');
  return [...new Set(places.map(({ element }) => element.key))].every((key) => {
    const [first, ...others] = places.filter(({ element }) => element.key === key).map(({ names }) => names);
    let [reached, left] = [new Set(first), others];
    for (;;) {
      const joined = left.filter((names) => [...names].some((name) => reached.has(name)));
      if (joined.length === 0) return left.length === 0;
      reached = new Set([...reached, ...joined.flatMap((names) => [...names])]);
      left = left.filter((names) => !joined.includes(names));
    }
  });
}

function holds(expression: Expression, row: Row, setting: ClauseSetting): boolean {
  return evaluate(expression, environment(row, setting)) === true;
}

/** What an expression sees of a row. */
export function environment(row: Row, setting: ClauseSetting): Environment {
  // A body sees what the place of the EXISTS sees: names that stand for one value inside an aggregate included.
  const seenAt = (at: Environment): Row =>
    new Map([...row.keys()].map((name) => [name, { value: at.variable(name), group: at.isGroup(name) }]));
  const cell = (name: string): Cell | undefined => row.get(name);
  return {
    elements: setting.elements,
    functions: setting.base.functions,
    now: setting.base.now,
    parameter: setting.base.parameter,
    variable: (name) => cell(name)?.value ?? null,
    isGroup: (name) => cell(name)?.group ?? false,
    exists: (node: Exists, at: Environment) =>
      runClauses(node.clauses, { row: seenAt(at), seen: [] }, setting).length > 0,
    query: (node: ValueQuery, at: Environment) => setting.answer(node.query, seenAt(at)),
    aggregate: () => {
      throw new Error('An aggregate over rows stands where there are none');
    },
  };
}
