import { SIDES } from '../../../model/board.ts';
import { thingId } from '../../../model/ids.ts';
import { drawBoard, drawDiagram, drawMatch, drawSideBySide } from '../../../questions/drawings.ts';
import { viewOf } from '../context.ts';
import { readId } from '../instants.ts';
import type * as Api from '../resolver-types.ts';
import { enumWord } from '../words.ts';

const sideWord = (side: Api.Side | null | undefined) => (side ? enumWord(SIDES, side) : side);

/** Boards and circuits as drawings. */
export const drawings: Api.Resolvers = {
  Query: {
    boardsSideBySide: (root, { ids, side, width }, context) =>
      drawSideBySide(viewOf(root, context), ids, { side: sideWord(side), width }),
  },
  Board: {
    drawing: ({ view, opened, localId }, { side, lit, width }) =>
      drawBoard(view, thingId(opened.id, localId), {
        side: sideWord(side),
        lit: lit?.map((id) => readId(id).id),
        width,
      }),
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
