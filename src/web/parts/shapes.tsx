import type { VNode } from 'preact';
import type { Spot } from './spatial.ts';

// Drawings as the API gives them: lists of shapes, lengths in mm of the sheet. Colours are those of the page, so they follow its theme.

interface Stroke {
  readonly ink: string;
  readonly width: number;
  readonly doubt?: 'certain' | 'likely' | 'unknown';
}

interface Fill {
  readonly ink: string;
  readonly hatch?: number;
}

export type Shape = { readonly of?: string } & (
  | {
      readonly kind: 'area';
      readonly rings: readonly (readonly Spot[])[];
      readonly fill?: Fill;
      readonly stroke?: Stroke;
    }
  | { readonly kind: 'line'; readonly points: readonly Spot[]; readonly stroke: Stroke }
  | {
      readonly kind: 'disc';
      readonly at: Spot;
      readonly radius: number;
      readonly fill?: Fill;
      readonly stroke?: Stroke;
    }
  | {
      readonly kind: 'text';
      readonly at: Spot;
      readonly text: string;
      readonly size: number;
      readonly isBold?: boolean;
      readonly ink?: string;
      readonly rim?: number;
    }
);

export interface Hatch {
  readonly number: number;
  readonly tile: number;
  readonly turn: number;
  readonly marks: 'LINES' | 'GRID' | 'DOTS';
  readonly pen: number;
}

/** One shape as an element of SVG. @param hatches beginning of the ids of the hatches of this drawing */
export function ShapeElement({ shape, hatches }: { readonly shape: Shape; readonly hatches: string }): VNode {
  switch (shape.kind) {
    case 'area': {
      const d = shape.rings.map((ring) => `M${path(ring)}Z`).join('');
      const { hatch } = shape.fill ?? {};
      return (
        <>
          <path d={d} fill-rule="evenodd" class={inks(shape.fill, shape.stroke)} {...pen(shape.stroke)} />
          {hatch !== undefined && <path d={d} fill-rule="evenodd" fill={`url(#${hatches}-${hatch})`} />}
        </>
      );
    }
    case 'line':
      return (
        <path d={`M${path(shape.points)}`} class={inks(undefined, shape.stroke)} {...pen(shape.stroke)} />
      );
    case 'disc':
      return (
        <circle
          cx={shape.at[0]}
          cy={shape.at[1]}
          r={shape.radius}
          class={inks(shape.fill, shape.stroke)}
          {...pen(shape.stroke)}
        />
      );
    case 'text':
      return (
        <text
          x={shape.at[0]}
          y={shape.at[1]}
          font-size={shape.size}
          class={`fill-${shape.ink ?? 'ink'}${shape.isBold ? ' bold' : ''}${shape.rim === undefined ? '' : ' rimmed'}`}
          {...(shape.rim === undefined ? {} : { 'stroke-width': shape.rim })}
        >
          {shape.text}
        </text>
      );
    default:
      return shape satisfies never;
  }
}

/** The hatches that shapes name. @param of beginning of their ids */
export function HatchPatterns({
  hatches,
  of,
}: {
  readonly hatches: readonly Hatch[];
  readonly of: string;
}): VNode {
  return (
    <defs>
      {hatches.map(({ number, tile, turn, marks, pen: width }) => (
        <pattern
          key={number}
          id={`${of}-${number}`}
          width={tile}
          height={tile}
          patternUnits="userSpaceOnUse"
          patternTransform={`rotate(${turn})`}
        >
          {marks === 'DOTS' ? (
            <circle cx={tile / 2} cy={tile / 2} r={width / 2} class="fill-hatch" />
          ) : (
            <path d={`M0 ${tile / 2}H${tile}`} class="fill-none stroke-hatch" stroke-width={width} />
          )}
          {marks === 'GRID' && (
            <path d={`M${tile / 2} 0V${tile}`} class="fill-none stroke-hatch" stroke-width={width} />
          )}
        </pattern>
      ))}
    </defs>
  );
}

const inks = (fill?: Fill, stroke?: Stroke) =>
  `fill-${fill?.ink ?? 'none'}${stroke ? ` stroke-${stroke.ink}` : ''}`;

function pen(stroke: Stroke | undefined) {
  if (!stroke) return {};
  const { width, doubt = 'certain' } = stroke;
  if (doubt === 'certain') return { 'stroke-width': width };
  if (doubt === 'likely') return { 'stroke-width': width, 'stroke-dasharray': '1.1 0.6' };
  // Dots need a broader pen to be seen beside lines.
  return {
    'stroke-width': Math.max(width, 0.28),
    'stroke-dasharray': '0.01 0.55',
    'stroke-linecap': 'round',
  } as const;
}

const path = (points: readonly Spot[]) => points.map(([x, y]) => `${short(x)} ${short(y)}`).join('L');
const short = (length: number) => Math.round(length * 1000) / 1000;
