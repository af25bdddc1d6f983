import { setTimeout as delay } from 'node:timers/promises';
import type { ClientBase } from 'pg';
import type { CasebackError } from '../../model/problems.ts';
import { isMadeAlready, isMissingTable, isRepeatable } from './postgres-errors.ts';

/** Tables that belong together, and how they came to today's form. */
export interface Tables {
  /** The table that notes which steps were done. */
  readonly notes: string;
  /** What brings a database from each version to the next, the first from 0. A version once used stays. */
  readonly steps: readonly ((client: ClientBase) => Promise<unknown>)[];
  /** The error for tables of a newer program. */
  tooNew(version: number): CasebackError;
  /** What must hold of a database before anything is made there. */
  readonly before?: (client: ClientBase) => Promise<void>;
}

/** Times that processes which make tables at once may get in each other's way. */
const TRIES = 20;

/**
 * Brings tables to today's form, or finds them so; several processes may do so at once.
 * @param create whether they may be made where there are none
 * @returns whether they are there
 * @throws CasebackError for tables of a newer program, and what {@link Tables.before} throws
 */
export async function migrated(client: ClientBase, tables: Tables, create: boolean): Promise<boolean> {
  for (let left = TRIES; ; left--) {
    try {
      const version = await versionOf(client, tables);
      if (version === tables.steps.length) return true;
      if (version > tables.steps.length) throw tables.tooNew(version);
      if (version === 0 && !create) return false;
      await step(client, tables, version);
    } catch (error) {
      await client.query('ROLLBACK').catch(() => undefined);
      if (left === 0 || !(isMadeAlready(error) || isRepeatable(error))) throw error;
      await delay(20 + Math.random() * 100);
    }
  }
}

/** The version of the tables, 0 where there are none. */
async function versionOf(client: ClientBase, { notes }: Tables): Promise<number> {
  try {
    const { rows } = await client.query(`SELECT max(version) AS version FROM ${notes}`);
    return Number(rows[0].version ?? 0);
  } catch (error) {
    if (isMissingTable(error)) return 0;
    throw error;
  }
}

/** One step, in a transaction that the next process to try it waits for, or fails on, and then finds done. */
async function step(client: ClientBase, { notes, steps, before }: Tables, from: number): Promise<void> {
  if (from === 0) {
    await before?.(client);
    await client.query(`CREATE TABLE IF NOT EXISTS ${notes} (version integer PRIMARY KEY)`);
  }
  await client.query('BEGIN');
  await client.query(`INSERT INTO ${notes} (version) VALUES ($1)`, [from + 1]);
  await steps[from](client);
  await client.query('COMMIT');
}

/**
 * Makes all tables within the caller's transaction, where there are none.
 * @throws what {@link Tables.before} throws
 */
export async function makeWithin(client: ClientBase, { notes, steps, before }: Tables): Promise<void> {
  await before?.(client);
  await client.query(`CREATE TABLE IF NOT EXISTS ${notes} (version integer PRIMARY KEY)`);
  for (const [i, make] of steps.entries()) {
    await client.query(`INSERT INTO ${notes} (version) VALUES ($1)`, [i + 1]);
    await make(client);
  }
}
