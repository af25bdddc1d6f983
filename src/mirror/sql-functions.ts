import type { FunctionWriter, SqlFunction, SqlValue } from '../gql/gql.ts';
import { cornerProperty } from './segments.ts';

// The functions of `pattern-texts/functions.ts` as SQL, over the properties of two components.

interface Placed {
  readonly node: SqlValue;
  readonly writer: FunctionWriter;
}

function numberOf({ node, writer }: Placed, key: string): string {
  return writer.property(node, key).parts.number ?? `CAST(NULL AS ${writer.dialect.types.number})`;
}

function textOf({ node, writer }: Placed, key: string): string {
  return writer.property(node, key).parts.string ?? `CAST(NULL AS ${writer.dialect.types.string})`;
}

function onOneBoard(a: Placed, b: Placed): string {
  return `${textOf(a, 'board')} = ${textOf(b, 'board')} AND ${textOf(a, 'specimen')} IS NOT DISTINCT FROM ${textOf(b, 'specimen')}`;
}

function sameSide(a: Placed, b: Placed): string {
  return `${textOf(a, 'side')} = ${textOf(b, 'side')}`;
}

function planeDistance(a: Placed, b: Placed): string {
  const [dx, dy] = ['x', 'y'].map((key) => `(${numberOf(a, key)} - ${numberOf(b, key)})`);
  return `sqrt(${dx} * ${dx} + ${dy} * ${dy})`;
}

/** Half extents in x and y of a body turned by right angles. */
function halves(of: Placed): readonly [string, string] {
  // Without both, the centre stands for the body.
  const [length, width] = [numberOf(of, 'length'), numberOf(of, 'width')];
  const both = `${length} IS NOT NULL AND ${width} IS NOT NULL`;
  const isTurned = `(CAST(round(COALESCE(${numberOf(of, 'rotation')}, 0) / 90) AS BIGINT) % 2 <> 0)`;
  const half = (one: string, other: string) =>
    `(CASE WHEN ${both} THEN CASE WHEN ${isTurned} THEN ${other} ELSE ${one} END ELSE 0 END / 2)`;
  return [half(length, width), half(width, length)];
}

type Corner = readonly [x: string, y: string];

/** Corners of a body, in turn around it: as they are kept for one turned by other angles, else those of its box. */
function corners(of: Placed): readonly Corner[] {
  const [halfX, halfY] = halves(of);
  const [x, y] = [numberOf(of, 'x'), numberOf(of, 'y')];
  return [
    ['-', '-'],
    ['+', '-'],
    ['+', '+'],
    ['-', '+'],
  ].map(
    ([signX, signY], i): Corner => [
      `COALESCE(${numberOf(of, cornerProperty(i, 'x'))}, ${x} ${signX} ${halfX})`,
      `COALESCE(${numberOf(of, cornerProperty(i, 'y'))}, ${y} ${signY} ${halfY})`,
    ],
  );
}

/** Distance from edge to edge of two bodies of which one is turned by no right angle; as `gapBetween` of `model/body.ts`. */
function turnedGap(a: Placed, b: Placed, { dialect }: FunctionWriter): string {
  // Corners as columns of their own, since each is written many times.
  const names = (letter: string) => [0, 1, 2, 3].map((i): Corner => [`c.${letter}${i}x`, `c.${letter}${i}y`]);
  const given = [
    { letter: 'a', all: corners(a) },
    { letter: 'b', all: corners(b) },
  ].flatMap(({ letter, all }) =>
    all.flatMap(([x, y], i) => [`${x} AS ${letter}${i}x`, `${y} AS ${letter}${i}y`]),
  );
  const [ringA, ringB] = [names('a'), names('b')];
  const edges = (ring: readonly Corner[]) => ring.map((from, i) => [from, ring[(i + 1) % 4]!] as const);
  const separates = [...edges(ringA), ...edges(ringB)].map(([[x1, y1], [x2, y2]]) => {
    const along = (ring: readonly Corner[]) =>
      ring.map(([x, y]) => `${x} * (${y2} - ${y1}) + ${y} * (${x1} - ${x2})`);
    const [inA, inB] = [along(ringA).join(', '), along(ringB).join(', ')];
    return `greatest(${inA}) < least(${inB}) OR greatest(${inB}) < least(${inA})`;
  });
  const distances = [
    { points: ringA, lines: edges(ringB) },
    { points: ringB, lines: edges(ringA) },
  ].flatMap(({ points, lines }) =>
    points.flatMap(([x, y]) =>
      lines.map(([[x1, y1], [x2, y2]]) => {
        const [dx, dy] = [`(${x2} - ${x1})`, `(${y2} - ${y1})`];
        const square = `(${dx} * ${dx} + ${dy} * ${dy})`;
        const at = `COALESCE(least(1, greatest(0, ((${x} - ${x1}) * ${dx} + (${y} - ${y1}) * ${dy}) / nullif(${square}, 0))), 0)`;
        const [ax, ay] = [`(${x} - ${x1} - ${at} * ${dx})`, `(${y} - ${y1} - ${at} * ${dy})`];
        return `sqrt(${ax} * ${ax} + ${ay} * ${ay})`;
      }),
    ),
  );
  const apart = separates.map((one) => `(${one})`).join(' OR ');
  const type = dialect.types.number;
  return `(SELECT CASE WHEN ${apart} THEN least(${distances.join(', ')}) ELSE CAST(0 AS ${type}) END FROM (SELECT ${given.join(', ')}) AS c)`;
}

function planeGap(a: Placed, b: Placed, writer: FunctionWriter): string {
  const [halfA, halfB] = [halves(a), halves(b)];
  const [across, along] = ['x', 'y'].map(
    (key, i) => `greatest(0, abs(${numberOf(a, key)} - ${numberOf(b, key)}) - ${halfA[i]} - ${halfB[i]})`,
  );
  const upright = `sqrt(${across} * ${across} + ${along} * ${along})`;
  const turned = [a, b].map((of) => `${numberOf(of, cornerProperty(0, 'x'))} IS NOT NULL`).join(' OR ');
  return `CASE WHEN ${turned} THEN ${turnedGap(a, b, writer)} ELSE ${upright} END`;
}

/** A measure of two components, null unless both have a place and a condition holds. */
function measure(
  condition: (a: Placed, b: Placed) => string,
  value: (a: Placed, b: Placed, writer: FunctionWriter) => string,
): SqlFunction {
  return ([first, second], writer) => {
    const [a, b] = [
      { node: first!, writer },
      { node: second!, writer },
    ];
    const placed = [a, b]
      .flatMap((of) => ['x', 'y'].map((key) => `${numberOf(of, key)} IS NOT NULL`))
      .join(' AND ');
    return {
      parts: { number: `CASE WHEN ${condition(a, b)} AND ${placed} THEN ${value(a, b, writer)} END` },
    };
  };
}

const onOneSide = (a: Placed, b: Placed) => `${sameSide(a, b)} AND ${onOneBoard(a, b)}`;

/** Extension functions as SQL, over the tables of a mirror. CROSSES has none: it reads labels along a path. */
export const SQL_FUNCTIONS: Readonly<Record<string, SqlFunction>> = {
  DISTANCE_MM: measure(onOneSide, planeDistance),
  PLANE_DISTANCE_MM: measure(onOneBoard, planeDistance),
  GAP_MM: measure(onOneSide, planeGap),
  PLANE_GAP_MM: measure(onOneBoard, planeGap),
  SAME_SIDE: ([first, second], writer) => {
    const [a, b] = [
      { node: first!, writer },
      { node: second!, writer },
    ];
    const same = `CASE WHEN ${textOf(a, 'board')} IS NOT DISTINCT FROM ${textOf(b, 'board')} THEN ${sameSide(a, b)} END`;
    return { parts: { boolean: same } };
  },
  CROSSES: () => undefined,
};
