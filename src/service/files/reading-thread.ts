import { parentPort } from 'node:worker_threads';
import { type ReadingTask, readForAnother } from './reading.ts';

// A thread that reads one task of files after the other for the service.

parentPort?.on('message', async (task: ReadingTask) => parentPort?.postMessage(await readForAnother(task)));
