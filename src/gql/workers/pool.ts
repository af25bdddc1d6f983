/**
 * Worker threads shared by all graphs of the process. They are started at the first heavy query and do not keep the
 * process alive.
 */
import { availableParallelism } from 'node:os';
import type { Worker } from 'node:worker_threads';
import { LRUCache } from 'lru-cache';
import { startThread } from '../../threads/thread.ts';
import type { PatternGraph } from '../graph.ts';
import type { Query } from '../language/ast.ts';
import { type Batch, type ExecuteRequest, notSearched, type Outcome } from '../search/request.ts';
import type { Shortage } from '../search/stage.ts';
import { type CatalogSizes, NOTHING_SEEN } from '../storage/catalog.ts';
import { CONTROL, type FromWorker, type ToWorker, TREES, treeName } from './protocol.ts';

/** Deep patterns nest one call per step of a path; see LONGEST_PATH. */
const STACK_MEGABYTES = 64;

interface Seat {
  readonly worker: Worker;
  /** What the worker has seen of each graph. */
  readonly seen: WeakMap<PatternGraph, { version: number; sizes: CatalogSizes }>;
  /** Names of the trees that the worker has: see {@link TREES}. */
  readonly trees: LRUCache<string, true>;
  jobs: number;
}

interface Job {
  readonly onBatch: (batch: Batch) => void;
  readonly resolve: (outcome: Outcome) => void;
  readonly reject: (error: Error) => void;
  readonly seat: Seat;
  /** Called when the worker is done with it, or lost. */
  readonly whenDone: () => void;
  /** Whether the answer has been given already, without waiting for the worker. */
  isOver: boolean;
}

/** Milliseconds that a worker has to come to an end after its time is up, or after it was told to stop. */
const GRACE = 40;

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
   * Runs a request on `parts` workers at once, which share the root list through the control block. Ends soon after
   * the time of the request is up or the signal is aborted, whatever the workers do: they may be waiting behind other
   * requests, or still be starting.
   *
   * @param tree the one that the settings of the request refer to
   * @returns the outcomes, one per worker
   */
  run(
    graph: PatternGraph,
    request: ExecuteRequest,
    tree: Query,
    options: {
      readonly parts: number;
      readonly signal?: AbortSignal | undefined;
      readonly onBatch: (batch: Batch) => void;
      /** Called when no worker reads the graph for this request any more, which may be later than the answer. */
      readonly whenDone?: () => void;
    },
  ): Promise<Outcome[]> {
    if (this.#closed) throw new Error('The worker pool is closed');
    this.warm();
    const control = new SharedArrayBuffer(CONTROL.words * 4);
    const seats = [...this.#seats].sort((a, b) => a.jobs - b.jobs).slice(0, Math.max(1, options.parts));
    let atWork = seats.length;
    const whenDone = () => {
      if (--atWork === 0) options.whenDone?.();
    };
    const jobs: number[] = [];
    const stop = () => Atomics.store(new Int32Array(control), CONTROL.cancelled, 1);
    const giveUp = (shortage: Shortage) => {
      stop();
      for (const job of jobs) this.#giveUp(job, shortage);
    };
    let patience = setTimeout(giveUp, request.limits.time + GRACE, 'time');
    const cancel = () => {
      stop();
      clearTimeout(patience);
      patience = setTimeout(giveUp, GRACE, 'cancelled');
    };
    if (options.signal?.aborted) cancel();
    options.signal?.addEventListener('abort', cancel, { once: true });
    const all = seats.map((seat) =>
      this.#send(seat, graph, request, tree, control, options.onBatch, whenDone, (job) => jobs.push(job)),
    );
    return Promise.all(all).finally(() => {
      clearTimeout(patience);
      options.signal?.removeEventListener('abort', cancel);
    });
  }

  /** Answers for a worker that has not. */
  #giveUp(number: number, shortage: Shortage): void {
    const job = this.#jobs.get(number);
    if (!job || job.isOver) return;
    job.isOver = true;
    job.resolve(notSearched(shortage));
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
    tree: Query,
    control: SharedArrayBuffer,
    onBatch: (batch: Batch) => void,
    whenDone: () => void,
    onJob: (job: number) => void,
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
      this.#jobs.set(job, { onBatch, resolve, reject, seat, whenDone, isOver: false });
      onJob(job);
      const name = treeName(request.query);
      const isKnown = seat.trees.get(name) ?? false;
      this.#say(seat, {
        kind: 'execute',
        job,
        graph: number,
        request,
        tree: isKnown ? undefined : tree,
        control,
      });
      if (!isKnown) seat.trees.set(name, true);
    });
  }

  #say(seat: Seat, message: ToWorker): void {
    seat.worker.postMessage(message);
  }

  #start(): void {
    const worker = startThread(new URL('./worker.ts', import.meta.url), undefined, {
      resourceLimits: { stackSizeMb: STACK_MEGABYTES },
    });
    const seat: Seat = { worker, seen: new WeakMap(), trees: new LRUCache({ max: TREES }), jobs: 0 };
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
        if (!job.isOver) job.onBatch(message.batch);
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
    job.whenDone();
    if (--job.seat.jobs === 0) job.seat.worker.unref();
  }

  #lose(seat: Seat, error: unknown): void {
    this.#seats = this.#seats.filter((other) => other !== seat);
    for (const [number, job] of this.#jobs) {
      if (job.seat !== seat) continue;
      this.#jobs.delete(number);
      job.whenDone();
      job.reject(error instanceof Error ? error : new Error(String(error)));
    }
  }
}
