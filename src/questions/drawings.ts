// Drawings of boards and circuits. The code is loaded on first use.

import type { BoardQuestion } from '../drawings/boards.ts';
import type { DiagramQuestion } from '../drawings/diagram/diagram.ts';
import type { PlanView } from '../drawings/plan-view.ts';
import type { Drawing } from '../drawings/shapes.ts';
import type { SideBySideQuestion } from '../drawings/side-by-side.ts';
import type { State } from '../state/state.ts';

/** A board to scale. @throws CasebackError NOT_FOUND, BAD_INPUT, OUT_OF_BUDGET */
export async function drawBoard(state: State, id: string, question: BoardQuestion = {}): Promise<Drawing> {
  if (question.plain) {
    const { plainDrawing } = await import('../drawings/plan-view.ts');
    return plainDrawing(state, id, question);
  }
  const { boardDrawing } = await import('../drawings/boards.ts');
  return boardDrawing(state, id, question);
}

/** The sides of a board as shapes for a page. @throws CasebackError NOT_FOUND, BAD_INPUT, OUT_OF_BUDGET */
export async function planBoard(
  state: State,
  id: string,
  question: BoardQuestion = {},
): Promise<readonly PlanView[]> {
  const { planViews } = await import('../drawings/plan-view.ts');
  return planViews(state, id, question);
}

/** Boards of devices, or of a product line, at one scale. @throws CasebackError NOT_FOUND, BAD_INPUT, OUT_OF_BUDGET */
export async function drawSideBySide(
  state: State,
  ids: readonly string[],
  question: SideBySideQuestion = {},
): Promise<Drawing> {
  const { sideBySide } = await import('../drawings/side-by-side.ts');
  return sideBySide(state, ids, question);
}

/** A match of a pattern lit on the boards that it touches. @throws CasebackError BAD_INPUT, OUT_OF_BUDGET */
export async function drawMatch(
  state: State,
  bindings: readonly { readonly ids: readonly string[] }[],
  question: Omit<BoardQuestion, 'lit'> = {},
): Promise<readonly Drawing[]> {
  const { matchDrawings } = await import('../drawings/match.ts');
  return matchDrawings(state, bindings, question);
}

/** The block diagram of a specimen, of the one that stands for a device, or of a board alone. @throws CasebackError NOT_FOUND, BAD_INPUT, OUT_OF_BUDGET, UNAVAILABLE */
export async function drawDiagram(
  state: State,
  id: string,
  question: DiagramQuestion = {},
): Promise<Drawing> {
  const { blockDiagram } = await import('../drawings/diagram/diagram.ts');
  return blockDiagram(state, id, question);
}
