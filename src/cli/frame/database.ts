import type { Journal } from '../../journal/journal.ts';
import { madeWhenWritten } from '../../journal/made-when-written.ts';
import { nameOf } from '../../journal/postgres/connections.ts';
import { CasebackError } from '../../model/problems.ts';
import { databaseJournal, type Place, written } from './data-folder.ts';

/** Where an archive is, as messages write it: a folder, or a database without its user and password. */
export function writtenPlace({ folder, database }: Pick<Place, 'folder' | 'database'>): string {
  return database === undefined ? written(folder) : `the database ${nameOf(database)}`;
}

/**
 * The journal of a database that may have none yet: tables are made with the first entry, so that what is refused leaves nothing
 * behind.
 * @param folder data folder that notes how far it has come
 */
export async function databaseToFill(
  url: string,
  folder: string,
): Promise<{ readonly journal: Journal; readonly hasTables: boolean; readonly isBlank: boolean }> {
  const journal = databaseJournal(url, folder, { create: false });
  try {
    const { sequence } = await journal.head();
    return { journal, hasTables: true, isBlank: sequence === 0 };
  } catch (error) {
    await journal.close();
    if (!(error instanceof CasebackError && error.code === 'NOT_FOUND')) throw error;
    return {
      journal: madeWhenWritten(() => databaseJournal(url, folder)),
      hasTables: false,
      isBlank: true,
    };
  }
}
