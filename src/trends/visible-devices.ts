import type { Device } from '../model/dossier.ts';
import { COLUMN, COLUMNS, type ComponentColumns, categoryNumber } from '../state/component-columns.ts';
import type { View } from '../state/view.ts';

/** What a view sees of devices, made once for all questions asked of an unchanged archive. */
export interface VisibleDevices {
  /** Visible devices that somebody opened, by id. */
  readonly devices: readonly Device[];
  /** Devices somebody looked into: a visible specimen of theirs has a component on record. */
  readonly lookedInto: ReadonlySet<string>;
  /** Devices with a chip of which nobody has said what it does. */
  readonly unidentified: ReadonlySet<string>;
}

/** What the view sees of devices. */
export function visibleDevices(view: View): VisibleDevices {
  return view.derived(findVisibleDevices);
}

function findVisibleDevices(view: View): VisibleDevices {
  const lookedInto = new Set<string>();
  const unidentified = new Set<string>();
  for (const { deviceId, columns } of view.specimenRows()) {
    if (columns.length > 0) lookedInto.add(deviceId);
    if (holdsUnidentified(columns)) unidentified.add(deviceId);
  }
  const devices = view.devices().filter(({ id }) => view.specimensOf(id).length > 0);
  return { devices, lookedInto, unidentified };
}

/** Categories that say how a thing is packed and not what it does; 0 is a component of which nothing is known. */
const SAY_NOTHING = new Set([0, categoryNumber('IntegratedCircuit'), categoryNumber('Module')]);

function holdsUnidentified(columns: ComponentColumns): boolean {
  for (let at = 0; at < columns.length; at += COLUMNS) {
    if (columns[at + COLUMN.part] === 0 && SAY_NOTHING.has(columns[at + COLUMN.category])) return true;
  }
  return false;
}

/** What must be said of devices of which a chip is not identified, when components or patterns are counted. */
export function unidentifiedCaution(view: View, devices: readonly Device[]): readonly string[] {
  const { unidentified } = visibleDevices(view);
  const count = devices.filter(({ id }) => unidentified.has(id)).length;
  return count === 0
    ? []
    : [
        `Devices with a chip of which nobody has said what it does: ${count}; it counts as what such chips usually are, with that probability.`,
      ];
}
