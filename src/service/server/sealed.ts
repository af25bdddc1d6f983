import { createHmac, hkdfSync, randomBytes, timingSafeEqual } from 'node:crypto';

const NONCE = 16;
const TAG = 16;
/** Bytes of HMAC-SHA-256, which hide as many. */
const LONGEST = 32;

/**
 * Seals a few bytes into a text that tells nothing of them and differs each time, unless one that stays is asked for. Encrypt, then authenticate: the bytes are added bit by bit
 * to HMAC-SHA-256(key 1, nonce), and HMAC-SHA-256(key 2, nonce and result), cut to 16 bytes, stands behind (RFC 2104; keys by
 * HKDF, RFC 5869). 16 random bytes of nonce do not repeat.
 */
export class Sealing {
  readonly #hiding: Uint8Array;
  readonly #sealing: Uint8Array;
  readonly #naming: Uint8Array;
  readonly #length: number;

  /**
   * @param secret of the archive, 32 random bytes
   * @param use what the texts are for: those of another use are not opened
   * @param length bytes sealed, at most 32
   */
  constructor(secret: Uint8Array, use: string, length: number) {
    if (length > LONGEST) throw new RangeError(`${length} bytes are more than can be hidden`);
    const key = (part: string) =>
      new Uint8Array(hkdfSync('sha256', secret, '', `caseback ${use} ${part}`, 32));
    this.#hiding = key('hiding');
    this.#sealing = key('sealing');
    this.#naming = key('naming');
    this.#length = length;
  }

  /**
   * The sealed text, base64url; always of one length.
   * @param isSame whether equal bytes are to give equal texts: the nonce then follows from the bytes (HMAC-SHA-256 under a key of its own), which
   * tells whoever has two texts that they hold the same, and nothing else
   */
  seal(bytes: Uint8Array, isSame = false): string {
    const nonce = isSame
      ? createHmac('sha256', this.#naming).update(bytes).digest().subarray(0, NONCE)
      : randomBytes(NONCE);
    const sealed = Buffer.concat([nonce, this.#hidden(bytes, nonce)]);
    return Buffer.concat([sealed, this.#tag(sealed)]).toString('base64url');
  }

  /** The bytes in a sealed text; undefined for any other text, and for one of another archive or use. */
  open(text: string): Buffer | undefined {
    const bytes = Buffer.from(text, 'base64url');
    const sealed = bytes.subarray(0, NONCE + this.#length);
    const tag = bytes.subarray(NONCE + this.#length);
    const isOurs =
      bytes.toString('base64url') === text && tag.length === TAG && timingSafeEqual(tag, this.#tag(sealed));
    return isOurs ? this.#hidden(sealed.subarray(NONCE), sealed.subarray(0, NONCE)) : undefined;
  }

  /** Hides bytes, or shows them. */
  #hidden(bytes: Uint8Array, nonce: Uint8Array): Buffer {
    const stream = createHmac('sha256', this.#hiding).update(nonce).digest();
    return Buffer.from(bytes.map((byte, at) => byte ^ stream[at]));
  }

  #tag(sealed: Uint8Array): Buffer {
    return createHmac('sha256', this.#sealing).update(sealed).digest().subarray(0, TAG);
  }
}
