/**
 * The thread that runs queries. It holds no graph of its own: its columns are the main thread's memory.
 */
import { parentPort } from 'node:worker_threads';
import { LRUCache } from 'lru-cache';
import type { Query } from '../language/ast.ts';
import { execute } from '../search/execute.ts';
import { loadFunctions } from '../search/functions.ts';
import type { Batch } from '../search/request.ts';
import { Store } from '../storage/store.ts';
import { type FromWorker, type ToWorker, TREES, treeName } from './protocol.ts';

const stores = new Map<number, Store>();
/** What was read on the main thread: this one brings no parser. */
const trees = new LRUCache<string, Query>({ max: TREES });
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
      // Now, in the order of the messages: what is kept here is what the main thread thinks.
      void run(message, treeOf(message));
      return;
    default:
      message satisfies never;
  }
});

type ToExecute = Extract<ToWorker, { kind: 'execute' }>;

/** The tree of a request: what it brings, or what was brought before. */
function treeOf({ request, tree }: ToExecute): Query {
  const name = treeName(request.query);
  if (tree) trees.set(name, tree);
  return tree ?? trees.get(name)!;
}

async function run({ job, graph, request, control }: ToExecute, tree: Query): Promise<void> {
  const say = (answer: FromWorker) => port.postMessage(answer);
  try {
    const { functions } = request.query;
    if (functions !== undefined) await loadFunctions(functions);
    const store = stores.get(graph)!;
    store.handleNode.attach({ buffer: request.handles });
    const channel = {
      control: new Int32Array(control),
      emit: (batch: Batch) => say({ kind: 'batch', job, batch }),
    };
    const outcome = execute(store, request, channel, { tree });
    say({ kind: 'done', job, outcome });
  } catch (error) {
    say({
      kind: 'failed',
      job,
      message: error instanceof Error ? (error.stack ?? error.message) : String(error),
    });
  }
}
