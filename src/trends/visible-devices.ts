import type { Device } from '../model/dossier.ts';
import {
  COLUMN,
  COLUMNS,
  type ComponentColumns,
  categoryNumber,
  countedIn,
  countsIn,
} from '../state/lists/component-columns.ts';
import type { State } from '../state/state.ts';

/** Devices of a state, gathered once for all questions to an unchanged archive. */
export interface VisibleDevices {
  /** Visible devices with a visible specimen, sorted by id. */
  readonly devices: readonly Device[];
  /** Devices with a component on record in a visible specimen. */
  readonly lookedInto: ReadonlySet<string>;
  /** Devices with an unidentified chip. */
  readonly unidentified: ReadonlySet<string>;
}

export function visibleDevices(state: State): VisibleDevices {
  return state.derived(findVisibleDevices);
}

function findVisibleDevices(state: State): VisibleDevices {
  const lookedInto = new Set<string>();
  const unidentified = new Set<string>();
  for (const { deviceId, columns } of state.specimenRows()) {
    if (countedIn(columns) > 0) lookedInto.add(deviceId);
    if (holdsUnidentified(columns)) unidentified.add(deviceId);
  }
  const devices = state.devices().filter(({ id }) => state.specimensOf(id).length > 0);
  return { devices, lookedInto, unidentified };
}

/** Categories of packaging, not of function; 0 is a component of unknown category. */
const UNSPECIFIC = new Set([0, categoryNumber('IntegratedCircuit'), categoryNumber('Module')]);

function holdsUnidentified(columns: ComponentColumns): boolean {
  for (let at = 0; at < columns.length; at += COLUMNS) {
    if (
      columns[at + COLUMN.part] === 0 &&
      UNSPECIFIC.has(columns[at + COLUMN.category]) &&
      countsIn(columns, at)
    )
      return true;
  }
  return false;
}

/** Caution about devices with an unidentified chip, when components or patterns are counted. */
export function unidentifiedCaution(state: State, devices: readonly Device[]): readonly string[] {
  const { unidentified } = visibleDevices(state);
  const count = devices.filter(({ id }) => unidentified.has(id)).length;
  return count === 0
    ? []
    : [
        `Devices with an unidentified chip: ${count}; it counts as what such chips usually are, with that probability.`,
      ];
}
