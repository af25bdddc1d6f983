// Stored questions with an address of their own.

import type { Archive } from '../archive.ts';
import type { Feed } from '../model/catalogue.ts';
import type { Authorship, Entry } from '../model/entry.ts';
import type { State } from '../state/state.ts';
import { fileRecord } from './file-record.ts';

/**
 * Stores a feed, or changes one; journaled with who and why.
 * @returns the entry written; undefined when the feed was on record in this form
 * @throws CasebackError BAD_FILE when a rule is broken, such as a question that the schema does not know
 */
export function storeFeed(
  archive: Archive,
  state: State,
  feed: Feed,
  by: Authorship,
): Promise<Entry | undefined> {
  return fileRecord(archive, { collection: 'feeds', kind: 'feed', record: feed }, by, state.audience);
}
