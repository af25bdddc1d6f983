/** What people may do, each role with all that the ones before it may. */
export const ROLES = ['reader', 'contributor', 'editor', 'administrator'] as const;
export type Role = (typeof ROLES)[number];

/** What each role is for, in a line. */
export const ROLE_MEANINGS: Readonly<Record<Role, string>> = {
  reader: 'reads what is published',
  contributor: 'reads everything, records what the bench sees and concludes, imports drafts',
  editor: 'publishes, corrects, withdraws what others recorded',
  administrator: 'looks after people and their tokens',
};

/** Whoever acts: the name is the actor of the journal. Nobody without a name changes anything. */
export interface Who {
  /** undefined for a visitor who has not signed in. */
  readonly name: string | undefined;
  readonly role: Role;
  /** Why whoever works on this machine has no name: the file with it cannot be read. They may ask, and change nothing. */
  readonly nameless?: string | undefined;
}

/** Whether a role has all that another one has. */
export function hasRole(role: Role, needed: Role): boolean {
  return ROLES.indexOf(role) >= ROLES.indexOf(needed);
}

/** The highest of some roles; undefined for none. */
export function highestRole(roles: readonly Role[]): Role | undefined {
  return ROLES.findLast((role) => roles.includes(role));
}
