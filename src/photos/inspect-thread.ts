import { parentPort, workerData } from 'node:worker_threads';
import type { ThreadData } from '../threads/thread.ts';
import { type InspectAnswer, inspectPhoto } from './inspect.ts';
import { NoPhoto } from './refusal.ts';

// Runs in a thread of its own (inspect-apart.ts), one for each photo.

async function answered(content: Uint8Array): Promise<InspectAnswer> {
  try {
    return { file: (await inspectPhoto(content)).file, content };
  } catch (error) {
    if (error instanceof NoPhoto) return { why: error.why, fix: error.fix, content };
    throw error;
  }
}

const { task } = workerData as ThreadData<Uint8Array<ArrayBuffer>>;
parentPort?.postMessage(await answered(task), [task.buffer]);
