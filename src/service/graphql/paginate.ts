import { DEFAULT_PAGE, LARGEST_PAGE } from '../../api-schema/page-sizes.ts';
import { CasebackError } from '../../model/problems.ts';
import type { Key, Listing } from './listing.ts';

/** Arguments of the GraphQL Cursor Connections Specification. */
export interface PageArguments {
  readonly first?: number | null;
  readonly after?: string | null;
  readonly last?: number | null;
  readonly before?: string | null;
}

export interface Edge<N> {
  readonly cursor: string;
  readonly node: N;
}

export interface PageInfo {
  readonly hasNextPage: boolean;
  readonly hasPreviousPage: boolean;
  readonly startCursor: string | null;
  readonly endCursor: string | null;
}

export interface Connection<N> {
  readonly edges: readonly Edge<N>[];
  readonly nodes: readonly N[];
  readonly pageInfo: PageInfo;
  readonly totalCount: number;
}

/**
 * One page of a list (GraphQL Cursor Connections Specification, section 4). Only items on the page become
 * nodes. `hasNextPage` and `hasPreviousPage` are exact in both directions.
 * @throws CasebackError BAD_INPUT for contradictory, negative or too large sizes and for bad cursors
 */
export function paginate<T, N>(
  listing: Listing<T>,
  args: PageArguments,
  toNode: (item: T) => N,
): Connection<N> {
  const { items, order } = listing;
  const { first, last, after, before } = args;
  if (isGiven(first) && isGiven(last)) {
    throw new CasebackError('BAD_INPUT', 'first and last are both given; ask for one of them');
  }
  const size = pageSize(first, 'first') ?? pageSize(last, 'last') ?? DEFAULT_PAGE;
  let start = isGiven(after) ? listing.placeAfter(readCursor(after, order, 'after')) : 0;
  let end = isGiven(before) ? listing.placeBefore(readCursor(before, order, 'before')) : items.length;
  // A cursor behind the other leaves nothing between them.
  end = Math.max(start, end);
  if (isGiven(last)) start = Math.max(start, end - size);
  else end = Math.min(end, start + size);

  return new Page(listing, start, end, toNode);
}

/** A page that makes nodes and cursors when they are asked for. A class, since objects with getters of their own are slow to make. */
class Page<T, N> implements Connection<N> {
  readonly #listing: Listing<T>;
  readonly #start: number;
  readonly #end: number;
  readonly #toNode: (item: T) => N;
  #nodes: readonly N[] | undefined;

  constructor(listing: Listing<T>, start: number, end: number, toNode: (item: T) => N) {
    this.#listing = listing;
    this.#start = start;
    this.#end = end;
    this.#toNode = toNode;
  }

  get totalCount(): number {
    return this.#listing.items.length;
  }

  get nodes(): readonly N[] {
    this.#nodes ??= this.#listing.items.slice(this.#start, this.#end).map((item) => this.#toNode(item));
    return this.#nodes;
  }

  get edges(): readonly Edge<N>[] {
    return this.nodes.map((node, i) => new PageEdge(node, () => this.#cursorAt(this.#start + i)));
  }

  get pageInfo(): PageInfo {
    const isEmpty = this.#end <= this.#start;
    return {
      hasNextPage: this.#end < this.totalCount,
      hasPreviousPage: this.#start > 0,
      startCursor: isEmpty ? null : this.#cursorAt(this.#start),
      endCursor: isEmpty ? null : this.#cursorAt(this.#end - 1),
    };
  }

  #cursorAt(index: number): string {
    const { order, items } = this.#listing;
    return writeCursor(order, this.#listing.keyOf(items[index], index));
  }
}

class PageEdge<N> implements Edge<N> {
  readonly node: N;
  readonly #cursor: () => string;

  constructor(node: N, cursor: () => string) {
    this.node = node;
    this.#cursor = cursor;
  }

  get cursor(): string {
    return this.#cursor();
  }
}

function isGiven<T>(value: T | null | undefined): value is T {
  return value !== null && value !== undefined;
}

function pageSize(size: number | null | undefined, argument: string): number | undefined {
  if (!isGiven(size)) return undefined;
  if (size < 0) throw new CasebackError('BAD_INPUT', `${argument} is ${size}; it cannot be negative`);
  if (size > LARGEST_PAGE) {
    throw new CasebackError(
      'BAD_INPUT',
      `${argument} is ${size}; a page has at most ${LARGEST_PAGE} items, so follow the cursors for more`,
    );
  }
  return size;
}

/**
 * A cursor: the name of the order and the item's key, as JSON in base64url (RFC 4648, section 5). It holds no
 * position, so that items put in or taken out between two pages shift nothing.
 */
function writeCursor(order: string, key: Key): string {
  return Buffer.from(JSON.stringify([order, ...key])).toString('base64url');
}

/**
 * The key inside a cursor.
 * @param argument `after` or `before`, for the message
 * @throws CasebackError BAD_INPUT for text that is not a cursor, or one of another order
 */
function readCursor(cursor: string, order: string, argument: string): Key {
  const [writtenFor, ...key] = decode(cursor) ?? [];
  if (writtenFor === order) return key;
  const fix = 'take it from the pageInfo or the edges of the same list';
  throw new CasebackError(
    'BAD_INPUT',
    typeof writtenFor === 'string'
      ? `${argument}: this cursor belongs to a list in another order (${writtenFor}); ${fix}`
      : `${argument}: "${cursor.slice(0, 40)}" is not a cursor; ${fix}`,
  );
}

function decode(cursor: string): Key | undefined {
  try {
    const read: unknown = JSON.parse(Buffer.from(cursor, 'base64url').toString('utf8'));
    const sound =
      Array.isArray(read) &&
      read.length > 1 &&
      read.every((part) => typeof part === 'string' || typeof part === 'number');
    return sound ? read : undefined;
  } catch {
    return undefined;
  }
}
