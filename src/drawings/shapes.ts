// A drawing as a plain list of shapes. Whoever writes it out (`svg.ts`, a page) adds nothing and leaves nothing out. All lengths
// are millimetres of the sheet: x to the right, y down.

/** A point of the sheet, mm. */
export type Spot = readonly [x: number, y: number];

/** Which pen or colour; the writer decides what it looks like. Picked colours are `picked-0` to `picked-5`. */
export type Ink = 'ink' | 'faint' | 'pale' | 'paper' | 'board' | 'body' | `picked-${number}`;

/** Solid for certain, dashed for likely, dotted for unknown. */
export type Doubt = 'certain' | 'likely' | 'unknown';

export interface Stroke {
  readonly ink: Ink;
  /** mm. */
  readonly width: number;
  /** Certain when left out. */
  readonly doubt?: Doubt;
}

export interface Fill {
  /** Nothing but the hatch when left out. */
  readonly ink?: Ink;
  /** Number of a hatch drawn over it, see `hatches.ts`. */
  readonly hatch?: number;
}

interface Named {
  /** Id of what it stands for, local to its specimen; left out for what only helps reading. */
  readonly of?: string;
}

export type Shape =
  | (Named & {
      readonly kind: 'area';
      /** Closed rings; where one lies inside another it is cut out (even-odd rule). */
      readonly rings: readonly (readonly Spot[])[];
      readonly fill?: Fill;
      readonly stroke?: Stroke;
    })
  | (Named & { readonly kind: 'line'; readonly points: readonly Spot[]; readonly stroke: Stroke })
  | (Named & {
      readonly kind: 'disc';
      readonly at: Spot;
      readonly radius: number;
      readonly fill?: Fill;
      readonly stroke?: Stroke;
    })
  | (Named & {
      readonly kind: 'text';
      /** Left end of the base line. */
      readonly at: Spot;
      readonly text: string;
      /** Size of the face, mm. */
      readonly size: number;
      readonly isBold?: boolean;
      readonly ink?: Ink;
      /** Width of a rim of paper around the letters, mm, that keeps them readable on hatching. */
      readonly rim?: number;
    })
  | (Named & {
      readonly kind: 'picture';
      /** Left upper corner. */
      readonly at: Spot;
      /** mm. */
      readonly width: number;
      readonly height: number;
      /** Address of the picture, or the picture itself as a `data:` address. */
      readonly href: string;
      /** 0 to 1. */
      readonly strength: number;
    });

/** Shapes on a sheet, with the words that say the same. */
export interface Sheet {
  readonly title: string;
  /** What it shows for who cannot see it. */
  readonly description: string;
  /** mm. */
  readonly width: number;
  readonly height: number;
  readonly shapes: readonly Shape[];
}

/** A drawing as others get it. */
export interface Drawing {
  readonly title: string;
  readonly description: string;
  readonly svg: string;
}

/** A box along the axes of the sheet, mm. */
export interface Box {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** The smallest box around some points. */
export function boxAround(points: Iterable<Spot>): Box {
  let [left, top, right, bottom] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const [x, y] of points) {
    left = Math.min(left, x);
    right = Math.max(right, x);
    top = Math.min(top, y);
    bottom = Math.max(bottom, y);
  }
  return { left, top, right, bottom };
}

/** A box with a rim around it. */
export function widened({ left, top, right, bottom }: Box, by: number): Box {
  return { left: left - by, top: top - by, right: right + by, bottom: bottom + by };
}

/** Length of arrow heads, mm; they are two thirds as wide. */
export const ARROW = 1.5;

/** The head of an arrow that ends at a spot and comes from another. */
export function arrowHead([x, y]: Spot, [fromX, fromY]: Spot, ink: Ink): Shape {
  const way = Math.hypot(x - fromX, y - fromY) || 1;
  const [dx, dy] = [((x - fromX) / way) * ARROW, ((y - fromY) / way) * ARROW];
  const [baseX, baseY] = [x - dx, y - dy];
  return {
    kind: 'area',
    rings: [
      [
        [x, y],
        [baseX - dy / 3, baseY + dx / 3],
        [baseX + dy / 3, baseY - dx / 3],
      ],
    ],
    fill: { ink },
  };
}
