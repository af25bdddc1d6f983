import type { ElkExtendedEdge, ElkNode } from 'elkjs/lib/elk-api.js';
import { ASCENT, textWidth } from '../lettering.ts';
import { arrowHead, type Box, type Ink, type Shape, type Spot, type Stroke } from '../shapes.ts';
import type { Blocks } from './blocks.ts';
import { blockText, type GraphOptions, INSET, LINE, labelText, TEXT, titleText, UNITS } from './graph.ts';
import type { Wire } from './wires.ts';

// A diagram that has been laid out, as shapes.

/** What is picked in a diagram, by local ids, each with its colour. */
export type Picked = ReadonlyMap<string, Ink>;

/** Pen of a wire. */
export function strokeOf({ kind, isConcluded }: Pick<Wire, 'kind' | 'isConcluded'>, picked?: Ink): Stroke {
  const width = { supply: 0.45, signal: 0.2, mated: 0.8 }[kind];
  const ink = picked ?? (kind === 'mated' ? 'pale' : 'ink');
  return { ink, width: picked ? width + 0.25 : width, ...(isConcluded ? { doubt: 'likely' } : {}) };
}

/**
 * Draws a diagram.
 * @param placed the graph with places, as ELK gives it
 * @param at left upper corner on the sheet
 * @param direction of the layers, as the graph was made with
 */
export function drawDiagram(
  { blocks, groups, wires: { bars, wires } }: Blocks,
  placed: ElkNode,
  [left, top]: Spot,
  direction: GraphOptions['direction'],
  picked: Picked,
): readonly Shape[] {
  const boxes = boxesOf(placed);
  const onSheet = ({ x, y }: { readonly x: number; readonly y: number }): Spot => [
    left + x / UNITS,
    top + y / UNITS,
  ];
  const boxOf = (id: string): Box => {
    const node = boxes.get(id);
    if (!node) throw new Error(`${id} was not laid out`);
    const { x = 0, y = 0, width = 0, height = 0 } = node;
    const [l, t] = onSheet({ x, y });
    return { left: l, top: t, right: l + width / UNITS, bottom: t + height / UNITS };
  };
  const shapes: Shape[] = [];
  const lettering: Shape[] = [];

  for (const { id, of, kind } of groups)
    shapes.push({
      kind: 'area',
      of,
      rings: [cornersOf(boxOf(id))],
      fill: { ink: kind === 'board' ? 'paper' : 'board' },
      stroke: kind === 'board' ? { ink: 'ink', width: 0.35 } : { ink: 'faint', width: 0.15 },
    });

  const edges = new Map((placed.edges ?? []).map((edge) => [edge.id, edge]));
  for (const [i, wire] of wires.entries()) {
    const edge = edges.get(`w${i}`);
    const points = edge ? pointsOf(edge).map(onSheet) : [];
    if (!edge || points.length < 2)
      throw new Error(`the line from ${wire.from} to ${wire.to} was not laid out`);
    const ink = wire.of.map((id) => picked.get(id)).find((one) => one !== undefined);
    const stroke = strokeOf(wire, ink);
    const of = wire.of.length > 0 ? wire.of.join(' ') : `${wire.from}~${wire.to}`;
    shapes.push({ kind: 'line', of, points, stroke });
    if (wire.arrow !== 'none')
      shapes.push(arrowHead(points[points.length - 1], points[points.length - 2], stroke.ink));
    if (wire.arrow === 'both') shapes.push(arrowHead(points[0], points[1], stroke.ink));
    for (const label of edge.labels ?? []) {
      const { x = 0, y = 0, width = 0, height = 0 } = label;
      const [l, t] = onSheet({ x, y });
      const box = { left: l, top: t, right: l + width / UNITS, bottom: t + height / UNITS };
      lettering.push({ kind: 'area', rings: [cornersOf(box)], fill: { ink: 'paper' } });
      lettering.push(...centred(labelText(wire.label).lines, box, of, ink));
    }
  }

  for (const { id, nets, kind, label } of bars) {
    const box = boxOf(id);
    const ink = nets.map((net) => picked.get(net)).find((one) => one !== undefined);
    const of = nets.join(' ');
    const pen = (kind === 'supply' ? 0.45 : 0.2) + (ink ? 0.25 : 0);
    shapes.push({
      kind: 'area',
      of,
      rings: [cornersOf(box)],
      fill: { ink: kind === 'supply' ? 'body' : 'paper' },
      stroke: { ink: ink ?? 'ink', width: pen },
    });
    lettering.push(...centred(labelText(label).lines, box, of, ink));
  }
  for (const block of blocks) {
    const box = boxOf(block.id);
    const ink = picked.get(block.id);
    shapes.push({
      kind: 'area',
      of: block.id,
      rings: [cornersOf(box)],
      fill: { ink: 'paper' },
      stroke: {
        ink: ink ?? 'ink',
        width: ink ? 0.55 : 0.25,
        ...(block.doubt === 'certain' ? {} : { doubt: block.doubt }),
      },
    });
    for (const [i, text] of blockText(block).lines.entries())
      lettering.push({
        kind: 'text',
        of: block.id,
        at: [box.left + INSET, box.top + INSET + ASCENT * TEXT + i * LINE],
        text,
        size: TEXT,
        ...(i === 0 ? { isBold: true } : {}),
      });
  }
  for (const { id, of, title } of groups) {
    const box = boxOf(id);
    for (const [i, text] of titleText(title, direction).lines.entries())
      lettering.push({
        kind: 'text',
        of,
        at: [box.left + INSET, box.top + INSET + ASCENT * TEXT + i * LINE],
        text,
        size: TEXT,
        isBold: true,
      });
  }
  return [...shapes, ...lettering];
}

function centred(lines: readonly string[], box: Box, of: string, ink: Ink | undefined): readonly Shape[] {
  const height = (lines.length - 1) * LINE + TEXT;
  const first = (box.top + box.bottom - height) / 2 + ASCENT * TEXT;
  return lines.map((text, i) => ({
    kind: 'text',
    of,
    at: [(box.left + box.right - textWidth(text, TEXT)) / 2, first + i * LINE],
    text,
    size: TEXT,
    ...(ink ? { ink } : {}),
  }));
}

function boxesOf(root: ElkNode): ReadonlyMap<string, ElkNode> {
  const found = new Map<string, ElkNode>();
  const nodes = [...(root.children ?? [])];
  for (const node of nodes) {
    found.set(node.id, node);
    nodes.push(...(node.children ?? []));
  }
  return found;
}

function pointsOf({ sections = [] }: ElkExtendedEdge) {
  return sections.flatMap(({ startPoint, bendPoints = [], endPoint }) => [
    startPoint,
    ...bendPoints,
    endPoint,
  ]);
}

function cornersOf({ left, top, right, bottom }: Box): readonly Spot[] {
  return [
    [left, top],
    [right, top],
    [right, bottom],
    [left, bottom],
  ];
}
