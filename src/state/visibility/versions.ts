import { isOpen, type Visible } from '../../model/visibility.ts';
import type { FactsDraft, Recall, Standing } from '../facts.ts';

// Which version of a thing readers see. Filing a version that readers may not see yet, a draft or one under embargo, leaves
// standing what they saw when it was filed, and supersedes all else. Only a recall takes away what they saw.

interface Filing<T> {
  /** The newest version so far. */
  readonly before: T | undefined;
  readonly next: Visible;
  /** Whether readers saw the newest version although it was not open by itself, as a device through its specimens. */
  readonly seen?: boolean;
  /** Whether filing takes back what stood before, as in entries from before recalls. */
  readonly recalls: true | undefined;
}

/** Settles which version of a thing stands for readers once another is filed. */
export function fileVersion<T extends Visible>(
  draft: FactsDraft,
  standing: {
    has(id: string): boolean;
    set(id: string, standing: Standing<T>): unknown;
    delete(id: string): unknown;
  },
  id: string,
  { before, next, seen = false, recalls }: Filing<T>,
): void {
  const isSeen = before !== undefined && (isNewestSeen(draft, id, before) || (seen && !standing.has(id)));
  const recalled = draft.recalls.get(id);
  if (recalled && !recalled.isFiledAnew) draft.recalls.set(id, { ...recalled, isFiledAnew: true });
  if (recalls && before) {
    draft.recalls.set(id, { sequence: draft.sequence, isFiledAnew: true });
    standing.delete(id);
  } else if (isOpen(next, draft.instant)) standing.delete(id);
  else if (isSeen) standing.set(id, { version: before, until: draft.sequence });
}

/** Takes a thing back: readers see no version that was filed before. */
export function recall(draft: FactsDraft, id: string, made: Recall['made']): void {
  draft.recalls.set(id, { sequence: draft.sequence, isFiledAnew: false, made });
  draft.standingRecords.delete(id);
  draft.standingSpecimens.delete(id);
}

/** Whether readers see a specimen at the instant of the draft. */
export function isSpecimenSeen(draft: FactsDraft, id: string): boolean {
  const row = draft.specimens.get(id);
  if (row && isNewestSeen(draft, id, row)) return true;
  const standing = draft.standingSpecimens.get(id);
  return standing !== undefined && isOpen(standing.version, draft.instant);
}

/** Whether readers see a device through one of its specimens at the instant of the draft. */
export function isSeenThroughSpecimen(draft: FactsDraft, device: string): boolean {
  return draft.devices.get(device)?.specimens.some((id) => isSpecimenSeen(draft, id)) ?? false;
}

function isNewestSeen(draft: FactsDraft, id: string, newest: Visible): boolean {
  return isOpen(newest, draft.instant) && draft.recalls.get(id)?.isFiledAnew !== false;
}
