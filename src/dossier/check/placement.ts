import type { Board } from '../../model/dossier.ts';
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
    if (at && board.outline && !contains(board.outline, at.x, at.y)) {
      report(
        document,
        ['components', i, 'at'],
        `${id} at (${at.x}, ${at.y}) mm lies off board "${board.id}" (${extent(board.outline)})`,
        'check the place, the unit (mm) and where the board has its origin',
      );
    }
  });
};

function contains(outline: NonNullable<Board['outline']>, x: number, y: number): boolean {
  if ('length' in outline) {
    return x >= -SLACK && y >= -SLACK && x <= outline.length + SLACK && y <= outline.width + SLACK;
  }
  return insidePolygon(outline.points, x, y) || distanceToPolygon(outline.points, x, y) <= SLACK;
}

/** Even-odd rule: a ray to the right crosses the outline an odd number of times. */
function insidePolygon(points: readonly (readonly [number, number])[], x: number, y: number): boolean {
  let inside = false;
  points.forEach(([x1, y1], i) => {
    const [x2, y2] = points[(i + 1) % points.length];
    if (y1 > y !== y2 > y && x < ((x2 - x1) * (y - y1)) / (y2 - y1) + x1) inside = !inside;
  });
  return inside;
}

function distanceToPolygon(points: readonly (readonly [number, number])[], x: number, y: number): number {
  return Math.min(
    ...points.map(([x1, y1], i) => {
      const [x2, y2] = points[(i + 1) % points.length];
      const square = (x2 - x1) ** 2 + (y2 - y1) ** 2;
      const along =
        square === 0 ? 0 : Math.min(1, Math.max(0, ((x - x1) * (x2 - x1) + (y - y1) * (y2 - y1)) / square));
      return Math.hypot(x - x1 - along * (x2 - x1), y - y1 - along * (y2 - y1));
    }),
  );
}

function extent(outline: NonNullable<Board['outline']>): string {
  return 'length' in outline ? `${outline.length} × ${outline.width} mm` : `${outline.points.length} corners`;
}
