import { nameKey } from './names.ts';
import type { AccountStore, Credential, Person, Session, Token } from './store.ts';

/** A database, as the accounts need it. Statements are written with `?1`, `?2`; each is a transaction of its own. */
export interface Sql {
  /** Rows of a query. */
  all(statement: string, values: readonly (string | null)[]): Promise<readonly object[]>;
  /** Runs a change; answers how many rows it touched, or `taken` when a key was taken already. */
  run(statement: string, values: readonly (string | null)[]): Promise<number | 'taken'>;
  close(): Promise<void>;
}

/**
 * Steps of the tables, each run once and never changed: a further one is added. Text and comparison alone, so that SQLite,
 * PostgreSQL and engines with its protocol read them alike.
 */
export const MIGRATIONS: readonly (readonly string[])[] = [
  [
    `CREATE TABLE access_people (
       key TEXT PRIMARY KEY,
       name TEXT NOT NULL,
       display_name TEXT,
       role TEXT NOT NULL,
       state TEXT NOT NULL,
       subject TEXT UNIQUE,
       added TEXT NOT NULL
     )`,
    `CREATE TABLE access_tokens (
       id TEXT PRIMARY KEY,
       digest TEXT NOT NULL UNIQUE,
       person TEXT NOT NULL,
       label TEXT,
       created TEXT NOT NULL,
       expires TEXT NOT NULL,
       last_used TEXT
     )`,
    `CREATE TABLE access_sessions (
       digest TEXT PRIMARY KEY,
       person TEXT NOT NULL,
       token TEXT,
       created TEXT NOT NULL,
       last_seen TEXT NOT NULL,
       expires TEXT NOT NULL
     )`,
    'CREATE INDEX access_tokens_person ON access_tokens(person)',
    'CREATE INDEX access_sessions_person ON access_sessions(person)',
    'CREATE INDEX access_sessions_token ON access_sessions(token)',
  ],
];

const PERSON = ['name', 'display_name', 'role', 'state', 'subject', 'added'] as const;
const TOKEN = ['id', 'label', 'created', 'expires', 'last_used'] as const;
const SESSION = ['token', 'created', 'last_seen', 'expires'] as const;

const columns = (table: string, prefix: string, names: readonly string[]) =>
  names.map((name) => `${table}.${name} AS ${prefix}_${name}`).join(', ');
const PERSON_COLUMNS = columns('access_people', 'p', PERSON);
const TOKEN_COLUMNS = columns('access_tokens', 't', TOKEN);
const SESSION_COLUMNS = columns('access_sessions', 's', SESSION);

type Row = Readonly<Record<string, string | null>>;

/** Accounts in the tables of a database. People are joined by the key of their name. */
export class SqlAccountStore implements AccountStore {
  readonly #sql: Sql;

  constructor(sql: Sql) {
    this.#sql = sql;
  }

  async hasPeople(): Promise<boolean> {
    return (await this.#rows('SELECT key FROM access_people LIMIT 1')).length > 0;
  }

  async people(): Promise<readonly Person[]> {
    const rows = await this.#rows(`SELECT ${PERSON_COLUMNS} FROM access_people`);
    // Databases sort text each in its own way.
    return rows
      .map((row) => ({ key: nameKey(String(row.p_name)), person: personIn(row) }))
      .sort((a, b) => (a.key < b.key ? -1 : 1))
      .map(({ person }) => person);
  }

  async person(name: string): Promise<Person | undefined> {
    return this.#person('key', nameKey(name));
  }

  async personOfSubject(subject: string): Promise<Person | undefined> {
    return this.#person('subject', subject);
  }

  async #person(column: 'key' | 'subject', value: string): Promise<Person | undefined> {
    const [row] = await this.#rows(`SELECT ${PERSON_COLUMNS} FROM access_people WHERE ${column} = ?1`, value);
    return row && personIn(row);
  }

  async addPerson({ name, displayName, role, state, subject, added }: Person): Promise<boolean> {
    const done = await this.#sql.run(
      `INSERT INTO access_people (key, name, display_name, role, state, subject, added)
       VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)`,
      [nameKey(name), name, displayName, role, state, subject, added],
    );
    return done !== 'taken';
  }

  async changePerson(
    name: string,
    changes: Partial<Pick<Person, 'displayName' | 'role' | 'state' | 'subject'>>,
  ): Promise<boolean> {
    const columnOf = {
      displayName: 'display_name',
      role: 'role',
      state: 'state',
      subject: 'subject',
    } as const;
    const changed = Object.entries(changes) as [keyof typeof columnOf, string | null][];
    const sets = changed.map(([field], i) => `${columnOf[field]} = ?${i + 2}`);
    const done = await this.#sql.run(`UPDATE access_people SET ${sets.join(', ')} WHERE key = ?1`, [
      nameKey(name),
      ...changed.map(([, value]) => value),
    ]);
    return done === 1;
  }

  async tokens(name?: string): Promise<readonly Token[]> {
    const rows = await this.#rows(
      `SELECT ${TOKEN_COLUMNS}, ${PERSON_COLUMNS} FROM access_tokens
       JOIN access_people ON access_people.key = access_tokens.person
       ${name === undefined ? '' : 'WHERE access_people.key = ?1'}
       ORDER BY access_tokens.created DESC, access_tokens.id`,
      ...(name === undefined ? [] : [nameKey(name)]),
    );
    return rows.map(tokenIn);
  }

  async addToken({ id, person, label, created, expires, lastUsed }: Token, digest: string): Promise<void> {
    await this.#sql.run(
      `INSERT INTO access_tokens (id, digest, person, label, created, expires, last_used)
       VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)`,
      [id, digest, nameKey(person), label, created, expires, lastUsed],
    );
  }

  async removeToken(id: string): Promise<boolean> {
    const done = await this.#sql.run('DELETE FROM access_tokens WHERE id = ?1', [id]);
    await this.#sql.run('DELETE FROM access_sessions WHERE token = ?1', [id]);
    return done === 1;
  }

  async removeTokens(name: string): Promise<void> {
    await this.#sql.run('DELETE FROM access_tokens WHERE person = ?1', [nameKey(name)]);
  }

  async tokenOf(digest: string): Promise<Credential | undefined> {
    const [row] = await this.#rows(
      `SELECT access_tokens.digest AS digest, ${TOKEN_COLUMNS}, ${PERSON_COLUMNS} FROM access_tokens
       JOIN access_people ON access_people.key = access_tokens.person WHERE access_tokens.digest = ?1`,
      digest,
    );
    return (
      row && { digest: row.digest ?? '', person: personIn(row), token: tokenIn(row), session: undefined }
    );
  }

  async touchToken(id: string, instant: string): Promise<void> {
    await this.#sql.run('UPDATE access_tokens SET last_used = ?2 WHERE id = ?1', [id, instant]);
  }

  async addSession({ person, token, created, lastSeen, expires }: Session, digest: string): Promise<void> {
    await this.#sql.run(
      `INSERT INTO access_sessions (digest, person, token, created, last_seen, expires)
       VALUES (?1, ?2, ?3, ?4, ?5, ?6)`,
      [digest, nameKey(person), token, created, lastSeen, expires],
    );
  }

  async sessionOf(digest: string): Promise<Credential | undefined> {
    const [row] = await this.#rows(
      `SELECT access_sessions.digest AS digest, ${SESSION_COLUMNS}, ${TOKEN_COLUMNS}, ${PERSON_COLUMNS}
       FROM access_sessions
       JOIN access_people ON access_people.key = access_sessions.person
       LEFT JOIN access_tokens ON access_tokens.id = access_sessions.token
       WHERE access_sessions.digest = ?1`,
      digest,
    );
    if (!row) return undefined;
    const token = row.t_id === null ? undefined : tokenIn(row);
    return { digest: row.digest ?? '', person: personIn(row), token, session: sessionIn(row) };
  }

  async touchSession(digest: string, instant: string): Promise<void> {
    await this.#sql.run('UPDATE access_sessions SET last_seen = ?2 WHERE digest = ?1', [digest, instant]);
  }

  async removeSession(digest: string): Promise<void> {
    await this.#sql.run('DELETE FROM access_sessions WHERE digest = ?1', [digest]);
  }

  async removeSessions(name: string): Promise<number> {
    return Number(await this.#sql.run('DELETE FROM access_sessions WHERE person = ?1', [nameKey(name)]));
  }

  async sweep(sessionsBefore: string, tokensBefore: string): Promise<void> {
    await this.#sql.run('DELETE FROM access_sessions WHERE expires < ?1', [sessionsBefore]);
    await this.#sql.run('DELETE FROM access_tokens WHERE expires < ?1', [tokensBefore]);
  }

  close(): Promise<void> {
    return this.#sql.close();
  }

  async #rows(statement: string, ...values: readonly (string | null)[]): Promise<readonly Row[]> {
    return (await this.#sql.all(statement, values)) as readonly Row[];
  }
}

function personIn(row: Row): Person {
  return {
    name: row.p_name,
    displayName: row.p_display_name,
    role: row.p_role,
    state: row.p_state,
    subject: row.p_subject,
    added: row.p_added,
  } as Person;
}

function tokenIn(row: Row): Token {
  return {
    id: row.t_id,
    person: row.p_name,
    label: row.t_label,
    created: row.t_created,
    expires: row.t_expires,
    lastUsed: row.t_last_used,
  } as Token;
}

function sessionIn(row: Row): Session {
  return {
    person: row.p_name,
    token: row.s_token,
    created: row.s_created,
    lastSeen: row.s_last_seen,
    expires: row.s_expires,
  } as Session;
}
