import { partIdOf } from '../../../model/catalogue.ts';
import { PARAMETERS } from '../../../model/taxonomy.ts';
import { presenceOf, presenceRow, specimensHaving } from '../../../presence/presence.ts';
import { numberOf } from '../../../presence/row.ts';
import { compareText } from '../../../state/lists/device-list.ts';
import { listParts, type PartFilter, partKey } from '../../../state/lists/part-list.ts';
import type { State } from '../../../state/state.ts';
import { pageOfComponents } from '../components/list.ts';
import { viewOf } from '../context.ts';
import { reversedListing, sortedListing } from '../listing.ts';
import { itself, marks, recalled } from '../marks.ts';
import { type PageArguments, paginate } from '../paginate.ts';
import type * as Api from '../resolver-types.ts';
import { makerSource, maybe, type PartSource, partSource } from '../sources.ts';
import { specimenSource } from '../specimens/sources.ts';
import { knownTerm } from '../words.ts';

/** One page of the parts that pass a filter. */
export async function pageOfParts(
  view: State,
  filter: PartFilter,
  { field, direction }: Api.PartOrder,
  page: PageArguments,
  signal: AbortSignal,
) {
  knownTerm(filter.category, 'category');
  const listing = direction === 'DESC' ? reversedListing : sortedListing;
  // Read in turns with other requests, so that looking uses up afterwards takes no time.
  if (typeof filter.seen === 'boolean' || field === 'USE') await presenceOf(view, signal);
  const uses = new Map<string, number>();
  const usesOf = (part: string) => {
    const count = uses.get(part) ?? specimensHaving(view, part).length;
    uses.set(part, count);
    return count;
  };
  const found = listParts(view, filter, field, usesOf);
  const parts = listing(`parts by ${field} ${direction}`, found, (part) => [
    partKey(part, field, usesOf),
    partIdOf(part),
  ]);
  return paginate(parts, page, (part) => partSource(view, part));
}

/** One page of the visible specimens that certainly or possibly have a part, each with the probability. */
function pageOfUses(part: PartSource, page: PageArguments) {
  const { view, id } = part;
  const rows = specimensHaving(view, id).toSorted((a, b) => compareText(a.id, b.id));
  const listing = sortedListing('specimens that have a part', rows, (row) => [row.id]);
  return paginate(listing, page, (row) => {
    const opened = view.specimen(row.id);
    if (!opened) throw new Error(`specimen ${row.id} vanished while its page was made`);
    const probability = presenceRow(view, row).probabilityOf(numberOf(id));
    return { part, specimen: specimenSource(view, opened), probability };
  });
}

/** Parts of the catalogue, and where they are found. */
export const parts: Api.Resolvers = {
  Query: {
    part: (root, { id }, context) => {
      const view = viewOf(root, context);
      return maybe(view, view.part(id), partSource);
    },
    parts: (root, { filter, orderBy, ...page }, context) =>
      pageOfParts(viewOf(root, context), filter ?? {}, orderBy, page, context.signal()),
  },
  Part: {
    ...marks(itself, 'published'),
    recalled,
    maker: ({ view, maker }) => maybe(view, view.maker(maker), makerSource),
    relabels: ({ view, relabels }) => maybe(view, relabels ? view.part(relabels) : undefined, partSource),
    relabelledAs: ({ view, id }) => relabelsOf(view, id),
    parameters: ({ parameters }) =>
      Object.entries(parameters)
        .filter(([, value]) => value !== undefined)
        .map(([name, value]) => parameterOf(name, value)),
    pinout: ({ pinout = [] }) => pinout,
    specimens: (part, page) => pageOfUses(part, page),
    components: ({ view, id }, page) =>
      pageOfComponents(view, { part: id }, { field: 'DEVICE', direction: 'ASC' }, page),
  },
};

function relabelsOf(view: PartSource['view'], id: string): PartSource[] {
  return view
    .linkedFrom(id, 'RELABELS')
    .flatMap((other) => maybe(view, view.part(other), partSource) ?? [])
    .sort((a, b) => (partIdOf(a) < partIdOf(b) ? -1 : 1));
}

function parameterOf(name: string, value: unknown) {
  const definition = PARAMETERS.get(name);
  const slot = definition?.unit
    ? 'quantity'
    : definition?.text
      ? 'text'
      : definition?.flag
        ? 'flag'
        : 'count';
  return { name, meaning: definition?.is ?? name, [slot]: value };
}
