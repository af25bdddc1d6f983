import graphology from 'graphology';
import louvainModule from 'graphology-communities-louvain';
import type { Device } from '../model/dossier.ts';
import { CasebackError } from '../model/problems.ts';
import { type DeviceFilter, devicePredicate } from '../state/lists/device-list.ts';
import { Pace } from '../state/pace.ts';
import type { State } from '../state/state.ts';
import { seededRandom } from '../statistics/random.ts';
import { componentGraph } from './similar/component-graph.ts';
import { MIXED_NUMBERS, subtreeNumbers } from './similar/kernel.ts';
import { type KernelDevice, kernelIndexOf } from './similar/kernel-index.ts';
import { neighbourhoodText } from './similar/neighbourhood-text.ts';
import { DEFAULT_ITERATIONS, requireIterations } from './similarity.ts';

// Its types describe an ES module; it is a CommonJS one, whose export is the function itself.
const communitiesOf = louvainModule as unknown as typeof louvainModule.default;

/** Devices that clusters are made of at once; the work grows with the square of their number. */
export const MAX_CLUSTERED = 3_000;
/** Each device is tied to this many of the most similar ones. */
const TIES = 8;
const DEFAULT_SEED = 1;

export interface ClusterOptions {
  /** Height of the neighbourhoods compared. @default 3 */
  readonly iterations?: number;
  /** Above 1 gives more and smaller clusters (Reichardt & Bornholdt 2006). @default 1 */
  readonly resolution?: number;
  /** Seed of the order in which devices are visited; the same seed gives the same clusters. @default 1 */
  readonly seed?: number;
  readonly filter?: DeviceFilter;
  readonly signal?: AbortSignal;
}

export interface DeviceClusters {
  /** Largest first, then by id of the typical device. */
  readonly clusters: readonly DeviceCluster[];
  /** Devices clustered. */
  readonly devices: number;
  /** Newman's modularity of the clusters over the graph of similarities, at most 1; near 0 the clusters mean little. */
  readonly modularity: number;
}

export interface DeviceCluster {
  /** The device most similar to the others on average. */
  readonly typical: Device;
  /** Members by mean similarity to the others, highest first. */
  readonly members: readonly ClusterMember[];
  /** Neighbourhoods of the typical device that distinguish the cluster from the rest, most distinctive first. */
  readonly marks: readonly ClusterMark[];
}

export interface ClusterMember {
  readonly device: Device;
  /** Mean normalised kernel with the other members, 0 to 1; 1 for a member alone. */
  readonly similarity: number;
}

export interface ClusterMark {
  readonly words: string;
  /** Members that have it, and devices outside the cluster that do. */
  readonly inside: number;
  readonly outside: number;
}

/**
 * Groups of visible devices with like component graphs: communities (Louvain: Blondel, Guillaume, Lambiotte & Lefebvre,
 * J. Stat. Mech. 2008, P10008, from graphology-communities-louvain) of a graph that ties each device to its eight most
 * similar, weighted by the normalised subtree kernel.
 * @throws CasebackError BAD_INPUT for options out of range; OUT_OF_BUDGET for more than 3,000 devices
 */
export async function clusterDevices(
  state: State,
  {
    iterations = DEFAULT_ITERATIONS,
    resolution = 1,
    seed = DEFAULT_SEED,
    filter = {},
    signal,
  }: ClusterOptions = {},
): Promise<DeviceClusters> {
  requireIterations(iterations);
  if (!(resolution > 0 && resolution <= 100))
    throw new CasebackError('BAD_INPUT', `resolution is ${resolution}; it must be above 0 and at most 100`);
  if (!(Number.isInteger(seed) && seed >= 0 && seed < 2 ** 32))
    throw new CasebackError('BAD_INPUT', `seed is ${seed}; it must be a whole number from 0 to 4294967295`);
  const pace = new Pace(signal);
  const devices = await devicesOf(state, filter, iterations, pace);
  if (devices.length === 0) return { clusters: [], devices: 0, modularity: 0 };
  const holders = holdersOf(devices);
  const similarity = await similarities(devices, holders, pace);
  const { communities, modularity } = louvain(devices, similarity, resolution, seed);
  const groups = new Map<number, number[]>();
  devices.forEach((_, at) => {
    const group = groups.get(communities[at]) ?? [];
    groups.set(communities[at], group);
    group.push(at);
  });
  const clusters = [...groups.values()]
    .map((group) => clusterOf(state, devices, holders, group, similarity, iterations))
    .sort((a, b) => b.members.length - a.members.length || (a.typical.id < b.typical.id ? -1 : 1));
  return { clusters, devices: devices.length, modularity: Number.isFinite(modularity) ? modularity : 0 };
}

/** In the order of their ids, so that the order of filing plays no part. */
async function devicesOf(
  state: State,
  filter: DeviceFilter,
  iterations: number,
  pace: Pace,
): Promise<readonly KernelDevice[]> {
  const passes = devicePredicate(filter);
  const chosen = [...state.devices()].filter(passes).sort((a, b) => (a.id < b.id ? -1 : 1));
  if (chosen.length > MAX_CLUSTERED) {
    throw new CasebackError(
      'OUT_OF_BUDGET',
      `${chosen.length} devices are more than clusters are made of at once (${MAX_CLUSTERED}); narrow the filter`,
    );
  }
  const index = kernelIndexOf(state);
  const devices: KernelDevice[] = [];
  for (const device of chosen) {
    if (pace.due) await pace.rest();
    const found = index.deviceOf(state, device, iterations);
    if (found) devices.push(found);
  }
  return devices;
}

/** Devices by the labels they have: for each label their places among the devices. */
function holdersOf(devices: readonly KernelDevice[]): ReadonlyMap<number, readonly number[]> {
  const holders = new Map<number, number[]>();
  devices.forEach(({ entry }, at) => {
    for (const label of entry.counts.labels) {
      const known = holders.get(label);
      if (known) known.push(at);
      else holders.set(label, [at]);
    }
  });
  return holders;
}

/** Normalised kernels of all pairs, `[a * n + b]`; only labels that two devices share take time. */
async function similarities(
  devices: readonly KernelDevice[],
  holders: ReadonlyMap<number, readonly number[]>,
  pace: Pace,
): Promise<Float32Array> {
  const n = devices.length;
  const numbers = new Map<number, number>();
  for (const [label, held] of holders) if (held.length > 1) numbers.set(label, numbers.size);
  const shared = devices.map(({ entry: { counts } }) => {
    const kept = [...counts.labels.keys()].filter((at) => numbers.has(counts.labels[at]));
    return {
      labels: Uint32Array.from(kept, (at) => numbers.get(counts.labels[at]) as number),
      counts: Uint32Array.from(kept, (at) => counts.counts[at]),
    };
  });
  const own = new Float64Array(numbers.size);
  const all = new Float32Array(n * n).fill(1);
  for (let a = 0; a < n; a++) {
    if (pace.due) await pace.rest();
    own.fill(0);
    shared[a].labels.forEach((label, at) => {
      own[label] = shared[a].counts[at];
    });
    for (let b = a + 1; b < n; b++) {
      const { labels, counts } = shared[b];
      let kernel = 0;
      for (let at = 0; at < labels.length; at++) kernel += own[labels[at]] * counts[at];
      const norm = devices[a].entry.norm * devices[b].entry.norm;
      const value = norm === 0 ? 0 : Math.min(1, kernel / norm);
      all[a * n + b] = value;
      all[b * n + a] = value;
    }
  }
  return all;
}

function louvain(
  devices: readonly KernelDevice[],
  similarity: Float32Array,
  resolution: number,
  seed: number,
) {
  const n = devices.length;
  const graph = new graphology.UndirectedGraph<Record<string, never>, { weight: number }>();
  for (let at = 0; at < n; at++) graph.addNode(String(at));
  for (let a = 0; a < n; a++) {
    for (const b of nearest(similarity.subarray(a * n, (a + 1) * n), a)) {
      const weight = similarity[a * n + b];
      if (weight > 0) graph.mergeEdge(String(a), String(b), { weight });
    }
  }
  const rng = seededRandom(seed).uniform;
  const { communities, modularity } = communitiesOf.detailed(graph, {
    getEdgeWeight: 'weight',
    resolution,
    rng,
  });
  return { communities: devices.map((_, at) => communities[String(at)]), modularity };
}

/** Places of the largest values but that of the device itself; of equal ones the first. */
function nearest(values: Float32Array, self: number): readonly number[] {
  const best: number[] = [];
  values.forEach((value, at) => {
    if (at === self || (best.length === TIES && value <= values[best[TIES - 1]])) return;
    let place = best.length;
    while (place > 0 && values[best[place - 1]] < value) place--;
    best.splice(place, 0, at);
    if (best.length > TIES) best.pop();
  });
  return best;
}

function clusterOf(
  state: State,
  devices: readonly KernelDevice[],
  holders: ReadonlyMap<number, readonly number[]>,
  group: readonly number[],
  similarity: Float32Array,
  iterations: number,
): DeviceCluster {
  const n = devices.length;
  const ranked = group
    .map((at) => {
      const sum = group.reduce((total, other) => total + (other === at ? 0 : similarity[at * n + other]), 0);
      return { at, mean: group.length === 1 ? 1 : sum / (group.length - 1) };
    })
    .sort((a, b) => b.mean - a.mean || a.at - b.at);
  const typical = devices[ranked[0].at];
  return {
    typical: typical.device,
    members: ranked.map(({ at, mean }) => ({ device: devices[at].device, similarity: mean })),
    marks: marksOf(state, typical, devices.length, holders, new Set(group), iterations),
  };
}

/** Marks given of a cluster. */
const MARKS = 3;

function marksOf(
  state: State,
  typical: KernelDevice,
  devices: number,
  holders: ReadonlyMap<number, readonly number[]>,
  group: ReadonlySet<number>,
  iterations: number,
): readonly ClusterMark[] {
  const specimen = state.specimen(typical.specimenId);
  if (!specimen) return [];
  const { graph } = componentGraph(specimen, (part) => state.part(part));
  // Single kinds and their direct neighbourhoods; what lies further out is too long to describe.
  const words = new Map<number, string>();
  for (const [steps, labels] of subtreeNumbers(graph, Math.min(1, iterations), MIXED_NUMBERS).entries())
    for (const [node, label] of labels.entries()) {
      if (steps === 0 || graph.neighbours[node].length > 0)
        words.set(label, neighbourhoodText(graph, node, steps));
    }
  const outsiders = devices - group.size;
  return [...words]
    .map(([label, name]) => {
      const held = holders.get(label) ?? [];
      const inside = held.filter((at) => group.has(at)).length;
      const outside = held.length - inside;
      const distinction = inside / group.size - (outsiders === 0 ? 0 : outside / outsiders);
      return { words: name, inside, outside, distinction };
    })
    .sort((a, b) => b.distinction - a.distinction || (a.words < b.words ? -1 : 1))
    .slice(0, MARKS)
    .map(({ distinction: _, ...mark }) => mark);
}
