/**
 * What the main thread and a worker say to each other.
 */
import type { Query } from '../language/ast.ts';
import type { Batch, ExecuteRequest, Outcome } from '../search/request.ts';
import type { StoreParts } from '../storage/store.ts';

export type ToWorker =
  /** The columns of a graph, complete at first, then additions to its tables. */
  | { readonly kind: 'graph'; readonly graph: number; readonly parts: StoreParts }
  | { readonly kind: 'forget'; readonly graph: number }
  | {
      readonly kind: 'execute';
      readonly job: number;
      readonly graph: number;
      readonly request: ExecuteRequest;
      /** The tree that its settings refer to, where the worker has not been given it before: {@link TREES}. */
      readonly tree: Query | undefined;
      readonly control: SharedArrayBuffer;
    };

export type FromWorker =
  | { readonly kind: 'batch'; readonly job: number; readonly batch: Batch }
  | { readonly kind: 'done'; readonly job: number; readonly outcome: Outcome }
  | { readonly kind: 'failed'; readonly job: number; readonly message: string };

/** Trees that both sides keep of a worker, the last that were asked for: what one has, the other has. */
export const TREES = 100;

/** What a tree is kept under. */
export function treeName({ text, relaxation }: ExecuteRequest['query']): string {
  return `${relaxation ?? ''} ${text}`;
}

/** Words of a job's control block, shared by all workers on the job. */
export const CONTROL = {
  /** 1 once the job is to stop. */
  cancelled: 0,
  /** Next free place in the root list. */
  next: 1,
  /** Rows that all workers have sent together. */
  rows: 2,
  words: 4,
} as const;
