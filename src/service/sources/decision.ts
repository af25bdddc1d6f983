import { type Decision, decisionById } from '../../decisions/decisions.ts';
import { parseDecisionId } from '../../model/ids.ts';
import type { View } from '../../state/view.ts';

/** A decision as resolvers see it; what the pattern found is worked out when somebody asks for it. */
export interface DecisionSource {
  readonly __typename: 'Decision';
  readonly id: string;
  readonly view: View;
  /** The decision, where it is known already. */
  readonly known?: Decision;
}

export const decisionSource = (view: View, decision: Decision): DecisionSource => ({
  __typename: 'Decision',
  id: decision.id,
  view,
  known: decision,
});

/** The source of a decision that a visible pattern may suggest of a visible device; null for any other id. */
export function possibleDecision(view: View, id: string): DecisionSource | null {
  const read = parseDecisionId(id);
  if (!read || !view.device(read.device) || !view.pattern(read.pattern)) return null;
  return { __typename: 'Decision', id, view };
}

/** Null where the pattern does not fit the device after all; anything that is no decision passes. */
export async function ifItStands<S>(source: S): Promise<S | null> {
  const { __typename, id, view, known } = (source ?? {}) as Partial<DecisionSource>;
  if (__typename !== 'Decision' || known || !view || id === undefined) return source;
  const decision = await decisionById(view, id);
  return decision ? (decisionSource(view, decision) as S) : null;
}
