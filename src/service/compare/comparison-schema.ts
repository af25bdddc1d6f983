import { COST_WEIGHTS, WEIGHT_TABLE } from '../../compare/align/weights.ts';
import { MOST_ALIGNED } from '../../compare/alignment.ts';
import { SECTIONS } from '../../compare/comparison-table.ts';

/** Devices that stand side by side in one answer. */
export const MOST_COLUMNS = 50;

const unitOf = (name: string) =>
  (COST_WEIGHTS as readonly string[]).includes(name)
    ? 'A number, of which only the share of all weights counts; default'
    : 'From 0 to 1; default';

const weights = Object.entries(WEIGHT_TABLE)
  .map(([name, { default: value, is }]) => `  "${is} ${unitOf(name)} ${value}."\n  ${name}: Float`)
  .join('\n');

/** Devices side by side: counts, figures, and components aligned. */
export const comparisonSchema = `
"Devices side by side, in the order asked."
type Comparison {
  "One column a device."
  columns: [ComparedDevice!]!
  "One row a kind of sensor that some of them have."
  sensors: [KindRow!]!
  "One row a kind of processor that some of them have."
  processors: [KindRow!]!
  "One row a kind of subsystem that some of them have."
  subsystems: [SubsystemRow!]!
  "Everything counted and measured of them, in sections of rows."
  sections(
    "Keys of the sections wanted, all when left out: ${SECTIONS.join(', ')}. Decisions take longest."
    keys: [String!]
  ): [ComparisonSection!]!
  "Their components with what plays the same role in one row. Null, with error BAD_INPUT, for fewer than 2 or more than ${MOST_ALIGNED} devices."
  alignment(
    "Weights and limits that differ from the defaults."
    weights: AlignmentWeights
  ): Alignment
}

"A device and the one specimen that stands for it in a comparison."
type ComparedDevice {
  "The device."
  device: Device!
  "The specimen that stands for it: the one asked for, or the last one opened that was not damaged in opening."
  specimen: Specimen!
  "How many other specimens of it were opened; they may differ."
  otherSpecimens: Int!
}

"A kind of component and its counts."
type KindRow {
  "Term of the taxonomy."
  kind: String!
  "The sentence that explains the term."
  meaning: String!
  "One count a column, in the order of the columns."
  counts: [KindCount!]!
}

"A kind of subsystem and how many components it has."
type SubsystemRow {
  "Kind of the subsystem, or \`none\` for components in no named one."
  kind: String!
  "Number of components, a column each; null where the dossier names no such subsystem."
  components: [Int]!
}

"Rows of a comparison that belong together."
type ComparisonSection {
  "Stable name, such as \`sensors\`."
  key: String!
  "Heading."
  label: String!
  "One row a figure that some column has."
  rows: [ComparisonRow!]!
}

"One figure over all devices."
type ComparisonRow {
  "Stable name, such as \`sensors.Accelerometer\`."
  key: String!
  "Heading."
  label: String!
  "Unit as a UCUM code, \`1\` for counts, or a currency after ISO 4217."
  unit: String!
  "What the figure is."
  is: String!
  "Number of columns in which it is rather there than not (expected 0.5 or more); null for figures that are neither counts nor shares."
  heldBy: Int
  "One cell a column, in the order of the columns."
  cells: [ComparisonCell!]!
}

"One figure of one device. A count of none is 0; what is missing otherwise is null."
type ComparisonCell {
  "The number in the row's unit, counting what is at least 0.95 certain."
  certain: Float
  "The number in the row's unit, weighted by probability."
  expected: Float
  "The number in the row's unit, counting everything that may be; null for quantities."
  possible: Float
  "Why there is no figure, or why a count is 0."
  missing: MissingFigure
  "What to know of it."
  note: String
}

"Why there is no figure."
enum MissingFigure {
  "Nobody looked, or it could not be read: it may be anything."
  NOT_OBSERVED
  "Someone looked, and there is none."
  NOT_PRESENT
}

"Components of several devices with what plays the same role in one row. Rows do not depend on the order of the devices."
type Alignment {
  "One row a role."
  rows: [AlignmentRow!]!
  "What became of the components from each column to the next."
  steps: [AlignmentStep!]!
  "The weights and limits it was made with."
  weights: [AlignmentWeight!]!
}

"What plays one role in each device."
type AlignmentRow {
  "The most telling kind that its components have together; null where none is known."
  role: String
  "One component a column; null where a device has no counterpart."
  cells: [AlignedComponent]!
  "What became of it from each column to the next; null where neither has a component."
  changes: [ComponentChange]!
}

"A component in an alignment."
type AlignedComponent {
  "The component."
  component: Component!
  "Its likeliest catalogue part; null where nobody named one."
  part: Part
  "Probability of that part, 0 to 1."
  probability: Float
}

"What became of a component from one device to another."
type ComponentChange {
  "The likeliest change."
  change: ComponentChangeKind!
  "Probability, 0 to 1, that this is what became of it."
  certainty: Float!
  "Probability, 0 to 1, that the pairing, or having no counterpart, is right: by how much the next best is dearer."
  pairing: Float!
  "Probability, 0 to 1, that the two are the same catalogue part; null where there is no counterpart."
  samePart: Float
  "Whether it sits on another board or side, or in the same device more than 1 mm away."
  elsewhere: Boolean!
  "Why, in one sentence."
  why: String!
}

"What can become of a component."
enum ComponentChangeKind {
  "The same part in the same place."
  KEPT
  "Another part in the same role."
  REPLACED
  "The same part in another place."
  MOVED
  "There was no counterpart before."
  ADDED
  "There is no counterpart any more."
  REMOVED
}

"What became of the components from one column to the next."
type AlignmentStep {
  "Number of the column before, 0 for the first."
  from: Int!
  "Number of the column after."
  to: Int!
  "One item a kind of change."
  tallies: [ChangeTally!]!
}

"How many components had one kind of change."
type ChangeTally {
  "The kind of change."
  change: ComponentChangeKind!
  "Number of rows of which it is the likeliest change."
  rows: Int!
  "Number of rows of which it is at least 0.95 certain."
  certain: Int!
  "Sum of the probabilities."
  expected: Float!
}

"A weight or limit of an alignment."
type AlignmentWeight {
  "Its name."
  name: String!
  "Its value; a share of the whole, or a cost from 0 to 1."
  value: Float!
  "What it means."
  is: String!
}

"Weights and limits of an alignment. The weights from \`labels\` to \`designator\` are shares of the cost of pairing two components."
input AlignmentWeights {
${weights}
}

extend type Query {
  "Devices side by side: counts, figures with units, and components aligned. Null, with error NOT_FOUND, when nothing visible has one of the ids."
  compareDevices(
    "Ids of devices, or of specimens where one is meant; 1 to ${MOST_COLUMNS}."
    ids: [ID!]!
  ): Comparison
}
`;
