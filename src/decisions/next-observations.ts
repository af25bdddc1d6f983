import { HAS_COMPONENTS, nextObservationsOf, type PlacedObservation } from '../identification/questions.ts';
import { parseDecisionId } from '../model/ids.ts';
import { notFound, resolve } from '../state/resolve.ts';
import type { View } from '../state/view.ts';
import { decisionEvidence } from './decision.ts';
import { decisionById } from './decisions.ts';

/**
 * What could still be looked at, by bits a minute, for a component, specimen, device, decision or claim. Under a decision
 * stand the components that its pattern binds, and under a claim those it names and those of the decisions it names.
 * @throws CasebackError NOT_FOUND when the view holds nothing of that id with components under it
 */
export async function nextObservationsUnder(
  view: View,
  id: string,
  signal?: AbortSignal,
): Promise<readonly PlacedObservation[]> {
  const found = resolve(view, id);
  if (!found) throw notFound(view, id, HAS_COMPONENTS);
  const named = found.kind === 'Claim' ? [id, ...found.thing.supportedBy.filter(parseDecisionId)] : [id];
  const under: string[] = [];
  for (const one of named)
    under.push(...(parseDecisionId(one) ? await thingsUnder(view, one, signal) : [one]));
  return nextObservationsOf(view, id, signal, under);
}

async function thingsUnder(
  view: View,
  id: string,
  signal: AbortSignal | undefined,
): Promise<readonly string[]> {
  const decision = await decisionById(view, id, signal);
  return decision ? decisionEvidence(decision.matches, (specimen) => view.specimen(specimen)).things : [];
}
