import { localAccount, localAccountFile, setLocalAccount } from '../../access/local-account.ts';
import { ROLE_MEANINGS, ROLES } from '../../access/roles.ts';
import type { Person } from '../../access/store.ts';
import { didYouMean } from '../../text/near.ts';
import { accountsOf } from '../frame/accounts.ts';
import type { Answer } from '../frame/answer.ts';
import { defineCommand } from '../frame/command.ts';
import { written } from '../frame/data-folder.ts';
import { quoted, UsageError } from '../frame/exit.ts';
import { choice, flag, text } from '../frame/options.ts';

const ACTIONS = ['list', 'add', 'change', 'disable', 'enable', 'remove', 'sign-out', 'local'] as const;
type Action = (typeof ACTIONS)[number];

export const command = defineCommand({
  name: 'people',
  about: `Lists people who sign in to a service of this archive, and looks after their accounts, which are kept apart from the journal. The name is what the journal has as actor and never changes. What is done here takes effect at once, also in a running service.
  list                  everybody, with role and state; the same as nothing
  add NAME --role ROLE  a further person
  change NAME           another role or display name
  disable NAME          nobody signs in by this name; sessions end, tokens are kept
  enable NAME           and back
  remove NAME           takes everything of a person away but the name, which the journal goes on to have
  sign-out NAME         ends the sessions of a person in every browser
  local [NAME]          the name under which changes made on this machine are journaled; set once
Roles, each with all of the ones before it:
${ROLES.map((role) => `  ${role.padEnd(22)}${ROLE_MEANINGS[role]}`).join('\n')}`,
  arguments: [
    { name: 'ACTION', optional: true },
    { name: 'NAME', optional: true },
  ],
  options: {
    role: choice('ROLE', ROLES, { help: 'what the person may do' }),
    displayName: text('TEXT', 'a name to show beside'),
    returning: flag('with add: the person who had this name and was removed comes back'),
  },
  uses: 'folder',
  formats: ['text', 'csv', 'json'],
  examples: [
    'people',
    'people add "A. Example" --role editor',
    'people change "A. Example" --role contributor',
    'people local "I. Bench"',
  ],

  async run(call): Promise<Answer> {
    const [written_ = 'list', name] = call.arguments;
    const action = actionIn(written_);
    const { role, displayName, returning } = call.options;
    if (returning && action !== 'add') throw new UsageError('--returning goes with add');
    if ((role ?? displayName) !== undefined && action !== 'add' && action !== 'change')
      throw new UsageError(`--${role ? 'role' : 'display-name'} goes with add and change`);
    if (action === 'local') return local(call.place.isNamed ? call.place.folder : call.ownFolder, name);
    const accounts = accountsOf(call.place);
    try {
      if (action === 'list') {
        const people = await accounts.people();
        return { table: () => people.map(rowOf), json: () => people };
      }
      if (name === undefined) throw new UsageError(`NAME is missing; write people ${action} NAME`);
      switch (action) {
        case 'add': {
          if (role === undefined) throw new UsageError(`--role is missing; give one of ${ROLES.join(', ')}`);
          const person = await accounts.add(name, {
            role,
            displayName: displayName ?? null,
            isReturning: returning,
          });
          return told(
            person,
            `added with the role ${person.role}; "caseback tokens make" makes a token to sign in with`,
          );
        }
        case 'change': {
          if (role === undefined && displayName === undefined)
            throw new UsageError('say what to change: --role or --display-name');
          const person = await accounts.change(name, { role, displayName });
          return told(person, `now has the role ${person.role}`);
        }
        case 'disable':
          return told(await accounts.disable(name), 'is disabled and signed out everywhere');
        case 'enable':
          return told(await accounts.enable(name), 'is enabled');
        case 'sign-out': {
          const count = await accounts.signOutEverywhere(name);
          return told(await accounts.person(name), `is signed out; sessions ended: ${count}`);
        }
        case 'remove': {
          const { name: kept } = await accounts.person(name);
          await accounts.remove(name);
          return told(
            await accounts.person(name),
            `removed, with tokens and sessions; what "${kept}" wrote in the journal stays under that name`,
          );
        }
      }
    } finally {
      await accounts.close();
    }
  },
});

function actionIn(given: string): Action {
  const action = ACTIONS.find((one) => one === given);
  if (action) return action;
  const fix = didYouMean(given, ACTIONS) ?? `it must be one of ${ACTIONS.join(', ')}`;
  throw new UsageError(`ACTION is ${quoted(given)}; ${fix}`);
}

/** Shows or sets the account of this machine. */
function local(folder: string, name: string | undefined): Answer {
  const account = name === undefined ? localAccount(folder) : setLocalAccount(folder, name, new Date());
  return {
    json: () => account ?? null,
    text: () =>
      account
        ? `${account.name}, since ${account.set} (${written(localAccountFile(folder))})\n`
        : 'not set: changes made here are journaled under the login name; "caseback people local NAME" sets another\n',
  };
}

function told(person: Person, what: string): Answer {
  return { json: () => person, messages: [`${person.name} ${what}`] };
}

function rowOf({ name, displayName, role, state, added, subject }: Person) {
  return {
    name,
    'display name': displayName ?? '',
    role,
    state,
    added: added.slice(0, 10),
    'single sign-on': subject === null ? '' : 'yes',
  };
}
