/**
 * Worker threads shared by all graphs of the process. They are started at the first heavy query and do not keep the
 * process alive.
 */
import { availableParallelism } from 'node:os';
import { Worker } from 'node:worker_threads';
import type { PatternGraph } from '../graph.ts';
import type { Batch, ExecuteRequest, Outcome } from '../search/request.ts';
import { type CatalogSizes, NOTHING_SEEN } from '../storage/catalog.ts';
import { CONTROL, type FromWorker, type ToWorker } from './protocol.ts';

/** Deep patterns nest one call per step of a path; see LONGEST_PATH. */
const STACK_MEGABYTES = 64;

interface Seat {
  readonly worker: Worker;
  /** What the worker has seen of each graph. */
  readonly seen: WeakMap<PatternGraph, { version: number; sizes: CatalogSizes }>;
  jobs: number;
}

interface Job {
  readonly onBatch: (batch: Batch) => void;
  readonly resolve: (outcome: Outcome) => void;
  readonly reject: (error: Error) => void;
  readonly seat: Seat;
}

const graphNumbers = new WeakMap<PatternGraph, number>();
let nextGraph = 1;

export class WorkerPool {
  readonly #size: number;
  #seats: Seat[] = [];
  readonly #jobs = new Map<number, Job>();
  #nextJob = 1;
  #closed = false;
  /** Notifies workers of removed graphs. */
  readonly #gone = new FinalizationRegistry<number>((graph) => {
    for (const seat of this.#seats) this.#say(seat, { kind: 'forget', graph });
  });

  constructor(size = Math.max(1, Math.min(8, availableParallelism()))) {
    this.#size = size;
  }

  get size(): number {
    return this.#size;
  }

  /** Starts the threads, so that the first query does not wait for them. */
  warm(): void {
    while (!this.#closed && this.#seats.length < this.#size) this.#start();
  }

  /**
   * Runs a request on `parts` workers at once, which share the root list through the control block.
   *
   * @returns the outcomes, one per worker
   */
  run(
    graph: PatternGraph,
    request: ExecuteRequest,
    options: {
      readonly parts: number;
      readonly signal?: AbortSignal | undefined;
      readonly onBatch: (batch: Batch) => void;
    },
  ): Promise<Outcome[]> {
    if (this.#closed) throw new Error('The worker pool is closed');
    this.warm();
    const control = new SharedArrayBuffer(CONTROL.words * 4);
    const cancel = () => Atomics.store(new Int32Array(control), CONTROL.cancelled, 1);
    if (options.signal?.aborted) cancel();
    options.signal?.addEventListener('abort', cancel, { once: true });
    const seats = [...this.#seats].sort((a, b) => a.jobs - b.jobs).slice(0, Math.max(1, options.parts));
    const all = seats.map((seat) => this.#send(seat, graph, request, control, options.onBatch));
    return Promise.all(all).finally(() => options.signal?.removeEventListener('abort', cancel));
  }

  async close(): Promise<void> {
    this.#closed = true;
    const seats = this.#seats;
    this.#seats = [];
    for (const job of this.#jobs.values()) job.reject(new Error('The worker pool was closed'));
    this.#jobs.clear();
    await Promise.all(seats.map((seat) => seat.worker.terminate()));
  }

  #send(
    seat: Seat,
    graph: PatternGraph,
    request: ExecuteRequest,
    control: SharedArrayBuffer,
    onBatch: (batch: Batch) => void,
  ): Promise<Outcome> {
    let number = graphNumbers.get(graph);
    if (number === undefined) {
      number = nextGraph++;
      graphNumbers.set(graph, number);
      this.#gone.register(graph, number);
    }
    const seen = seat.seen.get(graph);
    if (seen?.version !== graph.version) {
      this.#say(seat, {
        kind: 'graph',
        graph: number,
        parts: graph.store.parts(seen?.sizes ?? NOTHING_SEEN),
      });
      seat.seen.set(graph, { version: graph.version, sizes: graph.store.catalog.sizes() });
    }
    const job = this.#nextJob++;
    // A process waits for the jobs it gave out, and for nothing else of a worker.
    if (seat.jobs++ === 0) seat.worker.ref();
    return new Promise((resolve, reject) => {
      this.#jobs.set(job, { onBatch, resolve, reject, seat });
      this.#say(seat, { kind: 'execute', job, graph: number, request, control });
    });
  }

  #say(seat: Seat, message: ToWorker): void {
    seat.worker.postMessage(message);
  }

  #start(): void {
    const worker = new Worker(new URL('./worker.ts', import.meta.url), {
      resourceLimits: { stackSizeMb: STACK_MEGABYTES },
    });
    const seat: Seat = { worker, seen: new WeakMap(), jobs: 0 };
    this.#seats.push(seat);
    worker.on('message', (message: FromWorker) => this.#hear(message));
    // A worker that dies (out of memory, say) fails its jobs, not the process; the next query starts another.
    worker.on('error', (error) => this.#lose(seat, error));
    worker.on('exit', () => this.#lose(seat, new Error('A worker thread ended unexpectedly')));
    worker.unref();
  }

  #hear(message: FromWorker): void {
    const job = this.#jobs.get(message.job);
    if (!job) return;
    switch (message.kind) {
      case 'batch':
        job.onBatch(message.batch);
        return;
      case 'done':
        this.#end(message.job, job);
        job.resolve(message.outcome);
        return;
      case 'failed':
        this.#end(message.job, job);
        job.reject(new Error(message.message));
        return;
      default:
        message satisfies never;
    }
  }

  #end(number: number, job: Job): void {
    this.#jobs.delete(number);
    if (--job.seat.jobs === 0) job.seat.worker.unref();
  }

  #lose(seat: Seat, error: unknown): void {
    this.#seats = this.#seats.filter((other) => other !== seat);
    for (const [number, job] of this.#jobs) {
      if (job.seat !== seat) continue;
      this.#jobs.delete(number);
      job.reject(error instanceof Error ? error : new Error(String(error)));
    }
  }
}
