/**
 * Under which circumstances a row that a search has bound holds.
 */
import { type LabelTest, labelSetTruths, nameOfTest, UNKNOWN } from '../plan/label-test.ts';
import { allOf, anyOf, type Lineage, OPEN } from '../plan/lineage.ts';
import type { Match, PlannableClause } from '../plan/match.ts';
import type { Condition } from '../plan/pattern.ts';
import type { Store } from '../storage/store.ts';
import { filtersOf, matchesOf } from './prepared-clauses.ts';
import type { Run } from './stage.ts';

/** Rows of the body of an EXISTS that are looked at for one row outside; beyond, its lineage is open. */
const MOST_ROWS = 5_000;

/** Reads the lineage of rows of some clauses, when all of them are bound. */
export class RowLineage {
  readonly #store: Store;
  readonly #run: Run;
  readonly #matches: readonly Match[];
  readonly #filters: readonly Condition[];
  /** Label tests whose truth some node leaves open, by slot. */
  readonly #labels = new Map<Match, readonly LabelPlace[]>();

  constructor(store: Store, run: Run, clauses: readonly PlannableClause[]) {
    this.#store = store;
    this.#run = run;
    this.#matches = matchesOf(clauses);
    this.#filters = filtersOf(clauses);
    for (const match of this.#matches) this.#labels.set(match, placesOf(store, match));
  }

  /** Lineage of conditions alone, and of what was left out; see `Run.doubts` for those from a place on. */
  ofConditions(from = 0): Lineage {
    const run = this.#run;
    const parts: Lineage[] = run.doubts.slice(from);
    for (const match of this.#matches) {
      if (run.skipped.includes(match)) continue;
      for (const { lineage } of match.pattern.conditions) if (lineage) parts.push(lineage(run));
      for (const { lineage } of match.late) if (lineage) parts.push(lineage(run));
      if (parts.includes(false)) return false;
    }
    for (const { lineage } of this.#filters) if (lineage) parts.push(lineage(run));
    if (parts.includes(false)) return false;
    return parts.length === 0 ? true : allOf(parts);
  }

  /** Lineage of the row: its nodes' labels, its edges and its conditions. */
  of(from = 0): Lineage {
    const { row, values, skipped } = this.#run;
    const { catalog, nodeRow } = this.#store;
    const parts: Lineage[] = [];
    for (const match of this.#matches) {
      if (skipped.includes(match)) continue;
      for (const { slot, label, truths, group } of this.#labels.get(match)!) {
        const nodes =
          group && Array.isArray(values[slot]) ? (values[slot].flat(8) as number[]) : [row[slot]!];
        for (const node of nodes)
          if (node >= 0 && truths[catalog.nodeKinds[nodeRow.view[node * 4]!]!.labelSet] === UNKNOWN)
            parts.push({ kind: 'label', node, label });
      }
      for (const edge of this.maybeEdges(match)) parts.push({ kind: 'edge', edge });
    }
    return allOf([...parts, this.ofConditions(from)]);
  }

  /** Edges of a match that may not be there. */
  maybeEdges({ pattern, repeats }: Match): readonly number[] {
    const { row, values } = this.#run;
    const found: number[] = [];
    const add = (edge: number) => {
      if (edge >= 0 && this.#store.isMaybe(edge)) found.push(edge);
    };
    for (const { slot } of pattern.edges) add(row[slot]!);
    for (const { forward } of repeats) {
      const walked = values[forward.elementsSlot];
      if (Array.isArray(walked)) for (let i = 0; i < walked.length; i += 2) add(walked[i] as number);
    }
    return found;
  }

  /** What tells rows apart that hold under different circumstances; empty for a row that certainly holds. */
  nameOf(conditions: Lineage): string {
    const { skipped } = this.#run;
    let name = conditions === true ? '' : JSON.stringify(conditions);
    const places: LabelPlace[] = [];
    for (const match of this.#matches) {
      if (skipped.includes(match)) continue;
      const own = this.#labels.get(match)!;
      for (const place of own) places.push(place);
      for (const edge of this.maybeEdges(match)) name += ` e${edge}`;
    }
    return name + labelsNeeded(this.#store, this.#run, places);
  }
}

/** See `Run.wayOf`. */
export function waysOf(store: Store, run: Run): Run['wayOf'] {
  const known = new Map<Match, readonly LabelPlace[]>();
  return (match) => {
    const places = known.get(match) ?? placesOf(store, match);
    known.set(match, places);
    return labelsNeeded(store, run, places) + (run.doubts.length > 0 ? JSON.stringify(run.doubts) : '');
  };
}

/**
 * The uncertain label tests that what is bound has to pass, as a text: the same for the same tests, whatever they are
 * asked for.
 */
function labelsNeeded(
  { catalog, nodeRow }: Store,
  { row, values }: Run,
  places: readonly LabelPlace[],
): string {
  const needed: string[] = [];
  for (const { slot, truths, group, test } of places) {
    const nodes = group && Array.isArray(values[slot]) ? (values[slot].flat(8) as number[]) : [row[slot]!];
    for (const node of nodes)
      if (node >= 0 && truths[catalog.nodeKinds[nodeRow.view[node * 4]!]!.labelSet] === UNKNOWN)
        needed.push(` ${test}:${node}`);
  }
  if (needed.length < 2) return needed[0] ?? '';
  return [...new Set(needed)].sort().join('');
}

interface LabelPlace {
  readonly slot: number;
  readonly label: LabelTest;
  /** The test as a text, the same for equal tests. */
  readonly test: string;
  readonly group: boolean;
  /** Truth by label set. */
  readonly truths: Uint8Array;
}

/** Label tests of a match that uncertain labels may decide. */
function placesOf(store: Store, { pattern, labelledGroups }: Match): readonly LabelPlace[] {
  const places: LabelPlace[] = [];
  const add = (slot: number, label: LabelTest | undefined, group: boolean) => {
    if (!label) return;
    const truths = labelSetTruths(label, store.catalog);
    if (truths.includes(UNKNOWN)) places.push({ slot, label, test: nameOfTest(label), group, truths });
  };
  for (const { slot, label } of pattern.nodes) add(slot, label, false);
  for (const { slot, label } of labelledGroups) add(slot, label, true);
  return places;
}

/** Answers under which circumstances the body of an EXISTS has a row, for the row that is bound outside. */
export function bodyLineage(
  run: Run,
  bodies: readonly ((visit: () => boolean) => void)[],
  readers: readonly RowLineage[],
): Run['bodyLineage'] {
  return (possible, certain) => {
    if (run.inner[certain]!()) return true;
    const from = run.doubts.length;
    const found = new Map<string, Lineage>();
    let left = MOST_ROWS;
    let isCertain = false;
    bodies[possible]!(() => {
      const lineage = readers[possible]!.of(from);
      isCertain = lineage === true;
      if (lineage !== false) found.set(JSON.stringify(lineage), lineage);
      return !isCertain && left-- > 0;
    });
    if (isCertain) return true;
    return anyOf(left < 0 ? [...found.values(), OPEN] : [...found.values()]);
  };
}
