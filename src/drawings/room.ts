import { type Box, boxAround, type Spot } from './shapes.ts';

/** Edge of the squares in which what takes room is looked up, mm. */
const CELL = 4;

/** Start of the owner of a label's box. */
export const LABEL = 'label ';

/** Owner of the edges of a board, which labels keep off and leaders cross. */
export const OUTLINE = 'outline';

interface Taken {
  readonly box: Box;
  /** Whose it is; a label may lie on its own. */
  readonly owner: string | undefined;
}

interface Piece extends Taken {
  readonly from: Spot;
  readonly to: Spot;
}

/** What of a drawing is taken already: boxes (bodies, labels) and lines (nets, leaders). */
export class Room {
  readonly #frame: Box;
  readonly #boxes = new Map<string, Taken[]>();
  readonly #lines = new Map<string, Piece[]>();

  /** @param frame nothing may lie beyond */
  constructor(frame: Box) {
    this.#frame = frame;
  }

  takeBox(box: Box, owner?: string): void {
    const taken = { box, owner };
    for (const cell of cellsOf(box)) push(this.#boxes, cell, taken);
  }

  takeLine(from: Spot, to: Spot, owner?: string): void {
    const piece = { from, to, owner, box: boxAround([from, to]) };
    for (const cell of cellsOf(piece.box)) push(this.#lines, cell, piece);
  }

  /** Whether nothing of others lies in a box and all of it inside the frame. */
  isFree(box: Box, owner?: string): boolean {
    const { left, top, right, bottom } = this.#frame;
    if (box.left < left || box.right > right || box.top < top || box.bottom > bottom) return false;
    return cellsOf(box).every((cell) => {
      const boxes = this.#boxes.get(cell);
      if (boxes?.some((one) => !isOwn(one, owner) && overlaps(one.box, box))) return false;
      const lines = this.#lines.get(cell);
      return !lines?.some(
        (one) => !isOwn(one, owner) && overlaps(one.box, box) && crossesBox(one.from, one.to, box),
      );
    });
  }

  /**
   * Whether a line crosses no box of others and no other line.
   * @param of `labels`: boxes that are no label may be crossed
   */
  isLineFree(from: Spot, to: Spot, owner?: string, of: 'all' | 'labels' = 'all'): boolean {
    const box = boxAround([from, to]);
    const counts = (one: Taken) => of === 'all' || one.owner?.startsWith(LABEL) === true;
    return cellsOf(box).every((cell) => {
      const boxes = this.#boxes.get(cell);
      if (boxes?.some((one) => !isOwn(one, owner) && counts(one) && crossesBox(from, to, one.box)))
        return false;
      const lines = this.#lines.get(cell);
      return !lines?.some(
        (one) => !isOwn(one, owner) && one.owner !== OUTLINE && cross(from, to, one.from, one.to),
      );
    });
  }
}

const isOwn = (taken: Taken, owner: string | undefined) => owner !== undefined && taken.owner === owner;

function push<T>(map: Map<string, T[]>, key: string, value: T): void {
  const list = map.get(key);
  if (list) list.push(value);
  else map.set(key, [value]);
}

function cellsOf({ left, top, right, bottom }: Box): readonly string[] {
  const cells: string[] = [];
  for (let x = Math.floor(left / CELL); x <= Math.floor(right / CELL); x++)
    for (let y = Math.floor(top / CELL); y <= Math.floor(bottom / CELL); y++) cells.push(`${x} ${y}`);
  return cells;
}

/** Whether two boxes have more than an edge in common. */
export function overlaps(a: Box, b: Box): boolean {
  return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}

/** Whether a straight piece passes through a box: the piece is cut at each edge in turn (after Liang and Barsky, 1984). */
export function crossesBox([x1, y1]: Spot, [x2, y2]: Spot, { left, top, right, bottom }: Box): boolean {
  let [start, end] = [0, 1];
  for (const [along, room] of [
    [x1 - x2, x1 - left],
    [x2 - x1, right - x1],
    [y1 - y2, y1 - top],
    [y2 - y1, bottom - y1],
  ]) {
    if (along === 0) {
      if (room < 0) return false;
    } else if (along < 0) start = Math.max(start, room / along);
    else end = Math.min(end, room / along);
    if (start > end) return false;
  }
  return true;
}

/** Whether two straight pieces cross. */
function cross(a: Spot, b: Spot, c: Spot, d: Spot): boolean {
  const turn = ([px, py]: Spot, [qx, qy]: Spot, [rx, ry]: Spot) =>
    Math.sign((qx - px) * (ry - py) - (qy - py) * (rx - px));
  return turn(a, b, c) !== turn(a, b, d) && turn(c, d, a) !== turn(c, d, b);
}
