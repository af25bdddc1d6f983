import { isDeepStrictEqual } from 'node:util';
import {
  type CatalogueRecord,
  COLLECTIONS,
  type Collection,
  type DeviceRecord,
  described,
  recordId,
} from '../model/catalogue.ts';
import { type Dossier, deviceIdOf, specimenIdOf } from '../model/dossier.ts';
import type { DossierPut, Entry, RecordPut } from '../model/entry.ts';
import { decisionId } from '../model/ids.ts';
import { isMarked, visibleOf } from '../model/visibility.ts';
import { type Additions, type FactsDraft, NO_ADDITIONS, type SpecimenRow } from './facts.ts';
import { type CategoriesOf, currentIdentifications } from './labels.ts';
import { linkRecord, linkSpecimen } from './linked.ts';
import { buildColumns } from './lists/component-columns.ts';
import { dossierOf, mergeAdditions } from './merge.ts';
import type { Names } from './names.ts';
import { PackedDossier } from './packed-dossier.ts';
import { fileVersion, isSeenThroughSpecimen, isSpecimenSeen, recall } from './visibility/versions.ts';

/** What one entry touched; indexes, audiences and subscribers follow this report. */
export interface Touched {
  readonly sequence: number;
  /** Ids of catalogue records put, by collection. */
  readonly records: readonly { readonly collection: Collection; readonly id: string }[];
  /** Ids of devices described, or given another specimen. */
  readonly devices: readonly string[];
  /** Specimens whose content or reading changed, each with its dossier as it stands now. */
  readonly specimens: readonly TouchedSpecimen[];
  /** Decisions that an editor judged, by id. */
  readonly decisions: readonly string[];
  /** Whether it records a correction. */
  readonly corrections: boolean;
}

export interface TouchedSpecimen {
  readonly id: string;
  readonly dossier: Dossier;
}

/**
 * Applies one entry to a draft. A function of draft and entry alone (no clock, no input or output), so the
 * same journal always gives the same facts; the work is proportional to what the entry names.
 * @throws Error when the entry does not follow the last one folded in or names what was never recorded
 */
export function applyEntry(draft: FactsDraft, entry: Entry): Touched {
  if (entry.sequence !== draft.sequence + 1) {
    throw new Error(`journal entry ${entry.sequence} does not follow ${draft.sequence}`);
  }
  draft.sequence = entry.sequence;
  draft.instant = entry.instant;
  const touched = { ...NOTHING, sequence: entry.sequence };
  switch (entry.kind) {
    case 'record-put':
      return { ...touched, ...applyRecord(draft, entry.payload) };
    case 'dossier-put':
      return { ...touched, ...applyDossier(draft, entry.payload) };
    case 'observation-recorded': {
      const { specimen, observation } = entry.payload;
      return { ...touched, ...applyAddition(draft, specimen, { observations: [observation] }) };
    }
    case 'identification-set': {
      const { specimen, identification } = entry.payload;
      return { ...touched, ...applyAddition(draft, specimen, { identifications: [identification] }) };
    }
    case 'identification-judged': {
      const { specimen, judgement } = entry.payload;
      return { ...touched, ...applyAddition(draft, specimen, { judgements: [judgement] }) };
    }
    case 'observation-withdrawn': {
      const { specimen, observation } = entry.payload;
      const withdrawn = { by: entry.actor, on: entry.instant, reason: entry.reason };
      return { ...touched, ...applyAddition(draft, specimen, { withdrawals: [{ observation, withdrawn }] }) };
    }
    case 'decision-judged': {
      const { device, pattern, verdict, evidence } = entry.payload;
      const id = decisionId(device, pattern);
      const judgement = { verdict, evidence, by: entry.actor, reason: entry.reason, on: entry.instant };
      draft.judgements.set(id, [...(draft.judgements.get(id) ?? []), judgement]);
      return { ...touched, decisions: [id] };
    }
    case 'correction-made': {
      const { actor, reason, instant, payload } = entry;
      const correction = { ...payload, by: actor, reason, on: instant };
      draft.corrections.push({ correction, sequence: entry.sequence });
      return { ...touched, corrections: true };
    }
    case 'clock-corrected':
      // The timeline knows of it; no fact depends on when an entry was written.
      return touched;
    case 'recalled':
      return { ...touched, ...applyRecall(draft, entry) };
    case 'photo-kept': {
      const { specimen, file } = entry.payload;
      return { ...touched, ...applyAddition(draft, specimen, { photoFiles: [file] }) };
    }
    case 'photo-recorded': {
      const { specimen, photo } = entry.payload;
      return { ...touched, ...applyAddition(draft, specimen, { photos: [photo] }) };
    }
    default:
      return entry satisfies never;
  }
}

const NOTHING = { records: [], devices: [], specimens: [], decisions: [], corrections: false };

function applyRecord(draft: FactsDraft, { collection, record, recalls }: RecordPut): Partial<Touched> {
  const id = recordId(collection, record);
  const before = draft.records[collection].get(id);
  const seen = collection === 'devices' && isSeenThroughSpecimen(draft, id);
  fileVersion(draft, draft.standingRecords, id, { before, next: record, seen, recalls });
  putRecord(draft, collection, id, record);
  if (collection === 'devices') {
    putDevice(draft, record as DeviceRecord);
    return { records: [{ collection, id }], devices: [id] };
  }
  // A changed part changes how the components of its holders are read.
  const holders = collection === 'parts' ? [...draft.holdersOf(id)] : [];
  const specimens = holders.map((holder) => {
    const row = draft.specimens.get(holder) as SpecimenRow;
    return placeKnown(draft, holder) ?? place(draft, row.filed, row.filed.unpack(), row.added);
  });
  return { records: [{ collection, id }], specimens };
}

/** Puts a catalogue record and its links. */
export function putRecord(
  draft: FactsDraft,
  collection: Collection,
  id: string,
  record: CatalogueRecord,
): void {
  const map = draft.records[collection] as FactsDraft['records'][Collection] & {
    set(id: string, record: CatalogueRecord): unknown;
  };
  const known = draft.known?.facts.records[collection].get(id);
  const shared = known && isDeepStrictEqual(known, record) ? known : record;
  linkRecord(draft.links, collection, id, shared, map.get(id));
  map.set(id, shared);
}

function applyRecall(
  draft: FactsDraft,
  { actor, instant, reason, payload: { ids } }: Extract<Entry, { kind: 'recalled' }>,
): Partial<Touched> {
  const made = { by: actor, on: instant, reason };
  const records: { collection: Collection; id: string }[] = [];
  const devices: string[] = [];
  const specimens: TouchedSpecimen[] = [];
  for (const id of ids) {
    recall(draft, id, made);
    for (const collection of COLLECTIONS)
      if (draft.records[collection].has(id)) records.push({ collection, id });
    if (draft.devices.has(id)) devices.push(id);
    const row = draft.specimens.get(id);
    if (row) specimens.push({ id, dossier: dossierOf(row) });
  }
  return { records, devices, specimens, corrections: true };
}

function applyDossier(draft: FactsDraft, { recalls, ...dossier }: DossierPut): Partial<Touched> {
  const id = specimenIdOf(dossier);
  const deviceId = deviceIdOf(dossier);
  const { device, visibility, embargoUntil } = dossier;
  // Dossiers from before devices had their own records describe them.
  const describes = typeof device !== 'string';
  if (describes) {
    const record = { ...device, visibility, embargoUntil };
    // Taken back with its only specimen, but not with one of several.
    const others = draft.devices.get(deviceId)?.specimens.filter((other) => other !== id) ?? [];
    const alone = !others.some((other) => isSpecimenSeen(draft, other));
    fileVersion(draft, draft.standingRecords, deviceId, {
      before: draft.records.devices.get(deviceId),
      next: record,
      seen: isSeenThroughSpecimen(draft, deviceId),
      recalls: recalls && alone ? true : undefined,
    });
    putRecord(draft, 'devices', deviceId, record);
    putDevice(draft, record);
  }
  const row = draft.devices.get(deviceId);
  if (!row) throw new Error(`dossier ${id} refers to device ${deviceId}, which no earlier entry describes`);
  if (!row.specimens.includes(id)) draft.devices.set(deviceId, { ...row, specimens: [...row.specimens, id] });
  const before = draft.specimens.get(id);
  fileVersion(draft, draft.standingSpecimens, id, { before, next: dossier, recalls });
  // What it says of its device is in the device's record.
  const filed = describes ? { ...dossier, device: deviceId } : dossier;
  const placed =
    placeKnown(draft, id) ?? place(draft, new PackedDossier(filed), filed, addedBeside(before, dossier));
  const records = describes ? [{ collection: 'devices' as const, id: deviceId }] : [];
  return { records, devices: [deviceId], specimens: [placed] };
}

/**
 * What was recorded before a dossier is filed again and still stands beside it: all but photos of which the file says something new, which
 * count as the file has them.
 */
function addedBeside(before: SpecimenRow | undefined, dossier: DossierPut): Additions {
  if (!before) return NO_ADDITIONS;
  const { added } = before;
  if (added.photos.length === 0) return added;
  const was = new Map(before.filed.unpack().photos.map((photo) => [photo.id, photo]));
  const is = new Map(dossier.photos.map((photo) => [photo.id, photo]));
  const photos = added.photos.filter(({ id }) => isDeepStrictEqual(was.get(id), is.get(id)));
  return photos.length === added.photos.length ? added : { ...added, photos };
}

/** Puts a device with the specimens that it has. */
function putDevice(draft: FactsDraft, record: DeviceRecord): void {
  const specimens = draft.devices.get(record.id)?.specimens ?? [];
  const known = draft.known?.facts;
  const isKnown = known?.records.devices.get(record.id) === draft.records.devices.get(record.id);
  const device = (isKnown && known?.devices.get(record.id)?.device) || described(record);
  draft.devices.set(record.id, { device, specimens });
}

function applyAddition(draft: FactsDraft, specimen: string, more: Partial<Additions>): Partial<Touched> {
  const row = draft.specimens.get(specimen);
  if (!row)
    throw new Error(`entry ${draft.sequence} names specimen ${specimen}, which no earlier entry describes`);
  const known = placeKnown(draft, specimen);
  if (known) return { specimens: [known] };
  const added = {
    observations: [...row.added.observations, ...(more.observations ?? [])],
    identifications: [...row.added.identifications, ...(more.identifications ?? [])],
    judgements: [...row.added.judgements, ...(more.judgements ?? [])],
    withdrawals: [...row.added.withdrawals, ...(more.withdrawals ?? [])],
    photos: [
      ...row.added.photos.filter(({ id }) => !more.photos?.some((photo) => photo.id === id)),
      ...(more.photos ?? []),
    ],
    photoFiles: [...row.added.photoFiles, ...(more.photoFiles ?? [])],
  };
  return { specimens: [place(draft, row.filed, row.filed.unpack(), added)] };
}

/** Puts the row of facts known already, where this very entry made it. */
function placeKnown(draft: FactsDraft, id: string): TouchedSpecimen | undefined {
  const found = draft.known?.facts.specimens.get(id);
  if (!draft.known || found?.version !== draft.sequence) return undefined;
  const row = draft.known.rowFor(found);
  draft.putSpecimen(row);
  const links = draft.known.facts.links.outOf(id);
  draft.links.describe(id, links);
  for (const [label, to] of links) if (label === 'OPENED_IN') draft.links.describe(to, []);
  return {
    id,
    get dossier() {
      return dossierOf(row);
    },
  };
}

/** Puts a specimen's row, its columns and its links. */
function place(
  draft: FactsDraft,
  filed: PackedDossier,
  filedDossier: Dossier,
  added: Additions,
): TouchedSpecimen {
  const dossier = mergeAdditions(filedDossier, added);
  linkSpecimen(draft.links, dossier);
  const categoriesOf = (part: string) => draft.records.parts.get(part)?.categories;
  const row = rowOf(dossier, { filed, added, names: draft.names, categoriesOf, version: draft.sequence });
  draft.putSpecimen(row);
  return { id: row.id, dossier };
}

/** The row of a dossier. @param dossier as filed, with what was added */
export function rowOf(
  dossier: Dossier,
  {
    names,
    categoriesOf,
    ...more
  }: Pick<SpecimenRow, 'filed' | 'added' | 'version'> & {
    readonly names: Names;
    readonly categoriesOf: CategoriesOf;
  },
): SpecimenRow {
  return {
    id: specimenIdOf(dossier),
    deviceId: deviceIdOf(dossier),
    visibility: dossier.visibility,
    embargoUntil: dossier.embargoUntil,
    openedOn: dossier.teardown.on,
    columns: buildColumns(dossier, names, categoriesOf),
    parts: Uint32Array.from(partsHeld(dossier), (part) => names.numberOf(part)),
    named: Uint32Array.from(namedIn(dossier), (name) => names.numberOf(name)),
    marks: dossier.identifications.filter(isMarked).map(visibleOf),
    ...more,
  };
}

/** Every part and maker that the dossier names. */
function namedIn({ identifications, judgements = [] }: Dossier): ReadonlySet<string> {
  const named = new Set<string>(judgements.map(({ part }) => part));
  for (const { candidates } of identifications)
    for (const { part, maker } of candidates) {
      if (part !== undefined) named.add(part);
      if (maker !== undefined) named.add(maker);
    }
  return named;
}

/** Every part that a component of the dossier may be, as identified now. */
function partsHeld(dossier: Dossier): ReadonlySet<string> {
  const held = new Set<string>();
  for (const { candidates } of currentIdentifications(dossier).values()) {
    for (const { part, probability } of candidates) if (part !== undefined && probability > 0) held.add(part);
  }
  return held;
}
