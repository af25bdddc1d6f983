import type { ChartDocument } from './chart.ts';

// What render.ts and its thread say to each other.

/** What the thread is asked to draw. */
export type Drawing =
  | { readonly kind: 'chart'; readonly document: ChartDocument }
  /** An SVG of ours as PNG. */
  | { readonly kind: 'picture'; readonly svg: string; readonly scale: number };

export interface Asked {
  readonly number: number;
  readonly drawing: Drawing;
}

export type Drawn =
  | { readonly number: number; readonly svg: string }
  | { readonly number: number; readonly png: Uint8Array }
  | { readonly number: number; readonly failed: string };
