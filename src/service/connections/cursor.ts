import { CasebackError } from '../../model/problems.ts';

/** What places an item in its list: the value sorted by, then an id that breaks ties. */
export type Key = readonly (string | number)[];

/**
 * A cursor: the name of the order and the item's key, as JSON in base64url (RFC 4648, section 5). It holds no
 * position, so that items put in or taken out between two pages shift nothing.
 */
export function writeCursor(order: string, key: Key): string {
  return Buffer.from(JSON.stringify([order, ...key])).toString('base64url');
}

/**
 * The key inside a cursor.
 * @param argument `after` or `before`, for the message
 * @throws CasebackError BAD_INPUT for text that is no cursor, or one of another order
 */
export function readCursor(cursor: string, order: string, argument: string): Key {
  const [writtenFor, ...key] = decode(cursor) ?? [];
  if (writtenFor === order) return key;
  const mend = 'take it from the pageInfo or the edges of the same list';
  throw new CasebackError(
    'BAD_INPUT',
    typeof writtenFor === 'string'
      ? `${argument}: this cursor belongs to a list in another order (${writtenFor}); ${mend}`
      : `${argument}: "${cursor.slice(0, 40)}" is no cursor; ${mend}`,
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
