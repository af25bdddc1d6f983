/**
 * From handle, kind of edge and far label set to the port. A part that is in use everywhere has as many ports as there are
 * kinds of components, too many to be gone through for each edge. Open addressing; ports are never removed.
 */
import type { Store } from './store.ts';

const EMPTY = -1;

export class PortTable {
  readonly #store: Store;
  #table: Int32Array = new Int32Array(16).fill(EMPTY);
  #handles: Int32Array = new Int32Array(12);
  /** Ports made so far. */
  size = 0;

  constructor(store: Store) {
    this.#store = store;
  }

  /** The port of a handle for an adjacency code and label set, or -1. */
  find(handle: number, code: number, set: number): number {
    const { portCode, portSet } = this.#store;
    const table = this.#table;
    const mask = table.length - 1;
    let i = hashOf(handle, code, set) & mask;
    for (let port = table[i]!; port !== EMPTY; port = table[i]!) {
      if (this.#handles[port] === handle && portSet.view[port] === set && portCode.view[port] === code)
        return port;
      i = (i + 1) & mask;
    }
    return -1;
  }

  /** Makes a port without crossings, the first one of its handle. */
  make(handle: number, code: number, set: number): number {
    const { portCode, portSet, portFirst, portLast, portNext, handlePort } = this.#store;
    const port = this.size++;
    for (const column of [portCode, portSet, portFirst, portLast, portNext]) column.ensure(port + 1);
    portCode.view[port] = code;
    portSet.view[port] = set;
    portFirst.view[port] = -1;
    portLast.view[port] = -1;
    portNext.view[port] = handlePort.view[handle]!;
    if (port === this.#handles.length) this.#grow();
    this.#handles[port] = handle;
    this.#place(port);
    handlePort.view[handle] = port;
    return port;
  }

  /** Handle of each port, to be taken up by {@link restore}. */
  save(): Int32Array {
    return this.#handles.subarray(0, this.size);
  }

  /** Takes up the ports that are in the store's columns. @param handles handle of each port */
  restore(handles: Int32Array): void {
    this.size = handles.length;
    let places = 16;
    while (handles.length > (places * 3) / 4) places *= 2;
    this.#table = new Int32Array(places).fill(EMPTY);
    this.#handles = new Int32Array((places * 3) / 4);
    this.#handles.set(handles);
    for (let port = 0; port < this.size; port++) this.#place(port);
  }

  bytesUsed(): number {
    return this.size * 20 + this.#table.byteLength + this.#handles.byteLength;
  }

  #grow(): void {
    const table = new Int32Array(this.#table.length * 2).fill(EMPTY);
    const handles = new Int32Array((table.length * 3) / 4);
    handles.set(this.#handles);
    this.#table = table;
    this.#handles = handles;
    for (let port = 0; port < this.size - 1; port++) this.#place(port);
  }

  #place(port: number): void {
    const { portCode, portSet } = this.#store;
    const table = this.#table;
    const mask = table.length - 1;
    let i = hashOf(this.#handles[port]!, portCode.view[port]!, portSet.view[port]!) & mask;
    while (table[i] !== EMPTY) i = (i + 1) & mask;
    table[i] = port;
  }
}

/** The finisher of Murmur3 over a sum of multiples. */
function hashOf(handle: number, code: number, set: number): number {
  let hash = Math.imul(handle, 0x9e3779b1) + Math.imul(code, 0x85ebca77) + Math.imul(set, 0xc2b2ae3d);
  hash ^= hash >>> 16;
  hash = Math.imul(hash, 0x85ebca6b);
  hash ^= hash >>> 13;
  hash = Math.imul(hash, 0xc2b2ae35);
  return hash ^ (hash >>> 16);
}
