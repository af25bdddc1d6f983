import type { ExportFile } from '../export/export-file.ts';
import { type Scope, scopeOf, WHOLE } from '../export/graph/graph.ts';
import type { Provenance } from '../export/tables/csvw.ts';
import { resolve } from '../state/resolve.ts';
import type { State } from '../state/state.ts';
import { jsonLdOf, linkedRecord } from './document.ts';
import { CONTEXT_PATH, type LinkedPlace } from './places.ts';
import { contextOf, vocabularyOf } from './vocabulary.ts';

/** Media type of JSON-LD (JSON-LD 1.1, appendix C). */
export const JSON_LD = 'application/ld+json';

/**
 * Everything, a device or a specimen as one document, or any other record by itself; beside it the context and the vocabulary, which are
 * for whoever writes more of the kind: the document carries its context and is read without them.
 * @throws CasebackError NOT_FOUND when nothing visible has the id
 */
export async function linkedFiles(
  state: State,
  id: string | undefined,
  provenance: Provenance,
  place: LinkedPlace,
): Promise<readonly ExportFile[]> {
  return [
    await documentFile(state, id, provenance, place),
    { ...jsonFile(CONTEXT_PATH, { '@context': contextOf(place) }), isBeside: true },
    { ...jsonFile('vocabulary.jsonld', vocabularyOf(place)), isBeside: true },
  ];
}

async function documentFile(
  state: State,
  id: string | undefined,
  provenance: Provenance,
  place: LinkedPlace,
): Promise<ExportFile> {
  const kind = id === undefined ? undefined : resolve(state, id)?.kind;
  if (id !== undefined && kind !== 'Device' && kind !== 'Specimen')
    return jsonFile('record.jsonld', await linkedRecord(state, id, place));
  const scope: Scope = id === undefined ? WHOLE : scopeOf(state, id);
  return {
    name: id === undefined ? 'archive.jsonld' : `${kind?.toLowerCase()}.jsonld`,
    mediaType: JSON_LD,
    pieces: (lose, signal) => jsonLdOf(state, scope, { place, provenance, lose }, signal),
  };
}

function jsonFile(name: string, document: object): ExportFile {
  return {
    name,
    mediaType: JSON_LD,
    async *pieces() {
      yield `${JSON.stringify(document, null, 2)}\n`;
    },
  };
}
