import { compareText } from '../../../state/lists/device-list.ts';
import type { State } from '../../../state/state.ts';
import { viewOf } from '../context.ts';
import { pageOfDevices } from '../devices/devices.ts';
import { sortedListing } from '../listing.ts';
import { itself, marks, recalled } from '../marks.ts';
import { paginate } from '../paginate.ts';
import { pageOfParts } from '../parts/parts.ts';
import type { Resolvers } from '../resolver-types.ts';
import { makerSource, maybe, productLineSource } from '../sources.ts';
import { enumName } from '../words.ts';

interface Named {
  readonly id: string;
  readonly name: string;
}
const nameKey = ({ id, name }: Named) => [name.toLowerCase(), id];
const byName = (a: Named, b: Named) =>
  compareText(a.name.toLowerCase(), b.name.toLowerCase()) || compareText(a.id, b.id);

const productLinesOf = (view: State, maker: string | null | undefined) =>
  view
    .productLines()
    .filter((productLine) => !maker || productLine.maker === maker)
    .toSorted(byName);

/** Makers of devices and parts, and their product lines. */
export const makers: Resolvers = {
  Query: {
    maker: (root, { id }, context) => {
      const view = viewOf(root, context);
      return maybe(view, view.maker(id), makerSource);
    },
    makers: (root, { makes, ...page }, context) => {
      const view = viewOf(root, context);
      const found = view
        .makers()
        .filter((maker) => !makes || maker.makes.some((one) => enumName(one) === makes))
        .toSorted(byName);
      return paginate(sortedListing('makers', found, nameKey), page, (one) => makerSource(view, one));
    },
    productLine: (root, { id }, context) => {
      const view = viewOf(root, context);
      return maybe(view, view.productLine(id), productLineSource);
    },
    productLines: (root, { maker, ...page }, context) => {
      const view = viewOf(root, context);
      const listing = sortedListing('product lines', productLinesOf(view, maker), nameKey);
      return paginate(listing, page, (one) => productLineSource(view, one));
    },
  },
  Maker: {
    ...marks(itself),
    recalled,
    makes: ({ makes }) => makes.map(enumName),
    invented: ({ invented }) => invented === true,
    productLines: ({ view, id }, page) => {
      const listing = sortedListing('product lines', productLinesOf(view, id), nameKey);
      return paginate(listing, page, (one) => productLineSource(view, one));
    },
    devices: ({ view, id }, { orderBy, ...page }) => pageOfDevices(view, { makers: [id] }, orderBy, page),
    parts: ({ view, id }, { orderBy, ...page }, context) =>
      pageOfParts(view, { makers: [id] }, orderBy, page, context.signal()),
  },
  ProductLine: {
    ...marks(itself),
    recalled,
    maker: ({ view, maker }) => maybe(view, view.maker(maker), makerSource),
    devices: ({ view, id }, { orderBy, ...page }) =>
      pageOfDevices(view, { productLines: [id] }, orderBy, page),
  },
};
