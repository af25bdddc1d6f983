import { parentPort, workerData } from 'node:worker_threads';
import type { ThreadData } from '../threads/thread.ts';
import { type StripTask, strippedFile } from './stripped/stripped.ts';

// Runs in a thread of its own (renditions.ts), one for each large file.

const { content, type, orientation } = (workerData as ThreadData<StripTask>).task;
parentPort?.postMessage(strippedFile(content, type, orientation));
