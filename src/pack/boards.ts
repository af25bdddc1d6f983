import { boardDrawing } from '../drawings/boards.ts';
import type { Drawing } from '../drawings/shapes.ts';
import { specimenOfId, thingId } from '../model/ids.ts';
import { CasebackError } from '../model/problems.ts';
import { resolve } from '../state/resolve.ts';
import type { State } from '../state/state.ts';
import type { Statement } from './statement.ts';

/** A board that sentences are about, with the components that they name. */
export interface BoardShown {
  /** `device/specimen/board`. */
  readonly id: string;
  readonly lit: readonly string[];
  /** Sentences that name something on it. */
  readonly sentences: readonly string[];
}

/** Boards with anything on them that sentences name as support, in order of their ids. */
export function boardsUnder(view: State, { sentences }: Statement): readonly BoardShown[] {
  const boards = new Map<string, { readonly lit: Set<string>; readonly sentences: Set<string> }>();
  for (const { id, support } of sentences) {
    for (const { board, component } of support.flatMap((item) => placesOf(view, item.id))) {
      const shown = boards.get(board) ?? { lit: new Set(), sentences: new Set() };
      if (component !== undefined) shown.lit.add(component);
      shown.sentences.add(id);
      boards.set(board, shown);
    }
  }
  return [...boards]
    .map(([id, shown]) => ({ id, lit: [...shown.lit].sort(), sentences: [...shown.sentences] }))
    .sort((a, b) => (a.id < b.id ? -1 : 1));
}

interface BoardPlace {
  readonly board: string;
  readonly component?: string;
}

/** Boards that a thing is on: of an observation those of the components that it is about. */
function placesOf(view: State, id: string): readonly BoardPlace[] {
  const found = resolve(view, id);
  if (found?.kind === 'Board') return [{ board: found.id }];
  if (found?.kind === 'Component') {
    const { board, fitted, id: local } = found.thing;
    const specimen = specimenOfId(found.id);
    if (board === undefined || fitted === false) return [];
    return [{ board: thingId(specimen, board), component: thingId(specimen, local) }];
  }
  if (found?.kind !== 'Observation') return [];
  const specimen = specimenOfId(found.id);
  return found.thing.about.flatMap((local) => placesOf(view, thingId(specimen, local)));
}

/** The board with what sentences name picked out; or why it cannot be drawn. */
export function drawnBoard(view: State, { id, lit }: BoardShown): Drawing | string {
  try {
    return boardDrawing(view, id, { lit });
  } catch (error) {
    if (error instanceof CasebackError) return error.message;
    throw error;
  }
}
