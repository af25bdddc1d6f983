import { circuitDistance } from '../../compare/circuit-distance.ts';
import { clusterDevices } from '../../compare/clusters.ts';
import type { Compared } from '../../compare/representative.ts';
import { type SimilarDevice, similarDevices, whySimilar } from '../../compare/similarity.ts';
import { SUBSYSTEM_KINDS } from '../../model/dossier.ts';
import { CasebackError } from '../../model/problems.ts';
import type { DeviceFilter } from '../../state/device-list.ts';
import { type Context, type Domain, type Root, viewOf } from '../base/domain.ts';
import { enumWord } from '../base/enums.ts';
import { deviceFilter } from '../devices/list.ts';
import { deviceSource } from '../sources/catalogue.ts';
import { specimenSource } from '../sources/specimen.ts';
import { similarSchema } from './similar-schema.ts';
import type { Compares } from './sources.ts';

type SimilarSource = SimilarDevice & Compares & { readonly of: Compared; readonly iterations: number };

interface ClusterArguments {
  readonly filter?: DeviceFilter | null;
  readonly iterations: number;
  readonly resolution: number;
  readonly seed: number;
}

export const similar: Domain = {
  schema: similarSchema,
  resolvers: {
    Query: {
      similarDevices: async (
        root: Root,
        { id, first, iterations }: { id: string; first: number; iterations: number },
        context: Context,
      ) => {
        const view = viewOf(root, context);
        const most = bounded('first', first, 100);
        const { of, comparedWith, devices } = await similarDevices(view, id, {
          iterations,
          signal: context.signal(),
        });
        return {
          of: { ...of, view },
          comparedWith,
          devices: devices.slice(0, most).map((one) => ({ ...one, view, of, iterations })),
        };
      },
      deviceClusters: async (root: Root, { filter, ...options }: ClusterArguments, context: Context) => {
        const view = viewOf(root, context);
        const answer = await clusterDevices(view, {
          ...options,
          filter: deviceFilter(filter ?? {}),
          signal: context.signal(),
        });
        return {
          ...answer,
          clusters: answer.clusters.map(({ typical, members, marks }) => ({
            typical: deviceSource(view, typical),
            members: members.map(({ device, similarity }) => ({
              device: deviceSource(view, device),
              similarity,
            })),
            marks,
          })),
        };
      },
      circuitDistance: async (
        root: Root,
        { from, to, subsystem }: { from: string; to: string; subsystem?: string | null },
        context: Context,
      ) => {
        const view = viewOf(root, context);
        const { nodes, ...answer } = await circuitDistance(view, [from, to], {
          subsystem: subsystem ? enumWord(SUBSYSTEM_KINDS, subsystem) : undefined,
          signal: context.signal(),
        });
        return {
          ...answer,
          nodes: nodes.map(({ kinds: [kindBefore, kindAfter], ...node }) => ({
            ...node,
            kindBefore,
            kindAfter,
          })),
        };
      },
    },
    SimilarDevice: {
      device: ({ view, device }: SimilarSource) => deviceSource(view, device),
      specimen: ({ view, specimenId }: SimilarSource) => {
        const opened = view.specimen(specimenId);
        return opened ? specimenSource(view, opened) : null;
      },
      shared: ({ view, of, specimenId, iterations }: SimilarSource, { first }: { first: number }) => {
        const other = view.specimen(specimenId);
        return other
          ? whySimilar(of.specimen, other, { iterations, first: bounded('first', first, 50) })
          : [];
      },
    },
  },
  weights: {
    'Query.similarDevices': 5_000,
    'Query.deviceClusters': 20_000,
    'Query.circuitDistance': 20_000,
    'SimilarDevice.shared': 50,
  },
};

function bounded(name: string, value: number, most: number): number {
  if (value < 1 || value > most)
    throw new CasebackError('BAD_INPUT', `${name} is ${value}; it must be 1 to ${most}`);
  return value;
}
