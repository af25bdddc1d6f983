// Stored questions with an address of their own.

import type { Archive, Authorship } from '../archive.ts';
import { catalogueSchema, type Feed } from '../model/catalogue.ts';
import type { Entry } from '../model/entry.ts';
import type { State } from '../state/state.ts';

/**
 * Stores a feed, or changes one, as a catalogue of one record would; journaled with who and why.
 * @returns the entry written; undefined when the feed was on record in this form
 * @throws CasebackError BAD_FILE when a rule is broken, such as a question that the schema does not know
 */
export async function storeFeed(
  archive: Archive,
  state: State,
  feed: Feed,
  by: Authorship,
): Promise<Entry | undefined> {
  const catalogue = catalogueSchema.parse({ caseback: 'catalogue/1', feeds: [feed] });
  const locate = () => ({ line: 1, column: 1 });
  const { last } = await archive.importDocuments(
    [{ kind: 'catalogue', file: `feed ${feed.id}`, locate, catalogue }],
    by,
    state.audience,
  );
  return last;
}
