import { yearOf } from '../../../model/dates.ts';
import { deviceMarks, devicesAfter, kindCounts } from '../../../questions/devices.ts';
import { type DeviceFilter, deviceKey, listDevices } from '../../../state/lists/device-list.ts';
import type { State } from '../../../state/state.ts';
import { viewOf } from '../context.ts';
import { deviceFilter } from '../device-filter.ts';
import { reversedListing, sortedListing } from '../listing.ts';
import { marks, recalled } from '../marks.ts';
import { type PageArguments, paginate } from '../paginate.ts';
import type * as Api from '../resolver-types.ts';
import { deviceSource, makerSource, maybe, productLineSource } from '../sources.ts';
import {
  boardsOf,
  componentsOf,
  identificationsOf,
  linksOf,
  netsOf,
  observationsOf,
  seenOf,
  standingSpecimen,
  subsystemCountsOf,
  subsystemsOf,
} from '../specimens/contents.ts';
import { specimenSource } from '../specimens/sources.ts';
import { enumName, knownTerm } from '../words.ts';

/** One page of the devices that pass a filter. */
export function pageOfDevices(
  view: State,
  filter: DeviceFilter,
  { field, direction }: Api.DeviceOrder,
  page: PageArguments,
) {
  const listing = direction === 'DESC' ? reversedListing : sortedListing;
  const devices = listing(`devices by ${field} ${direction}`, listDevices(view, filter, field), (device) => [
    deviceKey(device, field),
    device.id,
  ]);
  return paginate(devices, page, (device) => deviceSource(view, device));
}

/** Devices, by themselves and as lists. */
export const devices: Api.Resolvers = {
  Query: {
    device: (root, { id }, context) => {
      const view = viewOf(root, context);
      return maybe(view, view.device(id), deviceSource);
    },
    devices: async (root, { filter, orderBy, ...page }, context) => {
      const view = viewOf(root, context);
      return pageOfDevices(view, await deviceFilter(view, filter, context.signal()), orderBy, page);
    },
  },
  Device: {
    ...marks(({ view, id }) => deviceMarks(view, id), 'published'),
    recalled,
    maker: ({ view, maker }) => maybe(view, view.maker(maker), makerSource),
    productLine: ({ view, productLine }) =>
      maybe(view, productLine ? view.productLine(productLine) : undefined, productLineSource),
    year: ({ released }) => yearOf(released),
    bodySite: ({ bodySite }) => enumName(bodySite),
    regulatoryIds: ({ regulatoryIds }) =>
      regulatoryIds.map(({ scheme, id }) => ({ scheme: enumName(scheme), code: id })),
    invented: ({ invented }) => invented === true,
    predecessors: ({ view, succeeds }) =>
      succeeds.flatMap((id) => maybe(view, view.device(id), deviceSource) ?? []),
    successors: ({ view, ...device }) => devicesAfter(view, device).map((one) => deviceSource(view, one)),
    specimens: ({ view, id }) =>
      view.specimensOf(id).flatMap((row) => maybe(view, view.specimen(row.id), specimenSource) ?? []),
    specimen: standingSpecimen,
    boards: (device) => boardsOf(seenOf(device)),
    subsystems: (device) => subsystemsOf(seenOf(device)),
    components: (device, args) => componentsOf(seenOf(device), args),
    links: (device, page) => linksOf(seenOf(device), page),
    nets: (device, args) => netsOf(seenOf(device), args),
    observations: (device, page) => observationsOf(seenOf(device), page),
    identifications: (device, page) => identificationsOf(seenOf(device), page),
    kindCounts: (device, { above }) => kindCounts(seenOf(device).opened, knownTerm(above, 'above')),
    subsystemCounts: (device) => subsystemCountsOf(seenOf(device)),
  },
};
