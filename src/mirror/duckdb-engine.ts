import type { DuckDBConnection, DuckDBInstance } from '@duckdb/node-api';
import { CasebackError } from '../model/problems.ts';
import type { SqlEngine } from './engine.ts';

export interface DuckDbOptions {
  /** A database file; in memory when not given. */
  readonly file?: string | undefined;
  /** @default as many as the machine has */
  readonly threads?: number | undefined;
  /** As DuckDB writes it: `2GB`. @default most of the machine's */
  readonly memory?: string | undefined;
}

/** DuckDB in this process. */
export class DuckDbEngine implements SqlEngine {
  readonly dialect = 'duckdb';
  readonly #instance: DuckDBInstance;
  readonly connection: DuckDBConnection;

  private constructor(instance: DuckDBInstance, connection: DuckDBConnection) {
    this.#instance = instance;
    this.connection = connection;
  }

  /** @throws CasebackError UNAVAILABLE where the package does not run */
  static async open({ file = ':memory:', threads, memory }: DuckDbOptions = {}): Promise<DuckDbEngine> {
    const { DuckDBInstance } = await loaded();
    const instance = await DuckDBInstance.create(file, {
      ...(threads !== undefined && { threads: String(threads) }),
      ...(memory !== undefined && { memory_limit: memory }),
    });
    return new DuckDbEngine(instance, await instance.connect());
  }

  async rows(sql: string): Promise<readonly (readonly unknown[])[]> {
    const reader = await this.connection.runAndReadAll(sql);
    return reader.getRowsJS() as unknown[][];
  }

  async atOnce<T>(work: () => Promise<T>): Promise<T> {
    await this.connection.run('BEGIN TRANSACTION');
    try {
      const done = await work();
      await this.connection.run('COMMIT');
      return done;
    } catch (error) {
      // After some errors the transaction has ended already.
      await this.connection.run('ROLLBACK').catch(() => undefined);
      throw error;
    }
  }

  async close(): Promise<void> {
    this.connection.closeSync();
    this.#instance.closeSync();
  }
}

/** The package is optional, since it is a large binary that not every platform has. */
async function loaded() {
  try {
    return await import('@duckdb/node-api');
  } catch (error) {
    throw new CasebackError(
      'UNAVAILABLE',
      `Parquet files need the package @duckdb/node-api, which does not load here (${(error as Error).message.split('\n', 1)[0]}); run "npm install" on a platform that it supports, or mirror to PostgreSQL`,
    );
  }
}
