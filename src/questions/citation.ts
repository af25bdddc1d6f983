// How to cite what the archive holds, and the archive itself.

import { archiveItem, type CslItem, publicationItem, sourceItem } from '../citation/csl.ts';
import { resolved } from '../state/resolve.ts';
import type { State } from '../state/state.ts';

/**
 * A source or publication as an item of CSL-JSON.
 * @throws CasebackError NOT_FOUND for an id of nothing of these kinds that the audience sees
 */
export function citationOf(view: State, id: string): CslItem {
  const found = resolved(view, id, ['Source', 'Publication']);
  return found.kind === 'Source' ? sourceItem(found.thing) : publicationItem(found.thing);
}

/**
 * The archive as an item of CSL-JSON. Of the present the day is said, and of an earlier state its instant; neither is that of an entry, which
 * readers may not see.
 * @param asOf the instant of an earlier view, ISO 8601 in UTC
 */
export function archiveCitation(view: State, asOf?: string): CslItem {
  return archiveItem({
    instant: asOf ?? new Date().toISOString(),
    isExact: asOf !== undefined,
    isInvented: isInvented(view),
  });
}

/** Whether a view has devices and all of them are demo data. */
export function isInvented(view: State): boolean {
  const devices = view.devices();
  return devices.length > 0 && devices.every(({ invented }) => invented);
}
