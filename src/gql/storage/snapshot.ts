/**
 * The graph at one instant, for a query. Segments that are replaced or removed later stay readable until
 * the snapshot is released, and segments that come later are not seen.
 */
import type { Store } from './store.ts';

export class Snapshot {
  /** A byte per segment row: 1 for those that the query may see. Not to be written. */
  readonly visible: Uint8Array;
  /** Place of each segment row in the order of keys, in shared memory. */
  readonly ranks: Int32Array;
  /** The node that each handle leads to. */
  readonly handles: SharedArrayBuffer;
  readonly #store: Store;
  readonly #handleNodes: Int32Array;
  readonly #leave: () => void;
  readonly #releases: () => number;
  #holders = 0;
  /** Releases of segments up to the release of the snapshot. */
  #before: number | undefined;

  /**
   * @param releases how often memory of a segment has been given back
   * @param leave called once, when the snapshot is released
   */
  constructor(
    store: Store,
    visible: Uint8Array,
    ranks: Int32Array,
    releases: () => number,
    leave: () => void,
  ) {
    this.visible = visible;
    this.ranks = ranks;
    this.#store = store;
    this.handles = store.handleNode.buffer;
    this.#handleNodes = store.handleNode.view;
    this.#releases = releases;
    this.#leave = leave;
  }

  /** Whether the columns still hold what was seen: until the release, and on until memory is given back. */
  get isReadable(): boolean {
    return this.#before === undefined || this.#before === this.#releases();
  }

  /** The node at an end of an edge, -1 when it was missing at that instant. */
  end(reference: number): number {
    return reference >= 0 ? reference : this.#handleNodes[~reference]!;
  }

  /** Calls back with the store's handles as they were at that instant. */
  within<T>(read: () => T): T {
    const { handleNode } = this.#store;
    const { buffer } = handleNode;
    if (buffer === this.handles) return read();
    handleNode.attach({ buffer: this.handles });
    try {
      return read();
    } finally {
      handleNode.attach({ buffer });
    }
  }

  /** Gives memory back that only this snapshot needs; what has not been read by then cannot be read any more. */
  release(): void {
    if (this.#before !== undefined) return;
    this.#before = this.#releases();
    if (this.#holders === 0) this.#leave();
  }

  /** Keeps the memory until the answer is called, also beyond the release: for a thread that is not done yet. */
  hold(): () => void {
    let isHeld = true;
    this.#holders++;
    return () => {
      if (!isHeld) return;
      isHeld = false;
      this.#holders--;
      if (this.#holders === 0 && this.#before !== undefined) this.#leave();
    };
  }

  [Symbol.dispose](): void {
    this.release();
  }
}
