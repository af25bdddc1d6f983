import type { ClientBase } from 'pg';
import type { Head, HeldJournal, ReadOptions } from '../journal.ts';
import { NO_HASH } from '../journal.ts';
import { boundsOf } from '../read-options.ts';
import type { StoredEntry } from '../stored.ts';
import type { Connections } from './connections.ts';
import { asJournalError } from './postgres-errors.ts';
import { entriesWithin, keysIn } from './rows.ts';

/**
 * A journal as one transaction sees it (REPEATABLE READ, read only), on a connection of its own: one instant, whatever is
 * written meanwhile, and nobody waits for it.
 */
export function hold(connections: Connections): Promise<HeldJournal> {
  return new Promise((resolve, reject) => {
    let release: () => void = () => undefined;
    const released = new Promise<void>((done) => {
      release = done;
    });
    const ended = connections.once(async (client) => {
      await client.query('BEGIN TRANSACTION ISOLATION LEVEL REPEATABLE READ, READ ONLY');
      const only = async (sql: string) => (await client.query(sql)).rows[0] ?? {};
      const { sequence, hash } = await only('SELECT sequence, hash FROM caseback_head');
      const head: Head = { sequence: Number(sequence ?? 0), hash: String(hash ?? NO_HASH) };
      const { identity } = await only('SELECT identity FROM caseback_archive');
      const asked = <T>(work: Promise<T>): Promise<T> =>
        work.catch((error: unknown) => {
          throw asJournalError(error, connections.name);
        });
      resolve({
        head: async () => head,
        identity: async () => identity,
        readStored: (options) => stored(client, options, asked),
        keys: () => asked(keysIn(client)),
        release() {
          release();
          return ended;
        },
      });
      await released;
      await client.query('ROLLBACK');
    });
    ended.catch(reject);
  });
}

async function* stored(
  client: ClientBase,
  options: ReadOptions = {},
  asked: <T>(work: Promise<T>) => Promise<T>,
): AsyncGenerator<readonly StoredEntry[]> {
  const { upTo, batchSize, after: start } = boundsOf(options);
  for (let after = start; ; ) {
    const batch = await asked(entriesWithin(client, after, upTo, batchSize));
    if (batch.length > 0) yield batch;
    if (batch.length < batchSize) return;
    after = batch[batch.length - 1].sequence;
  }
}
