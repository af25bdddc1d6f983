// Sentences, their support and the impact of changes. The code is loaded on first use.

import type { AuditedClaim } from '../evidence/audit.ts';
import type { CheckingSheet } from '../evidence/checking-sheet.ts';
import type { Impact } from '../evidence/impact-of.ts';
import type { Correction } from '../model/correction.ts';
import { resolved } from '../state/resolve.ts';
import type { View } from '../state/view.ts';

/**
 * Sentences of a publication, or of all visible publications, compared with their evidence.
 * @throws CasebackError NOT_FOUND
 */
export async function auditOf(
  view: View,
  publication: string | undefined,
  signal?: AbortSignal,
): Promise<readonly AuditedClaim[]> {
  const { auditClaims } = await import('../evidence/audit.ts');
  return auditClaims(view, publication, signal);
}

/** A sentence compared with its evidence. @throws CasebackError NOT_FOUND */
export async function auditOfClaim(view: View, id: string, signal?: AbortSignal): Promise<AuditedClaim> {
  const { auditClaim } = await import('../evidence/audit.ts');
  const { publication, thing } = resolved(view, id, ['Claim']);
  return auditClaim(view, publication, thing, signal);
}

/** Everything that a thing supports. @throws CasebackError NOT_FOUND */
export async function impactOfThing(view: View, id: string, signal?: AbortSignal): Promise<Impact> {
  const { impactOf } = await import('../evidence/impact-of.ts');
  return impactOf(view, id, signal);
}

/** Visible corrections, first to last. */
export async function correctionsMade(view: View): Promise<readonly Correction[]> {
  const { correctionsIn } = await import('../evidence/corrections.ts');
  return correctionsIn(view);
}

/** A publication for checking on paper. @throws CasebackError NOT_FOUND */
export async function sheetOf(view: View, publication: string): Promise<CheckingSheet> {
  const { checkingSheet } = await import('../evidence/checking-sheet.ts');
  return checkingSheet(view, publication);
}
