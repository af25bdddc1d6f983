// Records as linked data. The code that writes them is loaded when first needed.

import type { JsonLdDocument } from '../linked/document.ts';
import type { State } from '../state/state.ts';

/**
 * Whatever has an id as JSON-LD, with what was seen of it and concluded about it; a publication with the support of its sentences.
 * @param base where addresses begin; names without an address on the web when left out
 * @throws CasebackError NOT_FOUND, BAD_INPUT for a base that is none; the signal's reason
 */
export async function linkedDataOf(
  state: State,
  id: string,
  base?: string,
  signal?: AbortSignal,
): Promise<JsonLdDocument> {
  const { linkedRecord } = await import('../linked/document.ts');
  const { NOWHERE, placeAt } = await import('../linked/places.ts');
  return linkedRecord(state, id, base === undefined ? NOWHERE : placeAt(base), signal);
}

/** Documents that are the same for all: the context, our own terms, and the taxonomy. */
export async function linkedTerms(
  base?: string,
): Promise<Readonly<Record<'context' | 'vocabulary' | 'taxonomy', object>>> {
  const { taxonomyDocument } = await import('../linked/document.ts');
  const { contextOf, vocabularyOf } = await import('../linked/vocabulary.ts');
  const { NOWHERE, placeAt } = await import('../linked/places.ts');
  const place = base === undefined ? NOWHERE : placeAt(base);
  return {
    context: { '@context': contextOf(place) },
    vocabulary: vocabularyOf(place),
    taxonomy: taxonomyDocument(place),
  };
}
