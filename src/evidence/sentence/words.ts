/** English words that carry no fact of their own, and those that an audit reads elsewhere. */
const PLAIN = new Set(
  `a an the this that these those it its they them their we our us you your he she who which what whose where when while
  and or but nor so yet if than then as at by for from in into of off on onto out over per through to toward under up with within
  without between among across along after before behind beside beneath above below ahead around near inside outside since until
  is are was were be been being am has have had having do does did done can could may might must shall should will would
  not no never none every each all any some both either neither most more less few fewer many much only first second third
  one two three four five six seven eight nine ten twice half other another same own such very too also again there here now
  still even just about likely unlikely probably perhaps maybe possibly certainly definitely extremely virtually almost nearly
  rather quite whole entire itself themselves how why because anything everything something nothing way kind sort`
    .split(/\s+/u)
    .filter((word) => word !== ''),
);

/** The stem of a word, coarse: endings off, first six letters. "Thickness" and "thick" share one. */
function stemOf(word: string): string {
  const bare = word
    .toLowerCase()
    .replace(/['’]s?$/u, '')
    .replace(/(?:nesses|ness|ments|ment|ings|ing|ied|ies|ed|es|s|ly|er|ers|y)$/u, '');
  return (bare.length < 3 ? word.toLowerCase() : bare).slice(0, 6);
}

const WORD = /\p{L}[\p{L}'’-]*/gu;

/** A run of words that say something by themselves, and whether what supports the sentence has one of them. */
export interface Remainder {
  readonly text: string;
  readonly isShared: boolean;
}

/**
 * What is left of a sentence when what was compared is taken out: runs of words with a meaning of their own.
 * @param taken spans that were compared
 * @param texts what is said of the things under the sentence
 */
export function remainderOf(
  sentence: string,
  taken: readonly { readonly start: number; readonly end: number }[],
  texts: readonly string[],
): readonly Remainder[] {
  const shared = new Set(texts.flatMap((text) => (text.match(WORD) ?? []).map(stemOf)));
  const runs: { words: string[]; isShared: boolean; end: number }[] = [];
  for (const match of sentence.matchAll(WORD)) {
    const [word] = match;
    const start = match.index;
    if (PLAIN.has(word.toLowerCase()) || word.length < 3) continue;
    if (taken.some((one) => start >= one.start && start < one.end)) continue;
    const isShared = shared.has(stemOf(word));
    const last = runs.at(-1);
    const joins = last && last.isShared === isShared && /^[\s-]*$/u.test(sentence.slice(last.end, start));
    if (joins) {
      last.words.push(word);
      last.end = start + word.length;
    } else runs.push({ words: [word], isShared, end: start + word.length });
  }
  return runs.map(({ words, isShared }) => ({ text: words.join(' '), isShared }));
}
