import { createHash } from 'node:crypto';

// Merkle trees after RFC 9162, section 2.1 (as in RFC 6962): a leaf hashes as SHA-256(0x00 || data), a node as
// SHA-256(0x01 || left || right), and a list is split at the largest power of two smaller than its length. Consistency proofs are
// those of section 2.1.4.

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

/**
 * The proof that a tree of `first` leaves is the beginning of another (section 2.1.4.1): hashes of 32 bytes, at most one more than the
 * height of the larger tree. Empty where both are the same or the first has no leaves.
 * @param leaves data of the leaves of the larger tree, `first` or more
 */
export function consistencyProof(first: number, leaves: readonly Uint8Array[]): readonly Buffer[] {
  return first === 0 || first === leaves.length ? [] : subproof(first, leaves, true);
}

/** @param isOwn whether the first tree's head is this subtree's, so that whoever checks has it already */
function subproof(first: number, leaves: readonly Uint8Array[], isOwn: boolean): readonly Buffer[] {
  if (first === leaves.length) return isOwn ? [] : [rootOf(leaves)];
  const split = largestPowerBelow(leaves.length);
  const [left, right] = [leaves.slice(0, split), leaves.slice(split)];
  return first <= split
    ? [...subproof(first, left, isOwn), rootOf(right)]
    : [...subproof(first - split, right, false), rootOf(left)];
}

/** What is claimed of two trees: the number of leaves and the head of each, the latter in hexadecimal. */
export interface Growth {
  readonly first: number;
  readonly firstRoot: string;
  readonly second: number;
  readonly secondRoot: string;
}

/** Whether a proof shows that the first tree is the beginning of the second, after the algorithm of section 2.1.4.2. */
export function isConsistent(
  { first, firstRoot, second, secondRoot }: Growth,
  proof: readonly Uint8Array[],
): boolean {
  if (first > second) return false;
  if (first === second) return proof.length === 0 && firstRoot === secondRoot;
  if (first === 0) return proof.length === 0 && firstRoot === new GrowingTree().root();
  if (proof.length === 0) return false;
  const path = isPowerOfTwo(first) ? [Buffer.from(firstRoot, 'hex'), ...proof] : proof;
  // Positions of the last leaf of each tree, level by level; numbers, since there may be more than 2 ** 31.
  let [fn, sn] = [first - 1, second - 1];
  const up = () => {
    fn = Math.floor(fn / 2);
    sn = Math.floor(sn / 2);
  };
  while (fn % 2 === 1) up();
  const [start, ...rest] = path;
  let [oldHead, newHead] = [start, start];
  for (const hash of rest) {
    if (sn === 0) return false;
    if (fn % 2 === 1 || fn === sn) {
      oldHead = nodeHash(hash, oldHead);
      newHead = nodeHash(hash, newHead);
      while (fn % 2 === 0 && fn !== 0) up();
    } else newHead = nodeHash(newHead, hash);
    up();
  }
  const isHead = (found: Uint8Array, head: string) => Buffer.from(found).toString('hex') === head;
  return sn === 0 && isHead(oldHead, firstRoot) && isHead(newHead, secondRoot);
}

function rootOf(leaves: readonly Uint8Array[]): Buffer {
  const tree = new GrowingTree();
  for (const leaf of leaves) tree.add(leaf);
  return Buffer.from(tree.root(), 'hex');
}

function largestPowerBelow(count: number): number {
  let power = 1;
  while (power * 2 < count) power *= 2;
  return power;
}

function isPowerOfTwo(count: number): boolean {
  return 2 ** Math.round(Math.log2(count)) === count;
}
