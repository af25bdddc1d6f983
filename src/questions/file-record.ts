import type { Archive } from '../archive.ts';
import { type CatalogueRecord, type Collection, catalogueSchema, recordId } from '../model/catalogue.ts';
import type { Authorship, Entry } from '../model/entry.ts';
import type { Audience } from '../state/visibility/audience.ts';

/**
 * Files one record as a catalogue of that record alone would be imported, by the same rules; journaled with who and why.
 * @param kind of the record, as problems name it, such as "pattern"
 * @returns the entry written; undefined when the record was on file in this form
 * @throws CasebackError BAD_FILE when a rule of catalogues is broken
 */
export async function fileRecord<C extends Collection>(
  archive: Archive,
  { collection, kind, record }: { collection: C; kind: string; record: CatalogueRecord<C> },
  by: Authorship,
  audience: Audience,
): Promise<Entry | undefined> {
  const catalogue = catalogueSchema.parse({ caseback: 'catalogue/1', [collection]: [record] });
  const file = `${kind} ${recordId(collection, record)}`;
  const locate = () => ({ line: 1, column: 1 });
  const { last } = await archive.importDocuments([{ kind: 'catalogue', file, locate, catalogue }], by, {
    audience,
  });
  return last;
}
