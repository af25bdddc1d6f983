import type { Device } from '../model/dossier.ts';
import type { FigureWhere } from '../model/figure.ts';
import { type DeviceFilter, devicePredicate } from '../state/device-list.ts';
import type { State } from '../state/state.ts';
import { checkDeviceFilter } from './check-filter.ts';
import { visibleDevices } from './visible-devices.ts';

/**
 * Visible devices that pass, sorted by id, so that the order of import changes nothing.
 * @throws CasebackError as {@link checkDeviceFilter}
 */
export function devicesWhere(state: State, filter: DeviceFilter): readonly Device[] {
  const passes = deviceMatcher(state, filter);
  const { devices } = visibleDevices(state);
  if (Object.values(filter).every((value) => value === undefined || value === null)) return devices;
  return devices.filter(passes);
}

/** A test for single devices. @throws CasebackError as {@link checkDeviceFilter} */
export function deviceMatcher(state: State, filter: DeviceFilter): (device: Device) => boolean {
  checkDeviceFilter(state, filter);
  return devicePredicate(filter);
}

/** The filter that the figure of a publication states. */
export function filterOfFigure({ bodySite, maker, productLine, from, to }: FigureWhere): DeviceFilter {
  return {
    bodySites: bodySite ? [bodySite] : null,
    makers: maker ? [maker] : null,
    productLines: productLine ? [productLine] : null,
    releasedFrom: from,
    releasedTo: to,
  };
}
