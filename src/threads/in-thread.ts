import type { WorkerOptions } from 'node:worker_threads';
import { startThread } from './thread.ts';

/**
 * The one answer of a thread that is started for it and ends with it.
 * @param task what it finds in `ThreadData`; copied
 * @throws what breaks the thread
 */
export async function inThread<Answer>(entry: URL, task: unknown, options?: WorkerOptions): Promise<Answer> {
  const worker = startThread(entry, task, options);
  try {
    return await new Promise<Answer>((resolve, reject) => {
      worker.once('message', resolve);
      worker.once('error', reject);
      worker.once('exit', () => reject(new Error('the thread ended without an answer')));
    });
  } finally {
    await worker.terminate();
  }
}
