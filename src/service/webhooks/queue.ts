import type { FeedAnswer } from '../feeds/answers.ts';
import { FORMS } from '../feeds/representations.ts';
import { newMessageId } from './signing.ts';
import type { Message, Webhook, WebhookEvent, WebhookStore } from './store.ts';

/** Messages of a webhook that wait; of more the oldest are given up, since the newest says how things are. */
export const MOST_WAITING = 100;
/** Messages of a webhook that stay listed. */
const KEPT = 200;
/** In place of a digest where the audience sees no such feed. */
export const GONE = '';

/** What a receiver knows of a feed, or will know when it has what waits: a digest; undefined where it knows nothing. */
export async function standing(store: WebhookStore, webhook: string): Promise<string | undefined> {
  return (await store.messages(webhook)).find(isStanding)?.digest;
}

/** What was given up never came, and a test tells of nothing. */
const isStanding = ({ type, state }: Message) => type !== 'webhook.test' && state !== 'given-up';

/**
 * Puts what a feed answers into the queue of a webhook, unless its receiver knows it. The first time it is noted alone: whoever registers
 * can look for themselves.
 * @param answer of now; undefined where the audience sees no such feed
 * @param site address of the service, where it is known: links begin with it
 * @returns whether there is something to send
 * @throws Error where another process has put something in meanwhile
 */
export async function enqueue(
  store: WebhookStore,
  webhook: Webhook,
  answer: FeedAnswer | undefined,
  { now, site }: { readonly now: string; readonly site: string },
): Promise<boolean> {
  const before = await store.messages(webhook.id);
  const digest = answer?.digest ?? GONE;
  const known = before.find(isStanding)?.digest;
  if (known === digest) return false;
  const number = (before[0]?.number ?? 0) + 1;
  const type: WebhookEvent = answer ? 'feed.changed' : 'feed.removed';
  const isTold = before.some(({ type: one }) => one !== 'webhook.test') && webhook.events.includes(type);
  const isDone = await store.addMessage({
    id: newMessageId(),
    webhook: webhook.id,
    number,
    type,
    digest,
    body: isTold ? bodyOf(webhook, answer, type, now, site) : '',
    created: now,
    state: isTold ? 'waiting' : 'known',
    tries: 0,
    nextTry: isTold ? now : null,
    tried: null,
    outcome: null,
  });
  if (!isDone) throw new Error(`another process puts messages of the webhook ${webhook.id}`);
  const waiting = before.filter(({ state }) => state === 'waiting');
  for (const { id, tries, tried } of isTold ? waiting.slice(MOST_WAITING - 1) : [])
    await store.tried(id, {
      state: 'given-up',
      tries,
      nextTry: null,
      tried,
      outcome: `more than ${MOST_WAITING} waited; later ones tell more`,
    });
  await store.prune(webhook.id, number - KEPT);
  return isTold;
}

/** The message: what it is about and where to look, so that the receiver asks for what it wants. */
function bodyOf(
  { feed, audience }: Webhook,
  answer: FeedAnswer | undefined,
  type: WebhookEvent,
  now: string,
  site: string,
): string {
  if (!answer) return JSON.stringify({ type, timestamp: now, data: { feed: { id: feed }, audience } });
  const { id, title } = answer.feed;
  const addresses = Object.fromEntries(
    Object.keys(FORMS).map((form) => [form, `${site}/feeds/${id}.${form}`]),
  );
  const data = { feed: { id, title }, audience, etag: `"${answer.digest}"`, addresses };
  return JSON.stringify({ type, timestamp: answer.since, data });
}
