import type { BODY_SITES } from '../../model/dossier.ts';
import { enumType } from '../base/enums.ts';
import { connectionTypes, PAGE_ARGUMENTS } from '../connections/schema.ts';

const SITES: Readonly<Record<(typeof BODY_SITES)[number], string>> = {
  wrist: 'On the wrist.',
  finger: 'On a finger.',
  ear: 'In or on the ear.',
  chest: 'On the chest.',
  head: 'On the head.',
  ankle: 'On the ankle.',
  eyewear: 'In a spectacle frame.',
  other: 'Elsewhere.',
};

export const schema = `
${enumType('BodySite', 'Where a device is worn.', SITES)}

"A model as sold."
type Device implements Node {
  "Id of the device."
  id: ID!
  "Name of the model."
  name: String!
  "Who makes it."
  maker: Maker
  "Product line it belongs to."
  productLine: ProductLine
  "When it was first sold."
  released: PartialDate!
  "Calendar year of its release."
  year: Int!
  "Where it is worn."
  bodySite: BodySite!
  "Mass with its cell, without strap or case."
  mass: Quantity
  "Outer dimensions."
  dimensions: Dimensions
  "Price at release."
  price: Money
  "Ingress protection code after IEC 60529."
  ingress: String
  "Identifiers under which authorities or trade know it."
  regulatoryIds: [RegulatoryId!]!
  "Devices that it directly follows in its line, or none."
  predecessors: [Device!]!
  "Devices that directly follow it, by release."
  successors: [Device!]!
  "Whether it is demo data: no such device exists."
  invented: Boolean!
  "A remark, in words."
  note: String
  "The units of it that were opened, in the order they came."
  specimens: [Specimen!]!
  "The specimen that stands for the device in comparisons: the last one opened that was not damaged in opening."
  specimen: Specimen!
  "Boards of the specimen that stands for it."
  boards: [Board!]!
  "Subsystems of the specimen that stands for it."
  subsystems: [Subsystem!]!
  "Components of the specimen that stands for it, by designator."
  components(${PAGE_ARGUMENTS}
    "Only components whose likeliest category is this term or stands under it."
    category: String
  ): ComponentConnection!
  "Connections inside the specimen that stands for it."
  connections(${PAGE_ARGUMENTS}): LinkConnection!
  "What was seen and measured on the specimen that stands for it."
  observations(${PAGE_ARGUMENTS}): ObservationConnection!
  "What its components are taken for, in the specimen that stands for it; the judgement that counts now for each."
  identifications(${PAGE_ARGUMENTS}): IdentificationConnection!
  "Components of each kind, counted with their doubt, in the specimen that stands for it."
  kindCounts(
    "Term of the taxonomy whose sub-terms are counted."
    above: String! = "Sensor"
  ): [KindCount!]!
  "Components in each subsystem of the specimen that stands for it."
  subsystemCounts: [SubsystemCount!]!
}

"An identifier under which an authority or the trade knows a device."
type RegulatoryId {
  "Who gives it: \`fcc\`, \`gtin\`, \`ce\`, \`ised\` or \`other\`."
  scheme: String!
  "The identifier."
  id: String!
}

"How many components are of a kind, with the doubt of their identifications carried through."
type KindCount {
  "Term of the taxonomy."
  kind: String!
  "The sentence that explains the term."
  meaning: String!
  "Components that are of the kind with probability 0.95 or more."
  certain: Int!
  "Sum of the probabilities: the number to expect."
  expected: Float!
  "Components that may be of the kind at all."
  possible: Int!
}

"How many components a subsystem has."
type SubsystemCount {
  "Kind of the subsystem, or \`none\` for components in no named one."
  kind: String!
  "Number of components."
  components: Int!
}

${connectionTypes('Device', 'devices')}

"Which devices to list; conditions not given do not restrict."
input DeviceFilter {
  "Made by one of these makers (ids)."
  makers: [ID!]
  "In one of these product lines (ids)."
  productLines: [ID!]
  "Worn at one of these places."
  bodySites: [BodySite!]
  "Released on or after this date."
  releasedFrom: PartialDate
  "Released on or before this date; a year or month includes all of it."
  releasedTo: PartialDate
  "A component may be this part (id)."
  holdsPart: ID
  "A component's likeliest category is this term of the taxonomy or stands under it."
  holdsCategory: String
}

"What devices are sorted by; equal ones stand by id."
enum DeviceOrderField {
  "Date of release."
  RELEASED
  "Name, without regard to case."
  NAME
  "Id of the maker."
  MAKER
  "Id of the device."
  ID
}

"How to sort devices."
input DeviceOrder {
  "What to sort by."
  field: DeviceOrderField! = RELEASED
  "Which way."
  direction: Direction! = ASC
}

extend type Query {
  "One device; null when nothing visible has the id."
  device(
    "Id of the device."
    id: ID!
  ): Device
  "Devices that pass a filter, sorted, a page at a time."
  devices(
    "Which devices; all when not given."
    filter: DeviceFilter
    "How to sort them."
    orderBy: DeviceOrder! = {}
    ${PAGE_ARGUMENTS}
  ): DeviceConnection!
}
`;
