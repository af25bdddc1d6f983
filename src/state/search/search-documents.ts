import {
  type CatalogueRecord,
  type Collection,
  type DeviceRecord,
  type Part,
  type Publication,
  recordId,
} from '../../model/catalogue.ts';
import { type Dossier, deviceIdOf, specimenIdOf } from '../../model/dossier.ts';
import { thingId } from '../../model/ids.ts';
import type { FactsDraft } from '../facts.ts';
import { currentIdentifications } from '../labels.ts';
import type { SearchDocument } from './search-index.ts';

/** Names in search documents besides a record's own words. */
type Described = Pick<FactsDraft, 'devices' | 'records'>;

/** Search documents of a catalogue record. */
export function documentsOfRecord(
  collection: Collection,
  record: CatalogueRecord,
  facts: Described,
): SearchDocument[] {
  const id = recordId(collection, record);
  const base = { id, specimen: '' };
  const { name, note } = record as { name?: string; note?: string };
  switch (collection) {
    case 'makers':
      return [{ ...base, kind: 'MAKER', title: name ?? id, words: `${id} ${note ?? ''}` }];
    case 'productLines':
      return [{ ...base, kind: 'PRODUCT_LINE', title: name ?? id, words: `${id} ${note ?? ''}` }];
    case 'parts': {
      const { number, categories, package: body, markings } = record as Part;
      const words = [id, ...categories, body, ...markings, note].filter(Boolean).join(' ');
      return [{ ...base, kind: 'PART', title: `${number} ${name ?? ''}`.trim(), words }];
    }
    case 'publications': {
      const { title, claims } = record as Publication;
      return [
        { ...base, kind: 'PUBLICATION', title, words: claims.map(({ sentence }) => sentence).join(' ') },
      ];
    }
    case 'devices': {
      const { maker, productLine, bodySite, released } = record as DeviceRecord;
      const makerName = facts.records.makers.get(maker)?.name;
      const words = [id, maker, makerName, productLine, bodySite, released, note].filter(Boolean).join(' ');
      return [{ ...base, kind: 'DEVICE', title: name ?? id, words }];
    }
    case 'sources':
    case 'patterns':
    case 'feeds':
    case 'listMappings':
      return [];
    default:
      return collection satisfies never;
  }
}

/** Search documents of a dossier: its components and observations. */
export function documentsOfDossier(dossier: Dossier, facts: Described): SearchDocument[] {
  const specimen = specimenIdOf(dossier);
  const documents: SearchDocument[] = [];
  const deviceName = facts.devices.get(deviceIdOf(dossier))?.device.name ?? deviceIdOf(dossier);
  const identified = currentIdentifications(dossier);
  for (const { id, marking, package: body, appears, value, fitted, note } of dossier.components) {
    const candidates = identified.get(id)?.candidates ?? [];
    // Components without words of their own, such as a bare capacitor, are found through the lists.
    if (marking === undefined && note === undefined && value === undefined && candidates.length === 0)
      continue;
    const named = candidates.flatMap(({ part, category }) => [
      part,
      category,
      ...(part ? (facts.records.parts.get(part)?.categories ?? []) : []),
    ]);
    const isEmpty = fitted === false;
    const words = [marking, value, body, appears, ...named, isEmpty && 'not fitted', note]
      .filter(Boolean)
      .join(' ');
    documents.push({
      id: thingId(specimen, id),
      kind: 'COMPONENT',
      specimen,
      title: `${id}${isEmpty ? ', not fitted,' : ''} in ${deviceName}`,
      words,
    });
  }
  for (const { id, text, marking, kind, note } of dossier.observations) {
    // A bare reading of a marking is found through its component.
    if (text === undefined && note === undefined) continue;
    const words = [kind, text, marking, note].filter(Boolean).join(' ');
    documents.push({ id: thingId(specimen, id), kind: 'OBSERVATION', specimen, title: text ?? kind, words });
  }
  return documents;
}
