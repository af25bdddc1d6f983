import type { FunctionDefinition, FunctionSetting, NodeReference, PathValue, Value } from '../gql/gql.ts';
import { gapOfBodies, type PlacedBody } from '../model/body.ts';

// Extension functions of ours, beside those of ISO/IEC 39075; loaded by name, in worker threads too.

const a = { name: 'a', type: 'node' } as const;
const b = { name: 'b', type: 'node' } as const;

function propertyOf(node: Value, name: string, { elements }: FunctionSetting): Value {
  return elements.property(node as NodeReference, name);
}

/** Whether two components are placed on one board of one specimen. */
function isOnOneBoard(first: Value, second: Value, setting: FunctionSetting): boolean {
  const board = propertyOf(first, 'board', setting);
  return (
    board !== null &&
    board === propertyOf(second, 'board', setting) &&
    propertyOf(first, 'specimen', setting) === propertyOf(second, 'specimen', setting)
  );
}

/** Place of a component's centre, mm. */
function placeOf(node: Value, setting: FunctionSetting): { readonly x: number; readonly y: number } | null {
  const x = propertyOf(node, 'x', setting);
  const y = propertyOf(node, 'y', setting);
  return typeof x === 'number' && typeof y === 'number' ? { x, y } : null;
}

/** Distance of the centres of two placed components in the plane of one board, mm; null unless both are placed on it. */
function planeDistance(first: Value, second: Value, setting: FunctionSetting): number | null {
  const one = placeOf(first, setting);
  const other = placeOf(second, setting);
  if (!one || !other || !isOnOneBoard(first, second, setting)) return null;
  return Math.hypot(one.x - other.x, one.y - other.y);
}

/** Distance from edge to edge of two placed components in the plane of one board, mm; null unless both are placed on it. */
function planeGap(first: Value, second: Value, setting: FunctionSetting): number | null {
  const one = bodyOf(first, setting);
  const other = bodyOf(second, setting);
  if (!one || !other || !isOnOneBoard(first, second, setting)) return null;
  return gapOfBodies(one, other) ?? null;
}

function bodyOf(node: Value, setting: FunctionSetting): PlacedBody | null {
  const at = placeOf(node, setting);
  if (!at) return null;
  const rotation = propertyOf(node, 'rotation', setting);
  const length = propertyOf(node, 'length', setting);
  const width = propertyOf(node, 'width', setting);
  return {
    at,
    side: propertyOf(node, 'side', setting) === 'bottom' ? 'bottom' : 'top',
    rotation: typeof rotation === 'number' ? rotation : 0,
    ...(typeof length === 'number' && typeof width === 'number' ? { body: { length, width } } : {}),
  };
}

function sameSide(first: Value, second: Value, setting: FunctionSetting): boolean | null {
  const sideA = propertyOf(first, 'side', setting);
  const sideB = propertyOf(second, 'side', setting);
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
    readsLabels: true,
    doc: "Whether a path passes through a node with the label between its two ends, such as CROSSES(p, 'Connector').",
    fn: ([path, label], { elements }) => {
      const inner = (path as PathValue).elements.slice(1, -1).filter((element) => element.kind === 'node');
      return inner.some((node) => elements.hasLabel(node, label as string));
    },
  },
];
