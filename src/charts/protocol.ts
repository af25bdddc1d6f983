import type { ChartDocument } from './chart.ts';

// What render.ts and its thread say to each other.

/** What the thread is asked to draw. */
export type Drawing =
  | { readonly kind: 'chart'; readonly document: ChartDocument }
  /** An SVG of ours as PNG. */
  | { readonly kind: 'picture'; readonly svg: string; readonly scale: number };

export type Drawn = { readonly svg: string } | { readonly png: Uint8Array };
