/** Syntax trees made at random: every kind of node, with names and texts that need quoting. */
import fc from 'fast-check';
import type {
  Aggregate,
  CaseBranch,
  CaseSubject,
  Clause,
  EdgePattern,
  Expression,
  LabelExpression,
  MatchClause,
  MatchingClause,
  Name,
  NodePattern,
  PageClause,
  ParenthesizedPath,
  PathFactor,
  PathPattern,
  Query,
  TableClause,
  TablePart,
  Variable,
} from '../../../src/gql/language/ast.ts';
import { AGGREGATE_NAMES } from '../../../src/gql/language/builtin-names.ts';
import { CONJUNCTIONS } from '../random-query.ts';

const span = { start: 0, end: 0 };
const maybe = <T>(value: fc.Arbitrary<T>): fc.Arbitrary<T | undefined> =>
  fc.option(value, { nil: undefined, freq: 3 });
const some = <T>(value: fc.Arbitrary<T>, least = 1, most = 3): fc.Arbitrary<T[]> =>
  fc.array(value, { minLength: least, maxLength: most });

const names = fc.oneof(
  fc.constantFrom(
    'a',
    'b',
    'e',
    'x1',
    '_',
    'été',
    'ß',
    'order',
    'WHERE',
    'small',
    'trail',
    'Different',
    'count',
    'edges',
  ),
  fc.string({ minLength: 1, maxLength: 6, unit: 'binary' }),
  fc.constantFrom("it's", '`', '\\', 'a b', 'a\nb', '"', '$', '-'),
);
const name: fc.Arbitrary<Name> = names.map((text) => ({ kind: 'name', text, span }));
const variable: fc.Arbitrary<Variable> = names
  .filter((text) => !/^(current_(date|time|timestamp)|local_time(stamp)?)$/i.test(text))
  .map((text) => ({ kind: 'variable', name: text, span }));
const number = fc
  .oneof(
    fc.nat(),
    fc.double({ min: 0, noNaN: true, noDefaultInfinity: true }),
    fc.constantFrom(1e21, 1e-7, 2 ** 53 - 1, 2 ** 60, 0.1),
  )
  .map((value) => ({ kind: 'number', value: value + 0, span }) as const);
const text = fc
  .oneof(
    fc.string({ maxLength: 8, unit: 'binary' }),
    fc.constantFrom("'", '"', '\\', '\n', '\r\n', '\t', '--', '/*'),
  )
  .map((value) => ({ kind: 'string', value, span }) as const);
const temporal = fc.constantFrom(
  { kind: 'temporal', type: 'DATE', text: '2024-02-29', span } as const,
  { kind: 'temporal', type: 'TIME', text: '23:59:59.5Z', span } as const,
  { kind: 'temporal', type: 'DATETIME', text: '2024-05-01T00:00:00+02:00', span } as const,
  { kind: 'temporal', type: 'DURATION', text: 'P1Y', span } as const,
);
const parameter = names.map((one) => ({ kind: 'parameter', name: one, span }) as const);
const subject: CaseSubject = { kind: 'case-subject', span };

const binaries = <T extends string>(operators: readonly T[], operand: fc.Arbitrary<Expression>) =>
  fc.record({ operator: fc.constantFrom(...operators), left: operand, right: operand });

type Tied = {
  readonly expression: Expression;
  readonly labels: LabelExpression;
  readonly factor: PathFactor;
  readonly clause: MatchingClause;
};

const tied = fc.letrec<Tied>((tie) => {
  const expression = tie('expression');
  const labels = tie('labels');
  const flag = fc.boolean();
  const simpleBranch: fc.Arbitrary<CaseBranch> = fc
    .record({
      conditions: some(
        fc.oneof(
          expression.map(
            (right): Expression => ({ kind: 'comparison', operator: '=', left: subject, right, span }),
          ),
          fc.record({ operator: fc.constantFrom('<>', '<', '<=', '>', '>='), right: expression }).map(
            ({ operator, right }): Expression => ({
              kind: 'comparison',
              operator,
              left: subject,
              right,
              span,
            }),
          ),
          flag.map((negated): Expression => ({ kind: 'is-null', operand: subject, negated, span })),
          fc
            .record({ truth: fc.constantFrom(true, false, null), negated: flag })
            .map((rest): Expression => ({ kind: 'is-truth', operand: subject, ...rest, span })),
        ),
      ),
      result: expression,
    })
    .map((rest) => ({ kind: 'case-branch', ...rest, span }));
  const searchedBranch: fc.Arbitrary<CaseBranch> = fc
    .record({ conditions: expression.map((one) => [one]), result: expression })
    .map((rest) => ({ kind: 'case-branch', ...rest, span }));
  const aggregate: fc.Arbitrary<Aggregate> = fc
    .record({
      name: fc.constantFrom(...AGGREGATE_NAMES),
      distinct: fc.boolean(),
      argument: expression,
      other: expression,
    })
    .map(({ other, ...rest }) => ({
      kind: 'aggregate',
      ...rest,
      fraction: rest.name.startsWith('PERCENTILE') ? other : undefined,
      span,
    }));
  const compound: fc.Arbitrary<Expression> = fc.oneof(
    some(expression, 0).map((items): Expression => ({ kind: 'list', items, span })),
    fc
      .uniqueArray(fc.record({ key: name, value: expression }), {
        selector: ({ key }) => key.text,
        maxLength: 3,
      })
      .map(
        (fields): Expression => ({
          kind: 'record',
          fields: fields.map((field) => ({ kind: 'record-field', ...field, span })),
          span,
        }),
      ),
    fc
      .record({ clauses: fc.array(tie('clause'), { maxLength: 2 }), value: expression, alias: maybe(name) })
      .map(({ clauses, ...item }): Expression => {
        const items = [{ kind: 'return-item', ...item, span } as const];
        const result = { kind: 'return', distinct: false, items, groupBy: undefined, span } as const;
        const cut = { orderBy: [], offset: undefined, limit: undefined };
        return { kind: 'value-query', query: { kind: 'query', clauses, result, ...cut, span }, span };
      }),
    fc
      .record({ object: expression, key: name })
      .map((rest): Expression => ({ kind: 'property', ...rest, span })),
    fc
      .record({ operator: fc.constantFrom('+', '-'), operand: expression })
      .map((rest): Expression => ({ kind: 'sign', ...rest, span })),
    binaries(['+', '-', '*', '/'], expression).map(
      (rest): Expression => ({ kind: 'arithmetic', ...rest, span }),
    ),
    fc
      .record({ left: expression, right: expression })
      .map((rest): Expression => ({ kind: 'concatenation', ...rest, span })),
    binaries(['=', '<>', '<', '<=', '>', '>='], expression).map(
      (rest): Expression => ({ kind: 'comparison', ...rest, span }),
    ),
    expression.map((operand): Expression => ({ kind: 'not', operand, span })),
    fc
      .record({ operator: fc.constantFrom('AND', 'OR', 'XOR'), operands: some(expression, 2) })
      .map((rest): Expression => ({ kind: 'logical', ...rest, span })),
    fc
      .record({ operand: expression, negated: flag })
      .map((rest): Expression => ({ kind: 'is-null', ...rest, span })),
    fc
      .record({ operand: expression, truth: fc.constantFrom(true, false, null), negated: flag })
      .map((rest): Expression => ({ kind: 'is-truth', ...rest, span })),
    fc
      .record({ element: variable, labels, negated: flag })
      .map((rest): Expression => ({ kind: 'is-labeled', ...rest, span })),
    fc
      .record({ edge: variable, negated: flag })
      .map((rest): Expression => ({ kind: 'is-directed', ...rest, span })),
    fc
      .record({
        end: fc.constantFrom('SOURCE', 'DESTINATION'),
        node: variable,
        edge: variable,
        negated: flag,
      })
      .map((rest): Expression => ({ kind: 'is-endpoint', ...rest, span })),
    fc
      .record({ operand: expression, list: expression, negated: flag })
      .map((rest): Expression => ({ kind: 'in', ...rest, span })),
    some(tie('clause'), 1, 2).map((clauses): Expression => ({ kind: 'exists', clauses, span })),
    fc
      .record({ kind: fc.constantFrom('same', 'all-different'), elements: some(variable, 2) })
      .map((rest): Expression => ({ ...rest, span })),
    fc
      .record({ element: variable, key: name })
      .map((rest): Expression => ({ kind: 'property-exists', ...rest, span })),
    fc
      .record({ subject: expression, branches: some(simpleBranch), otherwise: maybe(expression) })
      .map((rest): Expression => ({ kind: 'case', ...rest, span })),
    fc
      .record({ branches: some(searchedBranch), otherwise: maybe(expression) })
      .map((rest): Expression => ({ kind: 'case', subject: undefined, ...rest, span })),
    fc
      .record({
        operand: expression,
        type: fc.constantFrom(
          'STRING',
          'INTEGER',
          'FLOAT',
          'BOOLEAN',
          'DATE',
          'TIME',
          'DATETIME',
          'DURATION',
        ),
      })
      .map((rest): Expression => ({ kind: 'cast', ...rest, span })),
    fc
      .record({
        side: fc.constantFrom('LEADING', 'TRAILING', 'BOTH'),
        character: maybe(expression),
        source: expression,
      })
      .map((rest): Expression => ({ kind: 'trim', ...rest, span })),
    fc
      .record({
        name: fc.constantFrom('UPPER', 'F1', 'WHERE', 'ODD NAME', 'NORMALIZE', 'ELEMENTS', 'DATE'),
        arguments: some(expression, 0),
      })
      // DATE({…}) is answered with how the standard writes it.
      .filter(({ name, arguments: [first] }) => name !== 'DATE' || first?.kind !== 'record')
      .map((rest): Expression => ({ kind: 'call', ...rest, nameSpan: span, span })),
    some(expression, 2, 2).map(
      (items): Expression => ({ kind: 'call', name: 'TRIM', nameSpan: span, arguments: items, span }),
    ),
    fc.constant<Expression>({ kind: 'call', name: 'CURRENT_DATE', nameSpan: span, arguments: [], span }),
    aggregate,
    fc.constant<Expression>({
      kind: 'aggregate',
      name: 'COUNT',
      distinct: false,
      argument: undefined,
      fraction: undefined,
      span,
    }),
  );
  const predicate = fc.oneof(
    fc.constant({ properties: [], where: undefined }),
    some(
      fc
        .record({ key: name, value: expression })
        .map((rest) => ({ kind: 'property-test', ...rest, span }) as const),
    ).map((properties) => ({ properties, where: undefined })),
    expression.map((where) => ({ properties: [], where })),
  );
  const node: fc.Arbitrary<NodePattern> = fc
    .tuple(fc.record({ variable: maybe(name), labels: maybe(labels) }), predicate)
    .map(([head, rest]) => ({ kind: 'node-pattern', ...head, ...rest, span }));
  const edge: fc.Arbitrary<EdgePattern> = fc
    .tuple(
      fc.record({
        direction: fc.constantFrom(
          'right',
          'left',
          'undirected',
          'left-or-undirected',
          'undirected-or-right',
          'left-or-right',
          'any',
        ),
        variable: maybe(name),
        labels: maybe(labels),
      }),
      predicate,
    )
    .map(([head, rest]) => ({ kind: 'edge-pattern', ...head, ...rest, span }));
  const mode = maybe(fc.constantFrom('WALK', 'TRAIL', 'SIMPLE', 'ACYCLIC'));
  const parenthesized: fc.Arbitrary<ParenthesizedPath> = fc
    .record({ variable: maybe(name), mode, factors: some(tie('factor')), where: maybe(expression) })
    .map((rest) => ({ kind: 'parenthesized-path', ...rest, span }));
  const path: fc.Arbitrary<PathPattern> = fc
    .record({
      variable: maybe(name),
      search: maybe(fc.constantFrom('ALL', 'ANY', 'ANY SHORTEST', 'ALL SHORTEST')),
      mode,
      factors: some(tie('factor'), 1, 4),
    })
    .map((rest) => ({ kind: 'path-pattern', ...rest, span }));
  const match: fc.Arbitrary<MatchClause> = fc
    .record({
      mode: maybe(fc.constantFrom('DIFFERENT EDGES', 'REPEATABLE ELEMENTS')),
      paths: some(path, 1, 2),
      where: maybe(expression),
    })
    .map((rest) => ({ kind: 'match', ...rest, span }));
  const repeatable = fc.oneof(edge, parenthesized);
  return {
    expression: fc.oneof(
      { maxDepth: 3, depthSize: 'xsmall', withCrossShrink: true },
      fc.oneof(
        number,
        text,
        temporal,
        parameter,
        variable,
        fc.constant<Expression>({ kind: 'null', span }),
        flag.map((value): Expression => ({ kind: 'boolean', value, span })),
      ),
      compound,
    ),
    labels: fc.oneof(
      { maxDepth: 3, depthSize: 'xsmall', withCrossShrink: true },
      names.map((one): LabelExpression => ({ kind: 'label-name', name: one, span })),
      fc.constant<LabelExpression>({ kind: 'label-wildcard', span }),
      labels.map((operand): LabelExpression => ({ kind: 'label-negation', operand, span })),
      fc
        .record({
          kind: fc.constantFrom('label-conjunction', 'label-disjunction'),
          operands: some(labels, 2),
        })
        .map((rest): LabelExpression => ({ ...rest, span })),
    ),
    factor: fc.oneof(
      { maxDepth: 3, depthSize: 'xsmall', withCrossShrink: true },
      node,
      edge,
      parenthesized,
      fc.record({ path: repeatable, min: fc.nat(5), more: maybe(fc.nat(5)) }).map(
        ({ path: inner, min, more }): PathFactor => ({
          kind: 'quantified-path',
          path: inner,
          min,
          max: more === undefined ? undefined : min + more,
          span,
        }),
      ),
      repeatable.map((inner): PathFactor => ({ kind: 'questioned-path', path: inner, span })),
    ),
    clause: fc.oneof(
      { maxDepth: 3, depthSize: 'xsmall', withCrossShrink: true },
      match,
      some(tie('clause'), 1, 2).map((clauses): MatchingClause => ({ kind: 'optional', clauses, span })),
    ),
  };
});

const count = maybe(
  fc.oneof(
    fc.nat().map((value) => ({ kind: 'number', value, span }) as const),
    parameter,
  ),
);

/** ORDER BY, OFFSET and LIMIT. */
const page: fc.Arbitrary<Omit<PageClause, 'kind' | 'span'>> = fc.record({
  orderBy: some(
    fc
      .record({
        value: tied.expression,
        descending: fc.boolean(),
        nulls: maybe(fc.constantFrom('FIRST', 'LAST')),
      })
      .map((rest) => ({ kind: 'sort-key', ...rest, span }) as const),
    0,
    2,
  ),
  offset: count,
  limit: count,
});

/** Clauses of a query: those of EXISTS and OPTIONAL, and others that stand at the top alone. */
const statement: fc.Arbitrary<Clause> = fc.oneof(
  { weight: 3, arbitrary: tied.clause },
  {
    weight: 1,
    arbitrary: fc
      .record({ variable: name, value: tied.expression })
      .map((rest): Clause => ({ kind: 'let', ...rest, span })),
  },
  {
    weight: 1,
    arbitrary: tied.expression.map((condition): Clause => ({ kind: 'filter', condition, span })),
  },
  {
    weight: 1,
    arbitrary: fc
      .record({
        variable: name,
        list: tied.expression,
        position: maybe(fc.record({ kind: fc.constantFrom('ORDINALITY', 'OFFSET'), variable: name })),
      })
      .map((rest): Clause => ({ kind: 'for', ...rest, span })),
  },
  {
    weight: 1,
    arbitrary: page
      .filter(({ orderBy, offset, limit }) => orderBy.length > 0 || !!offset || !!limit)
      .map((rest): Clause => ({ kind: 'page', ...rest, span })),
  },
);

/** Two pages in a row are one when one has nothing that the other has. */
const statements = fc
  .array(statement, { maxLength: 3 })
  .filter((list) => list.every(({ kind }, i) => kind !== 'page' || list[i + 1]?.kind !== 'page'));

/** `MATCH … RETURN …`. */
const linear: fc.Arbitrary<Query> = fc
  .record({
    clauses: statements,
    result: fc
      .record({
        distinct: fc.boolean(),
        items: maybe(
          some(
            fc
              .record({ value: tied.expression, alias: maybe(name) })
              .map((rest) => ({ kind: 'return-item', ...rest, span }) as const),
          ),
        ),
        groupBy: maybe(some(variable, 0, 2)),
      })
      .map((rest) => ({ kind: 'return', ...rest, span }) as const),
  })
  .chain((rest) => page.map((cut) => ({ kind: 'query', ...rest, ...cut, span })));

/** Queries that UNION and the like combine, or a single one. */
const composite: fc.Arbitrary<TablePart[]> = fc
  .array(
    fc.record({
      conjunction: fc.constantFrom(...CONJUNCTIONS),
      query: linear,
    }),
    { minLength: 1, maxLength: 3 },
  )
  .map((parts) =>
    parts.map(({ conjunction, query }, i) => ({
      kind: 'table-part',
      conjunction: i === 0 ? undefined : conjunction,
      query,
      span,
    })),
  );

/** Queries of every shape that a text can have. They need not make sense. */
export const arbitraryQuery: fc.Arbitrary<Query> = fc.oneof(
  { weight: 3, arbitrary: linear },
  { weight: 1, arbitrary: fc.array(composite, { minLength: 1, maxLength: 3 }).map(chained) },
);

/** Statements with NEXT between them, in the shape that the tree has for them. */
function chained(statements: readonly (readonly TablePart[])[]): Query {
  let input: TableClause | undefined;
  const onward = (query: Query): Query => (input ? { ...query, clauses: [input, ...query.clauses] } : query);
  const table = (parts: readonly TablePart[]): TableClause =>
    parts.length > 1
      ? { kind: 'table', input, parts, span }
      : { kind: 'table', input: undefined, parts: [{ ...parts[0]!, query: onward(parts[0]!.query) }], span };
  for (const parts of statements.slice(0, -1)) input = table(parts);
  const last = statements.at(-1)!;
  if (last.length === 1) return onward(last[0]!.query);
  const result = {
    kind: 'return',
    distinct: false,
    items: undefined,
    implied: true,
    groupBy: undefined,
    span,
  } as const;
  return {
    kind: 'query',
    clauses: [table(last)],
    result,
    orderBy: [],
    offset: undefined,
    limit: undefined,
    span,
  };
}

export const arbitraryExpression: fc.Arbitrary<Expression> = tied.expression;
