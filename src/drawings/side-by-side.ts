import { comparedOf } from '../compare/representative.ts';
import { type Board, SIDES } from '../model/board.ts';
import { yearOf } from '../model/dates.ts';
import { areaOf } from '../model/outline.ts';
import { CasebackError } from '../model/problems.ts';
import { resolved } from '../state/resolve.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';
import type { State } from '../state/state.ts';
import type { Column, Panel } from './arrange.ts';
import { boardSheet } from './board-sheet.ts';
import { boardSide, NOTHING_LIT, type Side } from './board-side.ts';
import { MOST_COMPONENTS, sheetWidth } from './boards.ts';
import { creditsOf } from './credits.ts';
import type { Drawing } from './shapes.ts';
import { svgOf } from './svg.ts';

/** Most devices beside one another. */
const MOST_COLUMNS = 24;

export interface SideBySideQuestion {
  /** The same side of each; the one with more components on it when left out. */
  readonly side?: Side | null;
  /** Width of the sheet, mm. */
  readonly width?: number | null;
}

/** A column before its sides are chosen. */
interface Wanted {
  readonly specimen: OpenedSpecimen;
  readonly boards: readonly Board[];
}

/**
 * Boards at one scale: each id a column, with all boards of a device or specimen; a product line is a row of the largest board of
 * each of its devices, by release.
 * @param ids of devices, specimens, boards and product lines
 * @throws CasebackError NOT_FOUND when nothing visible has one of the ids; BAD_INPUT for too many, and where no board can be drawn;
 * OUT_OF_BUDGET for too many components
 */
export function sideBySide(
  state: State,
  ids: readonly string[],
  { side, width }: SideBySideQuestion = {},
): Drawing {
  const wanted = ids.flatMap((id) => wantedOf(state, id));
  if (wanted.length === 0 || wanted.length > MOST_COLUMNS)
    throw new CasebackError(
      'BAD_INPUT',
      `${wanted.length} devices to draw side by side; name 1 to ${MOST_COLUMNS}`,
    );
  const count = wanted.reduce((sum, { specimen }) => sum + specimen.dossier.components.length, 0);
  if (count > MOST_COMPONENTS)
    throw new CasebackError(
      'OUT_OF_BUDGET',
      `These have ${count} components; at most ${MOST_COMPONENTS} are drawn at once`,
    );
  const columns = wanted.flatMap(({ specimen, boards }): Column[] => {
    const panels = boards.flatMap((board): Panel[] => {
      const [view] = (side ? [side] : SIDES)
        .flatMap((one) => boardSide(specimen, board, one, NOTHING_LIT) ?? [])
        .sort((a, b) => b.placed.length - a.placed.length);
      return view ? [{ view, caption: `${board.name ?? board.id}, ${view.side}` }] : [];
    });
    const device = state.device(comparedOf(state, specimen.id).device.id);
    const year = device && yearOf(device.released);
    const heading = `${device?.name ?? specimen.id}${year === undefined ? '' : `, ${year}`}`;
    return panels.length > 0 ? [{ heading, panels }] : [];
  });
  if (columns.length === 0)
    throw new CasebackError(
      'BAD_INPUT',
      `None of these can be drawn: neither the outline of a board nor the place of a component is recorded (${ids.slice(0, 5).join(', ')})`,
    );
  const left = wanted.length - columns.length;
  const sheet = boardSheet(
    columns,
    {
      title: titleOf(state, ids, columns),
      subtitle: `side by side${left > 0 ? `, without ${left} of which no place is recorded` : ''}`,
      credits: creditsOf(state, [...new Set(wanted.map(({ specimen }) => specimen))]),
    },
    { width: sheetWidth(width), isOneRow: false },
  );
  const { title, description } = sheet;
  return { title, description, svg: svgOf(sheet) };
}

function wantedOf(state: State, id: string): readonly Wanted[] {
  const found = resolved(state, id, ['Device', 'Specimen', 'Board', 'ProductLine']);
  if (found.kind === 'Board') return [{ specimen: found.opened, boards: [found.thing] }];
  if (found.kind !== 'ProductLine') {
    const { specimen } = comparedOf(state, found.id);
    return [{ specimen, boards: specimen.dossier.boards }];
  }
  return state
    .devices()
    .filter(({ id: device, productLine }) => productLine === found.id && state.specimensOf(device).length > 0)
    .sort((a, b) => (a.released < b.released ? -1 : a.released > b.released ? 1 : 0))
    .map(({ id: device }) => {
      const { specimen } = comparedOf(state, device);
      const size = ({ outline }: Board) => (outline ? areaOf(outline) : 0);
      const [largest] = [...specimen.dossier.boards].sort((a, b) => size(b) - size(a));
      return { specimen, boards: largest ? [largest] : [] };
    });
}

function titleOf(state: State, ids: readonly string[], columns: readonly Column[]): string {
  const line = ids.length === 1 ? state.productLine(ids[0]) : undefined;
  if (line) return `${line.name}: the largest board of each device`;
  const names = columns.map(({ heading }) => heading ?? '');
  return names.length <= 3 ? names.join(' and ') : `${names.length} devices`;
}
