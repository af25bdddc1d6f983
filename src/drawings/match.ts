import { thingId } from '../model/ids.ts';
import { resolve } from '../state/resolve.ts';
import type { State } from '../state/state.ts';
import { componentsOn, placesOfNet } from './board-side.ts';
import { type BoardQuestion, boardDrawing } from './boards.ts';
import type { Drawing } from './shapes.ts';

/** What a variable of a pattern stands for, as the pattern's answer has it. */
interface Binding {
  readonly ids: readonly string[];
}

/**
 * A match of a pattern lit on the boards that it touches: components and nets of its bindings.
 * @returns one drawing a board, in the order of the dossiers; none where nothing of the match has a place on a board
 */
export function matchDrawings(
  state: State,
  bindings: readonly Binding[],
  question: Omit<BoardQuestion, 'lit'> = {},
): readonly Drawing[] {
  const lit = new Map<string, Set<string>>();
  const take = (board: string, id: string) => {
    const ids = lit.get(board);
    if (ids) ids.add(id);
    else lit.set(board, new Set([id]));
  };
  for (const id of bindings.flatMap(({ ids }) => ids)) {
    const found = resolve(state, id);
    if (found?.kind === 'Component') {
      const { board } = found.thing;
      if (board !== undefined) take(thingId(found.opened.id, board), id);
    } else if (found?.kind === 'Net') {
      for (const board of found.opened.dossier.boards)
        if (placesOfNet({ specimen: found.opened, board }, found.thing).length > 0)
          take(thingId(found.opened.id, board.id), id);
    }
  }
  return [...lit].flatMap(([board, ids]) => {
    const found = resolve(state, board);
    if (found?.kind !== 'Board') return [];
    const isDrawable =
      found.thing.outline !== undefined || componentsOn(found.opened, found.thing).some(({ at }) => at);
    return isDrawable ? [boardDrawing(state, board, { ...question, lit: [...ids] })] : [];
  });
}
