/**
 * A set of the alternatives of one thing, by place. A number where they are few, as almost always, since that is much faster; sets of one thing
 * are all of one type.
 */
export type Bits = number | bigint;

/** Alternatives that fit a number; the sign is not used. */
const FEW = 31;

/** The set of the items for which something holds. */
export function bitsOf<T>(items: readonly T[], holds: (item: T) => boolean): Bits {
  if (items.length <= FEW) {
    let bits = 0;
    for (let at = 0; at < items.length; at++) if (holds(items[at])) bits |= 1 << at;
    return bits;
  }
  let bits = 0n;
  for (let at = 0; at < items.length; at++) if (holds(items[at])) bits |= 1n << BigInt(at);
  return bits;
}

/** The set of one place of a thing with so many alternatives. */
export function placeAlone(at: number, alternatives: number): Bits {
  return alternatives <= FEW ? 1 << at : 1n << BigInt(at);
}

/** Whether a place is in a set. */
export function has(bits: Bits, at: number): boolean {
  return typeof bits === 'number' ? ((bits >>> at) & 1) === 1 : ((bits >> BigInt(at)) & 1n) === 1n;
}

// Operators take either type, as long as it is the same on both sides; the compiler cannot tell.

export function both(a: Bits, b: Bits): Bits {
  return (a as number) & (b as number);
}

export function either(a: Bits, b: Bits): Bits {
  return (a as number) | (b as number);
}

export function without(a: Bits, b: Bits): Bits {
  return (a as number) & ~(b as number);
}

/** A set as JSON takes it. */
export function writtenBits(bits: Bits): number | string {
  return typeof bits === 'number' ? bits : String(bits);
}

export function readBits(written: number | string): Bits {
  return typeof written === 'number' ? written : BigInt(written);
}
