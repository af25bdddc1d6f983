import type { Accounts } from '../../../access/accounts.ts';
import { nameKey } from '../../../access/names.ts';
import type { Person, Token } from '../../../access/store.ts';
import { CasebackError } from '../../../model/problems.ts';
import type { Context } from '../context.ts';
import { sortedListing } from '../listing.ts';
import { paginate } from '../paginate.ts';
import { mustHave } from '../permissions.ts';
import type { Resolvers } from '../resolver-types.ts';
import { enumName } from '../words.ts';

/** A person with the tokens that are theirs, as the schema has them: nothing of who they are elsewhere. */
function personSource({ name, displayName, role, state, added }: Person, tokens: readonly Token[]) {
  return {
    name,
    displayName,
    role: enumName(role),
    state: enumName(state),
    added,
    tokens: tokens
      .filter(({ person }) => person === name)
      .map(({ id, label, created, expires, lastUsed }) => ({ id, label, created, expires, lastUsed })),
  };
}

/** @throws CasebackError NOT_FOUND where nobody has an account */
function accountsIn({ accounts }: Context): Accounts {
  if (accounts) return accounts;
  throw new CasebackError('NOT_FOUND', 'nobody has an account at this service');
}

/** Whoever asks, and for administrators everybody who may. */
export const people: Resolvers = {
  Query: {
    me: (_root, _args, { who }) => ({
      name: who.name ?? null,
      displayName: who.displayName,
      role: enumName(who.role),
      expires: who.expires ?? null,
      isLocal: who.by === 'local',
    }),
    people: async (_root, page, { who, accounts }) => {
      mustHave('administrator', 'people', who);
      const everybody = (await accounts?.people()) ?? [];
      const tokens = (await accounts?.tokens()) ?? [];
      const keyed = everybody
        .map((person) => ({ key: nameKey(person.name), person }))
        .sort((a, b) => (a.key < b.key ? -1 : 1));
      return paginate(
        sortedListing('people', keyed, ({ key }) => [key]),
        page,
        ({ person }) => personSource(person, tokens),
      );
    },
  },
  Mutation: {
    disablePerson: async (_root, { input: { name } }, context) => {
      const accounts = accountsIn(context);
      const person = await accounts.disable(name);
      return { person: personSource(person, await accounts.tokens(person.name)) };
    },
    revokeToken: async (_root, { input: { id } }, context) => {
      await accountsIn(context).revoke(id);
      return { id };
    },
  },
};
