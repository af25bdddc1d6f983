/**
 * A text of the language as one SQL query, for an engine that holds the graph in the tables of `sql-schema.ts`. It has the rows
 * that `runPattern` has with the same options; what cannot be written so that this is sure is refused with its place.
 */

import { Source } from '../../text/source.ts';
import { problemAt } from '../language/problem.ts';
import { checkParameters, pageProblems } from '../parameters.ts';
import { PatternError, type PreparedPattern } from '../prepared-pattern.ts';
import type { Kind } from './dialect.ts';
import { DIALECTS, type DialectName, quotedName } from './dialect.ts';
import { Expressions } from './expressions.ts';
import { QueryCompiler } from './query.ts';
import { type Compilation, Program, START } from './relation.ts';
import type { SqlFunction, SqlSchema } from './sql-schema.ts';
import { kindsOf, NotInSql } from './sql-value.ts';

export interface SqlOptions {
  readonly dialect: DialectName;
  readonly schema: SqlSchema;
  readonly parameters?: Readonly<Record<string, unknown>> | undefined;
  /** As for `runPattern`. @default false */
  readonly distinctNodes?: boolean | undefined;
  /** Extension functions, by upper-case name. */
  readonly functions?: Readonly<Record<string, SqlFunction>> | undefined;
  /** Quantified parts with so many repetitions at most are written out instead of walked by a recursive query. @default 2 */
  readonly unrolled?: number | undefined;
  /** Most rows, beyond what the text says. */
  readonly rows?: number | undefined;
}

/** A column of the answer: columns of the SQL answer, of which at most one is not null in a row. */
export interface SqlColumn {
  readonly name: string;
  readonly parts: readonly { readonly kind: Kind; readonly at: number }[];
}

export interface CompiledSql {
  readonly sql: string;
  readonly columns: readonly SqlColumn[];
}

/**
 * @throws PatternError with the place of what is not compiled, or of a parameter that is not right
 */
export function compileSql(pattern: PreparedPattern, options: SqlOptions): CompiledSql {
  const { parameters = {}, schema, distinctNodes = false } = options;
  checkParameters(parameters);
  const { tree, text } = pattern;
  const wrong = pageProblems(tree, text, parameters);
  if (wrong.length > 0) throw new PatternError(wrong);
  const dialect = DIALECTS[options.dialect];
  const program = new Program();
  const functions = options.functions ?? {};
  const expressions = new Expressions({ dialect, schema, parameters, functions, names: program.fresh });
  const compilation: Compilation = {
    program,
    dialect,
    schema,
    expressions,
    distinctNodes,
    unrolled: options.unrolled ?? 2,
  };
  const compiler = new QueryCompiler(compilation, parameters);
  try {
    const { relation, columns, order } = compiler.query(tree, START, { uncut: true });
    const page = compiler.page(tree);
    const limits = [page?.limit, options.rows].filter((one) => one !== undefined);
    const parts: string[] = [];
    const used = new Set<string>();
    const described = columns.map((name): SqlColumn => {
      const { value } = relation.variables.get(name)!;
      const kinds = kindsOf(value);
      const own = kinds.map((kind) => {
        parts.push(
          `${value.parts[kind]} AS ${quotedName(unique(kinds.length > 1 ? `${name} (${kind})` : name, used))}`,
        );
        return { kind, at: parts.length - 1 };
      });
      return { name, parts: own };
    });
    const list = parts.length > 0 ? parts.join(', ') : 'CAST(NULL AS BOOLEAN) AS nothing';
    const from = relation.name === undefined ? '' : ` FROM ${relation.name}`;
    const limit = limits.length > 0 ? ` LIMIT ${Math.min(...limits)}` : '';
    const offset = page && page.offset > 0 ? ` OFFSET ${page.offset}` : '';
    return {
      sql: program.sql(`SELECT ${list}${from}${compiler.orderBy(order)}${limit}${offset}`),
      columns: described,
    };
  } catch (error) {
    if (!(error instanceof NotInSql)) throw error;
    throw new PatternError([problemAt(new Source(text), 'not-in-sql', error.span, `${error.message}.`)]);
  }
}

/** A name that no other column has, letters compared without case as some engines do; at most 63 bytes, as PostgreSQL cuts them. */
function unique(wanted: string, used: Set<string>): string {
  let name = wanted.replaceAll('\0', '').slice(0, 20);
  for (let i = 2; used.has(name.toLowerCase()); i++) name = `${wanted.slice(0, 16)} ${i}`;
  used.add(name.toLowerCase());
  return name;
}
