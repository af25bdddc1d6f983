import { CasebackError } from '../../model/problems.ts';
import { startThread } from '../../threads/thread.ts';
import type { TradeFile } from '../board-design.ts';
import type { WorkbookTask } from './task.ts';

// Workbooks are read by a thread of their own with bounds on memory and time, which ends with the workbook: whatever one does to it, the
// rest of the program goes on.

/** Memory of JavaScript values, MiB. The largest sheet that is read takes some 300. */
const MEMORY = 512;
/** How long one may take, ms. */
const TIME = 30_000;
/** Threads at once; others wait. */
const THREADS = 2;

let running = 0;
const waiting: (() => void)[] = [];

/**
 * Reads the list in a workbook.
 * @throws CasebackError OUT_OF_BUDGET when that takes too long or too much memory; the signal's reason
 */
export async function readWorkbookApart(
  task: WorkbookTask,
  {
    signal,
    time = TIME,
    memory = MEMORY,
  }: { readonly signal?: AbortSignal; readonly time?: number; readonly memory?: number } = {},
): Promise<TradeFile> {
  while (running >= THREADS) await new Promise<void>((resolve) => waiting.push(resolve));
  running++;
  try {
    signal?.throwIfAborted();
    return await read(task, signal, time, memory);
  } finally {
    running--;
    waiting.shift()?.();
  }
}

function read(
  task: WorkbookTask,
  signal: AbortSignal | undefined,
  time: number,
  memory: number,
): Promise<TradeFile> {
  const worker = startThread(new URL('./reading-thread.ts', import.meta.url), task, {
    resourceLimits: { maxOldGenerationSizeMb: memory, maxYoungGenerationSizeMb: 32 },
  });
  return new Promise((resolve, reject) => {
    const refuse = (what: string) =>
      new CasebackError(
        'OUT_OF_BUDGET',
        `Reading ${task.file} ${what}; save the list alone in a workbook of its own, or as CSV`,
      );
    const late = setTimeout(
      () => settle(() => reject(refuse(`took longer than ${time.toLocaleString('en')} ms`))),
      time,
    );
    const gone = () => settle(() => reject(signal?.reason));
    const settle = (how: () => void) => {
      clearTimeout(late);
      signal?.removeEventListener('abort', gone);
      worker.removeAllListeners();
      worker.on('error', () => {});
      void worker.terminate();
      how();
    };
    signal?.addEventListener('abort', gone, { once: true });
    worker.on('message', (file: TradeFile) => settle(() => resolve(file)));
    worker.on('error', (error: { readonly code?: string }) =>
      settle(() =>
        reject(error.code === 'ERR_WORKER_OUT_OF_MEMORY' ? refuse('takes too much memory') : error),
      ),
    );
    worker.on('exit', () => settle(() => reject(new Error('the thread that read a workbook ended'))));
  });
}
