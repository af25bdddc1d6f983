import type { Authorship } from '../../model/entry.ts';
import { openToRead } from './open.ts';

/**
 * How much of what a journal file describes was written by one author for one reason: all records and dossiers, some of
 * them, or none. Told by the first entry, so that an archive of others costs one look; written to is nothing. A file
 * that cannot be read has none: whoever opens it says why.
 */
export function describedBy(file: string, { actor, reason }: Authorship): 'all' | 'some' | 'none' {
  let opened: ReturnType<typeof openToRead> | undefined;
  try {
    opened = openToRead(file);
    const { db } = opened;
    const first = db.prepare('SELECT actor, reason FROM entries WHERE sequence = 1').get();
    if (first?.actor !== actor || first.reason !== reason) return 'none';
    const other = db
      .prepare(
        `SELECT 1 FROM entries
         WHERE kind IN ('record-put', 'dossier-put') AND NOT (actor = ? AND reason = ?) LIMIT 1`,
      )
      .get(actor, reason);
    return other === undefined ? 'all' : 'some';
  } catch {
    return 'none';
  } finally {
    opened?.close();
  }
}
