import { BODY_SITES } from '../../model/dossier.ts';
import { type DeviceFilter, type DeviceOrder, deviceKey, listDevices } from '../../state/device-list.ts';
import type { View } from '../../state/view.ts';
import { enumWord } from '../base/enums.ts';
import { knownTerm } from '../base/terms.ts';
import { reversedListing, sortedListing } from '../connections/listing.ts';
import { type PageArguments, paginate } from '../connections/paginate.ts';
import { deviceSource } from '../sources/catalogue.ts';

export interface DevicesArguments extends PageArguments {
  readonly filter?: DeviceFilter | null;
  readonly orderBy: { readonly field: DeviceOrder; readonly direction: 'ASC' | 'DESC' };
}

/** One page of the devices that pass a filter. */
export function pageOfDevices(view: View, { filter, orderBy, ...page }: DevicesArguments) {
  const { field, direction } = orderBy;
  const listing = direction === 'DESC' ? reversedListing : sortedListing;
  const devices = listing(
    `devices by ${field} ${direction}`,
    listDevices(view, deviceFilter(filter ?? {}), field),
    (device) => [deviceKey(device, field), device.id],
  );
  return paginate(devices, page, (device) => deviceSource(view, device));
}

/** The filter in the archive's own words. */
export function deviceFilter(input: DeviceFilter): DeviceFilter {
  knownTerm(input.holdsCategory, 'holdsCategory');
  return { ...input, bodySites: input.bodySites?.map((name) => enumWord(BODY_SITES, name)) };
}
