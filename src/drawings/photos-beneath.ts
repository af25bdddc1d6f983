import { Plane } from '../measurement/plane.ts';
import type { Photo } from '../model/dossier.ts';
import { thingId } from '../model/ids.ts';
import { CasebackError } from '../model/problems.ts';
import { keptFile } from '../photos/kept.ts';
import { type BoardWindow, boardPlace, type OnBoard } from '../photos/on-board.ts';
import { resolved } from '../state/resolve.ts';
import type { State } from '../state/state.ts';
import type { BoardSide, Side } from './board-side.ts';
import { type BoardQuestion, boardViews, isPhotoOf } from './boards.ts';

// Which photo lies beneath which side of a board, and what is to be said of it.

/** A photo that may lie beneath a side. */
export interface PhotoBeneath extends OnBoard {
  /** `device/specimen/photo`. */
  readonly id: string;
  readonly side: Side;
  /** Says which photo it is, whose, under which licence, and how well places on it are known. */
  readonly note: string;
}

/** Photos for the sides of a drawing; of a side without one, why. */
export interface PhotosBeneath {
  readonly found: readonly PhotoBeneath[];
  readonly missing: readonly string[];
}

/** Coverage factor of what is stated: 95 % for a normal distribution (GUM, JCGM 100:2008, G.1.3). */
const COVERED = 2;
/** Places along each edge of a board at which it is asked how well they are known. */
const ASKED = 5;

/**
 * Photos of the sides that a drawing of a board shows, laid on the board by their known points.
 * @throws CasebackError as a drawing of the board; BAD_INPUT for a strength out of range, for a named photo that does not fit, and where
 * there is none for any side
 */
export function photosBeneath(state: State, id: string, question: BoardQuestion): PhotosBeneath {
  const strength = question.photoStrength ?? 0;
  if (!(strength >= 0 && strength <= 100))
    throw new CasebackError('BAD_INPUT', `photoStrength is ${strength}; it must be 0 to 100 percent`);
  const named = namedPhotos(state, id, question.photos ?? []);
  const { views } = boardViews(state, id, question);
  const found: PhotoBeneath[] = [];
  const missing: string[] = [];
  for (const view of views) {
    const best = photoOfSide(state, view, named);
    if ('why' in best) missing.push(`No photo lies beneath the ${view.side} side: ${best.why}.`);
    else found.push(best);
  }
  if (found.length === 0)
    throw new CasebackError(
      'BAD_INPUT',
      `${missing.join(' ')} A photo with "board", "side" and two "points" or more can be laid beneath`,
    );
  return { found, missing };
}

/**
 * The photo with what lays it on its board, whichever side it shows.
 * @throws CasebackError NOT_FOUND when nothing visible has the id, and for a photo that cannot be laid on a board
 */
export function photoOnItsBoard(state: State, id: string): PhotoBeneath {
  const { opened, thing } = resolved(state, id, ['Photo']);
  const board = opened.dossier.boards.find((one) => one.id === thing.board);
  const side = thing.side ?? (board?.sides.length === 1 ? board.sides[0] : undefined);
  if (!board || side === undefined)
    throw new CasebackError(
      'NOT_FOUND',
      `${id} does not say which side of which board it shows; its dossier may, with "board" and "side"`,
    );
  const { views } = boardViews(state, thingId(opened.id, board.id), { side });
  const best = photoOfSide(state, views[0], [thing.id]);
  if ('why' in best) throw new CasebackError('NOT_FOUND', `${id} cannot be laid on its board: ${best.why}`);
  return best;
}

/** Local ids. */
function namedPhotos(state: State, board: string, ids: readonly string[]): readonly string[] | undefined {
  if (ids.length === 0) return undefined;
  return ids.map((id) => {
    const { opened, thing } = resolved(state, id, ['Photo']);
    if (thing.board === undefined || thingId(opened.id, thing.board) !== board)
      throw new CasebackError('BAD_INPUT', `photos: ${id} does not show ${board}; name photos of that board`);
    return thing.id;
  });
}

/** The photo for a side, or why there is none. @param named local ids of photos of which it is taken */
export function photoOfSide(
  state: State,
  view: BoardSide,
  named: readonly string[] | undefined,
): PhotoBeneath | { readonly why: string } {
  const { specimen, board, side, hinge, extent } = view;
  const row = state.specimenRow(specimen.id);
  const ofSide = specimen.dossier.photos.filter(
    (one) => isPhotoOf(one, board, side) && (!named || named.includes(one.id)),
  );
  if (ofSide.length === 0)
    return { why: named ? 'none of those named shows it' : 'none is recorded that shows it' };
  const whys: string[] = [];
  const found: (PhotoBeneath & { readonly points: number; readonly within: number })[] = [];
  for (const photo of ofSide) {
    const id = thingId(specimen.id, photo.id);
    const file = row && keptFile(row, photo.sha256);
    const points = photo.points ?? [];
    if (!file) whys.push(`the archive knows ${id} by its digest alone`);
    else if (points.length < 2) whys.push(`${id} has fewer than two known points`);
    else
      try {
        const known = points.map(({ at: [x, y], mm, within }) => ({
          photo: [(x * file.width) / 100, (y * file.height) / 100] as const,
          board: mm,
          within,
        }));
        const plane = Plane.fitted(known, { isBottom: side === 'bottom' });
        const window: BoardWindow = { side, hinge, extent };
        const within = withinOf(plane, window);
        const note = noteOf(photo, id, side, plane, within);
        found.push({ id, side, file, plane, window, note, points: points.length, within });
      } catch (error) {
        if (!(error instanceof CasebackError)) throw error;
        whys.push(`${id}: ${error.message.charAt(0).toLowerCase()}${error.message.slice(1)}`);
      }
  }
  const rank = ({ points }: { readonly points: number }) => Math.min(points, 4);
  found.sort((a, b) => rank(b) - rank(a) || a.within - b.within || (a.id < b.id ? -1 : 1));
  return found[0] ?? { why: whys.join('; ') };
}

/** Expanded uncertainty of places all over the board, in x and in y, mm: the largest of them. */
function withinOf(plane: Plane, window: BoardWindow): number {
  const { length, width } = window.extent;
  let most = 0;
  for (let i = 0; i < ASKED; i++)
    for (let j = 0; j < ASKED; j++) {
      const place = boardPlace(window, [(length * i) / (ASKED - 1), (width * j) / (ASKED - 1)]);
      most = Math.max(most, ...plane.toBoard(plane.toPhoto(place)).uncertainty);
    }
  // Points that fit worse than they were said to make all less sure (the ratio of Birge, Physical Review 40, 1932).
  const { chiSquare, degreesOfFreedom } = plane;
  const ratio = degreesOfFreedom > 0 ? Math.sqrt(chiSquare / degreesOfFreedom) : 1;
  return COVERED * most * Math.max(1, ratio);
}

const UNKNOWN = {
  scale:
    'Two points do not tell how the camera was tilted: it is taken to have looked straight down, and places are off by more where it did not',
  parallel:
    'Three points do not tell how near the camera was: it is taken to have been far away, and places are off by more where it was not',
  perspective: undefined,
} as const;

function noteOf(photo: Photo, id: string, side: Side, plane: Plane, within: number): string {
  const { caption, credit, licence, points = [] } = photo;
  const unknown = UNKNOWN[plane.kind];
  return [
    `Beneath the ${side} side lies the photo ${id}${caption ? ` (${caption.replace(/\.$/u, '')})` : ''}, by ${credit}, ${licence}, laid on the board by ${points.length} known points.`,
    `Places on it are within ± ${inMillimetres(within)} mm in x and in y (95 %); what stands above the board is seen further out.`,
    ...(unknown ? [`${unknown}.`] : []),
  ].join(' ');
}

/** Two digits, rounded up: a bound is never made smaller by its writing. */
function inMillimetres(value: number): string {
  const places = Math.max(0, 1 - Math.floor(Math.log10(value)));
  const step = 10 ** -places;
  return (Math.ceil(value / step - 1e-9) * step).toFixed(Math.min(places, 4));
}
