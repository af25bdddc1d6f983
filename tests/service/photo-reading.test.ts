import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { Archive } from '../../src/archive.ts';
import { photoReadingJson } from '../../src/cli/answers/photo-reading.ts';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import { inspectPhoto } from '../../src/photos/inspect.ts';
import type { PhotosAtHand } from '../../src/photos/kept.ts';
import { Photos } from '../../src/photos/photos.ts';
import { readPhoto } from '../../src/questions/photo-reading.ts';
import { type ServedPeople, servePeople } from '../access/people-served.ts';
import { CHIP, chipPhoto } from '../photo-reading/chip-photo.ts';
import { MemoryPhotos } from '../photos/memory-store.ts';
import { CATALOGUE } from './invented.ts';
import { type Answer, BY, documentOf } from './serving.ts';

// All invented. One chip on a photo that a program can read, one on a photo without a file, one on a photo of a draft.

const marked = await inspectPhoto(await chipPhoto(['4T10', '903']));
const turned = await inspectPhoto(await chipPhoto(['4T60'], 90));
const askew = await inspectPhoto(await chipPhoto(['4T60', '482'], 30));
const blank = await inspectPhoto(await chipPhoto([]));
const PHOTOS: PhotosAtHand = new Map([marked, turned, askew, blank].map((one) => [one.file.sha256, one]));

const photo = (id: string, sha256: string, of: string, xywh: readonly number[] = CHIP) => ({
  ...{ id, sha256, credit: 'I. Example', licence: 'CC-BY-4.0' },
  regions: [{ of, xywh }],
});
const dossier = (device: string, visibility: 'published' | 'draft') => ({
  caseback: 'dossier/1',
  visibility,
  device: { id: device, name: device, maker: 'tarn', released: '2019', bodySite: 'wrist', invented: true },
  specimen: { id: 'a' },
  teardown: { on: '2025-07-05', by: 'I. Example' },
  boards: [{ id: 'main', kind: 'rigid', sides: ['top'], outline: { length: 30, width: 20 } }],
  components: ['U1', 'U2', 'U3', 'U4', 'U5', 'U6'].map((id) => ({
    ...{ id, board: 'main', side: 'top' },
    ...(id === 'U6' ? { rotation: 30 } : {}),
  })),
  photos: [
    photo('marked', marked.file.sha256, 'U1'),
    photo('turned', turned.file.sha256, 'U2'),
    photo('askew', askew.file.sha256, 'U6'),
    photo('blank', blank.file.sha256, 'U3'),
    photo('no-file', 'ab12'.repeat(16), 'U4'),
  ],
});

let served: ServedPeople;
let archive: Archive;
const folder = mkdtempSync(join(tmpdir(), 'caseback-renditions-'));
beforeAll(async () => {
  const photos = new Photos(new MemoryPhotos(), folder);
  archive = await Archive.open(new MemoryJournal(), undefined, undefined, photos);
  const records = [CATALOGUE, dossier('tarn-shown', 'published'), dossier('tarn-kept-back', 'draft')];
  await archive.importDocuments(
    records.map((one) =>
      one === CATALOGUE ? documentOf({ ...CATALOGUE, publications: [] }) : documentOf(one),
    ),
    BY,
    { photos: PHOTOS },
  );
  served = await servePeople({ archive } as never);
});
afterAll(async () => {
  await served.close();
  rmSync(folder, { recursive: true, force: true });
});

async function ask(role: keyof ServedPeople['tokens'] | undefined, query: string): Promise<Answer> {
  const response = await served.app.inject({
    method: 'POST',
    url: '/graphql',
    headers: {
      accept: 'application/graphql-response+json',
      ...(role ? { authorization: `Bearer ${served.tokens[role]}` } : {}),
    },
    payload: { query },
  });
  return response.json() as Answer;
}
const READING = `{
  photo { id } region turned component { id }
  lines { characters { text confidence nothing alternatives { text probability } } }
  suggestion { by marking region turned }
  ifConfirmed { none recordedNone parts { part { id } probability recordedProbability bits } }
  others { photo { id } marking }
}`;
const read = (role: keyof ServedPeople['tokens'] | undefined, given: string) =>
  ask(role, `{ readPhoto(${given}) ${READING} }`);
const textIn = ({
  lines,
}: {
  readonly lines: readonly { readonly characters: readonly { readonly text: string }[] }[];
}) => lines.map(({ characters }) => characters.map(({ text }) => text).join(''));
const codeOf = ({ errors }: Answer) => errors?.[0].extensions.code;

describe('a marking on a photo', () => {
  test('is suggested with what the component would be, and nothing is recorded', async () => {
    const before = archive.version;
    const { data, errors } = await read('reader', 'of: "tarn-shown/a/U1"');
    expect(errors).toBeUndefined();
    const { lines, ifConfirmed, suggestion, ...reading } = data.readPhoto;
    expect(reading).toMatchObject({
      photo: { id: 'tarn-shown/a/marked' },
      region: 'xywh=percent:30,30,24,22',
      turned: 0,
      component: { id: 'tarn-shown/a/U1' },
      others: [],
    });
    expect(lines).toHaveLength(2);
    expect(suggestion).toMatchObject({ region: 'xywh=percent:30,30,24,22', turned: 0 });
    expect(
      suggestion.marking.replaceAll(/\[[^\]]*1[^\]]*\]/gu, '1').replaceAll(/\[[^\]]*0[^\]]*\]/gu, '0'),
    ).toBe('4T10\n903');
    const [first] = ifConfirmed.parts;
    expect(first.part.id).toBe('quistle/QWR4T10');
    expect(first.bits).toBeGreaterThan(5);
    expect(first.probability).toBeGreaterThan(first.recordedProbability);
    const { data: recorded } = await ask('reader', '{ candidates(component: "tarn-shown/a/U1") { none } }');
    expect(recorded.candidates.none).toBe(ifConfirmed.recordedNone);
    expect(archive.version).toBe(before);
  });

  test('is read whichever way up it lies', async () => {
    const { data } = await read('contributor', 'of: "tarn-shown/a/U2"');
    expect(data.readPhoto).toMatchObject({ turned: 90 });
    expect(textIn(data.readPhoto)).toEqual([expect.stringMatching(/^4T6[0O]$/u)]);
  });

  test('is read along the axes of the component, where its rotation is recorded', async () => {
    const { data } = await read('contributor', 'of: "tarn-shown/a/U6"');
    expect(data.readPhoto.turned).toBe(30);
    expect(textIn(data.readPhoto)).toEqual([expect.stringMatching(/^4[T7]6[0O]$/u), '482']);
  });

  test('is told alike on the command line', async () => {
    const { data } = await read('contributor', 'of: "tarn-shown/a/U1"');
    const own = photoReadingJson(
      await readPhoto(archive.state('desk'), archive.photos, { of: 'tarn-shown/a/U1' }),
      5,
    );
    const { photo, component: _, ifConfirmed, ...rest } = data.readPhoto;
    expect(JSON.parse(JSON.stringify(own))).toEqual({
      ...rest,
      photo: photo.id,
      ifConfirmed: {
        ...ifConfirmed,
        parts: ifConfirmed.parts.map(({ part, ...one }: { part: { id: string } }) => ({
          ...one,
          part: part.id,
        })),
      },
    });
  });

  test('is not suggested where nothing legible is', async () => {
    const { data } = await read('contributor', 'of: "tarn-shown/a/U3"');
    expect(data.readPhoto).toMatchObject({ suggestion: null, ifConfirmed: null });
  });

  test('is recorded when a person confirms it, with what was suggested', async () => {
    const { data } = await read('contributor', 'of: "tarn-shown/a/U1"');
    const { by, marking, region } = data.readPhoto.suggestion;
    const record = (role: 'reader' | 'contributor') =>
      ask(
        role,
        `mutation { recordObservation(input: { specimen: "tarn-shown/a", reason: "read on the photo", observation: { id: "on-photo", about: ["U1"], kind: MARKING, marking: "4T10\\n9?3", photo: "marked", suggestion: { by: "${by}", marking: ${JSON.stringify(marking)}, region: "${region}", turned: 0 } } }) { observation { marking photo { id } suggestion { by marking region turned } } } }`,
      );
    expect(codeOf(await record('reader'))).toBe('NOT_ALLOWED');
    const { data: done, errors } = await record('contributor');
    expect(errors).toBeUndefined();
    expect(done.recordObservation.observation).toEqual({
      marking: '4T10\n9?3',
      photo: { id: 'tarn-shown/a/marked' },
      suggestion: { by, marking, region, turned: 0 },
    });
  });

  test('a suggestion without its photo is refused', async () => {
    const { errors } = await ask(
      'contributor',
      'mutation { recordObservation(input: { specimen: "tarn-shown/a", reason: "y", observation: { id: "no-photo", about: ["U1"], kind: MARKING, marking: "4T10", suggestion: { by: "x", marking: "4T10" } } }) { entry { actor } } }',
    );
    expect(errors?.[0].message).toMatch(/suggest/u);
  });
});

describe('what cannot be read is said', () => {
  test.each([
    ['of: "tarn-shown/a/U5"', 'BAD_INPUT', /No region of a photo shows tarn-shown\/a\/U5/u],
    ['of: "tarn-shown/a/U4"', 'NOT_FOUND', /its file is not here/u],
    ['of: "tarn-shown/a/marked"', 'BAD_INPUT', /region is missing/u],
    ['of: "tarn-shown/a/marked", region: [10, 10, 0.5, 0.5]', 'BAD_INPUT', /has 4 × 3 pixels, too few/u],
    ['of: "tarn-shown/a/marked", region: [120, 10, 5, 5]', 'BAD_INPUT', /lies beside the photo/u],
    ['of: "tarn-shown/a/marked", region: [1, 2, 3]', 'BAD_INPUT', /region is 1,2,3/u],
    ['of: "tarn-shown/a/marked", region: [1, 2, -3, 4]', 'BAD_INPUT', /region is 1,2,-3,4/u],
    ['of: "tarn-shown/a/U1", turned: 360', 'BAD_INPUT', /turned is 360/u],
    ['of: "tarn-shown/a/U1", region: [1, 2, 3, 4]', 'BAD_INPUT', /photo is missing/u],
    ['of: "tarn-shown/a/U9"', 'NOT_FOUND', /./u],
  ])('%s', async (given, code, message) => {
    const { errors } = await read('contributor', given);
    expect(errors?.[0].message).toMatch(message);
    expect(errors?.[0].extensions.code).toBe(code);
  });
});

describe('who may have photos read', () => {
  test('nobody who has not signed in, whatever is asked', async () => {
    for (const id of ['tarn-shown/a/U1', 'tarn-kept-back/a/U1', 'never-was/a/U1'])
      expect(codeOf(await read(undefined, `of: "${id}"`))).toBe('SIGNED_OUT');
  });

  test('a photo of a draft is one that never was, for a reader', async () => {
    const told = async (id: string) =>
      JSON.stringify((await read('reader', `of: "${id}", region: [30, 30, 24, 22]`)).errors?.[0]).replaceAll(
        id,
        'ID',
      );
    expect(await told('tarn-kept-back/a/marked')).toBe(await told('tarn-neverwas/a/marked'));
    expect((await read('contributor', 'of: "tarn-kept-back/a/U1"')).errors).toBeUndefined();
  });
});
