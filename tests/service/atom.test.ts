import { parseFeed } from 'feedsmith';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { validateXML } from 'xmllint-wasm';
import { atomOf, urnOf } from '../../src/service/atom/document.ts';
import { createService } from '../../src/service/create-service.ts';
import { archiveOf } from '../leaks/archives.ts';

// RFC 4287, read by feedsmith, which knows nothing of ours, and by libxml2; its clauses, by number, by hand.

let app: ReturnType<typeof createService>;
let body: string;
let feed: NonNullable<ReturnType<typeof parseFeed>['feed']> & Record<string, unknown>;
let archive: Awaited<ReturnType<typeof archiveOf>>;
const get = (headers: Record<string, string> = {}, url = '/atom.xml') =>
  app.inject({ method: 'GET', url, headers });

// biome-ignore lint/suspicious/noExplicitAny: what feedsmith gives is as wide as all formats that it reads
const entries = (): any[] => (feed as any).entries;

beforeAll(async () => {
  archive = await archiveOf('whole');
  app = createService({ archive });
  const response = await get();
  expect([response.statusCode, response.headers['content-type']]).toEqual([
    200,
    'application/atom+xml; charset=utf-8',
  ]);
  body = response.body;
  const parsed = parseFeed(body);
  expect(parsed.format).toBe('atom');
  feed = parsed.feed as typeof feed;
});
afterAll(() => app.close());

/** Elements by name, straight from the text: one parser must not hide what another drops. */
const count = (name: string) => body.match(new RegExp(`<${name}[ >]`, 'gu'))?.length ?? 0;

describe('the document', () => {
  test('is well-formed', async () => {
    const { valid, errors } = await validateXML({
      xml: [{ fileName: 'atom.xml', contents: body }],
      schema: [PERMISSIVE],
    });
    expect([valid, errors]).toEqual([true, []]);
  });

  test('has one id, one title and one updated, an author, and a link to itself (4.1.1)', () => {
    const { id, title, updated, authors, links } = feed as Record<string, unknown>;
    expect(id).toMatch(URN);
    expect(title).toEqual({ value: 'Caseback: devices opened, decisions, corrections' });
    expect(updated).toBe(entries()[0].updated);
    expect(authors).toEqual([{ name: 'Caseback' }]);
    expect(links).toContainEqual(expect.objectContaining({ rel: 'self', href: '/atom.xml' }));
    expect(count('feed')).toBe(1);
  });

  test('each entry has one id of its own, a title, an instant of RFC 3339 and content in place of an alternate link (4.1.2)', () => {
    expect(entries().length).toBeGreaterThan(20);
    for (const name of ['updated', 'id', 'title']) expect(count(name)).toBe(entries().length + 1);
    expect(new Set(entries().map(({ id }) => id)).size).toBe(entries().length);
    for (const { id, title, updated, published, content } of entries()) {
      expect(id).toMatch(URN);
      expect(title.value).toMatch(/^(?:Opened|Endorsed|Doubted|Rejected|Corrected): \S/u);
      for (const instant of [updated, published]) expect(instant).toMatch(INSTANT);
      expect(published <= updated).toBe(true);
      expect(content).toEqual({ type: 'text', value: expect.stringMatching(/\S/u) });
    }
  });

  test('entries stand with the newest first, and tell of devices, decisions and corrections', () => {
    const updated = entries().map((one) => one.updated);
    expect(updated).toEqual(updated.toSorted().toReversed());
    const kinds = entries().map(({ categories }) => categories[0].term);
    expect(new Set(kinds)).toEqual(new Set(['device', 'decision', 'correction']));
  });
});

test('an id stays what it is when the service starts again or moves, and is that of this archive alone', async () => {
  const moved = createService({ archive, access: { publicUrl: new URL('https://example.org') } });
  const response = await moved.inject({ method: 'GET', url: '/atom.xml' });
  // biome-ignore lint/suspicious/noExplicitAny: see above
  const other = parseFeed(response.body).feed as any;
  expect(other.entries.map(({ id }: { id: string }) => id)).toEqual(entries().map(({ id }) => id));
  expect(other.links[0].href).toBe('https://example.org/atom.xml');
  await moved.close();
  expect(urnOf(new Uint8Array(32), 'device x')).not.toBe(urnOf(new Uint8Array(32).fill(1), 'device x'));
  expect(urnOf(new Uint8Array(32), 'device x')).not.toBe(urnOf(new Uint8Array(32), 'decision x'));
});

test('text that would be markup, or that no XML document may hold, is written out', async () => {
  const hostile = '</title>&<script>"\u0000\u001b\u202e';
  const news = {
    kind: 'device',
    of: 'x',
    title: hostile,
    text: hostile,
    published: '2026-01-01T00:00:00.000Z',
    updated: '2026-01-01T00:00:00.000Z',
    publications: ['a"b'],
  } as const;
  const written = atomOf([news], { site: undefined, secret: new Uint8Array(32) });
  const { valid } = await validateXML({
    xml: [{ fileName: 'atom.xml', contents: written }],
    schema: [PERMISSIVE],
  });
  expect(valid).toBe(true);
  // biome-ignore lint/suspicious/noExplicitAny: see above
  expect((parseFeed(written).feed as any).entries[0].title.value).toContain('</title>&<script>"');
});

test('an archive without news is a feed with an instant', () => {
  const written = atomOf([], { site: undefined, secret: new Uint8Array(32) });
  expect((parseFeed(written).feed as Record<string, unknown>).updated).toMatch(INSTANT);
});

test('requests may be conditional (RFC 9110, section 13)', async () => {
  const { headers } = await get();
  const etag = String(headers.etag);
  expect(headers['cache-control']).toBe('public, max-age=300');
  const known = await get({ 'if-none-match': `"other", ${etag}` });
  expect([known.statusCode, known.body, known.headers.etag]).toEqual([304, '', etag]);
  expect((await get({ 'if-none-match': '"other"' })).statusCode).toBe(200);
  expect((await get({ 'if-match': '"other"' })).statusCode).toBe(412);
});

const INSTANT = /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(?:\.\d+)?Z$/u;
/** RFC 9562, version 8, variant 10. */
const URN = /^urn:uuid:[\da-f]{8}-[\da-f]{4}-8[\da-f]{3}-[89ab][\da-f]{3}-[\da-f]{12}$/u;

/** What RFC 4287 says of elements and their order is no XML Schema; this one holds only that it is XML in that namespace. */
const PERMISSIVE = `<?xml version="1.0"?>
<xs:schema xmlns:xs="http://www.w3.org/2001/XMLSchema" targetNamespace="http://www.w3.org/2005/Atom" elementFormDefault="qualified">
<xs:element name="feed"><xs:complexType><xs:sequence>
<xs:any minOccurs="0" maxOccurs="unbounded" processContents="skip"/>
</xs:sequence><xs:anyAttribute processContents="skip"/></xs:complexType></xs:element>
</xs:schema>`;
