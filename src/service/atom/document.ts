import { createHmac } from 'node:crypto';
import type { News } from '../../questions/news.ts';
import { html } from '../pages/html.ts';

/** Where links lead, and what makes ids of this archive its own. */
export interface AtomPlace {
  /** Address under which people reach the service; without it links are relative to that of the feed. */
  readonly site: URL | undefined;
  /** Secret of the archive. */
  readonly secret: Uint8Array;
}

/** What there is to say of an archive without any news; RFC 4287 wants an instant. */
const NEVER = '1970-01-01T00:00:00.000Z';

/** News as an Atom feed (RFC 4287). @param news the newest first */
export function atomOf(news: readonly News[], { site, secret }: AtomPlace): string {
  const at = (path: string) => (site ? new URL(path, site).href : path);
  const { text } = html`<?xml version="1.0" encoding="utf-8"?>
<feed xmlns="http://www.w3.org/2005/Atom" xml:lang="en">
<id>${urnOf(secret, 'feed')}</id>
<title>Caseback: devices opened, decisions, corrections</title>
<updated>${news[0]?.updated ?? NEVER}</updated>
<author><name>Caseback</name></author>
<generator>Caseback</generator>
<link rel="self" type="application/atom+xml" href="${at('/atom.xml')}"/>
<link rel="alternate" type="text/html" href="${at('/')}"/>
${news.map((one) => entry(one, secret, at))}</feed>
`;
  return text;
}

function entry(
  { kind, of, title, text, published, updated, publications }: News,
  secret: Uint8Array,
  at: (path: string) => string,
) {
  const related = publications.map(
    (id) =>
      html`<link rel="related" type="text/html" href="${at(`/publications/${encodeURIComponent(id)}/sheet`)}"/>
`,
  );
  return html`<entry>
<id>${urnOf(secret, `${kind} ${of}`)}</id>
<title>${title}</title>
<published>${published}</published>
<updated>${updated}</updated>
<category term="${kind}"/>
${related}<content type="text">${text}</content>
</entry>
`;
}

/**
 * A universally unique id of something in an archive, which stays as it is wherever the archive is served: a UUID of version 8 (RFC 9562,
 * section 5.8) of 122 bits of HMAC-SHA-256 under the secret of the archive, since two archives may have equal ids of their own.
 */
export function urnOf(secret: Uint8Array, name: string): string {
  const bytes = createHmac('sha256', secret).update(`caseback atom ${name}`).digest().subarray(0, 16);
  bytes[6] = (bytes[6] & 0x0f) | 0x80;
  bytes[8] = (bytes[8] & 0x3f) | 0x80;
  const hex = bytes.toString('hex');
  const parts = [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)];
  return `urn:uuid:${parts.join('-')}`;
}
