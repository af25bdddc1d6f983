import type { Accounts } from '../../access/accounts.ts';
import type { Archive } from '../../archive.ts';
import type { State } from '../../state/state.ts';
import type { Asker } from '../access/asker.ts';
import type { Limits } from '../server/options.ts';
import type { Webhooks } from '../webhooks/webhooks.ts';

/** What every resolver of one request shares. */
export interface Context {
  readonly archive: Archive;
  /** What this request may see: made once, at its start, so that every field answers from the same state. */
  readonly view: State;
  /** Who asks, and what their role lets them do. */
  readonly who: Asker;
  /** People; undefined where nobody has an account. */
  readonly accounts: Accounts | undefined;
  /** Addresses told of feeds; undefined where the service keeps none. */
  readonly webhooks?: Webhooks | undefined;
  readonly limits: Pick<Limits, 'filesBytes' | 'designItems'>;
  /** Tells of the answers of a feed, for subscriptions; undefined for requests, which are answered once. */
  readonly feedChanges?: (id: string) => AsyncIterable<FeedTold>;
  /** Ends when the asker has gone; long work should watch it. */
  signal(): AbortSignal;
}

/** An answer of a feed, as subscriptions tell of it. */
export interface FeedTold {
  readonly feed: { readonly id: string };
  readonly digest: string;
  /** ISO 8601 in UTC. */
  readonly since: string;
}

/** Root of a query: empty for the present, or the view of an earlier instant. */
export interface Root {
  readonly view?: State;
}

/** The view that a root field answers from. */
export function viewOf(root: Root | undefined, context: Context): State {
  return root?.view ?? context.view;
}

/** A source that carries nothing but what it was read from and the view it was found in. */
export type Seen<T = object> = T & { readonly view: State };
