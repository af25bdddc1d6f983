import { connectionTypes, PAGE_ARGUMENTS } from '../connections/schema.ts';

export const schema = `
"A placed component: what was seen of it, and what it is taken for."
type Component implements Node {
  "Id: specimen, slash, reference designator."
  id: ID!
  "Reference designator, with class letters after IEEE 315."
  designator: String!
  "Whether the designator is printed on the board; otherwise the bench gave it."
  printed: Boolean!
  "The specimen it belongs to."
  specimen: Specimen!
  "The device it belongs to."
  device: Device!
  "Its board; null for parts of the enclosure."
  board: Board
  "Side of the board."
  side: Side
  "Its centre on the board, mm."
  at: Point
  "Rotation, degrees counter-clockwise, seen from its side."
  rotation: Float
  "Body as measured, mm."
  body: BodySize
  "Package as it looks, such as LGA-14."
  package: String
  "Terminals counted."
  pins: Int
  "Marking as read: \`?\` for an unread character, \`[8B]\` for one of several; lines parted by line breaks."
  marking: String
  "How sure the reading of the marking is, 0 to 1."
  reading: Float
  "What it plainly is to the eye: a term of the taxonomy."
  appears: String
  "The subsystem it belongs to."
  subsystem: Subsystem
  "The module or package that holds it."
  inside: Component
  "Components that it holds, by designator."
  holds: [Component!]!
  "Terms of the taxonomy that may apply, likeliest first."
  labels: [Label!]!
  "The most telling term that is at least as likely as not; null when only \`Component\` is known."
  category: Label
  "What it is taken for now; null when nobody has judged."
  identification: Identification
  "Every judgement on it in the order made, withdrawn ones included."
  identifications: [Identification!]!
  "What was seen and measured of it, in the order recorded."
  observations(${PAGE_ARGUMENTS}): ObservationConnection!
  "Connections that end at it."
  connections(${PAGE_ARGUMENTS}): LinkConnection!
  "A remark, in words."
  note: String
}

"A term of the taxonomy that may apply to a component."
type Label {
  "The term."
  term: String!
  "The sentence that explains the term."
  meaning: String!
  "Probability that it applies, 0 to 1."
  probability: Float!
  "Whether the probability is 0.95 or more."
  certain: Boolean!
}

"A conclusion about what a component is."
type Identification {
  "The component."
  component: Component!
  "How far the conclusion has come."
  state: IdentificationState!
  "Whether it is the judgement that counts now."
  current: Boolean!
  "Rival candidates, likeliest first."
  candidates: [Candidate!]!
  "Probability, 0 to 1, that it is none of the candidates."
  unknown: Float!
  "Observations that it rests on."
  basis: [Observation!]!
  "Published sentences and sources that it leans on, as far as they may be seen."
  cites: [Node!]!
  "Who judged."
  by: String
  "When."
  on: PartialDate
  "Why."
  reason: String
}

"One thing a component may be."
type Candidate {
  "The part, when one is named."
  part: Part
  "Id of the part named, also when the catalogue does not hold it."
  partId: ID
  "Its kind, when only that is known: a term of the taxonomy."
  category: String
  "Its maker."
  maker: Maker
  "Probability that the component is this, 0 to 1."
  probability: Float!
}

${connectionTypes('Component', 'components')}
${connectionTypes('Identification', 'identifications')}

"Which components to list; conditions not given do not restrict."
input ComponentFilter {
  "Only in devices that pass this filter."
  device: DeviceFilter
  "Only in these devices (ids)."
  devices: [ID!]
  "Its likeliest category is this term of the taxonomy or stands under it."
  category: String
  "At least this sure of the category, 0 to 1."
  categoryProbabilityAtLeast: Float
  "Its likeliest part is this one (id)."
  part: ID
  "Its likeliest part comes from this maker (id)."
  partMaker: ID
  "On this side of its board."
  side: Side
  "In this package, written exactly as recorded."
  package: String
  "Whether some part is proposed for it."
  identified: Boolean
}

"What components are sorted by; inside a specimen they stand by designator."
enum ComponentOrderField {
  "Id of the device, then of the specimen."
  DEVICE
  "Release of the device, then id of the specimen."
  RELEASED
}

"How to sort components."
input ComponentOrder {
  "What to sort by."
  field: ComponentOrderField! = DEVICE
  "Which way."
  direction: Direction! = ASC
}

extend type Query {
  "Components of all devices that pass a filter, sorted, a page at a time."
  components(
    "Which components; all when not given."
    filter: ComponentFilter
    "How to sort them."
    orderBy: ComponentOrder! = {}
    ${PAGE_ARGUMENTS}
  ): ComponentConnection!
}
`;
