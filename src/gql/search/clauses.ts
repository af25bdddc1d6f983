/**
 * Chains the clauses of a query into one stage.
 */
import { type Lineage, notOf } from '../plan/lineage.ts';
import type { Match, PlannableClause, Target } from '../plan/match.ts';
import type { Condition } from '../plan/pattern.ts';
import { type MatchStage, matchStage, type PreparedMatch, type StageContext } from './match-stage.ts';
import type { Run, Stage } from './stage.ts';

/** Takes the prepared matches in the order of `matchesOf`. */
export type TakePrepared = () => PreparedMatch;

/** The stage of all clauses; the first can run a stretch of its segments alone when it is a plain MATCH. */
export function clausesStage(
  clauses: readonly PlannableClause[],
  take: TakePrepared,
  context: StageContext,
  next: Stage,
): MatchStage {
  // Prepared matches come in reading order, stages are chained from the end.
  const prepared = clauses.map((clause) => preparedOf(clause, take));
  let stage: MatchStage = { run: next, segments: undefined, stretch: next };
  for (let i = prepared.length - 1; i >= 0; i--) stage = clauseStage(prepared[i]!, context, stage);
  return stage;
}

/** Matches of clauses in reading order, optional ones entered. */
export function matchesOf(
  clauses: readonly PlannableClause[],
): Extract<PlannableClause, { kind: 'match' }>['match'][] {
  return clauses.flatMap((clause) => {
    switch (clause.kind) {
      case 'match':
        return [clause.match];
      case 'optional':
        return matchesOf(clause.clauses);
      case 'let':
      case 'filter':
        return [];
      default:
        return clause satisfies never;
    }
  });
}

/** Conditions that clauses of their own hold. */
export function filtersOf(clauses: readonly PlannableClause[]): readonly Condition[] {
  return clauses.flatMap((clause) => (clause.kind === 'filter' ? [clause.condition] : []));
}

type Optional = Extract<PlannableClause, { kind: 'optional' }>;

type PreparedClause =
  | { readonly kind: 'match'; readonly prepared: PreparedMatch }
  | {
      readonly kind: 'optional';
      readonly clauses: readonly PreparedClause[];
      readonly readings: Optional['readings'];
      readonly nulls: Optional['nulls'];
      readonly matches: readonly Match[];
    }
  | Extract<PlannableClause, { kind: 'let' | 'filter' }>;

function preparedOf(clause: PlannableClause, take: TakePrepared): PreparedClause {
  if (clause.kind === 'match') return { kind: 'match', prepared: take() };
  if (clause.kind !== 'optional') return clause;
  return {
    kind: 'optional',
    clauses: clause.clauses.map((inner) => preparedOf(inner, take)),
    readings: clause.readings,
    nulls: clause.nulls,
    matches: matchesOf(clause.clauses),
  };
}

function clauseStage(clause: PreparedClause, context: StageContext, after: MatchStage): MatchStage {
  const { run } = context;
  const next = after.run;
  if (clause.kind === 'match') return matchStage(clause.prepared, context, next);
  if (clause.kind === 'let') return before(after, letStep(clause, run));
  if (clause.kind === 'filter') {
    const { test } = clause.condition;
    return before(after, () => {
      if (--run.fuel < 0) run.fuel = run.refuel();
      return test(run);
    });
  }
  const { readings } = clause;
  let found = false;
  let stage: Stage = () => {
    found = true;
    return next();
  };
  for (let i = clause.clauses.length - 1; i >= 0; i--)
    stage = clauseStage(clause.clauses[i]!, context, { run: stage, segments: undefined, stretch: stage }).run;
  const inner = stage;
  const optional: Stage = () => {
    // A later clause may come here again, for its own rows, before this one is done; it never does while inside.
    found = false;
    const go = inner();
    if (!go) return go;
    const isFound = found;
    let doubt: Lineage = true;
    if (readings && !readings.isPossible) {
      // Neither with a match nor without one it is certain.
      if (isFound || run.inner[readings.possible]!()) return go;
    } else if (isFound) {
      // In some worlds there may be no match.
      if (!readings || !run.keepsDoubts || run.inner[readings.certain]!()) return go;
      doubt = notOf(run.bodyLineage(readings.possible, readings.certain));
      if (doubt === false) return go;
    }
    for (const slot of clause.nulls.elements) run.row[slot] = -2;
    for (const slot of clause.nulls.values) run.values[slot] = null;
    run.doubts.push(doubt);
    run.skipped.push(...clause.matches);
    const goes = next();
    run.doubts.pop();
    run.skipped.length -= clause.matches.length;
    return goes;
  };
  return { run: optional, segments: undefined, stretch: optional };
}

/** A step on the row before a stage, which says whether to go on with the row; what the stage divides can still be divided. */
function before({ run, segments, stretch }: MatchStage, step: () => boolean): MatchStage {
  return {
    run: () => (step() ? run() : true),
    segments,
    stretch: (from, to) => (step() ? stretch(from, to) : true),
  };
}

function letStep({ target, value }: Extract<PlannableClause, { kind: 'let' }>, run: Run): () => boolean {
  const set = setterOf(target, run);
  return () => {
    if (--run.fuel < 0) run.fuel = run.refuel();
    set(run.weighed(value(run)));
    return true;
  };
}

/** Writes the value of a variable into the row. */
export function setterOf({ slot, isElement }: Target, run: Run): (value: unknown) => void {
  if (!isElement)
    return (value) => {
      run.values[slot] = value;
    };
  return (value) => {
    run.row[slot] = value === null ? -2 : (value as { readonly key: number }).key;
  };
}
