import { sameValue } from '../../model/component-value.ts';
import { recordOfId } from '../../model/ids.ts';
import { PACKING } from '../../model/taxonomy.ts';
import { presenceIn } from '../../presence/row.ts';
import { likeliestCategory } from '../../state/labels.ts';
import { fixed, percentText } from '../../text/rounding.ts';
import type { Feature, Features } from './features.ts';
import { boardDistance } from './pair-costs.ts';
import type { AlignedRow, AlignedTable } from './progressive.ts';
import { samePart } from './sameness.ts';

export const CHANGES = ['kept', 'replaced', 'moved', 'added', 'removed', 'not-observed'] as const;
export type ChangeKind = (typeof CHANGES)[number];

/** Inside one device a part whose place differs by more than this has moved, mm; stages read to a tenth of it. */
const MOVED_FURTHER_THAN = 1;

/** What became of one component from one column to another. */
export interface Change {
  readonly change: ChangeKind;
  /** Probability that this is what became of it: of the pairing and of the parts being the same or not. */
  readonly certainty: number;
  /** Probability that the pairing, or having no counterpart, is right: from how much costlier the next best is. */
  readonly pairing: number;
  /** Probability that the two are the same catalogue part; undefined where there is no counterpart. */
  readonly samePart: number | undefined;
  /** Whether it sits elsewhere: another board, another side, or in the same device more than 1 mm away. */
  readonly elsewhere: boolean;
  /** One sentence that says why. */
  readonly why: string;
}

/** What the changes of a table are derived from. */
export interface Setting {
  readonly table: AlignedTable;
  readonly columns: readonly Features[];
  /** Cost of leaving a component without a counterpart. */
  readonly unmatched: number;
  /** The part that another one is under a new label; itself for all others. */
  readonly originalOf: (part: string) => string;
}

/** The change of a row between two columns, or undefined where neither has a component. */
export function changeBetween(
  { table, columns, unmatched, originalOf }: Setting,
  { members, certainties }: AlignedRow,
  from: number,
  to: number,
): Change | undefined {
  const [a, b] = [members[from], members[to]];
  if (a < 0 && b < 0) return undefined;
  const pairing = certainties.get(table.joiningOf(from, to)) ?? 1;
  const [low, high] = from < to ? [from, to] : [to, from];
  const pair = table.pair(low, high);
  if (a < 0 || b < 0) {
    const [here, there] = a < 0 ? [to, from] : [from, to];
    const one = columns[here].components[a < 0 ? b : a];
    const unseen = whyUnseenIn(columns[there], one);
    const change = unseen ? 'not-observed' : a < 0 ? 'added' : 'removed';
    const costs = here === low ? pair.costs[a < 0 ? b : a] : pair.costs.map((row) => row[a < 0 ? b : a]);
    const alone = whyAlone(one, columns[there], costs, unmatched);
    const why = unseen ? `${alone} ${unseen}` : alone;
    return { change, certainty: pairing, pairing, samePart: undefined, elsewhere: false, why };
  }
  const [i, j] = from < to ? [a, b] : [b, a];
  const [one, other] = [columns[from].components[a], columns[to].components[b]];
  const same = samePart(one.identity, other.identity);
  const elsewhere = sitsElsewhere(columns, low, high, i, j, pair.boards);
  const change = same >= 0.5 ? (elsewhere ? 'moved' : 'kept') : 'replaced';
  const certainty = pairing * (change === 'replaced' ? 1 - same : same);
  const relabelled =
    change === 'replaced' && isRelabelled(likeliestPart(one), likeliestPart(other), originalOf);
  const why = `${whyPaired(one, other, change, same, elsewhere, columns[from], columns[to])}${
    relabelled ? ' By the catalogue it is the same part under another label.' : ''
  }`;
  return { change, certainty, pairing, samePart: same, elsewhere, why };
}

/**
 * Why a component may be in a specimen whose record has no counterpart of it: what is not on record is not gone, unless all boards were
 * inventoried, and of what lies off them, unless the bench looked.
 */
function whyUnseenIn({ specimen }: Features, { component }: Feature): string | undefined {
  const { inventoried, bench } = presenceIn(specimen);
  if (component.board === undefined)
    return bench
      ? undefined
      : `Not observed: the record of ${specimen.id} comes from design files of its boards.`;
  return inventoried
    ? undefined
    : `Not observed: not every board of ${specimen.id} is recorded as fully inventoried.`;
}

function sitsElsewhere(
  columns: readonly Features[],
  low: number,
  high: number,
  i: number,
  j: number,
  boards: ReadonlyMap<string, string>,
): boolean {
  const [a, b] = [columns[low].components[i], columns[high].components[j]];
  const [one, other] = [a.component, b.component];
  if (boardDistance(a, b, boards) === 1) return true;
  if (one.side !== undefined && other.side !== undefined && one.side !== other.side) return true;
  const sameDevice = deviceOf(columns[low]) === deviceOf(columns[high]);
  if (!sameDevice || one.board !== other.board || !one.at || !other.at) return false;
  return Math.hypot(one.at.x - other.at.x, one.at.y - other.at.y) > MOVED_FURTHER_THAN;
}

function deviceOf({ specimen }: Features): string {
  return recordOfId(specimen.id);
}

function whyPaired(
  a: Feature,
  b: Feature,
  change: ChangeKind,
  same: number,
  elsewhere: boolean,
  from: Features,
  to: Features,
): string {
  const sure = `${percent(change === 'replaced' ? 1 - same : same)} sure`;
  const places = elsewhere ? whereTo(a, b, from, to) : `${placeOf(b, to)} in both`;
  const [before, after] = [likeliestPart(a), likeliestPart(b)];
  if (change === 'replaced') {
    return `${rolesInWords(functionOf(a, from), functionOf(b, to))}, another part (${sure}): ${whatInPlace(a, b)}; ${places}.`;
  }
  if (before === undefined && after === undefined) {
    const alike = sameValue(a.component.value, b.component.value) ? `both ${b.component.value}, ` : '';
    return `Presumably the same part, by looks alone (${sure}), since neither is named; ${alike}${places}.`;
  }
  const name = before === after ? before : `${before ?? 'not named'} and ${after ?? 'not named'}`;
  return `Same part (${sure}): ${name}; ${places}.`;
}

/** The kind that both are likeliest of, or what each is where those differ, as of a chip that took on more. */
function rolesInWords(before: string | undefined, after: string | undefined): string {
  if (before === undefined && after === undefined) return 'Perhaps the same role (neither kind is known)';
  if (before === undefined || after === undefined)
    return `Perhaps the same role (${after ?? before}; the kind of ${after === undefined ? 'the second' : 'the first'} is not known)`;
  return `Same role (${before === after ? after : `${before}, then ${after}`})`;
}

function isRelabelled(
  before: string | undefined,
  after: string | undefined,
  originalOf: Setting['originalOf'],
): boolean {
  if (before === undefined || after === undefined || before === after) return false;
  return originalOf(before) === originalOf(after);
}

function whatInPlace(a: Feature, b: Feature): string {
  const [before, after] = [likeliestPart(a), likeliestPart(b)];
  if (before === undefined && after === undefined) {
    const [one, other] = [a.component.value, b.component.value];
    return sameValue(one, other) === false
      ? `${other} in place of ${one}`
      : 'neither is named, and they look different';
  }
  if (before === after) return `both may be ${after}, but the odds are against it`;
  return `${after ?? 'one not named'} in place of ${before ?? 'one not named'}`;
}

/** How the place of one differs from that of the other. */
function whereTo(a: Feature, b: Feature, from: Features, to: Features): string {
  const [before, after] = [placeOf(a, from), placeOf(b, to)];
  const [one, other] = [a.component.at, b.component.at];
  if (before !== after || !one || !other) return `${before} before, ${after} after`;
  return `${after}, ${fixed(Math.hypot(one.x - other.x, one.y - other.y), 1)} mm away`;
}

function whyAlone(one: Feature, there: Features, costs: ArrayLike<number>, unmatched: number): string {
  let nearest = -1;
  for (let at = 0; at < costs.length; at++) {
    if (costs[at] < (nearest < 0 ? Infinity : costs[nearest])) nearest = at;
  }
  const what = likeliestPart(one) ?? one.component.id;
  if (nearest < 0) return `${what}: no component of ${there.specimen.id} can have its role.`;
  const near = there.components[nearest];
  const kind = kindOf(near, there);
  const named = `${near.component.id}${kind ? ` (${kind})` : ''}`;
  const limit = fixed(2 * unmatched, 2);
  const cost = fixed(costs[nearest], 2);
  if (costs[nearest] > 2 * unmatched)
    return `${what}: the nearest component of ${there.specimen.id}, ${named}, differs too much (cost ${cost}, limit ${limit}).`;
  return `${what}: the nearest component of ${there.specimen.id}, ${named}, belongs with another (cost ${cost}, limit ${limit}).`;
}

/** The likeliest part of a component. */
export function likeliestPart({ identity: taken }: Feature): string | undefined {
  let best: string | undefined;
  let most = 0;
  for (const [part, weight] of taken.parts) {
    if (weight > most) [best, most] = [part, weight];
  }
  return best;
}

function kindOf({ component }: Feature, { specimen }: Features): string | undefined {
  const labels = specimen.named.get(component.id);
  return labels && likeliestCategory(labels)?.term;
}

/** What it does; undefined where only its package is known. */
function functionOf(one: Feature, of: Features): string | undefined {
  const kind = kindOf(one, of);
  return kind === undefined || PACKING.has(kind) ? undefined : kind;
}

function placeOf({ component: { board, side } }: Feature, { specimen }: Features): string {
  if (board === undefined) return 'off the boards';
  const name = specimen.boards.get(board)?.name ?? `board ${board}`;
  return `${name}${side === undefined ? ', side not observed' : `, ${side}`}`;
}

function percent(share: number): string {
  return percentText(share, share > 0.99 && share < 1 ? 1 : 0);
}
