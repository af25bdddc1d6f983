import { CasebackError } from '../model/problems.ts';
import { resolved } from '../state/resolve.ts';
import type { State } from '../state/state.ts';

/** What goes with something that is recalled. @throws CasebackError NOT_FOUND, CONFLICT */
export function recalledWith(state: State, id: string): readonly string[] {
  if (state.facts.recalls.get(id)?.isFiledAnew === false)
    throw new CasebackError('CONFLICT', `"${id}" was recalled already, and nothing of it was filed since`);
  if (state.corrections.some((one) => one.id === id)) return [id];
  const found = resolved(state, id, [
    'Device',
    'Specimen',
    'Publication',
    'Part',
    'Maker',
    'ProductLine',
    'Source',
    'Pattern',
    'Feed',
    'ListMapping',
  ]);
  if (found.kind !== 'Device') return [found.id];
  return [found.id, ...state.specimensOf(found.id).map((row) => row.id)];
}
