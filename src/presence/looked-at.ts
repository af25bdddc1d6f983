import { impliedBy, isOffBoard, isTerm, termInWords, withArticle } from '../model/taxonomy.ts';
import { POSSIBLE } from '../state/labels.ts';
import { numberOf, type PresenceRow } from './row.ts';

// What was looked at in a specimen, and so what can be absent from it. Boards: recorded as fully inventoried. What belongs to
// the enclosure or lies off the boards (schema/taxonomy.yaml says which): seen at the bench, never in design files of the boards.
// What something else implies, as a radio implies an antenna: it is somewhere, so that where none is known it was not seen, and
// without the radio there is none.
// A component that nobody named, or only roughly, may be what is asked for (state/open-kinds.ts says what it may be): not by its
// candidates or by what such components usually are, which count as possible, but by what these leave open.
// A broad term, such as Sensor, goes by what stands on boards, though a narrower one, such as Electrode, lies off them.

/** Ways in which something may be there unseen, although every board is inventoried; one for each of its terms. */
export type Hiding = readonly {
  readonly term: string;
  readonly offBoard: boolean;
  /** What implies it, and the term that is implied: without the one there is no other. */
  readonly implied: { readonly by: string; readonly of: string } | undefined;
}[];

/** How a component of any of these terms may be there unseen; other names are left aside. */
export function hidingOf(names: readonly string[]): Hiding {
  return names.filter(isTerm).map((term) => ({ term, offBoard: isOffBoard(term), implied: impliedBy(term) }));
}

/** Why something may be there unseen in an inventoried specimen; undefined where it may not. */
export function whyUnseen(hiding: Hiding, row: PresenceRow): Unseen | undefined {
  return (
    whyHidden(hiding, row) ??
    (hiding.some(({ term }) => row.unnamedAs(term) >= POSSIBLE) ? { kind: 'unidentified' } : undefined)
  );
}

/** Why something may be there that is no component on record. */
export function whyHidden(hiding: Hiding, row: PresenceRow): Unseen | undefined {
  for (const { offBoard, implied } of hiding) {
    if (implied && row.probabilityOf(numberOf(implied.by)) < POSSIBLE) continue;
    if (offBoard && !row.bench) return { kind: 'off-board' };
    if (implied && row.probabilityOf(numberOf(implied.of)) < POSSIBLE)
      return { kind: 'implied', by: implied.by };
  }
  return undefined;
}

/** Why something may be there unseen. */
export type Unseen =
  | { readonly kind: 'off-board' }
  | { readonly kind: 'implied'; readonly by: string }
  | { readonly kind: 'untraced' | 'unidentified' | 'stacking' | 'inside' };

/** The reason in words; goes behind "no … is recorded". */
export function unseenInWords(unseen: Unseen): string {
  switch (unseen.kind) {
    case 'off-board':
      return 'and the enclosure and what lies off the boards were not looked at';
    case 'implied':
      return `and where there is ${withArticle(termInWords(unseen.by))} there is one somewhere`;
    case 'untraced':
      return 'and not every connection is traced to its end';
    case 'unidentified':
      return 'and not every component that it may be is identified';
    case 'stacking':
      return 'and how the boards lie on each other was not looked at';
    case 'inside':
      return 'and what a bought module holds inside was not looked at';
    default:
      return unseen satisfies never;
  }
}

/** Why nothing can be absent from a specimen, in words; undefined where its boards are all inventoried. */
export function notInventoried(row: PresenceRow): string | undefined {
  if (!row.lists) return 'the dossier lists no components';
  return row.inventoried ? undefined : 'not every board is recorded as fully inventoried';
}

const DIRECT = new Set(['SHARES_NET', 'JOINS', 'CONNECTS']);
const THROUGH = new Set(['SHARES_BUS', 'SIGNAL_PATH', 'FEEDS']);
const MODULE = 'Module';
const WHOLE = 'Component';

/** An edge of the archive's graph between components that a specimen may have, by the labels at its ends. */
export interface AskedEdge {
  /** Labels of edges, one of which it must have; empty for any. */
  readonly labels: readonly string[];
  /** Labels of nodes at each end; empty for any. */
  readonly ends: readonly (readonly string[])[];
}

/**
 * Why such an edge may be there unseen between two recorded things.
 *
 * - What shares a net with something (SHARES_NET, JOINS, CONNECTS) is known where every component that may stand at one end is
 *   traced: everything that it is joined to is on record.
 * - What follows from nets over other components (FEEDS, SIGNAL_PATH, SHARES_BUS) is known where every component is traced.
 * - IDENTIFIED_AS is known where no component that may stand at its end is without a part.
 * - STACKED_ON is seen at the bench; so is what a module holds inside (PART_OF).
 */
export function whyEdgeUnseen({ labels, ends }: AskedEdge, row: PresenceRow): Unseen | undefined {
  const untraced = (terms: readonly string[]) => terms.some((term) => row.untracedOf(numberOf(term)) > 0);
  const through = labels.length === 0 || labels.some((label) => THROUGH.has(label));
  if (through && untraced([WHOLE])) return { kind: 'untraced' };
  if (
    labels.some((label) => DIRECT.has(label)) &&
    ends.every((end) => untraced(componentsAt(end) ?? [WHOLE]))
  )
    return { kind: 'untraced' };
  if (labels.includes('STACKED_ON') && !row.bench) return { kind: 'stacking' };
  if (labels.includes('PART_OF') && hidesInside(row)) return { kind: 'inside' };
  if (labels.includes('IDENTIFIED_AS')) {
    const identified = ends.flatMap((end) => componentsAt(end) ?? []);
    const terms = identified.length > 0 ? identified : [WHOLE];
    if (terms.some((term) => row.partlessOf(numberOf(term)) > 0)) return { kind: 'unidentified' };
  }
  return undefined;
}

/** Terms of the components at an end; undefined for an end that is no component or any. */
function componentsAt(end: readonly string[]): readonly string[] | undefined {
  const terms = end.filter(isTerm);
  return terms.length > 0 ? terms : undefined;
}

/** Whether a bought module may hold what nobody saw. */
export function hidesInside(row: PresenceRow): boolean {
  return !row.bench && row.probabilityOf(numberOf(MODULE)) >= POSSIBLE;
}

/** Whether a net may exist that is not on record. */
export function hidesNets(row: PresenceRow): boolean {
  return !row.hasNets || row.untracedOf(numberOf(WHOLE)) > 0;
}
