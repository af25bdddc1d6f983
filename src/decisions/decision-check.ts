import type { Quantity } from '../model/quantity.ts';
import type { View } from '../state/view.ts';
import { type BoundCheck, boundCheck } from './check-inputs.ts';
import type { Decision } from './decisions.ts';

/**
 * The check of a decision's pattern with the figures of its most certain match; undefined when the pattern names none.
 * @param given inputs by hand, in addition to what the archive knows
 */
export function checkOfDecision(
  view: View,
  { patternId, deviceId, matches: [match] }: Decision,
  given?: Readonly<Record<string, Quantity>>,
): BoundCheck | undefined {
  const pattern = view.pattern(patternId);
  const device = view.device(deviceId);
  const specimen = match && view.specimen(match.specimenId);
  if (!pattern || !device || !specimen) return undefined;
  return boundCheck(pattern, match, specimen, device, (id) => view.part(id), given);
}
