/**
 * Chains the clauses of a query into one stage.
 */
import { type Lineage, notOf } from '../plan/lineage.ts';
import type { PlannableClause } from '../plan/match.ts';
import { type MatchStage, matchStage, type StageContext } from './match-stage.ts';
import { type PreparedClause, preparedOf, type TakePrepared } from './prepared-clauses.ts';
import { type Run, type Stage, setterOf } from './stage.ts';
import { pageSource, tableSource } from './tables.ts';

/** The stage of all clauses; the first can run a stretch of its segments alone when it is a plain MATCH. */
export function clausesStage(
  clauses: readonly PlannableClause[],
  take: TakePrepared,
  context: StageContext,
  next: Stage,
): MatchStage {
  // Prepared matches come in reading order, stages are chained from the end.
  const prepared = clauses.map((clause) => preparedOf(clause, take));
  return chained(prepared, context, next);
}

/** The stage of prepared clauses. */
function chained(prepared: readonly PreparedClause[], context: StageContext, next: Stage): MatchStage {
  let stage: MatchStage = { run: next, segments: undefined, stretch: next };
  for (let i = prepared.length - 1; i >= 0; i--) stage = clauseStage(prepared[i]!, context, stage);
  return stage;
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
  if (clause.kind === 'for') return forStage(clause, run, after);
  if (clause.kind === 'page' || clause.kind === 'table') {
    const source =
      clause.kind === 'page' ? pageSource(clause, context, chained) : tableSource(clause, context, chained);
    const stage: Stage = () => source(next);
    return { run: stage, segments: undefined, stretch: stage };
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

/** A row for each item of a list; what is no list has none. */
function forStage(
  { target, list, position }: Extract<PlannableClause, { kind: 'for' }>,
  run: Run,
  after: MatchStage,
): MatchStage {
  const set = setterOf(target, run);
  const each = (next: Stage): boolean => {
    const items = list(run);
    if (!Array.isArray(items)) return true;
    for (let i = 0; i < items.length; i++) {
      if (--run.fuel < 0) run.fuel = run.refuel();
      set(items[i]);
      if (position) run.values[position.slot] = i + position.first;
      if (!next()) return false;
    }
    return true;
  };
  return {
    run: () => each(after.run),
    segments: after.segments,
    stretch: (from, to) => each(() => after.stretch(from, to)),
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
