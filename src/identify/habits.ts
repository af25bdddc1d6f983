import { likeliestCategory } from '../graph/labels.ts';
import type { OpenedSpecimen } from '../graph/specimen.ts';
import type { Device } from '../model/dossier.ts';

// What the archive's own settled identifications teach: how often this goes with that. Every table is a set of
// counts "given A, saw B"; a device in hand is left out by subtracting what it contributed itself.

/** Kinds of habit. The given and the seen value of each stand beside it. */
export type HabitTable =
  /** nothing → part id */
  | 'part'
  /** nothing → package as written in capitals */
  | 'package'
  /** nothing → number of terminals */
  | 'pins'
  /** category → side of the board */
  | 'side'
  /** category → category of a connected neighbour */
  | 'neighbour'
  /** category → bus of a connection */
  | 'bus'
  /** device maker → maker of the part */
  | 'maker';

export interface Contribution {
  readonly table: HabitTable;
  readonly given: string;
  readonly seen: string;
}

/** At or above this probability a settled identification teaches. */
export const TEACHES = 0.95;

/** Counts of contributions, by table, given and seen. */
export class Habits {
  readonly #counts = new Map<string, number>();
  readonly #totals = new Map<string, number>();
  readonly #values = new Map<HabitTable, Set<string>>();

  add(contributions: Iterable<Contribution>, by = 1): void {
    for (const { table, given, seen } of contributions) {
      bump(this.#counts, `${table}|${given}|${seen}`, by);
      bump(this.#totals, `${table}|${given}`, by);
      // Over all givens: what is seen at large.
      bump(this.#counts, `${table}|*|${seen}`, by);
      bump(this.#totals, `${table}|*`, by);
      const values = this.#values.get(table);
      if (values) values.add(seen);
      else this.#values.set(table, new Set([seen]));
    }
  }

  count(table: HabitTable, given: string, seen: string): number {
    return this.#counts.get(`${table}|${given}|${seen}`) ?? 0;
  }

  total(table: HabitTable, given: string): number {
    return this.#totals.get(`${table}|${given}`) ?? 0;
  }

  /** Values ever seen in a table. */
  values(table: HabitTable): ReadonlySet<string> {
    return this.#values.get(table) ?? new Set();
  }
}

function bump(map: Map<string, number>, key: string, by: number): void {
  map.set(key, (map.get(key) ?? 0) + by);
}

/** Pseudo-observations that a thin table is filled up with (Dirichlet smoothing with the general share as mean). */
const PSEUDO = 4;

/** Habits with one device left out. */
export interface HabitsWithout {
  /** P(seen) at large, smoothed by one pseudo-observation spread over all values. */
  share(table: HabitTable, seen: string): number;
  /** P(seen | given), drawn towards the share at large where little was seen. */
  shareGiven(table: HabitTable, given: string, seen: string): number;
  count(table: HabitTable, seen: string): number;
  total(table: HabitTable): number;
  values(table: HabitTable): ReadonlySet<string>;
}

/** The habits of all other devices: `own` is what the device in hand contributed. */
export function habitsWithout(habits: Habits, own: Habits): HabitsWithout {
  const n = (table: HabitTable, given: string, seen: string) =>
    habits.count(table, given, seen) - own.count(table, given, seen);
  const total = (table: HabitTable, given: string) => habits.total(table, given) - own.total(table, given);
  const share = (table: HabitTable, seen: string) =>
    (n(table, '*', seen) + 1 / (habits.values(table).size + 1)) / (total(table, '*') + 1);
  return {
    share,
    shareGiven: (table, given, seen) =>
      (n(table, given, seen) + PSEUDO * share(table, seen)) / (total(table, given) + PSEUDO),
    count: (table, seen) => n(table, '*', seen),
    total: (table) => total(table, '*'),
    values: (table) => habits.values(table),
  };
}

/** Looks a part up for its category and maker. */
export type PartFacts = (
  id: string,
) => { readonly categories: readonly string[]; readonly maker: string } | undefined;

/** What the settled identifications of one specimen teach. */
export function contributionsOf(
  specimen: OpenedSpecimen,
  device: Device,
  partFacts: PartFacts,
): readonly Contribution[] {
  const contributions: Contribution[] = [];
  for (const { id, side, package: body, pins } of specimen.dossier.components) {
    const part = settledPart(specimen, id);
    const facts = part === undefined ? undefined : partFacts(part);
    if (part === undefined || !facts) continue;
    const [category] = facts.categories;
    contributions.push({ table: 'part', given: '', seen: part });
    contributions.push({ table: 'maker', given: device.maker, seen: facts.maker });
    if (body) contributions.push({ table: 'package', given: '', seen: packageKey(body) });
    if (pins) contributions.push({ table: 'pins', given: '', seen: String(pins) });
    if (side) contributions.push({ table: 'side', given: category, seen: side });
    for (const { category: seen, bus } of neighboursOf(specimen, id)) {
      contributions.push({ table: 'neighbour', given: category, seen });
      if (bus) contributions.push({ table: 'bus', given: category, seen: bus });
    }
  }
  return contributions;
}

/** The part a component is settled to be, or undefined. */
export function settledPart(specimen: OpenedSpecimen, designator: string): string | undefined {
  const identification = specimen.identified.get(designator);
  if (identification?.state !== 'settled') return undefined;
  return identification.candidates.find(
    ({ part, probability }) => part !== undefined && probability >= TEACHES,
  )?.part;
}

/** Categories and buses of what a component is connected to, each neighbour once. */
export function neighboursOf(
  specimen: OpenedSpecimen,
  designator: string,
): readonly { readonly category: string; readonly bus: string | undefined }[] {
  const seen = new Set<string>();
  return (specimen.connections.get(designator) ?? []).flatMap(({ between, bus }) => {
    const other = between[0] === designator ? between[1] : between[0];
    const weights = specimen.labels.get(other);
    if (seen.has(other) || !weights) return [];
    seen.add(other);
    const category = likeliestCategory(weights);
    return category && category.probability >= TEACHES ? [{ category: category.term, bus }] : [];
  });
}

/** Packages whose terminals lie under the body: their number is not seen, so the family alone counts. */
const HIDDEN_TERMINALS = /^(?:WLCSP|BGA|LGA|SIP|CSP|FCBGA|UFBGA)/u;

/** A package name as tables know it: capitals, without blanks and hyphens, and the family alone where terminals hide. */
export function packageKey(written: string): string {
  const plain = written.toUpperCase().replace(/[\s_-]/gu, '');
  return HIDDEN_TERMINALS.exec(plain)?.[0] ?? plain;
}
