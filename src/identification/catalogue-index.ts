import type { MarkingText } from '../model/marking.ts';
import { alignmentOf, type SlipCounted } from './alignment.ts';
import { type Listener, ROUNDING, walk } from './catalogue-search.ts';
import {
  type Ending,
  firstBelow,
  formatsOf,
  growTrie,
  type KnownText,
  type Trie,
  textsOf,
} from './catalogue-trie.ts';
import { type Confusion, placeOf } from './confusion.ts';
import { type LineOrder, lineOrdersOf } from './line-orders.ts';
import { alignedRow, MAX_READ, prepare, type Reading, straightRatio } from './marking-model.ts';
import { type Outlines, outlinesOf } from './outlook.ts';
import { filledFrom, type PhotoChannel, recordedText } from './photo-channel.ts';
import { asReadOnSibling } from './siblings.ts';
import { parseTemplate } from './template.ts';
import {
  type ComparedReading,
  exampleOf,
  type FittingTexts,
  learningFrom,
  type UncataloguedRatios,
  type UncataloguedShares,
  uncataloguedRatios,
} from './uncatalogued-markings.ts';

/** A part as the index needs it. */
export interface IndexedPart {
  readonly id: string;
  readonly number: string;
  readonly markings: readonly string[];
  /** Its kind: all kinds together say how parts that nobody knows are marked, each as much as any other. @default one for all */
  readonly kind?: string;
}

/** A part whose marking may be the one read. */
export interface MarkingMatch {
  readonly part: string;
  /** The known marking that fits best, as the catalogue has it. */
  readonly template: string;
  /**
   * Natural logarithm of P(what was read | this part) over P(what was read | a text nobody knows). Positive: the part
   * explains the reading better than chance.
   */
  readonly logRatio: number;
}

/**
 * What a part without known markings carries, where it is its number: all of it or, where space is short, what of it follows the
 * maker's letters; alone, or with a lot or date after it (common practice, no source). Shares sum to 1.
 */
const CARRIES = [
  { of: (number: string) => number, share: 0.25 },
  { of: (number: string) => `${number}*`, share: 0.44 },
  { of: withoutLetters, share: 0.12 },
  { of: (number: string) => `${withoutLetters(number)}*`, share: 0.19 },
];

function withoutLetters(number: string): string {
  const rest = /^[A-Z]{1,4}(\d\w+)/iu.exec(number)?.[1];
  return rest !== undefined && rest.length >= 3 ? rest : number;
}
/** Worse than the best by a factor of ten thousand is not worth showing. */
const WINDOW = Math.log(10_000);
/** An open marking says nothing either way; less than this is rounding. */
const NO_BETTER_THAN_CHANCE = 1e-6;
/** Worse than the best by a factor of a million does not count as fitting. */
const FIT_WINDOW = Math.log(1e6);

/** How often a part carries a marking that its entry does not list, to begin with. */
export const SOME_OTHER = 0.03;
/** How often a part whose entry lists no marking carries its number, to begin with. */
const CARRIES_NUMBER = 0.8;
const LOG_SOME_OTHER = Math.log(SOME_OTHER);
/** A text that fits so well fits: a million times better than chance. */
const FITS_WELL = Math.log(1e6);
/** What fits worse than this adds nothing noticeable. */
const NO_LIKENESS = Math.log(1e-3);
/** Siblings that fit a reading this much worse than the best are left out. */
const SIBLING_WINDOW = Math.log(1e4);

/** What a reading says of parts, natural logarithms of likelihood ratios against chance. */
export interface MarkingRatios {
  /** Numbers of the parts whose known markings fit at all. */
  readonly parts: readonly number[];
  /** Of each of them. */
  readonly ratios: readonly number[];
  /** Of parts that nobody has catalogued. */
  readonly uncatalogued: UncataloguedRatios;
  /** Of a part that carries a text which its entry does not list: a format in common with known ones at most. */
  readonly foreign: number;
  /** By number of the part: 1 where its entry lists no marking, so that its ratio is that of what such parts carry. */
  readonly unlisted: Uint8Array;
}

/** A reading compared with the part it was read from. */
export interface ReadingComparison {
  /** Whether it is one of the markings that the catalogue lists. */
  readonly listed: boolean;
  /** Characters of the part, each followed by what it was read as. */
  readonly pairs: readonly string[];
  /** How many characters were compared, and how often each slip befell one; lots and dates left out. */
  readonly slips: ReadonlyMap<SlipCounted, number>;
}

interface Outlined {
  readonly trie: Trie;
  readonly outlines: Outlines;
}

interface Built {
  readonly known: Outlined;
  readonly manners: Outlined & { readonly unmet: number };
  shares?: UncataloguedShares;
  places?: { readonly order: Int32Array; readonly first: Int32Array };
}

/** Finds the parts whose known markings look like a reading. */
export class CatalogueIndex {
  readonly #parts: string[] = [];
  /** Number of the kind of each part, and numbers of the parts of each kind. */
  readonly #kinds: number[] = [];
  readonly #byKind: number[][] = [];
  readonly #kindNumbers = new Map<string, number>();
  /** Numbers of the parts whose markings are not listed. */
  readonly #supposed = new Set<number>();
  /** Known texts of each part. */
  readonly #texts: (readonly KnownText[])[] = [];
  readonly #confusion: Confusion;
  #unlisted = new Uint8Array();
  #places = new Int32Array();
  #grown: Built | undefined;

  constructor(parts: Iterable<IndexedPart>, confusion: Confusion) {
    this.#confusion = confusion;
    for (const part of parts) this.add(part);
  }

  /** Adds one part; the next search rebuilds the index. */
  add({ id, number, markings, kind = '' }: IndexedPart): void {
    const part = this.#parts.push(id) - 1;
    let kindNumber = this.#kindNumbers.get(kind);
    if (kindNumber === undefined) {
      kindNumber = this.#byKind.push([]) - 1;
      this.#kindNumbers.set(kind, kindNumber);
    }
    this.#kinds.push(kindNumber);
    this.#byKind[kindNumber].push(part);
    if (markings.length === 0) this.#supposed.add(part);
    const known =
      markings.length === 0
        ? CARRIES.map(({ of, share }) => ({ text: of(number), template: number, penalty: Math.log(share) }))
        : markings.map((template) => ({ text: template, template, penalty: 0 }));
    this.#texts.push(
      known.flatMap(({ text, template, penalty }) =>
        textsOf(parseTemplate(text), { part, template, penalty }, MAX_READ),
      ),
    );
    this.#grown = undefined;
  }

  /** Parts that explain a reading better than chance, best first, each once. */
  search(marking: MarkingText, limit = 50): readonly MarkingMatch[] {
    if (!isRead(marking)) return [];
    const { order, first } = this.#ordered();
    const leaders = new Leaders(limit);
    this.#walk(lineOrdersOf(marking), this.#confusion, {
      found: ({ part, template }, logRatio) => {
        if (logRatio <= NO_BETTER_THAN_CHANCE) return;
        leaders.add({ part: this.#parts[part], template, logRatio, place: order[part] });
      },
      // No better than chance, far worse than the best, or behind those shown: it does not matter.
      floor: (best) => Math.max(NO_BETTER_THAN_CHANCE, leaders.last?.logRatio ?? 0, best - WINDOW),
      order: { first, last: () => leaders.last?.place ?? Number.POSITIVE_INFINITY },
    });
    const shown = leaders.all;
    return shown
      .filter(({ logRatio }) => logRatio >= shown[0].logRatio - WINDOW)
      .map(({ part, template, logRatio }) => ({ part, template, logRatio }));
  }

  /**
   * Log-ratios of a reading for every part whose marking explains it better than `floor` and not a million times
   * worse than the best, by the place at which the part was added, and for parts that nobody has catalogued; undefined
   * when nothing was read at all.
   * @param confusion another table than that of the index
   */
  weigh(marking: MarkingText, floor: number, confusion = this.#confusion): MarkingRatios | undefined {
    const compared = this.#compare(marking, floor, confusion);
    if (!compared) return undefined;
    const { parts, ratios } = compared.exact;
    return {
      parts,
      ratios,
      uncatalogued: uncataloguedRatios(compared, this.#shares()),
      foreign: compared.format,
      unlisted: this.#unlistedParts(),
    };
  }

  /**
   * The same of what was read on a photo, with every part that it fits weighed over all alignments, each character as sure as it was.
   * Natural logarithms; in steps of a few milliseconds.
   */
  *weighPhoto(channel: PhotoChannel, floor: number): Generator<void, MarkingRatios | undefined> {
    const weighed = this.weigh(channel.marking, floor, channel.asConfusion());
    if (!weighed) return undefined;
    const ratios: number[] = [];
    for (const part of weighed.parts) {
      ratios.push(this.#fitOnPhoto(part, channel));
      yield;
    }
    return { ...weighed, ratios };
  }

  /**
   * What a marking as recorded and what was read on a photo say together. Whatever part it is, both are of one text: what nobody knows
   * of explains the photo as well as the recorded marking allows, so that a photo which merely repeats what was recorded adds nothing.
   * @param recorded what {@link weigh} says of the marking
   * @param confusion how eyes confuse characters
   */
  *weighWithPhoto(
    recorded: MarkingRatios,
    marking: MarkingText,
    confusion: Confusion,
    channel: PhotoChannel,
  ): Generator<void, MarkingRatios> {
    const orders = lineOrdersOf(marking).map(({ marking: taken, log }) => ({
      ...{ taken, log },
      text: recordedText(taken, confusion),
    }));
    const unknown = overOrders(channel, (one) => one.logRatio(orders[0].text));
    const ratios: number[] = [];
    for (const part of recorded.parts) {
      let best = Number.NEGATIVE_INFINITY;
      for (const { symbols, ending } of this.#texts[part]) {
        // The way to take the recorded lines that fits this text best.
        let [fit, as] = [Number.NEGATIVE_INFINITY, orders[0].text];
        for (const { taken, log, text } of orders) {
          const ratio = ratioOf(prepare(taken, confusion), symbols, ending.open) + ending.penalty + log;
          if (ratio > fit) [fit, as] = [ratio, text];
        }
        // Lots and dates are what was recorded, whichever part it is.
        const filled = filledFrom(symbolsOf(symbols), ending.open, as);
        best = Math.max(best, fit + overOrders(channel, (one) => one.logRatio(filled)) - unknown);
      }
      ratios.push(best);
      yield;
    }
    return { ...recorded, ratios };
  }

  /** The best log-ratio of a part's known texts on a photo. */
  #fitOnPhoto(part: number, channel: PhotoChannel): number {
    return Math.max(
      ...this.#texts[part].map(
        ({ symbols, ending }) =>
          overOrders(channel, (one) => one.logRatio(symbolsOf(symbols), ending.open)) + ending.penalty,
      ),
    );
  }

  /**
   * What a reading says for being in the catalogue, all kinds of parts alike: natural logarithm of a likelihood ratio against
   * being in none. Undefined when nothing was read at all.
   * @param confusion another table than that of the index
   * @param number how often a part whose entry lists no marking carries its number
   */
  weightOf(marking: MarkingText, confusion = this.#confusion, number = CARRIES_NUMBER): number | undefined {
    const { length } = this.#parts;
    const weighed = this.weigh(marking, LOG_SOME_OTHER + NO_LIKENESS, confusion);
    if (!weighed || length === 0) return undefined;
    const { parts, ratios, uncatalogued, foreign } = weighed;
    const shareOf = (part: number) => 1 / (this.#byKind[this.#kinds[part]].length * this.#byKind.length);
    const mean = (of: readonly number[], logs: readonly number[], factor = (_: number) => 1) =>
      logs.reduce((sum, log, at) => sum + Math.exp(log) * shareOf(of[at]) * factor(of[at]), 0);
    const listed = 1 - SOME_OTHER;
    // Parts whose entries list no marking carry some other one more often.
    let without = 0;
    for (const part of this.#supposed) without += shareOf(part);
    const known =
      (SOME_OTHER * (1 - without) + (1 - number) * without) * Math.exp(foreign) +
      mean(parts, ratios, (part) => (this.#supposed.has(part) ? number : listed));
    const other = SOME_OTHER * Math.exp(foreign);
    const akin = mean(uncatalogued.parts, uncatalogued.ratios);
    return Math.log(known / (other + listed * (Math.exp(uncatalogued.strange) + akin)));
  }

  #unlistedParts(): Uint8Array {
    if (this.#unlisted.length < this.#parts.length) {
      this.#unlisted = new Uint8Array(this.#parts.length);
      for (const part of this.#supposed) this.#unlisted[part] = 1;
    }
    return this.#unlisted;
  }

  /** Everything that a reading is held against. */
  #compare(
    marking: MarkingText,
    floor: number,
    confusion: Confusion,
    orders = lineOrdersOf(marking),
  ): ComparedReading | undefined {
    if (!isRead(marking)) return undefined;
    const exact = this.#fitting(orders, confusion, (best) => Math.max(floor, best - FIT_WINDOW));
    const format = this.#ofFormat(orders, confusion);
    const altered = this.#fitting(orders, asReadOnSibling(confusion), (best) =>
      Math.max(format + NO_LIKENESS, best - SIBLING_WINDOW),
    );
    return { exact, altered, format };
  }

  /** The best log-ratio of each part that reaches a floor, which may rise with the best of all. */
  #fitting(
    orders: readonly LineOrder[],
    confusion: Confusion,
    floor: (best: number) => number,
  ): FittingTexts {
    const parts: number[] = [];
    const ratios: number[] = [];
    const endings: Ending[] = [];
    // Place of each part in the lists, counted from 1.
    if (this.#places.length < this.#parts.length) this.#places = new Int32Array(this.#parts.length);
    const places = this.#places;
    const best = this.#walk(orders, confusion, {
      found: (ending, logRatio) => {
        const { part } = ending;
        if (places[part] === 0) places[part] = parts.push(part);
        const at = places[part] - 1;
        if (ratios[at] >= logRatio) return;
        ratios[at] = logRatio;
        endings[at] = ending;
      },
      floor,
    });
    // What was met before the best does not depend on the way through the trie either.
    const minimum = floor(best);
    let kept = 0;
    parts.forEach((part, i) => {
      places[part] = 0;
      if (ratios[i] < minimum) return;
      parts[kept] = part;
      endings[kept] = endings[i];
      ratios[kept++] = ratios[i];
    });
    parts.length = kept;
    ratios.length = kept;
    return {
      parts,
      ratios,
      text: (at) => this.#texts[parts[at]].find(({ ending }) => ending === endings[at]) as KnownText,
    };
  }

  /**
   * A strange part, too, mostly follows the marking format of known parts: letters where they have letters,
   * digits where they have digits, dates where they have dates. A reading that shares no more than its format with a
   * known part is no evidence for that part.
   */
  #ofFormat(orders: readonly LineOrder[], confusion: Confusion): number {
    const { manners } = this.#built();
    let sum = 0;
    for (const { marking: taken, log } of orders) {
      const found = (_: Ending, logRatio: number) => {
        sum += Math.exp(logRatio + log);
      };
      const reading = prepare(taken, confusion);
      walk(reading, manners.trie, manners.outlines, { found, floor: () => NO_LIKENESS - log });
    }
    return Math.log(manners.unmet + (1 - manners.unmet) * sum);
  }

  /** How uncatalogued parts are marked, learnt from what each known marking has in common with those of other parts. */
  #shares(): UncataloguedShares {
    for (const _ of this.preparing());
    return this.#built().shares as UncataloguedShares;
  }

  /** How often a part that nobody knows is marked like a sibling of a known one. */
  get siblings(): number {
    return this.#shares().siblings;
  }

  /** Makes ready what {@link weigh} needs, in steps of a few milliseconds; without it the first one does so at once. */
  *preparing(): Generator<void> {
    const built = this.#built();
    if (built.shares) return;
    // A text of the catalogue has its lines as they are listed.
    built.shares = yield* learningFrom(this.#texts, this.#listedByKind(), (text) => {
      const marking = exampleOf(text);
      return this.#compare(marking, Number.NEGATIVE_INFINITY, this.#confusion, [{ marking, log: 0 }]);
    });
  }

  /**
   * Holds a reading against the markings that a part, by its place, is known to carry: whether it is likelier one of
   * those than some other, which is any text, and which it carries once in thirty times; and if so, how it was read.
   * Undefined where no character was read.
   */
  compared(marking: MarkingText, part: number): ReadingComparison | undefined {
    if (!isRead(marking)) return undefined;
    let best = Number.NEGATIVE_INFINITY;
    let closest:
      | { readonly symbols: string; readonly open: boolean; readonly taken: MarkingText }
      | undefined;
    for (const { marking: taken, log } of lineOrdersOf(marking)) {
      const reading = prepare(taken, this.#confusion);
      for (const { symbols, ending } of this.#texts[part]) {
        const ratio = ratioOf(reading, symbols, ending.open) + ending.penalty + log;
        if (ratio <= best) continue;
        best = ratio;
        closest = { symbols, open: ending.open, taken };
      }
    }
    if (!closest || best <= LOG_SOME_OTHER) return { listed: false, pairs: [], slips: new Map() };
    return { listed: true, ...alignmentOf(closest.taken, closest.symbols, closest.open, this.#confusion) };
  }

  /** Walks for each way to take the lines of a marking; what is found has the share of that way in it. */
  #walk(orders: readonly LineOrder[], confusion: Confusion, listener: Listener): number {
    const { known } = this.#built();
    let best = Number.NEGATIVE_INFINITY;
    for (const { marking: taken, log } of orders) {
      const so = best;
      const found = walk(prepare(taken, confusion), known.trie, known.outlines, {
        found: (ending, logRatio) => listener.found(ending, logRatio + log),
        floor: (ofThis) => listener.floor(Math.max(so, ofThis + log)) - log,
        ...(listener.order ? { order: listener.order } : {}),
      });
      best = Math.max(best, found + log);
    }
    return best;
  }

  /** Places of the parts by their ids, which break ties between log-ratios, and the first place below each node. */
  #ordered() {
    const built = this.#built();
    if (built.places) return built.places;
    const order = new Int32Array(this.#parts.length);
    const sorted = [...this.#parts.keys()].sort((a, b) => (this.#parts[a] < this.#parts[b] ? -1 : 1));
    sorted.forEach((part, place) => {
      order[part] = place;
    });
    built.places = { order, first: firstBelow(built.known.trie, order) };
    return built.places;
  }

  /** Parts of each kind whose markings are known; what others carry is only supposed, and teaches nothing where some are known. */
  #listedByKind(): readonly (readonly number[])[] {
    if (this.#supposed.size === this.#parts.length) return this.#byKind;
    return this.#byKind.map((parts) => parts.filter((part) => !this.#supposed.has(part)));
  }

  #built(): Built {
    if (this.#grown) return this.#grown;
    const texts = this.#texts.flat();
    const byKind = this.#listedByKind();
    const manners = formatsOf(
      byKind.flat().flatMap((part) => this.#texts[part]),
      (part) => 1 / byKind[this.#kinds[part]].length,
    );
    this.#grown = { known: outlined(texts), manners: { ...outlined(manners.texts), unmet: manners.unseen } };
    return this.#grown;
  }
}

const symbolsOf = (text: string) => Array.from(text, (_, at) => text.charCodeAt(at));

/** The best log-ratio over all ways to take the lines that were read on a photo. */
function overOrders({ orders }: PhotoChannel, ratio: (one: PhotoChannel) => number): number {
  return Math.max(...orders.map(({ channel, log }) => ratio(channel) + log));
}

/** Usually nothing was overlooked or imagined, and comparing character by character shows that a text fits. */
function ratioOf(reading: Reading, symbols: string, open: boolean): number {
  if (symbols.length === reading.length) {
    const straight = straightRatio(reading, symbols);
    if (straight > FITS_WELL) return straight;
  }
  const row = alignedRow(reading, symbols);
  return open ? Math.max(...row) : row[reading.length];
}

/** Whether any letter or digit was read at all. */
export function isRead(marking: MarkingText): boolean {
  return marking.some((line) =>
    line.some(({ options }) => options.some((one) => /[\p{L}\p{N}]/u.test(one) && placeOf(one) >= 0)),
  );
}

function outlined(texts: readonly KnownText[]): Outlined {
  const trie = growTrie(texts);
  return { trie, outlines: outlinesOf(trie) };
}

interface Leader extends MarkingMatch {
  readonly place: number;
}

/** The best parts so far, each once and as many as will be shown; ties go to the first by id. */
class Leaders {
  readonly #limit: number;
  readonly all: Leader[] = [];

  constructor(limit: number) {
    this.#limit = limit;
  }

  /** The last that would be shown; undefined while there is room. */
  get last(): Leader | undefined {
    return this.all.length < this.#limit ? undefined : this.all[this.#limit - 1];
  }

  add(one: Leader): void {
    const { all } = this;
    if (this.last && !goesBefore(one, this.last)) return;
    const before = all.findIndex(({ place }) => place === one.place);
    if (before >= 0) {
      // A part with several known markings counts with the one that fits best.
      if (!goesBefore(one, all[before])) return;
      all.splice(before, 1);
    }
    let at = all.length;
    while (at > 0 && goesBefore(one, all[at - 1])) at--;
    all.splice(at, 0, one);
    if (all.length > this.#limit) all.pop();
  }
}

function goesBefore(a: Leader, b: Leader): boolean {
  const grains = Math.round(a.logRatio / ROUNDING) - Math.round(b.logRatio / ROUNDING);
  return grains > 0 || (grains === 0 && a.place < b.place);
}
