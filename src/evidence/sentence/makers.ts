import { type Maker, type Part, partIdOf } from '../../model/catalogue.ts';
import { recordOfId } from '../../model/ids.ts';
import type { State } from '../../state/state.ts';
import { fixed } from '../../text/rounding.ts';
import type { Beneath, ComponentBeneath } from './beneath.ts';
import type { Span, StatedKind } from './kinds.ts';
import type { StatedName } from './names.ts';

// Who makes what a sentence speaks of: the catalogue has it.

/** A maker that a sentence names, and what it is said to make. */
export interface StatedMaker extends Span {
  readonly text: string;
  readonly maker: Maker;
  /** The kind of component beside it. */
  readonly kind: StatedKind | undefined;
  /** The part that it is said to make: "the QWR4T10 by Quistle". */
  readonly parts: readonly Part[];
  /**
   * How it is tied to what it makes: of a component or part ("the accelerometer is by …"), of the thing beside it, which may be the
   * device ("a … accelerometer"), or named by the way.
   */
  readonly tie: 'component' | 'beside' | 'none';
}

/** How a maker compares with what is under a sentence. */
export interface ComparedMaker {
  readonly result: 'carried' | 'contradicted' | 'unsupported';
  readonly message: string;
}

/** As likely as not: what a component is said to be by must be likelier than all others. */
const LIKELIER = 0.5;
/** What ends the clause in which a maker and what it makes stand together. */
const CLAUSE_END = /[;:.!?](?=\s|$)|,? (?:and|but|while|whereas|or) (?=(?:the|its|an?)\b)/giu;

/**
 * Makers that a sentence names, outside of names of devices.
 * @param kinds that the sentence names
 * @param devices and parts that it names
 */
export function makersNamed(
  state: State,
  sentence: string,
  kinds: readonly StatedKind[],
  devices: readonly Span[],
  parts: readonly StatedName<Part>[],
): readonly StatedMaker[] {
  const taken = [...devices, ...parts];
  const found: StatedMaker[] = [];
  const ends = [...sentence.matchAll(CLAUSE_END)].map(({ index }) => index);
  const clauseOf = (at: number) => ends.filter((end) => end < at).length;
  for (const maker of [...state.makers()].sort((a, b) => b.name.length - a.name.length)) {
    const spelt = maker.name.replaceAll(/[.*+?^${}()|[\]\\]/gu, '\\$&');
    for (const match of sentence.matchAll(new RegExp(`(?<![\\p{L}\\d])${spelt}(?![\\p{L}\\d])`, 'gu'))) {
      const span = { start: match.index, end: match.index + match[0].length };
      const isTaken = [...taken, ...found].some(({ start, end }) => span.start < end && start < span.end);
      if (isTaken) continue;
      const beside = kinds
        .filter(({ start }) => clauseOf(start) === clauseOf(span.start))
        .sort((a, b) => distance(a, span) - distance(b, span));
      found.push({ ...span, text: match[0], maker, ...tieOf(sentence, span, beside, parts) });
    }
  }
  return found.sort((a, b) => a.start - b.start);
}

const MADE_BY = `(?:(?:is|are|was|were|both|all|also|again|each) )*(?:made |built |supplied |sold |comes? |came )?(?:by|from)`;
/** Directly behind what it makes. */
const DIRECTLY_BY = new RegExp(`^,? ?(?:${MADE_BY}) $`, 'iu');
/** Behind a verb that ties the subject to its maker. */
const IS_BY =
  /\b(?:(?:is|are|was|were) (?:\p{L}+ )?(?:made |built |supplied |sold )?(?:by|from)|(?:made|supplied|comes?|came) (?:by|from)) $/iu;
const MAKES =
  /^ (?:\p{L}+ )?(?:makes|made|supplies|supplied|sells|sold|builds|built) (?:the|its|this|that|these|both|all)\b/iu;

function tieOf(
  sentence: string,
  { start, end }: Span,
  kinds: readonly StatedKind[],
  parts: readonly StatedName<Part>[],
): Pick<StatedMaker, 'kind' | 'parts' | 'tie'> {
  const isDirectly = (one: Span) => DIRECTLY_BY.test(sentence.slice(one.end, start));
  const part = parts.find(isDirectly);
  if (part) return { kind: undefined, parts: part.things, tie: 'component' };
  const behind = kinds.find(isDirectly);
  if (behind) return { kind: behind, parts: [], tie: 'component' };
  if (IS_BY.test(sentence.slice(0, start))) {
    const subject = kinds.filter((one) => one.end <= start).at(0);
    return { kind: subject, parts: [], tie: 'component' };
  }
  if (MAKES.test(sentence.slice(end)))
    return { kind: kinds.find((one) => one.start >= end), parts: [], tie: 'component' };
  const beside = kinds.find((one) => /^(?:['’]s?)? (?:[^\s,;:.]+ )?$/u.test(sentence.slice(end, one.start)));
  return { kind: beside ?? kinds[0], parts: [], tie: beside ? 'beside' : 'none' };
}

function distance(a: Span, b: Span): number {
  return Math.max(a.start - b.end, b.start - a.end);
}

/** Compares a maker with those of the devices, parts and components under the sentence. */
export function compareMaker(
  state: State,
  { maker, kind, parts: stated, tie }: StatedMaker,
  beneath: Beneath,
): ComparedMaker {
  const [other] = stated;
  if (other) {
    const own = stated.find((part) => madeBy(state, partIdOf(part)).has(maker.id));
    if (own) return { result: 'carried', message: `${partIdOf(own)} is of ${maker.name}` };
    const name = state.maker(other.maker)?.name ?? other.maker;
    return {
      result: 'contradicted',
      message: `${partIdOf(other)} is of ${name}: correct the maker, or the part`,
    };
  }
  // "The accelerometer is by Tarn" is no word about the band that Tarn sells.
  const isOfComponent = tie === 'component' && kind !== undefined;
  for (const { id, maker: its } of isOfComponent ? [] : beneath.devices.values())
    if (its === maker.id) return { result: 'carried', message: `${id} is by ${maker.name}` };
  const ofKind = kind
    ? beneath.components.filter(({ labels }) => (labels.get(kind.term) ?? 0) >= LIKELIER)
    : [];
  // What is named counts before what is merely about what was seen.
  const named = beneath.components.filter(({ isNamed }) => isNamed);
  const meant = [ofKind, named, beneath.components].find((list) => list.length > 0) ?? [];
  const odds = meant.map((one) => ({ id: one.id, makers: makersOf(state, one) }));
  const best = odds.find(({ makers }) => (makers.get(maker.id) ?? 0) > LIKELIER);
  if (best) return { result: 'carried', message: `${best.id} is of ${maker.name}` };
  const parts = beneath.parts.filter((part) => !kind || part.categories.includes(kind.term));
  if (meant.length === 0 && parts.some((part) => madeBy(state, partIdOf(part)).has(maker.id)))
    return { result: 'carried', message: `a part under it is of ${maker.name}` };
  const others = odds.flatMap(({ id, makers }) => {
    const [first] = [...makers].sort(([, a], [, b]) => b - a);
    const name = first && (state.maker(first[0])?.name ?? first[0]);
    return first && first[1] > LIKELIER ? [`${id} is of ${name}, ${fixed(first[1], 2)}`] : [];
  });
  if (others.length > 0 && others.length === meant.length) {
    const message = `${others.slice(0, 3).join('; ')}: correct the maker, or name what is of ${maker.name}`;
    return { result: 'contradicted', message };
  }
  const message = `nothing under it is known to be of ${maker.name}: name the component or the part that is`;
  return { result: 'unsupported', message };
}

/** Probability that a component is of each maker; a part under a new label is of both. */
function makersOf(state: State, { opened, component }: ComponentBeneath): ReadonlyMap<string, number> {
  const odds = new Map<string, number>();
  for (const { part, maker, probability } of opened.identified.get(component.id)?.candidates ?? []) {
    const makers = part === undefined ? new Set(maker === undefined ? [] : [maker]) : madeBy(state, part);
    for (const id of makers) odds.set(id, (odds.get(id) ?? 0) + probability);
  }
  return odds;
}

/** Makers of a part: whose label is on it, and whose part that is in truth. */
function madeBy(state: State, part: string): ReadonlySet<string> {
  const makers = new Set<string>();
  const seen = new Set<string>();
  for (let at: string | undefined = part; at !== undefined && !seen.has(at); at = state.part(at)?.relabels) {
    seen.add(at);
    makers.add(recordOfId(at));
  }
  return makers;
}
