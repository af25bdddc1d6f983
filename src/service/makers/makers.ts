import { compareText } from '../../state/device-list.ts';
import type { View } from '../../state/view.ts';
import { type Context, type Domain, type Root, viewOf } from '../base/domain.ts';
import { sortedListing } from '../connections/listing.ts';
import { type PageArguments, paginate } from '../connections/paginate.ts';
import { connectionTypes, PAGE_ARGUMENTS } from '../connections/schema.ts';
import { type DevicesArguments, pageOfDevices } from '../devices/list.ts';
import { type PartsArguments, pageOfParts } from '../parts/list.ts';
import {
  type MakerSource,
  makerSource,
  maybe,
  type ProductLineSource,
  productLineSource,
} from '../sources/catalogue.ts';

const schema = `
"What a maker makes."
enum Makes {
  "Devices."
  DEVICES
  "Parts."
  PARTS
}

"A maker of devices or parts."
type Maker implements Node {
  "Id of the maker."
  id: ID!
  "Name as the maker writes it."
  name: String!
  "Whether it makes devices, parts or both."
  makes: [Makes!]!
  "Country, two letters after ISO 3166-1."
  country: String
  "Whether it is demo data: no such maker exists."
  invented: Boolean!
  "A remark, in words."
  note: String
  "Its product lines, by name."
  productLines: [ProductLine!]!
  "Its devices."
  devices(
    "How to sort them."
    orderBy: DeviceOrder! = {}
    ${PAGE_ARGUMENTS}
  ): DeviceConnection!
  "Its parts."
  parts(
    "How to sort them."
    orderBy: PartOrder! = {}
    ${PAGE_ARGUMENTS}
  ): PartConnection!
}

"A product line whose devices succeed one another."
type ProductLine implements Node {
  "Id of the product line."
  id: ID!
  "Its name."
  name: String!
  "Who makes it."
  maker: Maker
  "A remark, in words."
  note: String
  "Its devices."
  devices(
    "How to sort them."
    orderBy: DeviceOrder! = {}
    ${PAGE_ARGUMENTS}
  ): DeviceConnection!
}

${connectionTypes('Maker', 'makers')}
${connectionTypes('ProductLine', 'product lines')}

extend type Query {
  "One maker; null when nothing visible has the id."
  maker(
    "Id of the maker."
    id: ID!
  ): Maker
  "Makers, by name."
  makers(
    "Only those that make this."
    makes: Makes
    ${PAGE_ARGUMENTS}
  ): MakerConnection!
  "One product line; null when nothing visible has the id."
  productLine(
    "Id of the product line."
    id: ID!
  ): ProductLine
  "Product lines, by name."
  productLines(
    "Only lines of this maker (id)."
    maker: ID
    ${PAGE_ARGUMENTS}
  ): ProductLineConnection!
}
`;

interface Named {
  readonly id: string;
  readonly name: string;
}
const nameKey = ({ id, name }: Named) => [name.toLowerCase(), id];
const byName = (a: Named, b: Named) =>
  compareText(a.name.toLowerCase(), b.name.toLowerCase()) || compareText(a.id, b.id);

const productLinesOf = (view: View, maker: string | null | undefined) =>
  view
    .productLines()
    .filter((productLine) => !maker || productLine.maker === maker)
    .toSorted(byName);

export const makers: Domain = {
  schema,
  resolvers: {
    Query: {
      maker: (root: Root, { id }: { id: string }, context: Context) => {
        const view = viewOf(root, context);
        return maybe(view, view.maker(id), makerSource);
      },
      makers: (
        root: Root,
        { makes, ...page }: PageArguments & { makes?: string | null },
        context: Context,
      ) => {
        const view = viewOf(root, context);
        const found = view
          .makers()
          .filter((maker) => !makes || maker.makes.some((one) => one.toUpperCase() === makes))
          .toSorted(byName);
        return paginate(sortedListing('makers', found, nameKey), page, (one) => makerSource(view, one));
      },
      productLine: (root: Root, { id }: { id: string }, context: Context) => {
        const view = viewOf(root, context);
        return maybe(view, view.productLine(id), productLineSource);
      },
      productLines: (
        root: Root,
        { maker, ...page }: PageArguments & { maker?: string | null },
        context: Context,
      ) => {
        const view = viewOf(root, context);
        const listing = sortedListing('product lines', productLinesOf(view, maker), nameKey);
        return paginate(listing, page, (one) => productLineSource(view, one));
      },
    },
    Maker: {
      makes: ({ makes }: MakerSource) => makes.map((one) => one.toUpperCase()),
      invented: ({ invented }: MakerSource) => invented === true,
      productLines: ({ view, id }: MakerSource) =>
        productLinesOf(view, id).map((one) => productLineSource(view, one)),
      devices: ({ view, id }: MakerSource, args: DevicesArguments) =>
        pageOfDevices(view, { ...args, filter: { makers: [id] } }),
      parts: ({ view, id }: MakerSource, args: PartsArguments) =>
        pageOfParts(view, { ...args, filter: { makers: [id] } }),
    },
    ProductLine: {
      maker: ({ view, maker }: ProductLineSource) => maybe(view, view.maker(maker), makerSource),
      devices: ({ view, id }: ProductLineSource, args: DevicesArguments) =>
        pageOfDevices(view, { ...args, filter: { productLines: [id] } }),
    },
  },
  weights: { 'Maker.devices': 50, 'Maker.parts': 50, 'ProductLine.devices': 50, 'Query.makers': 10 },
};
