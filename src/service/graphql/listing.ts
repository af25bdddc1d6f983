/** What places an item in its list: the value sorted by, then an id that breaks ties. */
export type Key = readonly (string | number)[];

/** A list that can be cut into pages: its items in order, and how to find a place in it again. */
export interface Listing<T> {
  readonly items: readonly T[];
  /** Names list and order; a cursor of one order is refused by another. */
  readonly order: string;
  keyOf(item: T, index: number): Key;
  /** Index of the first item behind the place of a key, whether or not an item still stands there. */
  placeAfter(key: Key): number;
  /** Index of the first item at or behind the place of a key. */
  placeBefore(key: Key): number;
}

export type Compare = (a: Key, b: Key) => number;

/** A list sorted by its keys; the place of a key is found by halving, even when its item has gone. */
export function sortedListing<T>(
  order: string,
  items: readonly T[],
  keyOf: (item: T) => Key,
  compare: Compare = compareKeys,
): Listing<T> {
  const place = (stands: (item: T) => boolean) => {
    let low = 0;
    let high = items.length;
    while (low < high) {
      const middle = (low + high) >>> 1;
      if (stands(items[middle])) low = middle + 1;
      else high = middle;
    }
    return low;
  };
  return {
    items,
    order,
    keyOf,
    placeAfter: (key) => place((item) => compare(keyOf(item), key) <= 0),
    placeBefore: (key) => place((item) => compare(keyOf(item), key) < 0),
  };
}

/** The same list from its end to its start. */
export function reversedListing<T>(
  order: string,
  items: readonly T[],
  keyOf: (item: T) => Key,
  compare: Compare = compareKeys,
): Listing<T> {
  return sortedListing(order, items.toReversed(), keyOf, (a, b) => compare(b, a));
}

/**
 * A list whose order is no value of its items: hits by rank, things in the order of their dossier. The key is
 * index and id; the id decides, and the index stands in only when no item has the id any more.
 */
export function rankedListing<T>(order: string, items: readonly T[], idOf: (item: T) => string): Listing<T> {
  const find = ([index, id]: Key) => {
    const guess = items[Number(index)];
    if (guess !== undefined && idOf(guess) === id) return Number(index);
    const found = items.findIndex((item) => idOf(item) === id);
    return found === -1 ? undefined : found;
  };
  const inside = (index: number) => Math.min(Math.max(Math.trunc(index) || 0, 0), items.length);
  return {
    items,
    order,
    keyOf: (item, index) => [index, idOf(item)],
    placeAfter: (key) => {
      const found = find(key);
      return found === undefined ? inside(Number(key[0])) : found + 1;
    },
    placeBefore: (key) => find(key) ?? inside(Number(key[0])),
  };
}

/** Order of keys part by part; text by code unit, so that it is the same on every machine. */
export function compareKeys(a: Key, b: Key): number {
  for (let i = 0; i < Math.max(a.length, b.length); i++) {
    if (a[i] === b[i]) continue;
    if (a[i] === undefined) return -1;
    if (b[i] === undefined) return 1;
    return a[i] < b[i] ? -1 : 1;
  }
  return 0;
}
