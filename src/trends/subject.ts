import { decisionsByPattern } from '../decisions/decisions.ts';
import { CasebackError } from '../model/problems.ts';
import { findPattern } from '../patterns/find.ts';
import { type PresenceSubject, subjectName } from '../presence/asked.ts';
import { type ArchivePresence, presenceOf, readTogether, type Verdict } from '../presence/presence.ts';
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
  const { devices, unlikely, complete } = await findPattern(state, { text, scope, signal });
  // Counts of a search that was cut short would be too low, and nothing would show it.
  if (!complete) {
    throw new CasebackError(
      'OUT_OF_BUDGET',
      'The pattern takes more work than is allowed, so its devices cannot be counted; narrow it',
    );
  }
  const found = new Map(unlikely);
  for (const { deviceId, probability } of devices) found.set(deviceId, probability);
  return withAbsent(await presenceOf(state, signal), state, found);
}

/** The pattern's probability times its strength; decisions that editors rejected do not count. */
async function decisionWeights(
  state: State,
  pattern: string,
  signal: AbortSignal | undefined,
): Promise<ReadonlyMap<string, DeviceWeight>> {
  readTogether(state);
  const decisions = await decisionsByPattern(state, pattern, signal);
  const found = new Map(
    decisions.map(({ deviceId, standing, probability }) => [
      deviceId,
      standing === 'rejected' ? 0 : probability,
    ]),
  );
  return withAbsent(await presenceOf(state, signal), state, found);
}

const NONE: DeviceWeight = { verdict: 'ABSENT', certain: false, probability: 0 };

/** What is not found in a device is absent where all boards of a specimen are recorded as fully inventoried. */
function withAbsent(
  presence: ArchivePresence,
  state: State,
  found: ReadonlyMap<string, number>,
): ReadonlyMap<string, DeviceWeight> {
  const weights = new Map<string, DeviceWeight>();
  for (const { id } of state.devices()) {
    const probability = found.get(id) ?? 0;
    if (probability >= POSSIBLE) {
      const certain = probability >= CERTAIN;
      weights.set(id, { verdict: certain ? 'CERTAIN' : 'POSSIBLE', certain, probability });
    } else if (presence.inventoried.has(id)) {
      weights.set(id, probability === 0 ? NONE : { verdict: 'ABSENT', certain: false, probability });
    }
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
