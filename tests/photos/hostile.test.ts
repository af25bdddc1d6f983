import { afterAll, expect, test } from 'vitest';
import { inspectApart } from '../../src/photos/inspect-apart.ts';
import { testSeed } from '../random.ts';
import { type HostilePhoto, hostilePhotos } from './hostile-photos.ts';
import { PhotoService } from './photo-service-process.ts';
import { pictureOf, sha256Of } from './pictures.ts';

// CASEBACK_HOSTILE_PHOTOS=all sends all of them; otherwise a few of each kind are sent, those that cost most among them. How long each
// takes and what it holds up is measured by the benchmark (tests/bench/photos.ts).

const ALL = process.env.CASEBACK_HOSTILE_PHOTOS === 'all';
const OF_EACH = 4;

/** Those that are tried in this run. */
function triedOf(photos: readonly HostilePhoto[]): readonly HostilePhoto[] {
  if (ALL) return photos;
  return [...Map.groupBy(photos, ({ kind }) => kind).values()].flatMap((some) => {
    const step = Math.max(1, Math.floor(some.length / OF_EACH));
    return some.filter((_, i) => i % step === 0);
  });
}

let service: PhotoService | undefined;
afterAll(() => service?.close());

test('there are enough of them, of every kind, and no two alike', () => {
  const photos = hostilePhotos(testSeed());
  expect(photos.length).toBeGreaterThanOrEqual(60);
  expect(new Set(photos.map(({ name }) => name)).size).toBe(photos.length);
});

test('each is refused with a code, or taken as the picture that it is; what is refused leaves nothing', async () => {
  const tried = await Promise.all(
    triedOf(hostilePhotos(testSeed())).map(async (one) => ({ ...one, content: await one.make() })),
  );
  service = await PhotoService.started(
    // No dossier may name the digest of an empty file.
    tried.map(({ content }, at) => sha256Of(content.length > 0 ? content : Buffer.from([at]))),
  );
  const plain = await pictureOf('jpeg');
  expect(await service.put(0, plain)).toMatchObject({ status: 409 });
  for (const [at, one] of tried.entries()) {
    const [head, files] = [await service.head(), service.files()];
    const { status, body } = await service.put(at, one.content);
    const isTaken = status === 201;
    if (one.outcome !== 'either')
      expect([one.name, status, isTaken], body.message).toEqual([one.name, status, one.outcome === 'taken']);
    if (isTaken) continue;
    expect([400, 413], `${one.name}: ${status}`).toContain(status);
    expect(['BAD_INPUT', 'TOO_LARGE'], one.name).toContain(body.code);
    expect(body.message, one.name).toMatch(/\S.{10,}/u);
    expect(await service.head(), one.name).toBe(head);
    expect(service.files(), one.name).toEqual(files);
  }
});

test('more photos than may wait are asked to come again', async () => {
  const content = await pictureOf('jpeg');
  const answers = await Promise.allSettled(
    Array.from({ length: 12 }, () => inspectApart(Buffer.from(content))),
  );
  const refused = answers.flatMap((answer) => (answer.status === 'rejected' ? [answer.reason.code] : []));
  expect(refused).toEqual(Array(4).fill('UNAVAILABLE'));
});
