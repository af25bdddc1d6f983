/**
 * The edges that other segments point to a node, in an order that follows from what a query sees alone: by kind of edge and labels of the
 * far end, then by the key of the segment that they are in. The lists of the graph are in the order in which things came, which
 * differs between two graphs of the same content. They are read as they stand, since others change them meanwhile.
 */
import type { Store } from './store.ts';

const NONE = new Int32Array(0);

export class Entering {
  readonly #store: Store;
  readonly #visible: Uint8Array;
  readonly #ranks: Int32Array;
  readonly #ports = new Map<number, Int32Array>();
  readonly #crossings = new Map<number, Int32Array>();

  /**
   * @param visible per segment row, 0 for those that the query may not see
   * @param ranks place of each segment row in the order of keys
   */
  constructor(store: Store, visible: Uint8Array, ranks: Int32Array) {
    this.#store = store;
    this.#visible = visible;
    this.#ranks = ranks;
  }

  /** Ports of a node of some segment; empty when nothing outside knows it. @param place of the node in the exports of its segment */
  portsAt(place: number): Int32Array {
    const handle = place < 0 ? -1 : this.#store.exportHandle.view[place]!;
    if (handle < 0) return NONE;
    let ports = this.#ports.get(handle);
    if (!ports) {
      ports = this.#portsOf(handle);
      this.#ports.set(handle, ports);
    }
    return ports;
  }

  /** Crossing edges of a port that are in segments which the query may see. */
  crossingsOf(port: number): Int32Array {
    let crossings = this.#crossings.get(port);
    if (!crossings) {
      crossings = this.#collected(port);
      this.#crossings.set(port, crossings);
    }
    return crossings;
  }

  #portsOf(handle: number): Int32Array {
    const { handlePort, portNext, portCode, portSet, catalog } = this.#store;
    const ports: number[] = [];
    for (let port = handlePort.view[handle]!; port >= 0; port = portNext.view[port]!) ports.push(port);
    if (ports.length > 1)
      ports.sort((a, b) => {
        const codes = portCode.view[a]! - portCode.view[b]!;
        if (codes !== 0) return codes;
        return catalog.labelSetText(portSet.view[a]!) < catalog.labelSetText(portSet.view[b]!) ? -1 : 1;
      });
    return Int32Array.from(ports);
  }

  #collected(port: number): Int32Array {
    const { portFirst, crossingNext, crossingSegment } = this.#store;
    const [next, owner] = [crossingNext.view, crossingSegment.view];
    const ranks = this.#ranks;
    const found: number[] = [];
    let isSorted = true;
    let last = -1;
    for (let c = portFirst.view[port]!; c >= 0; c = next[c]!) {
      // A segment that came later has no place in the list at all.
      if (!this.#visible[owner[c]!]) continue;
      const rank = ranks[owner[c]!]!;
      isSorted &&= rank > last || (rank === last && c > found[found.length - 1]!);
      last = rank;
      found.push(c);
    }
    // Those of one segment lie in the order of its edges.
    if (!isSorted) found.sort((a, b) => ranks[owner[a]!]! - ranks[owner[b]!]! || a - b);
    return Int32Array.from(found);
  }
}
