import type { DialectName } from '../gql/gql.ts';

/** A connection to an SQL engine that holds, or reads, a graph in tables. */
export interface SqlEngine {
  readonly dialect: DialectName;
  /** Runs one statement; rows as lists of their cells. */
  rows(sql: string): Promise<readonly (readonly unknown[])[]>;
  /** Runs what `work` asks as one transaction that sees one state, and is undone when it throws. */
  atOnce<T>(work: () => Promise<T>): Promise<T>;
  close(): Promise<void>;
}
