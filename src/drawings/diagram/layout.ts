import { TaskThread } from '../../charts/task-thread.ts';
import { startThread } from '../../threads/thread.ts';
import type { LaidOut, LayoutTask } from './graph.ts';

const thread = new TaskThread<LayoutTask, LaidOut>(
  () => startThread(new URL('./layout-worker.ts', import.meta.url)),
  { what: 'layout of a diagram', mostTime: 20_000, mostWaiting: 32 },
);

/**
 * Places boxes and routes lines with ELK's layered algorithm, in a thread.
 * @throws CasebackError OUT_OF_BUDGET when it takes too long, UNAVAILABLE when too many wait
 */
export function laidOut(task: LayoutTask): Promise<LaidOut> {
  return thread.do(task);
}
