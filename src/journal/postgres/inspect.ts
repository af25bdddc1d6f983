import type { ClientBase } from 'pg';
import type { Inspection } from '../journal.ts';
import type { HeadNote } from '../sqlite/head-file.ts';
import type { MachineNote } from './machine-note.ts';

/** Unique columns that keep the chain from forking, by table. */
const UNIQUE = [
  ['caseback_entries', 'sequence'],
  ['caseback_entries', 'id'],
  ['caseback_entries', 'previous_hash'],
  ['caseback_appends', 'key'],
] as const;

/**
 * What a database says of its journal beside the entries: the rows of the head, of the identity and of keys, the unique columns, and
 * what this machine has noted. All of one transaction.
 */
export async function inspectTables(client: ClientBase, note: MachineNote | undefined): Promise<Inspection> {
  await client.query('BEGIN TRANSACTION ISOLATION LEVEL REPEATABLE READ, READ ONLY');
  try {
    return await inspected(client, note);
  } finally {
    await client.query('ROLLBACK').catch(() => undefined);
  }
}

async function inspected(client: ClientBase, note: MachineNote | undefined): Promise<Inspection> {
  const first = async (sql: string) =>
    (await client.query(sql)).rows[0] as Record<string, unknown> | undefined;
  const damage: string[] = [];
  const last = await first('SELECT sequence, instant FROM caseback_entries ORDER BY sequence DESC LIMIT 1');
  const end = Number(last?.sequence ?? 0);
  const head = await first('SELECT sequence, instant FROM caseback_head WHERE one = 1');
  if (!head)
    damage.push(
      `The row of caseback_head, which says how long the journal is, is missing; the last entry there is ${end}, and nothing can be appended`,
    );
  else if (Number(head.sequence) === end && end > 0 && head.instant !== last?.instant)
    damage.push(`caseback_head dates the last entry ${head.instant}, and the entry itself ${last?.instant}`);
  const known = Math.max(end, Number(head?.sequence ?? 0));
  const keyed = Number((await first('SELECT max(last) AS last FROM caseback_appends'))?.last ?? 0);
  if (keyed > known)
    damage.push(
      `${missing(known + 1, keyed)} at the end: caseback_appends has the keys under which they were written`,
    );
  const archive = (await first('SELECT identity FROM caseback_archive WHERE one = 1'))?.identity;
  if (archive === undefined)
    damage.push('The row of caseback_archive is missing, which has the identity of the archive');
  damage.push(...(await lostConstraints(client)));
  const notes: string[] = [];
  if (note && typeof archive === 'string') {
    const found = note.of(archive);
    const wrong = found && (await differenceFromNote(client, found, note.pathOf(archive)));
    if (wrong !== undefined) damage.push(wrong);
    if (!found)
      notes.push(
        `This machine has not noted yet how far the journal had come (${note.pathOf(archive)}): an older copy of the whole database would not show here, but on a machine that has, and against an anchor`,
      );
  }
  return { damage, notes };
}

/** Why the entries are not those that a machine has noted; undefined where they are, with more behind them or not. */
export async function differenceFromNote(
  client: ClientBase,
  { entries, hash }: HeadNote,
  path: string,
): Promise<string | undefined> {
  if (entries === 0) return undefined;
  const { rows } = await client.query('SELECT hash FROM caseback_entries WHERE sequence = $1', [entries]);
  if (rows[0]?.hash === hash) return undefined;
  const { rows: lasts } = await client.query('SELECT max(sequence) AS last FROM caseback_entries');
  const last = Number(lasts[0].last ?? 0);
  const what =
    last < entries
      ? `${missing(last + 1, entries)} at the end`
      : `Entry ${entries} is ${rows.length === 0 ? 'missing' : 'not the one that it was'}`;
  return `${what}: this machine has seen the journal come to entry ${entries} (${path}). An older copy was put in its place, or entries were removed; restore a newer copy. To go on with what is there on purpose, move that file away`;
}

function missing(first: number, last: number): string {
  return first === last ? `Entry ${first} is missing` : `Entries ${first} to ${last} are missing`;
}

async function lostConstraints(client: ClientBase): Promise<readonly string[]> {
  const { rows } = await client.query(
    `SELECT c.table_name, min(u.column_name) AS column_name
       FROM information_schema.table_constraints c
       JOIN information_schema.constraint_column_usage u
         ON u.constraint_schema = c.constraint_schema AND u.constraint_name = c.constraint_name
      WHERE c.constraint_type IN ('PRIMARY KEY', 'UNIQUE') AND c.table_schema = current_schema()
        AND c.table_name LIKE 'caseback%'
      GROUP BY c.table_name, c.constraint_name HAVING count(*) = 1`,
  );
  const found = new Set(rows.map((row) => `${row.table_name}.${row.column_name}`));
  return UNIQUE.filter(([table, column]) => !found.has(`${table}.${column}`)).map(
    ([table, column]) =>
      `${table} does not keep "${column}" unique any more, so that two entries could follow the same one`,
  );
}
