import type { CircuitDistance } from '../../../compare/circuit-distance.ts';
import type { DeviceCluster } from '../../../compare/clusters.ts';
import type { Compared } from '../../../compare/representative.ts';
import type { SimilarDevice } from '../../../compare/similarity.ts';
import { SUBSYSTEM_KINDS } from '../../../model/dossier.ts';
import {
  clustersOf,
  devicesLike,
  distanceOfCircuits,
  neighbourhoodsShared,
} from '../../../questions/comparison.ts';
import type { State } from '../../../state/state.ts';
import { type Seen, viewOf } from '../context.ts';
import { deviceFilter } from '../device-filter.ts';
import { rankedListing } from '../listing.ts';
import { paginate } from '../paginate.ts';
import type { Resolvers } from '../resolver-types.ts';
import { deviceSource, maybe } from '../sources.ts';
import { specimenSource } from '../specimens/sources.ts';
import { bounded, enumName, enumWord } from '../words.ts';
import { comparedSource } from './comparison.ts';

/** A device beside the one it is like. */
export type SimilarDeviceSource = Seen<SimilarDevice> & {
  readonly of: Compared;
  readonly iterations: number;
};

/** The distance of two circuits, with all nodes of both. */
export type CircuitDistanceSource = CircuitDistance;

/** A cluster, its members as they were found. */
export type DeviceClusterSource = ReturnType<typeof clusterSource>;

function clusterSource(view: State, { typical, members, marks }: DeviceCluster) {
  return { view, typical: deviceSource(view, typical), members, marks };
}

/** Devices with like component graphs. */
export const similarity: Resolvers = {
  Query: {
    similarDevices: async (root, { id, first, iterations }, context) => {
      const view = viewOf(root, context);
      const maximum = bounded('first', first, 100);
      const { of, comparedWith, devices } = await devicesLike(view, id, {
        iterations,
        signal: context.signal(),
      });
      return {
        of: comparedSource(view, of),
        comparedWith,
        devices: devices.slice(0, maximum).map((one) => ({ ...one, view, of, iterations })),
      };
    },
    deviceClusters: async (root, { filter, ...options }, context) => {
      const view = viewOf(root, context);
      const answer = await clustersOf(view, {
        ...options,
        filter: await deviceFilter(view, filter, context.signal()),
        signal: context.signal(),
      });
      return {
        ...answer,
        clusters: answer.clusters.map((one) => clusterSource(view, one)),
      };
    },
    circuitDistance: async (root, { from, to, subsystem }, context) => {
      const view = viewOf(root, context);
      return distanceOfCircuits(view, [from, to], {
        subsystem: subsystem ? enumWord(SUBSYSTEM_KINDS, subsystem) : undefined,
        signal: context.signal(),
      });
    },
  },
  CircuitDistance: {
    method: ({ method }) => enumName(method),
    nodes: ({ nodes }, page) => {
      const listing = rankedListing('components of circuits', nodes, ({ from, to }) => `${from} ${to}`);
      return paginate(listing, page, ({ from, to, kinds: [kindBefore, kindAfter] }) => ({
        from,
        to,
        kindBefore,
        kindAfter,
      }));
    },
  },
  DeviceCluster: {
    members: ({ view, members }, page) => {
      const listing = rankedListing('devices of a cluster', members, ({ device }) => device.id);
      return paginate(listing, page, ({ device, similarity }) => ({
        device: deviceSource(view, device),
        similarity,
      }));
    },
  },
  SimilarDevice: {
    device: ({ view, device }) => deviceSource(view, device),
    specimen: ({ view, specimenId }) => maybe(view, view.specimen(specimenId), specimenSource),
    shared: async ({ view, of, specimenId, iterations }, { first }) => {
      const other = view.specimen(specimenId);
      const maximum = bounded('first', first, 50);
      return other ? neighbourhoodsShared(view, of.specimen, other, { iterations, first: maximum }) : [];
    },
  },
};
