import type { Device } from '../model/dossier.ts';
import { CasebackError } from '../model/problems.ts';
import { Pace } from '../state/pace.ts';
import { notFound } from '../state/resolve.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';
import type { State } from '../state/state.ts';
import { type Compared, comparedOf } from './representative.ts';
import { componentGraph } from './similar/component-graph.ts';
import { SubtreeLabels, sharedLabels, subtreeCounts, subtreeNumbers } from './similar/kernel.ts';
import { kernelIndexOf, similarityOf } from './similar/kernel-index.ts';
import { neighbourhoodText } from './similar/neighbourhood-text.ts';

/** Height of the neighbourhoods compared, in steps from a component; published uses choose 2 to 5. */
export const DEFAULT_ITERATIONS = 3;
export const MAX_ITERATIONS = 5;

export interface SimilarityOptions {
  /** Height of the neighbourhoods compared. @default 3 */
  readonly iterations?: number;
  readonly signal?: AbortSignal;
}

/** A device and how much its component graph is like that of the one asked about. */
export interface SimilarDevice {
  readonly device: Device;
  readonly specimenId: string;
  /** Normalised subtree kernel, 0 to 1. */
  readonly similarity: number;
}

export interface SimilarDevices {
  readonly of: Compared;
  /** Most similar first, ties by id; the device itself left out. */
  readonly devices: readonly SimilarDevice[];
  /** Devices that it was compared with. */
  readonly comparedWith: number;
}

/**
 * The visible devices whose component graphs are most like a device's.
 * @throws CasebackError NOT_FOUND when nothing visible has the id; BAD_INPUT for a height out of range
 */
export async function similarDevices(
  state: State,
  id: string,
  { iterations = DEFAULT_ITERATIONS, signal }: SimilarityOptions = {},
): Promise<SimilarDevices> {
  requireIterations(iterations);
  const of = comparedOf(state, id);
  const index = kernelIndexOf(state);
  const row = state.specimenRow(of.specimen.id);
  if (!row) throw notFound(state, id, ['Device', 'Specimen']);
  const own = index.entryOf(state, row, iterations);
  const pace = new Pace(signal);
  const devices: SimilarDevice[] = [];
  for (const device of state.devices()) {
    if (pace.due) await pace.rest();
    if (device.id === of.device.id) continue;
    const other = index.deviceOf(state, device, iterations);
    if (!other) continue;
    devices.push({ device, specimenId: other.specimenId, similarity: similarityOf(own, other.entry) });
  }
  devices.sort((a, b) => b.similarity - a.similarity || (a.device.id < b.device.id ? -1 : 1));
  return { of, devices, comparedWith: devices.length };
}

/** @throws CasebackError BAD_INPUT unless a whole number from 0 to 5 */
export function requireIterations(iterations: number): void {
  if (!Number.isInteger(iterations) || iterations < 0 || iterations > MAX_ITERATIONS) {
    throw new CasebackError(
      'BAD_INPUT',
      `iterations is ${iterations}; it must be a whole number from 0 to ${MAX_ITERATIONS}`,
    );
  }
}

/** A kind of component, or a kind with its surroundings, that two devices have in common. */
export interface SharedNeighbourhood {
  /** Steps from the component in the middle: 0 for its kind alone. */
  readonly steps: number;
  /** In words, such as `Accelerometer beside LinearRegulator and Microcontroller`. */
  readonly words: string;
  readonly inFirst: number;
  readonly inSecond: number;
  /** What it adds to the kernel of the two, as a share of it, 0 to 1. */
  readonly share: number;
}

/**
 * Why two specimens are alike: the kinds and neighbourhoods they share that add most to the kernel. Of each number of
 * steps at most `first` are given, so that common kinds do not crowd out more informative ones.
 */
export function whySimilar(
  state: State,
  a: OpenedSpecimen,
  b: OpenedSpecimen,
  {
    iterations = DEFAULT_ITERATIONS,
    first = 3,
  }: { readonly iterations?: number; readonly first?: number } = {},
): readonly SharedNeighbourhood[] {
  requireIterations(iterations);
  const known = new SubtreeLabels();
  const [one, other] = [a, b].map((specimen) => componentGraph(specimen, (part) => state.part(part)).graph);
  const words = new Map<number, { readonly steps: number; readonly words: string }>();
  for (const [steps, labels] of subtreeNumbers(one, iterations, known).entries()) {
    for (const [node, label] of labels.entries()) {
      // A component connected to nothing has no surroundings that could be shared.
      if (steps > 0 && one.neighbours[node].length === 0) continue;
      if (!words.has(label)) words.set(label, { steps, words: neighbourhoodText(one, node, steps) });
    }
  }
  const counts = [one, other].map((graph) => subtreeCounts(graph, iterations, known));
  const given = new Map<number, number>();
  return sharedLabels(counts[0], counts[1]).flatMap(({ label, ...shared }) => {
    const meaning = words.get(label);
    if (meaning === undefined) return [];
    const before = given.get(meaning.steps) ?? 0;
    if (before >= first) return [];
    given.set(meaning.steps, before + 1);
    return [{ ...meaning, ...shared }];
  });
}
