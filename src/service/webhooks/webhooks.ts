import { randomUUID } from 'node:crypto';
import { CasebackError } from '../../model/problems.ts';
import type { Audience } from '../../state/visibility/audience.ts';
import { oneLine } from '../../text/plain-text.ts';
import { type AddressRules, webhookAddress } from './addresses.ts';
import { newMessageId, newSecret } from './signing.ts';
import { EVENTS, type Message, type Webhook, type WebhookEvent, type WebhookStore } from './store.ts';

const HOUR = 3_600_000;
/** Webhooks of an archive. */
const MOST = 500;
/** Hours for which the secret before stays valid. */
export const ROTATION_HOURS = { default: 24, max: 168 } as const;

/** Who registers a webhook. */
export interface Owner {
  readonly name: string;
  readonly account: Webhook['account'];
}

export interface Registration {
  /** Id of a feed on record. */
  readonly feed: string;
  readonly address: string;
  /** @default all */
  readonly events?: readonly WebhookEvent[] | undefined;
  /** @default 'reader' */
  readonly audience?: Audience | undefined;
}

/** A webhook with its secret, as it is shown once. */
export interface MadeWebhook {
  readonly webhook: Webhook;
  readonly secret: string;
}

/**
 * Webhooks as editors look after them, in a service and at the command line. Each question goes to the store, so that a running
 * service sees within seconds what is done elsewhere.
 */
export class Webhooks {
  readonly store: WebhookStore;
  readonly rules: AddressRules;
  /** Called when something was changed here, so that a sender need not wait for its next look. */
  onChange: () => void = () => undefined;
  readonly #clock: () => Date;

  constructor(store: WebhookStore, rules: AddressRules, clock: () => Date = () => new Date()) {
    this.store = store;
    this.rules = rules;
    this.#clock = clock;
  }

  /** All, or those of a feed, the oldest first. */
  async list(feed?: string): Promise<readonly Webhook[]> {
    const all = await this.store.webhooks();
    return feed === undefined ? all : all.filter((one) => one.feed === feed);
  }

  /** @throws CasebackError NOT_FOUND */
  async one(id: string): Promise<Webhook> {
    const found = await this.store.webhook(id);
    if (found) return found;
    throw new CasebackError('NOT_FOUND', `no webhook has the id "${oneLine(id, 80)}"`);
  }

  /** What a webhook was or is to be sent, the newest first. */
  async messages(id: string): Promise<readonly Message[]> {
    return (await this.store.messages(id)).filter(({ state }) => state !== 'known');
  }

  /**
   * Registers an address for a feed. Its secret is told here and never again.
   * @throws CasebackError BAD_INPUT for an address that messages may not go to; CONFLICT where it is registered already; TOO_MANY
   */
  async register(
    { feed, address, events = EVENTS, audience = 'reader' }: Registration,
    { name, account }: Owner,
  ): Promise<MadeWebhook> {
    const { href } = webhookAddress(address, this.rules);
    if (events.length === 0)
      throw new CasebackError('BAD_INPUT', `events is empty; name some of ${EVENTS.join(', ')}`);
    const before = await this.store.webhooks();
    const same = before.find((one) => one.feed === feed && one.address === href && one.audience === audience);
    if (same)
      throw new CasebackError('CONFLICT', `this address is registered for the feed already, as ${same.id}`);
    if (before.length >= MOST)
      throw new CasebackError('TOO_MANY', `there are ${MOST} webhooks, as many as may be; remove some`);
    const secret = newSecret();
    const webhook: Webhook = {
      id: randomUUID(),
      feed,
      address: href,
      events: EVENTS.filter((one) => events.includes(one)),
      audience,
      owner: name,
      account,
      created: this.#now(),
      state: 'on',
      note: null,
      heldUntil: null,
      oldUntil: null,
    };
    await this.store.add(webhook, secret);
    this.onChange();
    return { webhook, secret };
  }

  /**
   * Gives a webhook another secret. Messages are signed with both until the hours are over.
   * @param hours for which the one before stays valid; 0 where it was found out by somebody
   */
  async rotate(id: string, hours: number = ROTATION_HOURS.default): Promise<MadeWebhook> {
    if (!Number.isInteger(hours) || hours < 0 || hours > ROTATION_HOURS.max)
      throw new CasebackError(
        'BAD_INPUT',
        `the secret before cannot be valid for ${hours} hours; give a whole number from 0 to ${ROTATION_HOURS.max}`,
      );
    await this.one(id);
    const secret = newSecret();
    const before = await this.store.secrets(id);
    const until = new Date(this.#clock().getTime() + hours * HOUR).toISOString();
    if (!before || !(await this.store.rotate(id, before.secret, secret, until)))
      throw new CasebackError('CONFLICT', 'somebody else has just changed this webhook; look again');
    if (hours === 0) await this.store.sweepSecrets(this.#now());
    return { webhook: await this.one(id), secret };
  }

  /** Turns a webhook on again. Where the feed has another answer by now than the receiver was last told, it is told. */
  async resume(id: string): Promise<Webhook> {
    await this.one(id);
    await this.store.setState(id, 'on', null);
    this.onChange();
    return this.one(id);
  }

  /** Has a message sent that tells of nothing, of the type `webhook.test`. */
  async test(id: string): Promise<Message> {
    const { feed, state } = await this.one(id);
    if (state === 'off') throw new CasebackError('CONFLICT', 'this webhook is off; resume it first');
    const created = this.#now();
    const newest = (await this.store.messages(id))[0];
    const message: Message = {
      id: newMessageId(),
      webhook: id,
      number: (newest?.number ?? 0) + 1,
      type: 'webhook.test',
      digest: '',
      body: JSON.stringify({ type: 'webhook.test', timestamp: created, data: { feed: { id: feed } } }),
      created,
      state: 'waiting',
      tries: 0,
      nextTry: created,
      tried: null,
      outcome: null,
    };
    const isDone = await this.store.addMessage(message);
    this.onChange();
    if (isDone) return message;
    throw new CasebackError('CONFLICT', 'another message was made in this moment; try again');
  }

  /** Takes a webhook away, with its secret and what waits. */
  async remove(id: string): Promise<void> {
    await this.one(id);
    await this.store.remove(id);
    this.onChange();
  }

  close(): Promise<void> {
    return this.store.close();
  }

  #now(): string {
    return this.#clock().toISOString();
  }
}
