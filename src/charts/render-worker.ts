import { createRequire } from 'node:module';
import { parentPort } from 'node:worker_threads';
import { Resvg } from '@resvg/resvg-js';
import { type Loader, parse, View } from 'vega';
import { expressionInterpreter } from 'vega-interpreter';
import { compile, type TopLevelSpec } from 'vega-lite';
import type { ChartDocument } from './chart.ts';
import { FACE } from './house-style.ts';
import type { Asked, Drawn } from './protocol.ts';

// Runs in a thread of its own (render.ts). Expressions are interpreted, never compiled to code, and nothing is loaded: the
// default loader of Vega reads files of this machine.

const refuse = () => Promise.reject(new Error('charts load nothing; their data stand inside them'));
const LOADER: Loader = { load: refuse, sanitize: refuse, http: refuse, file: refuse };

const require = createRequire(import.meta.url);
const FONT_FILES = [
  'DejaVuSans.ttf',
  'DejaVuSans-Bold.ttf',
  'DejaVuSans-Oblique.ttf',
  'DejaVuSansMono.ttf',
].map((file) => require.resolve(`dejavu-fonts-ttf/ttf/${file}`));

async function svgOf(document: ChartDocument): Promise<string> {
  const { spec } = compile(document as unknown as TopLevelSpec);
  const view = new View(parse(spec, undefined, { ast: true }), {
    expr: expressionInterpreter,
    loader: LOADER,
    renderer: 'none',
  });
  try {
    return await view.toSVG();
  } finally {
    view.finalize();
  }
}

function pngOf(svg: string, scale: number): Uint8Array {
  const font = { fontFiles: FONT_FILES, loadSystemFonts: false, defaultFontFamily: FACE };
  return new Resvg(svg, { font, fitTo: { mode: 'zoom', value: scale } }).render().asPng();
}

async function drawn({ number, drawing }: Asked): Promise<Drawn> {
  try {
    if (drawing.kind === 'chart') return { number, svg: await svgOf(drawing.document) };
    return { number, png: pngOf(drawing.svg, drawing.scale) };
  } catch (error) {
    return { number, failed: (error as Error).message };
  }
}

parentPort?.on('message', async (asked: Asked) => parentPort?.postMessage(await drawn(asked)));
