import { LRUCache } from 'lru-cache';
import {
  asksEdges,
  type BoundValue,
  describeInLine,
  matchBySegment,
  type PreparedPattern,
  type SegmentAnswer,
  type SegmentMatch,
} from '../gql/gql.ts';
import { recordOfId } from '../model/ids.ts';
import { preparedMatches } from '../pattern-texts/prepared.ts';
import { excerptOf } from '../state/excerpt.ts';
import { CERTAIN, POSSIBLE } from '../state/labels.ts';
import { Pace } from '../state/pace.ts';
import type { State, WhatIf } from '../state/state.ts';
import { tidy } from '../statistics/tidy.ts';
import type { CutShort, PatternAnswer, PatternDevice, PatternMatch, PatternQuestion } from './answer.ts';
import { type Asked, Doubts, type Likelihood } from './doubts.ts';
import { type PatternIndex, patternIndexOf, visibleKeys } from './pattern-index.ts';

/** Answers kept for a state; each may hold thousands of matches. */
const KEPT_ANSWERS = 16;
/** Matches handed out of each specimen; the probability takes all others into account. */
const MATCHES_A_SPECIMEN = 200;
/** The same where a match may reach into any other specimen: their number grows with the archive. */
const MATCHES_ACROSS = 24;
/** Sets of circumstances beyond those of the matches that a probability takes into account; then it is a lower bound. */
const WAYS_A_SPECIMEN = 2_000;
const WAYS_ACROSS = 40;
/** Specimens with more of them that are searched once more, each alone, and sets of circumstances that are then taken into account. */
const AGAIN = { specimens: 8, ways: 40_000 };
const ROAMING = ['Device', 'Specimen'];

/**
 * Visible devices that certainly or possibly show a pattern, by id, with how sure that is: from the rival candidates of
 * the components that the matches use, by {@link atLeastOne}. Different nodes of the pattern are different things
 * unless asked otherwise, and a match lies within one specimen unless the question spans the archive.
 */
export async function findPattern(state: State, question: PatternQuestion): Promise<PatternAnswer> {
  const { text, parameters, distinctNodes, scope, specimens, matchesEach } = question;
  const answers = state.derived(keptAnswers);
  // Paging repeats the same question.
  const key = JSON.stringify([
    text,
    parameters,
    distinctNodes,
    scope,
    specimens && [...specimens],
    matchesEach,
    question.budgets,
  ]);
  const kept = answers.get(key);
  if (kept) return kept;
  const answer =
    state.whatIf && scope !== 'archive'
      ? await withWhatIf(state, state.whatIf, question)
      : await search(state, question);
  if (answer.complete) answers.set(key, answer);
  return answer;
}

const keptAnswers = () => new LRUCache<string, PatternAnswer>({ max: KEPT_ANSWERS });

/** When matches lie within a device, a change affects only the devices that it touches. */
async function withWhatIf(state: State, { on }: WhatIf, question: PatternQuestion): Promise<PatternAnswer> {
  const before = await findPattern(on, question);
  // Made once a what-if: several patterns may be asked of it.
  const { touched, excerpt } = state.derived(changedPart);
  const changed = await findPattern(excerpt, question);
  const others = before.devices.filter(({ deviceId }) => !touched.has(deviceId));
  const unlikely = [...before.unlikely].filter(([deviceId]) => !touched.has(deviceId));
  return {
    variables: before.variables.length > 0 ? before.variables : changed.variables,
    warnings: before.warnings,
    devices: [...others, ...changed.devices].sort(byDevice),
    unlikely: new Map([...unlikely, ...changed.unlikely]),
    complete: before.complete && changed.complete,
    ...cutShort(
      [before, changed].find(({ complete }) => !complete) ?? (before.note === undefined ? changed : before),
    ),
  };
}

/** The devices that a what-if changes, and a state with them alone. */
function changedPart(state: State): { readonly touched: ReadonlySet<string>; readonly excerpt: State } {
  const { on, devices } = state.whatIf as WhatIf;
  const touched = new Set([...devices, ...devicesLearntOtherwise(state, on)]);
  return { touched, excerpt: excerptOf(state, touched) };
}

/** Devices with an unnamed component whose possible kinds differ between two states. */
function devicesLearntOtherwise(state: State, before: State): readonly string[] {
  if (state.unnamed === before.unnamed) return [];
  const { names } = state.shared;
  return state
    .specimenRows()
    .flatMap((row) =>
      before.unnamedOf(row).differs(state.unnamedOf(row), row.columns, names) ? [row.deviceId] : [],
    );
}

async function search(state: State, question: PatternQuestion): Promise<PatternAnswer> {
  const { index, pattern, options } = await engineQuestion(state, question);
  const asks = (labels: readonly string[]) => asksEdges(pattern.tree, labels);
  const asksLinks = asks(FROM_NETS);
  let unworked = 0;
  const bySpecimen = matchBySegment(index.graph, pattern, options);
  const devices = new Map<string, Judged[]>();
  const pace = new Pace();
  const cut: { readonly key: string; readonly judged: Judged; readonly left: number }[] = [];
  let step = await bySpecimen.next();
  try {
    while (!step.done) {
      const { key, matches } = step.value;
      if (matches.length > 0) {
        const deviceId = recordOfId(key);
        const left = index.leftIn(key, asks);
        if (left > 0) unworked++;
        const judged = judge(index, state, step.value, pattern.variables, asksLinks);
        judged.whole = widened(judged.whole, left);
        if (judged.whole.high > 0) devices.set(deviceId, [...(devices.get(deviceId) ?? []), judged]);
        if (judged.isCut) cut.push({ key, judged, left });
      }
      await pace.rest();
      step = await bySpecimen.next();
    }
  } finally {
    // Releases what the search holds of the graph after an error.
    await bySpecimen.return({ complete: false, shortage: undefined });
  }
  if (question.scope !== 'archive')
    for (const { key, judged, left } of cut.slice(0, AGAIN.specimens)) {
      const whole = await judgedAgain(index, state, key, pattern, options);
      if (whole) judged.whole = widened(whole, left);
    }
  const found = [...devices]
    .map(([deviceId, specimens]) => together(deviceId, specimens, question.scope === 'archive'))
    .sort(byDevice);
  return {
    variables: pattern.variables,
    warnings: [...pattern.warnings.map(describeInLine), ...(unworked > 0 ? [unworkedIn(unworked)] : [])],
    devices: found.filter(isListed),
    unlikely: new Map(
      found.flatMap((one) => (isListed(one) ? [] : [[one.deviceId, one.probability] as const])),
    ),
    complete: step.value.complete,
    ...cutShort({ ...step.value, note: noteOf(step.value.note, devices) }),
  };
}

/** Devices are listed while they may be possible: the upper bound of an estimate counts. */
const isListed = ({ method, probability, high }: PatternDevice) =>
  (method === 'exact' ? probability : high) >= POSSIBLE;

/** The likelihood of one specimen with many more sets of circumstances; undefined when there are still more. */
async function judgedAgain(
  index: PatternIndex,
  state: State,
  key: string,
  pattern: PreparedPattern,
  options: Awaited<ReturnType<typeof engineQuestion>>['options'],
): Promise<Likelihood | undefined> {
  const alone = { ...options, only: new Set([key]), everyWay: AGAIN.ways };
  for await (const answer of matchBySegment(index.graph, pattern, alone)) {
    const { whole, isCut } = judge(index, state, answer, pattern.variables, false);
    return isCut ? undefined : whole;
  }
  return undefined;
}

/** What an answer says of numbers that are bounds. */
function noteOf(
  note: string | undefined,
  devices: ReadonlyMap<string, readonly Judged[]>,
): string | undefined {
  const judged = [...devices.values()];
  const having = (test: (one: Judged) => boolean) =>
    judged.filter((specimens) => specimens.some(test)).length;
  const more = having(({ isMore }) => isMore);
  const open = having(({ isCut, whole }) => isCut && !whole.exact && whole.high === 1);
  const parts = [
    note,
    more > 0 &&
      `Of a specimen not every match is listed where there are many: in ${inDevices(more)} the number of matches is a lower bound ("at least").`,
    open > 0 &&
      `In ${inDevices(open)} not every match could be looked at: the probability is the middle between strict bounds, low and high.`,
  ];
  return parts.filter(Boolean).join(' ') || undefined;
}

const inDevices = (count: number) => (count === 1 ? '1 device' : `${count} devices`);

/** Labels of the links that follow from nets. */
const FROM_NETS = ['JOINS', 'SHARES_NET', 'SHARES_BUS', 'SIGNAL_PATH', 'FEEDS'];

/** What an answer says of specimens with more combinations than were worked out. */
function unworkedIn(specimens: number): string {
  const which = specimens === 1 ? 'One specimen has' : `${specimens} specimens have`;
  return `${which} doubtful components in so many combinations that links were not worked out for the unlikeliest; probabilities there lie between bounds.`;
}

/** A likelihood where some combinations of what components may be were not worked out for the links of the specimen. */
function widened(whole: Likelihood, left: number): Likelihood {
  if (left === 0) return whole;
  const { probability, low, high } = whole;
  return {
    probability,
    exact: false,
    low: tidy(Math.max(0, low - left)),
    high: tidy(Math.min(1, high + left)),
  };
}

/** What an answer says of a search that was cut short. */
export function cutShort({
  complete,
  note,
  searched,
}: Partial<CutShort> & { readonly complete: boolean }): CutShort {
  return { note, searched: complete ? undefined : searched };
}

/** What the engine is asked, segment by segment, for a question. */
export async function engineQuestion(state: State, question: PatternQuestion) {
  const index = patternIndexOf(state);
  const pattern = await preparedMatches(question);
  const isAcross = question.scope === 'archive';
  const options = {
    ...(await queryOptions(index, state, question, pattern)),
    only: question.specimens,
    ...roamingIn(question),
    matchesPerSegment: question.matchesEach ?? (isAcross ? MATCHES_ACROSS : MATCHES_A_SPECIMEN),
    exactCounts: false,
    everyWay: isAcross ? WAYS_ACROSS : WAYS_A_SPECIMEN,
  };
  return { index, graph: index.graph, pattern, options };
}

/** Engine options for a question; the graph is aligned with the state when the search begins. */
export async function queryOptions(
  index: PatternIndex,
  state: State,
  question: PatternQuestion,
  { repeatsElements }: PreparedPattern,
) {
  await index.catchUp(state, question.signal);
  return {
    parameters: question.parameters,
    // A text that says REPEATABLE ELEMENTS means it.
    distinctNodes: !repeatsElements && (question.distinctNodes ?? true),
    signal: question.signal,
    segments: visibleKeys(state),
    align: () => index.align(state),
    ...(question.budgets && { budgets: question.budgets }),
  };
}

/**
 * What a match may use of other specimens: devices and specimens themselves, without their content; makers and parts
 * are shared. Everything when the question spans the archive.
 */
export function roamingIn({ scope }: PatternQuestion) {
  return scope === 'archive' ? {} : { roaming: ROAMING, home: 'SPECIMEN_OF' };
}

function byDevice(a: { readonly deviceId: string }, b: { readonly deviceId: string }): number {
  return a.deviceId < b.deviceId ? -1 : 1;
}

/** What one specimen shows. */
interface Judged {
  readonly matches: readonly PatternMatch[];
  /** Of each match, what tells it from others; the same in whichever specimen it was found. */
  readonly places: () => readonly string[];
  whole: Likelihood;
  /** Whether it has more matches than those. */
  readonly isMore: boolean;
  /** Whether there may be matches under circumstances that `whole` does not know of. */
  readonly isCut: boolean;
}

/**
 * A device shows a pattern when one of its specimens does. Specimens of a device have the same design, so their doubts
 * are not independent: the maximum of their probabilities counts, as everywhere (`presence/`).
 * @param isAcross whether matches span devices
 */
function together(deviceId: string, specimens: readonly Judged[], isAcross: boolean): PatternDevice {
  const { whole } = specimens.reduce((a, b) => (b.whole.probability > a.whole.probability ? b : a));
  let matches: readonly PatternMatch[] | undefined;
  return {
    deviceId,
    certain: whole.low >= CERTAIN,
    probability: whole.probability,
    method: whole.exact ? 'exact' : 'estimate',
    low: whole.low,
    high: whole.high,
    // Of most devices nobody asks for them.
    get matches() {
      matches ??= inOrder(
        isAcross ? specimens.flatMap((shown) => shown.matches) : onceEach(specimens),
        isAcross,
      );
      return matches;
    },
  };
}

/**
 * Matches of the specimens of a device. Of the device itself, its specimens, parts and makers alone, the same match may be in several
 * specimens: it counts once.
 */
function onceEach(specimens: readonly Judged[]): readonly PatternMatch[] {
  if (specimens.length === 1) return specimens[0].matches;
  const places = new Set<string>();
  return specimens.flatMap(({ matches, places: placesOf }) => {
    const own = placesOf();
    const theirs = matches.filter((_, at) => !places.has(own[at]));
    for (const place of own) places.add(place);
    return theirs;
  });
}

/**
 * Matches, the likeliest first; those that are equally likely stand by what they bind, and where they lie within specimens by these
 * first. The order in which they were found is that in which things came into the graph, and tells of what was asked and seen before.
 */
function inOrder(matches: readonly PatternMatch[], isAcross: boolean): readonly PatternMatch[] {
  const places = new Map(matches.map((match) => [match, placeOf(match)]));
  const rank = ({ probability }: PatternMatch) => Math.round(probability * LIKE);
  const specimen = (match: PatternMatch) => (isAcross ? '' : match.specimenId);
  return matches.toSorted(
    (a, b) =>
      rank(b) - rank(a) ||
      compareText(specimen(a), specimen(b)) ||
      compareText(places.get(a) ?? '', places.get(b) ?? ''),
  );
}

/** Probabilities that differ by less than one part of so many are alike: they differ by the order in which they were multiplied. */
const LIKE = 1e9;

/** What a match binds, as one text. */
function placeOf({ bindings }: PatternMatch): string {
  return bindings.map(({ ids }) => ids.join(' ')).join(', ');
}

function compareText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

function judge(
  index: PatternIndex,
  state: State,
  { key, count, matches, further, cut }: SegmentAnswer,
  variables: readonly string[],
  asksLinks: boolean,
): Judged {
  const doubts = new Doubts(index, state);
  const judged = matches.map((match) => ({ match, asked: doubts.of(match) }));
  const ways = new Set([...judged.map(({ asked }) => asked), ...further.map((match) => doubts.of(match))]);
  const found = doubts.atLeastOneOf(ways);
  const real = judged.filter(({ asked }) => asked.high > 0);
  const shown = asksLinks && real.length > 1 ? eachInItsWorlds(real, doubts) : real;
  const isCut = cut && found.low < 1;
  return {
    // Ways that were left out can only make it likelier.
    whole: isCut ? { probability: (found.low + 1) / 2, exact: false, low: found.low, high: 1 } : found,
    isMore: count > matches.length,
    isCut,
    places: () => shown.map(({ match }) => match.place),
    matches: shown.map(({ match, asked: { probability, low } }) => ({
      specimenId: key,
      // Looked up on demand: most matches are only counted.
      get bindings() {
        const { bindings } = match;
        return variables.map((variable) => ({ variable, ids: idsOf(bindings[variable] ?? null) }));
      },
      certain: low >= CERTAIN,
      probability,
    })),
  };
}

interface JudgedMatch {
  readonly match: SegmentMatch;
  readonly asked: Likelihood;
}

/**
 * Matches of the same nodes of which no world has two are one, with the probability that any of them is real: a link has other
 * properties where a component is something else.
 */
function eachInItsWorlds(
  judged: readonly { readonly match: SegmentMatch; readonly asked: Asked }[],
  doubts: Doubts,
): readonly JudgedMatch[] {
  const groups = Map.groupBy(judged, ({ match }) => match.nodePlace);
  if (groups.size === judged.length) return judged;
  return [...groups.values()].flatMap((group) => {
    const found: { readonly match: SegmentMatch; readonly ways: Asked[] }[] = [];
    for (const { match, asked } of group) {
      const same = found.find(({ ways }) => ways.every((way) => doubts.areExclusive(way, asked)));
      if (same) same.ways.push(asked);
      else found.push({ match, ways: [asked] });
    }
    return found.map(({ match, ways }) => ({ match, asked: doubts.atLeastOneOf(new Set(ways)) }));
  });
}

function idsOf(value: BoundValue): readonly string[] {
  if (value === null) return [];
  switch (value.kind) {
    case 'node':
      return [value.id];
    case 'edge':
      return [];
    case 'path':
      return value.elements.flatMap(idsOf);
    case 'list':
      return value.items.flatMap(idsOf);
    default:
      return value satisfies never;
  }
}
