import type { Sql } from '../../access/sql-store.ts';
import type { Audience } from '../../state/visibility/audience.ts';

// Instants are ISO 8601 in UTC with milliseconds, so that they sort as text.

/** What a webhook can be told of, as the messages have it. */
export const EVENTS = ['feed.changed', 'feed.removed'] as const;
export type WebhookEvent = (typeof EVENTS)[number];

/** A registered address that is told when the answer of a feed changes. */
export interface Webhook {
  readonly id: string;
  readonly feed: string;
  readonly address: string;
  readonly events: readonly WebhookEvent[];
  /** Whose view of the feed it is told of. */
  readonly audience: Audience;
  /** Who registered it. */
  readonly owner: string;
  /** Where they are known: an account of their own, or that of the machine. */
  readonly account: 'person' | 'local';
  readonly created: string;
  readonly state: 'on' | 'off';
  /** Why it was turned off. */
  readonly note: string | null;
  /** Until when its receiver wants no message. */
  readonly heldUntil: string | null;
  /** Until when the secret before the last change is valid, too. */
  readonly oldUntil: string | null;
}

/** What signs the messages of a webhook. */
export interface Secrets {
  readonly secret: string;
  readonly old: string | null;
  readonly oldUntil: string | null;
}

/**
 * `known`: an answer that the receiver need not be told, as it was there when the webhook was registered, or is an event that it was not
 * registered for.
 */
export type MessageState = 'known' | 'waiting' | 'delivered' | 'given-up';

export interface Message {
  /** The `webhook-id` of every try. */
  readonly id: string;
  readonly webhook: string;
  readonly number: number;
  readonly type: string;
  /** Digest of the answer that it tells of. */
  readonly digest: string;
  readonly body: string;
  readonly created: string;
  readonly state: MessageState;
  readonly tries: number;
  readonly nextTry: string | null;
  /** When it was last tried. */
  readonly tried: string | null;
  /** What the last try came to, in a few words. */
  readonly outcome: string | null;
}

type Row = Readonly<Record<string, string | number | null>>;

const WEBHOOK =
  'id, feed, address, events, audience, owner, account, created, state, note, held_until, old_until';
const MESSAGE = 'id, webhook, number, type, digest, body, created, state, tries, next_try, tried, outcome';

/** Webhooks, their messages, and which process sends them. */
export class WebhookStore {
  readonly #sql: Sql;

  constructor(sql: Sql) {
    this.#sql = sql;
  }

  /** All, the oldest first. */
  async webhooks(): Promise<readonly Webhook[]> {
    return (await this.#rows(`SELECT ${WEBHOOK} FROM webhooks ORDER BY created, id`)).map(webhookIn);
  }

  async webhook(id: string): Promise<Webhook | undefined> {
    const [row] = await this.#rows(`SELECT ${WEBHOOK} FROM webhooks WHERE id = ?1`, id);
    return row && webhookIn(row);
  }

  async add(webhook: Webhook, secret: string): Promise<void> {
    const { id, feed, address, events, audience, owner, account, created, state } = webhook;
    await this.#sql.run(
      `INSERT INTO webhooks (id, feed, address, events, audience, owner, account, created, state, secret)
       VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10)`,
      [id, feed, address, events.join(' '), audience, owner, account, created, state, secret],
    );
  }

  async secrets(id: string): Promise<Secrets | undefined> {
    const [row] = await this.#rows('SELECT secret, old_secret, old_until FROM webhooks WHERE id = ?1', id);
    return row && { secret: text(row.secret), old: maybe(row.old_secret), oldUntil: maybe(row.old_until) };
  }

  /** Puts a secret in place of one, which stays valid until an instant. Answers false where it is another one by now. */
  async rotate(id: string, from: string, secret: string, oldUntil: string): Promise<boolean> {
    const done = await this.#sql.run(
      'UPDATE webhooks SET secret = ?3, old_secret = ?2, old_until = ?4 WHERE id = ?1 AND secret = ?2',
      [id, from, secret, oldUntil],
    );
    return done === 1;
  }

  /** Forgets secrets that are not valid any more. */
  async sweepSecrets(now: string): Promise<void> {
    await this.#sql.run(
      'UPDATE webhooks SET old_secret = NULL, old_until = NULL WHERE old_until IS NOT NULL AND old_until <= ?1',
      [now],
    );
  }

  async setState(id: string, state: Webhook['state'], note: string | null): Promise<void> {
    await this.#sql.run('UPDATE webhooks SET state = ?2, note = ?3, held_until = NULL WHERE id = ?1', [
      id,
      state,
      note,
    ]);
  }

  /** Puts off all that waits of a webhook, and what comes until then. */
  async hold(id: string, until: string): Promise<void> {
    await this.#sql.run('UPDATE webhooks SET held_until = ?2 WHERE id = ?1', [id, until]);
    await this.#sql.run(
      `UPDATE webhook_messages SET next_try = ?2 WHERE webhook = ?1 AND state = 'waiting' AND next_try < ?2`,
      [id, until],
    );
  }

  /** Takes a webhook away with its secrets and messages. Answers whether there was one. */
  async remove(id: string): Promise<boolean> {
    const done = await this.#sql.run('DELETE FROM webhooks WHERE id = ?1', [id]);
    await this.#sql.run('DELETE FROM webhook_messages WHERE webhook = ?1', [id]);
    return done === 1;
  }

  /** Messages of a webhook, the newest first. */
  async messages(webhook: string): Promise<readonly Message[]> {
    const rows = await this.#rows(
      `SELECT ${MESSAGE} FROM webhook_messages WHERE webhook = ?1 ORDER BY number DESC`,
      webhook,
    );
    return rows.map(messageIn);
  }

  /** Answers false where another process has put one of that number. */
  async addMessage(message: Message): Promise<boolean> {
    const { id, webhook, number, type, digest, body, created, state, tries, nextTry } = message;
    const done = await this.#sql.run(
      `INSERT INTO webhook_messages (id, webhook, number, type, digest, body, created, state, tries, next_try)
       VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10)`,
      [id, webhook, String(number), type, digest, body, created, state, String(tries), nextTry],
    );
    return done !== 'taken';
  }

  /** Notes what a try came to. */
  async tried(
    id: string,
    {
      state,
      tries,
      nextTry,
      tried,
      outcome,
    }: Pick<Message, 'state' | 'tries' | 'nextTry' | 'tried' | 'outcome'>,
  ): Promise<void> {
    await this.#sql.run(
      `UPDATE webhook_messages SET state = ?2, tries = ?3, next_try = ?4, tried = ?5, outcome = ?6 WHERE id = ?1`,
      [id, state, String(tries), nextTry, tried, outcome],
    );
  }

  /** Gives up what waits of a webhook; answers how many. */
  async giveUp(webhook: string, outcome: string): Promise<number> {
    const done = await this.#sql.run(
      `UPDATE webhook_messages SET state = 'given-up', next_try = NULL, outcome = ?2 WHERE webhook = ?1 AND state = 'waiting'`,
      [webhook, outcome],
    );
    return Number(done);
  }

  /** Of each webhook the message that is next to be tried. */
  async next(): Promise<readonly Message[]> {
    const rows = await this.#rows(
      `SELECT ${MESSAGE} FROM webhook_messages WHERE state = 'waiting' AND NOT EXISTS (
         SELECT 1 FROM webhook_messages AS other
         WHERE other.webhook = webhook_messages.webhook AND other.state = 'waiting' AND
           (other.next_try < webhook_messages.next_try OR
             (other.next_try = webhook_messages.next_try AND other.number < webhook_messages.number)))
       ORDER BY next_try, id`,
    );
    return rows.map(messageIn);
  }

  /** How many messages wait. */
  async countWaiting(): Promise<number> {
    const [row] = await this.#rows(
      `SELECT count(*) AS waiting FROM webhook_messages WHERE state = 'waiting'`,
    );
    return Number(row?.waiting ?? 0);
  }

  /** Forgets messages of a webhook up to a number, but what waits. */
  async prune(webhook: string, upTo: number): Promise<void> {
    await this.#sql.run(
      `DELETE FROM webhook_messages WHERE webhook = ?1 AND number <= ?2 AND state <> 'waiting'`,
      [webhook, String(upTo)],
    );
  }

  /** Makes a process the one that sends, until an instant, or longer where it is. Answers whether it is. */
  async lead(holder: string, now: string, until: string): Promise<boolean> {
    const renewed = await this.#sql.run(
      `UPDATE webhook_sender SET holder = ?1, until = ?3 WHERE id = 'one' AND (holder = ?1 OR until < ?2)`,
      [holder, now, until],
    );
    if (renewed === 1) return true;
    const [row] = await this.#rows('SELECT holder FROM webhook_sender');
    if (row) return false;
    const made = await this.#sql.run(
      `INSERT INTO webhook_sender (id, holder, until) VALUES ('one', ?1, ?2)`,
      [holder, until],
    );
    return made !== 'taken';
  }

  /** Lets another process send. */
  async resign(holder: string): Promise<void> {
    await this.#sql.run('DELETE FROM webhook_sender WHERE holder = ?1', [holder]);
  }

  close(): Promise<void> {
    return this.#sql.close();
  }

  async #rows(statement: string, ...values: readonly (string | null)[]): Promise<readonly Row[]> {
    return (await this.#sql.all(statement, values)) as readonly Row[];
  }
}

const text = (value: string | number | null) => String(value);
const maybe = (value: string | number | null) => (value === null ? null : String(value));

function webhookIn(row: Row): Webhook {
  return {
    id: text(row.id),
    feed: text(row.feed),
    address: text(row.address),
    events: text(row.events).split(' ') as WebhookEvent[],
    audience: row.audience as Audience,
    owner: text(row.owner),
    account: row.account as Webhook['account'],
    created: text(row.created),
    state: row.state as Webhook['state'],
    note: maybe(row.note),
    heldUntil: maybe(row.held_until),
    oldUntil: maybe(row.old_until),
  };
}

function messageIn(row: Row): Message {
  return {
    id: text(row.id),
    webhook: text(row.webhook),
    number: Number(row.number),
    type: text(row.type),
    digest: text(row.digest),
    body: text(row.body),
    created: text(row.created),
    state: row.state as MessageState,
    tries: Number(row.tries),
    nextTry: maybe(row.next_try),
    tried: maybe(row.tried),
    outcome: maybe(row.outcome),
  };
}
