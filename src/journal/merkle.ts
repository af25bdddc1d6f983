import { createHash } from 'node:crypto';

// Merkle trees after RFC 9162, section 2.1 (as in RFC 6962): a leaf hashes as SHA-256(0x00 || data), a node as
// SHA-256(0x01 || left || right), and a list is split at the largest power of two smaller than its length.

const LEAF = Uint8Array.of(0);
const NODE = Uint8Array.of(1);

/** Hash of a leaf's data. */
function leafHash(data: Uint8Array): Buffer {
  return createHash('sha256').update(LEAF).update(data).digest();
}

function nodeHash(left: Uint8Array, right: Uint8Array): Buffer {
  return createHash('sha256').update(NODE).update(left).update(right).digest();
}

/**
 * The head of a Merkle tree that grows at its end: keeps the roots of the full trees that its leaves make, one for each
 * bit of their number.
 */
export class GrowingTree {
  /** Roots of full trees, the largest first. */
  readonly #full: { readonly size: number; readonly root: Buffer }[] = [];
  #size = 0;

  /** Number of leaves. */
  get size(): number {
    return this.#size;
  }

  add(data: Uint8Array): void {
    let last = { size: 1, root: leafHash(data) };
    for (let before = this.#full.at(-1); before?.size === last.size; before = this.#full.at(-1)) {
      this.#full.pop();
      last = { size: 2 * last.size, root: nodeHash(before.root, last.root) };
    }
    this.#full.push(last);
    this.#size++;
  }

  /** The Merkle tree hash of all leaves, in hexadecimal; SHA-256 of nothing for none (section 2.1.1). */
  root(): string {
    const roots = this.#full.map(({ root }) => root);
    const [last, ...before] = roots.reverse();
    if (last === undefined) return createHash('sha256').digest('hex');
    return before.reduce((right, left) => nodeHash(left, right), last).toString('hex');
  }
}
