import type { Journal } from './journal.ts';
import { GrowingTree } from './merkle.ts';

/** Entries read at once, so that others have their turn between. */
const BATCH = 50;

/** The Merkle tree heads of a journal at any length, as anchors have them; hashes that were read once are kept. */
export class TreeHeads {
  readonly #journal: Journal;
  /** 32 bytes an entry. */
  readonly #hashes: Buffer[] = [];
  #reading: Promise<void> = Promise.resolve();

  constructor(journal: Journal) {
    this.#journal = journal;
  }

  /** The head over the first entries, in hexadecimal. */
  async at(entries: number): Promise<string> {
    this.#reading = this.#reading.catch(() => undefined).then(() => this.#read(entries));
    await this.#reading;
    const tree = new GrowingTree();
    for (const hash of this.#hashes.slice(0, entries)) tree.add(hash);
    return tree.root();
  }

  async #read(upTo: number): Promise<void> {
    const after = this.#hashes.length;
    if (after >= upTo) return;
    for await (const batch of this.#journal.readStored({ after, upTo, batchSize: BATCH }))
      for (const { hash } of batch) this.#hashes.push(Buffer.from(hash, 'hex'));
  }
}
