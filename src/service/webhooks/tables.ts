import { join } from 'node:path';
import { type PostgresTables, postgresSql } from '../../access/postgres-sql.ts';
import type { Sql } from '../../access/sql-store.ts';
import { type SqliteTables, sqliteSql } from '../../access/sqlite-sql.ts';

/**
 * Steps of the tables, each run once and never changed: a further one is added. They stand apart from the journal, which is kept for
 * ever and must hold no secrets, and from the accounts, which a backup takes along: secrets that sign have to be kept as they are.
 */
const MIGRATIONS: readonly (readonly string[])[] = [
  [
    `CREATE TABLE webhooks (
       id TEXT PRIMARY KEY,
       feed TEXT NOT NULL,
       address TEXT NOT NULL,
       events TEXT NOT NULL,
       audience TEXT NOT NULL,
       owner TEXT NOT NULL,
       account TEXT NOT NULL,
       created TEXT NOT NULL,
       state TEXT NOT NULL,
       note TEXT,
       held_until TEXT,
       secret TEXT NOT NULL,
       old_secret TEXT,
       old_until TEXT
     )`,
    `CREATE TABLE webhook_messages (
       id TEXT PRIMARY KEY,
       webhook TEXT NOT NULL,
       number INTEGER NOT NULL,
       type TEXT NOT NULL,
       digest TEXT NOT NULL,
       body TEXT NOT NULL,
       created TEXT NOT NULL,
       state TEXT NOT NULL,
       tries INTEGER NOT NULL,
       next_try TEXT,
       tried TEXT,
       outcome TEXT,
       UNIQUE (webhook, number)
     )`,
    'CREATE INDEX webhook_messages_due ON webhook_messages(webhook, state, next_try)',
    'CREATE TABLE webhook_sender (id TEXT PRIMARY KEY, holder TEXT NOT NULL, until TEXT NOT NULL)',
  ],
];

const IN_FILE: SqliteTables = {
  // "CasW" in ASCII.
  applicationId: 0x43617357,
  what: 'webhooks',
  migrations: MIGRATIONS,
};
const IN_DATABASE: PostgresTables = {
  notes: 'webhook_migrations',
  what: 'webhooks',
  migrations: MIGRATIONS,
};

/** The file that has the webhooks of a data folder. */
export function webhooksFile(folder: string): string {
  return join(folder, 'webhooks.sqlite');
}

/** Tables of webhooks where the journal lies: in the database, or in a file beside it that its owner alone reads. */
export function webhookTables({ folder, database }: { folder: string; database?: string }): Sql {
  return database === undefined
    ? sqliteSql(webhooksFile(folder), IN_FILE)
    : postgresSql(database, IN_DATABASE);
}
