import { Worker } from 'node:worker_threads';
import { CasebackError } from '../model/problems.ts';
import type { ChartDocument } from './chart.ts';
import type { Asked, Drawing, Drawn } from './protocol.ts';

/** Longest time for one drawing, milliseconds. */
const MOST_TIME = 20_000;
/** Pixels of a picture across and down in all. */
const MOST_PIXELS = 40_000_000;

interface Waiting {
  readonly resolve: (drawn: Drawn) => void;
  readonly reject: (error: Error) => void;
  readonly timer: NodeJS.Timeout;
}

/**
 * A thread that draws, so that drawing holds up no answer. It is started by the first drawing, ends a drawing that takes too
 * long by ending itself, and does not keep the process alive.
 */
class Drawer {
  #worker: Worker | undefined;
  readonly #waiting = new Map<number, Waiting>();
  #last = 0;

  draw(drawing: Drawing): Promise<Drawn> {
    const worker = this.#started();
    const number = ++this.#last;
    return new Promise((resolve, reject) => {
      const timer = setTimeout(() => {
        const late = new CasebackError('OUT_OF_BUDGET', `A drawing took longer than ${MOST_TIME / 1000} s`);
        this.#lose(worker, late);
      }, MOST_TIME);
      this.#waiting.set(number, { resolve, reject, timer });
      worker.ref();
      worker.postMessage({ number, drawing } satisfies Asked);
    });
  }

  #started(): Worker {
    if (this.#worker) return this.#worker;
    const worker = new Worker(new URL('./render-worker.ts', import.meta.url));
    worker.unref();
    worker.on('message', (drawn: Drawn) => this.#take(worker, drawn));
    worker.on('error', (error: Error) => this.#lose(worker, error));
    this.#worker = worker;
    return worker;
  }

  #take(worker: Worker, drawn: Drawn): void {
    const waiting = this.#waiting.get(drawn.number);
    if (!waiting) return;
    this.#waiting.delete(drawn.number);
    clearTimeout(waiting.timer);
    if (this.#waiting.size === 0) worker.unref();
    if ('failed' in drawn) waiting.reject(new Error(drawn.failed));
    else waiting.resolve(drawn);
  }

  #lose(worker: Worker, error: Error): void {
    if (this.#worker !== worker) return;
    this.#worker = undefined;
    void worker.terminate();
    for (const { reject, timer } of this.#waiting.values()) {
      clearTimeout(timer);
      reject(error);
    }
    this.#waiting.clear();
  }
}

const drawer = new Drawer();

/**
 * A chart as a standalone SVG; equal documents give equal pictures.
 * @throws CasebackError OUT_OF_BUDGET when it takes too long; Error for a document that Vega-Lite does not take
 */
export async function chartSvg(document: ChartDocument): Promise<string> {
  const drawn = await drawer.draw({ kind: 'chart', document });
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
  const drawn = await drawer.draw({ kind: 'picture', svg, scale });
  return (drawn as { readonly png: Uint8Array }).png;
}

/** Width and height of an SVG of ours, px. */
function sizeOf(svg: string): readonly [number, number] {
  const size = (name: string) => Number(new RegExp(`^<svg[^>]*? ${name}="([\\d.]+)`, 'u').exec(svg)?.[1]);
  const [width, height] = [size('width'), size('height')];
  if (!(width > 0 && height > 0)) throw new Error('an SVG without width and height in px');
  return [width, height];
}
