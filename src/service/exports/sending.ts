import { createHash } from 'node:crypto';
import { addAbortSignal, Readable } from 'node:stream';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { SharedWork } from '../../identification/shared-work.ts';
import type { Facts } from '../../state/facts.ts';
import { conditional } from '../feeds/conditional.ts';

/** Answers up to this size are made whole before they are sent: they have a length and an entity tag at once. Bytes. */
const MOST_WHOLE = 2 ** 20;
/** How long one may take to be made and taken, ms: a state is kept as long as an answer of it is under way. */
const LONGEST = 30 * 60_000;

/** A representation that is made in chunks each time it is asked for. */
export interface Made {
  /** What it was made of, and what tells it from others of the same facts. */
  readonly facts: Facts;
  readonly key: string;
  readonly mediaType: string;
  readonly chunks: (signal: AbortSignal) => AsyncIterable<Uint8Array>;
}

/** What is known of a representation once it was gone through. */
interface Known {
  readonly etag: string;
  /** Bytes. */
  readonly length: number;
}

/** By what was made, kept as long as the facts: whatever is written that an audience does not see leaves it. */
const known = new WeakMap<Facts, Map<string, Known>>();
const goingThrough = new WeakMap<Facts, Map<string, SharedWork<Known>>>();

/**
 * Sends what is made, as it is made and no faster than it is taken; the work ends when the asker has gone. Requests may be conditional
 * (RFC 9110, section 13). What is large has an entity tag and a length once somebody has had it whole, or asks with
 * a condition, for which it is gone through once ahead.
 */
export async function sendMade(
  request: FastifyRequest,
  reply: FastifyReply,
  made: Made,
): Promise<FastifyReply> {
  const signal = endOf(reply);
  const isHead = request.method === 'HEAD';
  const stream = (length?: number) => {
    reply.type(made.mediaType);
    if (length !== undefined) reply.header('content-length', length);
    return reply.send(
      isHead ? Readable.from([]) : addAbortSignal(signal, Readable.from(noted(made, signal))),
    );
  };
  const before = knownOf(made);
  if (before) return conditional(request, reply, before, () => stream(before.length));
  const whole = await wholeOf(made, signal);
  if (whole) {
    const validators = keep(made, createHash('sha256').update(whole), whole.length);
    return conditional(request, reply, validators, () => reply.type(made.mediaType).send(whole));
  }
  if (!namesTags(request)) return stream();
  const found = await goneThrough(made, signal);
  return conditional(request, reply, found, () => stream(found.length));
}

function namesTags({ headers }: FastifyRequest): boolean {
  return headers['if-match'] !== undefined || headers['if-none-match'] !== undefined;
}

/** Aborted when the asker has gone, or has taken too long. */
function endOf({ raw }: FastifyReply): AbortSignal {
  const gone = new AbortController();
  raw.once('close', () => gone.abort());
  return AbortSignal.any([gone.signal, AbortSignal.timeout(LONGEST)]);
}

/** All of what is made; undefined where it is too large to be kept in memory. */
async function wholeOf(made: Made, signal: AbortSignal): Promise<Buffer | undefined> {
  const chunks: Uint8Array[] = [];
  let size = 0;
  for await (const chunk of made.chunks(signal)) {
    chunks.push(chunk);
    size += chunk.length;
    if (size > MOST_WHOLE) return undefined;
  }
  return Buffer.concat(chunks);
}

/** The chunks; what is known of them is kept when the last one is taken. */
async function* noted(made: Made, signal: AbortSignal): AsyncGenerator<Uint8Array> {
  const hash = createHash('sha256');
  let length = 0;
  for await (const chunk of made.chunks(signal)) {
    hash.update(chunk);
    length += chunk.length;
    yield chunk;
  }
  keep(made, hash, length);
}

/** Once for all who ask meanwhile. */
function goneThrough(made: Made, signal: AbortSignal): Promise<Known> {
  const { facts, key } = made;
  const shared = keptIn(goingThrough, facts).get(key) ?? new SharedWork<Known>();
  keptIn(goingThrough, facts).set(key, shared);
  return shared.of(key, signal, async (ended) => {
    for await (const _ of noted(made, ended));
    return knownOf(made) as Known;
  });
}

function knownOf({ facts, key }: Made): Known | undefined {
  return keptIn(known, facts).get(key);
}

function keep({ facts, key }: Made, hash: ReturnType<typeof createHash>, length: number): Known {
  const found = { etag: `"${hash.digest('base64url').slice(0, 27)}"`, length };
  keptIn(known, facts).set(key, found);
  return found;
}

function keptIn<T>(kept: WeakMap<Facts, Map<string, T>>, facts: Facts): Map<string, T> {
  const found = kept.get(facts) ?? new Map<string, T>();
  kept.set(facts, found);
  return found;
}
