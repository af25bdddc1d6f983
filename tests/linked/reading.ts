import jsonld from 'jsonld';
import { Store } from 'oxigraph';
import type { Scope } from '../../src/export/graph/graph.ts';
import { WHOLE } from '../../src/export/graph/graph.ts';
import { jsonLdOf } from '../../src/linked/document.ts';
import { type LinkedPlace, NOWHERE } from '../../src/linked/places.ts';
import type { State } from '../../src/state/state.ts';

// Documents as two processors read them that were written without this project: jsonld (JSON-LD 1.1 in JavaScript, by its editors) and
// Oxigraph (in Rust). Neither may load anything.

type Document = Parameters<typeof jsonld.toRDF>[0];

const documentLoader = (url: string) => Promise.reject(new Error(`It wants to load ${url}`));
/** Safe mode: what would be dropped in silence is an error. */
export const SAFE = { safe: true, documentLoader } as const;

/** The quads of a document by jsonld, as N-Quads. @throws where a term, a value or a relative address would be dropped */
export async function quadsOf(document: object): Promise<string> {
  return (await jsonld.toRDF(document as Document, {
    ...SAFE,
    format: 'application/n-quads',
  })) as unknown as string;
}

/** The quads of a document in a store of Oxigraph. */
export function storeOf(document: object | string): Store {
  const store = new Store();
  const text = typeof document === 'string' ? document : JSON.stringify(document);
  store.load(text, { format: 'application/ld+json' });
  return store;
}

/** Lines of N-Quads that are the same whichever way blank nodes are named (RDF Dataset Canonicalization) and doubles are spelt. */
export async function canonical(nquads: string): Promise<readonly string[]> {
  const valued = nquads.replaceAll(
    /"([^"]+)"\^\^<http:\/\/www\.w3\.org\/2001\/XMLSchema#double>/gu,
    (_, number: string) => `"${Number(number)}"^^<http://www.w3.org/2001/XMLSchema#double>`,
  );
  const text = (await jsonld.canonize(valued as unknown as Document, {
    algorithm: 'URDNA2015',
    inputFormat: 'application/n-quads',
    format: 'application/n-quads',
  })) as unknown as string;
  return text.split('\n').filter((line) => line !== '');
}

/** A scope of a state as one document, with the losses that were told. */
export async function exported(
  state: State,
  scope: Scope = WHOLE,
  place: LinkedPlace = NOWHERE,
): Promise<{ readonly text: string; readonly losses: readonly object[] }> {
  const losses: object[] = [];
  let text = '';
  const how = { place, provenance: { date: '2026-11-30' }, lose: (loss: object) => losses.push(loss) };
  for await (const piece of jsonLdOf(state, scope, how)) text += piece;
  return { text, losses };
}

/** Rows of a SELECT question, each value as text. */
export function ask(store: Store, sparql: string): readonly (readonly string[])[] {
  const rows = store.query(`${PREFIXES}\n${sparql}`) as Map<string, { readonly value: string }>[];
  return rows.map((row) => [...row.values()].map(({ value }) => value));
}

const PREFIXES = `
PREFIX caseback: <tag:caseback.invalid,2026:vocabulary#>
PREFIX record: <tag:caseback.invalid,2026:records/>
PREFIX prov: <http://www.w3.org/ns/prov#>
PREFIX skos: <http://www.w3.org/2004/02/skos/core#>
PREFIX schema: <http://schema.org/>
PREFIX dcterms: <http://purl.org/dc/terms/>
PREFIX rdf: <http://www.w3.org/1999/02/22-rdf-syntax-ns#>
PREFIX xsd: <http://www.w3.org/2001/XMLSchema#>`;
