import { CasebackError } from '../../../model/problems.ts';
import { resolved } from '../../../state/resolve.ts';
import { EVENTS, type Message, type Webhook } from '../../webhooks/store.ts';
import type { Webhooks } from '../../webhooks/webhooks.ts';
import type { Context } from '../context.ts';
import { sortedListing } from '../listing.ts';
import { paginate } from '../paginate.ts';
import { mustHave } from '../permissions.ts';
import type { Resolvers } from '../resolver-types.ts';
import { enumName, enumWord } from '../words.ts';

/** Types of messages as GraphQL names events. */
const eventName = (event: Webhook['events'][number]) =>
  event === 'feed.changed' ? 'FEED_CHANGED' : 'FEED_REMOVED';

/** A webhook with its messages, as the schema has it: nothing of its secret. */
async function webhookSource(webhooks: Webhooks, webhook: Webhook) {
  const { id, feed, address, events, audience, owner, created, state, note, oldUntil } = webhook;
  return {
    id,
    feed,
    address,
    events: events.map(eventName),
    audience: enumName(audience),
    owner,
    created,
    state: enumName(state),
    note,
    previousSecretUntil: oldUntil,
    messages: (await webhooks.messages(id)).map(messageSource),
  };
}

function messageSource({ id, type, created, state, tries, nextTry, tried, outcome }: Message) {
  // What is known without a message counts as one that arrived; lists leave it out.
  const shown = state === 'known' ? 'delivered' : state;
  return { id, type, created, state: enumName(shown), tries, nextTry, lastTry: tried, outcome };
}

/** @throws CasebackError NOT_FOUND where a service keeps no webhooks */
function webhooksIn({ webhooks }: Context): Webhooks {
  if (webhooks) return webhooks;
  throw new CasebackError('NOT_FOUND', 'this service keeps no webhooks');
}

/** Addresses that are told when the answers of feeds change, and editors who look after them. */
export const webhooks: Resolvers = {
  Query: {
    webhooks: async (_root, { feed, ...page }, { who, webhooks: kept }) => {
      mustHave('editor', 'webhooks', who);
      const all = (await kept?.list(feed ?? undefined)) ?? [];
      const sources = await Promise.all(all.map((one) => webhookSource(kept as Webhooks, one)));
      return paginate(
        sortedListing('webhooks', sources, ({ created, id }) => [created, id]),
        page,
        (source) => source,
      );
    },
  },
  Mutation: {
    registerWebhook: async (_root, { input: { feed, address, events, audience } }, context) => {
      const kept = webhooksIn(context);
      const { thing } = resolved(context.view, feed, ['Feed']);
      const { name, by, nameless } = context.who;
      if (nameless !== undefined) throw new CasebackError('UNAVAILABLE', nameless);
      const { webhook, secret } = await kept.register(
        {
          feed: thing.id,
          address,
          events: EVENTS.filter((one) => events.includes(eventName(one))),
          audience: enumWord(['reader', 'desk'] as const, audience),
        },
        // Nobody without a name is an editor.
        { name: name ?? '', account: by === 'local' ? 'local' : 'person' },
      );
      return { webhook: await webhookSource(kept, webhook), secret };
    },
    rotateWebhookSecret: async (_root, { input: { id, hours } }, context) => {
      const kept = webhooksIn(context);
      const { webhook, secret } = await kept.rotate(id, hours);
      return { webhook: await webhookSource(kept, webhook), secret };
    },
    resumeWebhook: async (_root, { input: { id } }, context) => {
      const kept = webhooksIn(context);
      return { webhook: await webhookSource(kept, await kept.resume(id)) };
    },
    testWebhook: async (_root, { input: { id } }, context) => ({
      message: messageSource(await webhooksIn(context).test(id)),
    }),
    removeWebhook: async (_root, { input: { id } }, context) => {
      await webhooksIn(context).remove(id);
      return { id };
    },
  },
};
