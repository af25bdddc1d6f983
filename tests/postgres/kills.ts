import { type ChildProcess, spawn } from 'node:child_process';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { setTimeout as pause } from 'node:timers/promises';
import { PostgresJournal } from '../../src/journal/postgres/journal.ts';
import { examine } from '../../src/journal/verify.ts';
import { PostgresServer } from './server.ts';

const WRITERS = 3;

/** What is left after the kills. */
export interface Outcome {
  /** Appends that a writer was told are done. */
  readonly acknowledged: number;
  /** Of these, in the second half of the trial, when only writers were killed. */
  readonly afterServerKills: number;
  /** Times that a writer was told UNAVAILABLE. */
  readonly refused: number;
  /** Acknowledged appends that are not where they were said to be. */
  readonly lost: number;
  /** Appends of which not all three entries are there, next to each other, once. */
  readonly partial: number;
  readonly entries: number;
  /** Faults of the chain. */
  readonly faults: number;
  /** What writers said on standard error: nothing, unless one failed. */
  readonly said: string;
}

/**
 * Kills a PostgreSQL server (SIGKILL, fsync on) under load and then processes that append to it, and looks at what is left.
 * @param random from 0 to 1, for the pauses between kills
 */
export async function killUnderLoad(
  kills: { readonly server: number; readonly writers: number },
  random: () => number,
): Promise<Outcome> {
  const server = await PostgresServer.start({ fsync: true });
  /** By key: the first sequence, as the writer was told. */
  const acknowledged = new Map<string, number>();
  const writers = new Set<ChildProcess>();
  let refused = 0;
  let started = 0;
  let said = '';
  const startWriter = () => {
    const file = join(import.meta.dirname, 'writer.ts');
    const child = spawn(process.execPath, [file, server.url(), `w${started++}`]);
    writers.add(child);
    child.stderr.setEncoding('utf8').on('data', (text: string) => {
      said += text;
    });
    createInterface({ input: child.stdout }).on('line', (line) => {
      const [what, key, first] = line.split(' ');
      if (what === 'done') acknowledged.set(key, Number(first));
      else refused++;
    });
  };
  /** A kill counts only when there was work to be killed. */
  const someWork = async () => {
    const before = acknowledged.size;
    while (acknowledged.size === before && said === '') await pause(10);
  };
  try {
    for (let i = 0; i < WRITERS; i++) startWriter();
    for (let kill = 0; kill < kills.server; kill++) {
      await someWork();
      await pause(random() * 300);
      await server.kill();
      await server.start();
    }
    await someWork();
    const before = acknowledged.size;
    for (let kill = 0; kill < kills.writers; kill++) {
      await someWork();
      await pause(random() * 200);
      const victim = [...writers][Math.floor(random() * writers.size)];
      writers.delete(victim);
      victim.kill('SIGKILL');
      startWriter();
    }
    await someWork();
    for (const writer of writers) writer.kill('SIGKILL');
    await pause(200);
    const left = await whatIsLeft(server.url(), acknowledged);
    return {
      acknowledged: acknowledged.size,
      afterServerKills: acknowledged.size - before,
      refused,
      ...left,
      said,
    };
  } finally {
    for (const writer of writers) writer.kill('SIGKILL');
    await server.remove();
  }
}

async function whatIsLeft(
  url: string,
  acknowledged: ReadonlyMap<string, number>,
): Promise<Pick<Outcome, 'lost' | 'partial' | 'entries' | 'faults'>> {
  const journal = new PostgresJournal(url);
  try {
    const { whole, faults } = await examine(journal);
    const byKey = new Map<string, number[]>();
    for await (const entries of journal.read())
      for (const { reason, sequence } of entries) byKey.set(reason, [...(byKey.get(reason) ?? []), sequence]);
    const lost = [...acknowledged].filter(([key, first]) => byKey.get(key)?.[0] !== first).length;
    const partial = [...byKey.values()].filter(
      (all) => all.length !== 3 || all.some((sequence, i) => sequence !== all[0] + i),
    ).length;
    return { lost, partial, entries: whole, faults: faults.length };
  } finally {
    await journal.close();
  }
}
