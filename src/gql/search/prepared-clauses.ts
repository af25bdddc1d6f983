/** Clauses with their matches prepared, and what is in clauses. */
import type { Match, PlannableClause, PlannablePage, PlannablePart, PlannableTable } from '../plan/match.ts';
import type { Condition } from '../plan/pattern.ts';
import type { PreparedMatch } from './match-stage.ts';

/** Takes the prepared matches in the order of `matchesOf`. */
export type TakePrepared = () => PreparedMatch;

/** Matches of clauses in reading order, optional ones entered. */
export function matchesOf(clauses: readonly PlannableClause[]): Match[] {
  return clauses.flatMap((clause): readonly Match[] => {
    switch (clause.kind) {
      case 'match':
        return [clause.match];
      case 'optional':
        return matchesOf(clause.clauses);
      case 'page':
        return matchesOf(clause.clauses);
      case 'table':
        return matchesOfTable(clause);
      case 'let':
      case 'filter':
      case 'for':
        return [];
      default:
        return clause satisfies never;
    }
  });
}

function matchesOfTable({ input, parts }: PlannableTable): readonly Match[] {
  return [...(input ? matchesOfTable(input) : []), ...parts.flatMap(({ clauses }) => matchesOf(clauses))];
}

/** Conditions that clauses of their own hold. */
export function filtersOf(clauses: readonly PlannableClause[]): readonly Condition[] {
  return clauses.flatMap((clause) => (clause.kind === 'filter' ? [clause.condition] : []));
}

type Optional = Extract<PlannableClause, { kind: 'optional' }>;

export type PreparedClause =
  | { readonly kind: 'match'; readonly prepared: PreparedMatch }
  | {
      readonly kind: 'optional';
      readonly clauses: readonly PreparedClause[];
      readonly readings: Optional['readings'];
      readonly nulls: Optional['nulls'];
      readonly matches: readonly Match[];
    }
  | Extract<PlannableClause, { kind: 'let' | 'filter' | 'for' }>
  | PreparedPage
  | PreparedTable;

export interface PreparedPage extends Omit<PlannablePage, 'clauses'> {
  readonly clauses: readonly PreparedClause[];
}

export interface PreparedTable extends Omit<PlannableTable, 'input' | 'parts'> {
  readonly input: PreparedTable | undefined;
  readonly parts: readonly (Omit<PlannablePart, 'clauses'> & {
    readonly clauses: readonly PreparedClause[];
  })[];
}

export function preparedOf(clause: PlannableClause, take: TakePrepared): PreparedClause {
  if (clause.kind === 'match') return { kind: 'match', prepared: take() };
  const prepared = (clauses: readonly PlannableClause[]) => clauses.map((inner) => preparedOf(inner, take));
  if (clause.kind === 'page') return { ...clause, clauses: prepared(clause.clauses) };
  if (clause.kind === 'table') return preparedTable(clause, take);
  if (clause.kind !== 'optional') return clause;
  return {
    kind: 'optional',
    clauses: prepared(clause.clauses),
    readings: clause.readings,
    nulls: clause.nulls,
    matches: matchesOf(clause.clauses),
  };
}

function preparedTable(table: PlannableTable, take: TakePrepared): PreparedTable {
  // In the order of `matchesOf`.
  const input = table.input && preparedTable(table.input, take);
  const parts = table.parts.map((part) => ({
    ...part,
    clauses: part.clauses.map((clause) => preparedOf(clause, take)),
  }));
  return { ...table, input, parts };
}
