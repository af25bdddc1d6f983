import { FactsDraft, NO_FACTS } from './facts.ts';
import { putRecord } from './fold.ts';
import { SharedCaches } from './shared-caches.ts';
import { State } from './state.ts';

/**
 * Part of a state: only the given devices and the catalogue records that belong to them, for work on a few devices that
 * must not grow with the archive. It has its own indexes.
 */
export function excerptOf(state: State, devices: Iterable<string>): State {
  const { facts, audience, now, edition, unnamed } = state;
  const draft = new FactsDraft({ ...NO_FACTS, judgements: facts.judgements }, state.shared.names);
  draft.sequence = facts.sequence;
  draft.instant = facts.instant;
  for (const pattern of state.patterns()) putRecord(draft, 'patterns', pattern.id, pattern);
  for (const id of devices) addDevice(draft, state, id);
  const shared = new SharedCaches(state.shared.names, { origin: state.shared });
  return new State(draft.seal(), shared, { audience, now, edition, unnamed });
}

function addDevice(draft: FactsDraft, state: State, id: string): void {
  const row = state.facts.devices.get(id);
  if (!row) return;
  draft.devices.set(id, row);
  const record = state.deviceRecord(id);
  if (record) putRecord(draft, 'devices', id, record);
  addMaker(draft, state, row.device.maker);
  const line = row.device.productLine === undefined ? undefined : state.productLine(row.device.productLine);
  if (line) {
    putRecord(draft, 'productLines', line.id, line);
    addMaker(draft, state, line.maker);
  }
  for (const specimen of state.specimensOf(id)) {
    draft.putSpecimen(specimen);
    for (const number of specimen.parts) addPart(draft, state, state.shared.names.textOf(number));
  }
}

/** The part, what it relabels, and the makers of both. */
function addPart(draft: FactsDraft, state: State, id: string): void {
  for (let at: string | undefined = id; at !== undefined && !draft.records.parts.has(at); ) {
    const part = state.part(at);
    if (!part) return;
    putRecord(draft, 'parts', at, part);
    addMaker(draft, state, part.maker);
    at = part.relabels;
  }
}

function addMaker(draft: FactsDraft, state: State, id: string): void {
  const maker = state.maker(id);
  if (maker) putRecord(draft, 'makers', id, maker);
}
