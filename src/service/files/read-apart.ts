import { setImmediate as turn } from 'node:timers/promises';
import { Worker } from 'node:worker_threads';
import { gatherRead, type ReadFiles } from '../../dossier/read-files.ts';
import { CasebackError } from '../../model/problems.ts';
import type { TradeFile } from '../../trade-files/board-design.ts';
import { isZip } from '../../trade-files/workbook/kind.ts';
import {
  type ReadingResult,
  type ReadingTask,
  read,
  readTrade,
  received,
  type SentFile,
  type SentTradeFile,
} from './reading.ts';

// Reading a file takes some milliseconds a kilobyte at worst, so larger ones are read by another thread. A thread reads one task
// at a time and is ended when its asker goes, when it takes too long, when nobody has wanted it for a while, and after a large task,
// since what its heap has grown to is given back only so.

/** Characters of files that are read at once. The worst known text of this length takes 50 ms. */
const SHORT = 8_000;
/** Characters of trade files that are read at once, whose columns are looked at in more ways. */
const SHORT_LISTS = 4_000;
/** Threads at most; others wait. */
const THREADS = 2;
/** How long a task may take, ms. */
const TIME = 30_000;
/** How long a thread waits for another task, ms. */
const PATIENCE = 1_000;
/** Characters of a large task: a thread that has read as many has a heap of some 50 MB. */
const LARGE = 500_000;
/** A parser keeps about a hundred times what it reads. */
const RESOURCES = { maxOldGenerationSizeMb: 2_048 };

interface Thread {
  readonly worker: Worker;
  /** Ends it when nobody wants it. */
  patience?: NodeJS.Timeout;
}

const threads = new Set<Thread>();
const idle = new Set<Thread>();
const waiting: (() => void)[] = [];

/**
 * Reads dossiers and catalogues.
 * @throws CasebackError OUT_OF_BUDGET when that takes too long; the signal's reason
 */
export async function readDocumentsApart(
  files: readonly SentFile[],
  signal: AbortSignal,
): Promise<ReadFiles> {
  if (lengthOf(files) <= SHORT) return gatherRead(files.map(read));
  const result = await readApart({ as: 'documents', files }, signal);
  return gatherRead(result.as === 'documents' ? result.results.map(received) : []);
}

/**
 * Reads trade files, workbooks each in a thread of its own; undefined for those that show none of the formats.
 * @throws as {@link readDocumentsApart}
 */
export async function readTradeFilesApart(
  files: readonly SentTradeFile[],
  signal: AbortSignal,
): Promise<readonly (TradeFile | undefined)[]> {
  const isWorkbook = ({ bytes }: SentTradeFile) => bytes !== undefined && isZip(bytes);
  const texts = await readTexts(
    files.filter((file) => !isWorkbook(file)),
    signal,
  );
  const results: (TradeFile | undefined)[] = [];
  let next = 0;
  for (const file of files) results.push(isWorkbook(file) ? await readWorkbook(file, signal) : texts[next++]);
  return results;
}

async function readTexts(
  files: readonly SentTradeFile[],
  signal: AbortSignal,
): Promise<readonly (TradeFile | undefined)[]> {
  if (lengthOf(files) <= SHORT_LISTS) return readTrade(files);
  const result = await readApart({ as: 'trade files', files }, signal);
  return result.as === 'trade files' ? result.results : [];
}

async function readWorkbook(
  { name, bytes, reading }: SentTradeFile,
  signal: AbortSignal,
): Promise<TradeFile | undefined> {
  const { readAnyTradeFile } = await import('../../trade-files/read.ts');
  return readAnyTradeFile(bytes as Uint8Array, name, reading, signal);
}

function lengthOf(files: readonly (SentFile | SentTradeFile)[]): number {
  return files.reduce((sum, file) => {
    const bytes = 'bytes' in file ? file.bytes : undefined;
    return sum + (bytes?.byteLength ?? file.text?.length ?? 0);
  }, 0);
}

/**
 * Has a task read by another thread.
 * @param time milliseconds that it may take
 */
export async function readApart(
  task: ReadingTask,
  signal: AbortSignal,
  time: number = TIME,
): Promise<ReadingResult> {
  signal.throwIfAborted();
  // The request has just been read, and what it holds is copied next.
  await turn();
  const thread = await seat();
  let isFit = false;
  try {
    signal.throwIfAborted();
    const result = await answered(thread.worker, task, signal, time);
    isFit = lengthOf(task.files) < LARGE;
    return result;
  } finally {
    leave(thread, isFit);
  }
}

/** A thread that nobody uses, once there is one. */
async function seat(): Promise<Thread> {
  while (idle.size === 0 && threads.size >= THREADS)
    await new Promise<void>((resolve) => {
      waiting.push(resolve);
    });
  for (const free of idle) {
    clearTimeout(free.patience);
    idle.delete(free);
    return free;
  }
  const worker = new Worker(new URL('./reading-thread.ts', import.meta.url), { resourceLimits: RESOURCES });
  const thread: Thread = { worker };
  threads.add(thread);
  // Whoever waits for it is told, too; between tasks nobody is.
  worker.on('error', () => end(thread)).once('exit', () => end(thread));
  worker.unref();
  return thread;
}

/** @param isFit whether it is to be used again */
function leave(thread: Thread, isFit: boolean): void {
  if (isFit && threads.has(thread)) {
    thread.worker.unref();
    thread.patience = setTimeout(() => end(thread), PATIENCE).unref();
    idle.add(thread);
  } else end(thread);
  waiting.shift()?.();
}

function end(thread: Thread): void {
  clearTimeout(thread.patience);
  idle.delete(thread);
  threads.delete(thread);
  void thread.worker.terminate();
}

function answered(
  worker: Worker,
  task: ReadingTask,
  signal: AbortSignal,
  time: number,
): Promise<ReadingResult> {
  worker.ref();
  return new Promise((resolve, reject) => {
    const late = setTimeout(
      () =>
        settle(() =>
          reject(
            new CasebackError(
              'OUT_OF_BUDGET',
              `Reading the files took longer than ${time.toLocaleString('en')} ms; send fewer at once, or import them on the command line: caseback import`,
            ),
          ),
        ),
      time,
    );
    const gone = () => settle(() => reject(signal.reason));
    const lost = (error: unknown) =>
      settle(() =>
        reject(
          (error as { code?: string }).code === 'ERR_WORKER_OUT_OF_MEMORY'
            ? new CasebackError(
                'OUT_OF_BUDGET',
                'Reading the files takes too much memory; send fewer at once',
              )
            : error,
        ),
      );
    const done = (result: ReadingResult) => settle(() => resolve(result));
    const ended = () => lost(new Error('the thread that read files ended'));
    const settle = (how: () => void) => {
      clearTimeout(late);
      signal.removeEventListener('abort', gone);
      worker.off('message', done).off('error', lost).off('exit', ended);
      how();
    };
    signal.addEventListener('abort', gone, { once: true });
    worker.on('message', done).on('error', lost).on('exit', ended);
    worker.postMessage(task);
  });
}
