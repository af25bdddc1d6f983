import type { Device } from '../../model/dossier.ts';
import { compareText } from '../../state/lists/device-list.ts';
import type { State } from '../../state/state.ts';
import { type AlignmentOptions, alignColumns, type DeviceAlignment } from '../alignment.ts';
import { type Compared, comparedOf } from '../representative.ts';

/** Two specimens of one device, one after the other, and how they differ. */
export interface Revision {
  readonly device: Device;
  readonly from: Compared;
  readonly to: Compared;
  readonly alignment: DeviceAlignment;
  /** Whether any component was replaced, moved, added or removed, as far as can be told. */
  readonly differs: boolean;
}

/**
 * The visible specimens of a device, each aligned with the one after it, ordered by the text of their revisions (those
 * without one first), then by the day of opening. Empty for a device of one specimen.
 */
export async function revisionsOf(
  state: State,
  device: Device,
  options: AlignmentOptions = {},
): Promise<readonly Revision[]> {
  const specimens = [...state.specimensOf(device.id)]
    .map(({ id, openedOn }) => ({ openedOn, compared: comparedOf(state, id) }))
    .sort(
      (a, b) =>
        compareText(revision(a.compared), revision(b.compared)) ||
        compareText(a.openedOn, b.openedOn) ||
        compareText(a.compared.specimen.id, b.compared.specimen.id),
    );
  const revisions: Revision[] = [];
  for (const [at, { compared: to }] of specimens.slice(1).entries()) {
    const from = specimens[at].compared;
    const alignment = await alignColumns(state, [from, to], options);
    const differs = alignment.steps[0].tallies.some(
      ({ change, rows }) => change !== 'kept' && change !== 'not-observed' && rows > 0,
    );
    revisions.push({ device, from, to, alignment, differs });
  }
  return revisions;
}

function revision({ specimen }: Compared): string {
  return specimen.dossier.specimen.revision ?? '';
}
