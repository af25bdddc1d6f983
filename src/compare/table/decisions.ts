import type { Decision } from '../../decisions/decision.ts';
import { decisionsOf } from '../../decisions/decisions.ts';
import { CERTAIN } from '../../state/labels.ts';
import type { State } from '../../state/state.ts';
import { count, type RowCell } from './cell.ts';

/** What is shown of a decision in a comparison. */
export type Decided = Pick<Decision, 'id' | 'deviceId' | 'patternId' | 'name' | 'probability' | 'standing'>;

/** Decisions of each device, asked once a device. */
export async function decisionsOfAll(
  state: State,
  deviceIds: readonly string[],
  signal?: AbortSignal,
): Promise<ReadonlyMap<string, readonly Decided[]>> {
  const all = new Map<string, readonly Decided[]>();
  for (const id of new Set(deviceIds)) all.set(id, await decisionsOf(state, id, signal));
  return all;
}

/** A row for each decision that a device may show; those an editor rejected count as not there, and say so. */
export function decisionRows(decisions: readonly Decided[]): readonly RowCell[] {
  const inOrder = [...decisions].sort((a, b) => (a.patternId < b.patternId ? -1 : 1));
  return inOrder.map(({ patternId, name, probability, standing }) => {
    const stands = standing === 'rejected' ? 0 : probability;
    return {
      key: `decisions.${patternId}`,
      label: name,
      unit: '1',
      is: 'Probability that the designers decided so, from all specimens of the device; certain: 1 when it is 0.95 or more.',
      cell: count(
        stands >= CERTAIN ? 1 : 0,
        stands,
        stands > 0 ? 1 : 0,
        standing === 'proposed' ? undefined : standing,
      ),
    };
  });
}
