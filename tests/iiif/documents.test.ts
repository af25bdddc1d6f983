import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import jsonld from 'jsonld';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type Served, serve } from '../service/serving.ts';
import { OUTLINE, PICTURES, photoArchive } from './archive.ts';
import { againstPresentation } from './schemas.ts';

let reader: Served;
let desk: Served;
beforeAll(async () => {
  const archive = await photoArchive();
  reader = await serve({ audience: 'reader' }, archive);
  desk = await serve({ audience: 'desk' }, archive);
});
afterAll(async () => {
  await reader.app.close();
  await desk.close();
});

const get = (url: string, headers: Record<string, string> = {}) =>
  reader.app.inject({ url, headers: { host: 'localhost', ...headers } });
// biome-ignore lint/suspicious/noExplicitAny: tests read deep into documents whose form the standard promises.
const json = async (url: string): Promise<any> => {
  const response = await get(url);
  expect(response.statusCode, `${url}: ${response.body}`).toBe(200);
  return response.json();
};

const BASE = 'http://localhost';
const SPECIMEN = `${BASE}/photos/tarn-sennit-3/a`;
const at = (address: string) => address.replace(BASE, '');

describe('Outside check: IIIF Presentation API 3.0, by the schema of its validator', () => {
  test('the schema tells right from wrong', async () => {
    const manifest = await json('/photos/tarn-sennit-3/a/manifest.json');
    expect(againstPresentation(manifest)).toEqual([]);
    for (const broken of [
      { ...manifest, label: 'words without a language' },
      { ...manifest, items: [{ ...manifest.items[0], width: 0 }] },
      { ...manifest, rights: 'CC-BY-4.0' },
      { ...manifest, requiredStatement: { label: { en: ['Photo'] } } },
    ])
      expect(againstPresentation(broken)).not.toEqual([]);
  });

  test.each([
    '/photos/tarn-sennit-3/a/manifest.json',
    '/photos/tarn-sennit-3/collection.json',
    '/photos/collection.json',
  ])('%s', async (url) => {
    const document = await json(url);
    expect(againstPresentation(document)).toEqual([]);
    expect(document.id).toBe(`${BASE}${url}`);
    expect(document['@context']).toBe('http://iiif.io/api/presentation/3/context.json');
  });
});

describe('the manifest of a specimen', () => {
  test('has a canvas for each photo whose file is here, painted with its picture', async () => {
    const { items, label, partOf } = await json('/photos/tarn-sennit-3/a/manifest.json');
    expect(label).toEqual({ none: ['Tarn Sennit 3, specimen a'] });
    expect(partOf[0].id).toBe(`${BASE}/photos/tarn-sennit-3/collection.json`);
    expect(
      items.map((one: { id: string; width: number; height: number }) => [one.id, one.width, one.height]),
    ).toEqual([
      // Turned by its orientation: as it is seen.
      [`${SPECIMEN}/top/canvas`, 1000, 1500],
      [`${SPECIMEN}/bottom/canvas`, 640, 480],
      [`${SPECIMEN}/lid/canvas`, 200, 100],
    ]);
    for (const canvas of items) {
      const [{ body, target }] = canvas.items[0].items;
      expect(target).toBe(canvas.id);
      expect([body.width, body.height]).toEqual([canvas.width, canvas.height]);
      const information = await json(`${at(body.service[0].id)}/info.json`);
      expect(information).toMatchObject({
        id: body.service[0].id,
        type: 'ImageService3',
        width: canvas.width,
      });
      for (const picture of [body, canvas.thumbnail[0]]) {
        const response = await get(at(picture.id));
        expect([response.statusCode, response.headers['content-type']], picture.id).toEqual([
          200,
          picture.format,
        ]);
        const { default: sharp } = await import('sharp');
        const { width, height } = await sharp(response.rawPayload).metadata();
        expect([width, height], picture.id).toEqual([picture.width, picture.height]);
      }
    }
  });

  test('gives credit and licence: an address where IIIF admits one, else words', async () => {
    const { items, requiredStatement, rights, metadata } = await json(
      '/photos/tarn-sennit-3/a/manifest.json',
    );
    expect(requiredStatement).toEqual({
      label: { en: ['Photos'] },
      value: {
        none: [
          'A. Example (CC-BY-4.0)',
          '<i>B. Example</i> (May be shown with the article.)',
          'A. Example (http://rightsstatements.org/page/InC/1.0/)',
        ],
      },
    });
    // Of photos under several licences there is no one address.
    expect(rights).toBeUndefined();
    const entries = Object.fromEntries(
      metadata.map((one: { label: { en: string[] }; value: object }) => [one.label.en[0], one.value]),
    );
    expect(entries).toMatchObject({
      Device: { none: ['Tarn Sennit 3'] },
      Maker: { none: ['Tarn'] },
      'First sold': { none: ['2021-05'] },
      'Opened by': { none: ['I. Example'] },
      Note: { en: ['Invented for the demonstration: no such device exists.'] },
      Licence: { none: ['May be shown with the article.'] },
    });
    expect(items.map((one: { rights?: string }) => one.rights)).toEqual([
      'http://creativecommons.org/licenses/by/4.0/',
      undefined,
      'http://rightsstatements.org/vocab/InC/1.0/',
    ]);
  });

  test('has regions where they are, in pixels of the canvas, with what they show', async () => {
    const { items } = await json('/photos/tarn-sennit-3/a/manifest.json');
    const [top, bottom, lid] = items.map(
      (one: { annotations?: { items: unknown[] }[] }) => one.annotations?.[0].items,
    );
    const plain = top.map((one: { body: { value: string }; target: string }) => [one.body.value, one.target]);
    expect(plain).toEqual([
      ['U1: quistle/QWR4T10 (70 %)', `${SPECIMEN}/top/canvas#xywh=250,600,100,75`],
      ['U2, not identified', `${SPECIMEN}/top/canvas#xywh=0,0,1000,1500`],
      // 33.33 % and 53.58 % of 1000, 50.5 % and 60.5 % of 1500, to whole pixels.
      ['Step 3: Lift the board out.', `${SPECIMEN}/top/canvas#xywh=333,758,203,150`],
    ]);
    expect(bottom[0]).toMatchObject({
      body: { value: 'J1: Connector' },
      target: { source: { id: `${SPECIMEN}/bottom/canvas` }, selector: { type: 'SvgSelector' } },
    });
    expect(lid).toBeUndefined();
  });

  test('no text that looks like HTML is taken for it (section 4.4: a space behind it)', async () => {
    const { items } = await json('/photos/tarn-sennit-3/a/manifest.json');
    expect(items[0].label.none).toEqual(['<b>Top</b> & "bare"']);
    const { asRecorded } = await import('../../src/iiif/words.ts');
    expect(asRecorded('<script>alert(1)</script>')).toEqual({ none: ['<script>alert(1)</script> '] });
    expect(asRecorded('a < b > c \ud800')).toEqual({ none: ['a < b > c \ufffd'] });
  });

  test('and nothing at all where there is no photo to show', async () => {
    const without = await get('/photos/tarn-sennit-3/b/manifest.json');
    expect(without.statusCode).toBe(404);
    expect(
      (await json('/photos/tarn-sennit-3/collection.json')).items.map(({ id }: { id: string }) => id),
    ).toEqual([`${SPECIMEN}/manifest.json`]);
  });
});

describe('collections', () => {
  test('lead from the archive to devices and manifests, all of which answer', async () => {
    const all = await json('/photos/collection.json');
    expect(all.items.map(({ id, type }: { id: string; type: string }) => [id, type])).toEqual([
      [`${BASE}/photos/tarn-sennit-3/collection.json`, 'Collection'],
    ]);
    const device = await json(at(all.items[0].id));
    const manifest = await json(at(device.items[0].id));
    expect(manifest.type).toBe('Manifest');
  });

  test('of many devices are parted into pages', async () => {
    const { archiveCollection, DEVICES_A_PAGE } = await import('../../src/iiif/collection.ts');
    const { photoPlaceAt } = await import('../../src/iiif/addresses.ts');
    const [row] = reader.archive.state('reader').specimensOf('tarn-sennit-3');
    const ids = Array.from(
      { length: 2 * DEVICES_A_PAGE + 1 },
      (_, i) => `device-${String(i).padStart(3, '0')}`,
    );
    // A state of so many devices, each with the specimen of the one.
    const state = {
      specimenRows: () => ids.map((deviceId) => Object.assign(Object.create(row ?? {}), { deviceId })),
      device: (id: string) => ({ name: `Device ${id}` }),
    } as never;
    const place = photoPlaceAt('https://desk.example.org/');
    const first = await archiveCollection(state, place);
    expect(againstPresentation(first)).toEqual([]);
    const pages = first?.items as { id: string; label: { en: string[] } }[];
    expect(pages.map(({ id, label }) => [id, label.en[0]])).toEqual([
      ['https://desk.example.org/photos/collection.json?page=1', 'Devices 1 to 100 of 201'],
      ['https://desk.example.org/photos/collection.json?page=2', 'Devices 101 to 200 of 201'],
      ['https://desk.example.org/photos/collection.json?page=3', 'Devices 201 to 201 of 201'],
    ]);
    const found = [];
    for (const page of [1, 2, 3]) {
      const document = await archiveCollection(state, place, page);
      expect(againstPresentation(document)).toEqual([]);
      found.push(...((document?.items ?? []) as { id: string }[]).map(({ id }) => id.split('/').at(-2)));
    }
    expect(found).toEqual(ids);
    expect(await archiveCollection(state, place, 4)).toBeUndefined();
    // Of few there are no pages.
    expect((await get('/photos/collection.json?page=1')).statusCode).toBe(404);
    expect((await get('/photos/collection.json?page=x')).statusCode).toBe(400);
  });
});

describe('Outside check: Web Annotation Data Model, by its published context and jsonld', () => {
  const context = JSON.parse(readFileSync(join(import.meta.dirname, '../fixtures/anno.jsonld'), 'utf8'));
  const documentLoader = async (url: string) => {
    if (url !== 'http://www.w3.org/ns/anno.jsonld') throw new Error(`It wants to load ${url}`);
    return { document: context, documentUrl: url };
  };
  const OA = 'http://www.w3.org/ns/oa#';
  const VALUE = 'http://www.w3.org/1999/02/22-rdf-syntax-ns#value';

  const expand = jsonld.expand as unknown as (document: object, options: object) => Promise<unknown[]>;
  // biome-ignore lint/suspicious/noExplicitAny: expanded JSON-LD
  const expanded = async (url: string): Promise<any> =>
    // Safe: what would be dropped in silence is an error.
    (await expand(await json(url), { documentLoader, safe: true }))[0];

  test('every region of a photo is an annotation of its picture', async () => {
    const page = await expanded('/photos/tarn-sennit-3/a/bottom/annotations.json');
    expect(page['@type']).toEqual(['http://www.w3.org/ns/activitystreams#OrderedCollectionPage']);
    const [{ '@list': items }] = page['http://www.w3.org/ns/activitystreams#items'];
    expect(items.map((one: { '@type': string[] }) => one['@type'])).toEqual([
      [`${OA}Annotation`],
      [`${OA}Annotation`],
    ]);
    const [outline, rectangle] = items.map((one: Record<string, unknown[]>) => {
      const [target] = one[`${OA}hasTarget`] as Record<string, { '@id'?: string }[]>[];
      const [selector] = (target?.[`${OA}hasSelector`] ?? []) as unknown as Record<
        string,
        { '@value'?: string }[]
      >[];
      return {
        source: target?.[`${OA}hasSource`]?.[0]?.['@id'],
        kind: (selector?.['@type'] as unknown as string[] | undefined)?.[0],
        value: selector?.[VALUE]?.[0]?.['@value'],
        conformsTo: (
          selector?.['http://purl.org/dc/terms/conformsTo'] as { '@id'?: string }[] | undefined
        )?.[0]?.['@id'],
        about: (one[`${OA}hasBody`] as Record<string, { '@id'?: string }[]>[]).flatMap(
          (body) => body[`${OA}hasSource`]?.[0]?.['@id'] ?? [],
        ),
        says: (one[`${OA}hasBody`] as Record<string, { '@value'?: string }[]>[]).flatMap(
          (body) => body[VALUE]?.[0]?.['@value'] ?? [],
        ),
      };
    });
    expect(rectangle).toEqual({
      source: `${SPECIMEN}/bottom/full/max/0/default.jpg`,
      kind: `${OA}FragmentSelector`,
      value: 'xywh=percent:5,5,90,90',
      conformsTo: 'http://www.w3.org/TR/media-frags/',
      about: ['tag:caseback.invalid,2026:records/tarn-sennit-3/a/main'],
      says: ['Main board'],
    });
    expect(outline).toMatchObject({
      kind: `${OA}SvgSelector`,
      about: ['tag:caseback.invalid,2026:records/tarn-sennit-3/a/J1'],
      says: ['J1: Connector'],
    });
    // The way back: corners of the SVG in pixels of the picture are those on record.
    const { width, height } = PICTURES.bottom.file;
    expect(outline.value).toMatch(
      /^<svg xmlns="http:\/\/www\.w3\.org\/2000\/svg" width="640" height="480" viewBox="0 0 640 480"><polygon points="[\d., ]+"\/><\/svg>$/u,
    );
    const points = /points="([^"]*)"/u.exec(outline.value)?.[1]?.split(' ') ?? [];
    const corners = points.map((point) => point.split(',').map(Number) as [number, number]);
    corners.forEach(([x, y], i) => {
      expect((100 * x) / width).toBeCloseTo(OUTLINE[i]?.[0] as number, 6);
      expect((100 * y) / height).toBeCloseTo(OUTLINE[i]?.[1] as number, 6);
    });
    expect(corners.length).toBe(OUTLINE.length);
  });

  test('a step is named by its place in the linked data of the teardown', async () => {
    const { items } = await json('/photos/tarn-sennit-3/a/top/annotations.json');
    expect(items[2].body[0].source).toBe('tag:caseback.invalid,2026:records/tarn-sennit-3/a/teardown#step-3');
    const { linkedRecord } = await import('../../src/linked/document.ts');
    const linked = await linkedRecord(reader.archive.state('reader'), 'tarn-sennit-3/a/teardown');
    expect(JSON.stringify(linked['@graph'])).toContain('record:tarn-sennit-3/a/teardown#step-3');
    expect(items[2].target.selector.value).toBe('xywh=percent:33.33,50.5,20.25,10');
  });

  test('GraphQL gives the same page under addresses of its own', async () => {
    const query = `query ($base: String) { node(id: "tarn-sennit-3/a/top") { ... on Photo { annotations(base: $base) picture { annotationsAddress } } } }`;
    const { node } = await reader.ask(query, { base: 'https://desk.example.org/' });
    expect(node.picture.annotationsAddress).toBe('/photos/tarn-sennit-3/a/top/annotations.json');
    expect(node.annotations.items[0].body[0].source).toBe(
      'https://desk.example.org/records/tarn-sennit-3/a/U1',
    );
    const { node: bare } = await reader.ask(query, {});
    expect(bare.annotations.items[0].target.source).toBe(
      'tag:caseback.invalid,2026:photos/tarn-sennit-3/a/top/full/max/0/default.jpg',
    );
    const { data, errors } = await reader.answer(query.replace('/top', '/digest-only'), {});
    expect([data.node.annotations, errors?.[0]?.extensions.code]).toEqual([null, 'NOT_FOUND']);
  });

  test('the media type is that of the Web Annotation Protocol, section 4.1', async () => {
    const { headers } = await get('/photos/tarn-sennit-3/a/top/annotations.json');
    expect(headers['content-type']).toMatch(
      /^application\/ld\+json;\s?profile="http:\/\/www\.w3\.org\/ns\/anno\.jsonld"/u,
    );
  });
});

describe('pictures of regions and steps', () => {
  const STEPS = `{ specimen(id: "tarn-sennit-3/a") { photoManifestAddress device { photoCollectionAddress }
    teardown { steps { number pictures { fragment photo { id } thumbnail { address widthPx heightPx } } } }
    photos { id regions { of { id } fragment polygon { left top } step { number do } thumbnail { address widthPx heightPx } } } } }`;

  test('a step is shown by its region, else by the whole photo that it names', async () => {
    const { specimen } = await reader.ask(STEPS);
    expect(specimen.photoManifestAddress).toBe('/photos/tarn-sennit-3/a/manifest.json');
    expect(specimen.device.photoCollectionAddress).toBe('/photos/tarn-sennit-3/collection.json');
    const [first, second, third] = specimen.teardown.steps;
    expect(first.pictures).toEqual([]);
    expect(second.pictures).toEqual([
      {
        fragment: null,
        photo: { id: 'tarn-sennit-3/a/lid' },
        thumbnail: {
          address: '/photos/tarn-sennit-3/a/lid/full/max/0/default.jpg',
          widthPx: 200,
          heightPx: 100,
        },
      },
    ]);
    expect(third.pictures).toMatchObject([
      {
        fragment: 'xywh=percent:33.33,50.5,20.25,10',
        photo: { id: 'tarn-sennit-3/a/top' },
        // Pixels 333 to 536 and 757 to 908: every one that it touches, and no more than there are.
        thumbnail: { widthPx: 203, heightPx: 151 },
      },
    ]);
    const photos = specimen.photos as {
      id: string;
      regions: {
        step: object | null;
        of: object | null;
        polygon: object[] | null;
        thumbnail: object | null;
      }[];
    }[];
    expect(photos[0]?.regions[2]).toMatchObject({ of: null, step: { number: 3, do: 'Lift the board out.' } });
    expect(photos[1]?.regions[0]).toMatchObject({
      of: { id: 'tarn-sennit-3/a/J1' },
      step: null,
      fragment: 'xywh=percent:10,10,50.5,60.25',
      polygon: OUTLINE.map(([left, top]) => ({ left, top })),
    });
    expect(photos[3]?.regions[0]?.thumbnail).toBeNull();
  });

  test('every one answers with that part of the picture, in the size that is told', async () => {
    const { default: sharp } = await import('sharp');
    const { specimen } = await reader.ask(STEPS);
    const { content, file } = PICTURES.top;
    const upright = await sharp(content).autoOrient().toBuffer();
    const boxes = [
      [250, 600, 100, 75],
      [0, 0, file.width, file.height],
      [333, 757, 203, 151],
    ] as const;
    for (const [i, region] of specimen.photos[0].regions.entries()) {
      const { address, widthPx, heightPx } = region.thumbnail;
      const response = await get(address);
      expect([response.statusCode, response.headers['content-type']], address).toEqual([200, 'image/jpeg']);
      const [left, top, width, height] = boxes[i] as (typeof boxes)[number];
      const expected = await sharp(upright)
        .extract({ left, top, width, height })
        .resize(widthPx, heightPx, { fit: 'fill' })
        .greyscale()
        .raw()
        .toBuffer();
      const { data, info } = await sharp(response.rawPayload)
        .greyscale()
        .raw()
        .toBuffer({ resolveWithObject: true });
      expect([info.width, info.height]).toEqual([widthPx, heightPx]);
      const off =
        data.reduce((sum, one, at) => sum + Math.abs(one - (expected[at] as number)), 0) / data.length;
      // Two ways through JPEG; a pixel beside the place gives more than ten.
      expect(off).toBeLessThan(3);
      const again = await get(address, { 'if-none-match': response.headers.etag as string });
      expect([again.statusCode, again.body]).toEqual([304, '']);
    }
    const [{ thumbnail }] = specimen.photos[0].regions;
    const wrong = thumbnail.address.replace(/[0-9a-f]{24}/u, '0'.repeat(24));
    expect((await get(wrong)).statusCode).toBe(404);
    // The name is of the picture and the place: the same on another photo is another one.
    expect((await get(thumbnail.address.replace('/top/', '/bottom/'))).statusCode).toBe(404);
  });

  test('no crop reaches beyond its picture, whatever an old record says', async () => {
    const { cropOf } = await import('../../src/photos/crop.ts');
    const { file } = PICTURES.bottom;
    for (const xywh of [
      [-20, -20, 10, 10],
      [150, 150, 10, 10],
      [95, 95, 20, 20],
      [50, 50, 0, 0],
      [99.999, 0, 0.001, 100],
      [50, 50, -10, -10],
    ] as [number, number, number, number][]) {
      const { from, size } = cropOf(file, { xywh });
      expect(from.width >= 1 && from.height >= 1 && from.left >= 0 && from.top >= 0, String(xywh)).toBe(true);
      expect(
        from.left + from.width <= file.width && from.top + from.height <= file.height,
        String(xywh),
      ).toBe(true);
      expect(size.width >= 1 && size.height >= 1).toBe(true);
    }
  });
});

describe('manners', () => {
  const ADDRESSES = [
    '/photos/tarn-sennit-3/a/top/annotations.json',
    '/photos/tarn-sennit-3/a/manifest.json',
    '/photos/tarn-sennit-3/collection.json',
    '/photos/collection.json',
  ];
  test.each(ADDRESSES)('%s: viewers of other sites may read it, and it is sent once', async (url) => {
    const { headers } = await get(url);
    expect(headers).toMatchObject({
      'access-control-allow-origin': '*',
      'cross-origin-resource-policy': 'cross-origin',
      'cache-control': 'no-cache',
      vary: 'accept, authorization, cookie',
    });
    const again = await get(url, { 'if-none-match': headers.etag as string });
    expect([again.statusCode, again.body]).toEqual([304, '']);
    const linked = await get(url, { accept: 'application/ld+json' });
    expect(linked.headers['content-type']).toContain('application/ld+json');
  });

  test('to a reader, a photo of a draft and one that never was are the same', async () => {
    const PATHS = [
      'a/hidden/annotations.json',
      'a/hidden/info.json',
      'a/manifest.json',
      'collection.json',
      `a/hidden/regions/${await nameOfHidden()}.jpg`,
    ];
    for (const path of PATHS) {
      const [hidden, absent] = await Promise.all(
        ['tarn-veiled-1', 'never-was-01'].map((device) => get(`/photos/${device}/${path}`)),
      );
      const plain = ({ body, statusCode }: { body: string; statusCode: number }, device: string) => [
        statusCode,
        body.replaceAll(device, 'DEVICE').replace(/"requestId":"[^"]*"/u, ''),
      ];
      expect(plain(hidden as never, 'tarn-veiled-1'), path).toEqual(plain(absent as never, 'never-was-01'));
      expect(hidden?.statusCode).toBe(404);
      const own = await desk.app.inject({ url: `/photos/tarn-veiled-1/${path}` });
      expect(own.statusCode, path).toBe(200);
      expect(own.headers['access-control-allow-origin'], path).toBeUndefined();
    }
    for (const url of [...ADDRESSES, '/photos/tarn-sennit-3/c/manifest.json'])
      expect((await get(url)).body).not.toMatch(/veiled|Nobody sees this|sennit-3\/c\/m/u);
    const collection = await desk.app.inject({ url: '/photos/collection.json' });
    expect(collection.body).toContain('tarn-veiled-1');
  });

  async function nameOfHidden(): Promise<string> {
    const { cropOf } = await import('../../src/photos/crop.ts');
    return cropOf(PICTURES.hidden.file, { xywh: [1, 2, 30, 40] }).name;
  }

  test('addresses begin with that under which people reach the service', async () => {
    const served = await serve(
      {
        audience: 'reader',
        access: {
          publicUrl: new URL('https://desk.example.net/'),
          hosts: ['localhost', 'desk.example.net'],
        } as never,
      },
      reader.archive,
    );
    try {
      const { id, seeAlso } = (
        await served.app.inject({ url: '/photos/tarn-sennit-3/a/manifest.json' })
      ).json();
      expect([id, seeAlso[0].id]).toEqual([
        'https://desk.example.net/photos/tarn-sennit-3/a/manifest.json',
        'https://desk.example.net/records/tarn-sennit-3/a.jsonld',
      ]);
      const page = (await served.app.inject({ url: '/photos/tarn-sennit-3/a/top/annotations.json' })).json();
      expect(page.items[0].body[0].source).toBe('https://desk.example.net/records/tarn-sennit-3/a/U1');
    } finally {
      await served.app.close();
    }
  });
});
