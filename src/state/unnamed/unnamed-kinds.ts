import { Map as Persistent } from 'immutable';
import { z } from 'zod';
import { CLASSES } from '../../classes/class-table.ts';
import type { Lessons } from '../../classes/lessons.ts';
import { isChipFunction } from '../../model/chip-function.ts';
import { designatorOf } from '../../model/designator.ts';
import type { Candidate, Component } from '../../model/dossier.ts';
import { isTerm, isUnder, PACKING, TERMS } from '../../model/taxonomy.ts';
import { readYamlFile } from '../../text/yaml-file.ts';
import type { SpecimenRow } from '../facts.ts';
import { type CategoriesOf, CERTAIN } from '../labels.ts';
import {
  COLUMN,
  COLUMNS,
  type ComponentColumns,
  categoryNumber,
  countsIn,
} from '../lists/component-columns.ts';
import type { Names } from '../names.ts';
import {
  CLASSES_KEY,
  ClassLessons,
  inSteps,
  type KindSpread,
  nextSpread,
  type SavedLessons,
} from './class-lessons.ts';

/** Number of components that a share of schema/unnamed-components.yaml, or of related packages, counts as. */
const STRENGTH = 20;
/** Kinds less likely than this go into "none of these". */
const MIN_SHARE = 0.02;
/** Maximum number of kinds in a spread. */
const MAX_KINDS = 16;
/** Maximum number of alternatives of a component, candidates and kinds together: they are bits of a number. */
const MAX_ALTERNATIVES = 29;
/**
 * Minimum share of "none of these", whatever was learnt: what resists identification is more often something new
 * (chosen, no source). So a spread alone never makes a kind certain.
 */
const OPEN_SHARE = 0.1;
const MILLION = 1_000_000;

export type { KindSpread } from './class-lessons.ts';

const SHARES = readShares();

function readShares(): ReadonlyMap<string, ReadonlyMap<string, number>> {
  const url = new URL('../../../schema/unnamed-components.yaml', import.meta.url);
  const share = z.record(z.string().refine(isTerm), z.number().positive().max(1));
  const read = z.record(z.string(), z.union([share, z.string()])).parse(readYamlFile(url));
  const known: typeof read = {
    ...read,
    U: Object.fromEntries(CLASSES.map((one) => [one.term, one.share])),
  };
  return new Map(
    Object.entries(known).map(([letters, written]) => {
      const shares = typeof written === 'string' ? known[written] : written;
      if (typeof shares !== 'object')
        throw new Error(
          `schema/unnamed-components.yaml: ${letters} stands for ${written}, which has no shares`,
        );
      return [letters, new Map(Object.entries(shares))];
    }),
  );
}

/** Kinds that components with these class letters usually are; undefined for letters that are not in the table. */
export function usualKinds(letters: string): readonly string[] | undefined {
  const shares = SHARES.get(letters);
  return shares && [...shares.keys()];
}

/** Share of chips among components with these class letters; 0 for letters that are not in the table. */
export function shareOfChips(letters: string): number {
  let [chips, all] = [0, 0];
  for (const [term, share] of SHARES.get(letters) ?? []) {
    all += share;
    if (isChipFunction(term)) chips += share;
  }
  return all === 0 ? 0 : chips / all;
}

/**
 * Identified components by category number, for each class letters and package, and for the letters and related
 * packages.
 */
type Counts = ReadonlyMap<string, Int32Array>;

/** A table at rest. Its spreads are those that whatever was calculated with it holds. */
export interface SavedKinds {
  readonly counts: readonly (readonly [key: string, counts: Int32Array])[];
  readonly spreads: readonly KindSpread[];
  /** Further ones, of the tables that count a specimen which is not published. */
  readonly own: readonly KindSpread[];
  readonly classes: SavedLessons;
}

function spokenBy(key: string, kinds: KindSpread['kinds']): string {
  return key + JSON.stringify(kinds);
}

/**
 * Possible kinds of unidentified components, learnt from identified ones: how often a kind has a package and the class
 * letters of a designator. A value, like its state. Only published specimens are used and the one asked about, so that a
 * spread reveals nothing hidden and every audience gets the same. Counts are rounded in steps of a factor of √2: a spread depends only on the
 * content of the archive, and yet stays the same object over most entries.
 */
export class UnnamedKinds {
  /** What joins what, learnt from the same specimens. */
  readonly classes: ClassLessons;
  readonly #counts: Counts;
  /** Columns that were learnt from, by specimen. */
  readonly #learnt: Persistent<string, ComponentColumns>;
  /** Every spread made for an archive, by its content. */
  readonly #made: Map<string, KindSpread>;
  readonly #spreads = new Map<string, KindSpread>();
  /** Tables that count a specimen which is not published. */
  readonly #including = new WeakMap<SpecimenRow, UnnamedKinds>();

  private constructor(
    counts: Counts,
    learnt: Persistent<string, ComponentColumns>,
    made: Map<string, KindSpread>,
    classes: ClassLessons,
  ) {
    this.classes = classes;
    this.#counts = counts;
    this.#learnt = learnt;
    this.#made = made;
  }

  /**
   * Learns from all specimens of a state.
   * @param before a table of the same archive, whose spreads are used again where they say the same
   * @param counted boards whose lessons of what joins what it begins with, those of schema/class-counts.yaml unless given
   * @param categoriesOf categories of the parts that components may be
   */
  static learn(
    rows: Iterable<SpecimenRow>,
    names: Names,
    before?: UnnamedKinds,
    counted?: readonly Lessons[],
    categoriesOf?: CategoriesOf,
  ): UnnamedKinds {
    const nothing = new UnnamedKinds(
      new Map(),
      Persistent(),
      before ? before.#made : new Map(),
      ClassLessons.none(before?.classes, counted),
    );
    return nothing.relearn(
      Array.from(rows, (row) => [row.id, row] as const),
      names,
      categoriesOf,
    );
  }

  /**
   * The table of a state in which some specimens differ from the one that this was learnt from: only those are counted.
   * @param changed ids of the specimens that may differ, each with its row; undefined where the state has none
   * @returns this table itself when nothing differs
   */
  relearn(
    changed: Iterable<readonly [id: string, row: SpecimenRow | undefined]>,
    names: Names,
    categoriesOf?: CategoriesOf,
  ): UnnamedKinds {
    const counting = new Counting(this.#counts, names);
    const learnt = this.#learnt.asMutable();
    const rows = [...changed];
    const classes = this.classes.relearn(rows, categoriesOf);
    let isChanged = classes !== this.classes;
    for (const [id, row] of rows) {
      const before = learnt.get(id);
      const now = row?.visibility === 'published' ? row.columns : undefined;
      if (before === now) continue;
      isChanged = true;
      if (before) counting.count(before, -1);
      if (now) {
        counting.count(now, 1);
        learnt.set(id, now);
      } else learnt.delete(id);
    }
    return isChanged ? new UnnamedKinds(counting.counts, learnt.asImmutable(), this.#made, classes) : this;
  }

  /**
   * The table for a specimen that a state sees: one that is not published counts for itself as it will when it is. So what its components
   * may be does not change by being published.
   */
  including(row: SpecimenRow, names: Names): UnnamedKinds {
    if (row.visibility === 'published') return this;
    let own = this.#including.get(row);
    if (!own) {
      const counting = new Counting(this.#counts, names);
      counting.count(row.columns, 1);
      own = new UnnamedKinds(counting.counts, this.#learnt, this.#made, this.classes.including(row));
      this.#including.set(row, own);
    }
    return own;
  }

  /** What has been counted and said, to be taken up by {@link restored}. @param rows specimens of the state */
  save(rows: Iterable<SpecimenRow>, names: Names): SavedKinds {
    const unpublished = [...rows].filter(
      ({ visibility, columns }) => visibility !== 'published' && holdsUnnamed(columns),
    );
    const spreads = new Set(this.#spreads.values());
    const own = unpublished.flatMap((row) => {
      const table = this.including(row, names);
      return [...unnamedKeys(row.columns, names)].map((key) => table.#spread(key));
    });
    return {
      counts: [...this.#counts],
      // Those that were asked for by this table; others of the archive belong to states that nobody has any more.
      spreads: [...spreads],
      own: [...new Set(own)].filter((spread) => !spreads.has(spread)),
      classes: this.classes.save(unpublished),
    };
  }

  /** The same as one that was saved, of the same specimens. */
  static restored(
    rows: Iterable<SpecimenRow>,
    categoriesOf: CategoriesOf,
    { counts, spreads, own, classes }: SavedKinds,
  ): UnnamedKinds {
    const [published, unpublished]: [SpecimenRow[], Map<string, SpecimenRow>] = [[], new Map()];
    for (const row of rows)
      if (row.visibility === 'published') published.push(row);
      else unpublished.set(row.id, row);
    const made = new Map([...spreads, ...own].map((spread) => [spokenBy(spread.key, spread.kinds), spread]));
    const restored = new UnnamedKinds(
      new Map(counts),
      Persistent(published.map(({ id, columns }) => [id, columns] as const)),
      made,
      ClassLessons.restored(published, unpublished, categoriesOf, classes),
    );
    for (const spread of spreads) restored.#spreads.set(spread.key, spread);
    return restored;
  }

  /** The spread of an unidentified component. */
  spreadOf({ id, package: body, appears }: Pick<Component, 'id' | 'package' | 'appears'>): KindSpread {
    const chip = appears !== undefined && PACKING.has(appears);
    return this.#spread(`${lettersOf(id)} ${chip ? 'chip' : ''} ${body ?? ''}`);
  }

  /** Whether spreads of another table are the same in this one. */
  areCurrent(spreads: Iterable<KindSpread>): boolean {
    for (const spread of spreads)
      if ((spread.key === CLASSES_KEY ? this.classes.token : this.#spread(spread.key)) !== spread)
        return false;
    return true;
  }

  #spread(key: string): KindSpread {
    let spread = this.#spreads.get(key);
    if (!spread) {
      const [letters, chip, ...body] = key.split(' ');
      const kinds = this.#kindsOf(letters, chip === 'chip', body.join(' '));
      // The same object as long as its content is the same.
      const says = spokenBy(key, kinds);
      spread = this.#made.get(says) ?? { key, number: nextSpread(), kinds };
      this.#made.set(says, spread);
      this.#spreads.set(key, spread);
    }
    return spread;
  }

  /** Whether some component of these columns has other possible kinds by another table. */
  differs(other: UnnamedKinds, columns: ComponentColumns, names: Names): boolean {
    const others = this.classes.token !== other.classes.token;
    for (const key of unnamedKeys(columns, names))
      if (others || this.#spread(key) !== other.#spread(key)) return true;
    return false;
  }

  #kindsOf(letters: string, chip: boolean, body: string): KindSpread['kinds'] {
    const found = this.#shares(letters, body).filter(
      ([category]) => !PACKING.has(category) && (!chip || isChipFunction(category)),
    );
    // A chip with class letters that no known chip has counts as any chip.
    if (found.length === 0 && letters !== 'U') return chip ? this.#kindsOf('U', chip, '') : [];
    const named = found.reduce((sum, [, share]) => sum + share, 0);
    const scale = Math.min(1, (1 - OPEN_SHARE) / named);
    return found
      .map(([category, share]) => ({ category, probability: Number((share * scale).toFixed(4)) }))
      .filter(({ probability }) => probability >= MIN_SHARE)
      .sort((a, b) => b.probability - a.probability || (a.category < b.category ? -1 : 1))
      .slice(0, MAX_KINDS);
  }

  /** Shares of kinds for a package, shrunk towards those of related packages, and these towards common practice. */
  #shares(letters: string, body: string): readonly (readonly [category: string, share: number])[] {
    const usual = SHARES.get(letters);
    let shares = TERMS.map((term) => usual?.get(term) ?? 0);
    for (const key of keysOf(letters, body).reverse()) {
      const counts = this.#counts.get(key);
      if (!counts) continue;
      const steps = TERMS.map((_, at) => inSteps(counts[at + 1]));
      const total = steps.reduce((sum, count) => sum + count, STRENGTH);
      shares = shares.map((share, at) => (STRENGTH * share + steps[at]) / total);
    }
    return shares.flatMap((share, at) => (share > 0 ? [[TERMS[at], share] as const] : []));
  }
}

/** Keys of the spreads that unidentified components of these columns may have, whether one looks like a chip or not. */
function* unnamedKeys(columns: ComponentColumns, names: Names): Generator<string> {
  for (let at = 0; at < columns.length; at += COLUMNS) {
    if (!SAY_NOTHING.has(columns[at + COLUMN.category]) || !countsIn(columns, at)) continue;
    const letters = lettersOf(names.textOf(columns[at + COLUMN.designator]));
    const body = names.textOf(columns[at + COLUMN.package]);
    for (const chip of ['chip', '']) yield `${letters} ${chip} ${body}`;
  }
}

/** Counts while they are being changed; the original counts stay as they are. */
class Counting {
  readonly counts: Map<string, Int32Array>;
  readonly #names: Names;
  readonly #own = new Set<string>();
  /** Class letters by the number of a designator in the archive's names. */
  readonly #letters = new Map<number, string>();

  constructor(before: Counts, names: Names) {
    this.counts = new Map(before);
    this.#names = names;
  }

  count(columns: ComponentColumns, by: 1 | -1): void {
    for (let at = 0; at < columns.length; at += COLUMNS) {
      const category = columns[at + COLUMN.category];
      if (columns[at + COLUMN.categoryProbability] < CERTAIN * MILLION || SAY_NOTHING.has(category)) continue;
      const designator = columns[at + COLUMN.designator];
      let letters = this.#letters.get(designator);
      if (letters === undefined) {
        letters = lettersOf(this.#names.textOf(designator));
        this.#letters.set(designator, letters);
      }
      for (const key of keysOf(letters, this.#names.textOf(columns[at + COLUMN.package])))
        this.#ownCounts(key)[category] += by;
    }
  }

  #ownCounts(key: string): Int32Array {
    const before = this.counts.get(key);
    if (before && this.#own.has(key)) return before;
    const own = before?.slice() ?? new Int32Array(TERMS.length + 1);
    this.counts.set(key, own);
    this.#own.add(key);
    return own;
  }
}

/** Keys of the counts of a package and of related packages: those with the same name before the number of pins. */
function keysOf(letters: string, body: string): string[] {
  return [`${letters} ${body}`, `${letters} ${body.replace(/-\d+$/u, '')}…`];
}

/** Numbers of categories of packaging, not of function; 0 is a component of unknown kind. */
const SAY_NOTHING: ReadonlySet<number> = new Set([
  0,
  ...[...PACKING].map((term) => categoryNumber(term) as number),
]);

/** Whether some component of these columns is unidentified. */
export function holdsUnnamed(columns: ComponentColumns): boolean {
  for (let at = 0; at < columns.length; at += COLUMNS)
    if (SAY_NOTHING.has(columns[at + COLUMN.category]) && countsIn(columns, at)) return true;
  return false;
}

/**
 * Kinds that a spread adds to the candidates of a component, scaled to the rest to 1. A kind that is itself a candidate
 * already has its probability and gets no more.
 */
export function spreadCandidates(
  { kinds }: Pick<KindSpread, 'kinds'>,
  candidates: readonly Candidate[],
): readonly Candidate[] {
  const rest = 1 - candidates.reduce((sum, { probability }) => sum + probability, 0);
  if (rest <= 1e-9) return [];
  const weighed = candidates.flatMap(({ part, category }) =>
    part === undefined && category ? [category] : [],
  );
  return kinds
    .filter(({ category }) => !weighed.some((known) => isUnder(category, known) || isUnder(known, category)))
    .slice(0, Math.max(0, MAX_ALTERNATIVES - candidates.length))
    .map(({ category, probability }) => ({ category, probability: probability * rest }));
}

/** Class letters of a component's designator, unknown ones too. @param component its local id */
function lettersOf(component: string): string {
  return /^[A-Z]*/u.exec(designatorOf(component))?.[0] ?? '';
}
