import { LRUCache } from 'lru-cache';
import type { Facts } from '../facts.ts';
import type { Names } from '../names.ts';
import { SharedCaches } from '../shared-caches.ts';
import { type Searched, State } from '../state.ts';
import { TouchedIds } from '../touched-ids.ts';
import type { Audience } from '../visibility/audience.ts';

/** Earlier states from which indexes are brought to others by what differs alone. */
const KEPT = 16;

/**
 * What earlier states share: indexes and caches of their own, so that a question about the past never makes those of the present
 * start anew.
 */
export class EarlierCaches extends SharedCaches {
  /** What states lately given out hold, by their editions. */
  readonly #facts = new LRUCache<number, Facts>({ max: KEPT });
  #edition = 0;

  constructor(names: Names) {
    super(names);
  }

  /** A state of earlier facts. @param now the instant at which embargoes were judged, ISO 8601 in UTC */
  stateOf(facts: Facts, audience: Audience, now: string, searched: Searched): State {
    const edition = ++this.#edition;
    this.#facts.set(edition, facts);
    return new State(facts, this, { audience, now, edition, searched });
  }

  override changesBetween(a: number, b: number): readonly TouchedIds[] | undefined {
    if (a === b) return [];
    const [one, other] = [this.#facts.get(a), this.#facts.get(b)];
    return one && other && [TouchedIds.between(one, other)];
  }
}
