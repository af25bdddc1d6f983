import { recordOfId, thingId } from '../model/ids.ts';
import type { State } from '../state/state.ts';
import { arranged } from './arrange.ts';
import { hatchesFor } from './board-sheet.ts';
import { drawSide, mapping, type Side } from './board-side.ts';
import { type BoardQuestion, boardViews, sheetWidth } from './boards.ts';
import { HATCHES, type Hatch } from './hatches.ts';
import { photoOfSide } from './photos-beneath.ts';
import type { Drawing, Shape, Spot } from './shapes.ts';
import { svgOf } from './svg.ts';

// A side of a board as shapes for a page that draws them itself: nothing but the board, and what a page needs to place more on it.

/** A photo as its board would be seen from straight above, and where that lies on the sheet. */
export interface PlanPhoto {
  /** Of the photo. */
  readonly id: string;
  /** Which photo it is, whose, under which licence, and how well places on it are known. */
  readonly note: string;
  /** Left upper corner, mm of the sheet. */
  readonly at: Spot;
  /** mm of the sheet. */
  readonly width: number;
  readonly height: number;
}

/** One side of a board to scale. */
export interface PlanView {
  readonly side: Side;
  /** mm of the sheet. */
  readonly width: number;
  readonly height: number;
  /** Where the origin of the board lies on the sheet, mm. */
  readonly origin: Spot;
  /** Millimetres of the sheet for one of the board along its x and its y; negative where the sheet runs the other way. */
  readonly axes: Spot;
  /** Each says by global id what it stands for. */
  readonly shapes: readonly Shape[];
  /** The photo that may lie beneath, laid on the board by its known points. */
  readonly photo: PlanPhoto | undefined;
  /** Hatches of the shapes by their number, with the names of the subsystems that have them. */
  readonly hatches: readonly (Hatch & { readonly number: number; readonly subsystem: string })[];
}

const GUTTER = { beside: 9, above: 4 };
/** Rim of a drawing without labels, mm. */
const RIM = 1;

/**
 * The sides of a board to scale, as shapes; one on which no component has a place is left out where both were asked for.
 * @param id of a board
 * @throws CasebackError as `boardDrawing`
 */
export function planViews(state: State, id: string, question: BoardQuestion = {}): readonly PlanView[] {
  const { specimen, views } = boardViews(state, id, question);
  const width = sheetWidth(question.width);
  const hatches = hatchesFor(views.map((view) => ({ view })));
  const named = [...hatches.byName].map(([subsystem, number]) => ({ ...HATCHES[number], number, subsystem }));
  // Both sides at the scale of the larger one.
  const scale = Math.min(
    ...views.map(
      (view) => arranged([{ panels: [{ view, caption: '' }] }], { width, height: width }, GUTTER, true).scale,
    ),
  );
  return views.map((view) => {
    const { length, width: deep } = view.extent;
    const sheet = { width: length * scale + 2 * GUTTER.beside, height: deep * scale + 2 * GUTTER.above };
    const at: Spot = [GUTTER.beside, GUTTER.above];
    const room = { left: 0, top: 0, right: sheet.width, bottom: sheet.height };
    const { shapes } = drawSide(view, at, scale, room, hatches.of(specimen.id));
    const onSheet = mapping(view, at, scale);
    const origin = onSheet([0, 0]);
    const beneath = photoOfSide(state, view, undefined);
    const photo =
      'why' in beneath
        ? undefined
        : { id: beneath.id, note: beneath.note, at, width: length * scale, height: deep * scale };
    const axes: Spot = [onSheet([1, 0])[0] - origin[0], onSheet([0, 1])[1] - origin[1]];
    return {
      side: view.side,
      ...sheet,
      origin,
      axes,
      shapes: shapes.map(ofGlobal(specimen.id)),
      photo,
      hatches: named,
    };
  });
}

/** Shapes under the ids by which others ask for what they stand for. */
const ofGlobal =
  (specimen: string) =>
  (shape: Shape): Shape =>
    shape.of === undefined ? shape : { ...shape, of: thingId(specimen, shape.of) };

/**
 * One side of a board without labels, legend and credits, to be shown small: the side asked for, else the one with more components.
 * @throws CasebackError as `boardDrawing`
 */
export function plainDrawing(state: State, id: string, question: BoardQuestion = {}): Drawing {
  const { specimen, board, views } = boardViews(state, id, question);
  const view = views.reduce((most, one) => (one.placed.length > most.placed.length ? one : most));
  const { length, width: deep } = view.extent;
  const scale = (sheetWidth(question.width) - 2 * RIM) / length;
  const nowhere = { left: 0, top: 0, right: 0, bottom: 0 };
  const { shapes } = drawSide(view, [RIM, RIM], scale, nowhere, hatchesFor([{ view }]).of(specimen.id));
  const device = state.device(recordOfId(specimen.id));
  const title = `${device?.name ?? specimen.id}, ${board.name ?? board.id}, ${view.side} side`;
  const placed = view.placed.length === 1 ? '1 component' : `${view.placed.length} components`;
  const size = { width: length * scale + 2 * RIM, height: deep * scale + 2 * RIM };
  const description = `${title}, with ${placed} at their places.`;
  return { title, description, svg: svgOf({ title, description, ...size, shapes }) };
}
