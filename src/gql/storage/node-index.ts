/**
 * Node ids to nodes, over the whole graph: asked only when an edge first points to an id outside its own segment.
 * Open addressing over node numbers, split into many small tables so that no single insertion has to rehash much.
 */
import { S, SEGMENT_ROW, type Store } from './store.ts';

const TABLES = 1024;
const EMPTY = -1;
const REMOVED = -2;

const NONE = new Int32Array(1).fill(EMPTY);

export interface SavedNodeIndex {
  readonly tables: Int32Array;
  /** Length of each table. */
  readonly lengths: Int32Array;
  readonly used: Int32Array;
}

export class NodeIndex {
  readonly #store: Store;
  /** Empty ones are a shared object. */
  readonly #tables: Int32Array[] = new Array(TABLES).fill(NONE);
  readonly #used = new Int32Array(TABLES);

  constructor(store: Store) {
    this.#store = store;
  }

  /** @param id the node's id */
  add(node: number, id: string): void {
    const { segmentTable, nodeRow, strings } = this.#store;
    const row = nodeRow.view[node * 4 + 3]! * SEGMENT_ROW;
    const prefix = strings.text(segmentTable.view[row + S.prefix]!).length;
    const hash = mixed(hashedOn(segmentTable.view[row + S.prefixHash]!, id, prefix));
    const t = hash & (TABLES - 1);
    if ((this.#used[t]! + 1) * 4 > this.#tables[t]!.length * 3) this.#rehash(t);
    place(this.#tables[t]!, hash, node);
    this.#used[t]!++;
  }

  /** Makes room for so many more nodes at once. */
  reserve(nodes: number): void {
    // Tables are not filled evenly.
    const more = nodes / TABLES + 3 * Math.sqrt(nodes / TABLES);
    if (more < 8) return;
    for (let t = 0; t < TABLES; t++)
      if ((this.#used[t]! + more) * 4 > this.#tables[t]!.length * 3) this.#rehash(t, more);
  }

  remove(node: number): void {
    const hash = this.#hashOfNode(node);
    const table = this.#tables[hash & (TABLES - 1)]!;
    const mask = table.length - 1;
    for (let i = (hash >>> 10) & mask; table[i] !== EMPTY; i = (i + 1) & mask) {
      if (table[i] === node) {
        table[i] = REMOVED;
        return;
      }
    }
  }

  /** The node with this id, or -1. */
  find(id: string): number {
    const hash = hashOf(id);
    const table = this.#tables[hash & (TABLES - 1)]!;
    const mask = table.length - 1;
    for (let i = (hash >>> 10) & mask; table[i] !== EMPTY; i = (i + 1) & mask) {
      const node = table[i]!;
      if (node >= 0 && this.#store.nodeId(node) === id) return node;
    }
    return -1;
  }

  /** Tables one behind the other, to be taken up by {@link restore}. */
  save(): SavedNodeIndex {
    const lengths = Int32Array.from(this.#tables, (table) => (table === NONE ? 0 : table.length));
    const tables = new Int32Array(lengths.reduce((sum, length) => sum + length, 0));
    let at = 0;
    for (const table of this.#tables) {
      if (table === NONE) continue;
      tables.set(table, at);
      at += table.length;
    }
    return { tables, lengths, used: this.#used };
  }

  /** Takes up what the index of an equal store saved. */
  restore({ tables, lengths, used }: SavedNodeIndex): void {
    let at = 0;
    lengths.forEach((length, t) => {
      this.#tables[t] = length === 0 ? NONE : tables.subarray(at, at + length);
      at += length;
    });
    this.#used.set(used);
  }

  bytesUsed(): number {
    return this.#tables.reduce((sum, table) => sum + (table === NONE ? 8 : table.byteLength + 120), 0);
  }

  #rehash(t: number, more = 0): void {
    const old = this.#tables[t]!;
    const live = old.filter((node) => node >= 0);
    let size = 8;
    // Four times as large: the ids of all nodes in it are gone through each time.
    while (live.length * 3 > size || (live.length + more) * 4 > size * 3) size *= 2;
    const table = new Int32Array(size).fill(EMPTY);
    for (const node of live) place(table, this.#hashOfNode(node), node);
    this.#tables[t] = table;
    this.#used[t] = live.length;
  }

  /** `hashOf` of the node's id, without making the string when it is plain ASCII. */
  #hashOfNode(node: number): number {
    const store = this.#store;
    const bytes = store.idBytes.view;
    const end = store.nodeIdStart.view[node + 1]!;
    let hash = store.segmentField(store.nodeRow.view[node * 4 + 3]!, S.prefixHash);
    for (let i = store.nodeIdStart.view[node]!; i < end; i++) {
      if (bytes[i]! > 127) return hashOf(store.nodeId(node));
      hash = Math.imul(hash ^ bytes[i]!, PRIME);
    }
    return mixed(hash);
  }
}

function place(table: Int32Array, hash: number, node: number): void {
  const mask = table.length - 1;
  let i = (hash >>> 10) & mask;
  while (table[i] !== EMPTY) i = (i + 1) & mask;
  table[i] = node;
}

const BASIS = 0x811c9dc5 | 0;
const PRIME = 0x01000193;

/** FNV-1a over UTF-16 code units (Fowler, Noll and Vo; draft-eastlake-fnv), finished by Murmur3's mixer. */
function hashOf(text: string): number {
  return mixed(hashedOn(BASIS, text, 0));
}

/** State of the hash after a prefix of ids. */
export function hashedBefore(text: string): number {
  return hashedOn(BASIS, text, 0);
}

/** Continues a hash with a text from a place on. */
function hashedOn(before: number, text: string, from: number): number {
  let hash = before;
  for (let i = from; i < text.length; i++) hash = Math.imul(hash ^ text.charCodeAt(i), PRIME);
  return hash;
}

function mixed(value: number): number {
  let hash = value;
  hash ^= hash >>> 16;
  hash = Math.imul(hash, 0x85ebca6b);
  hash ^= hash >>> 13;
  hash = Math.imul(hash, 0xc2b2ae35);
  return (hash ^ (hash >>> 16)) >>> 0;
}
