import type { Live } from './live.ts';
import type { OpenedSpecimen } from './specimen.ts';

/** Milliseconds of work after which other requests get their turn. */
const TURN = 10;

/** What something is worked out from: told of each specimen once, and again when it has changed. */
export type Take = (id: string, specimen: OpenedSpecimen) => void;

/** One of those that are told. */
interface Reader {
  readonly take: Take;
  /** Specimens that it has still to be told of. */
  readonly pending: Set<string>;
}

/**
 * Reads dossiers for whatever is worked out from all of them. To unpack one takes about as long as what is done with
 * it, so that all who wait for a specimen are told of it at once.
 */
class Readings {
  readonly #live: Live;
  readonly #readers: Reader[] = [];

  constructor(live: Live) {
    this.#live = live;
    live.onTouched(({ specimens }) => {
      for (const { pending } of this.#readers) for (const { id } of specimens) pending.add(id);
    });
  }

  /**
   * Somebody more to tell, of all specimens there are and those to come.
   * @returns tells them of everything up to now; what they know is current until others get their turn
   */
  add(take: Take): (signal?: AbortSignal) => Promise<void> {
    const reader = { take, pending: new Set(this.#live.state.specimens.keys()) };
    this.#readers.push(reader);
    return (signal) => this.#catchUp(reader, signal);
  }

  async #catchUp({ pending }: Reader, signal: AbortSignal | undefined): Promise<void> {
    let turn = performance.now();
    for (const id of pending) {
      this.#read(id);
      if (performance.now() - turn < TURN) continue;
      await new Promise(setImmediate);
      signal?.throwIfAborted();
      turn = performance.now();
    }
  }

  #read(id: string): void {
    const row = this.#live.state.specimens.get(id);
    const specimen = row && this.#live.peek(row);
    for (const { take, pending } of this.#readers) if (pending.delete(id) && specimen) take(id, specimen);
  }
}

/** The readings of a live state. */
export function readingsOf(live: Live): Readings {
  return live.derived(makeReadings);
}

function makeReadings(live: Live): Readings {
  return new Readings(live);
}
