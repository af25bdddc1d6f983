import { TOKEN_DAYS } from '../../access/accounts.ts';
import type { Token } from '../../access/store.ts';
import { didYouMean } from '../../text/near.ts';
import { accountsOf } from '../frame/accounts.ts';
import type { Answer } from '../frame/answer.ts';
import { defineCommand } from '../frame/command.ts';
import { quoted, UsageError } from '../frame/exit.ts';
import { text, whole } from '../frame/options.ts';

const ACTIONS = ['list', 'make', 'revoke'] as const;

export const command = defineCommand({
  name: 'tokens',
  about: `Lists, makes and revokes the tokens that people sign in with, in a browser or, for programs, in Authorization: Bearer. A token is shown once, when it is made; only its digest (SHA-256) is kept.
  list [NAME]  tokens of a person, or all; the same as nothing
  make NAME    a new token
  revoke ID    ends a token and the sessions begun with it, at once`,
  arguments: [
    { name: 'ACTION', optional: true },
    { name: 'NAME', optional: true },
  ],
  options: {
    label: text('TEXT', 'what the token is for, such as "laptop"'),
    days: whole('N', {
      help: `for how many days it is valid (default: ${TOKEN_DAYS.default})`,
      min: 1,
      max: TOKEN_DAYS.max,
    }),
  },
  uses: 'folder',
  formats: ['text', 'csv', 'json'],
  examples: ['tokens', 'tokens make "A. Example" --label laptop --days 30', 'tokens revoke 3f0c…'],

  async run(call): Promise<Answer> {
    const [given = 'list', of] = call.arguments;
    const action = ACTIONS.find((one) => one === given);
    if (!action) {
      const fix = didYouMean(given, ACTIONS) ?? `it must be one of ${ACTIONS.join(', ')}`;
      throw new UsageError(`ACTION is ${quoted(given)}; ${fix}`);
    }
    const { label, days } = call.options;
    if (action !== 'make' && (label ?? days) !== undefined)
      throw new UsageError(`--${label === undefined ? 'days' : 'label'} goes with make`);
    const accounts = accountsOf(call.place);
    try {
      if (action === 'list') {
        const tokens = await accounts.tokens(of);
        const now = new Date().toISOString();
        return { table: () => tokens.map((one) => rowOf(one, now)), json: () => tokens };
      }
      if (of === undefined)
        throw new UsageError(
          `${action === 'make' ? 'NAME' : 'ID'} is missing; write tokens ${action} ${action === 'make' ? 'NAME' : 'ID'}`,
        );
      if (action === 'revoke') {
        await accounts.revoke(of);
        return { json: () => ({ revoked: of }), messages: [`Token ${of} is revoked`] };
      }
      const { secret, token } = await accounts.makeToken(of, { label, ...(days ? { days } : {}) });
      return {
        text: () => `${secret}\n`,
        json: () => ({ ...token, secret }),
        messages: [
          `Token ${token.id} of ${token.person}, valid until ${token.expires}. It is shown this once; whoever has it is ${token.person}`,
        ],
      };
    } finally {
      await accounts.close();
    }
  },
});

function rowOf({ id, person, label, created, expires, lastUsed }: Token, now: string) {
  return {
    id,
    person,
    label: label ?? '',
    made: created.slice(0, 10),
    expires: `${expires.slice(0, 10)}${expires <= now ? ' (expired)' : ''}`,
    'last used': lastUsed ?? 'never',
  };
}
