import { HAS_COMPONENTS, nextObservationsOf, type PlacedObservation } from '../identification/questions.ts';
import { parseDecisionId } from '../model/ids.ts';
import { notFound, resolve } from '../state/resolve.ts';
import type { State } from '../state/state.ts';
import { decisionEvidence } from './decision.ts';
import { decisionById } from './decisions.ts';

/**
 * What could still be looked at, by bits a minute, for a component, specimen, device, decision or claim. Under a decision
 * stand the components that its pattern binds, and under a claim those it names and those of the decisions it names.
 * @throws CasebackError NOT_FOUND when the state holds nothing of that id with components under it
 */
export async function nextObservationsUnder(
  state: State,
  id: string,
  signal?: AbortSignal,
): Promise<readonly PlacedObservation[]> {
  const found = resolve(state, id);
  if (!found) throw notFound(state, id, HAS_COMPONENTS);
  const named = found.kind === 'Claim' ? [id, ...found.thing.supportedBy.filter(parseDecisionId)] : [id];
  const under: string[] = [];
  for (const one of named)
    under.push(...(parseDecisionId(one) ? await thingsUnder(state, one, signal) : [one]));
  return nextObservationsOf(state, id, signal, under);
}

async function thingsUnder(
  state: State,
  id: string,
  signal: AbortSignal | undefined,
): Promise<readonly string[]> {
  const decision = await decisionById(state, id, signal);
  return decision ? decisionEvidence(decision.matches, (specimen) => state.specimen(specimen)).things : [];
}
