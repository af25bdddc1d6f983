/** Numbers put one after another. */
export class GrowingList {
  #values = new Int32Array(16);
  length = 0;

  push(value: number): void {
    if (this.length === this.#values.length) {
      const larger = new Int32Array(this.#values.length * 2);
      larger.set(this.#values);
      this.#values = larger;
    }
    this.#values[this.length++] = value;
  }

  taken(): Int32Array {
    return this.#values.slice(0, this.length);
  }
}
