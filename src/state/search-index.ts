import { DatabaseSync, type StatementSync } from 'node:sqlite';

/** What a search can find, and the words that find it. */
export interface SearchDocument {
  readonly id: string;
  readonly kind: SearchKind;
  /** The specimen it belongs to, whose visibility it shares; empty for catalogue records. */
  readonly specimen: string;
  readonly title: string;
  readonly words: string;
}

export type SearchKind =
  | 'DEVICE'
  | 'MAKER'
  | 'PRODUCT_LINE'
  | 'PART'
  | 'PUBLICATION'
  | 'COMPONENT'
  | 'OBSERVATION';

export interface SearchHit {
  readonly id: string;
  readonly kind: SearchKind;
  readonly specimen: string;
  readonly title: string;
}

/**
 * Full-text index in memory (SQLite FTS5, ranking BM25). It is derived from the journal and never stored.
 * Every word of the question must begin a word of the document; titles weigh five times as much as the rest.
 */
export class SearchIndex {
  readonly #db = new DatabaseSync(':memory:');
  readonly #insert: StatementSync;
  readonly #insertWords: StatementSync;
  readonly #remove: StatementSync;
  readonly #removeWords: StatementSync;
  readonly #find: StatementSync;

  constructor() {
    this.#db.exec(`
      CREATE TABLE documents (number INTEGER PRIMARY KEY, id TEXT NOT NULL, kind TEXT NOT NULL,
        owner TEXT NOT NULL, specimen TEXT NOT NULL, title TEXT NOT NULL) STRICT;
      CREATE INDEX documents_owner ON documents(owner);
      CREATE VIRTUAL TABLE words USING fts5(title, body, content='', contentless_delete=1,
        tokenize="unicode61 remove_diacritics 2");
      INSERT INTO words(words, rank) VALUES ('rank', 'bm25(5.0, 1.0)');
    `);
    this.#insert = this.#db.prepare(
      'INSERT INTO documents (id, kind, owner, specimen, title) VALUES (?, ?, ?, ?, ?)',
    );
    this.#insertWords = this.#db.prepare('INSERT INTO words (rowid, title, body) VALUES (?, ?, ?)');
    this.#remove = this.#db.prepare('DELETE FROM documents WHERE owner = ? RETURNING number');
    this.#removeWords = this.#db.prepare('DELETE FROM words WHERE rowid = ?');
    this.#find = this.#db.prepare(
      `SELECT d.id, d.kind, d.specimen, d.title FROM words JOIN documents d ON d.number = words.rowid
       WHERE words MATCH ? ORDER BY rank, d.id`,
    );
  }

  /** Replaces everything that an owner (a specimen or a catalogue record) contributed. */
  replace(owner: string, documents: readonly SearchDocument[]): void {
    for (const row of this.#remove.all(owner)) this.#removeWords.run(row.number as number);
    for (const { id, kind, specimen, title, words } of documents) {
      const { lastInsertRowid } = this.#insert.run(id, kind, owner, specimen, title);
      this.#insertWords.run(lastInsertRowid, title, words);
    }
  }

  /** Runs many replacements as one, which is ten times as fast. */
  batch(work: () => void): void {
    this.#db.exec('BEGIN');
    try {
      work();
    } finally {
      this.#db.exec('COMMIT');
    }
  }

  /** Hits, best first; nothing for a question without a letter or digit. */
  *find(question: string): Generator<SearchHit> {
    const terms = question.match(/[\p{L}\p{N}]+/gu);
    if (!terms) return;
    for (const row of this.#find.iterate(terms.map((term) => `"${term}"*`).join(' '))) {
      yield row as unknown as SearchHit;
    }
  }

  close(): void {
    this.#db.close();
  }
}
