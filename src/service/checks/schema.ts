import type { INPUT_ORIGINS } from '../../decisions/check-inputs.ts';
import type { Verdict } from '../../design-checks/check.ts';
import { enumType } from '../base/enums.ts';

const VERDICTS: Readonly<Record<Verdict, string>> = {
  supports: 'The arithmetic supports the reason, over the whole uncertainty of the inputs.',
  neutral: 'It says nothing either way, or an input is missing.',
  'speaks-against': 'The arithmetic speaks against the reason, over the whole uncertainty of the inputs.',
};

const ORIGINS: Readonly<Record<(typeof INPUT_ORIGINS)[number], string>> = {
  graph: 'From the archive: a parameter of the part that a component is taken for, or something seen.',
  stated: 'An assumption stated with the check; no figure of the device.',
  given: 'Given with the question.',
};

export const schema = `
${enumType('CheckVerdict', 'What a design check says about the reason it was asked to support.', VERDICTS)}
${enumType('CheckInputOrigin', 'Who says the value of an input.', ORIGINS)}

"One calculator that tests a design reason with numbers. Nothing it says is medical advice."
type DesignCheck {
  "Name, such as \`charge-rate\`."
  name: String!
  "What it tells, in a line."
  title: String!
  "What it wants to know; required ones first."
  inputs: [DesignCheckInput!]!
  "What it answers."
  outputs: [DesignCheckOutput!]!
  "The formula."
  formula: String!
  "The published source of the formula."
  source: String!
  "Where the formula holds, and the rule behind the verdict."
  limits: String!
  "What to mind at the bench when the inputs are measured."
  cautions: [String!]!
}

"What a design check wants to know."
type DesignCheckInput {
  "Name to give it by."
  name: String!
  "Unit, as a code of UCUM; any unit that measures the same thing is accepted."
  unit: String!
  "What it is."
  meaning: String!
  "Whether the check answers without it."
  optional: Boolean!
  "Least value accepted, in \`unit\`."
  min: Float
  "Greatest value accepted, in \`unit\`."
  max: Float
  "The value must be greater than this number, in \`unit\`."
  above: Float
  "Whether only whole numbers make sense."
  whole: Boolean!
  "Where such values usually lie; never filled in."
  typical: TypicalRange
}

"A range that a newcomer may start from."
type TypicalRange {
  "Lower end, in \`unit\` of the input."
  low: Float!
  "Upper end, in \`unit\` of the input."
  high: Float!
  "Where the range comes from."
  note: String!
}

"What a design check answers."
type DesignCheckOutput {
  "Name of the value."
  name: String!
  "Unit, as a code of UCUM."
  unit: String!
  "What it is."
  meaning: String!
}

"An input of a design check, given by name."
input CheckInputValue {
  "Name of the input."
  name: String!
  "Its value; the unit of a count or ratio is \`1\`."
  quantity: QuantityInput!
}

"What a design check makes of its inputs."
type CheckResult {
  "The values; empty while a required input is missing."
  values: [CheckedValue!]!
  "The result in a sentence."
  sentence: String!
  "What it says about the design reason."
  verdict: CheckVerdict!
  "Required inputs that nobody gave, with the ranges that are usual."
  missing: [DesignCheckInput!]!
  "The check, with formula, source and limits."
  check: DesignCheck!
}

"A value with the range that the uncertainty of the inputs allows."
type CheckedValue {
  "Name of the value."
  name: String!
  "The value at the stated inputs, in \`unit\`."
  value: Float!
  "Least value, in \`unit\`."
  low: Float!
  "Greatest value, in \`unit\`."
  high: Float!
  "Unit, as a code of UCUM."
  unit: String!
  "What it is."
  meaning: String!
}

"The check of a pattern, with the figures of one device."
type BoundCheck {
  "The check, with formula, source and limits."
  check: DesignCheck!
  "Inputs that the pattern binds or the question gives, and where each came from."
  inputs: [BoundInput!]!
  "Probability, 0 to 1, that every component the inputs hang on was identified rightly, each counted once."
  probability: Float!
  "Required inputs that are not known, with the ranges that are usual."
  missing: [DesignCheckInput!]!
  "What came out; null while an input is missing or wrong."
  result: CheckResult
  "Why it could not be reckoned although nothing is missing."
  problem: String
}

"An input of a check and where it came from."
type BoundInput {
  "Name of the input."
  name: String!
  "The value; null where it is not known."
  quantity: Quantity
  "Who says so."
  origin: CheckInputOrigin!
  "In words where it came from, or why it is not known."
  from: String!
  "Global ids of what it rests on."
  supportedBy: [ID!]!
  "Probability, 0 to 1, that the components it hangs on were identified rightly; 1 for what was seen, stated or given."
  probability: Float!
}

extend type Query {
  "Every design check: inputs with units and usual ranges, formula, source and limits."
  designChecks: [DesignCheck!]!
  "Reckons one design check. What is missing is asked for in the answer. Null, with error BAD_INPUT that names input and mend, for an unknown name, a unit of another kind or a value outside its range."
  reckon(
    "Name of the check."
    check: String!
    "Its inputs by name; at most 40."
    inputs: [CheckInputValue!]!
  ): CheckResult
  "The check that a named pattern comes with, on the likeliest match in a device. Null when the pattern has none, or the device does not show it."
  patternCheck(
    "Id of the named pattern."
    pattern: ID!
    "Id of the device."
    device: ID!
    "Inputs by hand; they stand above what the archive knows; at most 40."
    given: [CheckInputValue!]! = []
  ): BoundCheck
}

extend type Query {
  "Design checks of a device by itself, without a pattern: share of each subsystem in the power, display, haptic start, altitude and the like, with what the archive knows of their inputs. Empty where the device holds nothing that they are about."
  deviceChecks(
    "Id of the device; its first specimen answers."
    device: ID!
    "Name of one check; all when left out."
    check: String
    "Inputs by hand for that check; at most 40."
    given: [CheckInputValue!]! = []
  ): [BoundCheck!]
}

extend type Pattern {
  "The design check that tests its reasons with numbers; null when it has none."
  check: DesignCheck
}
`;
