import type { Device } from '../../model/dossier.ts';
import { CERTAIN } from '../../state/labels.ts';
import type { State } from '../../state/state.ts';
import { type AlignmentOptions, alignColumns, type DeviceAlignment } from '../alignment.ts';
import type { Generation } from '../generations.ts';
import { comparedOf } from '../representative.ts';
import { type Decided, decisionsOfAll } from '../table/decisions.ts';

/** From one device to one that follows it. Where a line splits or merges, a device stands in several steps. */
export interface LineStep {
  readonly from: Device;
  readonly to: Device;
}

/** Every succession into a device of the line, in the order of the line; predecessors may be of another line. */
export function lineSteps(generations: readonly Generation[]): readonly LineStep[] {
  return generations.flatMap(({ device, predecessors }) =>
    predecessors.map((from) => ({ from, to: device })),
  );
}

/** What became of the components from one device to the next. */
export async function stepAlignment(
  state: State,
  { from, to }: LineStep,
  options: AlignmentOptions = {},
): Promise<DeviceAlignment> {
  return alignColumns(state, [comparedOf(state, from.id), comparedOf(state, to.id)], options);
}

/** A design decision that one of two devices shows and the other does not. */
export interface DecisionChange {
  readonly patternId: string;
  readonly name: string;
  readonly change: 'adopted' | 'dropped';
  /** Probabilities that the designers of either device decided so; 0 where an editor rejected it. */
  readonly before: number;
  readonly after: number;
  /** Probability of the change, both devices taken as independent. */
  readonly probability: number;
  readonly certain: boolean;
}

/** Decisions adopted and dropped in a step: rather there than not on one side alone. Likeliest first. */
export async function decisionChanges(
  state: State,
  { from, to }: LineStep,
  signal?: AbortSignal,
): Promise<readonly DecisionChange[]> {
  const decisions = await decisionsOfAll(state, [from.id, to.id], signal);
  return changesBetween(decisions.get(from.id) ?? [], decisions.get(to.id) ?? []);
}

export function changesBetween(
  before: readonly Decided[],
  after: readonly Decided[],
): readonly DecisionChange[] {
  const chance = (one: Decided | undefined) =>
    one === undefined || one.standing === 'rejected' ? 0 : one.probability;
  const names = new Map([...before, ...after].map(({ patternId, name }) => [patternId, name]));
  return [...names]
    .flatMap(([patternId, name]): DecisionChange[] => {
      const [p, q] = [before, after].map((all) => chance(all.find((one) => one.patternId === patternId)));
      if (p >= 0.5 === q >= 0.5) return [];
      const adopted = q >= 0.5;
      const probability = adopted ? q * (1 - p) : p * (1 - q);
      const change = adopted ? 'adopted' : 'dropped';
      return [{ patternId, name, change, before: p, after: q, probability, certain: probability >= CERTAIN }];
    })
    .sort((a, b) => b.probability - a.probability || (a.patternId < b.patternId ? -1 : 1));
}
