import { parentPort, workerData } from 'node:worker_threads';
import type { ThreadData } from '../threads/thread.ts';
import { type WarpTask, warped } from './warp.ts';

// Runs in a thread of its own (on-board.ts), one for each picture.

const { pixels, homography, size } = (workerData as ThreadData<WarpTask>).task;
const made = warped(pixels, homography, size);
parentPort?.postMessage(made, [made.data.buffer as ArrayBuffer]);
