import { DatabaseSync, type StatementSync } from 'node:sqlite';

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
  readonly #db = new DatabaseSync(':memory:');
  readonly #insert: StatementSync;
  readonly #insertWords: StatementSync;
  readonly #removeOwn: StatementSync;
  readonly #retire: StatementSync;
  readonly #removeWords: StatementSync;
  readonly #sweep: StatementSync;
  readonly #find: StatementSync;
  #dead = 0;

  constructor() {
    this.#db.exec(`
      CREATE TABLE documents (number INTEGER PRIMARY KEY, id TEXT NOT NULL, kind INTEGER NOT NULL,
        owner TEXT NOT NULL, specimen TEXT NOT NULL, title TEXT NOT NULL,
        born INTEGER NOT NULL, died INTEGER) STRICT;
      CREATE INDEX documents_owner ON documents(owner);
      CREATE INDEX documents_died ON documents(died) WHERE died IS NOT NULL;
      CREATE VIRTUAL TABLE words USING fts5(title, body, content='', contentless_delete=1,
        tokenize="unicode61 remove_diacritics 2");
    `);
    this.#insert = this.#db.prepare(
      'INSERT INTO documents (id, kind, owner, specimen, title, born) VALUES (?, ?, ?, ?, ?, ?)',
    );
    this.#insertWords = this.#db.prepare('INSERT INTO words (rowid, title, body) VALUES (?, ?, ?)');
    this.#removeOwn = this.#db.prepare('DELETE FROM documents WHERE owner = ? AND born = ? RETURNING number');
    this.#retire = this.#db.prepare('UPDATE documents SET died = ? WHERE owner = ? AND died IS NULL');
    this.#removeWords = this.#db.prepare('DELETE FROM words WHERE rowid = ?');
    this.#sweep = this.#db.prepare('DELETE FROM documents WHERE died <= ? RETURNING number');
    this.#find = this.#db.prepare(
      `SELECT d.id, d.kind, d.specimen, d.title, d.number IN (SELECT rowid FROM words WHERE words MATCH :inTitle) AS inTitle
       FROM words JOIN documents d ON d.number = words.rowid
       WHERE words MATCH :all AND d.born <= :edition AND (d.died IS NULL OR d.died > :edition)
       ORDER BY inTitle DESC, d.kind, d.id`,
    );
  }

  /** Replaces everything that an owner (a specimen or a catalogue record) contributed, from an edition on. */
  replace(owner: string, documents: readonly SearchDocument[], edition: number): void {
    for (const row of this.#removeOwn.all(owner, edition)) this.#removeWords.run(row.number as number);
    this.#dead += Number(this.#retire.run(edition, owner).changes);
    for (const { id, kind, specimen, title, words } of documents) {
      const { lastInsertRowid } = this.#insert.run(
        id,
        SEARCH_KINDS.indexOf(kind),
        owner,
        specimen,
        title,
        edition,
      );
      this.#insertWords.run(lastInsertRowid, title, words);
    }
    if (this.#dead >= SWEPT_AT_ONCE) {
      const gone = this.#sweep.all(edition - SEARCHED_EDITIONS);
      for (const row of gone) this.#removeWords.run(row.number as number);
      // Documents too recent to be deleted count towards the next sweep.
      this.#dead = 0;
    }
  }

  /** Runs many replacements in a transaction, which is ten times as fast. */
  batch(work: () => void): void {
    this.#db.exec('BEGIN');
    try {
      work();
      this.#db.exec('COMMIT');
    } catch (error) {
      this.#db.exec('ROLLBACK');
      throw error;
    }
  }

  /** Hits in an edition, best first; nothing for a question without a letter or digit. */
  *find(question: string, edition: number): Generator<SearchHit> {
    const terms = question.match(/[\p{L}\p{N}]+/gu);
    if (!terms) return;
    const all = terms.map((term) => `"${term}"*`).join(' ');
    for (const row of this.#find.iterate({ all, inTitle: `{title} : (${all})`, edition })) {
      const hit = { ...row, kind: SEARCH_KINDS[row.kind as number], inTitle: row.inTitle === 1 };
      yield hit as unknown as SearchHit;
    }
  }

  close(): void {
    this.#db.close();
  }
}
