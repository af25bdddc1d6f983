import { type DeviceRecord, described } from '../model/catalogue.ts';
import { type Dossier, deviceIdOf, specimenIdOf } from '../model/dossier.ts';
import { isMorePublic, mostPublic } from '../model/visibility.ts';
import type { HeldDossiers } from './check/context.ts';
import type { DossierDocument, ReadDocument } from './document/document.ts';
import { same } from './document/same.ts';

/** The dossier as it is recorded: with the id of its device, which has a record of its own. */
export function withDeviceId(dossier: Dossier): Dossier {
  return typeof dossier.device === 'string' ? dossier : { ...dossier, device: deviceIdOf(dossier) };
}

/**
 * Devices that the files describe otherwise than the archive holds them, predecessors before those that succeed them. Who
 * may see a device stands in its catalogue record; one that only dossiers describe is as public as the most public of them.
 */
export function changedDevices(
  documents: readonly ReadDocument[],
  held: HeldDossiers,
): readonly DeviceRecord[] {
  const records = new Map<string, DeviceRecord>();
  const dossiers = documents.filter((document) => document.kind === 'dossier');
  for (const { dossier } of dossiers) {
    if (typeof dossier.device === 'string') continue;
    records.set(dossier.device.id, {
      ...dossier.device,
      ...visibilityGiven(dossier.device.id, dossiers, held),
    });
  }
  for (const document of documents)
    if (document.kind === 'catalogue')
      for (const record of document.catalogue.devices) records.set(record.id, record);
  const changed = [...records].filter(
    ([id, record]) => !same(record, held.record('devices', id)) || held.visibleNow?.(id) === 'recalled',
  );
  return predecessorsFirst(new Map(changed));
}

/**
 * Who may see a device once these dossiers are in. Another specimen that repeats the description hides nothing: the more
 * public counts. Only what the same dossiers gave may they take back.
 */
export function visibilityGiven(
  device: string,
  dossiers: readonly DossierDocument[],
  held: HeldDossiers,
): Pick<DeviceRecord, 'visibility' | 'embargoUntil'> {
  const incoming = dossiers.flatMap(({ dossier }) => (deviceIdOf(dossier) === device ? [dossier] : []));
  const refiled = new Set(incoming.map(specimenIdOf));
  const heldBefore = held.specimensOf(device);
  const dossiersOf = (ids: readonly string[]) => ids.flatMap((id) => held.dossierAsFiled(id) ?? []);
  const record = held.record('devices', device);
  const given = mostPublic(dossiersOf(heldBefore));
  const own = record && (!given || isMorePublic(record, given)) ? [record] : [];
  const now = mostPublic([...incoming, ...dossiersOf(heldBefore.filter((id) => !refiled.has(id))), ...own]);
  const before = record && mostPublic([record, ...dossiersOf(heldBefore)]);
  // Who sees it does not change, so neither does the record.
  if (record && same(before, now)) return visibleOf(record);
  return now ?? { visibility: 'published' };
}

function visibleOf({
  visibility,
  embargoUntil,
}: DeviceRecord): Pick<DeviceRecord, 'visibility' | 'embargoUntil'> {
  return embargoUntil === undefined ? { visibility } : { visibility, embargoUntil };
}

/**
 * Why a dossier may not describe its device as it does, with the fix, or undefined: a device changes in the dossier of its
 * first specimen or in a catalogue, and what all see is not changed by what few see.
 */
export function wrongDescription(
  { dossier }: DossierDocument,
  dossiers: readonly DossierDocument[],
  held: HeldDossiers,
): { readonly what: string; readonly fix: string } | undefined {
  const { device } = dossier;
  if (typeof device === 'string') return undefined;
  const record = held.record('devices', device.id);
  if (!record || same(described(record), device)) return undefined;
  const [first] = held.specimensOf(device.id);
  const isFirst = (one: Dossier) => first === undefined || specimenIdOf(one) === first;
  if (!dossiers.some((one) => isFirst(one.dossier) && same(one.dossier.device, device)))
    return {
      what: `device "${device.id}" is described differently by another dossier in the archive`,
      fix: `write only "device: ${device.id}", or change that dossier`,
    };
  const now = visibilityGiven(device.id, dossiers, held);
  if (!isMorePublic(now, dossier)) return undefined;
  return {
    what: `device "${device.id}" is seen by more than this dossier (${dossier.visibility}), and is described differently here`,
    fix: `write only "device: ${device.id}", and change the device in a catalogue file`,
  };
}

/** A walk with a stack of its own: a product line may be longer than the call stack is deep. */
function predecessorsFirst(devices: ReadonlyMap<string, DeviceRecord>): readonly DeviceRecord[] {
  const ordered = new Set<DeviceRecord>();
  const entered = new Set<DeviceRecord>();
  const open = [...devices.values()].sort((a, b) => (a.id < b.id ? 1 : -1));
  for (let top = open.at(-1); top; top = open.at(-1)) {
    const before = top.succeeds.flatMap((id) => devices.get(id) ?? []);
    const first = before.filter((one) => !ordered.has(one) && !entered.has(one));
    entered.add(top);
    if (first.length > 0) open.push(...first);
    else {
      ordered.add(top);
      open.pop();
    }
  }
  return [...ordered];
}
