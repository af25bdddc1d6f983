import { Archive } from '../archive.ts';
import { openKeptJournal } from './data-folder.ts';
import { asItStood, withProgress } from './journal-reading.ts';

/**
 * Opens the archive of a data folder that has one, now or as it stood at an instant (ISO 8601 in UTC with
 * milliseconds).
 * @throws CasebackError NOT_FOUND when the folder holds none
 */
export async function openArchive(folder: string, until?: string): Promise<Archive> {
  const journal = withProgress(openKeptJournal(folder));
  if (until === undefined) return Archive.open(journal);
  return Archive.open(asItStood(journal, until), () => new Date(until));
}
