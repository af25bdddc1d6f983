import type { Ink, Shape, Spot } from './shapes.ts';
import { spanningTree } from './tree.ts';

// Lit nets on a board: the shortest tree between the components of each, beside one another where two would lie on one line.

/** A net that is to be lit. */
export interface LitNet {
  readonly id: string;
  readonly ink: Ink;
  readonly members: readonly {
    /** Local id of the component. */
    readonly id: string;
    /** Its middle on the sheet. */
    readonly at: Spot;
    /** Whether it is on the side that is drawn. */
    readonly isHere: boolean;
  }[];
}

export interface DrawnNet {
  readonly shapes: readonly Shape[];
  /** Straight pieces of its lines. */
  readonly pieces: readonly (readonly [Spot, Spot])[];
}

/** Discs of several nets on one component stand so far apart, mm. */
const PITCH = 1.3;
/** Lines of two nets that run along each other keep so far apart, mm. */
const BESIDE = 0.9;
/** Nearer than this, lines of two nets cover each other, mm; each is 0.35 wide on a rim of paper of 0.8. */
const COVERS = 0.6;
/** How long two lines may lie on each other, as they do where they cross or meet, mm. */
const MEETING = 2;
/** How often lines are moved aside, to either side in turn. */
const ASIDE = [0, 1, -1, 2, -2, 3, -3, 4, -4] as const;

/** Draws nets, each with regard to those before it. */
export function drawNets(nets: readonly LitNet[]): readonly DrawnNet[] {
  const on = new Map<string, string[]>();
  for (const { id, members } of nets)
    for (const member of members) on.set(member.id, [...(on.get(member.id) ?? []), id]);
  const taken: (readonly [Spot, Spot])[] = [];
  return nets.map(({ id, ink, members }) => {
    const spots = members.map(({ id: component, at: [x, y] }): Spot => {
      const all = on.get(component) ?? [];
      const shift = (all.indexOf(id) - (all.length - 1) / 2) * PITCH;
      return [x + shift * 0.8, y + shift * 0.6];
    });
    const ways = spanningTree(spots).map(([a, b]) => wayBetween(spots[a], spots[b], taken));
    const pieces = ways.flatMap((way) => way.slice(1).map((to, i) => [way[i], to] as const));
    taken.push(...pieces);
    const shapes: Shape[] = [
      ...ways.map((points): Shape => ({ kind: 'line', points, stroke: { ink: 'paper', width: 0.8 } })),
      ...ways.map((points): Shape => ({ kind: 'line', of: id, points, stroke: { ink, width: 0.35 } })),
      ...members.map(
        ({ isHere }, i): Shape => ({
          kind: 'disc',
          of: id,
          at: spots[i],
          radius: 0.5,
          fill: { ink: isHere ? ink : 'paper' },
          stroke: { ink, width: 0.25 },
        }),
      ),
    ];
    return { shapes, pieces };
  });
}

/** A straight line, or one moved aside where another net runs along it. */
function wayBetween(from: Spot, to: Spot, taken: readonly (readonly [Spot, Spot])[]): readonly Spot[] {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  if (length === 0) return [from, to];
  const [dx, dy] = [(to[0] - from[0]) / length, (to[1] - from[1]) / length];
  const straight = [from, to];
  for (const times of ASIDE) {
    const aside = times * BESIDE;
    // It leaves and comes back at an angle of 45 degrees, or steeper where it is short.
    const along = Math.min(Math.abs(aside), length / 4);
    const way =
      times === 0
        ? straight
        : [
            from,
            [from[0] + dx * along - dy * aside, from[1] + dy * along + dx * aside] as const,
            [to[0] - dx * along - dy * aside, to[1] - dy * along + dx * aside] as const,
            to,
          ];
    const pieces = way.slice(1).map((end, i) => [way[i], end] as const);
    if (taken.every((other) => pieces.every((piece) => lengthCovered(piece, other) <= MEETING))) return way;
  }
  return straight;
}

/** How much of a piece lies so near to another that one covers the other, mm. */
export function lengthCovered([a, b]: readonly [Spot, Spot], other: readonly [Spot, Spot]): number {
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const steps = Math.max(1, Math.ceil(length / 0.2));
  let near = 0;
  for (let i = 0; i <= steps; i++) {
    const spot: Spot = [a[0] + ((b[0] - a[0]) * i) / steps, a[1] + ((b[1] - a[1]) * i) / steps];
    if (distanceTo(spot, other) < COVERS) near++;
  }
  return (near * length) / (steps + 1);
}

function distanceTo([x, y]: Spot, [[x1, y1], [x2, y2]]: readonly [Spot, Spot]): number {
  const square = (x2 - x1) ** 2 + (y2 - y1) ** 2;
  const share =
    square === 0 ? 0 : Math.max(0, Math.min(1, ((x - x1) * (x2 - x1) + (y - y1) * (y2 - y1)) / square));
  return Math.hypot(x - x1 - share * (x2 - x1), y - y1 - share * (y2 - y1));
}
