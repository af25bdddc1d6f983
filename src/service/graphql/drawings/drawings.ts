import type { Spot } from '../../../drawings/shapes.ts';
import { SIDES } from '../../../model/board.ts';
import { thingId } from '../../../model/ids.ts';
import {
  addressOnBoard,
  drawBoard,
  drawDiagram,
  drawMatch,
  drawSideBySide,
  planBoard,
} from '../../../questions/drawings.ts';
import { viewOf } from '../context.ts';
import { readId } from '../instants.ts';
import type * as Api from '../resolver-types.ts';
import { enumName, enumWord } from '../words.ts';

const sideWord = (side: Api.Side | null | undefined) => (side ? enumWord(SIDES, side) : side);

const spotOf = ([x, y]: Spot) => ({ x, y });

/** Boards and circuits as drawings. */
export const drawings: Api.Resolvers = {
  Query: {
    boardsSideBySide: (root, { ids, side, width }, context) =>
      drawSideBySide(viewOf(root, context), ids, { side: sideWord(side), width }),
  },
  Board: {
    planViews: async ({ view, opened, localId }, { side, lit, width }) =>
      (
        await planBoard(view, thingId(opened.id, localId), {
          side: sideWord(side),
          lit: lit?.map((id) => readId(id).id),
          width,
        })
      ).map((plan) => ({
        ...plan,
        side: enumName(plan.side),
        origin: spotOf(plan.origin),
        axes: spotOf(plan.axes),
        photo: plan.photo && {
          ...plan.photo,
          address: addressOnBoard(plan.photo),
          at: spotOf(plan.photo.at),
        },
        hatches: plan.hatches.map((hatch) => ({ ...hatch, marks: enumName(hatch.marks) })),
      })),
    drawing: (
      { view, opened, localId },
      { side, lit, width, plain, photoStrength, photos, pictures },
      { archive },
    ) =>
      drawBoard(
        view,
        thingId(opened.id, localId),
        {
          side: sideWord(side),
          lit: lit?.map((id) => readId(id).id),
          width,
          plain,
          photoStrength,
          photos: photos?.map((id) => readId(id).id),
        },
        { photos: archive.photos, ...(pictures === 'LINKED' ? { linkOf: addressOnBoard } : {}) },
      ),
    blockDiagram: ({ view, opened, localId }, { passives, lit, width }) =>
      drawDiagram(view, thingId(opened.id, localId), {
        passives,
        lit: lit?.map((id) => readId(id).id),
        width,
      }),
  },
  Specimen: {
    blockDiagram: ({ view, opened }, { passives, lit, width }) =>
      drawDiagram(view, opened.id, { passives, lit: lit?.map((id) => readId(id).id), width }),
  },
  PatternMatch: {
    drawings: ({ view, bindings }, { side, width }) =>
      drawMatch(view, bindings, { side: sideWord(side), width }),
  },
};
