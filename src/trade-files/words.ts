import { isRoot, lineage, namesOf, PACKING, TERMS } from '../model/taxonomy.ts';

// What words of a description say that a component is. A phrase is read as engineers write it: the last of its nouns is the thing, and
// those before say of which sort it is, so that a speaker amplifier is an amplifier; what comes behind a comma, a number or "with"
// is what the thing has. Names of the taxonomy and their other names are words too.

/** Decibans by term. */
export type Weights = Readonly<Record<string, number>>;

/** Weight of a term that is called by a name of the taxonomy, decibans (chosen, as the words of schema/trade-file-classes.yaml). */
const CALLED = 13;
/** What is left of the weight of a word that does not say what the thing is (chosen). */
const ASIDE = 0.4;
/** Where what a thing is ends and what it has, or is for, begins; a number begins a figure. */
const BREAK = /[,;()·]|\s(?:with|w\/|incl(?:uding|\.)?|for|to|mit|für|avec|pour)\s|(?<=\s)\d[\d.,]*/giu;
const TOGETHER = /\band\b|\bund\b|\bet\b|[+&/]/iu;
/** Names as plain as these are said of anything. */
const TOO_PLAIN = new Set(['cell', 'key', 'plug', 'socket', 'screen', 'slider', 'amp', 'flash', 'button']);

interface Found {
  readonly start: number;
  readonly end: number;
  readonly is: Weights;
}

/** Names of the taxonomy, the longest first, and the term of each. */
const NAMES = new Map(
  TERMS.filter((term) => !isRoot(term) && !PACKING.has(term)).flatMap((term) =>
    namesOf(term)
      .map((name) => name.toLowerCase())
      .filter((name) => !TOO_PLAIN.has(name))
      .map((name) => [name.replaceAll(/[\s-]+/gu, ' '), term] as const),
  ),
);
const CALLED_BY_NAME = new RegExp(
  `\\b(?<name>${[...NAMES.keys()]
    .sort((a, b) => b.length - a.length)
    .map((name) => name.replaceAll(' ', '[\\s-]+'))
    .join('|')})s?\\b`,
  'giu',
);

/** Rules on words, and the names of the taxonomy. */
export class WordRules {
  readonly #rules: readonly { readonly like: RegExp; readonly is: Weights }[];

  /** @param rules patterns anywhere in a text, in any case, with what they say */
  constructor(rules: readonly { readonly like: string; readonly is: Weights }[]) {
    this.#rules = rules.map(({ like, is }) => ({ like: new RegExp(like, 'iu'), is }));
  }

  /**
   * What texts say, each by itself.
   * @param code a number of a part, in which only the rules are looked for
   */
  weightsIn(texts: readonly string[], code: string | undefined): readonly Weights[] {
    const said = texts.flatMap((text) => weighed(text, [...this.#foundIn(text), ...named(text)]));
    return code === undefined ? said : [...said, ...this.#foundIn(code).map(({ is }) => is)];
  }

  #foundIn(text: string): readonly Found[] {
    return this.#rules.flatMap(({ like, is }) => {
      const found = like.exec(text);
      return found ? [{ start: found.index, end: found.index + found[0].length, is }] : [];
    });
  }
}

function named(text: string): readonly Found[] {
  return [...text.matchAll(CALLED_BY_NAME)].flatMap(({ index, 0: { length }, groups }) => {
    const term = NAMES.get((groups?.name ?? '').toLowerCase().replaceAll(/[\s-]+/gu, ' '));
    return term === undefined ? [] : [{ start: index, end: index + length, is: { [term]: CALLED } }];
  });
}

/** Weights of what was found in a text, less for what does not say what the thing is. */
function weighed(text: string, found: readonly Found[]): readonly Weights[] {
  const whole = found.filter((one) => !found.some((other) => isWithin(one, other)));
  const breaks = [...text.matchAll(BREAK)].map(({ index }) => index);
  const phraseOf = ({ start }: Found) => breaks.filter((at) => at <= start).length;
  const first = Math.min(...whole.map(phraseOf));
  return whole.map((one) => {
    const isHead = !whole.some(
      (other) =>
        other.start >= one.end &&
        phraseOf(other) === first &&
        !TOGETHER.test(text.slice(one.end, other.start)) &&
        !isOfOneFamily(one.is, other.is),
    );
    return phraseOf(one) === first && isHead ? one.is : lessened(one.is);
  });
}

/** Part of a longer find that says something else: "speaker" in "speaker amplifier". */
function isWithin(one: Found, other: Found): boolean {
  return (
    other.start <= one.start &&
    one.end <= other.end &&
    other.end - other.start > one.end - one.start &&
    !Object.keys(one.is).some((term) => other.is[term] !== undefined)
  );
}

/** Whether terms of both are under one term below the root: such words add to each other. */
function isOfOneFamily(one: Weights, other: Weights): boolean {
  const families = new Set(Object.keys(one).map(familyOf));
  return Object.keys(other).some((term) => families.has(familyOf(term)));
}

function familyOf(term: string): string {
  return lineage(term).findLast((above) => !isRoot(above)) ?? term;
}

function lessened(is: Weights): Weights {
  return Object.fromEntries(Object.entries(is).map(([term, weight]) => [term, weight * ASIDE]));
}
