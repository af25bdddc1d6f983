import type { Archive } from '../../archive.ts';
import { CasebackError } from '../../model/problems.ts';
import type { State } from '../../state/state.ts';
import type { Audience } from '../../state/visibility/audience.ts';
import { Sealing } from '../server/sealed.ts';

// What names a state for ever. An instant does not: two entries may share a millisecond, and a correction of the clock dates entries anew. The number
// of an entry does, but tells readers how much is hidden. So it is the entry, with the instant at which embargoes are judged, sealed as state
// tokens are (`server/state-token.ts`): exact, and telling nothing. The instant is that of the asking, which whoever asked knows.
const LENGTH = 16;

/** A state of the archive that can be cited. */
export interface CitedState {
  /** Sequence of the last entry in it; for readers of the last that changed what they see. */
  readonly sequence: number;
  /** At which embargoes are judged; milliseconds since 1970. */
  readonly at: number;
}

/** Names states of one archive, and finds them again. */
export class CitedStates {
  readonly #sealing: Sealing;

  /** @param secret of the archive, 32 random bytes */
  constructor(secret: Uint8Array) {
    this.#sealing = new Sealing(secret, 'citation', LENGTH);
  }

  /** The name of a state as it is seen now; always 64 characters (base64url), and another one each time. */
  nameOf(state: State): string {
    return this.#sealing.seal(bodyOf(state, Date.now()));
  }

  /** The name of a state as seen at an instant, the same one each time, for what is to be made again as it was. @param at milliseconds since 1970 */
  nameAt(state: State, at: number): string {
    return this.#sealing.seal(bodyOf(state, at), true);
  }

  /** @throws CasebackError BAD_INPUT for any other text, and for a name of another archive */
  read(name: string): CitedState {
    const body = this.#sealing.open(name);
    if (!body)
      throw new CasebackError(
        'BAD_INPUT',
        'The state is not one of this archive; take the address as it was given, or leave state out to be led to that of the present',
      );
    return { sequence: Number(body.readBigUInt64BE()), at: Number(body.readBigUInt64BE(8)) };
  }
}

function bodyOf({ facts }: State, at: number): Buffer {
  const body = Buffer.alloc(LENGTH);
  body.writeBigUInt64BE(BigInt(facts.sequence));
  body.writeBigUInt64BE(BigInt(at), 8);
  return body;
}

/** Names of states of an archive. @throws CasebackError UNAVAILABLE while it is not there yet */
export async function citedStatesOf(archive: Archive): Promise<CitedStates> {
  const secret = await archive.secret();
  if (!secret) throw new CasebackError('UNAVAILABLE', 'The archive is not there yet; ask again soon');
  return new CitedStates(secret);
}

/** A cited state as an audience sees it: what is hidden from it now is hidden in it, too. @throws the signal's reason */
export function stateCited(
  archive: Archive,
  { sequence, at }: CitedState,
  audience: Audience,
  signal?: AbortSignal,
): Promise<State> {
  return archive.asOfEntry(sequence, new Date(at).toISOString(), audience, signal);
}
