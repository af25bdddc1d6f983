/**
 * The syntax tree of the pattern language: a read-only subset of ISO/IEC 39075:2024 (GQL). One discriminated union
 * of plain readonly data; `parse.ts` makes it, `print.ts` writes it back, `children.ts` walks it.
 *
 * The meaning of a query, without regard to speed: `evaluateNaively(query, graph, parameters)` in
 * `tests/gql/oracle/evaluate.ts`. What is supported: `src/gql/CONFORMANCE.md`.
 *
 * Shapes that the text writes in several ways have one form here:
 * - `-[]->` and `->` are both an edge pattern without variable, labels and predicate;
 * - `OPTIONAL MATCH …` is an optional clause that holds one match clause;
 * - `LET x = 1, y = 2` is two let clauses;
 * - `A NEXT B` is the query B whose first clause is the table of A; `A UNION B` is a query of that table alone;
 * - `UNION DISTINCT` is `UNION`, and so on;
 * - `x <> 1` and `x NOT IN [1]` keep a form of their own, `NOT x = 1` is a `not`;
 * - `WHEN 5` in a simple CASE is the comparison `= 5` on a `case-subject`;
 * - keywords and function names are upper case; other names keep their letters.
 * Parentheses leave no trace except where they are a `parenthesized-path`.
 *
 * Over 400 lines, so that the whole tree is in one place.
 */

/** Place of a piece of syntax in the text: UTF-16 units, `end` not included. */
export interface Span {
  readonly start: number;
  readonly end: number;
}

/** A variable, label, property, alias, function or parameter name, without delimiters, escapes resolved. */
export interface Name {
  readonly kind: 'name';
  readonly text: string;
  readonly span: Span;
}

// ─── Query ──────────────────────────────────────────────────────────────────────────────────────────────────────

export interface Query {
  readonly kind: 'query';
  readonly clauses: readonly Clause[];
  readonly result: ReturnClause;
  readonly orderBy: readonly SortKey[];
  /** A non-negative integer literal or a parameter. */
  readonly offset: NumberLiteral | Parameter | undefined;
  readonly limit: NumberLiteral | Parameter | undefined;
  readonly span: Span;
}

/** What finds rows in the graph: alone in OPTIONAL and EXISTS. */
export type MatchingClause = MatchClause | OptionalClause;

/** What makes rows of rows, in the order of the text. */
export type Clause = MatchingClause | LetClause | FilterClause | ForClause | PageClause | TableClause;

/** `MATCH …`: paths that are matched together, under one match mode. */
export interface MatchClause {
  readonly kind: 'match';
  /** Undefined when the text has none; the language's default is DIFFERENT EDGES. */
  readonly mode: MatchMode | undefined;
  /** At least one. */
  readonly paths: readonly PathPattern[];
  readonly where: Expression | undefined;
  readonly span: Span;
}

/** `OPTIONAL MATCH …` or `OPTIONAL { MATCH … MATCH … }`: all of it, or its variables are null. */
export interface OptionalClause {
  readonly kind: 'optional';
  readonly clauses: readonly MatchingClause[];
  readonly span: Span;
}

/** `LET x = …`: a value by name. */
export interface LetClause {
  readonly kind: 'let';
  readonly variable: Name;
  readonly value: Expression;
  readonly span: Span;
}

/** `FILTER …`: leaves the rows of which the condition is true. */
export interface FilterClause {
  readonly kind: 'filter';
  readonly condition: Expression;
  readonly span: Span;
}

/** `FOR x IN list`: a row for each item. */
export interface ForClause {
  readonly kind: 'for';
  readonly variable: Name;
  readonly list: Expression;
  /** `WITH ORDINALITY i` counts from 1, `WITH OFFSET i` from 0. */
  readonly position: { readonly kind: 'ORDINALITY' | 'OFFSET'; readonly variable: Name } | undefined;
  readonly span: Span;
}

/** `ORDER BY … OFFSET … LIMIT …` between other clauses; has at least one of them. */
export interface PageClause {
  readonly kind: 'page';
  readonly orderBy: readonly SortKey[];
  readonly offset: NumberLiteral | Parameter | undefined;
  readonly limit: NumberLiteral | Parameter | undefined;
  readonly span: Span;
}

/**
 * The rows of complete queries, for the clauses behind it: what stands before a NEXT, or what UNION and the like combine. Always
 * the first clause of its query, whose variables are the columns.
 */
export interface TableClause {
  readonly kind: 'table';
  /** The table before the NEXT before, from whose rows each of several parts goes on; one part has it as its own first clause. */
  readonly input: TableClause | undefined;
  /** At least one, combined from left to right; their columns have the same names. */
  readonly parts: readonly TablePart[];
  readonly span: Span;
}

export interface TablePart {
  readonly kind: 'table-part';
  /** Undefined for the first. */
  readonly conjunction: Conjunction | undefined;
  readonly query: Query;
  readonly span: Span;
}

export type Conjunction =
  | 'UNION'
  | 'UNION ALL'
  | 'EXCEPT'
  | 'EXCEPT ALL'
  | 'INTERSECT'
  | 'INTERSECT ALL'
  | 'OTHERWISE';

export type MatchMode = 'DIFFERENT EDGES' | 'REPEATABLE ELEMENTS';
/**
 * Which paths are kept of those with the same first and the same last node; ALL, or none, keeps all. Where ANY has a
 * choice it takes a shortest, and of these the first by the ids of its elements.
 */
export type PathSearch = 'ALL' | 'ANY' | 'ANY SHORTEST' | 'ALL SHORTEST';
export type PathMode = 'WALK' | 'TRAIL' | 'SIMPLE' | 'ACYCLIC';

export interface ReturnClause {
  readonly kind: 'return';
  readonly distinct: boolean;
  /** Undefined for `*`. */
  readonly items: readonly ReturnItem[] | undefined;
  /** Set when the text has no RETURN: its rows are those of the table that is the query's one clause. */
  readonly implied?: true;
  /** Undefined: no GROUP BY; empty: `GROUP BY ()`. Names of binding variables or of return items. */
  readonly groupBy: readonly Variable[] | undefined;
  readonly span: Span;
}

export interface ReturnItem {
  readonly kind: 'return-item';
  readonly value: Expression;
  readonly alias: Name | undefined;
  readonly span: Span;
}

export interface SortKey {
  readonly kind: 'sort-key';
  readonly value: Expression;
  readonly descending: boolean;
  /** Undefined when the text does not say. */
  readonly nulls: 'FIRST' | 'LAST' | undefined;
  readonly span: Span;
}

// ─── Patterns ───────────────────────────────────────────────────────────────────────────────────────────────────

export interface PathPattern {
  readonly kind: 'path-pattern';
  readonly variable: Name | undefined;
  /** Undefined when the text has none, which means ALL. */
  readonly search: PathSearch | undefined;
  /** Undefined when the text has none, which means WALK. */
  readonly mode: PathMode | undefined;
  /** At least one. Neighbours need not alternate: two edges have an unnamed node between them. */
  readonly factors: readonly PathFactor[];
  readonly span: Span;
}

export type PathFactor =
  | NodePattern
  | EdgePattern
  | ParenthesizedPath
  | QuantifiedPath
  | QuestionedPath
  | PathAlternation;

/**
 * `path | path` or `path |+| path`: one of them. The only factor of a path pattern or of a parenthesized path. The first form
 * has what two of them find alike once, the second each time.
 */
export interface PathAlternation {
  readonly kind: 'path-alternation';
  readonly multiset: boolean;
  /** At least two, each with at least one factor, none of which is an alternation. */
  readonly branches: readonly PathTerm[];
  readonly span: Span;
}

/** One branch of an alternation. */
export interface PathTerm {
  readonly kind: 'path-term';
  readonly factors: readonly PathFactor[];
  readonly span: Span;
}

export interface NodePattern {
  readonly kind: 'node-pattern';
  readonly variable: Name | undefined;
  readonly labels: LabelExpression | undefined;
  /** Empty when there is no property list; a pattern has a property list or WHERE, not both. */
  readonly properties: readonly PropertyTest[];
  readonly where: Expression | undefined;
  readonly span: Span;
}

export interface EdgePattern {
  readonly kind: 'edge-pattern';
  readonly direction: EdgeDirection;
  readonly variable: Name | undefined;
  readonly labels: LabelExpression | undefined;
  readonly properties: readonly PropertyTest[];
  readonly where: Expression | undefined;
  readonly span: Span;
}

/** As the text reads from left to right: `->`, `<-`, `~`, `<~`, `~>`, `<->`, `-`. */
export type EdgeDirection =
  | 'right'
  | 'left'
  | 'undirected'
  | 'left-or-undirected'
  | 'undirected-or-right'
  | 'left-or-right'
  | 'any';

/** `key: value` in a property list: the property equals the value. */
export interface PropertyTest {
  readonly kind: 'property-test';
  readonly key: Name;
  readonly value: Expression;
  readonly span: Span;
}

/** `( [name =] [mode] path [WHERE …] )`. */
export interface ParenthesizedPath {
  readonly kind: 'parenthesized-path';
  readonly variable: Name | undefined;
  readonly mode: PathMode | undefined;
  readonly factors: readonly PathFactor[];
  readonly where: Expression | undefined;
  readonly span: Span;
}

/** A quantified edge is the same as the quantified `(()-[…]-())`. Variables inside are group variables outside. */
export interface QuantifiedPath {
  readonly kind: 'quantified-path';
  readonly path: EdgePattern | ParenthesizedPath;
  readonly min: number;
  /** Undefined: no upper bound. */
  readonly max: number | undefined;
  readonly span: Span;
}

/** `path?`: once or not at all. Variables inside are single outside, null when it was left out. */
export interface QuestionedPath {
  readonly kind: 'questioned-path';
  readonly path: EdgePattern | ParenthesizedPath;
  readonly span: Span;
}

// ─── Label expressions ──────────────────────────────────────────────────────────────────────────────────────────

export type LabelExpression = LabelName | LabelWildcard | LabelNegation | LabelConjunction | LabelDisjunction;

export interface LabelName {
  readonly kind: 'label-name';
  readonly name: string;
  readonly span: Span;
}

/** `%`: has at least one label. */
export interface LabelWildcard {
  readonly kind: 'label-wildcard';
  readonly span: Span;
}

export interface LabelNegation {
  readonly kind: 'label-negation';
  readonly operand: LabelExpression;
  readonly span: Span;
}

export interface LabelConjunction {
  readonly kind: 'label-conjunction';
  /** At least two. */
  readonly operands: readonly LabelExpression[];
  readonly span: Span;
}

export interface LabelDisjunction {
  readonly kind: 'label-disjunction';
  /** At least two. */
  readonly operands: readonly LabelExpression[];
  readonly span: Span;
}

// ─── Value expressions and predicates ───────────────────────────────────────────────────────────────────────────

export type Expression =
  | NumberLiteral
  | StringLiteral
  | BooleanLiteral
  | NullLiteral
  | TemporalLiteral
  | ListConstructor
  | RecordConstructor
  | Parameter
  | Variable
  | PropertyReference
  | Sign
  | Arithmetic
  | Concatenation
  | Comparison
  | Not
  | Logical
  | IsNull
  | IsTruth
  | IsLabeled
  | IsDirected
  | IsEndpoint
  | InList
  | Exists
  | ValueQuery
  | AllDifferent
  | Same
  | PropertyExists
  | Case
  | CaseSubject
  | Cast
  | Trim
  | Call
  | Aggregate;

export interface NumberLiteral {
  readonly kind: 'number';
  /** Finite, not negative. */
  readonly value: number;
  readonly span: Span;
}

export interface StringLiteral {
  readonly kind: 'string';
  readonly value: string;
  readonly span: Span;
}

export interface BooleanLiteral {
  readonly kind: 'boolean';
  readonly value: boolean;
  readonly span: Span;
}

/** `NULL`, and `UNKNOWN`, which is the same value. */
export interface NullLiteral {
  readonly kind: 'null';
  readonly span: Span;
}

/** `DATE '2024-05-01'` and the like. */
export interface TemporalLiteral {
  readonly kind: 'temporal';
  readonly type: TemporalType;
  /** As between the quotes; the parser has made sure that it can be read. */
  readonly text: string;
  readonly span: Span;
}

export type TemporalType = 'DATE' | 'TIME' | 'DATETIME' | 'DURATION';

export interface ListConstructor {
  readonly kind: 'list';
  readonly items: readonly Expression[];
  readonly span: Span;
}

/** `{key: value, …}`, also with RECORD before it. */
export interface RecordConstructor {
  readonly kind: 'record';
  /** Of different keys. */
  readonly fields: readonly RecordField[];
  readonly span: Span;
}

export interface RecordField {
  readonly kind: 'record-field';
  readonly key: Name;
  readonly value: Expression;
  readonly span: Span;
}

/** `$name`. */
export interface Parameter {
  readonly kind: 'parameter';
  /** Without the dollar sign. */
  readonly name: string;
  readonly span: Span;
}

export interface Variable {
  readonly kind: 'variable';
  readonly name: string;
  readonly span: Span;
}

/** `object.key`. */
export interface PropertyReference {
  readonly kind: 'property';
  readonly object: Expression;
  readonly key: Name;
  readonly span: Span;
}

export interface Sign {
  readonly kind: 'sign';
  readonly operator: '+' | '-';
  readonly operand: Expression;
  readonly span: Span;
}

export interface Arithmetic {
  readonly kind: 'arithmetic';
  readonly operator: '+' | '-' | '*' | '/';
  readonly left: Expression;
  readonly right: Expression;
  readonly span: Span;
}

/** `left || right`: strings, lists or paths. */
export interface Concatenation {
  readonly kind: 'concatenation';
  readonly left: Expression;
  readonly right: Expression;
  readonly span: Span;
}

export type ComparisonOperator = '=' | '<>' | '<' | '<=' | '>' | '>=';

export interface Comparison {
  readonly kind: 'comparison';
  readonly operator: ComparisonOperator;
  readonly left: Expression;
  readonly right: Expression;
  readonly span: Span;
}

export interface Not {
  readonly kind: 'not';
  readonly operand: Expression;
  readonly span: Span;
}

/** A run of one operator, applied from left to right. OR and XOR bind alike: `a OR b XOR c` is `(a OR b) XOR c`. */
export interface Logical {
  readonly kind: 'logical';
  readonly operator: 'AND' | 'OR' | 'XOR';
  /** At least two. */
  readonly operands: readonly Expression[];
  readonly span: Span;
}

/** `x IS [NOT] NULL`. */
export interface IsNull {
  readonly kind: 'is-null';
  readonly operand: Expression;
  readonly negated: boolean;
  readonly span: Span;
}

/** `x IS [NOT] TRUE | FALSE | UNKNOWN`. */
export interface IsTruth {
  readonly kind: 'is-truth';
  readonly operand: Expression;
  /** Null for UNKNOWN. */
  readonly truth: boolean | null;
  readonly negated: boolean;
  readonly span: Span;
}

/** `x IS [NOT] LABELED L`, also written `x:L`. */
export interface IsLabeled {
  readonly kind: 'is-labeled';
  readonly element: Variable;
  readonly labels: LabelExpression;
  readonly negated: boolean;
  readonly span: Span;
}

/** `e IS [NOT] DIRECTED`. */
export interface IsDirected {
  readonly kind: 'is-directed';
  readonly edge: Variable;
  readonly negated: boolean;
  readonly span: Span;
}

/** `n IS [NOT] SOURCE OF e`, `n IS [NOT] DESTINATION OF e`. */
export interface IsEndpoint {
  readonly kind: 'is-endpoint';
  readonly end: 'SOURCE' | 'DESTINATION';
  readonly node: Variable;
  readonly edge: Variable;
  readonly negated: boolean;
  readonly span: Span;
}

/** `x [NOT] IN list`: ours, GQL has no such predicate. */
export interface InList {
  readonly kind: 'in';
  readonly operand: Expression;
  readonly list: Expression;
  readonly negated: boolean;
  readonly span: Span;
}

/** `EXISTS { MATCH … }`; `EXISTS { (a)-[…]->(b) }` is the same with one match clause. */
export interface Exists {
  readonly kind: 'exists';
  /** At least one. */
  readonly clauses: readonly MatchingClause[];
  readonly span: Span;
}

/** `VALUE { … RETURN … }`: the one value of the one row, null when there is none. */
export interface ValueQuery {
  readonly kind: 'value-query';
  readonly query: Query;
  readonly span: Span;
}

export interface AllDifferent {
  readonly kind: 'all-different';
  /** At least two. */
  readonly elements: readonly Variable[];
  readonly span: Span;
}

export interface Same {
  readonly kind: 'same';
  /** At least two. */
  readonly elements: readonly Variable[];
  readonly span: Span;
}

export interface PropertyExists {
  readonly kind: 'property-exists';
  readonly element: Variable;
  readonly key: Name;
  readonly span: Span;
}

export interface Case {
  readonly kind: 'case';
  /** Present in a simple CASE; its branches' conditions are predicates on a `case-subject`. */
  readonly subject: Expression | undefined;
  /** At least one; the first with a true condition gives the value. */
  readonly branches: readonly CaseBranch[];
  /** Undefined: NULL. */
  readonly otherwise: Expression | undefined;
  readonly span: Span;
}

export interface CaseBranch {
  readonly kind: 'case-branch';
  /** One, or several in a simple CASE (`WHEN 1, 2`): any of them. */
  readonly conditions: readonly Expression[];
  readonly result: Expression;
  readonly span: Span;
}

/** The value of the innermost simple CASE whose branch condition contains this. Has no text of its own. */
export interface CaseSubject {
  readonly kind: 'case-subject';
  readonly span: Span;
}

export type CastType = 'STRING' | 'INTEGER' | 'FLOAT' | 'BOOLEAN' | 'DATE' | 'TIME' | 'DATETIME' | 'DURATION';

/** `CAST(x AS type)`. */
export interface Cast {
  readonly kind: 'cast';
  readonly operand: Expression;
  readonly type: CastType;
  readonly span: Span;
}

/** `TRIM([LEADING | TRAILING | BOTH] [characters] FROM source)`, `TRIM(source)`. */
export interface Trim {
  readonly kind: 'trim';
  readonly side: 'LEADING' | 'TRAILING' | 'BOTH';
  /** Undefined: a space. */
  readonly character: Expression | undefined;
  readonly source: Expression;
  readonly span: Span;
}

/** A function of the standard or an extension function. Includes COALESCE, NULLIF, CURRENT_DATE, PATH_LENGTH, SIZE. */
export interface Call {
  readonly kind: 'call';
  /** Upper case. */
  readonly name: string;
  readonly nameSpan: Span;
  readonly arguments: readonly Expression[];
  readonly span: Span;
}

export type AggregateName =
  | 'COUNT'
  | 'SUM'
  | 'AVG'
  | 'MIN'
  | 'MAX'
  | 'COLLECT_LIST'
  | 'STDDEV_SAMP'
  | 'STDDEV_POP'
  | 'PERCENTILE_CONT'
  | 'PERCENTILE_DISC';

/**
 * An aggregate. Over rows, or over a list when its argument refers to a group variable; `check/analysis.ts` decides
 * which.
 */
export interface Aggregate {
  readonly kind: 'aggregate';
  readonly name: AggregateName;
  readonly distinct: boolean;
  /** Undefined for COUNT(*). */
  readonly argument: Expression | undefined;
  /** Second argument of PERCENTILE_…: a number in 0–1. */
  readonly fraction: Expression | undefined;
  readonly span: Span;
}

/** Every kind of node in the tree. */
export type Syntax =
  | Name
  | Query
  | Clause
  | TablePart
  | ReturnClause
  | ReturnItem
  | SortKey
  | PathPattern
  | PathTerm
  | PathFactor
  | PropertyTest
  | LabelExpression
  | Expression
  | RecordField
  | CaseBranch;
