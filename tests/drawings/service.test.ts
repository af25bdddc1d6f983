import { afterAll, expect, test } from 'vitest';
import { boardDrawing } from '../../src/drawings/boards.ts';
import { blockDiagram } from '../../src/drawings/diagram/diagram.ts';
import { createService } from '../../src/service/create-service.ts';
import { demoArchive } from '../trends/demo.ts';

const archive = await demoArchive();
const app = createService({ archive, audience: 'reader' });
afterAll(() => app.close());

const ADDRESS = '/drawings/board/tarn-sennit-3/a/main.svg';
const ask = async (query: string) =>
  (await app.inject({ method: 'POST', url: '/graphql', payload: { query } })).json();

test('a drawing has an address, an entity tag, and a policy that lets nothing run', async () => {
  const first = await app.inject({ url: ADDRESS });
  expect(first.statusCode).toBe(200);
  expect(first.body).toBe(boardDrawing(archive.state('reader'), 'tarn-sennit-3/a/main').svg);
  expect(first.headers).toMatchObject({
    'content-type': 'image/svg+xml; charset=utf-8',
    'x-content-type-options': 'nosniff',
    'content-security-policy': "default-src 'none'; frame-ancestors 'none'; sandbox",
  });
  // RFC 9110, 13.1.2 and 15.4.5: 304 with the same tag and no content where the tag matches, in weak comparison too.
  const { etag } = first.headers;
  for (const known of [etag, `W/${etag}`, `"other", ${etag}`, '*']) {
    const again = await app.inject({ url: ADDRESS, headers: { 'if-none-match': String(known) } });
    expect([again.statusCode, again.body, again.headers.etag]).toEqual([304, '', etag]);
  }
  const other = await app.inject({ url: `${ADDRESS}?side=top&lit=tarn-sennit-3/a/U1&width=120` });
  expect(other.statusCode).toBe(200);
  expect(other.headers.etag).not.toBe(etag);
  expect(other.body).toContain('width="120mm"');
});

test('so has the block diagram of a specimen', async () => {
  const url = '/drawings/diagram/tarn-sennit-3/a.svg';
  const first = await app.inject({ url });
  expect(first.statusCode).toBe(200);
  expect(first.body).toBe((await blockDiagram(archive.state('reader'), 'tarn-sennit-3/a')).svg);
  expect(first.headers['content-security-policy']).toContain("default-src 'none'");
  const again = await app.inject({ url, headers: { 'if-none-match': String(first.headers.etag) } });
  expect([again.statusCode, again.body]).toEqual([304, '']);
  const other = await app.inject({ url: `${url}?passives=true&lit=tarn-sennit-3/a/C1` });
  expect(other.statusCode).toBe(200);
  expect(other.body).toContain('data-of="C3"');
  const board = await app.inject({ url: '/drawings/diagram/tarn-sennit-3/a/sense.svg' });
  expect(board.body).toBe((await blockDiagram(archive.state('reader'), 'tarn-sennit-3/a/sense')).svg);
});

test.each([
  ['/drawings/board/tarn-sennit-3/a/nothing.svg', 404],
  ['/drawings/board/tarn-sennit-3/a/main', 404],
  [`${ADDRESS}?side=left`, 400],
  [`${ADDRESS}?width=1e9`, 400],
  [`${ADDRESS}?width=wide`, 400],
  [`${ADDRESS}?lit=dunmarrow-leadline-1/a/U1`, 400],
  ['/drawings/board/%00.svg', 404],
  ['/drawings/diagram/tarn-sennit-3/nothing.svg', 404],
  ['/drawings/diagram/tarn-sennit-3/a.svg?passives=1', 400],
  ['/drawings/diagram/tarn-sennit-3/a.svg?lit=dunmarrow-leadline-1/a/U1', 400],
])('%s is refused with %d', async (url, status) => {
  const { statusCode, headers } = await app.inject({ url });
  expect(statusCode).toBe(status);
  expect(headers['content-type']).toContain('json');
});

test('GraphQL gives the drawing of a board, of boards side by side and of a match', async () => {
  const { data, errors } = await ask(`{
    node(id: "tarn-sennit-3/a/main") { ... on Board { blockDiagram { title } drawing(side: TOP, lit: ["tarn-sennit-3/a/U1"]) { title description svg } } }
    diagram: node(id: "tarn-sennit-3/a") { ... on Specimen { blockDiagram(lit: ["tarn-sennit-3/a/U1"]) { title description svg } } }
    boardsSideBySide(ids: ["tarn-sennit-3", "tarn-sennit-4"]) { title svg }
    findPattern(text: "MATCH (x:PressureSensor)~[:CONNECTS]~(p:Processor) RETURN x, p", first: 1) {
      nodes { matches(first: 1) { nodes { bindings { ids } drawings { title svg } } } }
    }
  }`);
  expect(errors).toBeUndefined();
  expect(data.node.drawing.description).toContain('Picked: U1.');
  expect(data.diagram.blockDiagram.description).toContain('U1 with U2 (SPI, 4 lines)');
  expect(data.diagram.blockDiagram.svg).toContain('picked');
  expect(data.node.blockDiagram.title).toContain('Main board');
  expect(data.boardsSideBySide.svg).toMatch(/^<svg /u);
  expect(data.findPattern.nodes[0].matches.nodes[0].drawings[0].svg).toContain('picked');
});
