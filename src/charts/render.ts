import { Worker } from 'node:worker_threads';
import { CasebackError } from '../model/problems.ts';
import type { ChartDocument } from './chart.ts';
import type { Drawing, Drawn } from './protocol.ts';
import { TaskThread } from './task-thread.ts';

/** Pixels of a picture across and down in all. */
const MOST_PIXELS = 40_000_000;

const drawer = new TaskThread<Drawing, Drawn>(
  () => new Worker(new URL('./render-worker.ts', import.meta.url)),
  { what: 'drawing', mostTime: 20_000, mostWaiting: 64 },
);

/**
 * A chart as a standalone SVG; equal documents give equal pictures.
 * @throws CasebackError OUT_OF_BUDGET when it takes too long, UNAVAILABLE when too many wait; Error for a document that Vega-Lite does not take
 */
export async function chartSvg(document: ChartDocument): Promise<string> {
  const drawn = await drawer.do({ kind: 'chart', document });
  return (drawn as { readonly svg: string }).svg;
}

/**
 * An SVG of ours as PNG, with the faces of the house alone.
 * @param dpi dots an inch when it is set at its own size, 48 to 600
 * @throws CasebackError BAD_INPUT for another density; OUT_OF_BUDGET for a picture of too many pixels, or when it takes too long
 */
export async function pngOf(svg: string, dpi = 192): Promise<Uint8Array> {
  if (!(dpi >= 48 && dpi <= 600))
    throw new CasebackError('BAD_INPUT', `dpi is ${dpi}; it must be 48 to 600 dots an inch`);
  const [width, height] = sizeOf(svg);
  const scale = dpi / 96;
  if (width * height * scale ** 2 > MOST_PIXELS)
    throw new CasebackError(
      'OUT_OF_BUDGET',
      `The picture would have ${Math.round((width * height * scale ** 2) / 1e6)} million pixels; at most ${MOST_PIXELS / 1e6} million. Ask for fewer dots an inch.`,
    );
  const drawn = await drawer.do({ kind: 'picture', svg, scale });
  return (drawn as { readonly png: Uint8Array }).png;
}

/** Width and height of an SVG of ours, px; CSS has 96 of them in an inch. */
function sizeOf(svg: string): readonly [number, number] {
  const size = (name: string) => {
    const [, length, unit] = new RegExp(`^<svg[^>]*? ${name}="([\\d.]+)(mm)?"`, 'u').exec(svg) ?? [];
    return unit === 'mm' ? (Number(length) / 25.4) * 96 : Number(length);
  };
  const [width, height] = [size('width'), size('height')];
  if (!(width > 0 && height > 0)) throw new Error('an SVG without width and height in px or mm');
  return [width, height];
}
