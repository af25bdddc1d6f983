import type { FunctionDefinition, FunctionSetting, NodeReference, PathValue, Value } from '../gql/gql.ts';
import { cornersOfBody, gapBetween } from '../model/body.ts';

// Extension functions of ours, beside those of ISO/IEC 39075; loaded by name, in worker threads too.

const a = { name: 'a', type: 'node' } as const;
const b = { name: 'b', type: 'node' } as const;

function propertyOf(node: Value, name: string, { elements }: FunctionSetting): Value {
  return elements.property(node as NodeReference, name);
}

/** Distance of the centres of two placed components in the plane of one board, mm; null unless both are placed on it. */
function planeDistance(first: Value, second: Value, setting: FunctionSetting): number | null {
  const [x1, y1, x2, y2] = [first, first, second, second].map((node, i) =>
    propertyOf(node, i % 2 ? 'y' : 'x', setting),
  );
  if (typeof x1 !== 'number' || typeof y1 !== 'number' || typeof x2 !== 'number' || typeof y2 !== 'number')
    return null;
  const boards = [first, second].map((node) => propertyOf(node, 'board', setting));
  const specimens = [first, second].map((node) => propertyOf(node, 'specimen', setting));
  if (boards[0] === null || boards[0] !== boards[1] || specimens[0] !== specimens[1]) return null;
  return Math.hypot(x1 - x2, y1 - y2);
}

/** Distance from edge to edge of two placed components in the plane of one board, mm; null unless both are placed on it. */
function planeGap(first: Value, second: Value, setting: FunctionSetting): number | null {
  if (planeDistance(first, second, setting) === null) return null;
  const [a, b] = [first, second].map((node) => {
    const [x, y, side, rotation, length, width] = ['x', 'y', 'side', 'rotation', 'length', 'width'].map(
      (name) => propertyOf(node, name, setting),
    );
    const body =
      typeof length === 'number' && typeof width === 'number' ? { body: { length, width } } : undefined;
    return cornersOfBody({
      at: { x: x as number, y: y as number },
      side: side === 'bottom' ? 'bottom' : 'top',
      rotation: typeof rotation === 'number' ? rotation : 0,
      ...body,
    });
  });
  return a && b ? gapBetween(a, b) : null;
}

function sameSide(first: Value, second: Value, setting: FunctionSetting): boolean | null {
  const [sideA, sideB] = [first, second].map((node) => propertyOf(node, 'side', setting));
  return sideA === null || sideB === null ? null : sideA === sideB;
}

export const functions: readonly FunctionDefinition[] = [
  {
    name: 'DISTANCE_MM',
    parameters: [a, b],
    result: 'number',
    doc: 'Distance of the centres of two components on one side of one board, mm; null for any others.',
    fn: ([first, second], setting) =>
      sameSide(first, second, setting) === true ? planeDistance(first, second, setting) : null,
  },
  {
    name: 'PLANE_DISTANCE_MM',
    parameters: [a, b],
    result: 'number',
    doc: 'Distance in the plane of the board of the centres of two components, whatever their sides, mm; null unless both are placed on one board.',
    fn: ([first, second], setting) => planeDistance(first, second, setting),
  },
  {
    name: 'GAP_MM',
    parameters: [a, b],
    result: 'number',
    doc: 'Distance from edge to edge of two components on one side of one board, bodies turned as placed, mm; 0 where they overlap; null for any others. A component without a measured body counts as its centre.',
    fn: ([first, second], setting) =>
      sameSide(first, second, setting) === true ? planeGap(first, second, setting) : null,
  },
  {
    name: 'PLANE_GAP_MM',
    parameters: [a, b],
    result: 'number',
    doc: 'The same whatever their sides: 0 where one lies over the other.',
    fn: ([first, second], setting) => planeGap(first, second, setting),
  },
  {
    name: 'SAME_SIDE',
    parameters: [a, b],
    result: 'boolean',
    doc: 'Whether two components of one board sit on the same side of it; null where a side is not known.',
    fn: ([first, second], setting) =>
      propertyOf(first, 'board', setting) === propertyOf(second, 'board', setting)
        ? sameSide(first, second, setting)
        : null,
  },
  {
    name: 'CROSSES',
    parameters: [
      { name: 'path', type: 'path' },
      { name: 'label', type: 'string' },
    ],
    result: 'boolean',
    doc: "Whether a path passes through a node with the label between its two ends, such as CROSSES(p, 'Connector').",
    fn: ([path, label], { elements }) => {
      const inner = (path as PathValue).elements.slice(1, -1).filter((element) => element.kind === 'node');
      return inner.some((node) => elements.labels(node).includes(label as string));
    },
  },
];
