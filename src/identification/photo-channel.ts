import type { MarkingCharacter, MarkingText } from '../model/marking.ts';
import { ALPHABET, believed, type Confusion, placeOf } from './confusion.ts';
import { type LineOrder, lineOrdersOf } from './line-orders.ts';
import { CHANCE, CHANCE_LINE, MAX_READ } from './marking-model.ts';
import { type PhotoConfusion, photoConfusionOf, readPhotoConfusionCounts } from './photo-confusion.ts';
import { BREAK, DIGIT, FREE, LETTER, SYMBOLS } from './template.ts';

// A crop of a photo as a noisy reading of a true text: each true character is read right, taken for another or dropped, and before each
// and at the end the program may put in some that are not there. The probability of what was read is the sum over all ways in which it may
// have come about (forward algorithm; Rabiner 1989, Proceedings of the IEEE 77, 257-286, section III A, with the edit operations of
// Ristad & Yianilos 1998, IEEE PAMI 20, 522-532).

/** A character as the program read it, and how sure it is, 0 to 100. */
export interface PhotoCharacter {
  readonly text: string;
  readonly confidence: number;
}
/** Lines of characters. */
export type PhotoLines = readonly (readonly PhotoCharacter[])[];

/** A character as it may truly be, by its place in ALPHABET, with the probability. */
export interface TrueCharacter {
  readonly text: string;
  readonly probability: number;
}

/** What one character that was read may truly be. */
export interface ReadCharacter extends PhotoCharacter {
  /** Likeliest first, those of one in a hundred and more. */
  readonly alternatives: readonly TrueCharacter[];
  /** Probability that no character stands there. */
  readonly nothing: number;
}

/** A symbol of a true text: one of template.ts, or weights over ALPHABET. */
export type TrueSymbol = number | Float64Array;

/** How often a marking that may go on does so after each further character (common practice, no source). */
const GOES_ON = 0.8;
/** Least probability with which a character is offered as read, and as one of several. */
const READ = 0.85;
const PERHAPS = 0.08;
/** Options offered at most for one character. */
const OPTIONS = 3;
/** Characters of this probability at least that a suggestion takes: fewer are found in the grain of anything. */
const LEGIBLE = 0.7;
const LEAST_LEGIBLE = 2;
/**
 * The program finds characters in the grain of plain mould compound, too, of which it is less sure: on average by less than this. Held
 * to bodies without a mark by tests/bench/photo-markings-held-out.ts.
 */
const NO_GRAIN = 94;
const NEVER = Number.NEGATIVE_INFINITY;

const IS_DIGIT = [...ALPHABET].map((one) => /\d/u.test(one));
const IS_LETTER = [...ALPHABET].map((one) => /[A-Zl]/u.test(one));
/** Weights of the symbols that stand for several characters. */
const FIELDS: Readonly<Record<number, Float64Array>> = {
  [FREE]: weighted((place) => IS_DIGIT[place] || IS_LETTER[place]),
  [DIGIT]: weighted((place) => IS_DIGIT[place]),
  [LETTER]: weighted((place) => IS_LETTER[place]),
};

function weighted(takes: (place: number) => boolean): Float64Array {
  const weights = CHANCE.map((share, place) => (takes(place) ? share : 0));
  const all = weights.reduce((sum, one) => sum + one, 0);
  return weights.map((one) => one / all);
}

/** What was read on one crop, held against true texts. */
export class PhotoChannel {
  readonly lines: PhotoLines;
  readonly #confusion: PhotoConfusion;
  /** Characters with the ends of lines between them; undefined for such an end. */
  readonly #read: readonly (PhotoCharacter | undefined)[];
  /** ln P(character j | symbol, which is read), at [j * SYMBOLS + symbol]. */
  readonly #emit: Float64Array;
  /** P(character j | true character that is read), by place in ALPHABET. */
  readonly #likely: Float64Array[] = [];
  readonly #inserted: Float64Array;
  /** ln P(character j | a text nobody knows). */
  readonly #chance: Float64Array;
  readonly #dropped: Float64Array;
  #marking: MarkingText | undefined;
  #orders: readonly { readonly channel: PhotoChannel; readonly log: number }[] | undefined;

  constructor(lines: PhotoLines, confusion: PhotoConfusion) {
    this.#confusion = confusion;
    this.lines = lines
      .map((line) => line.filter(({ text }) => placeOf(text) >= 0))
      .filter((line) => line.length > 0);
    this.#read = this.lines
      .flatMap((line, at): readonly (PhotoCharacter | undefined)[] => (at > 0 ? [undefined, ...line] : line))
      .slice(0, MAX_READ);
    this.#dropped = Float64Array.from({ length: SYMBOLS }, (_, symbol) =>
      symbol === BREAK ? confusion.lineLost : mean(weightsOf(symbol), confusion.dropped),
    );
    const length = this.#read.length;
    this.#emit = new Float64Array(length * SYMBOLS).fill(NEVER);
    this.#inserted = new Float64Array(length);
    this.#chance = new Float64Array(length);
    this.#read.forEach((one, j) => {
      if (!one) {
        this.#emit[j * SYMBOLS + BREAK] = 0;
        this.#inserted[j] = Math.log(confusion.lineInserted);
        this.#chance[j] = Math.log(CHANCE_LINE);
        this.#likely[j] = NOTHING;
        return;
      }
      const likelihoods = this.#likelihoods(one);
      this.#likely[j] = likelihoods;
      for (let symbol = 0; symbol < SYMBOLS; symbol++)
        if (symbol !== BREAK)
          this.#emit[j * SYMBOLS + symbol] = Math.log(mean(weightsOf(symbol), likelihoods));
      this.#inserted[j] =
        Math.log(1 - confusion.lineInserted) +
        confusion.logInserted(one.text, confusion.bandOf(one.confidence));
      this.#chance[j] = Math.log(mean(CHANCE, likelihoods));
    });
  }

  /** P(read so | true character that is read), by place in ALPHABET. */
  #likelihoods({ text, confidence }: PhotoCharacter): Float64Array {
    const band = this.#confusion.bandOf(confidence);
    return Float64Array.from(ALPHABET, (_, truth) => Math.exp(this.#confusion.logRead(truth, text, band)));
  }

  /**
   * Natural logarithm of P(what was read | this text), over all alignments.
   * @param isOpen whether more of the text may follow that nobody knows
   */
  logLikelihood(text: readonly TrueSymbol[], isOpen = false): number {
    const length = this.#read.length;
    const { inserted } = this.#confusion;
    const [more, on] = [Math.log(inserted), Math.log(1 - inserted)];
    let row = new Float64Array(length + 1);
    for (let j = 1; j <= length; j++) row[j] = row[j - 1] + more + this.#inserted[j - 1];
    for (const symbol of text) {
      const next = new Float64Array(length + 1);
      const lost = typeof symbol === 'number' ? this.#dropped[symbol] : mean(symbol, this.#confusion.dropped);
      const [dropped, kept] = [on + Math.log(lost), on + Math.log(1 - lost)];
      next[0] = row[0] + dropped;
      for (let j = 1; j <= length; j++)
        next[j] = logSum(
          logSum(row[j] + dropped, row[j - 1] + kept + this.#emitted(symbol, j - 1)),
          next[j - 1] + more + this.#inserted[j - 1],
        );
      row = next;
    }
    if (!isOpen) return row[length] + on;
    let sum = NEVER;
    let rest = Math.log(1 - GOES_ON);
    for (let j = length; j >= 0; j--) {
      sum = logSum(sum, row[j] + on + rest);
      if (j > 0) rest += Math.log(GOES_ON) + this.#chance[j - 1];
    }
    return sum;
  }

  /** The same against a text that nobody knows, whose characters are drawn one by one. */
  logRatio(text: readonly TrueSymbol[], isOpen = false): number {
    return this.logLikelihood(text, isOpen) - this.#chance.reduce((sum, one) => sum + one, 0);
  }

  #emitted(symbol: TrueSymbol, j: number): number {
    if (typeof symbol === 'number') return this.#emit[j * SYMBOLS + symbol];
    return Math.log(mean(symbol, this.#likely[j]));
  }

  /** What each character may truly be, before anything is known of the component: each as common as in markings. */
  characters(): readonly (readonly ReadCharacter[])[] {
    const { inserted, dropped } = this.#confusion;
    return this.lines.map((line) =>
      line.map((one) => {
        const likelihoods = this.#likelihoods(one);
        // A small l looks like a 1 and is rare; whoever knows better writes it.
        const weights = likelihoods.map((likelihood, place) =>
          ALPHABET[place] === 'l' ? 0 : (1 - inserted) * CHANCE[place] * (1 - dropped[place]) * likelihood,
        );
        const band = this.#confusion.bandOf(one.confidence);
        const nothing = inserted * Math.exp(this.#confusion.logInserted(one.text, band));
        const all = weights.reduce((sum, weight) => sum + weight, nothing);
        const alternatives = [...weights]
          .map((weight, place) => ({ text: ALPHABET[place], probability: weight / all }))
          .filter(({ probability }) => probability >= 0.01)
          .sort((a, b) => b.probability - a.probability);
        return { ...one, alternatives, nothing: nothing / all };
      }),
    );
  }

  /** How much it tells: letters and digits that are all but certain. */
  get told(): number {
    return this.characters()
      .flat()
      .filter(({ alternatives: [first] }) => first !== undefined && first.probability >= LEGIBLE).length;
  }

  /**
   * What was read as an editor would write it: characters that are doubtful as several or as unread, and without what is likelier not
   * there at all. Undefined where too little is legible to suggest anything.
   */
  suggestion(): MarkingText | undefined {
    let legible = 0;
    const lines = this.characters()
      .map((line) =>
        line.flatMap(({ alternatives, nothing }): readonly MarkingCharacter[] => {
          const [first] = alternatives;
          if (nothing > (first?.probability ?? 0)) return [];
          if (first.probability >= LEGIBLE && /[A-Z0-9]/u.test(first.text)) legible++;
          if (first.probability >= READ) return [{ options: [first.text] }];
          const options = alternatives.filter(({ probability }) => probability >= PERHAPS).slice(0, OPTIONS);
          const covered = options.reduce((sum, { probability }) => sum + probability, 0);
          return [{ options: covered >= LEGIBLE ? options.map(({ text }) => text) : [] }];
        }),
      )
      .filter((line) => line.some(({ options }) => options.length > 0));
    return legible >= LEAST_LEGIBLE && this.#sureness >= NO_GRAIN ? lines : undefined;
  }

  /** How sure the program was of its characters on average. */
  get #sureness(): number {
    const all = this.lines.flat();
    return all.reduce((sum, { confidence }) => sum + confidence, 0) / all.length;
  }

  /** Ways to take its lines, with the natural logarithm of the share of each: a package may lie upside down. */
  get orders(): readonly { readonly channel: PhotoChannel; readonly log: number }[] {
    this.#orders ??= lineOrdersOf(this.marking).map(({ marking, log }: LineOrder, at) => ({
      channel: at === 0 ? this : new PhotoChannel(this.#linesOf(marking), this.#confusion),
      log,
    }));
    return this.#orders;
  }

  /** The lines as they were read whose characters a marking made of them has. */
  #linesOf(marking: MarkingText): PhotoLines {
    const own = new Map(this.marking.map((line, at) => [line, this.lines[at]]));
    return marking.map((line) => own.get(line) ?? []);
  }

  /** The characters as they were read, without doubts. */
  get marking(): MarkingText {
    this.#marking ??= this.lines.map((line) => line.map(({ text }) => ({ options: [text] })));
    return this.#marking;
  }

  /**
   * The channel in the form in which markings of a whole catalogue are weighed (marking-model.ts), which knows a character by what was
   * read alone: where one is read several times, as sure as on average.
   */
  asConfusion(): Confusion {
    const { inserted, dropped } = this.#confusion;
    const size = ALPHABET.length;
    const read = new Float64Array(size * size).fill(1 / size);
    for (const [text, ones] of Map.groupBy(this.lines.flat(), (one) => one.text)) {
      const logs = Float64Array.from(ALPHABET, (_, truth) =>
        ones.reduce(
          (sum, { confidence }) =>
            sum + this.#confusion.logRead(truth, text, this.#confusion.bandOf(confidence)) / ones.length,
          0,
        ),
      );
      const likelihoods = logs.map(Math.exp);
      const place = placeOf(text);
      // Against a text that nobody knows the columns are compared with how common a character is.
      const scale = CHANCE[place] / mean(CHANCE, likelihoods);
      for (let truth = 0; truth < size; truth++) read[truth * size + place] = likelihoods[truth] * scale;
    }
    const overlooked = mean(CHANCE, dropped);
    const slips = {
      otherwise: UNUSUAL,
      overlooked,
      imagined: inserted,
      doubled: UNUSUAL,
      transposed: UNUSUAL,
    };
    return { read, columns: new Map(), slips };
  }
}

let standard: PhotoConfusion | undefined;

/** What was read on a crop, held against true texts by the counts that ship with the project. */
export function channelOf(lines: PhotoLines): PhotoChannel {
  standard ??= photoConfusionOf(readPhotoConfusionCounts());
  return new PhotoChannel(lines, standard);
}

/** Rate of slips that eyes make and the program does not. */
const UNUSUAL = 1e-6;

/**
 * A marking as the bench recorded it, as what may truly stand there: each character as eyes confuse it, and unread ones as any.
 * @param eyes how eyes confuse characters
 */
export function recordedText(marking: MarkingText, eyes: Confusion): readonly TrueSymbol[] {
  const size = ALPHABET.length;
  const lines = marking
    .map((line) =>
      line.filter(({ options }) => options.length === 0 || options.some((one) => placeOf(one) >= 0)),
    )
    .filter((line) => line.length > 0);
  const soft = (character: MarkingCharacter): TrueSymbol => {
    const seen = believed(character);
    if (!seen) return FREE;
    const weights = CHANCE.map((share, truth) => {
      let sum = 0;
      for (const [place, weight] of seen) sum += weight * eyes.read[truth * size + place];
      return share * sum;
    });
    const all = weights.reduce((sum, one) => sum + one, 0);
    return weights.map((one) => one / all);
  };
  return lines.flatMap((line, at) => (at > 0 ? [BREAK, ...line.map(soft)] : line.map(soft)));
}

/** What it costs where a text and a recorded marking differ in a character or by the end of a line. */
const DIFFERS = 1;
const LINE_DIFFERS = 3;
/** Share with which a recorded character may be a symbol for both to be taken for the same. */
const MAY_BE = 0.2;

/**
 * A known text whose lots, dates and open end are those of a recorded marking, by the fewest differences between the two.
 * @param recorded as {@link recordedText} gives it
 */
export function filledFrom(
  text: readonly number[],
  isOpen: boolean,
  recorded: readonly TrueSymbol[],
): readonly TrueSymbol[] {
  const width = recorded.length + 1;
  const cost = new Float64Array((text.length + 1) * width);
  const both = (i: number, j: number) => {
    const [one, other] = [text[i - 1], recorded[j - 1]];
    if (one === BREAK || other === BREAK) return one === other ? 0 : LINE_DIFFERS;
    if (typeof other === 'number') return 0;
    return shareIn(one, other) >= MAY_BE ? 0 : DIFFERS;
  };
  for (let i = 0; i <= text.length; i++)
    for (let j = 0; j <= recorded.length; j++) {
      const more = isOpen && i === text.length ? 0 : DIFFERS;
      cost[i * width + j] =
        i === 0 && j === 0
          ? 0
          : Math.min(
              i > 0 && j > 0 ? cost[(i - 1) * width + j - 1] + both(i, j) : Number.POSITIVE_INFINITY,
              i > 0 ? cost[(i - 1) * width + j] + DIFFERS : Number.POSITIVE_INFINITY,
              j > 0 ? cost[i * width + j - 1] + more : Number.POSITIVE_INFINITY,
            );
    }
  const filled: TrueSymbol[] = [];
  for (let [i, j] = [text.length, recorded.length]; i > 0 || j > 0; ) {
    const here = cost[i * width + j];
    if (i > 0 && j > 0 && here === cost[(i - 1) * width + j - 1] + both(i, j))
      filled.push(within(text[--i], recorded[--j]));
    else if (i > 0 && here === cost[(i - 1) * width + j] + DIFFERS) filled.push(text[--i]);
    else {
      j--;
      if (isOpen && i === text.length) filled.push(recorded[j]);
    }
  }
  return filled.reverse();
}

/** How likely a recorded character is one that a symbol stands for. */
function shareIn(symbol: number, recorded: Float64Array): number {
  const field = weightsOf(symbol);
  return recorded.reduce((sum, share, place) => sum + (field[place] > 0 ? share : 0), 0);
}

/** A field with what was recorded in it; any other symbol is what the text says. */
function within(symbol: number, recorded: TrueSymbol): TrueSymbol {
  const field = FIELDS[symbol];
  if (!field || typeof recorded === 'number') return symbol;
  const share = shareIn(symbol, recorded);
  if (share < MAY_BE) return symbol;
  return recorded.map((one, place) => (field[place] > 0 ? one / share : 0));
}

/** The weights of a symbol over ALPHABET. */
const units = Array.from({ length: ALPHABET.length }, (_, place) =>
  Float64Array.from(ALPHABET, (_one, other) => (other === place ? 1 : 0)),
);
const NOTHING = new Float64Array(ALPHABET.length);
function weightsOf(symbol: number): Float64Array {
  return units[symbol] ?? FIELDS[symbol] ?? NOTHING;
}

function mean(weights: Float64Array, of: Float64Array): number {
  let sum = 0;
  for (let at = 0; at < weights.length; at++) if (weights[at] > 0) sum += weights[at] * of[at];
  return sum;
}

function logSum(a: number, b: number): number {
  if (a === NEVER) return b;
  if (b === NEVER) return a;
  return a > b ? a + Math.log1p(Math.exp(b - a)) : b + Math.log1p(Math.exp(a - b));
}
