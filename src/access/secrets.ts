import { createHash, randomBytes, timingSafeEqual } from 'node:crypto';
import { crc32 } from 'node:zlib';

/** What every token begins with, so that scanners for leaked secrets can recognise one. */
export const TOKEN_PREFIX = 'caseback_';

/** Bytes of chance in a token or a session: 256 bits. */
const RANDOM_BYTES = 32;
const DIGITS = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz';
/** Digits to base 62 that hold 256 bits, and those that hold a checksum of 32. */
const RANDOM_DIGITS = 43;
const CHECK_DIGITS = 6;
const TOKEN = new RegExp(`^${TOKEN_PREFIX}[0-9A-Za-z]{${RANDOM_DIGITS + CHECK_DIGITS}}$`, 'u');

/**
 * A new token: the prefix, 256 random bits and a checksum (CRC-32 of all before it), in letters and digits alone, so that it is
 * selected with a double click and is valid in a header (RFC 6750, section 2.1).
 */
export function newToken(): string {
  const body = `${TOKEN_PREFIX}${inDigits(BigInt(`0x${randomBytes(RANDOM_BYTES).toString('hex')}`), RANDOM_DIGITS)}`;
  return `${body}${checkOf(body)}`;
}

/** Whether a text may be a token at all; what was mistyped or made up is known without looking anything up. */
export function isTokenShaped(text: string): boolean {
  return TOKEN.test(text) && checkOf(text.slice(0, -CHECK_DIGITS)) === text.slice(-CHECK_DIGITS);
}

/** A new secret for a session or for the way to one: 256 random bits in base64url. */
export function newSecret(): string {
  return randomBytes(RANDOM_BYTES).toString('base64url');
}

/**
 * SHA-256 of a secret, lower-case hexadecimal: all that is kept of one. A secret of 256 random bits needs no slow hash, which
 * is for passwords that can be guessed.
 */
export function digestOf(secret: string): string {
  return createHash('sha256').update(secret, 'utf8').digest('hex');
}

/** Whether two digests are equal, in a time that tells nothing of where they differ. */
export function equalDigests(one: string, other: string): boolean {
  const [a, b] = [Buffer.from(one, 'utf8'), Buffer.from(other, 'utf8')];
  return a.length === b.length && timingSafeEqual(a, b);
}

function checkOf(body: string): string {
  return inDigits(BigInt(crc32(body)), CHECK_DIGITS);
}

function inDigits(number: bigint, length: number): string {
  let digits = '';
  for (let left = number; digits.length < length; left /= 62n) digits = DIGITS[Number(left % 62n)] + digits;
  return digits;
}
