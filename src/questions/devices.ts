// Questions about single devices, asked by the hundred: they are synchronous and loaded with the service.

import { type Comparison, compareColumns } from '../compare/compare-devices.ts';
import { countKinds, countSubsystems, type KindCount } from '../compare/counts.ts';
import { successorsOf } from '../compare/generations.ts';
import { type Compared, comparedOf } from '../compare/representative.ts';
import type { Device } from '../model/dossier.ts';
import { mostPublic, type Visible } from '../model/visibility.ts';
import type { DeviceFilter } from '../state/lists/device-list.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';
import type { State } from '../state/state.ts';
import { checkDeviceFilter as checkFilter } from '../trends/check-filter.ts';

/**
 * The device of an id, with the specimen that represents it.
 * @param id of a device, or of a specimen
 * @throws CasebackError NOT_FOUND when nothing visible has the id
 */
export function deviceToCompare(state: State, id: string): Compared {
  return comparedOf(state, id);
}

/** Counts of devices side by side, in the order given. */
export function countsOf(columns: readonly Compared[]): Comparison {
  return compareColumns(columns);
}

/**
 * Whether a filter makes sense.
 * @throws CasebackError BAD_INPUT for a contradiction, NOT_FOUND for a maker or product line that nothing visible has
 */
export function checkDeviceFilter(state: State, filter: DeviceFilter): void {
  checkFilter(state, filter);
}

/** Visible devices that directly follow a device, by release. */
export function devicesAfter(state: State, device: Device): readonly Device[] {
  return successorsOf(state, device);
}

/** Who may see a device: the most public of its record and its specimens; undefined where the state has neither. */
export function deviceMarks(state: State, id: string): Visible | undefined {
  const record = state.deviceRecord(id);
  const specimens = state.specimensOf(id);
  return mostPublic(record ? [record, ...specimens] : specimens);
}

// Counts depend on an opened specimen, which is replaced when anything in it changes.
const kinds = new WeakMap<OpenedSpecimen, Map<string, readonly KindCount[]>>();
const subsystems = new WeakMap<OpenedSpecimen, ReturnType<typeof countSubsystems>>();

/** Components of each kind under a term, with probabilities; counted once for a specimen. */
export function kindCounts(specimen: OpenedSpecimen, above: string): readonly KindCount[] {
  const counted = kinds.get(specimen) ?? new Map<string, readonly KindCount[]>();
  const counts = counted.get(above) ?? countKinds(specimen, above);
  kinds.set(specimen, counted.set(above, counts));
  return counts;
}

/** Components in each subsystem; counted once for a specimen. */
export function subsystemCounts(specimen: OpenedSpecimen): ReturnType<typeof countSubsystems> {
  const counts = subsystems.get(specimen) ?? countSubsystems(specimen);
  subsystems.set(specimen, counts);
  return counts;
}
