// Records as linked data. The code that writes them is loaded when first needed.

import type { JsonLdDocument } from '../linked/document.ts';
import type { LinkedPlace } from '../linked/places.ts';
import type { State } from '../state/state.ts';

export type { JsonLdDocument, LinkedPlace };

/**
 * Whatever has an id as JSON-LD, with what was seen of it and concluded about it; a publication with the support of its sentences.
 * @param place where addresses begin; names without an address on the web when left out
 * @throws CasebackError NOT_FOUND; the signal's reason
 */
export async function linkedDataOf(
  state: State,
  id: string,
  place?: LinkedPlace,
  signal?: AbortSignal,
): Promise<JsonLdDocument> {
  const { linkedRecord } = await import('../linked/document.ts');
  return linkedRecord(state, id, place, signal);
}
