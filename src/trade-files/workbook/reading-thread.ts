import { parentPort, workerData } from 'node:worker_threads';
import type { ThreadData } from '../../threads/thread.ts';
import { readWorkbookList } from './read.ts';
import type { WorkbookTask } from './task.ts';

// A thread that reads one workbook.

const { bytes, file, reading } = (workerData as ThreadData<WorkbookTask>).task;
readWorkbookList(bytes, file, reading).then(
  (read) => parentPort?.postMessage(read),
  (error: unknown) => {
    // As an error of the thread, which whoever waits is told of.
    queueMicrotask(() => {
      throw error;
    });
  },
);
