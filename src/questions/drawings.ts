// Drawings of boards and circuits. The code is loaded on first use.

import type { PictureBeneath, Side } from '../drawings/board-side.ts';
import type { BoardQuestion } from '../drawings/boards.ts';
import type { DiagramQuestion } from '../drawings/diagram/diagram.ts';
import type { PhotoBeneath } from '../drawings/photos-beneath.ts';
import type { PlanView } from '../drawings/plan-view.ts';
import type { Drawing } from '../drawings/shapes.ts';
import type { SideBySideQuestion } from '../drawings/side-by-side.ts';
import { CasebackError } from '../model/problems.ts';
import type { Photos } from '../photos/photos.ts';
import type { State } from '../state/state.ts';

/** Photos beneath a drawing. */
export interface BeneathWishes {
  /** Where files of photos are. */
  readonly photos: Photos | undefined;
  /** Address of a photo that is laid on its board; it stands in the drawing itself when left out. */
  readonly linkOf?: (photo: PhotoBeneath) => string;
}

/** A drawing with the pictures that it names and does not hold. */
export interface DrawnBoard extends Drawing {
  readonly linked: readonly { readonly href: string; readonly content: Uint8Array }[];
}

/** A board to scale. @throws CasebackError NOT_FOUND, BAD_INPUT, OUT_OF_BUDGET; UNAVAILABLE without a place for photos */
export async function drawBoard(
  state: State,
  id: string,
  question: BoardQuestion = {},
  { photos, linkOf }: BeneathWishes = { photos: undefined },
): Promise<DrawnBoard> {
  if (question.plain) {
    const { plainDrawing } = await import('../drawings/plan-view.ts');
    if (question.photoStrength || question.photos?.length)
      throw new CasebackError(
        'BAD_INPUT',
        'A plain drawing has no photos beneath; leave plain or photoStrength out',
      );
    return { ...plainDrawing(state, id, question), linked: [] };
  }
  const { boardDrawing } = await import('../drawings/boards.ts');
  const strength = question.photoStrength ?? 0;
  if (strength === 0) {
    if (question.photos && question.photos.length > 0)
      throw new CasebackError(
        'BAD_INPUT',
        'photos lie beneath a drawing with a photoStrength above 0; name one',
      );
    return { ...boardDrawing(state, id, question), linked: [] };
  }
  const { photosBeneath } = await import('../drawings/photos-beneath.ts');
  const { found, missing } = photosBeneath(state, id, question);
  const pictures = new Map<Side, PictureBeneath>();
  const notes: string[] = [];
  const linked: DrawnBoard['linked'][number][] = [];
  for (const one of found) {
    const content = await laidOnBoard(photos, one);
    const href = linkOf ? linkOf(one) : `data:image/jpeg;base64,${Buffer.from(content).toString('base64')}`;
    if (linkOf) linked.push({ href, content });
    pictures.set(one.side, { href, strength: strength / 100 });
    notes.push(one.note);
  }
  return { ...boardDrawing(state, id, question, { pictures, notes: [...notes, ...missing] }), linked };
}

/** Address at the service of a photo as its board would be seen from straight above. */
export const addressOnBoard = ({ id }: Pick<PhotoBeneath, 'id'>): string => `/photos/${id}/board.jpg`;

/** A photo as its board would be seen from straight above. @throws CasebackError NOT_FOUND, BAD_INPUT, UNAVAILABLE */
export async function photoOfBoard(
  state: State,
  id: string,
  photos: Photos | undefined,
): Promise<{ readonly name: string; content(): Promise<Uint8Array> }> {
  const { photoOnItsBoard } = await import('../drawings/photos-beneath.ts');
  const { nameOnBoard } = await import('../photos/on-board.ts');
  const found = photoOnItsBoard(state, id);
  return { name: nameOnBoard(found), content: () => laidOnBoard(photos, found) };
}

async function laidOnBoard(photos: Photos | undefined, photo: PhotoBeneath): Promise<Uint8Array> {
  if (!photos) throw new CasebackError('UNAVAILABLE', 'This archive was opened without a place for photos');
  const content = await (await photos.renditions()).onBoard(photo);
  if (content) return content;
  throw new CasebackError(
    'UNAVAILABLE',
    `The file of the photo "${photo.id}" is missing or is not the one that was kept; "caseback verify" says more`,
  );
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
