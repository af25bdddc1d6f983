/** Product lines over their generations. */
export const lineSchema = `
"A product line from its first device to its last."
type Generations {
  "The product line."
  productLine: ProductLine!
  "Its devices, by generation, then release."
  generations: [Generation!]!
  "The counts of its devices side by side, columns in the order of \`generations\`."
  comparison: Comparison!
  "Every succession into one of its devices; where the line splits or merges, a device stands in several."
  steps: [GenerationStep!]!
  "First and last device of each part that some device has rather than not, in the order of first sighting."
  parts: [PartSighting!]!
  "First and last device of each maker of parts, likewise."
  makers: [MakerSighting!]!
}

"A device in its product line."
type Generation {
  "The device."
  device: Device!
  "Longest chain of predecessors inside the line, itself included: 1 for a first device. Branches share a number."
  number: Int!
  "Devices it directly follows."
  predecessors: [Device!]!
  "Devices that directly follow it."
  successors: [Device!]!
  "Its parts and since when the line has kept them, oldest first."
  keptParts: [KeptPart!]!
  "How many functions its chips have."
  integration: Integration!
  "Its specimens, each aligned with the one after it; empty for a device of one specimen."
  revisions: [HardwareRevision!]!
}

"From one device to one that follows it."
type GenerationStep {
  "The device before."
  from: Device!
  "The device after; \`from\` is one of its predecessors."
  to: Device!
  "What became of the components."
  alignment(
    "Weights and limits that differ from the defaults."
    weights: AlignmentWeights
  ): Alignment!
  "Design decisions adopted and dropped, likeliest first."
  decisions: [DecisionChange!]!
}

"A design decision that one of two devices shows and the other does not."
type DecisionChange {
  "The pattern that suggests it."
  pattern: Pattern!
  "Whether it was adopted; else dropped."
  adopted: Boolean!
  "Probability, 0 to 1, that the designers of the device before decided so; 0 where an editor rejected it."
  before: Float!
  "Probability, 0 to 1, that those of the device after did."
  after: Float!
  "Probability of the change, 0 to 1, the devices taken as independent."
  probability: Float!
  "Whether that is 0.95 or more."
  certain: Boolean!
}

"When a part came into a product line and when it went."
type PartSighting {
  "The part."
  part: Part
SIGHTING
}

"When a maker of parts came into a product line and when it went."
type MakerSighting {
  "The maker."
  maker: Maker
SIGHTING
}

"A part of a device and since when its line has kept it."
type KeptPart {
  "The part."
  part: Part
  "Probability, 0 to 1, that the device has it."
  probability: Float!
  "First of an unbroken succession of devices that have it rather than not; the device itself for a new part."
  since: Device!
}

"How many functions the chips of a device have: what grows when several become one. Bare, passive and mechanical parts are no chips."
type Integration {
  "Number of chips whose function is known, 0.95 certain."
  certainChips: Int!
  "Number of chips whose function is known, weighted by probability."
  expectedChips: Float!
  "Number of functions of the certain chips that are 0.95 certain: the most specific terms of the taxonomy that each is filed under."
  certainFunctions: Int!
  "Number of functions of the chips, weighted by probability."
  expectedFunctions: Float!
  "Number of certain functions by certain chips; null without any."
  certainFunctionsAChip: Float
  "Number of expected functions by expected chips; null without any."
  expectedFunctionsAChip: Float
  "Components that may be chips and count in none of these, since nobody could tell their function."
  unnamed: Int!
}

"Two specimens of one device, one after the other."
type HardwareRevision {
  "The earlier one, by printed revision, then by day of opening."
  from: Specimen!
  "The later one."
  to: Specimen!
  "Whether any component was replaced, moved, added or removed."
  differs: Boolean!
  "What became of the components."
  alignment: Alignment!
}

extend type Query {
  "A product line from its first device to its last: counts, what each step changed, and what came and went. Null, with error NOT_FOUND, when nothing visible has the id."
  generations(
    "Id of the product line."
    productLine: ID!
  ): Generations
}
`.replaceAll(
  'SIGHTING',
  `  "The first device that has it rather than not."
  first: Device!
  "The last one."
  last: Device!
  "Probability, 0 to 1, that the first has it."
  firstProbability: Float!
  "Probability, 0 to 1, that the last has it."
  lastProbability: Float!
  "An earlier device that may have it, at less than even odds."
  maybeSince: Device
  "A later device that may have it."
  maybeUntil: Device
  "Number of devices of the line that have it, 0.95 certain."
  certain: Int!
  "Number of devices that have it, weighted by probability."
  expected: Float!
  "Number of devices that may have it."
  possible: Int!
  "Whether a device that nothing in the line follows has it."
  current: Boolean!`,
);
