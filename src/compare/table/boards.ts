import type { Board } from '../../model/board.ts';
import { areaOf as outlineArea } from '../../model/outline.ts';
import { ABSENT_CELL, type Cell, count, figure, NOT_OBSERVED_CELL, type RowCell, withNote } from './cell.ts';
import type { Column } from './column.ts';

/** Boards by kind, their area, how densely they carry components, and copper layers. */
export function boardRows({ specimen }: Column): readonly RowCell[] {
  const { boards } = specimen.dossier;
  const measured = boards.flatMap((board) => {
    const area = areaOf(board);
    return area === undefined ? [] : [{ board, area: area / 100 }];
  });
  const area = measured.reduce((sum, one) => sum + one.area, 0);
  const on = new Set(measured.map(({ board }) => board.id));
  const carried = specimen.counted.filter(({ board }) => board !== undefined && on.has(board)).length;
  const some =
    measured.length < boards.length
      ? `${measured.length} of ${boards.length} boards have an outline`
      : undefined;
  const unknown = boards.length === 0 ? ABSENT_CELL : withNote(NOT_OBSERVED_CELL, some);
  const layers = boards.flatMap((board) => board.layers ?? []);
  const row = (key: string, label: string, unit: string, is: string, cell: Cell): RowCell => ({
    key: `boards.${key}`,
    label,
    unit,
    is,
    cell,
  });
  return [
    row(
      'all',
      'Boards',
      '1',
      'Circuit boards, flexible circuits, substrates and modules.',
      counted(boards.length),
    ),
    ...[...new Set(boards.map(({ kind }) => kind))].sort().map((kind) => {
      const number = boards.filter((one) => one.kind === kind).length;
      return row(kind, `Boards: ${kind}`, '1', `Boards of the kind ${kind}.`, counted(number));
    }),
    row(
      'area',
      'Board area',
      'cm2',
      'Area inside the outlines of all boards, one side each.',
      boards.length > 0 && some === undefined ? figure(area) : unknown,
    ),
    row(
      'density',
      'Components an area',
      '/cm2',
      'Components on boards with an outline, by the area of these boards.',
      area > 0 ? figure(carried / area, some) : unknown,
    ),
    row(
      'layers',
      'Most copper layers',
      '1',
      'Copper layers of the board that has most.',
      layers.length > 0
        ? figure(Math.max(...layers))
        : boards.length === 0
          ? ABSENT_CELL
          : withNote(NOT_OBSERVED_CELL, 'no board has its layers counted'),
    ),
  ];
}

function counted(number: number): Cell {
  return count(number, number, number);
}

/** Area of a board in mm²; undefined where nobody measured its outline. */
export function areaOf({ outline }: Pick<Board, 'outline'>): number | undefined {
  return outline && outlineArea(outline);
}
