import { type Board, SIDES } from '../model/board.ts';
import type { Photo } from '../model/dossier.ts';
import { pinOf, recordOfId, thingId } from '../model/ids.ts';
import type { Net } from '../model/net.ts';
import { CasebackError } from '../model/problems.ts';
import { resolved } from '../state/resolve.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';
import type { State } from '../state/state.ts';
import type { Column, Panel } from './arrange.ts';
import { boardSheet, NARROWEST, WIDEST, WIDTH } from './board-sheet.ts';
import {
  type BoardSide,
  boardSide,
  componentsOn,
  type Lit,
  type PictureBeneath,
  type Side,
} from './board-side.ts';
import { creditsOf } from './credits.ts';
import type { SheetWords } from './page.ts';
import type { Drawing } from './shapes.ts';
import { svgOf } from './svg.ts';

/** Largest board that is drawn, in components. */
export const MOST_COMPONENTS = 5_000;
/** Most ids that one drawing lights. */
export const MOST_LIT = 200;

/** How a board is to be drawn. */
export interface BoardQuestion {
  /** One side, or both when left out. */
  readonly side?: Side | 'both' | null;
  /** Ids of components, nets and subsystems to pick out. */
  readonly lit?: readonly string[] | null;
  /** Width of the sheet, mm; 170, the text width of an A4 page, when left out. */
  readonly width?: number | null;
  /** One side alone without labels, legend and credits, to be shown small. */
  readonly plain?: boolean | null;
  /** Strength of photos of the sides beneath the drawing, percent; none when left out or 0. */
  readonly photoStrength?: number | null;
  /** Ids of photos of which these are taken; of each side the one on which most points are known when left out. */
  readonly photos?: readonly string[] | null;
}

/** What of a board is to be drawn. */
interface BoardViews {
  readonly specimen: OpenedSpecimen;
  readonly board: Board;
  /** Sides asked for. */
  readonly sides: readonly Side[];
  /**
   * Sides drawn, at least one: those on which a component has a place, and with photos those that one shows; else the first that has an
   * outline.
   */
  readonly views: readonly [BoardSide, ...BoardSide[]];
}

/** Photos beneath a drawing, by side, and what is to be said of them. */
export interface Beneath {
  readonly pictures: ReadonlyMap<Side, PictureBeneath>;
  readonly notes: readonly string[];
}

/** Whether a photo says that it shows a side of a board. */
export function isPhotoOf(photo: Photo, board: Board, side: Side): boolean {
  const only = board.sides.length === 1 ? board.sides[0] : undefined;
  return photo.board === board.id && (photo.side ?? only) === side;
}

/**
 * Reads what of a board is to be drawn.
 * @throws CasebackError as {@link boardDrawing}
 */
export function boardViews(
  state: State,
  id: string,
  { side, lit, photoStrength }: BoardQuestion,
): BoardViews {
  const { opened: specimen, thing: board } = resolved(state, id, ['Board']);
  const count = componentsOn(specimen, board).length;
  if (count > MOST_COMPONENTS)
    throw new CasebackError(
      'OUT_OF_BUDGET',
      `${id} has ${count} components; boards of at most ${MOST_COMPONENTS} are drawn`,
    );
  const wanted = litOn(state, specimen, board.id, lit ?? []);
  const sides =
    side === undefined || side === null || side === 'both'
      ? SIDES.filter((one) => board.sides.includes(one))
      : [side];
  const all = sides.flatMap((one) => boardSide(specimen, board, one, wanted) ?? []);
  const isPhotographed = (one: Side) =>
    (photoStrength ?? 0) > 0 && specimen.dossier.photos.some((photo) => isPhotoOf(photo, board, one));
  const filled = all.filter((view) => view.placed.length > 0 || isPhotographed(view.side));
  const [first, ...others] = filled.length > 0 ? filled : all.slice(0, 1);
  if (!first)
    throw new CasebackError(
      'BAD_INPUT',
      `${id} cannot be drawn: neither its outline nor the place of a component on it is recorded`,
    );
  return { specimen, board, sides, views: [first, ...others] };
}

/**
 * A board to scale.
 * @param id of a board
 * @param beneath photos of its sides that lie beneath the drawing
 * @throws CasebackError NOT_FOUND when nothing visible has the id, or one of those to pick out; BAD_INPUT for something that is not
 * on this board, for a width out of range, and where neither outline nor places are recorded; OUT_OF_BUDGET for a board too large
 */
export function boardDrawing(
  state: State,
  id: string,
  question: BoardQuestion = {},
  beneath?: Beneath,
): Drawing {
  const { specimen, board, sides, views } = boardViews(state, id, question);
  const panels = views.map((one): Panel => {
    const picture = beneath?.pictures.get(one.side);
    return { view: picture ? { ...one, picture } : one, caption: captionOf(one.side) };
  });
  // Turned over its long edge: that edge is where the two sides meet on the sheet.
  const isStacked = views[0].hinge === 'x';
  const columns: readonly Column[] = isStacked ? [{ panels }] : panels.map((panel) => ({ panels: [panel] }));
  const device = state.device(deviceOf(specimen));
  const words: SheetWords = {
    title: `${device?.name ?? specimen.id}, ${board.name ?? board.id}`,
    subtitle: subtitleOf(
      views.map((view) => view.side),
      sides,
    ),
    ...(beneath ? { notes: beneath.notes } : {}),
    credits: creditsOf(state, [specimen]),
  };
  const sheet = boardSheet(columns, words, { width: sheetWidth(question.width), isOneRow: true });
  const { title, description } = sheet;
  return { title, description, svg: svgOf(sheet) };
}

const captionOf = (side: Side) => (side === 'top' ? 'Top side' : 'Bottom side');

/** Which sides are drawn; one on which no component has a place is left out where both were asked for. */
function subtitleOf(drawn: readonly Side[], asked: readonly Side[]): string {
  if (drawn.length > 1) return 'both sides, turned over the long edge';
  const one = drawn[0] === 'bottom' ? 'bottom side as seen when turned over the long edge' : 'top side';
  const [empty] = asked.filter((side) => !drawn.includes(side));
  return empty === undefined ? one : `${one}; no component has a place on the ${empty} side`;
}

/** @throws CasebackError BAD_INPUT */
export function sheetWidth(width: number | null | undefined): number {
  if (width === null || width === undefined) return WIDTH;
  if (!(width >= NARROWEST && width <= WIDEST))
    throw new CasebackError('BAD_INPUT', `width is ${width}; it must be ${NARROWEST} to ${WIDEST} mm`);
  return width;
}

const deviceOf = (specimen: OpenedSpecimen) => recordOfId(specimen.id);

/** Reads what is to be picked out of a board. */
function litOn(state: State, specimen: OpenedSpecimen, board: string, ids: readonly string[]): Lit {
  if (ids.length > MOST_LIT)
    throw new CasebackError('BAD_INPUT', `lit names ${ids.length} things; name at most ${MOST_LIT}`);
  const components = new Set<string>();
  const nets: Net[] = [];
  for (const id of new Set(ids)) {
    const found = resolved(state, id, ['Component', 'Net', 'Subsystem']);
    const isHere = found.opened.id === specimen.id;
    const members = !isHere
      ? []
      : found.kind === 'Net'
        ? found.thing.pins.map((pin) => pinOf(pin).component)
        : found.kind === 'Component'
          ? [found.thing.id]
          : specimen.dossier.components.flatMap((one) => (one.subsystem === found.thing.id ? [one.id] : []));
    const onBoard = members.filter((one) => specimen.components.get(one)?.board === board);
    if (onBoard.length === 0)
      throw new CasebackError(
        'BAD_INPUT',
        `lit: nothing of ${id} is on ${thingId(specimen.id, board)}; name what is on that board`,
      );
    if (found.kind === 'Net') nets.push(found.thing);
    else for (const one of onBoard) components.add(one);
  }
  return { components, nets };
}
