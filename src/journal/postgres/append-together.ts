import type { ClientBase, QueryResult } from 'pg';
import type { Entry } from '../../model/entry.ts';
import { CasebackError } from '../../model/problems.ts';
import { chain, instantAfter, type Prepared } from '../chain.ts';
import { HeadMoved } from '../errors.ts';
import type { Appended, Head } from '../journal.ts';
import { type Keyed, keyReused } from '../keys.ts';
import type { StoredEntry } from '../stored.ts';
import type { Connections } from './connections.ts';
import { appendedUnder, insertEntries, insertKeys, movingHead } from './rows.ts';

/** An append that waits for its turn. */
export interface Waiting {
  readonly prepared: readonly Prepared[];
  readonly keyed: Keyed | undefined;
  readonly expectedHead: number | undefined;
  resolve(entries: readonly Entry[]): void;
  reject(error: unknown): void;
}

/** What became of one append: the entries, or why it was refused. */
type Outcome = readonly Entry[] | CasebackError;

/** A transaction as it was about to be committed. */
interface Attempt {
  readonly outcomes: readonly Outcome[];
  /** Ids of what it wrote, and its keys: by either it is known whether it was committed. */
  readonly id: string | undefined;
  readonly key: string | undefined;
}

/**
 * Writes several appends in one transaction, each as if it were alone after those before it: with its own expected head, key
 * and refusal. Settles every one of them. Where the connection is lost while the transaction is committed, the next try finds out
 * under the lock whether it was.
 */
export async function appendTogether(
  connections: Connections,
  waiting: readonly Waiting[],
  clock: () => Date,
): Promise<void> {
  let last: Attempt | undefined;
  let isSettled = false;
  try {
    await connections.work(async (client) => {
      if (isSettled) return;
      const notification = connections.notification;
      const outcomes = await attempt(client, waiting, clock, { last, notification }, (next) => {
        last = next;
      });
      settle(waiting, outcomes);
      isSettled = true;
      if (notification === undefined) await connections.notify(client);
    });
  } catch (error) {
    if (isSettled) return;
    const unsure = last && (last.id ?? last.key) !== undefined;
    for (const one of waiting) one.reject(unsure ? unsureOf(error) : error);
  }
}

/**
 * One transaction: the head locked, every append weighed and written, the head moved on. In as few messages as may be, for others
 * wait for the lock meanwhile.
 */
async function attempt(
  client: ClientBase,
  waiting: readonly Waiting[],
  clock: () => Date,
  { last, notification }: { readonly last: Attempt | undefined; readonly notification: string | undefined },
  note: (attempt: Attempt) => void,
): Promise<readonly Outcome[]> {
  const [, locked] = await severally(
    client,
    'BEGIN',
    'SELECT sequence, hash, instant FROM caseback_head WHERE one = 1 FOR UPDATE',
  );
  const [row] = locked.rows;
  if (!row)
    throw new CasebackError('DAMAGED_JOURNAL', 'The journal has lost its head; restore it from a copy');
  if (last && (await wasCommitted(client, last))) {
    await client.query('ROLLBACK');
    return last.outcomes;
  }
  let head: Head & { readonly instant: string } = {
    sequence: Number(row.sequence),
    hash: row.hash,
    instant: row.instant,
  };
  const keys = waiting.flatMap(({ keyed }) => keyed?.key ?? []);
  const known = new Map<string, Appended>(keys.length > 0 ? await appendedUnder(client, keys) : []);
  const stored: StoredEntry[] = [];
  const used: (Keyed & { readonly after: number; readonly last: number })[] = [];
  const outcomes = waiting.map(({ prepared, keyed, expectedHead }): Outcome => {
    const before = keyed && known.get(keyed.key);
    if (before) return before.fingerprint === keyed.fingerprint ? before.entries : keyReused();
    if (expectedHead !== undefined && expectedHead !== head.sequence)
      return new HeadMoved(expectedHead, head.sequence);
    const { sequence: after } = head;
    const links = chain(prepared, head, instantAfter(head.instant, clock()));
    stored.push(...links.map((link) => link.stored));
    head = stored.at(-1) ?? head;
    const entries = links.map(({ entry }) => entry);
    if (keyed) {
      used.push({ ...keyed, after, last: head.sequence });
      known.set(keyed.key, { fingerprint: keyed.fingerprint, after, entries });
    }
    return entries;
  });
  if (stored.length === 0 && used.length === 0) {
    await client.query('ROLLBACK');
    return outcomes;
  }
  await insertEntries(client, stored);
  await insertKeys(
    client,
    used.map((one) => ({ ...one, first: one.after + 1 })),
  );
  note({ outcomes, id: stored[0]?.id, key: used[0]?.key });
  await severally(
    client,
    movingHead(client, head),
    ...(notification === undefined ? [] : [notification]),
    'COMMIT',
  );
  return outcomes;
}

/** Several statements without parameters in one message; what fails ends them. */
async function severally(client: ClientBase, ...statements: string[]): Promise<readonly QueryResult[]> {
  return (await client.query(statements.join('; '))) as unknown as readonly QueryResult[];
}

/** Whether a transaction of which no answer came was committed; asked under the lock, which it would hold otherwise. */
async function wasCommitted(client: ClientBase, { id, key }: Attempt): Promise<boolean> {
  const { rows } =
    id === undefined
      ? await client.query('SELECT 1 FROM caseback_appends WHERE key = $1', [key])
      : await client.query('SELECT 1 FROM caseback_entries WHERE id = $1', [id]);
  return rows.length > 0;
}

function settle(waiting: readonly Waiting[], outcomes: readonly Outcome[]): void {
  waiting.forEach(({ resolve, reject }, i) => {
    const outcome = outcomes[i];
    if (outcome instanceof CasebackError) reject(outcome);
    else resolve(outcome);
  });
}

/** The connection was lost before it was known whether the last try was written. */
function unsureOf(error: unknown): unknown {
  return error instanceof CasebackError && error.code === 'UNAVAILABLE'
    ? new CasebackError(
        'UNAVAILABLE',
        `${error.message}. Whether the change was written is not known: look, or ask again under the same idempotency key`,
      )
    : error;
}
