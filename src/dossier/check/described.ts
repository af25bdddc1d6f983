import type { CatalogueRecord, Collection } from '../../model/catalogue.ts';
import { recordId } from '../../model/catalogue.ts';
import type { Device } from '../../model/dossier.ts';
import type { DossierDocument, ReadDocument } from '../document/document.ts';
import type { Held } from './context.ts';

/** Devices that the files describe, with the document that does; the last one when several do. */
export function devicesDescribed(
  documents: readonly ReadDocument[],
): ReadonlyMap<string, { readonly device: Device; readonly document: DossierDocument }> {
  const described = new Map<string, { device: Device; document: DossierDocument }>();
  for (const document of documents) {
    if (document.kind !== 'dossier') continue;
    const { device } = document.dossier;
    if (typeof device !== 'string') described.set(device.id, { device, document });
  }
  return described;
}

/** Looks devices up in the files first, then in the archive. */
export function deviceLookup(
  documents: readonly ReadDocument[],
  held: Held,
): (id: string) => Device | undefined {
  const described = devicesDescribed(documents);
  return (id) => described.get(id)?.device ?? held.device(id);
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
