/**
 * Nodes by the value of a property: for a value that is asked for, the nodes of each segment that have it. Lists are
 * made when a segment is first searched for the value, and kept until the segment is replaced: an index that grows
 * with what is asked (the idea of Idreos, Kersten and Manegold, "Database cracking", CIDR 2007), so a value that
 * nobody asks for costs neither time nor memory. The inverted index says in which segments a value is at all.
 */
import { LRUCache } from 'lru-cache';
import type { ValueAsked } from '../plan/step.ts';
import type { Catalog } from '../storage/catalog.ts';
import { S, SEGMENT_ROW, type Store } from '../storage/store.ts';

/** Words of a row: version of the segment, and first and end of its nodes in the list. */
export const LIST_ROW = 3;
/** Entries of replaced segments after which a list is begun anew, when they are most of it. */
const STALE = 4096;

export class ValueLists {
  rows = new Int32Array(0);
  list = new Int32Array(64);
  readonly #asked: ValueAsked;
  #length = 0;
  #stale = 0;
  /** Per node kind, the place of the property, -1 for none. */
  #slots = new Int32Array(0);

  constructor(asked: ValueAsked) {
    this.#asked = asked;
  }

  /** Makes room for so many segments; answers the rows. */
  fit(segments: number): Int32Array {
    const grows = this.rows.length < segments * LIST_ROW;
    const isStale = this.#stale > STALE && this.#stale * 2 > this.#length;
    if (!grows && !isStale) return this.rows;
    // A search that is under way goes on with the arrays it has.
    const rows = new Int32Array(grows ? Math.ceil(segments * 1.25 + 8) * LIST_ROW : this.rows.length);
    if (isStale) {
      this.list = new Int32Array(64);
      this.#length = 0;
      this.#stale = 0;
    } else rows.set(this.rows);
    this.rows = rows;
    return rows;
  }

  /** Looks a segment through. */
  find(segment: number, store: Store): void {
    const runs = store.runRow.view;
    const nodes = store.nodeRow.view;
    const { words, doubles } = store.records;
    const { value, storage } = this.#asked;
    const slots = this.#slotsOf(store.catalog);
    const { rows } = this;
    const at = segment * LIST_ROW;
    this.#stale += rows[at + 2]! - rows[at + 1]!;
    rows[at + 1] = this.#length;
    let run = store.segmentField(segment, S.runs);
    const end = run + store.segmentField(segment, S.runCount);
    for (; run < end; run++) {
      const slot = slots[runs[run * 2]!]!;
      if (slot < 0) continue;
      const last = runs[run * 2 + 3]!;
      this.#room(last - runs[run * 2 + 1]!);
      const { list } = this;
      let length = this.#length;
      for (let node = runs[run * 2 + 1]!; node < last; node++) {
        const record = nodes[node * 4 + 2]!;
        const found = storage === 'number' ? doubles[(record >> 1) + slot]! : words[record + slot]!;
        if (found === value) list[length++] = node;
      }
      this.#length = length;
    }
    rows[at + 2] = this.#length;
    rows[at] = store.segmentTable.view[segment * SEGMENT_ROW + S.version]!;
  }

  #room(nodes: number): void {
    if (this.#length + nodes <= this.list.length) return;
    const bigger = new Int32Array(Math.ceil((this.#length + nodes) * 1.5));
    bigger.set(this.list.subarray(0, this.#length));
    this.list = bigger;
  }

  #slotsOf({ nodeKinds, layouts }: Catalog): Int32Array {
    if (this.#slots.length < nodeKinds.length) {
      const { key, storage } = this.#asked;
      this.#slots = Int32Array.from(
        nodeKinds,
        ({ layout }) =>
          layouts[layout]!.fields.find((field) => field.key === key && field.storage === storage)?.slot ?? -1,
      );
    }
    return this.#slots;
  }
}

/** Values kept for a graph; those asked for last. */
const KEPT = 128;
const known = new WeakMap<Store, LRUCache<string, ValueLists>>();

/** The lists of a value in a graph, on this thread. */
export function valueListsOf(store: Store, asked: ValueAsked): ValueLists {
  let kept = known.get(store);
  if (!kept) {
    kept = new LRUCache({ max: KEPT });
    known.set(store, kept);
  }
  const name = `${asked.key} ${asked.storage} ${asked.value}`;
  let lists = kept.get(name);
  if (!lists) {
    lists = new ValueLists(asked);
    kept.set(name, lists);
  }
  return lists;
}
