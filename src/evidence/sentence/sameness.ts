import { termInWords, withArticle } from '../../model/taxonomy.ts';
import { POSSIBLE } from '../../state/labels.ts';
import type { State } from '../../state/state.ts';
import { tidy } from '../../statistics/tidy.ts';
import { fixed } from '../../text/rounding.ts';
import type { Beneath, ComponentBeneath } from './beneath.ts';
import type { Span, StatedKind } from './kinds.ts';

// "The same accelerometer", "identical chips": whether two components are the same part.

/** Words of a sentence that say that two things are the same part. */
export interface StatedSameness extends Span {
  readonly text: string;
  /** Kind of the things; undefined for "part", "chip" and the like. */
  readonly term: string | undefined;
  /** Whether it speaks of several by the words alone: "identical microphones", "are the same part". */
  readonly isOfSeveral: boolean;
  /** Whether it says that they are not the same. */
  readonly isDenied: boolean;
}

/** How it compares with what is under the sentence; undecided where nothing is known of two such things. */
export interface ComparedSameness {
  readonly result: 'carried' | 'contradicted' | 'undecided';
  readonly message: string;
}

const ANY = `(?:parts?|part numbers?|chips?|components?|sensors?|ICs?)`;
const SAME = `(?:(?:the|one and the) (?:very |exact(?:ly the)? )?same|(?:an |the )?identical)`;

/** "The same …" and "identical …" with a kind or a word for any component behind; "the same side", "the same time" are others. */
export function samenessIn(sentence: string, kinds: readonly StatedKind[]): readonly StatedSameness[] {
  return [...sentence.matchAll(new RegExp(`\\b${SAME}\\b`, 'giu'))].flatMap((match): StatedSameness[] => {
    const start = match.index;
    const from = start + match[0].length;
    // A word or two may stand between: "the same six-pin accelerometer".
    const kind = kinds.find(
      (one) =>
        one.start >= from &&
        /^(?:[\s-]+(?!(?:as|the|of|on|in|at|by|for|with|an?|to|and|or|that|which)\b)[^\s,;:.]+)?\s*$/iu.test(
          sentence.slice(from, one.start),
        ),
    );
    const before = sentence.slice(0, start);
    const predicate = /\b(?:are|were|is|be) (?:\p{L}+ )?$/iu.test(before);
    const isDenied = /(?:\bnot|\bno longer|\bnever|n['’]t|\bneither)(?:\s+\p{L}+)?\s*$/iu.test(before);
    const isOf = (text: string) =>
      /s$/u.test(text) ||
      predicate ||
      /\btwice\b/iu.test(sentence) ||
      /^(?:an |the )?identical/iu.test(match[0]);
    if (kind)
      return [
        {
          start,
          end: kind.end,
          text: sentence.slice(start, kind.end),
          term: kind.term,
          isOfSeveral: isOf(kind.text),
          isDenied,
        },
      ];
    const any = new RegExp(
      `^(?:\\s+(?!(?:as|the|of|on|in|at|by|for|with|an?|to|and|or|that|which)\\b)[^\\s,;:.]+)?\\s+${ANY}(?![\\p{L}-])`,
      'iu',
    ).exec(sentence.slice(from));
    if (!any) return [];
    const end = from + any[0].length;
    // What is said to be the same part is named ahead of it: "the two microphones are the same part".
    const subject = predicate ? kinds.findLast((one) => one.end <= start) : undefined;
    return [
      {
        start,
        end,
        text: sentence.slice(start, end),
        term: subject?.term,
        isOfSeveral: isOf(any[0]),
        isDenied,
      },
    ];
  });
}

/** Compares it with the components under the sentence: over units of several devices, or within one where it speaks of several. */
export function compareSameness(state: State, stated: StatedSameness, beneath: Beneath): ComparedSameness {
  const { term } = stated;
  const spoken = term === undefined ? 'component' : termInWords(term);
  const named = beneath.components.filter(({ isNamed }) => isNamed);
  const meant = (named.length > 1 ? named : beneath.components).filter(
    ({ labels }) => term === undefined || (labels.get(term) ?? 0) >= POSSIBLE,
  );
  const units = new Set(meant.map(({ opened }) => opened.id));
  const pairs = meant.flatMap((a, i) =>
    meant.slice(i + 1).flatMap((b) => (units.size > 1 && a.opened === b.opened ? [] : [[a, b] as const])),
  );
  const known = pairs.flatMap(([a, b]) => {
    const probability = sameChance(state, a, b);
    return probability === undefined ? [] : [{ a, b, probability }];
  });
  if (units.size < 2 && !stated.isOfSeveral) {
    const message = `of which two things it is said; one unit alone has ${withArticle(spoken)} under it`;
    return { result: 'undecided', message };
  }
  if (known.length === 0) {
    const message =
      pairs.length === 0
        ? 'no two such things are under it'
        : `which parts ${meant.map(({ id }) => id).join(' and ')} are is not known`;
    return { result: 'undecided', message };
  }
  const [best] = known.toSorted((x, y) => y.probability - x.probability);
  // All of those that one unit has must be alike; of two units one of each.
  const judged =
    units.size > 1 ? best : (known.toSorted((x, y) => x.probability - y.probability)[0] as typeof best);
  const { a, b, probability } = judged;
  const unlike = [a, b].map((one) => `${one.id} is ${partText(one)}`).join('; ');
  if (stated.isDenied)
    return probability > 0.5
      ? { result: 'contradicted', message: `${unlike}; the same with ${fixed(probability, 2)}: correct it` }
      : { result: 'carried', message: unlike };
  if (probability > 0.5)
    return { result: 'carried', message: `${a.id} and ${b.id} are the same part, ${fixed(probability, 2)}` };
  const message = `${unlike}; the same with ${fixed(probability, 2)}: leave "same" out, or name what is the same`;
  return { result: 'contradicted', message };
}

/** Probability that two components are the same part, taken as independent; a part under a new label is the same. */
function sameChance(state: State, a: ComponentBeneath, b: ComponentBeneath): number | undefined {
  const [first, second] = [a, b].map((one) => partsOf(state, one));
  if (first.size === 0 || second.size === 0) return undefined;
  return tidy([...first].reduce((sum, [part, chance]) => sum + chance * (second.get(part) ?? 0), 0));
}

function partsOf(state: State, { opened, component }: ComponentBeneath): ReadonlyMap<string, number> {
  const odds = new Map<string, number>();
  for (const { part, probability } of opened.identified.get(component.id)?.candidates ?? []) {
    if (part === undefined) continue;
    const original = originalOf(state, part);
    odds.set(original, (odds.get(original) ?? 0) + probability);
  }
  return odds;
}

function originalOf(state: State, part: string): string {
  const seen = new Set([part]);
  let at = part;
  for (
    let next = state.part(at)?.relabels;
    next !== undefined && !seen.has(next);
    next = state.part(at)?.relabels
  ) {
    seen.add(next);
    at = next;
  }
  return at;
}

function partText({ opened, component }: ComponentBeneath): string {
  const [best] = (opened.identified.get(component.id)?.candidates ?? []).toSorted(
    (a, b) => b.probability - a.probability,
  );
  return best ? `${best.part ?? best.category ?? best.maker} (${best.probability})` : 'not identified';
}
