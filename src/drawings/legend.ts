import { ASCENT, SIZES, shortened, textWidth } from './lettering.ts';
import { arrowHead, type Doubt, type Ink, type Shape, type Spot, type Stroke } from './shapes.ts';

/** One line of a legend: a small picture and what it means. */
export interface LegendEntry {
  readonly swatch: Swatch;
  readonly text: string;
}

export type Swatch =
  | {
      readonly kind: 'box';
      readonly ink?: Ink;
      readonly hatch?: number;
      readonly doubt?: Doubt;
      readonly pen?: number;
      readonly fill?: Ink;
      readonly isStruck?: boolean;
    }
  | { readonly kind: 'cross' }
  | { readonly kind: 'dot' }
  | { readonly kind: 'net'; readonly ink: Ink }
  | { readonly kind: 'ring'; readonly ink: Ink }
  /** A line, and whether its end is an arrow. */
  | { readonly kind: 'line'; readonly stroke: Stroke; readonly hasArrow?: boolean };

const [WIDE, HIGH] = [7, 3.2];
const LINE = 4.3;

/** Entries set in columns, from left to right. */
export function legend(
  entries: readonly LegendEntry[],
  [left, top]: Spot,
  width: number,
): { readonly shapes: readonly Shape[]; readonly height: number } {
  const size = SIZES.note;
  const widest = Math.max(0, ...entries.map(({ text }) => textWidth(text, size))) + WIDE + 4;
  const columns = Math.max(1, Math.min(entries.length, Math.floor(width / Math.min(widest, width))));
  const rows = Math.ceil(entries.length / columns);
  const shapes = entries.flatMap(({ swatch, text }, i): readonly Shape[] => {
    const [x, y] = [left + (Math.floor(i / rows) * width) / columns, top + (i % rows) * LINE];
    const shown = shortened(text, width / columns - WIDE - 3, size);
    return [
      ...drawn(swatch, x, y),
      { kind: 'text', at: [x + WIDE + 1.5, y + HIGH / 2 + (ASCENT / 2) * size - 0.05], text: shown, size },
    ];
  });
  return { shapes, height: rows * LINE };
}

function drawn(swatch: Swatch, x: number, y: number): readonly Shape[] {
  const [middleX, middleY] = [x + WIDE / 2, y + HIGH / 2];
  const across: readonly Spot[] = [
    [x, middleY],
    [x + WIDE, middleY],
  ];
  switch (swatch.kind) {
    case 'box': {
      const { ink = 'ink', hatch, doubt, pen = 0.2, fill = 'paper', isStruck } = swatch;
      const ring: readonly Spot[] = [
        [x, y],
        [x + WIDE, y],
        [x + WIDE, y + HIGH],
        [x, y + HIGH],
      ];
      return [
        {
          kind: 'area',
          rings: [ring],
          fill: { ink: fill, ...(hatch === undefined ? {} : { hatch }) },
          stroke: { ink, width: pen, ...(doubt ? { doubt } : {}) },
        },
        ...(isStruck
          ? [{ kind: 'line' as const, points: [ring[0], ring[2]], stroke: { ink, width: 0.12 } }]
          : []),
      ];
    }
    case 'cross':
      return [
        {
          kind: 'line',
          points: [
            [middleX - 0.7, middleY],
            [middleX + 0.7, middleY],
          ],
          stroke: { ink: 'ink', width: 0.2 },
        },
        {
          kind: 'line',
          points: [
            [middleX, middleY - 0.7],
            [middleX, middleY + 0.7],
          ],
          stroke: { ink: 'ink', width: 0.2 },
        },
      ];
    case 'dot':
      return [{ kind: 'disc', at: [middleX, middleY], radius: 0.3, fill: { ink: 'ink' } }];
    case 'net':
      return [
        { kind: 'line', points: across, stroke: { ink: swatch.ink, width: 0.35 } },
        ...across.map((at): Shape => ({ kind: 'disc', at, radius: 0.5, fill: { ink: swatch.ink } })),
      ];
    case 'ring':
      return [
        {
          kind: 'disc',
          at: [middleX, middleY],
          radius: 0.5,
          fill: { ink: 'paper' },
          stroke: { ink: swatch.ink, width: 0.25 },
        },
      ];
    case 'line':
      return [
        { kind: 'line', points: across, stroke: swatch.stroke },
        ...(swatch.hasArrow ? [arrowHead(across[1], across[0], swatch.stroke.ink)] : []),
      ];
    default:
      return swatch satisfies never;
  }
}
