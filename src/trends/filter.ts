import type { Device } from '../model/dossier.ts';
import type { FigureWhere } from '../model/figure.ts';
import { type DeviceFilter, devicePredicate } from '../state/device-list.ts';
import type { View } from '../state/view.ts';
import { checkDeviceFilter } from './check-filter.ts';
import { visibleDevices } from './visible-devices.ts';

/**
 * Visible devices that pass, sorted by id, so that the order of import changes nothing.
 * @throws CasebackError as {@link checkDeviceFilter}
 */
export function devicesWhere(view: View, filter: DeviceFilter): readonly Device[] {
  const passes = deviceMatcher(view, filter);
  const { devices } = visibleDevices(view);
  if (Object.values(filter).every((value) => value === undefined || value === null)) return devices;
  return devices.filter(passes);
}

/** A test for single devices. @throws CasebackError as {@link checkDeviceFilter} */
export function deviceMatcher(view: View, filter: DeviceFilter): (device: Device) => boolean {
  checkDeviceFilter(view, filter);
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
