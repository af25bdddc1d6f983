import {
  type CatalogueRecord,
  type Collection,
  type DeviceRecord,
  described,
  recordId,
} from '../model/catalogue.ts';
import { type Dossier, deviceIdOf, specimenIdOf } from '../model/dossier.ts';
import type { Entry } from '../model/entry.ts';
import { decisionId } from '../model/ids.ts';
import { packDossier, unpackDossier } from './compact.ts';
import { buildColumns } from './component-columns.ts';
import { putDevice, putRecord, putSpecimen } from './knowledge.ts';
import { currentIdentifications } from './labels.ts';
import { mergeAdditions } from './merge.ts';
import { type Additions, type DeviceRow, NO_ADDITIONS, type SpecimenRow, type State } from './state.ts';

/** What one entry touched; indexes, caches and subscribers follow this report. */
export interface Touched {
  readonly sequence: number;
  /** Ids of catalogue records put, by collection. */
  readonly records: readonly { readonly collection: Collection; readonly id: string }[];
  /** Specimens whose content or reading changed, each with its dossier as it stands now. */
  readonly specimens: readonly TouchedSpecimen[];
  /** Decisions on which an editor spoke, by id. */
  readonly decisions?: readonly string[];
}

export interface TouchedSpecimen {
  readonly id: string;
  readonly dossier: Dossier;
}

/**
 * Applies one entry to the state. A function of state and entry alone (no clock, no input or output), so the
 * same journal always gives the same state; work is in proportion to what the entry names.
 * @throws Error when the entry does not follow the last one folded in or names what was never recorded
 */
export function applyEntry(state: State, entry: Entry): Touched {
  if (entry.sequence !== state.sequence + 1) {
    throw new Error(`journal entry ${entry.sequence} does not follow ${state.sequence}`);
  }
  state.sequence = entry.sequence;
  state.instant = entry.instant;
  switch (entry.kind) {
    case 'record-put':
      return applyRecord(state, entry.payload.collection, entry.payload.record);
    case 'dossier-put':
      return applyDossier(state, entry.payload);
    case 'observation-recorded': {
      const { specimen, observation } = entry.payload;
      return applyAddition(state, specimen, { observations: [observation] });
    }
    case 'identification-set': {
      const { specimen, identification } = entry.payload;
      return applyAddition(state, specimen, { identifications: [identification] });
    }
    case 'identification-judged': {
      const { specimen, judgement } = entry.payload;
      return applyAddition(state, specimen, { judgements: [judgement] });
    }
    case 'observation-withdrawn': {
      const { specimen, observation } = entry.payload;
      const withdrawn = { by: entry.actor, on: entry.instant, reason: entry.reason };
      return applyAddition(state, specimen, { withdrawals: [{ observation, withdrawn }] });
    }
    case 'decision-judged': {
      const { device, pattern, verdict, evidence } = entry.payload;
      const id = decisionId(device, pattern);
      const judgement = { verdict, evidence, by: entry.actor, reason: entry.reason, on: entry.instant };
      state.decisions.set(id, [...(state.decisions.get(id) ?? []), judgement]);
      return { sequence: state.sequence, records: [], specimens: [], decisions: [id] };
    }
    case 'correction-made': {
      const { actor, reason, instant, payload } = entry;
      state.corrections.set(payload.id, { ...payload, by: actor, reason, on: instant });
      return { sequence: state.sequence, records: [], specimens: [] };
    }
    default:
      return entry satisfies never;
  }
}

function applyRecord(state: State, collection: Collection, record: CatalogueRecord): Touched {
  const id = recordId(collection, record);
  if (collection === 'devices') return applyDevice(state, record as DeviceRecord);
  const map = state.records[collection] as Map<string, CatalogueRecord>;
  map.set(id, record);
  putRecord(state.knowledge, collection, record);
  // A part described anew changes what its holders' components are read as.
  const holders = collection === 'parts' ? [...(state.holders.get(id) ?? [])] : [];
  const specimens = holders.map((holder) => {
    const row = state.specimens.get(holder) as SpecimenRow;
    return place(state, row.filed, unpackDossier(row.filed), row.added);
  });
  return { sequence: state.sequence, records: [{ collection, id }], specimens };
}

function applyDevice(state: State, record: DeviceRecord): Touched {
  const row = placeDevice(state, record);
  // The device stands in the segment of its first specimen.
  const first = row.describedBy === undefined ? undefined : state.specimens.get(row.describedBy);
  const specimens = first ? [place(state, first.filed, unpackDossier(first.filed), first.added)] : [];
  return { sequence: state.sequence, records: [{ collection: 'devices', id: record.id }], specimens };
}

function placeDevice(state: State, record: DeviceRecord): DeviceRow {
  const device = described(record);
  const before = state.devices.get(device.id);
  const row = { device, describedBy: before?.describedBy, specimens: before?.specimens ?? [] };
  state.records.devices.set(device.id, record);
  state.devices.set(device.id, row);
  putDevice(state.knowledge, device);
  return row;
}

function applyDossier(state: State, dossier: Dossier): Touched {
  const id = specimenIdOf(dossier);
  const deviceId = deviceIdOf(dossier);
  const { device, visibility, embargoUntil } = dossier;
  const records: Touched['records'][number][] = [];
  // Dossiers from before devices were records of their own describe them.
  if (typeof device !== 'string') {
    placeDevice(state, { ...device, visibility, embargoUntil });
    records.push({ collection: 'devices', id: deviceId });
  }
  const row = state.devices.get(deviceId);
  if (!row) throw new Error(`dossier ${id} refers to device ${deviceId}, which no entry before describes`);
  if (!row.specimens.includes(id)) {
    const specimens = [...row.specimens, id];
    state.devices.set(deviceId, { ...row, describedBy: specimens[0], specimens });
  }
  const added = state.specimens.get(id)?.added ?? NO_ADDITIONS;
  const placed = place(state, packDossier(dossier), dossier, added);
  return { sequence: state.sequence, records, specimens: [placed] };
}

function applyAddition(state: State, specimen: string, more: Partial<Additions>): Touched {
  const row = state.specimens.get(specimen);
  if (!row)
    throw new Error(`entry ${state.sequence} names specimen ${specimen}, which no entry before describes`);
  const added = {
    observations: [...row.added.observations, ...(more.observations ?? [])],
    identifications: [...row.added.identifications, ...(more.identifications ?? [])],
    judgements: [...row.added.judgements, ...(more.judgements ?? [])],
    withdrawals: [...row.added.withdrawals, ...(more.withdrawals ?? [])],
  };
  const placed = place(state, row.filed, unpackDossier(row.filed), added);
  return { sequence: state.sequence, records: [], specimens: [placed] };
}

/** Puts a specimen's row, its columns and its place in the knowledge graph. */
function place(
  state: State,
  filed: SpecimenRow['filed'],
  filedDossier: Dossier,
  added: Additions,
): TouchedSpecimen {
  const dossier = mergeAdditions(filedDossier, added);
  const id = specimenIdOf(dossier);
  const held = partsHeld(dossier);
  for (const number of state.specimens.get(id)?.parts ?? []) {
    const part = state.names.textOf(number);
    if (!held.has(part)) state.holders.get(part)?.delete(id);
  }
  for (const part of held) {
    const holders = state.holders.get(part);
    if (holders) holders.add(id);
    else state.holders.set(part, new Set([id]));
  }
  putSpecimen(state.knowledge, dossier);
  state.specimens.set(id, {
    id,
    deviceId: deviceIdOf(dossier),
    visibility: dossier.visibility,
    embargoUntil: dossier.embargoUntil,
    openedOn: dossier.teardown.on,
    filed,
    added,
    columns: buildColumns(dossier, state.names, (part) => categoriesOfPart(state, part)),
    parts: Uint32Array.from(held, (part) => state.names.numberOf(part)),
    version: state.sequence,
  });
  return { id, dossier };
}

function categoriesOfPart(state: State, part: string): readonly string[] | undefined {
  return state.records.parts.get(part)?.categories;
}

/** Every part that a component of the dossier may be, as identified now. */
function partsHeld(dossier: Dossier): ReadonlySet<string> {
  const held = new Set<string>();
  for (const { candidates } of currentIdentifications(dossier).values()) {
    for (const { part, probability } of candidates) if (part !== undefined && probability > 0) held.add(part);
  }
  return held;
}
