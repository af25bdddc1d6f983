// Comparisons of devices. The code is loaded on first use.

import type { AlignmentWeights } from '../compare/align/weights.ts';
import type { AlignmentOptions, DeviceAlignment } from '../compare/alignment.ts';
import type { CircuitDistance } from '../compare/circuit-distance.ts';
import type { ClusterOptions, DeviceClusters } from '../compare/clusters.ts';
import type { Section, TableOptions } from '../compare/comparison-table.ts';
import type { Generation, Generations } from '../compare/generations.ts';
import type { Integration } from '../compare/line/integration.ts';
import type { Revision } from '../compare/line/revisions.ts';
import type { KeptPart, Sighting } from '../compare/line/sightings.ts';
import type { DecisionChange, LineStep } from '../compare/line/steps.ts';
import type { Compared } from '../compare/representative.ts';
import type { SharedNeighbourhood, SimilarDevices, SimilarityOptions } from '../compare/similarity.ts';
import type { Device, SUBSYSTEM_KINDS } from '../model/dossier.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';
import type { State } from '../state/state.ts';

/** Everything counted and measured of devices, in sections of rows. */
export async function comparisonSections(
  state: State,
  columns: readonly Compared[],
  options: TableOptions,
): Promise<readonly Section[]> {
  const { tableOf } = await import('../compare/comparison-table.ts');
  return (await tableOf(state, columns, options)).sections;
}

/** Components of devices, aligned by role. @throws CasebackError BAD_INPUT for too few or too many */
export async function alignedComponents(
  state: State,
  columns: readonly Compared[],
  options: AlignmentOptions,
): Promise<DeviceAlignment> {
  const { alignColumns } = await import('../compare/alignment.ts');
  return alignColumns(state, columns, options);
}

/** Every weight and limit of an alignment, and what it means. */
export async function alignmentWeights(): Promise<
  Readonly<Record<keyof AlignmentWeights, { readonly is: string }>>
> {
  return (await import('../compare/align/weights.ts')).WEIGHT_TABLE;
}

/** A product line from its first device to its last. @throws CasebackError NOT_FOUND */
export async function generationsOf(state: State, productLine: string): Promise<Generations> {
  const { generations } = await import('../compare/generations.ts');
  return generations(state, productLine);
}

/** Every succession into a device of a line. */
export async function stepsAlong(line: readonly Generation[]): Promise<readonly LineStep[]> {
  const { lineSteps } = await import('../compare/line/steps.ts');
  return lineSteps(line);
}

/** Changes of the components from one device to the next. */
export async function alignedStep(
  state: State,
  step: LineStep,
  options: AlignmentOptions,
): Promise<DeviceAlignment> {
  const { stepAlignment } = await import('../compare/line/steps.ts');
  return stepAlignment(state, step, options);
}

/** Design decisions adopted and dropped from one device to the next. */
export async function decisionsChanged(
  state: State,
  step: LineStep,
  signal?: AbortSignal,
): Promise<readonly DecisionChange[]> {
  const { decisionChanges } = await import('../compare/line/steps.ts');
  return decisionChanges(state, step, signal);
}

/** When each part, or each maker of parts, came into a line and when it went. */
export async function sightingsAlong(
  state: State,
  line: readonly Generation[],
  of: 'parts' | 'makers',
): Promise<readonly Sighting[]> {
  const { sightings } = await import('../compare/line/sightings.ts');
  return sightings(line, await hadAlong(state, line), (had) => had[of]);
}

/** The parts of a device of a line, and since when the line has kept each. */
export async function partsKept(
  state: State,
  line: readonly Generation[],
  device: Device,
): Promise<readonly KeptPart[]> {
  const { keptParts } = await import('../compare/line/sightings.ts');
  return (
    keptParts(line, await hadAlong(state, line)).find((kept) => kept.device.id === device.id)?.parts ?? []
  );
}

type Had = Awaited<ReturnType<typeof readAlong>>;
const had = new WeakMap<readonly Generation[], Promise<Had>>();

/** What each device of a line has, calculated once for an answer. */
export function hadAlong(state: State, line: readonly Generation[]): Promise<Had> {
  const found = had.get(line) ?? readAlong(state, line);
  had.set(line, found);
  return found;
}

async function readAlong(state: State, line: readonly Generation[]) {
  const { partsAndMakers } = await import('../presence/presence.ts');
  return line.map(({ device }) => partsAndMakers(state, device));
}

/** How many functions the chips of a device have. */
export async function integrationOfDevice(state: State, compared: Compared): Promise<Integration> {
  const { integrationOf } = await import('../compare/line/integration.ts');
  return integrationOf(state, compared);
}

/** The specimens of a device, each aligned with the one after it. */
export async function revisionsOfDevice(
  state: State,
  device: Device,
  signal?: AbortSignal,
): Promise<readonly Revision[]> {
  const { revisionsOf } = await import('../compare/line/revisions.ts');
  return revisionsOf(state, device, { signal });
}

/** The devices whose component graphs are most similar to a device's. @throws CasebackError NOT_FOUND */
export async function devicesLike(
  state: State,
  id: string,
  options: SimilarityOptions,
): Promise<SimilarDevices> {
  const { similarDevices } = await import('../compare/similarity.ts');
  return similarDevices(state, id, options);
}

/** What two specimens have in common that adds most to their similarity. */
export async function neighbourhoodsShared(
  state: State,
  specimen: OpenedSpecimen,
  other: OpenedSpecimen,
  options: { readonly iterations: number; readonly first: number },
): Promise<readonly SharedNeighbourhood[]> {
  const { whySimilar } = await import('../compare/similarity.ts');
  return whySimilar(state, specimen, other, options);
}

/** Groups of devices with like component graphs. @throws CasebackError OUT_OF_BUDGET for too many */
export async function clustersOf(state: State, options: ClusterOptions): Promise<DeviceClusters> {
  const { clusterDevices } = await import('../compare/clusters.ts');
  return clusterDevices(state, options);
}

/** The edit distance between the circuits of two devices, or its range. @throws CasebackError TOO_LARGE, NOT_FOUND */
export async function distanceOfCircuits(
  state: State,
  ids: readonly [string, string],
  options: { readonly subsystem?: (typeof SUBSYSTEM_KINDS)[number]; readonly signal?: AbortSignal },
): Promise<CircuitDistance> {
  const { circuitDistance } = await import('../compare/circuit-distance.ts');
  return circuitDistance(state, ids, options);
}
