import { Worker } from 'node:worker_threads';
import { CasebackError } from '../model/problems.ts';
import type { ChartDocument } from './chart.ts';
import type { Asked, Drawing, Drawn } from './protocol.ts';

/** Longest time for one drawing, milliseconds. */
const MOST_TIME = 20_000;
/** Pixels of a picture across and down in all. */
const MOST_PIXELS = 40_000_000;

/** Drawings that may wait. */
const MOST_WAITING = 64;

interface Waiting {
  readonly drawing: Drawing;
  readonly resolve: (drawn: Drawn) => void;
  readonly reject: (error: Error) => void;
}

interface Current extends Waiting {
  readonly number: number;
  readonly timer: NodeJS.Timeout;
}

/**
 * A thread that draws one after the other, so that drawing holds up no answer. It is started by the first drawing and does not
 * keep the process alive. A drawing that takes too long, or breaks the thread, ends with it; the next is drawn in a new one.
 */
class Drawer {
  #worker: Worker | undefined;
  #current: Current | undefined;
  readonly #waiting: Waiting[] = [];
  #last = 0;

  draw(drawing: Drawing): Promise<Drawn> {
    if (this.#waiting.length >= MOST_WAITING)
      return Promise.reject(
        new CasebackError('UNAVAILABLE', `${MOST_WAITING} drawings wait already; ask again soon`),
      );
    return new Promise((resolve, reject) => {
      this.#waiting.push({ drawing, resolve, reject });
      this.#next();
    });
  }

  #next(): void {
    if (this.#current) return;
    const waiting = this.#waiting.shift();
    if (!waiting) {
      this.#worker?.unref();
      return;
    }
    const worker = this.#started();
    const number = ++this.#last;
    const timer = setTimeout(() => {
      const late = new CasebackError('OUT_OF_BUDGET', `A drawing took longer than ${MOST_TIME / 1000} s`);
      this.#lose(worker, late);
    }, MOST_TIME);
    this.#current = { ...waiting, number, timer };
    worker.ref();
    worker.postMessage({ number, drawing: waiting.drawing } satisfies Asked);
  }

  #started(): Worker {
    if (this.#worker) return this.#worker;
    const worker = new Worker(new URL('./render-worker.ts', import.meta.url));
    worker.on('message', (drawn: Drawn) => this.#take(drawn));
    worker.on('error', (error: Error) => this.#lose(worker, error));
    worker.on('exit', () => this.#lose(worker, new Error('the thread that draws has ended')));
    this.#worker = worker;
    return worker;
  }

  #take(drawn: Drawn): void {
    const current = this.#ended(drawn.number);
    if (!current) return;
    if ('failed' in drawn) current.reject(new Error(drawn.failed));
    else current.resolve(drawn);
    this.#next();
  }

  #lose(worker: Worker, error: Error): void {
    if (this.#worker !== worker) return;
    this.#worker = undefined;
    void worker.terminate();
    this.#ended()?.reject(error);
    this.#next();
  }

  /** The drawing under way, which is over. */
  #ended(number = this.#current?.number): Current | undefined {
    const current = this.#current;
    if (!current || current.number !== number) return undefined;
    clearTimeout(current.timer);
    this.#current = undefined;
    return current;
  }
}

const drawer = new Drawer();

/**
 * A chart as a standalone SVG; equal documents give equal pictures.
 * @throws CasebackError OUT_OF_BUDGET when it takes too long, UNAVAILABLE when too many wait; Error for a document that Vega-Lite does not take
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
