import { createHash } from 'node:crypto';

/** Texts of documents by their identifiers. */
export type Documents = ReadonlyMap<string, string>;

/** The identifier of a document by its text, as "GraphQL over HTTP", appendix A, has it: SHA-256 of the text in UTF-8, in lower case. */
export function documentIdOf(text: string): string {
  return `sha256:${createHash('sha256').update(text, 'utf8').digest('hex')}`;
}

/**
 * The identifiers under which a document that somebody filed is known: that of its text, and those of its text
 * with one line end behind it and with none, since editors end a file with one, records of the archive keep none, and clients take the
 * digest of either.
 * @returns each identifier with the text that it stands for
 */
export function documentIds(text: string): readonly (readonly [id: string, text: string])[] {
  const bare = text.replace(/[\r\n]+$/u, '');
  return [...new Set([text, bare, `${bare}\n`])].map((one) => [documentIdOf(one), one] as const);
}
