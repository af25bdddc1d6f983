import type { Claim } from '../../model/catalogue.ts';
import { deviceIdOf } from '../../model/dossier.ts';
import { isUnder, lineage, meaningOf, termInWords, withArticle } from '../../model/taxonomy.ts';
import { writtenUnit } from '../../model/written-unit.ts';
import { presenceRow, specimenPresence, thingOf, whyPresence } from '../../presence/presence.ts';
import { CERTAIN, POSSIBLE } from '../../state/labels.ts';
import type { State } from '../../state/state.ts';
import { fixed } from '../../text/rounding.ts';
import type { Support } from '../support.ts';
import { type Beneath, beneathOf } from './beneath.ts';
import { boardsIn, compareBoards } from './boards.ts';
import { checkQuantifier } from './check-quantifier.ts';
import { compareDate, datesIn, type StatedDate } from './dates.ts';
import { isEveryday, kindsIn, type Span, type StatedKind } from './kinds.ts';
import { compareMaker, makersNamed } from './makers.ts';
import { devicesNamed, partsNamed, properNames } from './names.ts';
import { quantifiersIn } from './quantifiers.ts';
import { numbersLeft, quantitiesIn, type StatedQuantity } from './quantities.ts';
import { compareSameness, samenessIn } from './sameness.ts';
import type { Statement } from './statement.ts';
import { compareQuantity, type ValueBeneath, valueText } from './values.ts';
import { remainderOf } from './words.ts';

/** What a sentence says in particular, and what of it was compared with nothing. */
export interface CheckedSentence {
  readonly statements: readonly Statement[];
  /** In so many words. */
  readonly notChecked: readonly string[];
  /** Whether nothing that it says, not even a word, is in what supports it. */
  readonly isForeign: boolean;
}

/**
 * Compares what a sentence says in particular with what is under it: numbers with units with recorded values, kinds of components
 * and their number with components, denials with what was looked at, quantifiers with figures, names with things.
 */
export async function checkSentence(
  state: State,
  claim: Claim,
  support: Support,
  signal?: AbortSignal,
): Promise<CheckedSentence> {
  const { sentence } = claim;
  const beneath = await beneathOf(state, claim, support, signal);
  const devices = devicesNamed(state, sentence);
  const parts = partsNamed(state, sentence);
  const quantities = quantitiesIn(sentence).filter((one) => !overlaps(one, [...devices, ...parts]));
  const kinds = kindsIn(sentence, [...devices, ...parts, ...quantities]);
  const quantifiers = quantifiersIn(sentence, quantities);

  const statements: Statement[] = [];
  const notChecked: string[] = [];
  for (const quantity of quantities) statements.push(checkQuantity(quantity, beneath));
  const shows = (kind: StatedKind) => !kind.isDenied && componentsOf(kind.term, beneath).length > 0;
  for (const kind of kinds) {
    const { found, left } = checkKind(state, kind, beneath, kinds.some(shows));
    statements.push(...found);
    notChecked.push(...left);
  }
  for (const quantifier of quantifiers)
    statements.push(checkQuantifier(state, quantifier, claim, beneath, devices));
  for (const { text, things } of parts) {
    const isThere = things.some((part) => beneath.parts.includes(part));
    const message = isThere
      ? `${text} is under it`
      : `nothing under it is ${text} or may be: name the component that is, or the part`;
    statements.push({ kind: 'part', text, result: isThere ? 'carried' : 'unsupported', message });
  }
  if ((claim.figures ?? []).length === 0)
    for (const { text, things } of devices) {
      if (things.some(({ id }) => beneath.devices.has(id))) continue;
      const message = `nothing under it is of the ${text} (${things.map(({ id }) => id).join(', ')}): name what shows it there`;
      statements.push({ kind: 'device', text, result: 'unsupported', message });
    }

  const makers = makersNamed(state, sentence, kinds, devices, parts);
  for (const stated of makers) {
    const { result, message } = compareMaker(state, stated, beneath);
    const { text } = stated;
    if (result === 'carried' || stated.tie !== 'none')
      statements.push({ kind: 'maker', text, result, message });
    else notChecked.push(`“${text}”: ${message}`);
  }
  const sameness = samenessIn(sentence, kinds);
  for (const stated of sameness) {
    const { result, message } = compareSameness(state, stated, beneath);
    const { text } = stated;
    if (result === 'undecided') notChecked.push(`“${text}”: ${message}`);
    else statements.push({ kind: 'part', text, result, message });
  }
  const boards = boardsIn(sentence);
  for (const stated of boards)
    statements.push({ kind: 'count', text: stated.text, ...compareBoards(stated, beneath) });
  const dates = datesIn(sentence);
  const isOfPart = parts.length > 0 || (devices.length === 0 && kinds.length > 0);
  const named = new Set(devices.flatMap(({ things }) => things.map(({ id }) => id)));
  for (const stated of dates)
    statements.push({ kind: 'date', text: stated.text, ...compareDate(stated, beneath, named, isOfPart) });

  const spans = [
    ...quantities,
    ...kinds,
    ...devices,
    ...parts,
    ...properNames(state, sentence),
    ...sameness,
    ...boards,
    ...dates,
    ...quantifiers.map(({ start, text }) => ({ start, end: start + text.length })),
  ];
  const texts = [...beneath.texts, ...meanings(beneath)];
  const remainder = remainderOf(sentence, spans, texts);
  const foreign = remainder.filter(({ isShared }) => !isShared);
  const shared = remainder.filter(({ isShared }) => isShared);
  const quoted = (runs: typeof remainder) => runs.map(({ text }) => `“${text}”`).join(', ');
  if (foreign.length > 0) notChecked.push(`${quoted(foreign)}: not in what supports it`);
  if (shared.length > 0)
    notChecked.push(`${quoted(shared)}: whether what supports it says so; it has the same words`);
  for (const { text } of numbersLeft(sentence, [...spans, ...countsOf(kinds, sentence)]))
    notChecked.push(`“${text}”: what it counts or measures is not on record in a form to compare it with`);
  for (const year of yearsIn(sentence, beneath, claim, dates))
    notChecked.push(`the year ${year}: no device under it was released or opened then`);
  for (const { title } of beneath.sources) notChecked.push(`what the source “${title}” says`);
  const isForeign =
    remainder.length > 0 &&
    remainder.every(({ isShared }) => !isShared) &&
    foreign.flatMap(({ text }) => text.split(' ')).length > 1 &&
    statements.length === 0 &&
    devices.length === 0 &&
    beneath.sources.length === 0;
  return { statements, notChecked, isForeign };
}

/** Where the numbers of counted kinds stand. */
function countsOf(kinds: readonly StatedKind[], sentence: string): readonly Span[] {
  return kinds.flatMap(({ count, start }) => {
    if (!count) return [];
    const at = sentence
      .slice(0, start)
      .toLowerCase()
      .lastIndexOf(count.text.split(' ').at(-1) as string);
    return at < 0 ? [] : [{ start: at, end: start }];
  });
}

function overlaps(one: Span, others: readonly Span[]): boolean {
  return others.some(({ start, end }) => one.start < end && start < one.end);
}

function checkQuantity(stated: StatedQuantity, { values, components, sources }: Beneath): Statement {
  const { text } = stated;
  const { fits, same } = compareQuantity(stated, values, components);
  if (fits) return { kind: 'quantity', text, result: 'carried', message: valueText(fits) };
  const unless =
    sources.length === 0
      ? ''
      : `, unless ${sources.map(({ title }) => `“${title}”`).join(' or ')} says so, which was not read`;
  if (same.length === 0) {
    const message = `nothing under it gives a value in ${writtenUnit(stated.unit) || 'that unit'}${unless}: name what was measured`;
    return { kind: 'quantity', text, result: 'unsupported', message };
  }
  const nearest = distinct(same).slice(0, 3).map(valueText).join('; ');
  const message = `the values under it are others (${nearest})${unless}: correct the number, or name what was measured`;
  return { kind: 'quantity', text, result: 'contradicted', message };
}

function distinct(values: readonly ValueBeneath[]): readonly ValueBeneath[] {
  return [...new Map(values.map((one) => [valueText(one), one])).values()];
}

/** Components under a sentence that are or may be of a kind. */
function componentsOf(term: string, { components }: Beneath) {
  return components.filter(({ labels }) => (labels.get(term) ?? 0) >= POSSIBLE);
}

function checkKind(
  state: State,
  kind: StatedKind,
  beneath: Beneath,
  /** Whether the sentence names another kind that is under it. */
  showsAnother: boolean,
): { readonly found: readonly Statement[]; readonly left: readonly string[] } {
  const { term, text } = kind;
  const spoken = termInWords(term);
  const named = componentsOf(term, beneath);
  if (kind.isDenied) return { found: [checkDenial(state, kind, beneath)], left: [] };
  const held = heldOf(state, term, beneath);
  const found = kind.count === null ? [] : checkCount(kind, named.length, held);
  if (named.length > 0)
    return {
      found: [
        { kind: 'component', text, result: 'carried', message: `${named[0].id} is or may be one` },
        ...found,
      ],
      left: [],
    };
  if (
    beneath.terms.has(term) ||
    beneath.texts.some((said) => kindsIn(said).some((one) => isUnder(one.term, term)))
  )
    return {
      found: [
        {
          kind: 'component',
          text,
          result: 'carried',
          message: `${withArticle(spoken)} is spoken of in what supports it`,
        },
        ...found,
      ],
      left: [],
    };
  if (isEveryday(kind))
    return { found, left: [`“${text}”: nothing under it is ${withArticle(spoken)}, if one is meant`] };
  const certain = held.find(({ presence }) => presence.verdict === 'CERTAIN');
  // Named by the way, as the connector ahead of which an amplifier sits.
  if (certain && showsAnother)
    return { found, left: [`“${text}”: ${certain.id} has one, which is not under the sentence`] };
  const message = certain
    ? `nothing under it is ${withArticle(spoken)}, though ${certain.id} has one: name it`
    : `nothing under it is ${withArticle(spoken)} or may be: name the component or the observation that shows it`;
  return { found: [{ kind: 'component', text, result: 'unsupported', message }, ...found], left: [] };
}

/** What the specimens under a sentence have of a kind. */
function heldOf(state: State, term: string, { specimens }: Beneath) {
  const thing = thingOf(state, term);
  return [...specimens.values()].flatMap(({ id, dossier }) => {
    const specimen = state.specimensOf(deviceIdOf(dossier)).find((row) => row.id === id);
    if (!specimen) return [];
    const row = presenceRow(state, specimen);
    const presence = specimenPresence(row, thing);
    return [{ id, presence, why: whyPresence([row], thing, presence) }];
  });
}

/** A denial holds where the thing was looked for and is not there; a component of the kind under it speaks against it. */
function checkDenial(state: State, { term, text }: StatedKind, beneath: Beneath): Statement {
  const spoken = termInWords(term);
  const denied = `no ${text}`;
  const shown = beneath.components
    .filter(({ isNamed, labels }) => isNamed && (labels.get(term) ?? 0) >= CERTAIN)
    .map(({ id }) => `${id} is one`);
  const held = heldOf(state, term, beneath);
  const has = held
    .filter(({ presence }) => presence.verdict === 'CERTAIN' || presence.verdict === 'POSSIBLE')
    .map(({ id, presence }) => `${id} has or may have one (${fixed(presence.probability, 2)})`);
  const against = [...new Set([...shown, ...has])];
  if (against.length > 0) {
    const message = `it says that there is none, and ${against.slice(0, 3).join(', ')}`;
    return { kind: 'component', text: denied, result: 'contradicted', message };
  }
  const unseen = held.filter(({ presence }) => presence.verdict !== 'ABSENT');
  if (held.length > 0 && unseen.length === 0)
    return { kind: 'component', text: denied, result: 'carried', message: held[0].why };
  const message =
    held.length === 0
      ? `no opened unit is under it in which one could have looked for ${withArticle(spoken)}: name the specimen`
      : `whether there is one was not seen in ${unseen.map(({ id, why }) => `${id} (${why})`).join(', ')}`;
  return { kind: 'component', text: denied, result: 'unsupported', message };
}

function checkCount(
  { text: name, count, isTotal }: StatedKind,
  named: number,
  held: ReturnType<typeof heldOf>,
): readonly Statement[] {
  if (!count) return [];
  const text = `${count.text} ${name}`;
  const fits = ({ presence: { certain, possible } }: (typeof held)[number]) =>
    isTotal || count.low !== count.high
      ? possible >= count.low && certain <= count.high
      : possible >= count.low;
  const good = held.find(fits);
  if (good || (named >= count.low && named <= count.high)) {
    const message = good ? countText(good) : `${named} under it`;
    return [{ kind: 'count', text, result: 'carried', message }];
  }
  if (held.length === 0) return [];
  const message = `${held.map(countText).join('; ')}: correct the number, or name the components`;
  return [{ kind: 'count', text, result: 'contradicted', message }];
}

function countText({ id, presence: { certain, possible } }: ReturnType<typeof heldOf>[number]): string {
  return certain === possible ? `${id} has ${certain}` : `${id} has ${certain} to ${possible}`;
}

/** What the taxonomy says of the kinds under a sentence, so that "senses motion" is found in an accelerometer. */
function meanings({ components }: Beneath): readonly string[] {
  return components.flatMap(({ labels }) =>
    [...labels].flatMap(([term, probability]) =>
      probability >= POSSIBLE && term !== 'Component'
        ? lineage(term).flatMap((above) =>
            above === 'Component' ? [] : [meaningOf(above) ?? '', termInWords(above)],
          )
        : [],
    ),
  );
}

function yearsIn(
  sentence: string,
  { devices, specimens }: Beneath,
  { figures = [] }: Claim,
  dates: readonly StatedDate[],
): readonly string[] {
  const known = new Set([
    ...[...devices.values()].map(({ released }) => released.slice(0, 4)),
    ...[...specimens.values()].map(({ dossier }) => dossier.teardown.on.slice(0, 4)),
    ...figures.flatMap((figure) =>
      'where' in figure ? [figure.where.from, figure.where.to].map((date) => date?.slice(0, 4)) : [],
    ),
  ]);
  return [...new Set(sentence.match(/\b(?:19|20)\d\d\b(?! ?[\p{L}%°])/gu) ?? [])].filter(
    (year) => !known.has(year) && !dates.some(({ date }) => date.startsWith(year)),
  );
}
