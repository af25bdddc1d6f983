import { decisionsByPattern } from '../decisions/decisions.ts';
import { CasebackError } from '../model/problems.ts';
import { TERMS } from '../model/taxonomy.ts';
import { findPattern } from '../patterns/find.ts';
import { CERTAIN } from '../state/labels.ts';
import { resolved } from '../state/resolve.ts';
import type { View } from '../state/view.ts';
import { didYouMean } from '../text/near.ts';
import { holdingsOf } from './holdings.ts';

/**
 * What a device may have: a named pattern (by id), a pattern as text (GQL), a component of a category (term of the
 * taxonomy), a part of a maker, a part (by ids), or the decision that a named pattern suggests (by the pattern's id).
 */
export type Subject =
  | { readonly pattern: string }
  | { readonly text: string }
  | { readonly category: string }
  | { readonly maker: string }
  | { readonly part: string }
  | { readonly decision: string };

/** How sure it is that a device has the subject. */
export interface DeviceWeight {
  /** Probability 0.95 or more. */
  readonly certain: boolean;
  /** Above 0, to 1. */
  readonly probability: number;
}

/**
 * Visible devices that may have a subject, by id; a device that is absent cannot have it, or nobody looked. Of several
 * specimens of a device the most convincing one speaks, as in `patterns/find.ts`.
 * @throws CasebackError NOT_FOUND for an id that nothing visible has, BAD_INPUT for a term that the taxonomy does not
 * hold, OUT_OF_BUDGET when a pattern could not be searched to the end
 * @throws PatternError when a text is no pattern over the archive
 */
export async function deviceWeights(
  view: View,
  subject: Subject,
  signal?: AbortSignal,
): Promise<ReadonlyMap<string, DeviceWeight>> {
  if ('pattern' in subject) {
    const { text, scope } = resolved(view, subject.pattern, ['Pattern']).thing;
    return patternWeights(view, text, scope, signal);
  }
  if ('text' in subject) return patternWeights(view, subject.text, 'device', signal);
  if ('decision' in subject) return decisionWeights(view, subject.decision, signal);
  return heldWeights(view, heldName(view, subject), signal);
}

async function patternWeights(
  view: View,
  text: string,
  scope: 'device' | 'archive',
  signal: AbortSignal | undefined,
): Promise<ReadonlyMap<string, DeviceWeight>> {
  const { devices, complete } = await findPattern(view, { text, scope, signal });
  // Counts of a search that was cut short would be too low without anybody seeing it.
  if (!complete) {
    throw new CasebackError(
      'OUT_OF_BUDGET',
      'The pattern takes more work than is allowed at once, so its devices cannot be counted; narrow it',
    );
  }
  return new Map(
    devices.map(({ deviceId, certain, probability }) => [deviceId, { certain, probability }] as const),
  );
}

/** The pattern's probability times its strength; what editors have rejected counts for nothing. */
async function decisionWeights(
  view: View,
  pattern: string,
  signal: AbortSignal | undefined,
): Promise<ReadonlyMap<string, DeviceWeight>> {
  const decisions = await decisionsByPattern(view, pattern, signal);
  return new Map(
    decisions
      .filter(({ standing, probability }) => standing !== 'rejected' && probability > 0)
      .map(({ deviceId, probability }) => [deviceId, { certain: probability >= CERTAIN, probability }]),
  );
}

/** The name under which {@link Holdings} know a category, maker or part that is there to be asked for. */
function heldName(
  view: View,
  subject: Extract<Subject, { category: string } | { maker: string } | { part: string }>,
): string {
  if ('category' in subject) return knownCategory(subject.category);
  if ('maker' in subject) return resolved(view, subject.maker, ['Maker']).id;
  return resolved(view, subject.part, ['Part']).id;
}

/** @throws CasebackError BAD_INPUT with near terms when the taxonomy does not hold it */
export function knownCategory(term: string): string {
  if (TERMS.includes(term)) return term;
  const mend = didYouMean(term, TERMS);
  throw new CasebackError(
    'BAD_INPUT',
    `"${term}" is no term of the component taxonomy${mend ? `; ${mend}` : ''}`,
  );
}

async function heldWeights(
  view: View,
  name: string,
  signal: AbortSignal | undefined,
): Promise<ReadonlyMap<string, DeviceWeight>> {
  const holdings = await holdingsOf(view, signal);
  const number = holdings.find(name);
  const weights = new Map<string, DeviceWeight>();
  if (number === undefined) return weights;
  for (const row of view.specimenRows()) {
    const { deviceId } = row;
    const { atLeastOne: probability } = holdings.of(row, number);
    if (probability === 0 || probability <= (weights.get(deviceId)?.probability ?? 0)) continue;
    weights.set(deviceId, { certain: probability >= CERTAIN, probability });
  }
  return weights;
}
