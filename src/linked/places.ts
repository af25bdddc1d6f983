import { CasebackError } from '../model/problems.ts';

// Addresses of linked data (IRIs, RFC 3987). All of them begin with one base.

/** Where the linked data of an archive has its addresses. */
export interface LinkedPlace {
  /** Begins every address, and ends with `/`, `:` or `#`. */
  readonly base: string;
  /** Address of the context document; left out, documents carry the context themselves and can be read without a network. */
  readonly context?: string;
}

/**
 * Addresses of an archive that has none on the web: names by the `tag` scheme (RFC 4151) under a host name that nobody can have
 * (`.invalid`, RFC 6761, section 6.4). Two such archives may use one name for two things; a base of one's own keeps them apart.
 */
export const NOWHERE: LinkedPlace = { base: 'tag:caseback.invalid,2026:' };

/** Beginnings of addresses, as prefixes of the context. */
export const SPACES = {
  record: 'records/',
  concept: 'taxonomy/',
  who: 'agents/',
  caseback: 'vocabulary#',
} as const;

/** Path of the context document under the base. */
export const CONTEXT_PATH = 'context.jsonld';

/**
 * The place under a base.
 * @param base an address of the web, or of another scheme that names things
 * @throws CasebackError BAD_INPUT
 */
export function placeAt(base: string): LinkedPlace {
  if (!/^(?:https?:\/\/[^\s<>"{}|\\^`?#]+|(?:tag|urn):[^\s<>"{}|\\^`?]+)$/u.test(base))
    throw new CasebackError(
      'BAD_INPUT',
      `"${base.slice(0, 80)}" cannot begin addresses; write for example "https://desk.example.org/"`,
    );
  return { base: /[/:#]$/u.test(base) ? base : `${base}/` };
}

/**
 * What the address of a thing is in documents: a compact IRI with the prefix `record`. The id stands in it as it is, but for
 * characters that no path may have, which are percent-encoded (RFC 3986, section 3.3).
 * @param part of the thing that has no id of its own, as a fragment
 */
export function recordIri(id: string, part?: string): string {
  return `record:${inPath(id)}${part === undefined ? '' : `#${inPath(part)}`}`;
}

/** The same address written out, for documents of another context. */
export function recordAddress({ base }: LinkedPlace, id: string, part?: string): string {
  return recordIri(id, part).replace(/^record:/u, `${base}${SPACES.record}`);
}

/** The address of a term of the taxonomy. */
export function kindIri(term: string): string {
  return `concept:${inPath(term)}`;
}

/** The address of somebody who saw, judged or changed something, by the name that the record has. */
export function agentIri(name: string): string {
  return `who:${inPath(name)}`;
}

/** The id that the address of a record stands for; undefined for other addresses and for parts of a record. */
export function idOfIri(iri: string, { base }: LinkedPlace): string | undefined {
  const start = `${base}${SPACES.record}`;
  return iri.startsWith(start) && !iri.includes('#', start.length)
    ? decodeURIComponent(iri.slice(start.length))
    : undefined;
}

function inPath(text: string): string {
  return text
    .toWellFormed()
    .replaceAll(/[^A-Za-z0-9._~\-/:@!$&'()*+,;=]/gu, (character) => encodeURIComponent(character));
}
