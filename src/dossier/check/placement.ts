import type { Board, Outline } from '../../model/board.ts';
import type { Component } from '../../model/dossier.ts';
import { distanceOff, extentOf } from '../../model/outline.ts';
import { isUnder } from '../../model/taxonomy.ts';
import { fixed } from '../../text/rounding.ts';
import type { DossierRule, Severity } from './context.ts';

/** Tolerance for rounding, in mm. */
const SLACK = 0.05;
/** How far beyond half of its body a centre may lie off the board and still be said to overhang, mm (chosen). */
const MARGIN = 1;

/** A component lies on its board, on a side that the board has; a place needs a board. */
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
    if (at && board.outline) {
      const found = misplaced(document.dossier.components[i], board, board.outline);
      if (found) report(document, ['components', i, 'at'], found.what, found.fix, found.severity);
    }
  });
};

function isShield({ appears }: Component): boolean {
  return appears !== undefined && isUnder(appears, 'Shield');
}

/** How many times as long a can is as what it stands over, at least (chosen). */
const COVER = 1.5;

/** Whether one body is so much the larger that it stands over the other, as a can whose looks nobody noted. */
function covers({ body }: Component, { body: under }: Component): boolean {
  return body !== undefined && under !== undefined && body.length >= COVER * under.length;
}

/** No two bodies are in one place: centres that coincide are a line copied and not changed. */
export const placesAreTakenOnce: DossierRule = (document, report) => {
  const taken = new Map<string, Component>();
  document.dossier.components.forEach((component, i) => {
    const { id, board, side, at, inside, fitted } = component;
    if (!at || board === undefined || inside !== undefined || fitted === false || isShield(component)) return;
    const place = `${board} ${side} ${at.x} ${at.y}`;
    const before = taken.get(place);
    if (before === undefined) {
      taken.set(place, component);
      return;
    }
    if (covers(component, before) || covers(before, component)) return;
    const what = `${id} is in the place of ${before.id}, at ${at.x}, ${at.y} mm on ${board}${side ? `, ${side}` : ''}`;
    report(
      document,
      ['components', i, 'at'],
      what,
      'check both places; write "inside" for what the other holds',
      'caution',
    );
  });
};

/**
 * What is wrong with a centre that does not lie on the board. Connectors, buttons and LEDs may overhang the edge or look through
 * a cut-out; whole bodies far off are a mistake of unit or origin.
 */
function misplaced(
  { id, at, body, appears }: Component,
  board: Board,
  outline: Outline,
): { readonly what: string; readonly fix: string; readonly severity: Severity } | undefined {
  const { x, y } = at as NonNullable<typeof at>;
  const pieces = 'points' in outline ? (outline.breakaway ?? []) : [];
  const offPieces = pieces.map((points) => distanceOff({ points }, [x, y]));
  if (offPieces.includes(0)) return undefined;
  const beyond = Math.min(distanceOff({ ...outline, holes: undefined }, [x, y]), ...offPieces);
  // A hole for a screw is a cut-out.
  const off = beyond > 0 || appears === 'MountingHole' ? beyond : distanceOff(outline, [x, y]);
  if (off <= SLACK) return undefined;
  const half = body ? Math.max(body.length, body.width) / 2 : 0;
  const { length, width } = extentOf(outline);
  const place = `${id} at (${x}, ${y}) mm`;
  if (off - half > Math.max(length, width)) {
    return {
      what: `${place} lies off board "${board.id}" (${extent(outline)})`,
      fix: 'check the place, the unit (mm) and where the board has its origin',
      severity: 'error',
    };
  }
  const where = beyond > 0 ? `beyond the edge of board "${board.id}"` : `in a cut-out of board "${board.id}"`;
  const overhangs = off <= half + MARGIN;
  return {
    what: `${overhangs ? `the centre of ${place}` : place} lies ${fixed(off, 1)} mm ${where} (${extent(outline)})`,
    fix: overhangs
      ? 'check the place, unless it stands out from the board'
      : 'check the place, the outline and where the board has its origin',
    severity: 'caution',
  };
}

function extent(outline: Outline): string {
  if ('length' in outline) return `${outline.length} × ${outline.width} mm`;
  const { left, bottom, length, width } = extentOf(outline);
  const from = (start: number, size: number) => `${fixed(start, 1)} to ${fixed(start + size, 1)}`;
  return `x ${from(left, length)}, y ${from(bottom, width)} mm`;
}
