import type { State } from '../../src/state/state.ts';

/** Every id under which a state holds something, written together from the records themselves; decisions that sentences rest on too. */
export function everyId(state: State): ReadonlySet<string> {
  const ids = new Set<string>();
  for (const list of [
    state.makers(),
    state.productLines(),
    state.devices(),
    state.sources(),
    state.patterns(),
    state.feeds(),
    state.listMappings(),
  ])
    for (const { id } of list) ids.add(id);
  for (const { maker, number } of state.parts()) ids.add(`${maker}/${number}`);
  for (const { id, claims } of state.publications()) {
    ids.add(id);
    for (const claim of claims) {
      ids.add(`${id}/${claim.id}`);
      for (const on of claim.supportedBy) if (on.includes(':') && !on.includes('/')) ids.add(on);
    }
  }
  for (const { id } of state.corrections) ids.add(id);
  for (const { id } of state.specimenRows()) {
    ids.add(id);
    ids.add(`${id}/teardown`);
    const { boards, subsystems, components, nets = [], observations, photos } = state.specimen(id)!.dossier;
    for (const list of [boards, subsystems, components, nets, observations, photos])
      for (const { id: local } of list) ids.add(`${id}/${local}`);
  }
  return ids;
}
