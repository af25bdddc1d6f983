import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { documentIdOf, documentIds } from '../../src/api-schema/document-id.ts';
import { documentsIn } from '../../src/cli/frame/documents-folder.ts';
import { CATALOGUE, DOSSIERS } from './invented.ts';
import { archiveOf, type Served, serve } from './serving.ts';

// "GraphQL over HTTP", appendix A (Persisted Documents), as of commit 014506d of graphql/graphql-over-http.

const FEED = '{ archive { devices } }\n';
const HIDDEN = '{ makers { totalCount } }';
const OWN = 'query Names($id: ID!) { device(id: $id) { name } }';
const CHANGE = 'mutation Recall { recall(input: { id: "x", reason: "y" }) { ids } }';
const documents = new Map([OWN, CHANGE].flatMap(documentIds));

let reader: Served;
let desk: Served;
let held: Served;
let heldDesk: Served;
beforeAll(async () => {
  const feeds = {
    caseback: 'catalogue/1',
    feeds: [
      { id: 'how-many', title: 'Devices', question: FEED },
      { id: 'how-many-makers', title: 'Makers', question: HIDDEN, visibility: 'draft' },
    ],
  };
  const archive = await archiveOf([CATALOGUE, ...DOSSIERS, feeds]);
  reader = await serve({ documents }, archive);
  desk = await serve({ documents, audience: 'desk' }, archive);
  held = await serve({ documents, documentsOnly: true }, archive);
  heldDesk = await serve({ documents, documentsOnly: true, audience: 'desk' }, archive);
});
afterAll(async () => {
  for (const served of [reader, held, heldDesk]) await served.app.close();
  await desk.close();
});

const GRAPHQL = 'application/graphql-response+json';
const get = ({ app }: Served, query: Record<string, string>, accept = GRAPHQL) =>
  app.inject({ method: 'GET', url: '/graphql', query, headers: { accept } });
const post = ({ app }: Served, payload: object, accept = GRAPHQL) =>
  app.inject({ method: 'POST', url: '/graphql', headers: { accept }, payload });
const told = (response: Awaited<ReturnType<typeof post>>) => {
  const { data, errors } = response.json();
  return { status: response.statusCode, data, errors: errors?.length, code: errors?.[0].extensions.code };
};

test('an identifier is that of the examples of the appendix', () => {
  expect(documentIdOf('query ($id: ID!) {\n  user(id: $id) {\n    name\n  }\n}')).toBe(
    'sha256:7dba4bd717b41f10434822356a93c32b1fb4907b983e854300ad839f84cdcd6e',
  );
  expect(documentIdOf('query($id:ID!){user(id:$id){name}}')).toBe(
    'sha256:71f7dc5758652baac68e4a10c50be732b741c892ade2883a99358f52b555286b',
  );
});

describe('a known document', () => {
  const documentId = documentIdOf(OWN);

  test('is answered by GET and POST as its text is', async () => {
    const whole = await post(reader, { query: OWN, variables: { id: 'tarn-sennit-1' } });
    const byPost = await post(reader, { documentId, variables: { id: 'tarn-sennit-1' } });
    const byGet = await get(reader, { documentId, variables: '{"id":"tarn-sennit-1"}' });
    expect(whole.json().data.device.name).toEqual(expect.any(String));
    for (const one of [byPost, byGet]) expect([one.statusCode, one.body]).toEqual([200, whole.body]);
    const named = await post(reader, { documentId, operationName: 'Other', variables: { id: 'x' } });
    expect(told(named)).toMatchObject({ status: 400, code: 'BAD_INPUT' });
  });

  test('is one of the service or the question of a feed, with or without the line end behind it', async () => {
    for (const text of [FEED, FEED.trimEnd()])
      expect(told(await get(reader, { documentId: documentIdOf(text) }))).toMatchObject({
        status: 200,
        data: { archive: { devices: 4 } },
      });
    const { feed } = await reader.ask('{ feed(id: "how-many") { question documentId } }');
    expect(feed.documentId).toBe(documentIdOf(feed.question));
  });

  test('that changes something is not run by GET (405), and by POST only for who may', async () => {
    const changing = documentIdOf(CHANGE);
    expect((await get(reader, { documentId: changing })).statusCode).toBe(405);
    expect(told(await post(reader, { documentId: changing }))).toMatchObject({
      status: 403,
      code: 'NOT_ALLOWED',
    });
  });

  test('and its text together are taken when they fit', async () => {
    const variables = { id: 'tarn-sennit-1' };
    expect((await post(reader, { documentId, query: OWN, variables })).statusCode).toBe(200);
    const other = await post(reader, { documentId, query: `${OWN} `, variables });
    expect(told(other)).toMatchObject({ status: 400, code: 'BAD_INPUT', errors: 1 });
    expect(other.json().errors[0].message).toContain(documentIdOf(`${OWN} `));
  });
});

describe('an unknown document', () => {
  const never = `sha256:${'0'.repeat(64)}`;
  const ASKED: readonly (readonly [string, string, string])[] = [
    [never, 'UNKNOWN_DOCUMENT', 'send its text as query'],
    ['0123456789abcdef0123456789abcdef', 'UNKNOWN_DOCUMENT', 'write documentId as sha256:'],
    ['x-ours:1', 'UNKNOWN_DOCUMENT', 'write documentId as sha256:'],
    ['sha256:12', 'BAD_INPUT', '64 hexadecimal digits'],
    [documentIdOf(OWN).replace(/[\da-f]+$/u, (hex) => hex.toUpperCase()), 'BAD_INPUT', 'in lower case'],
    ['', 'UNKNOWN_DOCUMENT', 'write documentId as sha256:'],
    ['constructor', 'UNKNOWN_DOCUMENT', 'write documentId as sha256:'],
  ];
  test.each(ASKED)('%s: %s with a message that says what to do', async (documentId, code, words) => {
    for (const response of [await get(reader, { documentId }), await post(reader, { documentId })]) {
      expect(told(response)).toEqual({ status: 400, data: undefined, errors: 1, code });
      const [{ message }] = response.json().errors;
      expect(message).toContain(words);
      expect(message).not.toMatch(/undefined|null/u);
    }
    const old = await post(reader, { documentId }, 'application/json');
    expect([old.statusCode, old.json().errors[0].extensions.code]).toEqual([200, code]);
  });

  test('is the question of a feed that readers do not see, as if nobody had stored it', async () => {
    const documentId = documentIdOf(HIDDEN);
    expect(told(await post(desk, { documentId }))).toMatchObject({ status: 200 });
    const { body: hidden } = await post(reader, { documentId });
    const { body: absent } = await post(reader, { documentId: never });
    expect(hidden.replaceAll(documentId, never)).toBe(absent);
  });

  test('of a form that is not text is refused, and so is nothing at all', async () => {
    expect((await post(reader, { documentId: 7 })).json().errors[0].message).toContain(
      'documentId is a number',
    );
    expect((await post(reader, {})).json().errors[0].message).toContain('query is missing');
  });
});

describe('where only known documents are answered', () => {
  test('a reader gets these, as text too, and no other', async () => {
    const variables = { id: 'tarn-sennit-1' };
    expect((await post(held, { query: OWN, variables })).statusCode).toBe(200);
    expect((await post(held, { documentId: documentIdOf(OWN), variables })).statusCode).toBe(200);
    for (const query of ['{ archive { devices  } }', '{ __schema { types { name } } }', HIDDEN, '{'])
      for (const response of [await post(held, { query }), await get(held, { query })])
        expect(told(response)).toEqual({ status: 403, data: undefined, errors: 1, code: 'DOCUMENTS_ONLY' });
  });

  test('whoever is at the desk asks anything', async () => {
    expect((await post(heldDesk, { query: '{ archive { devices  } }' })).statusCode).toBe(200);
  });
});

describe('a folder of documents', () => {
  const folder = mkdtempSync(join(tmpdir(), 'documents-'));
  afterAll(() => rmSync(folder, { recursive: true }));
  const filled = (name: string, files: Record<string, string | Buffer>) => {
    mkdirSync(join(folder, name));
    for (const [file, text] of Object.entries(files)) writeFileSync(join(folder, name, file), text);
    return join(folder, name);
  };

  test('gives each file by the digest of its text, with the last line end and without', () => {
    const found = documentsIn(filled('good', { 'a.graphql': FEED, 'b.graphql': OWN, 'notes.md': 'no' }));
    const texts = [FEED, FEED.trimEnd(), OWN, `${OWN}\n`];
    expect([...found]).toEqual(texts.map((text) => [documentIdOf(text), text]));
  });

  test('is refused with everything that is wrong in it', () => {
    const bad = filled('bad', {
      'a.graphql': '{\n  archive { devizes }\n}',
      'b.graphql': '{',
      'c.graphql': Buffer.from([0x7b, 0xff]),
    });
    let problems: unknown;
    try {
      documentsIn(bad);
    } catch (error) {
      problems = (error as { problems: unknown }).problems;
    }
    expect(problems).toEqual([
      expect.objectContaining({ file: join(bad, 'a.graphql'), line: 2, column: 13 }),
      expect.objectContaining({ file: join(bad, 'b.graphql'), line: 1 }),
      { file: join(bad, 'c.graphql'), what: 'is not UTF-8' },
    ]);
    expect(() => documentsIn(filled('blank', {}))).toThrow('no file that ends in .graphql');
    expect(() => documentsIn(join(folder, 'none'))).toThrow('does not exist');
  });
});
