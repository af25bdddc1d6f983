import canonicalize from 'canonicalize';

// A record read from a file has its members in the order of the file or of its schema, one from the journal in that of its
// canonical text (RFC 8785). What compares records of both, or shows one, must not depend on which it has.

/** A text that is the same for equal values of JSON, whatever the order of their members; undefined members count as left out. */
export function orderFreeText(value: unknown): string {
  return canonicalize(value) ?? 'undefined';
}

/** A value of JSON with its members in the order in which the journal gives them. */
export function inJournalOrder<T>(value: T): T {
  return JSON.parse(orderFreeText(value)) as T;
}
