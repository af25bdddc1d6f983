import { CasebackError } from '../../model/problems.ts';
import { Sealing } from './sealed.ts';

// A state token says up to which entry of the journal an answer knows, so that another process on the same journal can catch up
// before it answers the same asker. Readers must not learn from it how many entries there are, nor that anything they may not
// see was written. So it is sealed, with a fresh nonce each time: two tokens of one state differ as much as those of two
// states, and all have one length. For readers it holds the entry at which what they see last changed, so that waiting for it
// tells nothing of hidden entries either.
const SEQUENCE = 8;

/** Makes and reads the state tokens of one archive. */
export class StateTokens {
  readonly #sealing: Sealing;

  /** @param secret of the archive, 32 random bytes */
  constructor(secret: Uint8Array) {
    this.#sealing = new Sealing(secret, 'state', SEQUENCE);
  }

  /** A token for the state that a sequence brought about; always 54 characters (base64url). */
  seal(sequence: number): string {
    const body = Buffer.alloc(SEQUENCE);
    body.writeBigUInt64BE(BigInt(sequence));
    return this.#sealing.seal(body);
  }

  /**
   * The sequence in a token.
   * @throws CasebackError BAD_INPUT for any other text, and for a token of another archive
   */
  open(token: string): number {
    const body = this.#sealing.open(token);
    if (!body)
      throw new CasebackError(
        'BAD_INPUT',
        'The state token is not one of this archive; leave it out, and take the one of the answer',
      );
    return Number(body.readBigUInt64BE());
  }
}
