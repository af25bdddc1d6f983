/**
 * Where the nodes that fit a label expression stand in each segment. Nodes of a segment are sorted by kind, so they
 * mostly stand side by side: a first and a last node, and whether others are between, say it. Found out when a
 * segment is first looked at, and kept until the segment is replaced.
 */
import { S, SEGMENT_ROW, type Store } from '../storage/store.ts';

/** Words of a row: version of the segment, first node, end, 1 when others stand between. */
export const SPAN_ROW = 4;

export class Spans {
  rows = new Int32Array(0);
  readonly #table: Uint8Array;

  /** @param table 0 for every node kind that does not fit */
  constructor(table: Uint8Array) {
    this.#table = table;
  }

  /** Makes room for so many segments; answers the rows. */
  fit(segments: number): Int32Array {
    if (this.rows.length < segments * SPAN_ROW) {
      const bigger = new Int32Array(Math.ceil(segments * 1.25 + 8) * SPAN_ROW);
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
    let low = 0;
    let high = 0;
    let mixed = 0;
    for (; run < end; run++) {
      if (this.#table[runs[run * 2]!] === 0) continue;
      const first = runs[run * 2 + 1]!;
      if (high === 0) low = first;
      else if (high !== first) mixed = 1;
      high = runs[run * 2 + 3]!;
    }
    const at = segment * SPAN_ROW;
    this.rows[at] = store.segmentTable.view[segment * SEGMENT_ROW + S.version]!;
    this.rows[at + 1] = low;
    this.rows[at + 2] = high;
    this.rows[at + 3] = mixed;
    return this.rows;
  }
}

const known = new WeakMap<Uint8Array, Spans>();

/** The spans of a table of node kinds; the same for the same table. */
export function spansOf(table: Uint8Array): Spans {
  let spans = known.get(table);
  if (!spans) {
    spans = new Spans(table);
    known.set(table, spans);
  }
  return spans;
}
