import { getCompileCacheDir } from 'node:module';
import { dirname } from 'node:path';
import { Worker, type WorkerOptions } from 'node:worker_threads';

/**
 * A thread of the compile cache that the main thread uses: a thread has none unless it asks for it, and would read types off the
 * source and compile everything anew, half a second of work. Its cache has to be there before the first import, hence this text.
 */
const ENTRY = `
  const { workerData } = require('node:worker_threads');
  const module = require('node:module');
  if (workerData.cache !== undefined) module.enableCompileCache(workerData.cache);
  import(workerData.entry).then(() => module.flushCompileCache());
`;

/** What a thread finds in its `workerData`. */
export interface ThreadData<T> {
  readonly task: T;
}

/** Starts a module as a thread. @param task what it finds in {@link ThreadData} */
export function startThread(entry: URL, task?: unknown, options: WorkerOptions = {}): Worker {
  const used = getCompileCacheDir();
  // The one in use is a folder of this version of Node in the one that was asked for.
  const cache = used === undefined ? undefined : dirname(used);
  return new Worker(ENTRY, { ...options, eval: true, workerData: { entry: entry.href, cache, task } });
}
