import type { Outline } from '../../model/dossier.ts';
import { extentOf, isWithin } from '../../model/outline.ts';
import type { DossierRule } from './context.ts';

/** Tolerance for rounding, in mm. */
const SLACK = 0.05;

/** A component lies within its board's outline, on a side that the board has; a place needs a board. */
export const componentsAreOnTheirBoards: DossierRule = (document, report) => {
  const boards = new Map(document.dossier.boards.map((board) => [board.id, board]));
  document.dossier.components.forEach(({ id, board: boardId, side, at }, i) => {
    const board = boardId === undefined ? undefined : boards.get(boardId);
    if (at && boardId === undefined) {
      report(
        document,
        ['components', i, 'at'],
        `${id} has a place but no board`,
        'add board and side, or leave "at" out',
      );
    }
    if (side && boardId === undefined) {
      report(
        document,
        ['components', i, 'side'],
        `${id} has a side but no board`,
        'add its board',
        'caution',
      );
    }
    if (!board) return;
    if (side && !board.sides.includes(side)) {
      report(
        document,
        ['components', i, 'side'],
        `board "${board.id}" has no ${side} side with components`,
        `write ${board.sides.join(' or ')}, or add the side to the board`,
      );
    }
    if (at && !side) {
      report(
        document,
        ['components', i],
        `${id} has a place on "${board.id}" but no side`,
        'add side: top or bottom',
      );
    }
    if (at && board.outline && !isWithin(board.outline, [at.x, at.y], SLACK)) {
      report(
        document,
        ['components', i, 'at'],
        `${id} at (${at.x}, ${at.y}) mm lies off board "${board.id}" (${extent(board.outline)})`,
        'check the place, the unit (mm) and where the board has its origin',
      );
    }
  });
};

function extent(outline: Outline): string {
  if ('length' in outline) return `${outline.length} × ${outline.width} mm`;
  const { left, bottom, length, width } = extentOf(outline);
  const from = (start: number, size: number) => `${start.toFixed(1)} to ${(start + size).toFixed(1)}`;
  return `x ${from(left, length)}, y ${from(bottom, width)} mm`;
}
