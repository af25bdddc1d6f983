import { specimenPiece } from '../../src/export/graph/specimens.ts';
import { lastOfId } from '../../src/model/ids.ts';
import type { State } from '../../src/state/state.ts';
import { elementsOf, type Lettered, lettersOf, overlapOf, pointsOf, type Xy } from './read-svg.ts';

// What must hold of a finished block diagram, read from its SVG alone and held to what exports say of the specimen. It knows
// nothing of how diagrams are made.

interface Rect {
  readonly of: string;
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

interface Line {
  readonly of: string;
  readonly points: readonly Xy[];
}

/** Lengths are written with three decimals. */
const NEAR = 0.02;

/** What is wrong with a diagram, in words; empty for a sound one. */
export function faultsIn(state: State, specimen: string, svg: string): readonly string[] {
  const { nodes, edges } = specimenPiece(state, specimen, () => undefined);
  const local = (kind: string) =>
    new Map(nodes.flatMap((node) => (node.kind === kind ? [[lastOfId(node.id), node.details]] : [])));
  const [components, nets] = [local('Component'), local('Net')];
  const groups = new Set([...local('Board').keys(), ...local('Subsystem').keys()]);
  const members = Map.groupBy(
    edges.filter(({ label }) => label === 'JOINS'),
    ({ source }) => lastOfId(source),
  );

  const paths = elementsOf(svg).flatMap(({ name, attributes }) =>
    name === 'path' && attributes['data-of'] ? [{ of: attributes['data-of'], d: attributes.d }] : [],
  );
  const rects = paths.filter(({ d }) => d.endsWith('Z')).map(rectOf);
  const lines: Line[] = paths
    .filter(({ d }) => !d.endsWith('Z'))
    .map(({ of, d }) => ({ of, points: pointsOf(d) }));
  const isGroup = ({ of }: Rect) => groups.has(of);
  const boxes = rects.filter((rect) => !isGroup(rect));
  const letters = lettersOf(svg);
  const faults: string[] = [];

  rects.forEach((one, i) => {
    for (const other of rects.slice(i + 1))
      if (overlapOf(one, other) > NEAR && !holds(one, other) && !holds(other, one))
        faults.push(`boxes ${one.of} and ${other.of} overlap`);
    if (isGroup(one)) return;
    for (const other of boxes)
      if (other !== one && holds(one, other)) faults.push(`${one.of} covers ${other.of}`);
  });

  letters.forEach((one, i) => {
    for (const other of letters.slice(i + 1))
      if (overlapOf(one, other) > NEAR) faults.push(`labels "${one.text}" and "${other.text}" overlap`);
    for (const box of boxes)
      if (overlapOf(one, box) > NEAR && !(box.of === one.of && holds(box, one)))
        faults.push(`label "${one.text}" of ${one.of} lies on ${box.of}`);
    for (const line of lines)
      if (line.of !== one.of && crosses(line, inner(one)))
        faults.push(`a line of ${line.of} crosses "${one.text}"`);
  });
  const lineLabels = letters.filter(
    ({ of }) => lines.some((line) => line.of === of) && !boxes.some((box) => box.of === of),
  );
  for (const label of lineLabels) {
    const own = lines.filter(({ of }) => of === label.of);
    // A label of several rows has its line at its middle.
    const around = grown(label, 8);
    if (!own.some((line) => crosses(line, around)))
      faults.push(`label "${label.text}" is away from its line ${label.of}`);
  }

  for (const { of, points } of lines) {
    const ends = [points[0], points[points.length - 1]].map((spot) =>
      boxes.find((box) => isOnBorder(spot, box)),
    );
    if (ends.some((end) => !end)) {
      faults.push(`a line of ${of} does not end at a box`);
      continue;
    }
    for (const box of boxes)
      if (!ends.includes(box) && crosses({ of, points }, grown(box, -NEAR)))
        faults.push(`a line of ${of} runs through ${box.of}`);
    for (const end of ends)
      if (end && crosses({ of, points }, grown(end, -0.1)))
        faults.push(`a line of ${of} runs inside ${end.of}`);
  }

  const drawn = new Set(boxes.flatMap(({ of }) => (components.has(of) ? [of] : [])));
  for (const [id, { kind }] of nets) {
    const wanted = new Set(
      (members.get(id) ?? []).map(({ target }) => lastOfId(target)).filter((one) => drawn.has(one)),
    );
    const own = lines.filter(({ of }) => of.split(' ').includes(id));
    const reached = new Set(
      own.flatMap(({ points }) =>
        [points[0], points[points.length - 1]].flatMap((spot) =>
          boxes.flatMap((box) => (isOnBorder(spot, box) && drawn.has(box.of) ? [box.of] : [])),
        ),
      ),
    );
    const should = kind === 'ground' || wanted.size < 2 ? new Set<string>() : wanted;
    if ([...should].sort().join() !== [...reached].sort().join())
      faults.push(
        `net ${id} joins ${[...should].sort().join(', ')} and is drawn at ${[...reached].sort().join(', ')}`,
      );
  }

  if (nets.size > 0) return faults;
  for (const { source, target, label, details } of edges) {
    if (label !== 'CONNECTS' || ['adhesive', 'screw'].includes(String(details?.medium))) continue;
    const ends = [source, target].map(lastOfId);
    if (!ends.every((end) => drawn.has(end))) continue;
    const isThere = lines.some(({ points }) =>
      [points, points.toReversed()].some(
        (way) =>
          boxes.some((box) => box.of === ends[0] && isOnBorder(way[0], box)) &&
          boxes.some((box) => box.of === ends[1] && isOnBorder(way[way.length - 1], box)),
      ),
    );
    if (!isThere) faults.push(`the connection of ${ends.join(' and ')} is not drawn`);
  }
  return faults;
}

function rectOf({ of, d }: { readonly of: string; readonly d: string }): Rect {
  const points = pointsOf(d);
  const [xs, ys] = [points.map(([x]) => x), points.map(([, y]) => y)];
  return { of, left: Math.min(...xs), top: Math.min(...ys), right: Math.max(...xs), bottom: Math.max(...ys) };
}

type Sides = Omit<Rect, 'of'>;

const holds = (outer: Sides, inside: Sides) =>
  inside.left >= outer.left - NEAR &&
  inside.right <= outer.right + NEAR &&
  inside.top >= outer.top - NEAR &&
  inside.bottom <= outer.bottom + NEAR;

const grown = ({ left, top, right, bottom }: Sides, by: number): Sides => ({
  left: left - by,
  top: top - by,
  right: right + by,
  bottom: bottom + by,
});

/** Letters without the room beside them, so that a line that touches them counts and one that passes does not. */
const inner = (letters: Lettered) => grown(letters, -0.05);

/** Whether an orthogonal line has a point inside a box. */
function crosses({ points }: Line, { left, top, right, bottom }: Sides): boolean {
  return points.slice(1).some(([x2, y2], i) => {
    const [x1, y1] = points[i];
    return (
      Math.max(x1, x2) > left &&
      Math.min(x1, x2) < right &&
      Math.max(y1, y2) > top &&
      Math.min(y1, y2) < bottom
    );
  });
}

function isOnBorder([x, y]: Xy, { left, top, right, bottom }: Sides): boolean {
  const isWithin = x >= left - NEAR && x <= right + NEAR && y >= top - NEAR && y <= bottom + NEAR;
  const away = Math.min(Math.abs(x - left), Math.abs(x - right), Math.abs(y - top), Math.abs(y - bottom));
  return isWithin && away <= NEAR;
}
