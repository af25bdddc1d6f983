import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import jsonld from 'jsonld';
import { beforeAll, describe, expect, test, vi } from 'vitest';
import type { MadeFile } from '../../src/pack/contents.ts';
import { demoArchive } from '../trends/demo.ts';
import { packAt, textIn } from './packs.ts';

// Held to RO-Crate 1.2 (w3id.org/ro/crate/1.2), section by section; by the package ro-crate, which its authors keep; and by jsonld, an
// independent processor of JSON-LD, with the context of the specification (tests/fixtures/README.md).

const CONTEXT = 'https://w3id.org/ro/crate/1.2/context';
const context = JSON.parse(
  readFileSync(join(import.meta.dirname, '../fixtures/ro-crate-1.2-context.jsonld'), 'utf8'),
);

type Entity = Readonly<Record<string, unknown>> & { readonly '@id': string; readonly '@type': unknown };
interface Crate {
  readonly '@context': string;
  readonly '@graph': readonly Entity[];
}

const PUBLICATIONS = ['altitude-at-the-wrist', 'two-ends-of-a-board', 'one-part-two-names'];
let crates: readonly { readonly crate: Crate; readonly files: readonly MadeFile[] }[];
beforeAll(async () => {
  const view = (await demoArchive()).state('reader');
  crates = await Promise.all(
    PUBLICATIONS.map(async (id, at) => {
      // One with a licence of its own; files of photos are missing.
      const pack = await packAt(view, id, '2026-11-30T09:00:00.000Z', {
        licence: at === 1 ? 'CC-BY-4.0' : undefined,
        photos: { served: async () => undefined, has: async () => false },
      });
      return { crate: JSON.parse(textIn(pack, 'ro-crate-metadata.json')) as Crate, files: pack.files };
    }),
  );
});

const list = (value: unknown): readonly unknown[] =>
  value === undefined ? [] : Array.isArray(value) ? value : [value];
const typesOf = (entity: Entity) => list(entity['@type']);
const entity = ({ '@graph': graph }: Crate, id: string) => graph.find((one) => one['@id'] === id);
const rootOf = (crate: Crate) => entity(crate, './') as Entity;
const ISO_8601 = /^\d{4}-\d\d-\d\d(?:T\d\d:\d\d:\d\d(?:\.\d{1,3})?Z)?$/u;
const idsIn = (value: unknown): readonly string[] =>
  list(value).map((one) => (one as { '@id': string })['@id']);

/** What the specification asks for, by the file and heading that says so. */
const RULES: readonly (readonly [
  section: string,
  holds: (crate: Crate, files: readonly MadeFile[]) => boolean,
])[] = [
  [
    'structure, "RO-Crate Metadata Document": the context by reference, and a graph',
    (crate) => crate['@context'] === CONTEXT && Object.keys(crate).length === 2,
  ],
  [
    'structure, "RO-Crate Metadata Document": flattened, no entity inside another',
    ({ '@graph': graph }) =>
      graph.every((one) =>
        Object.values(one)
          .flatMap(list)
          .every(
            (value) => typeof value !== 'object' || (value !== null && Object.keys(value).join() === '@id'),
          ),
      ),
  ],
  [
    'structure, "Attached RO-Crate Package": metadata and website in the root, under their names',
    (_, files) =>
      ['ro-crate-metadata.json', 'ro-crate-preview.html'].every((name) =>
        files.some(({ path }) => path === name),
      ),
  ],
  [
    'structure, "RO-Crate Website": not in hasPart',
    (crate) => !idsIn(rootOf(crate).hasPart).some((id) => id.startsWith('ro-crate-preview')),
  ],
  [
    'structure: whatever is referred to inside is described, and whatever is described is referred to',
    (crate) => {
      const described = new Set(crate['@graph'].map((one) => one['@id']));
      const named = new Set(
        crate['@graph'].flatMap((one) =>
          Object.values(one).flatMap((value) => idsIn(list(value).filter((v) => typeof v === 'object'))),
        ),
      );
      const outside = (id: string) => id === 'https://w3id.org/ro/crate/1.2';
      return (
        [...named].every((id) => described.has(id) || outside(id)) &&
        [...described].every((id) => named.has(id) || id === 'ro-crate-metadata.json')
      );
    },
  ],
  [
    'root-data-entity, "RO-Crate Metadata Descriptor": its id, type, about and conformsTo',
    (crate) => {
      const descriptor = entity(crate, 'ro-crate-metadata.json');
      return (
        descriptor?.['@type'] === 'CreativeWork' &&
        idsIn(descriptor.about).join() === './' &&
        idsIn(descriptor.conformsTo).join() === 'https://w3id.org/ro/crate/1.2'
      );
    },
  ],
  [
    'root-data-entity, "Direct properties": Dataset with name, description, datePublished and license',
    (crate) => {
      const { name, description, datePublished, license } = rootOf(crate);
      return (
        typesOf(rootOf(crate)).includes('Dataset') &&
        [name, description].every((text) => typeof text === 'string' && text.length > 10) &&
        typeof datePublished === 'string' &&
        ISO_8601.test(datePublished) &&
        list(license).length === 1
      );
    },
  ],
  [
    'root-data-entity, "Direct properties": a licence that is an entity has name and description',
    (crate) =>
      idsIn(list(rootOf(crate).license).filter((one) => typeof one === 'object')).every((id) => {
        const licence = entity(crate, id);
        return licence?.name !== undefined && licence.description !== undefined;
      }),
  ],
  [
    'data-entities, "Referencing files and folders": every file is linked from the root by hasPart',
    (crate, files) => {
      const parts = new Set(idsIn(rootOf(crate).hasPart));
      return files
        .filter(({ path }) => !path.startsWith('ro-crate-'))
        .every(({ path }) => parts.has(path) && typesOf(entity(crate, path) as Entity).includes('File'));
    },
  ],
  [
    'data-entities, "File Data Entity": a file is present at its id; one that is not has a local id',
    ({ '@graph': graph }, files) =>
      graph
        .filter((one) => typesOf(one).includes('File'))
        .every(
          ({ '@id': id }) => id.startsWith('#') || files.some(({ path }) => path === decodeURIComponent(id)),
        ),
  ],
  [
    'data-entities, "File Data Entity": name, description, encodingFormat and contentSize, which is that of the file',
    (crate, files) =>
      idsIn(rootOf(crate).hasPart).every((id) => {
        const file = entity(crate, id);
        const content = files.find(({ path }) => path === id)?.content;
        return (
          [file?.name, file?.description].every((text) => typeof text === 'string' && text !== '') &&
          /^[a-z]+\/[\w.+-]+$/u.test(String(file?.encodingFormat)) &&
          file?.contentSize === String(content?.length)
        );
      }),
  ],
  [
    'contextual-entities, "Contextual vs Data entities": no two entities of one id',
    ({ '@graph': graph }) => new Set(graph.map((one) => one['@id'])).size === graph.length,
  ],
  [
    'contextual-entities, "Publications via citation property": by address',
    (crate) => idsIn(rootOf(crate).citation).every((id) => /^https?:/u.test(id)),
  ],
  [
    'contextual-entities, "Licensing": licences of files are described',
    ({ '@graph': graph }) =>
      graph.every(({ license }) =>
        list(license).every(
          (one) => typeof one === 'string' || graph.some((other) => other['@id'] === idsIn([one])[0]),
        ),
      ),
  ],
  [
    'provenance, "Software used to create files": SoftwareApplication with version, instrument of a CreateAction with the files as result',
    (crate, files) => {
      const action = crate['@graph'].find((one) => typesOf(one).includes('CreateAction'));
      const software = entity(crate, idsIn(action?.instrument)[0]);
      const results = idsIn(action?.result);
      return (
        typesOf(software as Entity).includes('SoftwareApplication') &&
        typeof software?.version === 'string' &&
        ISO_8601.test(String(action?.endTime)) &&
        idsIn(action?.object).length > 0 &&
        files.filter(({ path }) => !path.startsWith('ro-crate-')).every(({ path }) => results.includes(path))
      );
    },
  ],
];

describe('what RO-Crate 1.2 asks for', () => {
  test.each(RULES)('%s', (_, holds) => {
    for (const { crate, files } of crates) expect(holds(crate, files)).toBe(true);
  });
});

test('the package ro-crate finds no error and no warning', async () => {
  // Its validator fetches the context; here it is given that of the specification.
  vi.stubGlobal('fetch', async (address: string) =>
    address === CONTEXT ? new Response(JSON.stringify(context)) : new Response('', { status: 404 }),
  );
  const { validate } = createRequire(import.meta.url)('ro-crate/lib/validator.js');
  for (const { crate, files } of crates) {
    // The page and the metadata are described by the specification, not by the document.
    const there = files.filter(({ path }) => !path.startsWith('ro-crate-'));
    const found = await validate(
      structuredClone(crate),
      Object.fromEntries(there.map(({ path }) => [path, { exists: true }])),
    );
    expect(found.filter(({ status }: { status: string }) => status !== 'success')).toEqual([]);
    expect(found.length).toBeGreaterThan(5);
  }
  vi.unstubAllGlobals();
});

test('JSON-LD processors understand every member, and flatten the document to itself', async () => {
  const documentLoader = async (url: string) => {
    expect(url).toBe(CONTEXT);
    return { contextUrl: undefined, documentUrl: url, document: context } as never;
  };
  for (const { crate } of crates) {
    // In safe mode a term that the context lacks is an error, not dropped.
    const flat = await jsonld.flatten(crate as object, undefined, {
      documentLoader,
      safe: true,
      base: 'https://example.org/pack/',
    } as never);
    expect((flat as unknown as unknown[]).length).toBeGreaterThanOrEqual(crate['@graph'].length);
    const dataset = (flat as unknown as Entity[]).find((one) => one['@id'] === 'https://example.org/pack/');
    expect(dataset?.['@type']).toEqual(['http://schema.org/Dataset']);
    expect(list(dataset?.['http://schema.org/hasPart']).length).toBeGreaterThan(7);
  }
});

test('photos are left out with credit and reason, and handed on where bytes and licence allow it', () => {
  for (const { crate } of crates) {
    const missing = crate['@graph'].filter((one) => one['@id'].startsWith('#photo-'));
    for (const one of missing) {
      expect(one.creditText).toEqual(expect.any(String));
      expect(one.description).toMatch(
        /^Left out: (?:the archive knows it by its digest alone|its file is missing, or is not the photo that is on record)\.$/u,
      );
    }
  }
  expect(crates.some(({ crate }) => crate['@graph'].some((one) => one['@id'].startsWith('#photo-')))).toBe(
    true,
  );
});
