import { readFileSync } from 'node:fs';
import { parse } from 'yaml';
import { z } from 'zod';
import { isChipFunction } from '../model/chip-function.ts';
import { designatorOf } from '../model/designator.ts';
import type { Candidate, Component } from '../model/dossier.ts';
import { isTerm, isUnder, PACKING, TERMS } from '../model/taxonomy.ts';
import { COLUMN, COLUMNS, type ComponentColumns, categoryNumber } from './component-columns.ts';
import type { SpecimenRow } from './facts.ts';
import { CERTAIN } from './labels.ts';
import type { Names } from './names.ts';

/** Components that a share of schema/unnamed-components.yaml, or of a package's kin, counts as. */
const STRENGTH = 20;
/** Kinds less likely than this are not told apart from "none of these". */
const MIN_SHARE = 0.02;
/** Kinds of one spread at most. */
const MAX_KINDS = 16;
/** Alternatives of one component at most, candidates and kinds together: they are bits of a number. */
const MAX_ALTERNATIVES = 29;
/**
 * Share left to "none of these" at least, whatever was learnt: what resists naming is more often something new
 * (chosen, no source). So a spread alone never makes a kind certain.
 */
const OPEN_SHARE = 0.1;
const MILLION = 1_000_000;

/** Kinds that an unnamed component may be of, likeliest first; what they leave to 1 is none of these. */
export interface KindSpread {
  /** What the component looks like: equal for components that share the spread. */
  readonly key: string;
  /** Different for every spread of a process: a key for what is worked out from it. */
  readonly number: number;
  readonly kinds: readonly { readonly category: string; readonly probability: number }[];
}

let made = 0;

const SHARES = readShares();

function readShares(): ReadonlyMap<string, ReadonlyMap<string, number>> {
  const url = new URL('../../schema/unnamed-components.yaml', import.meta.url);
  const share = z.record(z.string().refine(isTerm), z.number().positive().max(1));
  const read = z.record(z.string(), share).parse(parse(readFileSync(url, 'utf8')));
  return new Map(Object.entries(read).map(([letters, shares]) => [letters, new Map(Object.entries(shares))]));
}

/** Components identified, by category number, of each class letters and package, and of these letters and its kin. */
type Counts = ReadonlyMap<string, Int32Array>;

/** Specimens as they are learnt from. */
type Rows = Iterable<Pick<SpecimenRow, 'id' | 'visibility' | 'columns'>>;

/**
 * What an unnamed component may be, learnt from those that are identified: how often a kind stands behind a package and
 * the class letters of a designator. A value, like the state that it belongs to. Published specimens alone teach, so that
 * nothing hidden can be read from a spread, and every audience is given the same one. Counts are taken in steps of a factor
 * of √2: a spread depends on what the archive holds and on nothing else, and yet stays the same, object and all, over most
 * entries.
 */
export class UnnamedKinds {
  readonly #counts: Counts;
  /** Columns that were learnt from, by specimen. */
  readonly #learnt: ReadonlyMap<string, ComponentColumns>;
  /** Every spread made for an archive, by what it says. */
  readonly #made: Map<string, KindSpread>;
  readonly #spreads = new Map<string, KindSpread>();

  private constructor(
    counts: Counts,
    learnt: ReadonlyMap<string, ComponentColumns>,
    made: Map<string, KindSpread>,
  ) {
    this.#counts = counts;
    this.#learnt = learnt;
    this.#made = made;
  }

  /**
   * Learns from specimens; what an earlier table learnt from the same ones is not counted again.
   * @returns the earlier table itself where nothing differs
   */
  static learn(rows: Rows, names: Names, before?: UnnamedKinds): UnnamedKinds {
    const known = before ?? new UnnamedKinds(new Map(), new Map(), new Map());
    const counting = new Counting(known.#counts, names);
    const came = new Map<string, ComponentColumns>();
    let same = 0;
    for (const { id, visibility, columns } of rows) {
      if (visibility !== 'published') continue;
      if (known.#learnt.get(id) === columns) same++;
      else came.set(id, columns);
    }
    if (came.size === 0 && same === known.#learnt.size) return known;
    const learnt = new Map<string, ComponentColumns>();
    const isThere = new Set<string>();
    for (const { id, visibility } of rows) if (visibility === 'published') isThere.add(id);
    for (const [id, columns] of known.#learnt) {
      if (isThere.has(id) && !came.has(id)) learnt.set(id, columns);
      else counting.count(columns, -1);
    }
    for (const [id, columns] of came) {
      counting.count(columns, 1);
      learnt.set(id, columns);
    }
    return new UnnamedKinds(counting.counts, learnt, known.#made);
  }

  /** The spread of a component that nobody could name. */
  spreadOf({ id, package: body, appears }: Pick<Component, 'id' | 'package' | 'appears'>): KindSpread {
    const chip = appears !== undefined && PACKING.has(appears);
    return this.#spread(`${lettersOf(id)} ${chip ? 'chip' : ''} ${body ?? ''}`);
  }

  /** Whether spreads given by another table are what this one gives. */
  areCurrent(spreads: Iterable<KindSpread>): boolean {
    for (const spread of spreads) if (this.#spread(spread.key) !== spread) return false;
    return true;
  }

  #spread(key: string): KindSpread {
    let spread = this.#spreads.get(key);
    if (!spread) {
      const [letters, chip, ...body] = key.split(' ');
      const kinds = this.#kindsOf(letters, chip === 'chip', body.join(' '));
      // The same object as long as it says the same.
      const says = key + JSON.stringify(kinds);
      spread = this.#made.get(says) ?? { key, number: made++, kinds };
      this.#made.set(says, spread);
      this.#spreads.set(key, spread);
    }
    return spread;
  }

  /** Whether some component of these columns may be of other kinds by another table. */
  differs(other: UnnamedKinds, columns: ComponentColumns, names: Names): boolean {
    for (let at = 0; at < columns.length; at += COLUMNS) {
      if (!SAY_NOTHING.has(columns[at + COLUMN.category])) continue;
      const letters = lettersOf(names.textOf(columns[at + COLUMN.designator]));
      const body = names.textOf(columns[at + COLUMN.package]);
      for (const chip of ['chip', '']) {
        const key = `${letters} ${chip} ${body}`;
        if (this.#spread(key) !== other.#spread(key)) return true;
      }
    }
    return false;
  }

  #kindsOf(letters: string, chip: boolean, body: string): KindSpread['kinds'] {
    const found = this.#shares(letters, body).filter(
      ([category]) => !PACKING.has(category) && (!chip || isChipFunction(category)),
    );
    // A chip whose letters are those of nothing that chips do is taken as any chip.
    if (found.length === 0 && letters !== 'U') return chip ? this.#kindsOf('U', chip, '') : [];
    const named = found.reduce((sum, [, share]) => sum + share, 0);
    const scale = Math.min(1, (1 - OPEN_SHARE) / named);
    return found
      .map(([category, share]) => ({ category, probability: Number((share * scale).toFixed(4)) }))
      .filter(({ probability }) => probability >= MIN_SHARE)
      .sort((a, b) => b.probability - a.probability || (a.category < b.category ? -1 : 1))
      .slice(0, MAX_KINDS);
  }

  /** Shares of kinds behind a package, drawn towards those of its kin, and these towards common practice. */
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

/** Counts while they are being changed; those of before stay as they are. */
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

/** Keys of the counts of a package and of its kin: all packages of its name before the number of pins. */
function keysOf(letters: string, body: string): string[] {
  return [`${letters} ${body}`, `${letters} ${body.replace(/-\d+$/u, '')}…`];
}

/** Numbers of categories that say how a thing is packed and not what it does; 0 is a component of no known kind. */
const SAY_NOTHING: ReadonlySet<number> = new Set([
  0,
  ...[...PACKING].map((term) => categoryNumber(term) as number),
]);

/** Whether nobody could name some component of these columns. */
export function holdsUnnamed(columns: ComponentColumns): boolean {
  for (let at = COLUMN.category; at < columns.length; at += COLUMNS)
    if (SAY_NOTHING.has(columns[at])) return true;
  return false;
}

/**
 * What a spread adds to the candidates of a component: it takes what they leave to 1. A kind that a candidate names by
 * itself has been weighed by whoever gave that candidate, and gets no more.
 */
export function spreadCandidates(
  { kinds }: KindSpread,
  candidates: readonly Candidate[],
): readonly Candidate[] {
  const rest = 1 - candidates.reduce((sum, { probability }) => sum + probability, 0);
  if (rest <= 1e-9) return [];
  const weighed = candidates.flatMap(({ part, category }) =>
    part === undefined && category ? [category] : [],
  );
  return kinds
    .filter(({ category }) => !weighed.some((one) => isUnder(category, one) || isUnder(one, category)))
    .slice(0, Math.max(0, MAX_ALTERNATIVES - candidates.length))
    .map(({ category, probability }) => ({ category, probability: probability * rest }));
}

/** Class letters of a component's designator, unknown ones too. @param component its local id */
function lettersOf(component: string): string {
  return /^[A-Z]*/u.exec(designatorOf(component))?.[0] ?? '';
}

/** A count rounded to a power of √2. */
function inSteps(count: number): number {
  return count <= 0 ? 0 : 2 ** (Math.round(2 * Math.log2(count)) / 2);
}
