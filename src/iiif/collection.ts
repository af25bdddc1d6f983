import type { Device } from '../model/dossier.ts';
import { hasPhotos } from '../photos/has-photos.ts';
import { Pace } from '../state/pace.ts';
import type { State } from '../state/state.ts';
import { archiveCollectionAt, deviceCollectionAt, manifestAt, type PhotoPlace } from './addresses.ts';
import {
  labelOfSpecimen,
  PRESENTATION,
  type PresentationDocument,
  photosInside,
  thumbnailOf,
} from './manifest.ts';
import { asRecorded, english } from './words.ts';

/** Devices in one collection; more of them are parted into pages, which are collections in a collection. */
export const DEVICES_A_PAGE = 100;

/** Manifests of the specimens of a device that have photos; undefined where none has. */
export function deviceCollection(
  state: State,
  device: Device,
  { base }: PhotoPlace,
): PresentationDocument | undefined {
  const items = state.specimensOf(device.id).flatMap((row) => {
    if (!hasPhotos(row)) return [];
    const opened = state.peek(row);
    const [first] = photosInside(row, opened);
    if (!first) return [];
    return [
      {
        id: manifestAt(base, row.id),
        type: 'Manifest',
        label: asRecorded(labelOfSpecimen(device, opened)),
        thumbnail: thumbnailOf(first, base),
      },
    ];
  });
  if (items.length === 0) return undefined;
  return {
    '@context': PRESENTATION,
    id: deviceCollectionAt(base, device.id),
    type: 'Collection',
    label: asRecorded(device.name),
    partOf: [{ id: archiveCollectionAt(base), type: 'Collection', label: english(ALL) }],
    items,
  };
}

const ALL = 'Photos of all devices';

/**
 * Devices with photos, each as its collection; where there are more than {@link DEVICES_A_PAGE}, collections of so many each.
 * @param page from 1; the first document when left out
 * @returns undefined for a page that there is not
 * @throws the signal's reason
 */
export async function archiveCollection(
  state: State,
  { base }: PhotoPlace,
  page?: number,
  signal?: AbortSignal,
): Promise<PresentationDocument | undefined> {
  const ids = await devicesWithPhotos(state, signal);
  const pages = Math.ceil(ids.length / DEVICES_A_PAGE);
  const from = page === undefined ? 0 : (page - 1) * DEVICES_A_PAGE;
  if (page !== undefined && !(pages > 1 && page >= 1 && page <= pages)) return undefined;
  const isParted = page === undefined && pages > 1;
  return {
    '@context': PRESENTATION,
    id: archiveCollectionAt(base, page),
    type: 'Collection',
    label: english(page === undefined ? ALL : pageLabel(page, ids.length)),
    ...(page === undefined
      ? {}
      : { partOf: [{ id: archiveCollectionAt(base), type: 'Collection', label: english(ALL) }] }),
    items: isParted
      ? Array.from({ length: pages }, (_, i) => ({
          id: archiveCollectionAt(base, i + 1),
          type: 'Collection',
          label: english(pageLabel(i + 1, ids.length)),
        }))
      : ids.slice(from, from + DEVICES_A_PAGE).map((id) => ({
          id: deviceCollectionAt(base, id),
          type: 'Collection',
          label: asRecorded(state.device(id)?.name ?? id),
        })),
  };
}

function pageLabel(page: number, count: number): string {
  const from = (page - 1) * DEVICES_A_PAGE;
  return `Devices ${from + 1} to ${Math.min(from + DEVICES_A_PAGE, count)} of ${count}`;
}

/** Ids of the devices of which a photo can be shown, in order. */
async function devicesWithPhotos(state: State, signal: AbortSignal | undefined): Promise<readonly string[]> {
  const pace = new Pace(signal);
  const ids = new Set<string>();
  for (const row of state.specimenRows()) {
    await pace.rest();
    if (!ids.has(row.deviceId) && hasPhotos(row)) ids.add(row.deviceId);
  }
  return [...ids].sort();
}
