import { randomBytes } from 'node:crypto';
import { Webhook as Signer } from 'standardwebhooks';
import type { Secrets } from './store.ts';

// Standard Webhooks 1.0.0: "Signature scheme", "Webhook headers".

/** Bytes of chance in a secret: the specification wants 24 to 64. */
const SECRET_BYTES = 32;

/** A new secret: base64 behind `whsec_`. */
export function newSecret(): string {
  return `whsec_${randomBytes(SECRET_BYTES).toString('base64')}`;
}

/** A new id of a message. It must not have a full stop, which parts id, timestamp and body where they are signed. */
export function newMessageId(): string {
  return `msg_${randomBytes(18).toString('base64url')}`;
}

/**
 * Header fields of one try. While a secret is being changed there is a signature of the new one and one of the old, apart by a blank.
 * @param at when it is tried
 */
export function signedHeaders(
  id: string,
  at: Date,
  body: string,
  { secret, old, oldUntil }: Secrets,
): Readonly<Record<string, string>> {
  const isOldValid = old !== null && oldUntil !== null && oldUntil > at.toISOString();
  const signatures = [secret, ...(isOldValid ? [old] : [])].map((one) => new Signer(one).sign(id, at, body));
  return {
    'webhook-id': id,
    'webhook-timestamp': String(Math.floor(at.getTime() / 1_000)),
    'webhook-signature': signatures.join(' '),
  };
}
