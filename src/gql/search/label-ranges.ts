/**
 * Places of the nodes that match a label expression in each segment. Nodes of a segment are sorted by kind, so they are
 * mostly adjacent, in one stretch or a few. Found when a segment is first searched, and kept until the
 * segment is replaced.
 */
import { S, SEGMENT_ROW, type Store } from '../storage/store.ts';

/** Stretches kept for a segment; when there are more, the last one holds other nodes too. */
const MOST = 5;
/**
 * Words of a row: version of the segment, how many stretches (plus `MIXED` when the last one holds others), and first
 * node and end of each.
 */
export const RANGE_ROW = 2 + MOST * 2;
export const MIXED = 256;

export class LabelRanges {
  rows = new Int32Array(0);
  readonly #table: Uint8Array;

  /** @param table 0 for every node kind that does not fit */
  constructor(table: Uint8Array) {
    this.#table = table;
  }

  /** Makes room for so many segments; answers the rows. */
  fit(segments: number): Int32Array {
    if (this.rows.length < segments * RANGE_ROW) {
      const bigger = new Int32Array(Math.ceil(segments * 1.25 + 8) * RANGE_ROW);
      bigger.set(this.rows);
      this.rows = bigger;
    }
    return this.rows;
  }

  /** Looks a segment through; answers the rows. */
  find(segment: number, store: Store): Int32Array {
    const runs = store.runRow.view;
    let run = store.segmentField(segment, S.runs);
    const end = run + store.segmentField(segment, S.runCount);
    const at = segment * RANGE_ROW;
    const { rows } = this;
    let count = 0;
    let mixed = 0;
    for (; run < end; run++) {
      if (this.#table[runs[run * 2]!] === 0) continue;
      const first = runs[run * 2 + 1]!;
      const last = at + count * 2 + 1;
      if (count > 0 && rows[last] === first) rows[last] = runs[run * 2 + 3]!;
      else if (count < MOST) {
        rows[last + 1] = first;
        rows[last + 2] = runs[run * 2 + 3]!;
        count++;
      } else {
        mixed = MIXED;
        rows[last] = runs[run * 2 + 3]!;
      }
    }
    rows[at] = store.segmentTable.view[segment * SEGMENT_ROW + S.version]!;
    rows[at + 1] = count + mixed;
    return this.rows;
  }
}

const known = new WeakMap<Uint8Array, LabelRanges>();

/** The label ranges of a table of node kinds; the same for the same table. */
export function labelRangesOf(table: Uint8Array): LabelRanges {
  let spans = known.get(table);
  if (!spans) {
    spans = new LabelRanges(table);
    known.set(table, spans);
  }
  return spans;
}
