import { circuitDistance } from '../../compare/circuit-distance.ts';
import { clusterDevices } from '../../compare/clusters.ts';
import { DEFAULT_ITERATIONS, MAX_ITERATIONS, similarDevices, whySimilar } from '../../compare/similarity.ts';
import { SUBSYSTEM_KINDS } from '../../model/dossier.ts';
import type { State } from '../../state/state.ts';
import { fixed } from '../../text/rounding.ts';
import { asTexts, asValues, type ToldRow, told, toldWhole } from '../answers/told.ts';
import { defineCommand } from '../frame/command.ts';
import { UsageError } from '../frame/exit.ts';
import { choice, decimal, flag, type ValuesOf, whole } from '../frame/options.ts';

const OPTIONS = {
  first: whole('N', { help: 'how many devices', min: 1, max: 100, default: 10 }),
  iterations: whole('N', {
    help: 'how far the neighbourhoods compared reach, in steps',
    min: 0,
    max: MAX_ITERATIONS,
    default: DEFAULT_ITERATIONS,
  }),
  clusters: flag('groups of similar devices'),
  resolution: decimal('N', { help: 'above 1 gives more and smaller clusters', above: 0, default: 1 }),
  seed: whole('N', { help: 'the same seed gives the same clusters', min: 0, max: 2 ** 32 - 1, default: 1 }),
  subsystem: choice('KIND', SUBSYSTEM_KINDS, {
    help: 'of two devices, only components in subsystems of this kind',
  }),
};
type Settings = ValuesOf<typeof OPTIONS>;

/** Rows, and what is to be said of them in one sentence. */
interface Listing {
  readonly rows: readonly ToldRow[];
  readonly summary?: string;
  /** What JSON has around the rows. */
  readonly json?: (rows: readonly object[]) => object;
}

export const command = defineCommand({
  name: 'similar',
  about:
    'The devices whose component graphs are most similar to that of one (1: cannot be told apart, 0: nothing in common), and what they share. With --clusters, groups of similar devices. With two devices, the number of changes between their circuits, or the range in which it lies: a component or connection put in or taken out, or a component of another kind, counts 1.',
  arguments: [
    { name: 'DEVICE', help: 'a device or specimen', optional: true },
    { name: 'OTHER', help: 'another one, for the distance of the two', optional: true },
  ],
  options: OPTIONS,
  uses: 'view',
  givesFigures: true,
  formats: ['table', 'csv', 'json'],
  examples: [
    'similar tarn-sennit-4 --first 3',
    'similar --clusters',
    'similar tarn-sennit-3/a tarn-sennit-3/b --subsystem power',
  ],

  async run(call) {
    const { options } = call;
    const [id, other] = call.arguments;
    if (options.clusters === (id !== undefined))
      throw new UsageError('name one or two devices, or give --clusters alone');
    const view = await call.view();
    const listing =
      id === undefined
        ? await clusterRows(view, options)
        : other === undefined
          ? await nearestRows(view, id, options)
          : await distanceRows(view, [id, other], options);
    const { rows, summary, json = (values) => values } = listing as Listing;
    return {
      table: () => asTexts(rows),
      json: () => json(asValues(rows)),
      messages: summary === undefined ? [] : [summary],
    };
  },
});

async function nearestRows(view: State, id: string, { iterations, first }: Settings): Promise<Listing> {
  const { of, devices } = await similarDevices(view, id, { iterations });
  const rows = devices.slice(0, first).map(({ device, specimenId, similarity }) => {
    const other = view.specimen(specimenId);
    const shared = other ? whySimilar(view, of.specimen, other, { iterations, first: 2 }) : [];
    const named = shared.filter(({ steps }) => steps === Math.min(1, iterations));
    return {
      device: device.id,
      released: device.released,
      similarity: told(fixed(similarity, 3), similarity),
      'what they share': named.map(({ words }) => words).join('; '),
    };
  });
  return { rows };
}

async function clusterRows(view: State, { iterations, resolution, seed }: Settings): Promise<Listing> {
  const { clusters, devices, modularity } = await clusterDevices(view, { iterations, resolution, seed });
  return {
    summary: `${devices} devices in ${clusters.length} clusters; modularity ${fixed(modularity, 2)}`,
    rows: clusters.flatMap(({ members, marks }, at) =>
      members.map(({ device, similarity }, place) => ({
        cluster: toldWhole(at + 1),
        device: device.id,
        'mean similarity': told(fixed(similarity, 3), similarity),
        marks:
          place > 0
            ? ''
            : marks
                .map(({ words, inside, outside }) => `${words} (${inside} here, ${outside} elsewhere)`)
                .join('; '),
      })),
    ),
  };
}

async function distanceRows(
  view: State,
  ids: readonly [string, string],
  { subsystem }: Settings,
): Promise<Listing> {
  const { nodes, ...distance } = await circuitDistance(view, ids, { subsystem });
  const { atLeast, atMost, method, relabelled, nodesRemoved, nodesAdded, edgesRemoved, edgesAdded } =
    distance;
  const changes =
    `${relabelled} components of another kind, ${nodesRemoved} taken out, ${nodesAdded} put in; ` +
    `${edgesRemoved} connections taken out, ${edgesAdded} put in`;
  return {
    summary:
      method === 'bounds'
        ? `between ${atLeast} and ${atMost} changes; these are ${atMost}: ${changes}. ${HOW_BOUNDED}`
        : `${atMost} changes: ${changes}`,
    rows: nodes.map(({ from, to, kinds: [before, after] }) => ({
      [ids[0]]: from ?? '',
      kind: before ?? '',
      [ids[1]]: to ?? '',
      'kind after': after ?? '',
      'distance at least': toldWhole(atLeast),
      'distance at most': toldWhole(atMost),
    })),
    json: (pairs) => ({
      ...(method === 'bounds' ? {} : { distance: atMost }),
      atLeast,
      atMost,
      method,
      changes: { relabelled, nodesRemoved, nodesAdded, edgesRemoved, edgesAdded },
      pairs,
    }),
  };
}

const HOW_BOUNDED =
  'These circuits are too large to try every mapping: the lower bound assigns components with half of each of their connections (BRANCH, tightened), the upper bound is the best mapping found (bipartite assignment, IPFP, K-REFINE).';
