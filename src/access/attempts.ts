import { LRUCache } from 'lru-cache';
import { digestOf } from './secrets.ts';

const MINUTE = 60_000;

/** Failed attempts that one address has at once, and how soon it gets another, in ms. */
const FAILURES = { burst: 10, every: MINUTE / 10 } as const;
/** Addresses and secrets remembered. */
const REMEMBERED = 10_000;
/** For how long a secret that was right is asked after, whatever else its address does, in ms. */
const TRUSTED_FOR = 60 * MINUTE;

/**
 * Holds up whoever tries secrets: an address that failed too often waits before another is looked up. Whoever signed in lately is
 * not kept out by it, since many may share an address behind a proxy.
 */
export class Attempts {
  readonly #clock: () => number;
  /** By address: when all its failures are forgiven, ms. */
  readonly #until = new LRUCache<string, { readonly at: number }>({ max: REMEMBERED });
  /** Digests of secrets that were right, and when, ms. */
  readonly #right = new LRUCache<string, { readonly at: number }>({ max: REMEMBERED });

  constructor(clock: () => number = Date.now) {
    this.#clock = clock;
  }

  /** Seconds to wait before the secret may be tried from this address; 0 when it may be now. */
  wait(address: string, secret: string): number {
    const now = this.#clock();
    const owed = (this.#until.get(address)?.at ?? 0) - now - (FAILURES.burst - 1) * FAILURES.every;
    if (owed <= 0) return 0;
    const right = this.#right.get(digestOf(secret));
    return right && right.at + TRUSTED_FOR > now ? 0 : Math.ceil(owed / 1000);
  }

  succeeded(secret: string): void {
    this.#right.set(digestOf(secret), { at: this.#clock() });
  }

  failed(address: string): void {
    const now = this.#clock();
    const from = Math.max(now, this.#until.get(address)?.at ?? 0);
    this.#until.set(address, { at: from + FAILURES.every });
  }
}
