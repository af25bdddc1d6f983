import type { ClientBase } from 'pg';
import { canonicalJson } from '../canonical.ts';
import { DamagedEntry } from '../errors.ts';
import type { Appended, Head, KeptKey } from '../journal.ts';
import { entryOf, type StoredEntry } from '../stored.ts';

const COLUMNS = 'sequence, id, instant, actor, reason, kind, payload, previous_hash, hash, version';
const WIDTH = 10;

/** A statement carries so many entries and characters of payloads at most, unless one entry has more. */
const ROWS = 500;
const CHARACTERS = 8 * 2 ** 20;

/** Entries after a sequence, in order. */
export async function entriesWithin(
  client: ClientBase,
  after: number,
  last: number,
  limit: number,
): Promise<readonly StoredEntry[]> {
  if (last <= after) return [];
  const { rows } = await client.query(
    `SELECT ${COLUMNS} FROM caseback_entries WHERE sequence > $1 AND sequence <= $2 ORDER BY sequence LIMIT $3`,
    [after, last, limit],
  );
  return rows.map(storedOf);
}

/** What was appended under keys, by key. */
export async function appendedUnder(
  client: ClientBase,
  keys: readonly string[],
): Promise<ReadonlyMap<string, Appended>> {
  const { rows } = await client.query(
    'SELECT key, digest, first, last FROM caseback_appends WHERE key = ANY($1)',
    [keys],
  );
  const found = new Map<string, Appended>();
  for (const { key, digest, first, last } of rows) {
    const after = Number(first) - 1;
    const count = Number(last) - after;
    const entries = count > 0 ? await entriesWithin(client, after, Number(last), count) : [];
    found.set(key, { fingerprint: digest, after, entries: entries.map(entryOf) });
  }
  return found;
}

/** All keys, by what was appended under them. */
export async function keysIn(client: ClientBase): Promise<readonly KeptKey[]> {
  const { rows } = await client.query(
    'SELECT key, digest, first, last FROM caseback_appends ORDER BY last, first, key',
  );
  return rows.map(({ key, digest, first, last }) => ({
    key,
    fingerprint: digest,
    first: Number(first),
    last: Number(last),
  }));
}

/** The statement that moves the one row of the head; without parameters, so that it may go with others in one message. */
export function movingHead(
  client: ClientBase,
  { sequence, hash, instant }: Head & { readonly instant: string },
): string {
  const [to, under, at] = [String(sequence), hash, instant].map((value) => client.escapeLiteral(value));
  return `UPDATE caseback_head SET sequence = ${to}, hash = ${under}, instant = ${at} WHERE one = 1`;
}

export async function insertEntries(client: ClientBase, entries: readonly StoredEntry[]): Promise<void> {
  for (let from = 0; from < entries.length; ) {
    let to = from;
    let size = 0;
    do size += entries[to++].payload.length;
    while (to < entries.length && to - from < ROWS && size + entries[to].payload.length <= CHARACTERS);
    const values = entries.slice(from, to).flatMap(valuesOf);
    await client.query(
      `INSERT INTO caseback_entries (${COLUMNS}) VALUES ${placeholders(to - from, WIDTH)}`,
      values,
    );
    from = to;
  }
}

/** Notes what was appended under keys. */
export async function insertKeys(client: ClientBase, used: readonly KeptKey[]): Promise<void> {
  for (let from = 0; from < used.length; from += ROWS) {
    const some = used.slice(from, from + ROWS);
    await client.query(
      `INSERT INTO caseback_appends (key, digest, first, last) VALUES ${placeholders(some.length, 4)}`,
      some.flatMap(({ key, fingerprint, first, last }) => [key, fingerprint, first, last]),
    );
  }
}

/** `($1, $2), ($3, $4)`: so many rows of so many columns. */
function placeholders(rows: number, width: number): string {
  const row = (_: unknown, i: number) =>
    `(${Array.from({ length: width }, (_, column) => `$${i * width + column + 1}`).join(', ')})`;
  return Array.from({ length: rows }, row).join(', ');
}

/** Who and why as canonical JSON, see the schema. */
function valuesOf(entry: StoredEntry): unknown[] {
  const { sequence, id, instant, kind, payload, previousHash, hash, version } = entry;
  const [actor, reason] = [entry.actor, entry.reason].map(canonicalJson);
  return [sequence, id, instant, actor, reason, kind, payload, previousHash, hash, version];
}

function storedOf(row: Record<string, unknown>): StoredEntry {
  const sequence = Number(row.sequence);
  const { id, instant, kind, payload, hash } = row as unknown as StoredEntry;
  return {
    ...{ sequence, id, instant, actor: textIn(row.actor, sequence), reason: textIn(row.reason, sequence) },
    ...{ kind, payload, previousHash: row.previous_hash as string, hash, version: Number(row.version) },
  };
}

function textIn(json: unknown, sequence: number): string {
  try {
    const text: unknown = JSON.parse(json as string);
    if (typeof text === 'string') return text;
  } catch {}
  throw new DamagedEntry(sequence, 'who wrote it or why is not text in JSON');
}
