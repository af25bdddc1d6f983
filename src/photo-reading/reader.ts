import { TaskThread } from '../charts/task-thread.ts';
import { startThread } from '../threads/thread.ts';
import type { ReadText } from './read-text.ts';

/** The program that reads, as observations name it. */
export const READER = 'tesseract.js 7.0.0, LSTM, English data 4.0.0_best_int';

const thread = new TaskThread<Uint8Array, ReadText>(
  () => startThread(new URL('./reader-thread.ts', import.meta.url)),
  { what: 'reading of a photo', mostTime: 20_000, mostWaiting: 64, mostIdle: 60_000 },
);

/**
 * Characters on a prepared picture, as PNG.
 * @throws CasebackError OUT_OF_BUDGET when it takes too long, UNAVAILABLE when too many wait
 */
export function textOn(png: Uint8Array): Promise<ReadText> {
  return thread.do(png);
}
