import { catalogueSchema, type NamedPattern } from '../model/catalogue.ts';
import type { Entry } from '../model/entry.ts';
import { CasebackError } from '../model/problems.ts';
import type { Audience } from '../state/audience.ts';

/** As much of the archive as it takes to import a catalogue. */
interface Importer {
  importDocuments(
    documents: readonly [
      {
        readonly kind: 'catalogue';
        readonly file: string;
        readonly locate: () => { readonly line: number; readonly column: number };
        readonly catalogue: ReturnType<typeof catalogueSchema.parse>;
      },
    ],
    by: { readonly actor: string; readonly reason: string },
    audience: Audience,
  ): Promise<{ readonly last?: Entry }>;
}

/**
 * Puts a named pattern into the library as a catalogue of one record would; journaled with who and why.
 * @throws CasebackError BAD_FILE when a rule of catalogues is broken, CONFLICT when another has saved the same meanwhile
 */
export async function savePattern(
  archive: Importer,
  pattern: NamedPattern,
  by: { readonly actor: string; readonly reason: string },
  audience: Audience,
): Promise<Entry> {
  const catalogue = catalogueSchema.parse({ caseback: 'catalogue/1', patterns: [pattern] });
  const file = `pattern ${pattern.id}`;
  const locate = () => ({ line: 1, column: 1 });
  const { last } = await archive.importDocuments(
    [{ kind: 'catalogue', file, locate, catalogue }],
    by,
    audience,
  );
  if (!last) throw new CasebackError('CONFLICT', `a pattern "${pattern.id}" is in the library already`);
  return last;
}
