import type { ElkExtendedEdge, ElkNode } from 'elkjs/lib/elk-api.js';
import { ASCENT, DESCENT, SIZES, textWidth, wrapped } from '../lettering.ts';
import type { Block, Blocks } from './blocks.ts';

// A diagram as a graph for ELK, with the room that its texts need. ELK rounds to whole units in places, hence units finer than mm.

/** Units of a graph in a millimetre. */
export const UNITS = 20;

/** Size of texts, mm. */
export const TEXT = SIZES.label;
/** From base line to base line, mm. */
export const LINE = TEXT * 1.2;
/** Room between the edge of a box and its text, mm. */
export const INSET = 1.1;
/** Room above the content of a group for a title of one line, mm. */
const TITLE = 4.4;
/** Room around the content of a group, mm. */
const PADDING = 2;

/** Lines of text in a box, the first bold, and its size, mm. */
export interface Lettered {
  readonly lines: readonly string[];
  readonly width: number;
  readonly height: number;
}

/** Text of a box. */
export function blockText({ designator, kind, part }: Block): Lettered {
  const lines = [
    designator,
    ...wrapped(kind, WIDEST, TEXT),
    ...(part === undefined ? [] : wrapped(part, WIDEST, TEXT)),
  ];
  const width = Math.max(...lines.map((line, i) => textWidth(line, TEXT, i === 0)));
  return { lines, width: Math.max(width + 2 * INSET, 9), height: heightOf(lines.length) + 2 * INSET };
}

/** Widest line in the label of a bar or wire, mm. */
const WIDEST_LABEL = 30;

/** Title of a group: in one line above its content, or in narrow ones to its left. */
export function titleText(title: string, direction: GraphOptions['direction']): Lettered {
  const words = direction === 'DOWN' ? title.split(/\s+/u) : [title];
  const widest = Math.max(...words.map((word) => textWidth(word, TEXT, true)));
  const lines = direction === 'DOWN' ? wrapped(title, Math.min(widest, WIDEST_TITLE), TEXT) : [title];
  const width = Math.max(...lines.map((line) => textWidth(line, TEXT, true)));
  return { lines, width, height: heightOf(lines.length) };
}

/** Widest title beside the content of a group, mm. */
const WIDEST_TITLE = 16;

const padding = ({ top, left }: { readonly top: number; readonly left: number }) =>
  `[top=${top * UNITS},left=${left * UNITS},bottom=${PADDING * UNITS},right=${PADDING * UNITS}]`;

/** Text of a bar or of a wire's label. */
export function labelText(label: readonly string[]): Lettered {
  const lines = label.flatMap((line) => wrapped(line, WIDEST_LABEL, TEXT));
  const width = Math.max(0, ...lines.map((line) => textWidth(line, TEXT)));
  return { lines, width, height: heightOf(lines.length) };
}

const heightOf = (lines: number) => (lines - 1) * LINE + (ASCENT + DESCENT) * TEXT;

const OPTIONS = {
  'elk.algorithm': 'layered',
  'elk.hierarchyHandling': 'INCLUDE_CHILDREN',
  'elk.edgeRouting': 'ORTHOGONAL',
  'elk.randomSeed': '1',
  'elk.json.shapeCoords': 'ROOT',
  'elk.json.edgeCoords': 'ROOT',
  'elk.layered.nodePlacement.strategy': 'NETWORK_SIMPLEX',
} as const;

/** Spacings that hold inside every group, mm. */
const SPACING = {
  'elk.spacing.nodeNode': 2,
  'elk.spacing.edgeNode': 1.2,
  'elk.spacing.edgeEdge': 1.1,
  'elk.spacing.edgeLabel': 0.3,
  'elk.layered.spacing.nodeNodeBetweenLayers': 2.4,
  'elk.layered.spacing.edgeNodeBetweenLayers': 1.4,
  'elk.layered.spacing.edgeEdgeBetweenLayers': 1.1,
} as const;

/** Widest text in a box, mm: `microcontroller` and most part numbers fit. */
const WIDEST = 19;

export interface GraphOptions {
  readonly direction: 'RIGHT' | 'DOWN';
  /** Whether crystals, antennas, buttons and connectors come before what they lead to, else after. */
  readonly inletsFirst: boolean;
}

/** What the thread of layouts is asked. */
export interface LayoutTask {
  /** The same graph with other options, in the order of preference. */
  readonly graphs: readonly ElkNode[];
  /** What it should fit, in units of the graphs. */
  readonly width: number;
  readonly height: number;
}

/** A graph with places on the whole sheet of it, and which of those asked it is. */
export interface LaidOut {
  readonly placed: ElkNode;
  readonly at: number;
}

/** The graph of a diagram; ids are those of its blocks, bars and groups, and `w0`, `w1` … for wires in their order. */
export function graphOf(
  { blocks, groups, wires: { bars, wires } }: Blocks,
  { direction, inletsFirst }: GraphOptions,
): ElkNode {
  const spacing = Object.fromEntries(Object.entries(SPACING).map(([key, mm]) => [key, String(mm * UNITS)]));
  const direct = { 'elk.direction': direction };
  const children = new Map<string | undefined, ElkNode[]>();
  const add = (parent: string | undefined, node: ElkNode) => {
    const list = children.get(parent);
    if (list) list.push(node);
    else children.set(parent, [node]);
  };
  for (const block of blocks) {
    const { width, height } = blockText(block);
    add(block.group, { id: block.id, width: width * UNITS, height: height * UNITS });
  }
  const groupOf = new Map<string, string | undefined>(blocks.map(({ id, group }) => [id, group]));
  const parentOf = new Map(groups.map(({ id, parent }) => [id, parent]));
  for (const bar of bars) {
    const { width, height } = labelText(bar.label);
    const members = wires.flatMap(({ from, to }) => (from === bar.id ? [to] : to === bar.id ? [from] : []));
    const parent = members.map((id) => groupOf.get(id)).reduce((a, b) => common(a, b, parentOf));
    add(parent, { id: bar.id, width: (width + 1.6) * UNITS, height: (height + 0.8) * UNITS });
  }
  // Inner groups first, so that what they hold is there; a group's own id sorts after that of its board.
  for (const { id, title, parent } of [...groups].reverse()) {
    const { width, height } = titleText(title, direction);
    // No line runs beside the content: with lines from above the title stands to its left.
    const [top, left] = direction === 'DOWN' ? [PADDING, width + 2 * INSET] : [TITLE, PADDING];
    add(parent, {
      id,
      children: children.get(id) ?? [],
      layoutOptions: {
        ...spacing,
        ...direct,
        'elk.padding': padding({ top, left }),
        'elk.nodeSize.constraints': 'MINIMUM_SIZE',
        'elk.nodeSize.minimum': `(${(width + 2 * INSET) * UNITS},${(height + 2 * INSET) * UNITS})`,
      },
    });
  }
  const inlets = new Set(inletsFirst ? blocks.flatMap(({ id, isInlet }) => (isInlet ? [id] : [])) : []);
  const edges = wires.map(({ kind, from, to, label }, i): ElkExtendedEdge => {
    const isTurned = kind === 'signal' && inlets.has(to) && !inlets.has(from);
    const text = label.length === 0 ? undefined : labelText(label);
    return {
      id: `w${i}`,
      sources: [isTurned ? to : from],
      targets: [isTurned ? from : to],
      ...(text
        ? {
            labels: [
              {
                id: `l${i}`,
                // Labels without a text are given no place.
                text: label.join('\n'),
                width: (text.width + 0.8) * UNITS,
                height: (text.height + 0.3) * UNITS,
                layoutOptions: { 'elk.edgeLabels.inline': 'true', 'elk.edgeLabels.placement': 'CENTER' },
              },
            ],
          }
        : {}),
    };
  });
  return {
    id: 'diagram',
    layoutOptions: { ...OPTIONS, ...spacing, ...direct, 'elk.padding': '[top=0,left=0,bottom=0,right=0]' },
    children: children.get(undefined) ?? [],
    edges,
  };
}

/** The group that holds two groups; undefined for the diagram itself. */
function common(
  a: string | undefined,
  b: string | undefined,
  parentOf: ReadonlyMap<string, string | undefined>,
): string | undefined {
  const above = new Set<string>();
  for (let at = a; at !== undefined; at = parentOf.get(at)) above.add(at);
  for (let at = b; at !== undefined; at = parentOf.get(at)) if (above.has(at)) return at;
  return undefined;
}
