import { randomUUID } from 'node:crypto';
import type { FastifyBaseLogger } from 'fastify';
import type { Accounts } from '../../access/accounts.ts';
import { hasRole } from '../../access/roles.ts';
import type { Archive } from '../../archive.ts';
import { CasebackError } from '../../model/problems.ts';
import type { FeedAnswer } from '../feeds/answers.ts';
import type { FeedWatch } from '../feeds/watch.ts';
import type { Metrics } from '../server/metrics.ts';
import { logSparingly } from '../server/sparing-log.ts';
import { type Outcome, type PostOptions, post } from './post.ts';
import { enqueue, GONE, standing } from './queue.ts';
import { pauseAfter } from './retries.ts';
import { signedHeaders } from './signing.ts';
import type { Message, Webhook } from './store.ts';
import type { Webhooks } from './webhooks.ts';

/** How often it is looked whether webhooks were registered, changed or removed elsewhere, ms. */
const POLL = 2_000;
/** For how long a process is the one that sends, unless it says so again, ms. */
const LEASE = 60_000;
/** Messages under way at once, in all; and of those that failed before, so that receivers that are down leave room for others. */
const UNDER_WAY = { all: 32, again: 16 } as const;

export interface SenderOptions {
  readonly webhooks: Webhooks;
  readonly watch: FeedWatch;
  /** @throws CasebackError NOT_READY */
  readonly archive: () => Archive;
  readonly accounts: Accounts | undefined;
  /** Address of the service, without a path, where it is known. */
  readonly publicUrl: URL | undefined;
  readonly posting: Omit<PostOptions, 'rules'>;
  readonly metrics: Metrics | undefined;
  readonly log: FastifyBaseLogger;
  readonly clock?: () => Date;
  /** ms; for tests */
  readonly poll?: number;
}

interface Listening {
  readonly stop: () => void;
  /** What was heard last is put into the queue behind what was heard before. */
  queue: Promise<void>;
}

/**
 * Tells registered addresses when the answers of feeds change. Of several processes on one archive one sends. A message waits in the
 * store until its receiver has taken it or it is given up, so that it outlives the process: at least once, under one id. Each webhook has one
 * message under way at a time, and its own pauses.
 */
export class WebhookSender {
  readonly #options: SenderOptions;
  readonly #clock: () => Date;
  readonly #me = randomUUID();
  readonly #listening = new Map<string, Listening>();
  /** Webhooks with a message under way, and whether it failed before. */
  readonly #underWay = new Map<string, { readonly isAgain: boolean; readonly done: Promise<void> }>();
  #timer: NodeJS.Timeout | undefined;
  #turning: Promise<void> | undefined;
  #isWanted = false;
  #isStopped = false;
  /** Until when this process is the one that sends, ms since 1970. */
  #leadsUntil = 0;

  constructor(options: SenderOptions) {
    this.#options = options;
    this.#clock = options.clock ?? (() => new Date());
  }

  start(): void {
    this.wake();
  }

  /** Looks at once, not at the next time. */
  wake(): void {
    this.#isWanted = true;
    if (this.#isStopped) return;
    this.#turning ??= this.#turns().finally(() => {
      this.#turning = undefined;
    });
  }

  /** Ends when what is under way is noted; what waits is sent by whoever comes next. */
  async stop(): Promise<void> {
    this.#isStopped = true;
    clearTimeout(this.#timer);
    await this.#turning;
    for (const id of [...this.#listening.keys()]) this.#unlisten(id);
    await Promise.all([...this.#underWay.values()].map(({ done }) => done));
    if (this.#leadsUntil > 0) await this.#options.webhooks.store.resign(this.#me).catch(() => undefined);
  }

  async #turns(): Promise<void> {
    let next = this.#options.poll ?? POLL;
    while (this.#isWanted && !this.#isStopped) {
      this.#isWanted = false;
      try {
        next = Math.min(this.#options.poll ?? POLL, await this.#turn());
      } catch (error) {
        this.#tell(error);
      }
    }
    clearTimeout(this.#timer);
    if (!this.#isStopped) this.#timer = setTimeout(() => this.wake(), next).unref();
  }

  /** @returns after how long there is something to do again, ms */
  async #turn(): Promise<number> {
    const { webhooks, metrics } = this.#options;
    const { store } = webhooks;
    const all = await webhooks.list();
    const now = this.#clock();
    const leads = all.length > 0 && (await this.#leads(now));
    const on = new Map(leads ? all.filter(({ state }) => state === 'on').map((one) => [one.id, one]) : []);
    for (const id of [...this.#listening.keys()]) if (!on.has(id)) this.#unlisten(id);
    if (!leads) return Number.POSITIVE_INFINITY;
    if (all.some(({ oldUntil }) => oldUntil !== null && oldUntil <= now.toISOString()))
      await store.sweepSecrets(now.toISOString());
    for (const webhook of on.values()) if (!this.#listening.has(webhook.id)) await this.#listen(webhook);
    metrics?.webhooksWaiting(await store.countWaiting());
    // What comes to an end while the store is read is read as if it waited.
    const busy = new Set(this.#underWay.keys());
    const next = (await store.next()).filter(({ webhook }) => on.has(webhook) && !busy.has(webhook));
    return this.#sendDue(next, on, now);
  }

  /** Whether this process is the one that sends; said anew in good time. */
  async #leads(now: Date): Promise<boolean> {
    const at = now.getTime();
    if (this.#leadsUntil - at > LEASE / 2) return true;
    const until = at + LEASE;
    const { store } = this.#options.webhooks;
    const leads = await store.lead(this.#me, now.toISOString(), new Date(until).toISOString());
    this.#leadsUntil = leads ? until : 0;
    return leads;
  }

  /** Begins to send what is due. @returns after how long the next is due, ms */
  #sendDue(waiting: readonly Message[], on: ReadonlyMap<string, Webhook>, now: Date): number {
    const at = now.getTime();
    let next = Number.POSITIVE_INFINITY;
    // What was not tried yet goes ahead of what failed.
    for (const message of waiting.toSorted((a, b) => Math.min(a.tries, 1) - Math.min(b.tries, 1))) {
      const webhook = on.get(message.webhook) as Webhook;
      const due = Math.max(instantOf(message.nextTry), instantOf(webhook.heldUntil));
      if (due > at) next = Math.min(next, due - at);
      else if (!this.#underWay.has(webhook.id) && this.#hasRoom(message.tries > 0))
        this.#begin(webhook, message);
    }
    return Math.max(1, next);
  }

  #hasRoom(isAgain: boolean): boolean {
    const again = [...this.#underWay.values()].filter((one) => one.isAgain).length;
    return this.#underWay.size < UNDER_WAY.all && (!isAgain || again < UNDER_WAY.again);
  }

  #begin(webhook: Webhook, message: Message): void {
    const done = this.#try(webhook, message)
      .catch((error) => this.#tell(error))
      .finally(() => {
        this.#underWay.delete(webhook.id);
        this.wake();
      });
    this.#underWay.set(webhook.id, { isAgain: message.tries > 0, done });
  }

  async #try(webhook: Webhook, message: Message): Promise<void> {
    const { webhooks, posting } = this.#options;
    const { store, rules } = webhooks;
    const secrets = await store.secrets(webhook.id);
    // Removed in this moment.
    if (!secrets || !(await this.#mayBeTold(webhook))) return;
    const at = this.#clock();
    const headers = signedHeaders(message.id, at, message.body, secrets);
    const outcome = await post(
      new URL(webhook.address),
      headers,
      message.body,
      { ...posting, rules },
      message.tries,
    );
    await this.#note(webhook, message, at, outcome);
  }

  async #note(
    webhook: Webhook,
    message: Message,
    at: Date,
    { status = 0, said, retryAfter }: Outcome,
  ): Promise<void> {
    const { webhooks, metrics } = this.#options;
    const { store } = webhooks;
    const tries = message.tries + 1;
    const tried = at.toISOString();
    const noted = { tries, tried, outcome: said, nextTry: null };
    if (status >= 200 && status < 300) {
      await store.tried(message.id, { ...noted, state: 'delivered' });
      metrics?.webhookTried('delivered');
      return;
    }
    metrics?.webhookTried('failed');
    const pause = status === 410 ? undefined : pauseAfter(tries);
    if (pause !== undefined) {
      const now = this.#clock().getTime();
      const wait = (status === 429 || status === 503) && retryAfter !== undefined ? retryAfter : 0;
      const nextTry = new Date(now + Math.max(pause, wait)).toISOString();
      await store.tried(message.id, { ...noted, state: 'waiting', nextTry });
      // A receiver that asks for time gets it for all of its messages.
      if (wait > 0) await store.hold(webhook.id, new Date(now + wait).toISOString());
      return;
    }
    await store.tried(message.id, { ...noted, state: 'given-up' });
    metrics?.webhookGivenUp(1);
    if (status === 410) await this.#turnOff(webhook, 'the receiver answered 410 Gone');
    else if (!(await this.#hasTakenSince(webhook, message.created)))
      await this.#turnOff(webhook, `no message was taken since ${message.created}; the last try: ${said}`);
  }

  async #hasTakenSince({ id }: Webhook, instant: string): Promise<boolean> {
    const messages = await this.#options.webhooks.store.messages(id);
    return messages.some(({ state, tried }) => state === 'delivered' && (tried ?? '') >= instant);
  }

  async #turnOff({ id }: Webhook, why: string): Promise<void> {
    const { store } = this.#options.webhooks;
    this.#unlisten(id);
    await store.setState(id, 'off', why);
    const count = await store.giveUp(id, `the webhook was turned off: ${why}`);
    this.#options.metrics?.webhookGivenUp(count);
  }

  /** Whether whoever registered a webhook may still see what it tells; where not, it is turned off. */
  async #mayBeTold(webhook: Webhook): Promise<boolean> {
    const { accounts } = this.#options;
    if (webhook.audience === 'reader' || webhook.account === 'local') return true;
    const person = (await accounts?.people())?.find(({ name }) => name === webhook.owner);
    if (person?.state === 'enabled' && hasRole(person.role, 'editor')) return true;
    await this.#turnOff(webhook, `${webhook.owner}, who registered it for the desk, is no editor any more`);
    return false;
  }

  async #listen(webhook: Webhook): Promise<void> {
    const { webhooks, watch, archive } = this.#options;
    const { id, feed, audience } = webhook;
    const known = await standing(webhooks.store, id);
    const isThere = archive().state(audience).feed(feed) !== undefined;
    if (!isThere) {
      if (known !== GONE) await this.#put(webhook, undefined);
      return;
    }
    const listening: Listening = { stop: () => undefined, queue: Promise.resolve() };
    this.#listening.set(id, listening);
    const hear = (answer: FeedAnswer | undefined) => {
      listening.queue = listening.queue.then(async () => {
        if (this.#listening.get(id) !== listening) return;
        try {
          await this.#put(webhook, answer);
          // Nobody is told of a feed that is not there, so it is looked for with each turn.
          if (!answer) this.#unlisten(id);
        } catch (error) {
          // The next turn listens anew and hears the same.
          this.#unlisten(id);
          this.#tell(error);
        }
      });
    };
    const stop = watch.subscribe(feed, audience, hear, known === GONE ? undefined : known);
    Object.assign(listening, { stop });
  }

  async #put(webhook: Webhook, answer: FeedAnswer | undefined): Promise<void> {
    if (!(await this.#mayBeTold(webhook))) return;
    const { webhooks, publicUrl } = this.#options;
    const about = { now: this.#clock().toISOString(), site: publicUrl?.origin ?? '' };
    if (await enqueue(webhooks.store, webhook, answer, about)) this.wake();
  }

  #unlisten(id: string): void {
    this.#listening.get(id)?.stop();
    this.#listening.delete(id);
  }

  #tell(error: unknown): void {
    // While the archive is read there is nothing to tell; a store that is away is asked again.
    if (error instanceof CasebackError && (error.code === 'NOT_READY' || error.code === 'STOPPING')) return;
    const code = error instanceof CasebackError ? error.code : 'INTERNAL';
    logSparingly(this.#options.log, `webhooks ${code}`, { err: error }, 'webhooks wait');
  }
}

/** Milliseconds since 1970; 0 for none. */
const instantOf = (written: string | null) => (written === null ? 0 : Date.parse(written));
