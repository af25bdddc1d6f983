import { partIdOf } from '../../model/catalogue.ts';
import { compareText } from '../../state/device-list.ts';
import { listParts, type PartFilter, type PartOrder, partKey } from '../../state/part-list.ts';
import type { View } from '../../state/view.ts';
import { knownTerm } from '../base/terms.ts';
import { reversedListing, sortedListing } from '../connections/listing.ts';
import { type PageArguments, paginate } from '../connections/paginate.ts';
import { type PartSource, partSource } from '../sources/catalogue.ts';

export interface PartsArguments extends PageArguments {
  readonly filter?: PartFilter | null;
  readonly orderBy: { readonly field: PartOrder; readonly direction: 'ASC' | 'DESC' };
}

/** One page of the parts that pass a filter. */
export function pageOfParts(view: View, { filter, orderBy, ...page }: PartsArguments) {
  const { field, direction } = orderBy;
  knownTerm(filter?.category, 'category');
  const listing = direction === 'DESC' ? reversedListing : sortedListing;
  const parts = listing(`parts by ${field} ${direction}`, listParts(view, filter ?? {}, field), (part) => [
    partKey(view, part, field),
    partIdOf(part),
  ]);
  return paginate(parts, page, (part) => partSource(view, part));
}

/** One specimen that may hold a part. */
export interface PartUse {
  readonly part: PartSource;
  readonly specimenId: string;
}

/** One page of the visible specimens that may hold a part. */
export function pageOfUses(part: PartSource, page: PageArguments) {
  const { view, id } = part;
  const rows = view.holdersOf(id).toSorted((a, b) => compareText(a.id, b.id));
  const listing = sortedListing('specimens that may hold a part', rows, (row) => [row.id]);
  return paginate(listing, page, (row): PartUse => ({ part, specimenId: row.id }));
}

/** Largest probability that a component of the specimen is the part. */
export function probabilityOfUse({ part, specimenId }: PartUse): number {
  const candidates = [...(part.view.specimen(specimenId)?.identified.values() ?? [])].flatMap(
    (identification) => identification.candidates,
  );
  return Math.max(0, ...candidates.map((one) => (one.part === part.id ? one.probability : 0)));
}
