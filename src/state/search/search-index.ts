import { backup, DatabaseSync, type StatementSync } from 'node:sqlite';

/** A searchable thing and its words. */
export interface SearchDocument {
  readonly id: string;
  readonly kind: SearchKind;
  /** The specimen it belongs to, whose visibility it shares; empty for catalogue records. */
  readonly specimen: string;
  readonly title: string;
  readonly words: string;
}

/** Kinds in the order in which equally good hits are listed. */
export const SEARCH_KINDS = [
  'DEVICE',
  'PRODUCT_LINE',
  'MAKER',
  'PART',
  'PUBLICATION',
  'COMPONENT',
  'OBSERVATION',
] as const;
export type SearchKind = (typeof SEARCH_KINDS)[number];

export interface SearchHit {
  readonly id: string;
  readonly kind: SearchKind;
  readonly specimen: string;
  readonly title: string;
  /** Whether all words of the question begin a word of the title. */
  readonly inTitle: boolean;
}

/** Order of hits, the best first: as {@link SearchIndex.find} gives them. */
export function compareHits(a: SearchHit, b: SearchHit): number {
  if (a.inTitle !== b.inTitle) return a.inTitle ? -1 : 1;
  const byKind = SEARCH_KINDS.indexOf(a.kind) - SEARCH_KINDS.indexOf(b.kind);
  return byKind || Buffer.compare(Buffer.from(a.id), Buffer.from(b.id));
}

/** Whether this Node can take up an index that was saved; the first ones of version 24 cannot. */
export const CAN_RESTORE_SEARCH = typeof DatabaseSync.prototype.deserialize === 'function';

/** Number of dead documents that starts a sweep. */
const SWEPT_AT_ONCE = 1_000;
/** Editions of the archive that can still be searched. */
const SEARCHED_EDITIONS = 1_000;

/**
 * Full-text index in memory (SQLite FTS5). It is derived from the journal and never stored. Every word of the question
 * must begin a word of the document. Documents in whose title all words begin a word come first, then by kind, then by
 * id: the order of hits depends on the hits alone, so hidden documents cannot influence it.
 *
 * A document is valid from one edition of the archive to another, so that a state finds what existed when it was made.
 */
export class SearchIndex {
  readonly #saved: SavedSearch | undefined;
  #opened: Opened | undefined;
  #dead = 0;

  /** @param saved what {@link save} wrote of another one: it is taken up when it is first needed */
  constructor(saved?: SavedSearch) {
    this.#saved = saved;
  }

  get #is(): Opened {
    this.#opened ??= opened(this.#saved);
    return this.#opened;
  }

  /** Replaces everything that an owner (a specimen or a catalogue record) contributed, from an edition on. */
  replace(owner: string, documents: readonly SearchDocument[], edition: number): void {
    for (const row of this.#is.removeOwn.all(owner, edition)) this.#is.removeWords.run(row.number as number);
    this.#dead += Number(this.#is.retire.run(edition, owner).changes);
    for (const { id, kind, specimen, title, words } of documents) {
      const { lastInsertRowid } = this.#is.insert.run(
        id,
        SEARCH_KINDS.indexOf(kind),
        owner,
        specimen,
        title,
        edition,
      );
      this.#is.insertWords.run(lastInsertRowid, title, words);
    }
    if (this.#dead >= SWEPT_AT_ONCE) {
      const gone = this.#is.sweep.all(edition - SEARCHED_EDITIONS);
      for (const row of gone) this.#is.removeWords.run(row.number as number);
      // Documents too recent to be deleted count towards the next sweep.
      this.#dead = 0;
    }
  }

  /** Runs many replacements in a transaction, which is ten times as fast. */
  batch(work: () => void): void {
    this.#is.db.exec('BEGIN');
    try {
      work();
      this.#is.db.exec('COMMIT');
    } catch (error) {
      this.#is.db.exec('ROLLBACK');
      throw error;
    }
  }

  /** Hits in an edition, best first; nothing for a question without a letter or digit. */
  *find(question: string, edition: number): Generator<SearchHit> {
    const terms = question.match(/[\p{L}\p{N}]+/gu);
    if (!terms) return;
    const all = terms.map((term) => `"${term}"*`).join(' ');
    for (const row of this.#is.find.iterate({ all, inTitle: `{title} : (${all})`, edition })) {
      const hit = { ...row, kind: SEARCH_KINDS[row.kind as number], inTitle: row.inTitle === 1 };
      yield hit as unknown as SearchHit;
    }
  }

  /**
   * Writes the index into a file, for another one to take up. Documents that come meanwhile may be in it.
   * @param file must not exist
   */
  async save(file: string): Promise<void> {
    // A few pages at a time, on another thread, so that nobody waits for it.
    await backup(this.#is.db, file, { rate: 512 });
  }

  close(): void {
    this.#opened?.db.close();
  }
}

/** An index at rest, as it was in an edition. */
export interface SavedSearch {
  /** A SQLite database; read when it is first needed. */
  readonly bytes: () => Uint8Array;
  readonly edition: number;
}

/** What came while the index was saved, and is of no edition of those who take it up, is taken out. */
function takeUp(db: DatabaseSync, { bytes, edition }: SavedSearch): void {
  db.deserialize(bytes());
  // Documents are numbered as they come, so that those of a later edition stand behind all others: nothing else is looked at.
  const later = db
    .prepare(
      `DELETE FROM documents WHERE number >
         coalesce((SELECT number FROM documents WHERE born <= ? ORDER BY number DESC LIMIT 1), 0)
       RETURNING number`,
    )
    .all(edition);
  const remove = db.prepare('DELETE FROM words WHERE rowid = ?');
  for (const row of later) remove.run(row.number as number);
  db.prepare('UPDATE documents SET died = NULL WHERE died > ?').run(edition);
}

interface Opened {
  readonly db: DatabaseSync;
  readonly insert: StatementSync;
  readonly insertWords: StatementSync;
  readonly removeOwn: StatementSync;
  readonly retire: StatementSync;
  readonly removeWords: StatementSync;
  readonly sweep: StatementSync;
  readonly find: StatementSync;
}

const SCHEMA = `
  CREATE TABLE documents (number INTEGER PRIMARY KEY, id TEXT NOT NULL, kind INTEGER NOT NULL,
    owner TEXT NOT NULL, specimen TEXT NOT NULL, title TEXT NOT NULL,
    born INTEGER NOT NULL, died INTEGER) STRICT;
  CREATE INDEX documents_owner ON documents(owner);
  CREATE INDEX documents_died ON documents(died) WHERE died IS NOT NULL;
  CREATE VIRTUAL TABLE words USING fts5(title, body, content='', contentless_delete=1,
    tokenize="unicode61 remove_diacritics 2");
`;

function opened(saved: SavedSearch | undefined): Opened {
  const db = new DatabaseSync(':memory:');
  if (saved) takeUp(db, saved);
  else db.exec(SCHEMA);
  return {
    db,
    insert: db.prepare(
      'INSERT INTO documents (id, kind, owner, specimen, title, born) VALUES (?, ?, ?, ?, ?, ?)',
    ),
    insertWords: db.prepare('INSERT INTO words (rowid, title, body) VALUES (?, ?, ?)'),
    removeOwn: db.prepare('DELETE FROM documents WHERE owner = ? AND born = ? RETURNING number'),
    retire: db.prepare('UPDATE documents SET died = ? WHERE owner = ? AND died IS NULL'),
    removeWords: db.prepare('DELETE FROM words WHERE rowid = ?'),
    sweep: db.prepare('DELETE FROM documents WHERE died <= ? RETURNING number'),
    find: db.prepare(
      `SELECT d.id, d.kind, d.specimen, d.title, d.number IN (SELECT rowid FROM words WHERE words MATCH :inTitle) AS inTitle
       FROM words JOIN documents d ON d.number = words.rowid
       WHERE words MATCH :all AND d.born <= :edition AND (d.died IS NULL OR d.died > :edition)
       ORDER BY inTitle DESC, d.kind, d.id`,
    ),
  };
}
