import type { CatalogueRecord, Collection } from '../../model/catalogue.ts';
import { recordId } from '../../model/catalogue.ts';
import type { Device } from '../../model/dossier.ts';
import type { Path, ReadDocument } from '../document/document.ts';
import type { Held } from './context.ts';

/** A device as a file describes it, and where. */
export interface DescribedDevice {
  readonly device: Device;
  readonly document: ReadDocument;
  readonly path: Path;
}

/** Devices that the files describe, in dossiers or catalogues; the last place when several do. */
export function devicesDescribed(documents: readonly ReadDocument[]): ReadonlyMap<string, DescribedDevice> {
  const described = new Map<string, DescribedDevice>();
  for (const document of documents) {
    if (document.kind === 'catalogue')
      document.catalogue.devices.forEach((device, i) => {
        described.set(device.id, { device, document, path: ['devices', i] });
      });
    else if (typeof document.dossier.device !== 'string')
      described.set(document.dossier.device.id, {
        device: document.dossier.device,
        document,
        path: ['device'],
      });
  }
  return described;
}

/** Looks devices up in the files first, then in the archive. */
export function deviceLookup(
  documents: readonly ReadDocument[],
  held: Held,
): (id: string) => Device | undefined {
  const described = devicesDescribed(documents);
  return (id) => described.get(id)?.device ?? held.record('devices', id);
}

/** Looks records of a collection up in the files first, then in the archive. */
export function recordLookup<C extends Collection>(
  collection: C,
  documents: readonly ReadDocument[],
  held: Held,
): (id: string) => CatalogueRecord<C> | undefined {
  const written = new Map<string, CatalogueRecord>();
  for (const document of documents) {
    if (document.kind !== 'catalogue') continue;
    for (const record of document.catalogue[collection]) written.set(recordId(collection, record), record);
  }
  return (id) => (written.get(id) as CatalogueRecord<C> | undefined) ?? held.record(collection, id);
}
