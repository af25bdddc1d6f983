import { createHmac, hkdfSync, randomBytes, timingSafeEqual } from 'node:crypto';
import { CasebackError } from '../../model/problems.ts';

// A state token says up to which entry of the journal an answer knows, so that another process on the same journal can catch up
// before it answers the same asker. Readers must not learn from it how many entries there are, nor that anything they may not
// see was written. So it is encrypted, and with a fresh nonce each time: two tokens of one state differ as much as those of two
// states, and all have one length. For readers it holds the entry at which what they see last changed, so that waiting for it
// tells nothing of hidden entries either.
//
// Encrypt, then authenticate: the sequence is added bit by bit to HMAC-SHA-256(key 1, nonce), and HMAC-SHA-256(key 2, nonce and
// result), cut to 16 bytes, stands behind (RFC 2104; keys by HKDF, RFC 5869). 16 random bytes of nonce do not repeat.
const NONCE = 16;
const SEQUENCE = 8;
const TAG = 16;

/** Makes and reads the state tokens of one archive. */
export class StateTokens {
  readonly #hiding: Uint8Array;
  readonly #sealing: Uint8Array;

  /** @param secret of the archive, 32 random bytes */
  constructor(secret: Uint8Array) {
    const key = (use: string) => new Uint8Array(hkdfSync('sha256', secret, '', `caseback state ${use}`, 32));
    this.#hiding = key('hiding');
    this.#sealing = key('sealing');
  }

  /** A token for the state that a sequence brought about; always 54 characters (base64url). */
  seal(sequence: number): string {
    const nonce = randomBytes(NONCE);
    const body = Buffer.alloc(SEQUENCE);
    body.writeBigUInt64BE(BigInt(sequence));
    this.#hide(body, nonce);
    const sealed = Buffer.concat([nonce, body]);
    return Buffer.concat([sealed, this.#tag(sealed)]).toString('base64url');
  }

  /**
   * The sequence in a token.
   * @throws CasebackError BAD_INPUT for any other text, and for a token of another archive
   */
  open(token: string): number {
    const bytes = Buffer.from(token, 'base64url');
    const sealed = bytes.subarray(0, NONCE + SEQUENCE);
    const tag = bytes.subarray(NONCE + SEQUENCE);
    if (
      bytes.toString('base64url') !== token ||
      tag.length !== TAG ||
      !timingSafeEqual(tag, this.#tag(sealed))
    )
      throw new CasebackError(
        'BAD_INPUT',
        'The state token is not one of this archive; leave it out, and take the one of the answer',
      );
    const body = Buffer.from(sealed.subarray(NONCE));
    this.#hide(body, sealed.subarray(0, NONCE));
    return Number(body.readBigUInt64BE());
  }

  /** Hides or shows the sequence, in place. */
  #hide(body: Buffer, nonce: Uint8Array): void {
    const stream = createHmac('sha256', this.#hiding).update(nonce).digest();
    for (let i = 0; i < SEQUENCE; i++) body[i] ^= stream[i];
  }

  #tag(sealed: Uint8Array): Buffer {
    return createHmac('sha256', this.#sealing).update(sealed).digest().subarray(0, TAG);
  }
}
