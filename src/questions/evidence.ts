// Sentences, their support and the impact of changes. The code is loaded on first use.

import type { AuditedClaim } from '../evidence/audit.ts';
import type { CheckingSheet } from '../evidence/checking-sheet.ts';
import type { Impact } from '../evidence/impact-of.ts';
import type { ShownPhoto } from '../evidence/photos-showing.ts';
import type { Correction } from '../model/correction.ts';
import { resolved } from '../state/resolve.ts';
import type { State } from '../state/state.ts';

/**
 * Sentences of a publication, or of all visible publications, compared with their evidence.
 * @throws CasebackError NOT_FOUND
 */
export async function auditOf(
  state: State,
  publication: string | undefined,
  signal?: AbortSignal,
): Promise<readonly AuditedClaim[]> {
  const { auditClaims } = await import('../evidence/audit.ts');
  return auditClaims(state, publication, signal);
}

/** A sentence compared with its evidence. @throws CasebackError NOT_FOUND */
export async function auditOfClaim(state: State, id: string, signal?: AbortSignal): Promise<AuditedClaim> {
  const { auditClaim } = await import('../evidence/audit.ts');
  const { publication, thing } = resolved(state, id, ['Claim']);
  return auditClaim(state, publication, thing, signal);
}

/** Everything that a thing supports. @throws CasebackError NOT_FOUND */
export async function impactOfThing(state: State, id: string, signal?: AbortSignal): Promise<Impact> {
  const { impactOf } = await import('../evidence/impact-of.ts');
  return impactOf(state, id, signal);
}

/** Visible corrections, first to last. */
export async function correctionsMade(state: State): Promise<readonly Correction[]> {
  const { correctionsIn } = await import('../evidence/corrections.ts');
  return correctionsIn(state);
}

/** A publication for checking on paper. @throws CasebackError NOT_FOUND */
export async function sheetOf(
  state: State,
  publication: string,
  signal?: AbortSignal,
): Promise<CheckingSheet> {
  const { checkingSheet } = await import('../evidence/checking-sheet.ts');
  return checkingSheet(state, publication, signal);
}

/** Photos that show what supports a sentence, by its id. @throws CasebackError NOT_FOUND; the signal's reason */
export async function photosOfClaimById(
  state: State,
  id: string,
  signal?: AbortSignal,
): Promise<readonly ShownPhoto[]> {
  const { photosOfClaim } = await import('../evidence/checking-sheet.ts');
  return photosOfClaim(state, resolved(state, id, ['Claim']).thing, signal);
}
