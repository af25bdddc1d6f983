import { isIPv6 } from 'node:net';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { LRUCache } from 'lru-cache';
import { CasebackError } from '../../model/problems.ts';
import type { CheckedOptions } from './options.ts';

/** How long an asker that was away may catch up at once, in seconds of its rate. */
const BURST = 10;
/** Askers remembered; one that is forgotten begins anew. */
const ASKERS = 10_000;
/** Units of work of a question (see `cost.ts`) that count as one request more. */
const WORK = 1_000;

interface Bucket {
  /** Requests that it may make now; below 0 after a costly one. */
  left: number;
  at: number;
}

/**
 * Requests in so many a second for each asker, by account or address (a token bucket): each request takes one, and a question
 * one more for every thousand fields asked for. Whoever has none left is refused, with the seconds to wait (RFC 6585, section 4;
 * RFC 9110, section 10.2.3).
 */
export class Rate {
  readonly #perSecond: number;
  readonly #buckets = new LRUCache<string, Bucket>({ max: ASKERS });
  readonly #now: () => number;

  /** @param perSecond 0 for no limit */
  constructor(perSecond: number, now: () => number = () => performance.now()) {
    this.#perSecond = perSecond;
    this.#now = now;
  }

  /**
   * Counts a request.
   * @returns seconds to wait; 0 where it may be answered
   */
  ask(asker: string): number {
    if (this.#perSecond === 0) return 0;
    const bucket = this.#filled(asker);
    if (bucket.left < 1) return Math.max(1, Math.ceil((1 - bucket.left) / this.#perSecond));
    bucket.left--;
    return 0;
  }

  /** Counts what a question costs beside its request. */
  charge(asker: string, work: number): void {
    if (this.#perSecond > 0) this.#filled(asker).left -= work / WORK;
  }

  #filled(asker: string): Bucket {
    const most = this.#perSecond * BURST;
    const now = this.#now();
    let bucket = this.#buckets.get(asker);
    if (!bucket) {
      bucket = { left: most, at: now };
      this.#buckets.set(asker, bucket);
    }
    bucket.left = Math.min(most, bucket.left + ((now - bucket.at) / 1_000) * this.#perSecond);
    bucket.at = now;
    return bucket;
  }
}

/** Refuses requests beyond the rate, before their bodies are read. */
export function limitRate(app: FastifyInstance, rate: Rate, { rate: perSecond }: CheckedOptions): void {
  if (perSecond === 0) return;
  app.addHook('onRequest', (request, reply, done) => {
    const wait = rate.ask(askerOf(request));
    done(wait === 0 ? undefined : tooMany(reply, wait));
  });
}

function tooMany(reply: FastifyReply, wait: number): CasebackError {
  reply.header('retry-after', String(wait));
  return new CasebackError('TOO_MANY', `Too many requests; wait ${wait} s`);
}

/** Who is counted: an account, else an address. */
export function askerOf(request: FastifyRequest): string {
  const { by, name } = request.who;
  return by === 'token' || by === 'session' ? `account ${name}` : `address ${networkOf(request.ip)}`;
}

/** An address as it is counted: of IPv6 the network of 64 bits, which is one customer's (RFC 6177). */
export function networkOf(address: string): string {
  const four = /^::ffff:(?<four>\d+\.\d+\.\d+\.\d+)$/iu.exec(address)?.groups?.four;
  if (four !== undefined || !isIPv6(address)) return four ?? address;
  const [head = [], tail] = address.split(/::/u).map((part) => part.match(/[^:]+/gu) ?? []);
  const zeros = tail ? Array<string>(Math.max(0, 8 - head.length - tail.length)).fill('0') : [];
  return [...head, ...zeros, ...(tail ?? [])].slice(0, 4).join(' ');
}
