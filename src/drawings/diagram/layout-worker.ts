import { parentPort } from 'node:worker_threads';
import ELK, { type ElkNode } from 'elkjs/lib/elk.bundled.js';
import type { Answered, Asked } from '../../charts/task-thread.ts';
import type { LaidOut, LayoutTask } from './graph.ts';

// Runs in a thread of its own (layout.ts), since a layout takes up to seconds.

const elk = new ELK.default();

/** Tries each way; the first that fits, else the one that would have to be made smallest least. */
async function laidOut({ graphs, width, height }: LayoutTask): Promise<LaidOut> {
  let best: (LaidOut & { readonly excess: number }) | undefined;
  for (const [at, graph] of graphs.entries()) {
    const placed: ElkNode = await elk.layout(graph);
    const excess = Math.max((placed.width ?? 0) / width, (placed.height ?? 0) / height);
    if (excess <= 1) return { placed, at };
    if (!best || excess < best.excess) best = { placed, at, excess };
  }
  if (!best) throw new Error('no graph to lay out');
  return { placed: best.placed, at: best.at };
}

parentPort?.on('message', async ({ number, task }: Asked<LayoutTask>) => {
  let answered: Answered<LaidOut>;
  try {
    answered = { number, result: await laidOut(task) };
  } catch (error) {
    answered = { number, failed: (error as Error).message };
  }
  parentPort?.postMessage(answered);
});
