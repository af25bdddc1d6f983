import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { boardDrawing } from '../../src/drawings/boards.ts';
import { blockDiagram } from '../../src/drawings/diagram/diagram.ts';
import { createService } from '../../src/service/create-service.ts';
import { demoWithPhotos } from '../photos/demo-photos.ts';
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

describe('with photos beneath', () => {
  let withPhotos: ReturnType<typeof createService>;
  beforeAll(async () => {
    withPhotos = createService({ archive: (await demoWithPhotos()).archive, audience: 'reader' });
  });
  afterAll(() => withPhotos.close());
  const PHOTO = '/photos/tarn-sennit-3/a/photo-main-top';

  test('a drawing holds them, under a policy that lets them be shown and nothing be loaded', async () => {
    const { statusCode, headers, body } = await withPhotos.inject({ url: `${ADDRESS}?photoStrength=60` });
    expect(statusCode).toBe(200);
    expect(headers['content-security-policy']).toBe(
      "default-src 'none'; frame-ancestors 'none'; sandbox; img-src data:",
    );
    expect(body.match(/xlink:href="data:image\/jpeg;base64,/gu)).toHaveLength(2);
    const asked = `${ADDRESS}?photoStrength=60&side=top&photos=tarn-sennit-3/a/photo-main-top`;
    const one = await withPhotos.inject({ url: asked });
    expect(one.body.match(/xlink:href="data:/gu)).toHaveLength(1);
    for (const wrong of ['photoStrength=x', 'photoStrength=101', 'photos=tarn-sennit-3/a/photo-main-top'])
      expect((await withPhotos.inject({ url: `${ADDRESS}?${wrong}` })).statusCode, wrong).toBe(400);
  });

  test('GraphQL has them too, in itself or by addresses of the service, where they are', async () => {
    const query = `{ node(id: "tarn-sennit-3/a/main") { ... on Board {
      embedded: drawing(photoStrength: 60) { svg }
      linked: drawing(photoStrength: 60, pictures: LINKED, photos: ["tarn-sennit-3/a/photo-main-top"]) { svg description } } } }`;
    const { data } = (
      await withPhotos.inject({ method: 'POST', url: '/graphql', payload: { query } })
    ).json();
    const { embedded, linked } = data.node;
    expect(embedded.svg).toContain('xlink:href="data:image/jpeg;base64,');
    expect(linked.svg).toContain(`xlink:href="${PHOTO}/board.jpg"`);
    expect(linked.svg).not.toContain('"data:');
    expect(linked.description).toContain(
      'No photo lies beneath the bottom side: none of those named shows it.',
    );
    const picture = await withPhotos.inject({ url: `${PHOTO}/board.jpg` });
    expect([picture.statusCode, picture.headers['content-type']]).toEqual([200, 'image/jpeg']);
    // The same bytes as those that stand in the drawing.
    expect(embedded.svg).toContain(picture.rawPayload.toString('base64'));
    const again = await withPhotos.inject({
      url: `${PHOTO}/board.jpg`,
      headers: { 'if-none-match': String(picture.headers.etag) },
    });
    expect(again.statusCode).toBe(304);
    const none = await withPhotos.inject({ url: '/photos/tarn-sennit-3/a/never-was/board.jpg' });
    expect(none.statusCode).toBe(404);
  });
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
