import type { Worker } from 'node:worker_threads';
import { CasebackError } from '../model/problems.ts';

/** What a thread is sent; it answers with the same number, and a result or why there is none. */
export interface Asked<Task> {
  readonly number: number;
  readonly task: Task;
}

export type Answered<Result> =
  | { readonly number: number; readonly result: Result }
  | { readonly number: number; readonly failed: string };

interface Waiting<Task, Result> {
  readonly task: Task;
  readonly resolve: (result: Result) => void;
  readonly reject: (error: Error) => void;
}

interface Current<Result> {
  readonly number: number;
  readonly timer: NodeJS.Timeout;
  readonly resolve: (result: Result) => void;
  readonly reject: (error: Error) => void;
}

/** Bounds of a thread, and what to call its work in errors. */
export interface ThreadBounds {
  /** What one task is, such as `drawing`. */
  readonly what: string;
  /** Longest time for one task, milliseconds. */
  readonly mostTime: number;
  /** Tasks that may wait. */
  readonly mostWaiting: number;
  /** Milliseconds after which a thread that has nothing to do ends; it stays where left out. */
  readonly mostIdle?: number;
}

/**
 * A thread that does one task after the other, so that the work holds up no answer. It is started by the first task and does not
 * keep the process alive. A task that takes too long, or breaks the thread, ends with it; the next is done in a new one.
 */
export class TaskThread<Task, Result> {
  readonly #start: () => Worker;
  readonly #bounds: ThreadBounds;
  #worker: Worker | undefined;
  #current: Current<Result> | undefined;
  readonly #waiting: Waiting<Task, Result>[] = [];
  #last = 0;
  #idle: NodeJS.Timeout | undefined;

  constructor(start: () => Worker, bounds: ThreadBounds) {
    this.#start = start;
    this.#bounds = bounds;
  }

  /** @throws CasebackError OUT_OF_BUDGET when it takes too long, UNAVAILABLE when too many wait; Error when the task fails */
  do(task: Task): Promise<Result> {
    const { mostWaiting, what } = this.#bounds;
    if (this.#waiting.length >= mostWaiting)
      return Promise.reject(
        new CasebackError('UNAVAILABLE', `${mostWaiting} ${what}s wait already; ask again soon`),
      );
    return new Promise((resolve, reject) => {
      this.#waiting.push({ task, resolve, reject });
      this.#next();
    });
  }

  #next(): void {
    if (this.#current) return;
    const waiting = this.#waiting.shift();
    if (!waiting) {
      this.#worker?.unref();
      this.#rest();
      return;
    }
    clearTimeout(this.#idle);
    const { task, resolve, reject } = waiting;
    const { mostTime, what } = this.#bounds;
    const worker = this.#started();
    const number = ++this.#last;
    const timer = setTimeout(() => {
      const late = new CasebackError('OUT_OF_BUDGET', `A ${what} took longer than ${mostTime / 1000} s`);
      this.#lose(worker, late);
    }, mostTime);
    this.#current = { number, timer, resolve, reject };
    worker.ref();
    worker.postMessage({ number, task } satisfies Asked<Task>);
  }

  /** Ends the thread after a while with nothing to do. */
  #rest(): void {
    const { mostIdle } = this.#bounds;
    if (mostIdle === undefined || !this.#worker) return;
    clearTimeout(this.#idle);
    this.#idle = setTimeout(() => {
      const worker = this.#worker;
      this.#worker = undefined;
      void worker?.terminate();
    }, mostIdle).unref();
  }

  #started(): Worker {
    if (this.#worker) return this.#worker;
    const worker = this.#start();
    worker.on('message', (answered: Answered<Result>) => this.#take(answered));
    worker.on('error', (error: Error) => this.#lose(worker, error));
    worker.on('exit', () => this.#lose(worker, new Error('the thread has ended')));
    this.#worker = worker;
    return worker;
  }

  #take(answered: Answered<Result>): void {
    const current = this.#ended(answered.number);
    if (!current) return;
    if ('failed' in answered) current.reject(new Error(answered.failed));
    else current.resolve(answered.result);
    this.#next();
  }

  #lose(worker: Worker, error: Error): void {
    if (this.#worker !== worker) return;
    this.#worker = undefined;
    void worker.terminate();
    this.#ended()?.reject(error);
    this.#next();
  }

  /** The task under way, which is over. */
  #ended(number = this.#current?.number): Current<Result> | undefined {
    const current = this.#current;
    if (!current || current.number !== number) return undefined;
    clearTimeout(current.timer);
    this.#current = undefined;
    return current;
  }
}
