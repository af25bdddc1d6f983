/**
 * Where a search that goes segment by segment stands.
 */
import { S, type Store } from '../storage/store.ts';
import type { ExecuteRequest } from './request.ts';

export class SegmentCursor {
  /** Per segment row: 0 hidden; 1 to be seen; 2 another segment, of which only the nodes that roam are to be seen. */
  readonly visible: Uint8Array;
  /** Per node kind, 1 for nodes that roam. */
  readonly roams: Uint8Array;
  readonly #alone: boolean;
  readonly #others: ReadonlySet<number>;
  /** Segments that scans go through; the first is where the search stands. */
  readonly #lists: Int32Array[] = [];
  #at = -1;

  constructor(
    store: Store,
    { visible }: ExecuteRequest,
    { others, roaming }: Extract<ExecuteRequest['output'], { kind: 'segments' }>,
  ) {
    const { catalog } = store;
    this.#others = new Set(others);
    this.#alone = roaming !== undefined;
    const labels = new Set(roaming?.map((label) => catalog.findLabel(label)));
    this.roams = Uint8Array.from(catalog.nodeKinds, ({ labelSet }) =>
      catalog.labelSets[labelSet]!.labels.some((label) => labels.has(label)) ? 1 : 0,
    );
    this.visible = this.#alone
      ? visible.map((flag, slot) => (flag === 1 && store.segmentField(slot, S.grouped) === 1 ? 2 : flag))
      : visible;
  }

  /** Of the segments of a scan, the one where the search stands, and those that are not grouped. */
  within(scan: Int32Array): Int32Array {
    const list = Int32Array.of(this.#at, ...scan.filter((slot) => this.#others.has(slot)));
    this.#lists.push(list);
    return list;
  }

  moveTo(segment: number): void {
    if (this.#alone) {
      if (this.#at >= 0) this.visible[this.#at] = 2;
      this.visible[segment] = 1;
    }
    this.#at = segment;
    for (const list of this.#lists) list[0] = segment;
  }
}
