import { quoted } from '../board-design.ts';

/** Designators that one range may stand for; longer ones are slips. */
const MAX_RANGE = 2_000;

/** What a designator may look like in a trade file: `C1`, `U$5`, `LED3`, `ANT`, `R12A`, `J2_1`. */
const DESIGNATOR = /^[\p{Lu}][\p{L}\d_$+]*$/u;

/** `R1A-R1D` and `R1A-D`: letters behind one number. `C5A-C9A`: one letter behind several. */
const LETTER_RANGE = /^([\p{L}_$]*\d+)([A-Z])(?:-|–|—|~|\.\.+)(?:([\p{L}_$]*\d+))?([A-Z])$/u;
/** Words between the ends of a range and between designators; common practice, no source. */
const RANGE_WORD = /(?<=\d\p{L}?)\s+(?:to|thru|through|bis|jusqu'à|à)\s+(?=[\p{L}_$]*\d)/giu;
const AND_WORD = /(?<=\d\p{L}?)\s*(?:&|\+|\s(?:and|und|et)\s)\s*(?=[\p{L}_$]+\d)/giu;

const RANGE = /^([\p{L}_$]*?)(\d+)\s*(?:-|–|—|~|\.\.+)\s*([\p{L}_$]*?)(\d+)$/u;

/** Designators of a cell, and what of it was not understood or settled. */
export interface DesignatorList {
  readonly designators: readonly string[];
  /** Sentences without a subject, each with the fix. */
  readonly problems: readonly { readonly what: string; readonly fix: string }[];
  /** Pieces that are no designators: `Mounting hole`, `R?`. */
  readonly others: readonly string[];
  readonly cautions: readonly { readonly what: string; readonly fix: string }[];
}

/**
 * Reads `C1, C3-C5`, `R1 R2`, `R1;R2`, `C1..C4`, `C3–5`. Ranges run upwards with the same letters; a plain number behind
 * the dash takes the letters before it, and a caution says so.
 */
export function readDesignators(cell: string): DesignatorList {
  const designators: string[] = [];
  const others: string[] = [];
  const problems: { what: string; fix: string }[] = [];
  const cautions: { what: string; fix: string }[] = [];
  // A dash with spaces around it belongs to a range.
  const joined = cell
    .normalize('NFKC')
    .replace(RANGE_WORD, '-')
    .replace(AND_WORD, ',')
    .replace(/(?<!\s)\s*(–|—|~|\.\.+)\s*/gu, '$1')
    .replace(/(?<=\d\p{Lu}?)\s+-\s+(?=[\p{L}\d])/gu, '-');
  let separator = '';
  for (const piece of joined.split(/([\s,、;|/]+)/u)) {
    if (piece === '' || /^[\s,、;|/]/u.test(piece)) {
      separator = piece;
      continue;
    }
    const range = piece.length <= 60 ? RANGE.exec(piece) : null;
    if (range) {
      const expanded = expand(range as unknown as RangeMatch, piece);
      if ('problem' in expanded) problems.push(expanded.problem);
      else {
        designators.push(...expanded.designators);
        if (expanded.caution) cautions.push(expanded.caution);
      }
      continue;
    }
    const letters = piece.length <= 60 ? LETTER_RANGE.exec(piece) : null;
    if (letters) {
      const expanded = expandLetters(letters, piece);
      if ('problem' in expanded) problems.push(expanded.problem);
      else designators.push(...expanded.designators);
      continue;
    }
    const before = /^([\p{L}_$]+)\d+$/u.exec(designators.at(-1) ?? '')?.[1];
    // Between blanks a number may be anything: `R1 100`.
    if (before !== undefined && /^\d{1,4}$/u.test(piece) && separator.trim() !== '') {
      designators.push(`${before}${piece}`);
      cautions.push({
        what: `${quoted(piece)} behind ${designators.at(-2)} is read as ${before}${piece}`,
        fix: `write ${before}${piece}`,
      });
      continue;
    }
    // A small letter without a number is a word.
    const upper = /\d/u.test(piece) && /^\p{Ll}/u.test(piece) ? piece.toUpperCase() : piece;
    if (!DESIGNATOR.test(upper) || piece.length > 40) {
      others.push(piece);
      continue;
    }
    if (upper !== piece)
      cautions.push({ what: `${quoted(piece)} is read as ${upper}`, fix: 'write designators in capitals' });
    designators.push(upper);
  }
  // A word without a number is a designator by itself, ANT, and no part of a remark.
  if (others.length > 0) {
    const words = designators.filter((one) => !/\d/u.test(one));
    return {
      designators: designators.filter((one) => /\d/u.test(one)),
      others: [...words, ...others],
      problems,
      cautions,
    };
  }
  return { designators, others, problems, cautions };
}

/** Whether a cell holds designators and nothing else. */
export function isDesignatorList(cell: string): boolean {
  const { designators, others, problems, cautions } = readDesignators(cell);
  return (
    problems.length === 0 &&
    others.length === 0 &&
    cautions.length === 0 &&
    designators.length > 0 &&
    designators.every((one) => /\d/u.test(one))
  );
}

function expandLetters(
  [, before = '', first = '', again, last = '']: RegExpExecArray,
  piece: string,
): { readonly designators: readonly string[] } | { readonly problem: { what: string; fix: string } } {
  const [from, to] = [first.charCodeAt(0), last.charCodeAt(0)];
  if ((again === undefined || again === before) && from < to)
    return {
      designators: Array.from(
        { length: to - from + 1 },
        (_, i) => `${before}${String.fromCharCode(from + i)}`,
      ),
    };
  const range = from === to && again !== undefined ? RANGE.exec(`${before}-${again}`) : null;
  const numbers = range ? expand(range as unknown as RangeMatch, piece) : undefined;
  if (numbers && 'designators' in numbers)
    return { designators: numbers.designators.map((one) => `${one}${first}`) };
  return {
    problem: {
      what: `${quoted(piece)} is not a range of designators`,
      fix: 'write the designators one by one',
    },
  };
}

type RangeMatch = readonly [
  whole: string,
  letters: string,
  first: string,
  lettersAgain: string,
  last: string,
];

function expand(
  [, letters, first, again, last]: RangeMatch,
  piece: string,
):
  | { readonly designators: readonly string[]; readonly caution?: { what: string; fix: string } }
  | { readonly problem: { what: string; fix: string } } {
  const [from, to] = [Number(first), Number(last)];
  const prefix = letters.toUpperCase();
  const fix = 'write the designators one by one';
  if (
    prefix === '' ||
    (again !== '' && again.toUpperCase() !== prefix) ||
    to < from ||
    (again === '' && to === from)
  )
    return { problem: { what: `${quoted(piece)} is not a range of designators`, fix } };
  if (to - from >= MAX_RANGE)
    return { problem: { what: `${quoted(piece)} stands for more than ${MAX_RANGE} components`, fix } };
  const designators = Array.from({ length: to - from + 1 }, (_, i) => `${prefix}${from + i}`);
  if (again !== '' || letters === '') return { designators };
  return {
    designators,
    caution: {
      what: `${quoted(piece)} is read as ${prefix}${from} to ${prefix}${to}`,
      fix: `write ${prefix}${from}-${prefix}${to}`,
    },
  };
}
