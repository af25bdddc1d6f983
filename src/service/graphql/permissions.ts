import { hasRole, type Role, type Who } from '../../access/roles.ts';
import { CasebackError } from '../../model/problems.ts';
import type { Context } from './context.ts';
import type * as Api from './resolver-types.ts';

/**
 * The role that each mutation takes. What the bench does is a contributor's; what changes what readers are shown as published,
 * an editor's. Two are finer than the table: of an import a contributor brings in drafts alone (`dossier/publishing.ts`), and of
 * observations a contributor withdraws their own.
 */
export const MUTATION_ROLES: Readonly<Record<keyof Api.MutationResolvers, Role>> = {
  importDossier: 'contributor',
  importTradeFiles: 'contributor',
  recordObservation: 'contributor',
  withdrawObservation: 'contributor',
  setIdentification: 'contributor',
  judgeIdentification: 'contributor',
  judgeDecision: 'contributor',
  addPhoto: 'contributor',
  changePhoto: 'contributor',
  recordMeasurement: 'contributor',
  savePattern: 'editor',
  saveFeed: 'editor',
  saveListMapping: 'editor',
  registerWebhook: 'editor',
  rotateWebhookSecret: 'editor',
  resumeWebhook: 'editor',
  testWebhook: 'editor',
  removeWebhook: 'editor',
  correct: 'editor',
  recall: 'editor',
  correctClock: 'administrator',
  disablePerson: 'administrator',
  revokeToken: 'administrator',
};

/** Whether an asker may publish, and withdraw what others recorded. */
export function isEditor({ who }: Pick<Context, 'who'>): boolean {
  return hasRole(who.role, 'editor');
}

/** @throws CasebackError NOT_ALLOWED when the asker's role is not enough for a mutation */
export function allow(mutation: string, { who }: Pick<Context, 'who'>): void {
  mustHave(MUTATION_ROLES[mutation as keyof Api.MutationResolvers], mutation, who);
}

/**
 * Refuses whoever's role is not enough for a field, in the same words whatever the field is asked of.
 * @throws CasebackError NOT_ALLOWED
 */
export function mustHave(needed: Role, field: string, who: Who): void {
  if (hasRole(who.role, needed)) return;
  throw new CasebackError(
    'NOT_ALLOWED',
    `${field} takes the role ${needed}, and yours is ${who.role}; ask an administrator`,
  );
}
