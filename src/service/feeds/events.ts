import type { ServerResponse } from 'node:http';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { CasebackError } from '../../model/problems.ts';
import { audienceOf } from '../access/asker.ts';
import type { Limits } from '../server/options.ts';
import type { FeedAnswer } from './answers.ts';
import type { FeedWatch } from './watch.ts';

/** Server-sent events (WHATWG HTML, section "Server-sent events"). */
export const EVENTS_TYPE = 'text/event-stream';
/** Time between two comments that keep proxies from ending a silent connection, ms. */
const HEARTBEAT = 15_000;
/** How long a listener waits before it connects again, ms. */
const RETRY = 2_000;
/** How long somebody who signed in is listened for before they have to show again who they are, ms. */
const SIGNED_IN = 300_000;
/** Shares of the connections of a service that listeners may have, in all and those of one feed. */
const SHARE = { all: 0.8, each: 0.6 };

/** One connection that listens to a feed. It remembers no queue: of several changes that were not taken yet the last one counts. */
class Listener {
  readonly #raw: ServerResponse;
  /** Digest that the listener knows or will know when it has taken what was sent. */
  #known: string | undefined;
  #waiting: FeedAnswer | undefined;
  #isFull = false;

  constructor(raw: ServerResponse, known: string | undefined) {
    this.#raw = raw;
    this.#known = known;
    raw.on('drain', () => {
      this.#isFull = false;
      if (this.#waiting) this.tell(this.#waiting);
    });
  }

  /** Tells of an answer unless it is the one that the listener knows. */
  tell(answer: FeedAnswer): void {
    this.#waiting = undefined;
    if (answer.digest === this.#known) return;
    if (this.#isFull) {
      this.#waiting = answer;
      return;
    }
    const { digest, since, feed } = answer;
    // Without a digest that it knows it has just come, and will ask; the id alone is remembered and dispatched to nobody.
    const event =
      this.#known === undefined
        ? `id: ${digest}\n\n`
        : `event: changed\nid: ${digest}\ndata: ${JSON.stringify({ feed: feed.id, digest, since })}\n\n`;
    this.#known = digest;
    this.#write(event);
  }

  /** Shows proxies that the connection is in use; nothing is put behind what is not taken. */
  beat(): void {
    if (!this.#isFull) this.#write(':\n\n');
  }

  #write(text: string): void {
    this.#isFull = !this.#raw.write(text);
  }

  end(): void {
    this.#raw.end();
  }
}

/** The connections that listen to feeds, within bounds that leave others of the service to ordinary requests. */
export class EventStreams {
  readonly #watch: FeedWatch;
  readonly #most: { readonly all: number; readonly each: number };
  readonly #open = new Map<Listener, string>();
  readonly #counts = new Map<string, number>();
  #beating: NodeJS.Timeout | undefined;
  #isClosed = false;

  constructor(watch: FeedWatch, { connections }: Pick<Limits, 'connections'>) {
    this.#watch = watch;
    const share = (of: number) => Math.max(1, Math.floor(of * connections));
    this.#most = { all: share(SHARE.all), each: share(SHARE.each) };
  }

  /**
   * Answers with a stream of events. Whoever names in Last-Event-ID an answer that is not the one of now is told at once.
   * @param charge told the work where the question is asked anew for this listener
   * @throws CasebackError UNAVAILABLE where too many listen; NOT_FOUND; what the question of the feed fails with
   */
  async open(
    request: FastifyRequest,
    reply: FastifyReply,
    id: string,
    charge: (work: number) => void,
  ): Promise<FastifyReply> {
    const count = this.#counts.get(id) ?? 0;
    if (this.#open.size >= this.#most.all || count >= this.#most.each) {
      reply.header('retry-after', '30');
      throw new CasebackError(
        'UNAVAILABLE',
        'Too many listen to feeds just now; try again later, or ask with If-None-Match',
      );
    }
    const audience = audienceOf(request.who);
    const { raw } = reply;
    const last = request.headers['last-event-id'];
    const listener = new Listener(raw, typeof last === 'string' && last !== '' ? last : undefined);
    // Counted before anything is waited for, so that many who come at once are.
    this.#open.set(listener, id);
    this.#counts.set(id, count + 1);
    let isBegun = false;
    let unsubscribe: (() => void) | undefined;
    let timer: NodeJS.Timeout | undefined;
    const over = () => {
      if (!this.#open.delete(listener)) return;
      unsubscribe?.();
      clearTimeout(timer);
      const left = (this.#counts.get(id) ?? 1) - 1;
      if (left === 0) this.#counts.delete(id);
      else this.#counts.set(id, left);
      if (this.#open.size === 0) this.#beat(false);
    };
    raw.once('close', over);
    try {
      const answer = await this.#watch.now(id, audience, charge);
      if (!answer) throw new CasebackError('NOT_FOUND', `No feed has the id "${id}"`);
      if (this.#isClosed) throw new CasebackError('STOPPING', 'The service is stopping; ask again soon');
      if (raw.destroyed) return reply.hijack();
      for (const [name, value] of Object.entries(reply.getHeaders()))
        if (value !== undefined) raw.setHeader(name, value);
      raw.setHeader('content-type', EVENTS_TYPE);
      raw.setHeader('cache-control', 'no-store');
      // Some proxies gather what comes in small pieces.
      raw.setHeader('x-accel-buffering', 'no');
      reply.hijack();
      isBegun = true;
      if (request.method === 'HEAD') {
        over();
        raw.end();
        return reply;
      }
      raw.write(`retry: ${RETRY}\n\n`);
      listener.tell(answer);
      const tell = (now: FeedAnswer | undefined) => (now ? listener.tell(now) : listener.end());
      unsubscribe = this.#watch.subscribe(id, audience, tell, answer.digest);
      if (request.who.by === 'token' || request.who.by === 'session')
        timer = setTimeout(() => listener.end(), SIGNED_IN).unref();
      this.#beat(true);
      return reply;
    } finally {
      if (!isBegun) over();
    }
  }

  /** Ends all streams; listeners connect again, and are told what they missed. */
  close(): void {
    this.#isClosed = true;
    this.#beat(false);
    for (const listener of this.#open.keys()) listener.end();
  }

  #beat(isOn: boolean): void {
    if (!isOn) {
      clearInterval(this.#beating);
      this.#beating = undefined;
    } else
      this.#beating ??= setInterval(() => {
        for (const listener of this.#open.keys()) listener.beat();
      }, HEARTBEAT).unref();
  }
}
