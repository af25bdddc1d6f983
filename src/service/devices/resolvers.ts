import { successorsOf } from '../../compare/generations.ts';
import { yearOf } from '../../model/dates.ts';
import { type Context, type Root, viewOf } from '../base/domain.ts';
import { enumName } from '../base/enums.ts';
import { knownTerm } from '../base/terms.ts';
import type { PageArguments } from '../connections/paginate.ts';
import {
  boardsOf,
  componentsOf,
  identificationsOf,
  linksOf,
  observationsOf,
  subsystemsOf,
} from '../contents/contents.ts';
import {
  type DeviceSource,
  deviceSource,
  makerSource,
  maybe,
  productLineSource,
} from '../sources/catalogue.ts';
import { kindsCounted, subsystemsCounted } from '../sources/counted.ts';
import { specimenSource } from '../sources/specimen.ts';
import { standingSpecimen } from '../sources/standing.ts';
import { type DevicesArguments, pageOfDevices } from './list.ts';

export const resolvers = {
  Query: {
    device: (root: Root, { id }: { id: string }, context: Context) => {
      const view = viewOf(root, context);
      return maybe(view, view.device(id), deviceSource);
    },
    devices: (root: Root, args: DevicesArguments, context: Context) =>
      pageOfDevices(viewOf(root, context), args),
  },
  Device: {
    maker: ({ view, maker }: DeviceSource) => maybe(view, view.maker(maker), makerSource),
    productLine: ({ view, productLine }: DeviceSource) =>
      maybe(view, productLine ? view.productLine(productLine) : undefined, productLineSource),
    year: ({ released }: DeviceSource) => yearOf(released),
    bodySite: ({ bodySite }: DeviceSource) => enumName(bodySite),
    invented: ({ invented }: DeviceSource) => invented === true,
    predecessors: ({ view, succeeds }: DeviceSource) =>
      succeeds.flatMap((id) => maybe(view, view.device(id), deviceSource) ?? []),
    successors: ({ view, ...device }: DeviceSource) =>
      successorsOf(view, device).map((one) => deviceSource(view, one)),
    specimens: ({ view, id }: DeviceSource) =>
      view.specimensOf(id).flatMap((row) => maybe(view, view.specimen(row.id), specimenSource) ?? []),
    specimen: standingSpecimen,
    boards: (device: DeviceSource) => boardsOf(standingSpecimen(device)),
    subsystems: (device: DeviceSource) => subsystemsOf(standingSpecimen(device)),
    components: (device: DeviceSource, args: PageArguments & { category?: string | null }) =>
      componentsOf(standingSpecimen(device), args),
    connections: (device: DeviceSource, args: PageArguments) => linksOf(standingSpecimen(device), args),
    observations: (device: DeviceSource, args: PageArguments) =>
      observationsOf(standingSpecimen(device), args),
    identifications: (device: DeviceSource, args: PageArguments) =>
      identificationsOf(standingSpecimen(device), args),
    kindCounts: (device: DeviceSource, { above }: { above: string }) =>
      kindsCounted(standingSpecimen(device).opened, knownTerm(above, 'above')),
    subsystemCounts: (device: DeviceSource) => subsystemsCounted(standingSpecimen(device).opened),
  },
};
