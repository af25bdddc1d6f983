import { LRUCache } from 'lru-cache';
import type { Facts } from '../facts.ts';
import type { Names } from '../names.ts';
import { TouchedIds } from '../touched-ids.ts';
import { type Seen, type SeenNow, seenAnew, seenByReaders } from '../visibility/audience.ts';
import { markedIn } from '../visibility/marked.ts';

/** Beginnings of the journal of which it is kept what readers see. */
const KEPT = 16;

/** What readers see of earlier facts, brought from one question to the next by what differs, which is quicker than anew. */
export class EarlierReaders {
  readonly #names: Names;
  readonly #kept = new LRUCache<number, { readonly facts: Facts; readonly seen: Seen }>({ max: KEPT });
  #seenNow: SeenNow | undefined;

  constructor(names: Names) {
    this.#names = names;
  }

  /**
   * What readers see of facts, embargoes judged at an instant.
   * @param facts the fold of a beginning of the journal
   * @param instant ISO 8601 in UTC
   * @param seenNow what readers see at present: they see nothing of before that is hidden now
   */
  at(facts: Facts, instant: string, seenNow: SeenNow): Facts {
    if (this.#seenNow && !hidesTheSame(this.#seenNow, seenNow)) this.#kept.clear();
    this.#seenNow = seenNow;
    const last = this.#before(facts.sequence);
    const seen = last
      ? seenByReaders(last.seen, facts, this.#since(last.facts, facts), instant, this.#names, seenNow).seen
      : seenAnew(facts, instant, this.#names, seenNow);
    this.#kept.set(facts.sequence, { facts, seen });
    return seen.facts;
  }

  /** The longest beginning kept that is no longer than one: things only come, so that what differs is among those of the longer. */
  #before(sequence: number): { readonly facts: Facts; readonly seen: Seen } | undefined {
    const shorter = [...this.#kept.keys()].filter((one) => one <= sequence);
    return shorter.length === 0 ? undefined : this.#kept.get(Math.max(...shorter));
  }

  /** What differs, and whatever an embargo may open or close. */
  #since(before: Facts, after: Facts): TouchedIds {
    const changes = TouchedIds.between(before, after);
    for (const facts of [before, after]) for (const id of markedIn(facts)) changes.addAnything(id, facts);
    return changes;
  }
}

/** Whether an earlier instant shows readers the same: it depends on what they see now and on what is recalled or marked. */
export function hidesTheSame(a: SeenNow, b: SeenNow): boolean {
  const { makers, productLines, publications } = a.desk.records;
  return (
    a.reader === b.reader &&
    a.desk.recalls === b.desk.recalls &&
    makers === b.desk.records.makers &&
    productLines === b.desk.records.productLines &&
    publications === b.desk.records.publications
  );
}
