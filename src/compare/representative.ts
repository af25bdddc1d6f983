import type { Device } from '../model/dossier.ts';
import { recordOfId } from '../model/ids.ts';
import { compareText } from '../state/lists/device-list.ts';
import { notFound, notOpened } from '../state/resolve.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';
import type { State } from '../state/state.ts';

/** A device and the specimen that represents it in a comparison. */
export interface Compared {
  readonly device: Device;
  readonly specimen: OpenedSpecimen;
  /** How many other visible specimens of the device there are; they may differ. */
  readonly otherSpecimens: number;
}

/**
 * The device of an id, with the specimen that represents it: the one named when the id is a specimen's,
 * otherwise the last one opened that was not damaged in opening, otherwise the last one opened.
 * @throws CasebackError NOT_FOUND when nothing visible has the id
 */
export function comparedOf(state: State, id: string): Compared {
  const named = state.specimen(id);
  const deviceId = recordOfId(id);
  const device = state.device(deviceId);
  const rows = [...state.specimensOf(deviceId)].sort((a, b) => compareText(a.openedOn, b.openedOn));
  const opened = named ? [named] : rows.flatMap(({ id: specimen }) => state.specimen(specimen) ?? []);
  const specimen = representative(
    opened,
    ({ dossier }) => dossier.specimen.condition === 'damaged-in-opening',
  );
  if (!device || !specimen) {
    throw device ? notOpened(device) : notFound(state, id, ['Device', 'Specimen']);
  }
  return { device, specimen, otherSpecimens: rows.length - 1 };
}

/** The last one that was not damaged in opening, otherwise the last. @param opened in the order of opening */
export function representative<T>(opened: readonly T[], damaged: (one: T) => boolean): T | undefined {
  return opened.findLast((one) => !damaged(one)) ?? opened.at(-1);
}
