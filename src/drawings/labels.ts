import { ASCENT, DESCENT, SIZES, textWidth } from './lettering.ts';
import { LABEL, type Room } from './room.ts';
import { type Box, boxAround, type Ink, type Shape, type Spot, widened } from './shapes.ts';

// Where labels go: inside what they name, beside it, or at the end of a leader line; or nowhere, and then they are listed.

/** Room kept between a label and anything else, mm. */
const GAP = 0.2;
/** Width of the rim of paper around letters on hatching, mm. */
export const RIM = 0.35;
/** How far a leader may reach, mm. */
const LEADERS = [2.5, 4, 6, 8.5, 12, 16] as const;
const DIRECTIONS = 24;

/** What is to be labelled. */
export interface Labelled {
  /** Whose label it is. */
  readonly of: string;
  readonly text: string;
  readonly isBold?: boolean;
  readonly ink?: Ink;
  /** Owner of lines and boxes that it may lie on, where that is another than `of`. */
  readonly owner?: string;
  /** Corners of its body on the sheet; one for a mark. */
  readonly corners: readonly Spot[];
  /** Whether other bodies stand on it, such as in a shield: then the label does not lie in its middle. */
  readonly holdsOthers?: boolean;
  /** How far a leader may reach, mm; 0 for none. */
  readonly reach: number;
}

const SIZE = SIZES.label;
const HEIGHT = (ASCENT + DESCENT) * SIZE;

type Text = Pick<Labelled, 'of' | 'text' | 'isBold' | 'ink' | 'owner'>;

function boxAbout({ text, isBold }: Text, [x, y]: Spot): Box {
  const width = textWidth(text, SIZE, isBold);
  return { left: x - width / 2, right: x + width / 2, top: y - HEIGHT / 2, bottom: y + HEIGHT / 2 };
}

function textShape({ of, text, isBold, ink }: Text, { left, top }: Box, rim: number): Shape {
  return {
    kind: 'text',
    of,
    at: [left, top + ASCENT * SIZE],
    text,
    size: SIZE,
    ...(isBold ? { isBold } : {}),
    ...(ink ? { ink } : {}),
    rim,
  };
}

const ownerOf = ({ owner, of }: Text) => owner ?? of;

/** A label in the middle of a spot, on lines of its own; undefined where anything of others is in the way. */
export function labelOn(room: Room, label: Text, spot: Spot): readonly Shape[] | undefined {
  const box = boxAbout(label, spot);
  if (!room.isFree(widened(box, GAP), ownerOf(label))) return undefined;
  room.takeBox(widened(box, GAP), `${LABEL}${ownerOf(label)}`);
  return [textShape(label, box, 2 * RIM)];
}

/** A label as shapes, its room taken; undefined where there is no room. */
export function labelIn(room: Room, label: Labelled): readonly Shape[] | undefined {
  const owner = ownerOf(label);
  const width = textWidth(label.text, SIZE, label.isBold);
  const height = HEIGHT;
  const body = boxAround(label.corners);
  const middle: Spot = [(body.left + body.right) / 2, (body.top + body.bottom) / 2];
  const boxAt = (spot: Spot) => boxAbout(label, spot);
  const textIn = (box: Box) => textShape(label, box, RIM);
  const take = (box: Box) => room.takeBox(widened(box, GAP), `${LABEL}${owner}`);

  for (const spot of insideSpots(body, middle, width, height, label.holdsOthers === true)) {
    const box = boxAt(spot);
    if (!room.isFree(box, owner)) continue;
    take(box);
    return [textIn(box)];
  }
  const [aside, above] = [width / 2 + 2 * GAP, height / 2 + GAP];
  const beside: readonly Spot[] = [
    [body.right + aside, middle[1]],
    [body.left - aside, middle[1]],
    [middle[0], body.top - above],
    [middle[0], body.bottom + above],
  ];
  for (const spot of beside) {
    const box = boxAt(spot);
    if (!room.isFree(widened(box, GAP))) continue;
    take(box);
    return [textIn(box)];
  }
  for (const mayCross of [false, true]) {
    for (const reach of LEADERS) {
      if (reach > label.reach || (mayCross && reach > 8.5)) break;
      for (let i = 0; i < DIRECTIONS; i++) {
        const turn = (2 * Math.PI * i) / DIRECTIONS;
        const [dx, dy] = [Math.cos(turn), Math.sin(turn)];
        const from = edgeTowards(body, middle, dx, dy);
        const spot: Spot = [from[0] + dx * (reach + width / 2), from[1] + dy * (reach + height / 2)];
        const box = boxAt(spot);
        if (!room.isFree(widened(box, GAP))) continue;
        const to = nearestIn(box, from);
        const isFree = mayCross
          ? room.isLineFree(from, to, owner, 'labels')
          : room.isLineFree(from, to, owner);
        if (!isFree) continue;
        take(box);
        room.takeLine(from, to, `${LABEL}${owner}`);
        const tip = stepInto(body, middle, from);
        return [
          {
            kind: 'line',
            of: label.of,
            points: [tip, to],
            stroke: { ink: label.ink ?? 'faint', width: 0.12 },
          },
          { kind: 'disc', at: tip, radius: 0.2, fill: { ink: label.ink ?? 'faint' } },
          textIn(box),
        ];
      }
    }
  }
  return undefined;
}

/** Middles of a label inside a body that is large enough: its middle, else along its edges. */
function insideSpots(
  body: Box,
  middle: Spot,
  width: number,
  height: number,
  holdsOthers: boolean,
): readonly Spot[] {
  if (body.right - body.left < width + 2 * GAP || body.bottom - body.top < height * 0.9) return [];
  const left = body.left + width / 2 + 3 * GAP;
  const right = body.right - width / 2 - 3 * GAP;
  const top = body.top + height / 2 + 2 * GAP;
  const bottom = body.bottom - height / 2 - 2 * GAP;
  const edges: readonly Spot[] =
    body.bottom - body.top > 2 * height
      ? [
          [middle[0], top],
          [left, top],
          [right, top],
          [middle[0], bottom],
          [left, bottom],
          [right, bottom],
        ]
      : [];
  return holdsOthers ? edges : [middle, ...edges];
}

/** Where a ray from the middle of a box leaves it. */
function edgeTowards(body: Box, [x, y]: Spot, dx: number, dy: number): Spot {
  const across = dx === 0 ? Infinity : (body.right - body.left) / 2 / Math.abs(dx);
  const along = dy === 0 ? Infinity : (body.bottom - body.top) / 2 / Math.abs(dy);
  const way = Math.min(across, along);
  return [x + dx * way, y + dy * way];
}

/** A spot a little inside a body, seen from its edge, so that a leader plainly ends in it. */
function stepInto(body: Box, [x, y]: Spot, [fromX, fromY]: Spot): Spot {
  const length = Math.hypot(x - fromX, y - fromY);
  const step = Math.min(0.5, Math.min(body.right - body.left, body.bottom - body.top) / 4);
  return length === 0
    ? [x, y]
    : [fromX + ((x - fromX) * step) / length, fromY + ((y - fromY) * step) / length];
}

/** The point of a box that lies nearest to another. */
function nearestIn(box: Box, [x, y]: Spot): Spot {
  return [Math.min(Math.max(x, box.left), box.right), Math.min(Math.max(y, box.top), box.bottom)];
}
