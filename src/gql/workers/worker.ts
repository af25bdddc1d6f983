/**
 * The thread that runs queries. It holds no graph of its own: its columns are the main thread's memory.
 */
import { parentPort } from 'node:worker_threads';
import { execute } from '../search/execute.ts';
import { loadFunctions } from '../search/functions.ts';
import { Store } from '../storage/store.ts';
import type { FromWorker, ToWorker } from './protocol.ts';

const stores = new Map<number, Store>();
const port = parentPort!;

port.on('message', (message: ToWorker) => {
  switch (message.kind) {
    case 'graph': {
      const known = stores.get(message.graph);
      if (known) known.update(message.parts);
      else stores.set(message.graph, new Store(message.parts));
      return;
    }
    case 'forget':
      stores.delete(message.graph);
      return;
    case 'execute':
      void run(message);
      return;
    default:
      message satisfies never;
  }
});

async function run({ job, graph, request, control }: Extract<ToWorker, { kind: 'execute' }>): Promise<void> {
  const say = (answer: FromWorker) => port.postMessage(answer);
  try {
    const { functions } = request.query;
    if (functions !== undefined) await loadFunctions(functions);
    const store = stores.get(graph)!;
    store.handleNode.attach({ buffer: request.handles });
    const outcome = execute(store, request, {
      control: new Int32Array(control),
      emit: (batch) => say({ kind: 'batch', job, batch }),
    });
    say({ kind: 'done', job, outcome });
  } catch (error) {
    say({
      kind: 'failed',
      job,
      message: error instanceof Error ? (error.stack ?? error.message) : String(error),
    });
  }
}
