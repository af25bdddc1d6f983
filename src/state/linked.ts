import {
  type CatalogueRecord,
  type Collection,
  claimIdOf,
  type DeviceRecord,
  type Part,
  type ProductLine,
  type Publication,
} from '../model/catalogue.ts';
import { type Dossier, deviceIdOf, specimenIdOf } from '../model/dossier.ts';
import { TEARDOWN, thingId } from '../model/ids.ts';
import type { Link, LinksDraft } from './links.ts';

// Outgoing links of each kind of thing. The parts that a specimen may hold are in `holders`.

/** A catalogue record, and the claims of a publication. @param before the record that it replaces */
export function linkRecord(
  links: LinksDraft,
  collection: Collection,
  id: string,
  record: CatalogueRecord,
  before: CatalogueRecord | undefined,
): void {
  links.describe(id, linksOf(collection, record));
  if (collection !== 'publications') return;
  const publication = record as Publication;
  for (const claim of (before as Publication | undefined)?.claims ?? [])
    links.remove(claimIdOf({ id }, claim));
  for (const claim of publication.claims) {
    links.describe(
      claimIdOf({ id }, claim),
      claim.supportedBy.map((on) => ['SUPPORTED_BY', on] as const),
    );
  }
}

export function unlinkRecord(
  links: LinksDraft,
  collection: Collection,
  id: string,
  record: CatalogueRecord,
): void {
  links.remove(id);
  if (collection !== 'publications') return;
  for (const claim of (record as Publication).claims) links.remove(claimIdOf({ id }, claim));
}

function linksOf(collection: Collection, record: CatalogueRecord): readonly Link[] {
  switch (collection) {
    case 'productLines':
      return [['MADE_BY', (record as ProductLine).maker]];
    case 'parts': {
      const { maker, relabels } = record as Part;
      return [['MADE_BY', maker], ...(relabels ? [['RELABELS', relabels] as const] : [])];
    }
    case 'publications': {
      const { id, claims } = record as Publication;
      return claims.map((claim) => ['ASSERTS', claimIdOf({ id }, claim)]);
    }
    case 'devices': {
      const { maker, productLine, succeeds } = record as DeviceRecord;
      return [
        ['MADE_BY', maker],
        ...(productLine ? [['IN_LINE', productLine] as const] : []),
        ...succeeds.map((id) => ['SUCCEEDS', id] as const),
      ];
    }
    case 'makers':
    case 'sources':
    case 'patterns':
    case 'feeds':
    case 'listMappings':
      return [];
    default:
      return collection satisfies never;
  }
}

/** A specimen and its teardown. */
export function linkSpecimen(links: LinksDraft, dossier: Dossier): void {
  const id = specimenIdOf(dossier);
  const teardown = teardownOf(id);
  links.describe(id, [
    ['SPECIMEN_OF', deviceIdOf(dossier)],
    ['OPENED_IN', teardown],
    ...citedBy(dossier).map((cited) => ['CITES', cited] as const),
    ...makersNamedBy(dossier).map((maker) => ['MAY_BE_BY', maker] as const),
  ]);
  links.describe(teardown, []);
}

export function unlinkSpecimen(links: LinksDraft, id: string): void {
  links.remove(id);
  links.remove(teardownOf(id));
}

function teardownOf(specimenId: string): string {
  return thingId(specimenId, TEARDOWN);
}

/** Sentences and sources that observations and identifications cite. */
export function citedBy({ observations, identifications }: Dossier): readonly string[] {
  const cited = [...observations, ...identifications].flatMap(({ cites = [] }) => cites);
  return [...new Set(cited)];
}

/** Makers that identifications name without a part. */
function makersNamedBy({ identifications }: Dossier): readonly string[] {
  const makers = identifications.flatMap(({ candidates }) => candidates.flatMap(({ maker }) => maker ?? []));
  return [...new Set(makers)];
}
