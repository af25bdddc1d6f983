/**
 * The ids of a segment's nodes, for answers that outlive their query: read from the columns as long as the segment is in
 * them, and copied out when its memory is about to be used again.
 */
import { S, type Store } from './store.ts';

export class SegmentIds {
  readonly #first: number;
  readonly #end: number;
  readonly #store: Store;
  #copied: readonly string[] | undefined;

  constructor(store: Store, slot: number) {
    this.#store = store;
    this.#first = store.segmentField(slot, S.nodes);
    this.#end = this.#first + store.segmentField(slot, S.nodeCount);
  }

  holds(node: number): boolean {
    return node >= this.#first && node < this.#end;
  }

  /** Id of a node of the segment. */
  of(node: number): string {
    return this.#copied ? this.#copied[node - this.#first]! : this.#store.nodeId(node);
  }

  /** Copies the ids out of the columns. */
  detach(): void {
    this.#copied = Array.from({ length: this.#end - this.#first }, (_, i) =>
      this.#store.nodeId(this.#first + i),
    );
  }
}
