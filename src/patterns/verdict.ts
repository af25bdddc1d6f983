import { type AskedElement, type UnseenPattern, withoutUnseen } from '../gql/gql.ts';
import { isTerm, termInWords } from '../model/taxonomy.ts';
import { preparedPattern } from '../pattern-texts/prepared.ts';
import {
  hidesInside,
  hidesNets,
  hidingOf,
  notInventoried,
  type Unseen,
  unseenInWords,
  whyEdgeUnseen,
  whyUnseen,
} from '../presence/looked-at.ts';
import {
  type DevicePresence,
  foundInWords,
  NO_SPECIMEN,
  type Presence,
  presenceRow,
  type Verdict,
  verdictFrom,
} from '../presence/presence.ts';
import { type Amount, NONE, numberOf, type PresenceRow } from '../presence/row.ts';
import type { SpecimenRow } from '../state/facts.ts';
import { CERTAIN, POSSIBLE } from '../state/labels.ts';
import type { State } from '../state/state.ts';
import { tidy } from '../statistics/tidy.ts';
import type { PatternQuestion } from './answer.ts';
import { findPattern } from './find.ts';
import { nearFind } from './near-find.ts';

// Whether a device has what a pattern describes. Certain and possible are what findPattern finds. Absent: in a specimen that was
// looked at for all that the pattern needs, there is nothing that could be a match. That is asked of the pattern engine too: the
// pattern without the nodes and edges that may be there unseen (presence/looked-at.ts), and with conditions that hold unless they
// are known to be false, has no match either.

/** A pattern's verdict on one device. */
export interface PatternVerdict {
  readonly verdict: Verdict;
  /** Probability, 0 to 1, of at least one match. */
  readonly probability: number;
}

/** Labels of the catalogue's nodes, which are always all there. */
const SHARED = ['Part', 'Maker', 'ProductLine'];
/** Matches examined of what is left of a pattern: it is enough to know that there may be some. */
const ENOUGH = 24;
/** Matches of a specimen that are counted. */
const MOST_COUNTED = 10_000;

export interface PatternVerdicts {
  readonly verdicts: ReadonlyMap<string, PatternVerdict>;
  /** False when a budget ended a search early. */
  readonly complete: boolean;
  /** Why it is not complete, in a sentence. */
  readonly note: string | undefined;
}

/**
 * Verdicts of a pattern on devices, by id. Of several specimens the maximum stands: it is absent when it is absent in some specimen
 * and possible in none, as with all presence. The work grows with the specimens of the devices asked about, and for a pattern of
 * scope archive with the archive.
 * @param devices ids @default all visible devices
 * @throws PatternError when the text is not a valid pattern
 */
export async function patternVerdicts(
  state: State,
  question: PatternQuestion,
  devices?: readonly string[],
): Promise<PatternVerdicts> {
  const ids = devices ?? state.devices().map(({ id }) => id);
  const isAsked = ({ id }: SpecimenRow) => question.specimens?.has(id) ?? true;
  const found = await findPattern(state, devices ? narrowed(state, question, ids) : question);
  const probabilities = new Map(found.unlikely);
  const certain = new Set<string>();
  for (const { deviceId, probability, certain: isCertain } of found.devices) {
    probabilities.set(deviceId, probability);
    if (isCertain) certain.add(deviceId);
  }
  const verdicts = new Map<string, PatternVerdict>();
  const missing: SpecimenRow[] = [];
  for (const id of ids) {
    const probability = probabilities.get(id) ?? 0;
    // An estimate is certain by the lower end of its interval, as findPattern has it.
    const verdict = certain.has(id) ? 'CERTAIN' : probability >= POSSIBLE ? 'POSSIBLE' : 'NOT_OBSERVED';
    verdicts.set(id, { verdict, probability });
    if (verdict === 'NOT_OBSERVED') missing.push(...state.specimensOf(id).filter(isAsked));
  }
  const { specimens, complete, note } = await absentIn(state, question, missing);
  for (const { deviceId, id } of missing) {
    if (!specimens.has(id)) continue;
    const probability = verdicts.get(deviceId)?.probability ?? 0;
    verdicts.set(deviceId, { verdict: 'ABSENT', probability });
  }
  return { verdicts, complete: found.complete && complete, note: found.complete ? note : found.note };
}

interface SpecimensFound {
  readonly specimens: ReadonlySet<string>;
  readonly complete: boolean;
  readonly note: string | undefined;
}

/** The same question of some devices alone. */
function narrowed(state: State, question: PatternQuestion, devices: readonly string[]): PatternQuestion {
  const { specimens } = question;
  const ids = devices.flatMap((id) => state.specimensOf(id).map((row) => row.id));
  return { ...question, specimens: new Set(ids.filter((id) => specimens?.has(id) ?? true)) };
}

/** Those of some specimens without a match in which there can be none. */
async function absentIn(
  state: State,
  question: PatternQuestion,
  specimens: readonly SpecimenRow[],
): Promise<SpecimensFound> {
  const absent = new Set<string>();
  if (question.scope === 'archive' && !severalMakers(state))
    return { specimens: absent, complete: true, note: undefined };
  const { tree } = await preparedPattern(question);
  const elements = elementsOf(tree);
  const boardsAlone = asksOfBoardsAlone(elements);
  // Specimens that were looked at alike are asked together.
  const groups = new Map<string, { readonly row: PresenceRow; readonly ids: Set<string> }>();
  for (const specimen of specimens) {
    const row = presenceRow(state, specimen);
    if (notInventoried(row) && !(boardsAlone && recordsBoards(state, specimen.id))) continue;
    const key = `${hidesInside(row)} ${elements.map((element) => (whyMissed(element, row) ? 1 : 0)).join('')}`;
    const group = groups.get(key);
    if (group) group.ids.add(specimen.id);
    else groups.set(key, { row, ids: new Set([specimen.id]) });
  }
  let note: string | undefined;
  let complete = true;
  for (const { row, ids } of groups.values()) {
    const { text } = leftOf(question, tree, row);
    if (text === undefined) continue;
    const { specimens: may, complete: all, note: why } = await mayBeIn(state, question, text, ids);
    complete &&= all;
    if (!all) note ??= why;
    else for (const id of ids) if (!may.has(id)) absent.add(id);
  }
  return { specimens: absent, complete, note };
}

/** Specimens with a match of what is left of a pattern. */
async function mayBeIn(
  state: State,
  question: PatternQuestion,
  text: string,
  specimens: ReadonlySet<string>,
): Promise<SpecimensFound> {
  const { devices, complete, note } = await findPattern(state, {
    ...question,
    text,
    specimens,
    matchesEach: ENOUGH,
  });
  const found = devices.flatMap(({ matches }) => matches.map(({ specimenId }) => specimenId));
  return { specimens: new Set(found), complete, note };
}

/** Whether visible specimens are of devices of more than one maker. */
function severalMakers(state: State): boolean {
  const makers = new Set(
    state.devices().flatMap(({ id, maker }) => (state.specimensOf(id).length > 0 ? [maker] : [])),
  );
  return makers.size > 1;
}

/** Nodes of a pattern that a specimen has whether or not its boards were inventoried. */
const AROUND_BOARDS: ReadonlySet<string> = new Set(['Device', 'Specimen', 'Board', ...SHARED]);

/**
 * Whether a pattern asks of boards and what holds them alone. The boards of a specimen are all on record, as a match of such a pattern takes
 * them to be; an inventory is of what lies on them.
 */
function asksOfBoardsAlone(elements: readonly AskedElement[]): boolean {
  const isAround = ({ named }: AskedElement['labels']) =>
    named.length > 0 && named.every((name) => AROUND_BOARDS.has(name));
  const nodes = elements.filter(({ kind }) => kind === 'node');
  return (
    nodes.some(({ labels }) => labels.named.includes('Board')) &&
    nodes.every(({ labels }) => isAround(labels))
  );
}

function recordsBoards(state: State, specimen: string): boolean {
  return (state.specimen(specimen)?.boards.size ?? 0) > 0;
}

type Tree = Parameters<typeof withoutUnseen>[0];

function elementsOf(tree: Tree): readonly AskedElement[] {
  const elements: AskedElement[] = [];
  const note = (element: AskedElement) => {
    elements.push(element);
    return false;
  };
  withoutUnseen(tree, { mayBeUnseen: note, shared: SHARED });
  return elements;
}

function leftOf(
  question: PatternQuestion,
  tree: Tree,
  row: PresenceRow,
  kept?: AskedElement,
  doubtConditions = true,
): UnseenPattern {
  return withoutUnseen(tree, {
    mayBeUnseen: (element) => !isSame(element, kept) && whyMissed(element, row) !== undefined,
    shared: SHARED,
    doubtConditions,
    // A bought module that is an emitter and a receiver holds one of each inside.
    mayCoincide: hidesInside(row)
      ? ({ named }) => question.distinctNodes === false || named.length === 0 || named.some(isTerm)
      : undefined,
  });
}

function isSame(a: AskedElement, b: AskedElement | undefined): boolean {
  return b !== undefined && a.kind === b.kind && a.span.start === b.span.start && a.variable === b.variable;
}

/** Why something that an element of a pattern matches may be there unseen. */
function whyMissed({ kind, labels, ends, edges }: AskedElement, row: PresenceRow): Unseen | undefined {
  if (kind === 'edge') {
    return whyEdgeUnseen({ labels: labels.named, ends: ends.map(({ named }) => named) }, row);
  }
  if (labels.named.includes('Net') && hidesNets(row)) return { kind: 'untraced' };
  if (!labels.named.some(isTerm)) return undefined;
  const isInside = edges.some((edge) => edge.isSource && edge.labels.named.includes('PART_OF'));
  if (isInside && hidesInside(row)) return { kind: 'inside' };
  return whyUnseen(hidingOf(labels.named), row);
}

/** What one device has of a pattern: its matches in place of components. */
export async function patternPresence(
  state: State,
  question: PatternQuestion,
  device: string,
): Promise<
  DevicePresence & { readonly why: string; readonly specimens: readonly SpecimenPatternPresence[] }
> {
  const specimens: SpecimenPatternPresence[] = [];
  let cut: string | undefined;
  for (const { id } of state.specimensOf(device)) {
    const one = { ...question, specimens: new Set([id]) };
    const { verdicts, note } = await patternVerdicts(state, one, [device]);
    cut ??= note;
    const { verdict, probability } = verdicts.get(device) as PatternVerdict;
    let found = await findPattern(state, one);
    // It says so where it has not handed out all.
    if (found.note !== undefined) found = await findPattern(state, { ...one, matchesEach: MOST_COUNTED });
    cut ??= found.note?.replace(/\.$/u, '');
    const matches = found.devices[0]?.matches ?? [];
    const odds = matches.map((match) => match.probability);
    const from = (least: number) => odds.filter((p) => p >= least).length;
    specimens.push({
      specimen: id,
      verdict,
      probability,
      expected: tidy(odds.reduce((sum, p) => sum + p, 0)),
      variance: tidy(odds.reduce((sum, p) => sum + p * (1 - p), 0)),
      certain: matches.filter((match) => match.certain).length,
      likely: from(0.5),
      possible: from(POSSIBLE),
    });
  }
  const isAbsent = specimens.some(({ verdict }) => verdict === 'ABSENT');
  const probability = Math.max(0, ...specimens.map((one) => one.probability));
  const most = specimens.reduce<Amount>((a, b) => (b.expected > a.expected ? b : a), NONE);
  const isCertain = specimens.some(({ verdict }) => verdict === 'CERTAIN');
  const verdict: Verdict =
    probability >= CERTAIN && !isCertain ? 'POSSIBLE' : verdictFrom(probability, isAbsent);
  const found = { verdict, probability };
  const { expected, variance, certain, likely, possible } = most;
  return {
    ...found,
    expected,
    variance,
    certain,
    likely,
    possible,
    revisionsDiffer: found.verdict === 'CERTAIN' && isAbsent,
    why: [await whyPattern(state, question, device, found), cut].filter(Boolean).join('. '),
    specimens,
  };
}

/** What one specimen has of a pattern; of its matches the first {@link MOST_COUNTED} are counted, and `why` says where there are more. */
export interface SpecimenPatternPresence extends Presence {
  readonly specimen: string;
}

/** Why a pattern's verdict on a device is as {@link patternVerdicts} said, in a sentence. */
async function whyPattern(
  state: State,
  question: PatternQuestion,
  device: string,
  { verdict, probability }: PatternVerdict,
): Promise<string> {
  if (verdict === 'CERTAIN' || verdict === 'POSSIBLE') return foundInWords('it matches', probability);
  const specimens = state.specimensOf(device);
  if (specimens.length === 0) return NO_SPECIMEN;
  if (question.scope === 'archive' && !severalMakers(state))
    return "nothing matches, and the archive has only one maker's devices to match it with";
  const rows = specimens.map((specimen) => ({ specimen, row: presenceRow(state, specimen) }));
  const { tree } = await preparedPattern(question);
  if (verdict === 'ABSENT') {
    if (asksOfBoardsAlone(elementsOf(tree))) return whyNotTheBoards(state, specimens);
    const { row } = rows.find((one) => !notInventoried(one.row)) ?? rows[0];
    return whyAbsent(state, question, device, tree, row);
  }
  for (const { row } of rows) {
    const short = notInventoried(row);
    if (short) return `nothing matches, and ${short}`;
  }
  return whyNotObserved(state, question, tree, rows[0]);
}

function whyNotTheBoards(state: State, specimens: readonly SpecimenRow[]): string {
  const counts = new Set(specimens.flatMap(({ id }) => state.specimen(id)?.boards.size || []));
  const [count] = counts;
  return `nothing matches, and it asks of boards alone: ${counts.size === 1 ? `${count} ${count === 1 ? 'is' : 'are'} recorded` : 'they are recorded'}`;
}

async function whyAbsent(
  state: State,
  question: PatternQuestion,
  device: string,
  tree: Tree,
  row: PresenceRow,
): Promise<string> {
  const isNone = (element: AskedElement) => noneOf(element, row) && !whyMissed(element, row);
  const none = elementsOf(tree).find(isNone);
  if (none) return `no ${spoken(none)} is recorded, and every board is fully inventoried`;
  // What may be there unseen is no reason.
  const { text } = leftOf(question, tree, row, undefined, false);
  const { devices } = await nearFind(
    state,
    narrowed(state, { ...question, text: text ?? question.text }, [device]),
  );
  const [near] = devices;
  if (near) return `${near.missing[0]}, in a specimen where that was looked for`;
  return 'nothing matches, in a specimen where everything that it needs was looked for';
}

async function whyNotObserved(
  state: State,
  question: PatternQuestion,
  tree: Tree,
  { specimen, row }: { readonly specimen: SpecimenRow; readonly row: PresenceRow },
): Promise<string> {
  const only = new Set([specimen.id]);
  const { left, doubted } = leftOf(question, tree, row);
  const reasons: string[] = [];
  for (const element of left) {
    // Whether it is this element on which it hangs: with it as recorded, nothing may match.
    const { text } = leftOf(question, tree, row, element);
    if (text === undefined || (await mayBeIn(state, question, text, only)).specimens.size > 0) continue;
    reasons.push(missedInWords(element, row, question.text));
  }
  if (reasons.length === 0)
    reasons.push(...left.map((element) => missedInWords(element, row, question.text)));
  // Parts of a quantified path and both ends of an edge give the same reason.
  if (reasons.length > 0) return [...new Set(reasons)].slice(0, 2).join('; ');
  const quoted = doubted.map(({ span }) => `${quote(question.text, span)}`);
  return quoted.length === 0
    ? 'nothing matches, and not everything that it needs was looked for'
    : `it cannot be told whether ${[...new Set(quoted)].slice(0, 2).join(' and ')}: a place, an outline or a figure is not recorded`;
}

function missedInWords(element: AskedElement, row: PresenceRow, text: string): string {
  const unseen = unseenInWords(whyMissed(element, row) as Unseen);
  if (element.labels.named.includes('Net')) return 'not every net is recorded';
  if (element.kind === 'node')
    return noneOf(element, row)
      ? `no ${spoken(element)} is recorded, ${unseen}`
      : `there may be a further ${spoken(element)} beside what is recorded: ${unseen.replace(/^and /u, '')}`;
  return `no link ${quote(text, element.span)} is recorded, ${unseen}`;
}

/** Whether no component is what a node asks for. */
function noneOf({ kind, labels }: AskedElement, row: PresenceRow): boolean {
  const terms = labels.named.filter(isTerm);
  return (
    kind === 'node' && terms.length > 0 && terms.every((term) => row.probabilityOf(numberOf(term)) < POSSIBLE)
  );
}

function spoken({ labels }: AskedElement): string {
  return labels.named
    .filter((name) => isTerm(name) || name === 'Net')
    .map(termInWords)
    .join(', ')
    .replace(/, (?=[^,]*$)/u, ' or ');
}

function quote(text: string, { start, end }: AskedElement['span']): string {
  return text.slice(start, end).replace(/\s+/gu, ' ').trim();
}
