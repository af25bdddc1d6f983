import { decisionsByPattern } from '../decisions/decisions.ts';
import { CasebackError } from '../model/problems.ts';
import { patternVerdicts } from '../patterns/verdict.ts';
import { type PresenceSubject, subjectName } from '../presence/asked.ts';
import { notInventoried } from '../presence/looked-at.ts';
import { presenceOf, presenceRow, readTogether, type Verdict } from '../presence/presence.ts';
import { CERTAIN, POSSIBLE } from '../state/labels.ts';
import { resolved } from '../state/resolve.ts';
import type { State } from '../state/state.ts';

/**
 * What a device may have: a named pattern (by id), a pattern as text (GQL), a component of a category (term of the
 * taxonomy), a part of a maker, a part (by ids), or the decision that a named pattern suggests (by the pattern's id).
 */
export type Subject =
  | { readonly pattern: string }
  | { readonly text: string }
  | PresenceSubject
  | { readonly decision: string };

/** How sure it is that a device has the subject. */
export interface DeviceWeight {
  readonly verdict: Exclude<Verdict, 'NOT_OBSERVED'>;
  /** Probability 0.95 or more. */
  readonly certain: boolean;
  /** 0 to 1; below 0.05 for a device where it is absent. */
  readonly probability: number;
}

/** Whether a device certainly or possibly has a subject; false where it is absent. */
export function mayHave(weight: DeviceWeight | undefined): boolean {
  return weight !== undefined && weight.verdict !== 'ABSENT';
}

/**
 * Visible devices where a subject is certain, possible or absent, by id; in a device that is missing here it was not
 * observed. Of several specimens of a device the maximum counts, as everywhere (`presence/`).
 * @throws CasebackError NOT_FOUND for an unknown id, BAD_INPUT for an unknown term, OUT_OF_BUDGET when the search of a
 * pattern was cut short
 * @throws PatternError when a text is not a valid pattern
 */
export async function deviceWeights(
  state: State,
  subject: Subject,
  signal?: AbortSignal,
): Promise<ReadonlyMap<string, DeviceWeight>> {
  if ('pattern' in subject) {
    const { text, scope } = resolved(state, subject.pattern, ['Pattern']).thing;
    return patternWeights(state, text, scope, signal);
  }
  if ('text' in subject) return patternWeights(state, subject.text, 'device', signal);
  if ('decision' in subject) return decisionWeights(state, subject.decision, signal);
  return presenceWeights(state, subjectName(state, subject), signal);
}

async function patternWeights(
  state: State,
  text: string,
  scope: 'device' | 'archive',
  signal: AbortSignal | undefined,
): Promise<ReadonlyMap<string, DeviceWeight>> {
  readTogether(state);
  // Reads all dossiers in turns with other work; the verdicts look at one after the other.
  await presenceOf(state, signal);
  const { verdicts, complete, note } = await patternVerdicts(state, { text, scope, signal });
  // Counts of a search that was cut short would be too low, and nothing would show it.
  if (!complete) {
    throw new CasebackError(
      'OUT_OF_BUDGET',
      `The pattern takes more work than is allowed, so its devices cannot be counted; narrow it. ${note ?? ''}`.trim(),
    );
  }
  const weights = new Map<string, DeviceWeight>();
  for (const [id, { verdict, probability }] of verdicts) {
    if (verdict !== 'NOT_OBSERVED') weights.set(id, { verdict, certain: verdict === 'CERTAIN', probability });
  }
  return weights;
}

/**
 * The pattern's probability times its strength. A decision that editors rejected does not count: in an inventoried device it is absent.
 */
async function decisionWeights(
  state: State,
  pattern: string,
  signal: AbortSignal | undefined,
): Promise<ReadonlyMap<string, DeviceWeight>> {
  const { text, scope } = resolved(state, pattern, ['Pattern']).thing;
  const weights = new Map<string, DeviceWeight>();
  for (const [id, { verdict, probability }] of await patternWeights(state, text, scope, signal))
    if (verdict === 'ABSENT') weights.set(id, { verdict, certain: false, probability });
  for (const decision of await decisionsByPattern(state, pattern, signal)) {
    const probability = decision.standing === 'rejected' ? 0 : decision.probability;
    const { deviceId } = decision;
    if (probability >= CERTAIN) weights.set(deviceId, { verdict: 'CERTAIN', certain: true, probability });
    else if (probability >= POSSIBLE)
      weights.set(deviceId, { verdict: 'POSSIBLE', certain: false, probability });
    else if (state.specimensOf(deviceId).some((row) => !notInventoried(presenceRow(state, row))))
      weights.set(deviceId, { verdict: 'ABSENT', certain: false, probability });
  }
  return weights;
}

async function presenceWeights(
  state: State,
  name: string,
  signal: AbortSignal | undefined,
): Promise<ReadonlyMap<string, DeviceWeight>> {
  const presence = await presenceOf(state, signal);
  const weights = new Map<string, DeviceWeight>();
  for (const [id, { verdict, probability }] of presence.of(name)) {
    if (verdict !== 'NOT_OBSERVED') weights.set(id, { verdict, certain: verdict === 'CERTAIN', probability });
  }
  return weights;
}
