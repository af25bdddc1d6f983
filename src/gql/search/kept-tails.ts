import type { Run } from './stage.ts';

/** Tuples that a kept tail has found, by the node that it starts at. */
export class Memory {
  readonly first = new Map<number, number>();
  readonly last = new Map<number, number>();
  tuples = new Int32Array(1024);
  length = 0;

  /** Begins the tuples of a node; forgets all others when they have become many. */
  start(node: number): number {
    if (this.length > MAX_KEPT) {
      this.first.clear();
      this.last.clear();
      this.length = 0;
    }
    this.first.set(node, this.length);
    return this.length;
  }

  finish(node: number): void {
    this.last.set(node, this.length);
  }

  /** Makes room for one tuple more. */
  room(size: number, run: Run): void {
    if (this.length + size <= this.tuples.length) return;
    run.remember(this.tuples.byteLength);
    const bigger = new Int32Array(this.tuples.length * 2);
    bigger.set(this.tuples);
    this.tuples = bigger;
  }
}

/** Numbers kept before everything is forgotten. */
const MAX_KEPT = 2 ** 22;
