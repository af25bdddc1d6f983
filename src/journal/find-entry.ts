import type { Entry } from '../model/entry.ts';
import type { Journal } from './journal.ts';
import { millisecondsOf } from './uuid.ts';

/**
 * One entry by its sequence or id, or undefined. An id carries the instant of its entry, so only the entries of
 * that instant are looked at.
 */
export async function findEntry(journal: Journal, key: number | string): Promise<Entry | undefined> {
  if (typeof key === 'number') {
    if (!Number.isSafeInteger(key) || key < 1) return undefined;
    for await (const [entry] of journal.read({ after: key - 1, batchSize: 1 }))
      return entry.sequence === key ? entry : undefined;
    return undefined;
  }
  const id = key.toLowerCase();
  const milliseconds = millisecondsOf(id);
  if (milliseconds === undefined) return undefined;
  const instant = new Date(milliseconds).toISOString();
  // Years after 9999 have another form and stand in no journal.
  if (!/^\d/u.test(instant)) return undefined;
  for await (const entries of journal.read({ since: instant, until: instant })) {
    const found = entries.find((entry) => entry.id === id);
    if (found) return found;
  }
  return undefined;
}
