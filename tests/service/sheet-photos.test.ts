import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Archive } from '../../src/archive.ts';
import { sheetOf } from '../../src/questions/evidence.ts';
import { createService } from '../../src/service/create-service.ts';
import { demoWithPhotos } from '../photos/demo-photos.ts';
import { pixelsOf } from '../photos/pictures.ts';

const PUBLICATION = 'two-ends-of-a-board';
let archive: Archive;
let app: ReturnType<typeof createService>;
beforeAll(async () => {
  ({ archive } = await demoWithPhotos());
  app = createService({ archive, audience: 'reader' });
});
afterAll(() => app.close());

const page = async () => (await app.inject({ url: `/publications/${PUBLICATION}/sheet` })).body;
const figuresIn = (body: string) =>
  [...body.matchAll(/<figure>.*?<\/figure>/gsu)].map(([text]) => ({
    text,
    src: /<img src="([^"]*)"/u.exec(text)?.[1] ?? '',
    alt: /alt="([^"]*)"/u.exec(text)?.[1] ?? '',
    credit: /Photo: ([^<]*)/u.exec(text)?.[1] ?? '',
  }));

describe('the checking sheet shows the photos of what supports a sentence', () => {
  test('with caption, credit, licence, text for who does not see them, and sizes that keep the page still', async () => {
    const figures = figuresIn(await page());
    expect(figures.length).toBeGreaterThan(5);
    for (const { text, src, alt, credit } of figures) {
      expect(alt).toMatch(/\S/u);
      expect(credit).toMatch(/, (?:CC|CC0)-?[\w.-]+$/u);
      expect(text).toContain('loading="lazy"');
      const [, width, height] = /width="(\d+)" height="(\d+)"/u.exec(text) ?? [];
      const { statusCode, headers, rawPayload } = await app.inject({ url: src });
      expect([statusCode, headers['content-type']], src).toEqual([200, 'image/jpeg']);
      const { width: wide, height: high } = await pixelsOf(rawPayload);
      expect([wide, high], src).toEqual([Number(width), Number(height)]);
      const full = /<a href="([^"]*)">/u.exec(text)?.[1] ?? '';
      expect((await app.inject({ url: full })).statusCode, full).toBe(200);
    }
  });

  test('under the policy that all pages have: nothing from elsewhere, no style or script in it', async () => {
    const { headers, body } = await app.inject({ url: `/publications/${PUBLICATION}/sheet` });
    expect(headers['content-security-policy']).toContain("img-src 'self' data:");
    expect(body).not.toMatch(/style=|<style|onerror|https?:[^"]*\.(?:jpg|webp|png)/u);
    const css = (await app.inject({ url: '/assets/site.css' })).body;
    const print = css.slice(css.indexOf('@media print'));
    expect(print).toMatch(/\.evidence-photos figure,[^{]*\{\s*break-inside: avoid/u);
  });

  test('and GraphQL names the same, in the same order, with what each part shows', async () => {
    const query = `{ publication(id: "${PUBLICATION}") { claims { photos { address fragment photo { id credit licence } of { id } } } } }`;
    const { data } = (await app.inject({ method: 'POST', url: '/graphql', payload: { query } })).json();
    const named = data.publication.claims.flatMap(({ photos }: { photos: { address: string }[] }) => photos);
    expect(named.map(({ address }: { address: string }) => address)).toEqual(
      figuresIn(await page()).map(({ src }) => src),
    );
    const { sentences } = await sheetOf(archive.state('reader'), PUBLICATION);
    const parts = sentences.flatMap(({ photos }) => photos);
    expect(named.map(({ of }: { of: { id: string } | null }) => of?.id)).toEqual(
      parts.map(({ part }) => part?.of),
    );
    for (const [i, { fragment }] of named.entries())
      expect(fragment).toBe(parts[i].part ? `xywh=percent:${parts[i].part?.box.join(',')}` : null);
  });
});

test('a part of a photo has what the region has, and a rim; of what has no region there is none', async () => {
  const url = '/photos/thovane-calcar-2/a/photo-main-top/of';
  const { body } = await app.inject({ url: '/photos/thovane-calcar-2/a/photo-main-top/info.json' });
  const { width } = JSON.parse(body);
  const view = archive.state('reader');
  const region = view
    .specimen('thovane-calcar-2/a')
    ?.dossier.photos.find(({ id }) => id === 'photo-main-top')
    ?.regions.find(({ of }) => of === 'U1');
  const part = await pixelsOf((await app.inject({ url: `${url}/U1.jpg` })).rawPayload);
  const own = ((region?.xywh?.[2] ?? 0) * width) / 100;
  expect(part.width / own).toBeGreaterThan(1.5);
  expect(part.width / own).toBeLessThan(2);
  for (const name of ['U99', 'nothing', '%2e%2e'])
    expect((await app.inject({ url: `${url}/${name}.jpg` })).statusCode).toBe(404);
});
