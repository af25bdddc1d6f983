/**
 * One MATCH as SQL: every form of its paths is a SELECT of joins, in which hops are recursive queries, and the matches are those of
 * all forms. Path modes are conditions on edges and on nodes that differ, and along a hop on lists of those that it has
 * passed.
 */
import type { MatchClause, PathPattern, PathSearch } from '../language/ast.ts';
import { conjuncts, namesIn } from '../plan/free-names.ts';

import { KINDS, type Kind } from './dialect.ts';
import type { Reading } from './expressions.ts';
import { FormSql, type FormTable } from './form-sql.ts';
import { type Form, formsOf, type Stretch } from './forms.ts';
import {
  type Compilation,
  columnNamesOf,
  frameOf,
  hasSubquery,
  type Inner,
  numbered,
  type Relation,
  selectFrom,
  type Variable,
} from './relation.ts';
import { NotInSql, type SqlValue } from './sql-value.ts';

/** The rows of a relation, each with all matches of a MATCH. */
export function matched(
  clause: MatchClause,
  given: Relation,
  reading: Reading,
  compilation: Compilation,
  inner: Inner,
): Relation {
  const differentEdges = clause.mode !== 'REPEATABLE ELEMENTS';
  const isSearched = ({ search }: PathPattern) => search !== undefined && search !== 'ALL';
  const plain = clause.paths.filter((path) => !isSearched(path));
  const searched = clause.paths.filter(isSearched);
  if (searched.length > 0 && compilation.distinctNodes && (clause.paths.length > 1 || given.seen))
    throw new NotInSql(
      searched[0]!.span,
      'A path search beside other patterns is not compiled to SQL where all nodes are to differ; say REPEATABLE ELEMENTS',
    );
  const where = conjuncts(clause.where);
  let relation = given;
  if (plain.length > 0) {
    const conditions = searched.length === 0 ? where : [];
    relation = group(plain, undefined, conditions, relation);
  }
  for (const path of searched) relation = group([path], path.search, [], relation);
  return searched.length > 0 ? filtered(relation, clause.where, reading, compilation, inner) : relation;

  function group(
    paths: readonly PathPattern[],
    search: PathSearch | undefined,
    conditions: readonly NonNullable<MatchClause['where']>[],
    from: Relation,
  ): Relation {
    const draft = formsOf(paths, { unrolled: compilation.unrolled });
    const isLocal = search !== undefined && !asksForLists(draft);
    const forms = isLocal ? formsOf(paths, { unrolled: compilation.unrolled, shortest: true }) : draft;
    const isUnclear = mayMeetTwice(forms);
    const input = isUnclear || search ? numbered(from, compilation) : from;
    const tables = forms.map((form) =>
      new FormSql(form, input, compilation, inner, {
        reading,
        differentEdges,
        conditions,
        walks: isUnclear,
        search: search !== undefined,
        shortest: isLocal,
      }).table(),
    );
    const known = together(tables, input, compilation, isUnclear, search !== undefined);
    return search ? chosen(known, input, search, compilation) : known;
  }
}

/** Whether conditions inside a path read lists or paths, so that a longer path may pass where a shorter one does not. */
function asksForLists(forms: readonly Form[]): boolean {
  return forms.some(({ conditions, scopes }) =>
    conditions.some(({ expression, scope }) =>
      [...namesIn(expression)].some((name) => {
        const binding = scopes[scope]!.get(name) ?? scopes[0]!.get(name);
        return binding?.kind === 'group' || binding?.kind === 'path';
      }),
    ),
  );
}

/** Whether two ways through the forms may bind the same: then what is the same is to be counted once. */
function mayMeetTwice(forms: readonly Form[]): boolean {
  const hopsOf = (form: Form, { first, last }: Stretch) =>
    form.links.filter(({ kind, from }) => kind === 'hop' && from >= first && from < last);
  if (forms.some((form) => form.links.some((link) => link.kind === 'hop' && link.bodies.length > 1)))
    return true;
  if (forms.some((form) => form.paths.some((path) => hopsOf(form, path).length > 1))) return true;
  const lengths = (form: Form, { first, last }: Stretch): readonly [number, number] => {
    let [least, most] = [0, 0];
    for (const link of form.links) {
      if (link.from < first || link.from >= last) continue;
      const each = link.kind === 'edge' ? 1 : link.bodies[0]!.links.length;
      least += link.kind === 'edge' ? 1 : link.min * each;
      most += link.kind === 'edge' ? 1 : (link.max ?? Number.POSITIVE_INFINITY) * each;
    }
    return [least, most];
  };
  return forms.some((one, i) =>
    forms.slice(0, i).some((other) =>
      one.paths.every((path, p) => {
        const [[a, b], [c, d]] = [lengths(one, path), lengths(other, other.paths[p]!)];
        return a <= d && c <= b;
      }),
    ),
  );
}

/** The tables of several forms as one, with the same columns. */
function together(
  tables: readonly FormTable[],
  input: Relation,
  { program, dialect }: Compilation,
  isUnclear: boolean,
  isSearched: boolean,
): Relation {
  const names = new Set(tables.flatMap(({ variables }) => [...variables.keys()]));
  const kept = columnNamesOf(input).filter((column) => column !== input.seen?.column);
  const variables = new Map<string, Variable>(input.variables);
  const written = new Map<string, { readonly column: string; readonly kind: Kind }[]>();
  for (const name of names) {
    const values = tables.flatMap((table) => table.variables.get(name) ?? []);
    const base = program.fresh('v');
    const kinds = KINDS.filter((kind) => values.some(({ value }) => value.parts[kind] !== undefined));
    const items = [...new Set(values.flatMap(({ value }) => value.items ?? []))];
    const value: SqlValue = {
      parts: Object.fromEntries(kinds.map((kind) => [kind, `${base}_${kind}`])),
      ...(items.length > 0 && { items }),
    };
    variables.set(name, { value, isGroup: values.some(({ isGroup }) => isGroup) });
    written.set(
      name,
      kinds.map((kind) => ({ kind, column: `${base}_${kind}` })),
    );
  }
  const seen =
    tables[0]!.seen === undefined ? undefined : { column: program.fresh('s'), names: tables[0]!.seenNames };
  const extras = [
    ...(isUnclear ? (['walk', 'taken'] as const) : []),
    ...(isSearched ? (['steps', 'ids'] as const) : []),
  ];
  const selects = tables.map((table) => {
    const columns = [
      ...kept.map((column) => `${table.name}.${column}`),
      ...[...written].flatMap(([name, parts]) =>
        parts.map(({ kind, column }) => {
          const sql = table.variables.get(name)?.value.parts[kind] ?? `CAST(NULL AS ${dialect.types[kind]})`;
          return `${sql} AS ${column}`;
        }),
      ),
      ...(seen ? [`${table.seen} AS ${seen.column}`] : []),
      ...extras.map((extra) => `${table[extra]} AS ${extra}`),
      ...(isSearched ? [`${table.first} AS first_node`, `${table.last} AS last_node`] : []),
    ];
    const list = columns.length > 0 ? columns.join(', ') : '1 AS one';
    return `SELECT ${list} FROM ${table.name}`;
  });
  const all = selects.join('\n  UNION ALL ');
  let name = program.define('m', all);
  if (isUnclear) name = program.define('m', `SELECT DISTINCT * FROM ${name}`);
  return { ...input, name, variables, seen, number: undefined };
}

/** Of the paths of one outer row with the same ends, those that a path search takes. */
function chosen(
  { name, ...relation }: Relation,
  input: Relation,
  search: PathSearch,
  { program, dialect }: Compilation,
): Relation {
  const same = `PARTITION BY ${input.number}, first_node, last_node`;
  const ids = dialect.ordered('ids');
  const rank =
    search === 'ALL SHORTEST'
      ? `MIN(steps) OVER (${same})`
      : `row_number() OVER (${same} ORDER BY steps, ${ids})`;
  const ranked = program.define('k', `SELECT *, ${rank} AS choice FROM ${name}`);
  const condition = search === 'ALL SHORTEST' ? 'steps = choice' : 'choice = 1';
  return { ...relation, name: program.define('k', `SELECT * FROM ${ranked} WHERE ${condition}`) };
}

/** The rows for which a condition holds. */
export function filtered(
  given: Relation,
  condition: MatchClause['where'],
  reading: Reading,
  compilation: Compilation,
  inner: Inner,
): Relation {
  if (!condition) return given;
  const relation = hasSubquery(condition) ? numbered(given, compilation) : given;
  const select = selectFrom(relation, compilation);
  const frame = frameOf(relation, select, inner);
  for (const one of conjuncts(condition)) {
    const sql = compilation.expressions.condition(one, frame, reading);
    // Only an equality may be what joins.
    const isEquality = one.kind === 'comparison' && one.operator === '=';
    const joins = isEquality || namesIn(one).size < 2 || hasSubquery(one);
    select.where.push(joins ? sql : compilation.dialect.afterJoins(sql));
  }
  const columns = columnNamesOf(relation).map((column) => `${relation.name}.${column}`);
  return { ...relation, name: compilation.program.define('f', select.sql(columns)) };
}
