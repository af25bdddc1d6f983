import { parentPort } from 'node:worker_threads';
import { Resvg } from '@resvg/resvg-js';
import * as vega from 'vega';
import { expressionInterpreter } from 'vega-interpreter';
import { compile, type TopLevelSpec } from 'vega-lite';
import { FONT_FILES } from '../text/face.ts';
import type { ChartDocument } from './chart.ts';
import { FACE } from './house-style.ts';
import type { Drawing, Drawn } from './protocol.ts';
import type { Answered, Asked } from './task-thread.ts';
import { widthOf } from './text-width.ts';

// Runs in a thread of its own (render.ts). Expressions are interpreted, never compiled to code, and nothing is loaded: the
// default loader of Vega reads files of this machine.

const refuse = () => Promise.reject(new Error('charts load nothing; their data stand inside them'));
const LOADER: vega.Loader = { load: refuse, sanitize: refuse, http: refuse, file: refuse };

interface TextItem {
  readonly fontSize?: number;
  readonly fontWeight?: string;
}
// Exported for this use, but missing in the package's types.
const { textMetrics } = vega as unknown as {
  readonly textMetrics: { width: (item: TextItem, text: unknown) => number };
};
textMetrics.width = ({ fontSize = 11, fontWeight }, text) =>
  widthOf(String(text ?? ''), fontSize, fontWeight === 'bold');

async function svgOf(document: ChartDocument): Promise<string> {
  const { spec } = compile(document as unknown as TopLevelSpec);
  const view = new vega.View(vega.parse(spec, undefined, { ast: true }), {
    expr: expressionInterpreter,
    loader: LOADER,
    renderer: 'none',
  });
  try {
    return spoken(await view.toSVG(), document);
  } finally {
    view.finalize();
  }
}

/** The SVG with name and description for who cannot see it (SVG 2, 5.8), and without what XML 1.0, 2.2 does not allow. */
function spoken(svg: string, { description, title }: ChartDocument): string {
  const name = [(title as { readonly text?: string | readonly string[] } | undefined)?.text ?? '']
    .flat()
    .join(' ');
  const open = svg.indexOf('>') + 1;
  const head = svg.slice(0, open - 1);
  const words = `<title>${escaped(name)}</title><desc>${escaped(String(description ?? ''))}</desc>`;
  return `${head} role="img">${words}${svg.slice(open)}`.replace(NOT_IN_XML, '\u{FFFD}');
}

const NOT_IN_XML = /[^\t\n\r\u{20}-\u{D7FF}\u{E000}-\u{FFFD}\u{10000}-\u{10FFFF}]/gu;

function escaped(text: string): string {
  return text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');
}

function pngOf(svg: string, scale: number): Uint8Array {
  const font = { fontFiles: [...FONT_FILES], loadSystemFonts: false, defaultFontFamily: FACE };
  return new Resvg(svg, { font, fitTo: { mode: 'zoom', value: scale } }).render().asPng();
}

async function drawn({ number, task }: Asked<Drawing>): Promise<Answered<Drawn>> {
  try {
    if (task.kind === 'chart') return { number, result: { svg: await svgOf(task.document) } };
    return { number, result: { png: pngOf(task.svg, task.scale) } };
  } catch (error) {
    return { number, failed: (error as Error).message };
  }
}

parentPort?.on('message', async (asked: Asked<Drawing>) => parentPort?.postMessage(await drawn(asked)));
