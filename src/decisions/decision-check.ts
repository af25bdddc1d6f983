import type { Quantity } from '../model/quantity.ts';
import type { State } from '../state/state.ts';
import { type BoundCheck, boundCheck } from './check-inputs.ts';
import type { Decision } from './decisions.ts';

/**
 * The check of a decision's pattern with the figures of its most certain match; undefined when the pattern names none.
 * @param given inputs by hand, in addition to what the archive knows
 */
export function checkOfDecision(
  state: State,
  { patternId, deviceId, matches: [match] }: Decision,
  given?: Readonly<Record<string, Quantity>>,
): BoundCheck | undefined {
  const pattern = state.pattern(patternId);
  const device = state.device(deviceId);
  const specimen = match && state.specimen(match.specimenId);
  if (!pattern || !device || !specimen) return undefined;
  return boundCheck(pattern, match, specimen, device, (id) => state.part(id), given);
}
