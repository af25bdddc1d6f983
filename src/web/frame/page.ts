import type { ComponentType } from 'preact';
import type { Ask } from '../api/ask.ts';

/** Where one is: an address of the desk, read. */
export interface Place {
  /** Path and query, as links have them. */
  readonly href: string;
  readonly path: string;
  readonly query: URLSearchParams;
  /** Parts of the path by their names in the route. */
  readonly parts: Readonly<Record<string, string>>;
}

/** What a page says of itself once it knows its data. */
export interface Heading {
  readonly title: string;
  /** HTTP status, 200 when left out. */
  readonly status?: number;
}

/** One page: what it asks, what it is called and how it looks. */
export interface Page<Data> {
  /** @throws Refused when there is no answer */
  load(place: Place, ask: Ask, signal?: AbortSignal): Promise<Data>;
  heading(data: Data, place: Place): Heading;
  readonly View: ComponentType<{ readonly data: Data; readonly place: Place }>;
}

/** A page whose data only it knows the type of. */
export type AnyPage = Page<unknown>;

export function definePage<Data>(page: Page<Data>): AnyPage {
  return page as unknown as AnyPage;
}
