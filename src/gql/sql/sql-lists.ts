import type { Dialect } from './dialect.ts';

// Lists of SQL that are put together of pieces.

/** A piece of a list: one item, or a list. */
export interface Piece {
  readonly item?: string;
  readonly list?: string;
}

/** Pieces as one list. @param type of its items */
export function joined(pieces: readonly Piece[], type: string, dialect: Dialect): string {
  const lists: string[] = [];
  let items: string[] = [];
  const close = () => {
    if (items.length > 0) lists.push(dialect.list(items, type));
    items = [];
  };
  for (const { item, list } of pieces) {
    if (item !== undefined) items.push(item);
    else {
      close();
      lists.push(list!);
    }
  }
  close();
  if (lists.length === 0) return dialect.list([], type);
  return lists.reduce((a, b) => dialect.concat(a, b));
}

/** That an item or list has nothing in common with another. */
export function apart(
  a: { readonly list?: string; readonly item?: string },
  b: { readonly list?: string; readonly item?: string },
  dialect: Dialect,
): string {
  if (a.item !== undefined && b.item !== undefined) return dialect.differ(a.item, b.item);
  if (a.list !== undefined && b.list !== undefined) return `NOT ${dialect.overlaps(a.list, b.list)}`;
  return `NOT ${dialect.contains((a.list ?? b.list)!, (a.item ?? b.item)!)}`;
}
