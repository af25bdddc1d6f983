import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { Client } from 'pg';
import type { Journal } from '../../../src/journal/journal.ts';
import { PostgresJournal } from '../../../src/journal/postgres/journal.ts';
import { SqliteJournal } from '../../../src/journal/sqlite/journal.ts';
import { PostgresServer } from '../../postgres/server.ts';

/** An entry as it lies in the store, read by SQL of our own. */
export interface Row {
  readonly sequence: number;
  readonly id: string;
  readonly reason: string;
  readonly kind: string;
}

/** Where the archive of a trial is. */
export interface Store {
  /** Working folder of the services. */
  readonly folder: string;
  /** What tells a service where its archive is; each of several services has a data folder of its own. */
  env(service: number): NodeJS.ProcessEnv;
  journal(): Journal;
  /** Every entry, in order. */
  rows(): Promise<readonly Row[]>;
  /** Kills what keeps the entries, leaves it down for so long, ms, and starts it again. */
  interrupt?(down: number): Promise<void>;
  remove(): Promise<void>;
}

export function embeddedStore(): Store {
  const folder = mkdtempSync(join(tmpdir(), 'caseback-kills-'));
  const file = join(folder, 'data-0/journal.sqlite');
  return {
    folder,
    env: () => ({ DATA_DIR: 'data-0' }),
    journal: () => new SqliteJournal(file),
    async rows() {
      const db = new DatabaseSync(file, { readOnly: true, timeout: 10_000 });
      try {
        const rows = db.prepare('SELECT sequence, id, reason, kind FROM entries ORDER BY sequence').all();
        return rows as unknown as readonly Row[];
      } finally {
        db.close();
      }
    },
    remove: async () => rmSync(folder, { recursive: true, force: true }),
  };
}

/** A server of its own that waits for the disk, so that it may be killed. */
export async function databaseStore(): Promise<Store> {
  const folder = mkdtempSync(join(tmpdir(), 'caseback-kills-'));
  const server = await PostgresServer.start({ fsync: true });
  return {
    folder,
    env: (service) => ({ DATA_DIR: `data-${service}`, DATABASE_URL: server.url() }),
    // A busy machine may take long over a large import.
    journal: () => new PostgresJournal(server.url(), { patience: { statement: 120_000 } }),
    async rows() {
      const client = new Client({ connectionString: server.url() });
      await client.connect();
      try {
        const { rows } = await client.query(
          'SELECT sequence, id, reason, kind FROM caseback_entries ORDER BY sequence',
        );
        // Numbers of eight bytes come as texts, and reasons are stored as JSON.
        return rows.map((row) => ({
          ...row,
          sequence: Number(row.sequence),
          reason: JSON.parse(row.reason) as string,
        }));
      } finally {
        await client.end();
      }
    },
    async interrupt(down) {
      await server.kill();
      await new Promise((resolve) => setTimeout(resolve, down));
      await server.start();
    },
    async remove() {
      await server.remove();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}
