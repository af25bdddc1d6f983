import Negotiator from 'negotiator';

/** Media types of an answer (GraphQL over HTTP, section "Media Types"), the default first. */
export const JSON_TYPE = 'application/json';
export const GRAPHQL_TYPE = 'application/graphql-response+json';
export type MediaType = typeof JSON_TYPE | typeof GRAPHQL_TYPE;

/** Accept headers seen lately; clients send few different ones. */
const seen = new Map<string, MediaType | undefined>();
const MOST_SEEN = 200;

/**
 * The media type to answer in, or undefined when the client takes neither. Without an Accept header, and for
 * one that takes anything, it is `application/json`.
 */
export function negotiate(accept: string | undefined): MediaType | undefined {
  if (accept === undefined) return JSON_TYPE;
  if (seen.has(accept)) return seen.get(accept);
  const chosen = new Negotiator({ headers: { accept } }).mediaType([JSON_TYPE, GRAPHQL_TYPE]);
  if (seen.size >= MOST_SEEN) seen.clear();
  seen.set(accept, chosen as MediaType | undefined);
  return chosen as MediaType | undefined;
}
