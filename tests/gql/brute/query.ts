/**
 * Queries as plain objects, for the brute-force matcher: what `draw.ts` draws, `shrink.ts` cuts down, `matcher.ts`
 * evaluates and `textOf` writes as text. Written after the published grammar (opengql/grammar, GQL.g4), not after the
 * engine's syntax tree.
 */

export type Literal = null | boolean | number | string;

export type Label =
  | { readonly label: 'name'; readonly name: string }
  | { readonly label: 'any' }
  | { readonly label: 'not'; readonly of: Label }
  | { readonly label: 'and' | 'or'; readonly of: readonly [Label, Label] };

/** The seven directions, by their abbreviations in the grammar. */
export const DIRECTIONS = ['<-', '~', '->', '<~', '~>', '<->', '-'] as const;
export type Direction = (typeof DIRECTIONS)[number];

export const MODES = ['WALK', 'TRAIL', 'SIMPLE', 'ACYCLIC'] as const;
export type Mode = (typeof MODES)[number];

/** Which of the paths between two ends are kept; ALL keeps all of them. */
export const SEARCHES = ['ALL', 'ANY', 'ANY SHORTEST', 'ALL SHORTEST'] as const;
export type Search = (typeof SEARCHES)[number];

/** `{least,most}`, where infinity is no upper bound; or `?`, which is {0,1} except that its variables are not lists. */
export interface Quantifier {
  readonly least: number;
  readonly most: number;
  readonly questioned?: boolean;
}

interface Filler {
  readonly name?: string;
  readonly label?: Label;
  /** Tests by value; never together with `where`. */
  readonly properties?: readonly (readonly [key: string, value: Literal])[];
  readonly where?: Condition;
}

export interface NodePart extends Filler {
  readonly part: 'node';
}
export interface EdgePart extends Filler {
  readonly part: 'edge';
  readonly direction: Direction;
  readonly quantifier?: Quantifier;
}
/** Other ways for a path to go: one by one (`|`), or each for itself, so that equal matches stay (`|+|`). */
export interface Alternatives {
  readonly by: '|' | '|+|';
  readonly of: readonly (readonly Part[])[];
}
/** A path in parentheses; `name` is its variable. */
export interface GroupPart {
  readonly part: 'group';
  readonly name?: string;
  readonly mode?: Mode;
  readonly parts: readonly Part[];
  readonly or?: Alternatives;
  readonly where?: Condition;
  readonly quantifier?: Quantifier;
}
export type Part = NodePart | EdgePart | GroupPart;

export interface PathPattern {
  readonly name?: string;
  readonly search?: Search;
  readonly mode?: Mode;
  readonly parts: readonly Part[];
  readonly or?: Alternatives;
}

export interface MatchClause {
  readonly clause: 'match';
  readonly repeatable: boolean;
  readonly paths: readonly PathPattern[];
  readonly where?: Condition;
}
export interface OptionalClause {
  readonly clause: 'optional';
  readonly of: readonly Clause[];
}
/** Later definitions see earlier ones. */
export interface LetClause {
  readonly clause: 'let';
  readonly names: readonly { readonly name: string; readonly of: Term }[];
}
export interface FilterClause {
  readonly clause: 'filter';
  readonly where: Condition;
  /** Whether `WHERE` is written. */
  readonly long: boolean;
}
/** A row for each item of a list; `counter` numbers them from 0 (OFFSET) or 1 (ORDINALITY). */
export interface ForClause {
  readonly clause: 'for';
  readonly name: string;
  readonly list: Term;
  readonly counter?: { readonly name: string; readonly from: 0 | 1 };
}
/** ORDER BY, OFFSET and LIMIT between statements; the order leaves nothing open. */
export interface PageClause {
  readonly clause: 'page';
  readonly order: readonly SortKey[];
  readonly offset?: number;
  readonly limit?: number;
}
export type Clause = MatchClause | OptionalClause | LetClause | FilterClause | ForClause | PageClause;

export type Term =
  | { readonly term: 'literal'; readonly value: Literal }
  | { readonly term: 'variable'; readonly name: string }
  | { readonly term: 'property'; readonly of: string; readonly key: string }
  | { readonly term: 'sum' | 'difference' | 'product'; readonly left: Term; readonly right: Term }
  | { readonly term: 'truth'; readonly of: Condition }
  | { readonly term: 'list'; readonly of: readonly Literal[] }
  /** VALUE with a query of one aggregate; without `of` COUNT(*). */
  | {
      readonly term: 'query';
      readonly clauses: readonly Clause[];
      readonly fn: Aggregate;
      readonly of?: Term;
    }
  /** A record; its fields by name. */
  | {
      readonly term: 'record';
      readonly fields: readonly (readonly [name: string, of: Term])[];
      /** Whether `RECORD` is written. */
      readonly long: boolean;
    }
  /** PATH_LENGTH of a path, SIZE of a list. */
  | { readonly term: 'length' | 'size'; readonly of: string }
  /** An aggregate along a group variable: of its elements, or of a property of them. */
  | { readonly term: 'along'; readonly fn: Aggregate; readonly of: string; readonly key?: string };

export const COMPARISONS = ['=', '<>', '<', '>', '<=', '>='] as const;
export type Comparison = (typeof COMPARISONS)[number];

export type Condition =
  | { readonly test: 'compare'; readonly op: Comparison; readonly left: Term; readonly right: Term }
  /** A value that is a truth value. */
  | { readonly test: 'value'; readonly of: Term }
  | { readonly test: 'and' | 'or' | 'xor'; readonly of: readonly [Condition, Condition] }
  | { readonly test: 'not'; readonly of: Condition }
  | {
      readonly test: 'truth';
      readonly of: Condition;
      readonly value: boolean | null;
      readonly negated: boolean;
    }
  | { readonly test: 'null'; readonly of: Term; readonly negated: boolean }
  | { readonly test: 'in'; readonly of: Term; readonly list: readonly Literal[]; readonly negated: boolean }
  | { readonly test: 'labeled'; readonly of: string; readonly label: Label; readonly negated: boolean }
  | { readonly test: 'directed'; readonly of: string; readonly negated: boolean }
  | {
      readonly test: 'source' | 'destination';
      readonly node: string;
      readonly edge: string;
      readonly negated: boolean;
    }
  | { readonly test: 'same' | 'different'; readonly of: readonly string[] }
  | { readonly test: 'has'; readonly of: string; readonly key: string }
  | { readonly test: 'exists'; readonly of: readonly Clause[]; readonly bare: boolean };

export const AGGREGATES = ['COUNT', 'SUM', 'AVG', 'MIN', 'MAX', 'COLLECT_LIST'] as const;
export type Aggregate = (typeof AGGREGATES)[number];

export type Item =
  | { readonly item: 'term'; readonly of: Term; readonly alias?: string }
  | { readonly item: 'count'; readonly alias: string }
  | {
      readonly item: 'aggregate';
      readonly fn: Aggregate;
      readonly distinct: boolean;
      readonly of: Term;
      readonly alias: string;
    };

export interface SortKey {
  /** Name of a column or value, or a property of a variable, or the id of an element. */
  readonly by: string | { readonly of: string; readonly key?: string };
  readonly descending: boolean;
  readonly nulls?: 'FIRST' | 'LAST';
}

export interface Result {
  readonly distinct: boolean;
  readonly items: readonly Item[];
  /** Whether `*` is written for the items, which are all variables in their order. */
  readonly star?: boolean;
  /** GROUP BY: variables, and names of columns; `()` when empty. */
  readonly groupBy?: readonly string[];
  readonly order: readonly SortKey[];
  readonly offset?: number;
  readonly limit?: number;
}

/** Statements that end in one RETURN. */
export interface Linear {
  readonly clauses: readonly Clause[];
  readonly result: Result;
}

export const CONJUNCTIONS = [
  'UNION',
  'UNION ALL',
  'UNION DISTINCT',
  'EXCEPT',
  'EXCEPT ALL',
  'EXCEPT DISTINCT',
  'INTERSECT',
  'INTERSECT ALL',
  'INTERSECT DISTINCT',
  'OTHERWISE',
] as const;
export type Conjunction = (typeof CONJUNCTIONS)[number];

/** Results joined from left to right. */
export interface Statement extends Linear {
  readonly others: readonly { readonly by: Conjunction; readonly part: Linear }[];
}

export interface Query extends Statement {
  /** What comes first, each followed by NEXT. */
  readonly before: readonly Statement[];
}

/** A query of one RETURN. */
export function simpleQuery(clauses: readonly Clause[], result: Result): Query {
  return { clauses, result, others: [], before: [] };
}

/** The query as text. */
export function textOf(query: Query): string {
  return [...query.before, query].map(statementText).join(' NEXT ');
}

function statementText(statement: Statement): string {
  return [linearText(statement), ...statement.others.map(({ by, part }) => `${by} ${linearText(part)}`)].join(
    ' ',
  );
}

function linearText({ clauses, result }: Linear): string {
  return [...clauses.map(clauseText), resultText(result)].join(' ');
}

function clauseText(clause: Clause): string {
  if (clause.clause === 'match') return `MATCH ${graphPatternText(clause)}`;
  if (clause.clause === 'let')
    return `LET ${clause.names.map(({ name, of }) => `${name} = ${termText(of)}`).join(', ')}`;
  if (clause.clause === 'for') {
    const { name, list, counter } = clause;
    const numbered =
      counter === undefined ? '' : ` WITH ${counter.from === 0 ? 'OFFSET' : 'ORDINALITY'} ${counter.name}`;
    return `FOR ${name} IN ${termText(list)}${numbered}`;
  }
  if (clause.clause === 'page') return pageText(clause);
  if (clause.clause === 'filter')
    return `FILTER ${clause.long ? 'WHERE ' : ''}${conditionText(clause.where)}`;
  const [only, ...others] = clause.of;
  return others.length === 0 && only?.clause === 'match'
    ? `OPTIONAL ${clauseText(only)}`
    : `OPTIONAL { ${clause.of.map(clauseText).join(' ')} }`;
}

function graphPatternText({ repeatable, paths, where }: MatchClause): string {
  return `${repeatable ? 'REPEATABLE ELEMENTS ' : ''}${paths.map(pathText).join(', ')}${whereText(where)}`;
}

function pathText({ name, search, mode, parts, or }: PathPattern): string {
  const ways = or === undefined ? partsText(parts) : [parts, ...or.of].map(partsText).join(` ${or.by} `);
  const declaration = name === undefined ? [] : [`${name} =`];
  return [...declaration, search ?? [], mode ?? [], ways].flat().join(' ');
}

function whereText(where: Condition | undefined): string {
  return where === undefined ? '' : ` WHERE ${conditionText(where)}`;
}

/** A blank keeps edges apart that would meet as `--`, which begins a comment, or as another arrow. */
function partsText(parts: readonly Part[]): string {
  return parts
    .map(
      (part, at) => `${part.part === 'edge' && parts[at - 1]?.part === 'edge' ? ' ' : ''}${partText(part)}`,
    )
    .join('');
}

function partText(part: Part): string {
  if (part.part === 'node') return `(${fillerText(part)})`;
  if (part.part === 'group')
    return `(${pathText(part)}${whereText(part.where)})${quantifierText(part.quantifier)}`;
  const filler = fillerText(part);
  const edge = filler === '' ? part.direction : BRACKETS[part.direction].join(filler);
  return edge + quantifierText(part.quantifier);
}

const BRACKETS: Readonly<Record<Direction, readonly [string, string]>> = {
  '<-': ['<-[', ']-'],
  '~': ['~[', ']~'],
  '->': ['-[', ']->'],
  '<~': ['<~[', ']~'],
  '~>': ['~[', ']~>'],
  '<->': ['<-[', ']->'],
  '-': ['-[', ']-'],
};

function fillerText({ name = '', label, properties, where }: Filler): string {
  const labels = label === undefined ? '' : `:${labelText(label)}`;
  const values =
    properties === undefined
      ? ''
      : ` {${properties.map(([key, value]) => `${key}: ${literalText(value)}`).join(', ')}}`;
  return `${name}${labels}${values}${whereText(where)}`.trimStart();
}

function quantifierText(quantifier: Quantifier | undefined): string {
  if (quantifier === undefined) return '';
  const { least, most, questioned } = quantifier;
  if (questioned) return '?';
  if (most === Number.POSITIVE_INFINITY) return least === 0 ? '*' : least === 1 ? '+' : `{${least},}`;
  return least === most ? `{${least}}` : `{${least},${most}}`;
}

/** `|` binds least, then `&`, then `!`; parentheses only where they are needed. */
function labelText(label: Label, least = 0): string {
  const strength = { or: 0, and: 1, not: 2, name: 3, any: 3 }[label.label];
  const text = (() => {
    switch (label.label) {
      case 'name':
        return label.name;
      case 'any':
        return '%';
      case 'not':
        return `!${labelText(label.of, 2)}`;
      case 'and':
        return label.of.map((one) => labelText(one, 1)).join('&');
      case 'or':
        return label.of.map((one) => labelText(one, 0)).join('|');
    }
  })();
  return strength < least ? `(${text})` : text;
}

function literalText(value: Literal): string {
  if (value === null) return 'NULL';
  return typeof value === 'string' ? `'${value}'` : String(value).toUpperCase();
}

function termText(term: Term): string {
  switch (term.term) {
    case 'literal':
      return literalText(term.value);
    case 'variable':
      return term.name;
    case 'property':
      return `${term.of}.${term.key}`;
    case 'sum':
    case 'difference':
    case 'product': {
      const sign = { sum: '+', difference: '-', product: '*' }[term.term];
      return `(${termText(term.left)} ${sign} ${termText(term.right)})`;
    }
    case 'query': {
      const asked = term.of === undefined ? 'COUNT(*)' : `${term.fn}(${termText(term.of)})`;
      return `VALUE { ${term.clauses.map(clauseText).join(' ')} RETURN ${asked} AS r }`;
    }
    case 'list':
      return `[${term.of.map(literalText).join(', ')}]`;
    case 'record': {
      const fields = term.fields.map(([name, of]) => `${name}: ${termText(of)}`);
      return `${term.long ? 'RECORD ' : ''}{${fields.join(', ')}}`;
    }
    case 'truth':
      return `(${conditionText(term.of)})`;
    case 'length':
      return `PATH_LENGTH(${term.of})`;
    case 'size':
      return `SIZE(${term.of})`;
    case 'along':
      return `${term.fn}(${term.of}${term.key === undefined ? '' : `.${term.key}`})`;
  }
}

/** Precedence by the grammar: OR and XOR bind least, then AND, IS TRUE, NOT. Parentheses only where they are needed. */
export function conditionText(condition: Condition, least = 0): string {
  const not = 'negated' in condition && condition.negated ? 'NOT ' : '';
  const [strength, text] = ((): readonly [number, string] => {
    switch (condition.test) {
      case 'compare':
        return [4, `${termText(condition.left)} ${condition.op} ${termText(condition.right)}`];
      case 'value':
        return [4, termText(condition.of)];
      case 'or':
      case 'xor':
        return [
          0,
          `${conditionText(condition.of[0], 0)} ${condition.test.toUpperCase()} ${conditionText(condition.of[1], 1)}`,
        ];
      case 'and':
        return [1, `${conditionText(condition.of[0], 1)} AND ${conditionText(condition.of[1], 2)}`];
      case 'not':
        return [3, `NOT ${conditionText(condition.of, 4)}`];
      case 'truth': {
        const value = condition.value === null ? 'UNKNOWN' : String(condition.value).toUpperCase();
        return [2, `${conditionText(condition.of, 9)} IS ${not}${value}`];
      }
      case 'null':
        return [4, `${termText(condition.of)} IS ${not}NULL`];
      case 'in':
        return [4, `${termText(condition.of)} ${not}IN [${condition.list.map(literalText).join(', ')}]`];
      case 'labeled':
        return [4, `${condition.of} IS ${not}LABELED ${labelText(condition.label, 3)}`];
      case 'directed':
        return [4, `${condition.of} IS ${not}DIRECTED`];
      case 'source':
      case 'destination':
        return [4, `${condition.node} IS ${not}${condition.test.toUpperCase()} OF ${condition.edge}`];
      case 'same':
        return [4, `SAME(${condition.of.join(', ')})`];
      case 'different':
        return [4, `ALL_DIFFERENT(${condition.of.join(', ')})`];
      case 'has':
        return [4, `PROPERTY_EXISTS(${condition.of}, ${condition.key})`];
      case 'exists': {
        const [only] = condition.of;
        const bare = condition.bare && condition.of.length === 1 && only?.clause === 'match';
        return [4, `EXISTS { ${bare ? graphPatternText(only) : condition.of.map(clauseText).join(' ')} }`];
      }
    }
  })();
  return strength < least ? `(${text})` : text;
}

function itemText(item: Item): string {
  const alias = item.alias === undefined ? '' : ` AS ${item.alias}`;
  switch (item.item) {
    case 'term':
      return termText(item.of) + alias;
    case 'count':
      return `COUNT(*)${alias}`;
    case 'aggregate':
      return `${item.fn}(${item.distinct ? 'DISTINCT ' : ''}${termText(item.of)})${alias}`;
  }
}

function resultText(result: Result): string {
  const { distinct, items, star, groupBy } = result;
  const columns = star ? '*' : items.map(itemText).join(', ');
  const groups = groupBy === undefined ? '' : ` GROUP BY ${groupBy.length === 0 ? '()' : groupBy.join(', ')}`;
  return `RETURN ${distinct ? 'DISTINCT ' : ''}${columns}${groups} ${pageText(result)}`.trimEnd();
}

function pageText({ order, offset, limit }: Pick<Result, 'order' | 'offset' | 'limit'>): string {
  const keys = order.map(({ by, descending, nulls }) => {
    const key =
      typeof by === 'string' ? by : by.key === undefined ? `ELEMENT_ID(${by.of})` : `${by.of}.${by.key}`;
    return `${key}${descending ? ' DESC' : ''}${nulls === undefined ? '' : ` NULLS ${nulls}`}`;
  });
  return [
    ...(keys.length > 0 ? [`ORDER BY ${keys.join(', ')}`] : []),
    ...(offset === undefined ? [] : [`OFFSET ${offset}`]),
    ...(limit === undefined ? [] : [`LIMIT ${limit}`]),
  ].join(' ');
}
