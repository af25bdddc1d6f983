import { readFileSync } from 'node:fs';
import { type CslItem, citationText } from '../citation/csl.ts';
import type { Source } from '../model/catalogue.ts';
import { fileNameOf } from '../model/ids.ts';
import type { State } from '../state/state.ts';
import { type MadeFile, type PackContents, placeOfSentence } from './contents.ts';
import { partsIn } from './credits.ts';
import { namedLicence } from './licences.ts';

// The metadata document of a pack after RO-Crate 1.2 (w3id.org/ro/crate/1.2); sections are named where they ask for something.

/** Its name (section "Attached RO-Crate Package"). */
export const METADATA = 'ro-crate-metadata.json';
/** The page for people (section "RO-Crate Website"). */
export const PREVIEW = 'ro-crate-preview.html';
/** Digests of all other files, as `sha256sum` writes and checks them. */
export const DIGESTS = 'manifest-sha256.txt';

const SPECIFICATION = 'https://w3id.org/ro/crate/1.2';
const ROOT = './';
const ARCHIVE = '#archive';
const CASEBACK = '#caseback';
const PUBLICATION = '#publication';
const NO_LICENCE = 'No licence is stated; ask whoever keeps the archive. Photos have licences of their own.';

/** An entity of the document. */
export type Entity = { readonly '@id': string; readonly '@type': string | readonly string[] } & Readonly<
  Record<string, unknown>
>;

const { version: VERSION } = JSON.parse(
  readFileSync(new URL('../../package.json', import.meta.url), 'utf8'),
) as { readonly version: string };

/** The metadata document. @param digestsSize bytes of the list of digests, which is made after it */
export function metadataOf(
  view: State,
  contents: PackContents,
  files: readonly MadeFile[],
  archive: CslItem,
  digestsSize: number,
): Readonly<Record<string, unknown>> {
  const graph = new Graph();
  const { publication, statement, leftOut, licence } = contents;
  const { instant, audience, name } = statement.state;
  const archived = citationText(archive);
  graph.add({
    '@id': METADATA,
    '@type': 'CreativeWork',
    about: { '@id': ROOT },
    conformsTo: { '@id': SPECIFICATION },
  });
  const people = new People(graph);
  const devices = devicesIn(graph, view, contents);
  graph.add({
    '@id': PUBLICATION,
    '@type': 'CreativeWork',
    name: publication.title,
    identifier: publication.id,
    genre: publication.kind,
    ...(publication.published !== undefined && { datePublished: publication.published }),
  });
  graph.add({
    '@id': ARCHIVE,
    '@type': 'CreativeWork',
    name: archive['container-title'] ?? archive.title,
    creditText: archived,
    dateModified: instant,
    ...(name !== null && { version: name }),
    conditionsOfAccess:
      audience === 'reader'
        ? 'As readers see it: without drafts and what is under embargo.'
        : 'As the desk sees it, drafts and embargoed records too: not for readers.',
  });
  const judges = statement.sentences.flatMap(({ by }) => (by === null ? [] : [people.named(by)]));
  const openers = contents.credited.specimens.map(({ dossier }) => people.named(dossier.teardown.by));
  for (const one of statement.sentences)
    graph.add({
      '@id': `#${placeOfSentence(one.id)}`,
      '@type': 'Claim',
      name: one.sentence,
      identifier: one.id,
      ...(one.by !== null && { author: people.named(one.by) }),
      ...refs('appearance', [{ '@id': PUBLICATION }]),
    });
  const sources = contents.credited.sources.map((source) => sourceOf(graph, source));
  const missing = leftOut.flatMap(({ id, what, why, photo }) =>
    photo === undefined
      ? []
      : graph.add({
          // A file that is deliberately not present (section "File Data Entity"): no data entity.
          '@id': `#photo-${fileNameOf(id, '.')}`,
          '@type': 'File',
          name: what,
          description: `Left out: ${why}.`,
          sha256: photo.sha256,
          creditText: photo.credit,
          license: licenceOf(graph, photo.licence),
        }),
  );
  const here = files.map((file) => fileOf(graph, file));
  here.push(
    graph.add({
      '@id': DIGESTS,
      '@type': 'File',
      name: 'Digests',
      description: 'SHA-256 of every other file; "sha256sum -c manifest-sha256.txt" checks them.',
      encodingFormat: 'text/plain',
      contentSize: String(digestsSize),
    }),
  );
  graph.add({
    '@id': CASEBACK,
    '@type': 'SoftwareApplication',
    name: 'Caseback',
    version: VERSION,
    description: 'An archive of opened wearables with a query service.',
  });
  graph.add({
    '@id': '#made',
    '@type': 'CreateAction',
    name: `Pack of "${publication.title}" made`,
    endTime: instant,
    instrument: { '@id': CASEBACK },
    object: { '@id': ARCHIVE },
    ...refs('result', [{ '@id': ROOT }, ...here]),
  });
  const own = licence === undefined ? NO_LICENCE : licenceOf(graph, licence);
  graph.add({
    '@id': ROOT,
    '@type': 'Dataset',
    name: `${publication.title}: reader's pack`,
    description:
      `What "${publication.title}" (${publication.kind}) says, with the evidence under each sentence, its figures, charts and drawings, as the archive had it. ${
        audience === 'reader' ? '' : "The desk's: drafts and embargoed records count. "
      }${archive.note ?? ''}`.trim(),
    datePublished: instant,
    license: own,
    about: [{ '@id': PUBLICATION }, ...devices],
    isBasedOn: { '@id': ARCHIVE },
    creditText: archived,
    ...refs('author', judges),
    ...refs('contributor', openers),
    // A citation is by address (section "Publications via citation property"); what has none is mentioned.
    ...refs(
      'citation',
      sources.filter(({ '@id': id }) => !id.startsWith('#')),
    ),
    ...refs('mentions', [
      ...sources.filter(({ '@id': id }) => id.startsWith('#')),
      ...statement.sentences.map(({ id }) => ({ '@id': `#${placeOfSentence(id)}` })),
      ...missing,
      { '@id': '#made' },
    ]),
    ...refs('hasPart', here),
  });
  return { '@context': `${SPECIFICATION}/context`, '@graph': graph.entities() };
}

interface Ref {
  readonly '@id': string;
}

/** A member with references to entities, each once; none where there are none. */
function refs(member: string, to: readonly Ref[]): Readonly<Record<string, unknown>> {
  const ids = [...new Set(to.map(({ '@id': id }) => id))];
  return ids.length === 0 ? {} : { [member]: ids.map((id) => ({ '@id': id })) };
}

/** Entities, each once. */
class Graph {
  readonly #entities = new Map<string, Entity>();

  add(entity: Entity): Ref {
    if (!this.#entities.has(entity['@id'])) this.#entities.set(entity['@id'], entity);
    return { '@id': entity['@id'] };
  }

  entities(): readonly Entity[] {
    const first = [METADATA, ROOT];
    const place = ({ '@id': id }: Entity) => (first.includes(id) ? first.indexOf(id) : first.length);
    return [...this.#entities.values()].sort((a, b) => place(a) - place(b) || (a['@id'] < b['@id'] ? -1 : 1));
  }
}

/** Persons by name: nothing else of them is on record. */
class People {
  readonly #graph: Graph;
  readonly #ids = new Map<string, Ref>();

  constructor(graph: Graph) {
    this.#graph = graph;
  }

  named(name: string): Ref {
    const id = `#person-${encodeURIComponent(name)}`;
    const ref = this.#ids.get(name) ?? this.#graph.add({ '@id': id, '@type': 'Person', name });
    this.#ids.set(name, ref);
    return ref;
  }
}

function fileOf(graph: Graph, file: MadeFile): Ref {
  const { path, title, says, mediaType, content, sha256, about, licence, credit } = file;
  return graph.add({
    '@id': encodedPath(path),
    '@type': 'File',
    name: title,
    description: says,
    encodingFormat: mediaType,
    contentSize: String(content.length),
    sha256,
    ...refs(
      'about',
      about.map((id) => ({ '@id': `#${placeOfSentence(id)}` })),
    ),
    ...(licence !== undefined && { license: licenceOf(graph, licence) }),
    ...(credit !== undefined && { creditText: credit }),
  });
}

/** A path as a relative address (RFC 3986; section "Encoding file paths in @ids"). */
export function encodedPath(path: string): string {
  return path.replaceAll(/[^A-Za-z0-9._~\-/]/gu, encodeURIComponent);
}

function licenceOf(graph: Graph, licence: string): Ref | string {
  const named = namedLicence(licence);
  if (!named) return licence;
  const { address, name } = named;
  return graph.add({
    '@id': address,
    '@type': 'CreativeWork',
    name,
    description: `${name}; its text stands at this address.`,
  });
}

function sourceOf(graph: Graph, { id, title, url, kind, licence }: Source): Ref {
  return graph.add({
    '@id': url ?? `#source-${id}`,
    '@type': 'CreativeWork',
    name: title,
    identifier: id,
    genre: kind,
    ...(licence !== undefined && { license: licenceOf(graph, licence) }),
  });
}

/** Devices and parts under the sentences, with their makers. */
function devicesIn(graph: Graph, view: State, contents: PackContents): readonly Ref[] {
  const maker = (id: string) =>
    graph.add({
      '@id': `#maker-${id}`,
      '@type': 'Organization',
      name: view.maker(id)?.name ?? id,
      identifier: id,
    });
  const devices = contents.credited.devices.map((device) =>
    graph.add({
      '@id': `#device-${device.id}`,
      '@type': 'Product',
      name: device.name,
      identifier: device.id,
      releaseDate: device.released,
      manufacturer: maker(device.maker),
    }),
  );
  const parts = partsIn(view, contents.statement).flatMap((id) => {
    const part = view.part(id);
    if (!part) return [];
    return graph.add({
      '@id': `#part-${fileNameOf(id, '.')}`,
      '@type': 'Product',
      name: part.name ?? id,
      identifier: id,
      mpn: part.number,
      manufacturer: maker(part.maker),
    });
  });
  return [...devices, ...parts];
}
