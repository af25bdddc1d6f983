import { EVENTS, type Message, type Webhook } from '../../service/webhooks/store.ts';
import { ROTATION_HOURS } from '../../service/webhooks/webhooks.ts';
import { resolved } from '../../state/resolve.ts';
import { didYouMean } from '../../text/near.ts';
import type { Answer } from '../frame/answer.ts';
import { defineCommand } from '../frame/command.ts';
import { AUDIENCES } from '../frame/common-options.ts';
import { quoted, UsageError } from '../frame/exit.ts';
import { choice, list, text, whole } from '../frame/options.ts';
import { WEBHOOK_OPTIONS } from '../frame/serving-options.ts';
import { webhooksOf } from '../frame/webhooks.ts';

/** Actions, and what each takes beside options. */
const ACTIONS = {
  list: '[FEED]',
  add: 'FEED',
  messages: 'ID',
  test: 'ID',
  rotate: 'ID',
  resume: 'ID',
  remove: 'ID',
} as const;
type Action = keyof typeof ACTIONS;
const NAMES = Object.keys(ACTIONS) as Action[];

export const command = defineCommand({
  name: 'webhooks',
  about: `Lists and looks after webhooks: addresses that a running service tells when the answer of a feed changes, by messages that are signed after Standard Webhooks. A secret is shown once, when it is made. A service sees within seconds what is done here.
  list [FEED]   webhooks of a feed, or all; the same as nothing
  add FEED      registers the --address for a feed
  messages ID   what a webhook was or is to be sent, and what became of it
  test ID       sends a message that tells of nothing
  rotate ID     another secret; the one before stays valid for a while
  resume ID     turns a webhook on again that was turned off
  remove ID     takes a webhook away, with its secret and what waits`,
  arguments: [
    { name: 'ACTION', optional: true },
    { name: 'FEED', optional: true },
  ],
  options: {
    address: text('URL', 'with add: where messages are sent, beginning with https'),
    events: list('TYPE,...', `with add: what is told, of ${EVENTS.join(', ')} (default: all)`),
    audience: choice('AUDIENCE', AUDIENCES, {
      help: 'with add: whose view of the feed is told of (default: reader)',
    }),
    hours: whole('N', {
      help: `with rotate: for how many hours the secret before stays valid (default: ${ROTATION_HOURS.default})`,
      min: 0,
      max: ROTATION_HOURS.max,
    }),
    ...WEBHOOK_OPTIONS,
  },
  uses: 'folder',
  formats: ['text', 'csv', 'json'],
  examples: [
    'webhooks',
    'webhooks add pressure-sensors-by-year --address https://desk.example.org/hooks/feeds',
    'webhooks rotate 3f0c… --hours 48',
  ],

  async run(call): Promise<Answer> {
    const [given = 'list', of] = call.arguments;
    const action = actionIn(given);
    const { address, events, audience, hours } = call.options;
    if (action !== 'add' && (address ?? events ?? audience) !== undefined)
      throw new UsageError('--address, --events and --audience go with add');
    if (action !== 'rotate' && hours !== undefined) throw new UsageError('--hours goes with rotate');
    const webhooks = webhooksOf(call.place, call.options);
    try {
      if (action === 'list') {
        const all = await webhooks.list(of);
        return { table: () => all.map(rowOf), json: () => all };
      }
      if (of === undefined)
        throw new UsageError(`${ACTIONS[action]} is missing; write webhooks ${action} ${ACTIONS[action]}`);
      switch (action) {
        case 'add': {
          if (address === undefined)
            throw new UsageError('--address is missing; say where messages are sent');
          const { thing } = resolved((await call.archive()).state('desk'), of, ['Feed']);
          const { webhook, secret } = await webhooks.register(
            { feed: thing.id, address, events: events?.map(eventIn), audience },
            { name: call.actor(), account: 'local' },
          );
          return shown(webhook, secret, `is told of the feed ${webhook.feed} as ${audienceText(webhook)}`);
        }
        case 'rotate': {
          const { webhook, secret } = await webhooks.rotate(of, hours);
          const { oldUntil } = webhook;
          return shown(
            webhook,
            secret,
            oldUntil === null
              ? 'has this secret alone'
              : `is signed with the one before, too, until ${oldUntil}`,
          );
        }
        case 'messages': {
          await webhooks.one(of);
          const messages = await webhooks.messages(of);
          return { table: () => messages.map(messageRow), json: () => messages };
        }
        case 'test': {
          const message = await webhooks.test(of);
          return {
            json: () => message,
            messages: [`Message ${message.id} waits; a running service sends it within seconds`],
          };
        }
        case 'resume': {
          const webhook = await webhooks.resume(of);
          return { json: () => webhook, messages: [`Webhook ${webhook.id} is on`] };
        }
        case 'remove':
          await webhooks.remove(of);
          return { json: () => ({ removed: of }), messages: [`Webhook ${of} is removed`] };
      }
    } finally {
      await webhooks.close();
    }
  },
});

function actionIn(given: string): Action {
  const action = NAMES.find((one) => one === given);
  if (action) return action;
  const fix = didYouMean(given, NAMES) ?? `it must be one of ${NAMES.join(', ')}`;
  throw new UsageError(`ACTION is ${quoted(given)}; ${fix}`);
}

function eventIn(given: string): Webhook['events'][number] {
  const event = EVENTS.find((one) => one === given);
  if (event) return event;
  const fix = didYouMean(given, EVENTS) ?? `it must be one of ${EVENTS.join(', ')}`;
  throw new UsageError(`--events has ${quoted(given)}; ${fix}`);
}

function shown(webhook: Webhook, secret: string, what: string): Answer {
  return {
    text: () => `${secret}\n`,
    json: () => ({ ...webhook, secret }),
    messages: [`Webhook ${webhook.id} ${what}. The secret is shown this once`],
  };
}

const audienceText = ({ audience }: Webhook) =>
  audience === 'reader' ? 'readers see it' : 'the desk sees it';

function rowOf({ id, feed, address, events, audience, owner, created, state, note }: Webhook) {
  return {
    id,
    feed,
    address,
    events: events.join(' '),
    audience,
    'registered by': owner,
    registered: created.slice(0, 10),
    state,
    note: note ?? '',
  };
}

function messageRow({ id, type, created, state, tries, nextTry, outcome }: Message) {
  return {
    message: id,
    type,
    made: created,
    state,
    tries: String(tries),
    'next try': nextTry ?? '',
    outcome: outcome ?? '',
  };
}
