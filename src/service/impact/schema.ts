import type { FindingKind } from '../../evidence/audit.ts';
import { enumType } from '../base/enums.ts';

const FINDING_MEANINGS: Readonly<Record<FindingKind, string>> = {
  overstated: 'It says more than the evidence.',
  understated: 'It says less than the evidence.',
  unsupported: 'Nothing that was seen, counted or concluded is under it.',
  withdrawn: 'It rests on something that was taken back, put right, rejected or is gone.',
};

export const schema = `
${enumType('ClaimFindingKind', 'What may be wrong with a sentence.', FINDING_MEANINGS)}
"A sentence held against the evidence under it."
type AuditedClaim {
  "The sentence."
  claim: Claim!
  "The words by which it says how sure it is; null for a flat statement."
  likelihoodWords: String
  "Least probability, 0 to 1, for which its wording is right."
  low: Float!
  "Greatest probability, 0 to 1, for which its wording is right."
  high: Float!
  "Where that range comes from: \`scale\` (Mastrandrea et al. 2010), \`usage\` (everyday words) or \`flat\` (a plain statement)."
  rangeBy: String!
  "A word in it that speaks of all or of none."
  sweeping: String
  "What it rests on, each with its number."
  support: ClaimSupport!
  "The number its wording is held against, 0 to 1: of the evidence, or what its author gave where that is less. Null when nothing under it has a number."
  probability: Float
  "The wording that would fit; null without a number."
  proposal: String
  "What is wrong with it; empty when its wording fits."
  findings: [ClaimFinding!]!
}

"What a sentence rests on and how likely that makes it."
type ClaimSupport {
  "Each thing it rests on, figures last."
  items: [SupportItem!]!
  "Probability, 0 to 1, that all of it is so, taken as independent; null when nothing has a number."
  probability: Float
  "The least it can be, 0 to 1, if doubts hang together in the worst way (Fréchet)."
  low: Float
  "The most it can be, 0 to 1, if doubts hang together in the best way (Fréchet)."
  high: Float
}

"One thing that a sentence rests on."
type SupportItem {
  "Global id, or \`figure 1\` for a figure the sentence states."
  id: String!
  "What it is: \`observation\`, \`component\`, \`board\`, \`specimen\`, \`device\`, \`part\`, \`decision\`, \`claim\`, \`figure\`, \`source\`, \`record\` or \`nothing\`."
  kind: String!
  "What it says, in words."
  says: String!
  "Probability, 0 to 1; null for what has none, such as a source."
  probability: Float
  "Why it no longer carries."
  trouble: String
}

"Something wrong with a sentence."
type ClaimFinding {
  "What kind of fault."
  kind: ClaimFindingKind!
  "In plain words, with the numbers."
  says: String!
}

"A thing in the archive and what one would call it."
type NamedThing {
  "Global id."
  id: ID!
  "What it is, such as \`Observation\`."
  kind: String!
  "In a few words."
  says: String!
}

"Everything that rests on a thing."
type Impact {
  "What was asked about."
  of: NamedThing!
  "Number of things that rest on it."
  totalCount: Int!
  "What rests on it, by generation, then id."
  impacted(
    "The most items to give, 1 to 1000."
    first: Int! = 200
    "Kinds to give, such as \`Claim\`; all when left out."
    kinds: [String!]
  ): [ImpactedThing!]!
}

"One thing that rests on another."
type ImpactedThing {
  "Global id."
  id: ID!
  "What it is, such as \`Decision\`."
  kind: String!
  "In a few words."
  says: String!
  "Number of steps between: 1 for what rests on it directly."
  generation: Int!
  "Ids from what was asked about to this, both included."
  path: [ID!]!
  "How each step of the path rests on the one before."
  how: [String!]!
}

"A change to try out or to journal. Give exactly one of its fields."
input AmendmentInput {
  "Another identification of a component."
  identify: IdentifyInput
  "Id of an observation to take back: \`device/specimen/local\`."
  withdraw: ID
  "A further observation."
  observe: ObserveInput
  "A value put right."
  value: ValueInput
}

"Another identification of a component."
input IdentifyInput {
  "Id of the component: \`device/specimen/U3\`."
  component: ID!
  "Rival candidates; what their probabilities leave to 1 stays unknown."
  candidates: [CandidateInput!]!
  "How far the conclusion has come."
  state: IdentificationState! = PROPOSED
  "Local ids of the observations it rests on."
  basis: [String!]! = []
}

"A further observation."
input ObserveInput {
  "Id of the specimen."
  specimen: ID!
  "What was observed."
  observation: ObservationInput!
}

"The right value of a field. Give exactly one of text, number, quantity and flag, or none of them to take the field away."
input ValueInput {
  "Id of a part, a component or a device."
  of: ID!
  "Path of the field, such as \`parameters.noise\`, \`pins\`, \`body.length\` or \`mass\`."
  field: String!
  "A text."
  text: String
  "A bare number, in the units of the field."
  number: Float
  "An amount with its unit."
  quantity: QuantityInput
  "Yes or no."
  flag: Boolean
}

"What a change comes to."
type Difference {
  "How many of each there are, whatever \`first\` leaves out."
  counts: DifferenceCounts!
  "Devices it touches, as far as they may be seen."
  devices(
    "The most items to give, 1 to 1000."
    first: Int! = 200
  ): [Device!]!
  "Decisions that are new."
  gained(
    "The most items to give, 1 to 1000."
    first: Int! = 200
  ): [DecisionShift!]!
  "Decisions that are gone."
  lost(
    "The most items to give, 1 to 1000."
    first: Int! = 200
  ): [DecisionShift!]!
  "Decisions whose probability or standing is another."
  moved(
    "The most items to give, 1 to 1000."
    first: Int! = 200
  ): [DecisionShift!]!
  "Cells of the comparison table that read otherwise."
  cells(
    "The most items to give, 1 to 1000."
    first: Int! = 200
  ): [CellChange!]!
  "Points of trends by year that read otherwise."
  trendPoints(
    "The most items to give, 1 to 1000."
    first: Int! = 200
  ): [TrendPointChange!]!
  "Sentences whose number or fit is another."
  claims(
    "The most items to give, 1 to 1000."
    first: Int! = 200
  ): [ClaimChange!]!
}

"How much a change comes to."
type DifferenceCounts {
  "Number of devices it touches, as far as they may be seen."
  devices: Int!
  "Number of decisions that are new."
  gained: Int!
  "Number of decisions that are gone."
  lost: Int!
  "Number of decisions whose probability or standing is another."
  moved: Int!
  "Number of cells of the comparison table that read otherwise."
  cells: Int!
  "Number of points of trends that read otherwise."
  trendPoints: Int!
  "Number of sentences whose number or fit is another."
  claims: Int!
}

"A decision that comes, goes, moves or is opened again."
type DecisionShift {
  "Id of the decision."
  id: ID!
  "Name of its pattern."
  name: String!
  "Probability before, 0 to 1; null where there was none."
  before: Float
  "Probability after, 0 to 1; null where there is none."
  after: Float
  "How it stood."
  standingBefore: DecisionStanding
  "How it stands."
  standingAfter: DecisionStanding
}

"A cell of the comparison table that reads otherwise."
type CellChange {
  "Id of the specimen."
  specimen: ID!
  "Stable name of the row, such as \`sensors.Accelerometer\`."
  row: String!
  "Name of the row."
  label: String!
  "Unit: a UCUM code, \`1\` for counts, or a currency of ISO 4217."
  unit: String!
  "The cell before; null where there was none."
  before: CellFigures
  "The cell after; null where there is none."
  after: CellFigures
}

"The figures of a cell."
type CellFigures {
  "Counting only what is at least 0.95 certain; in units of the row."
  certain: Float
  "Weighted by probability; in units of the row."
  expected: Float
  "Counting all that may be; in units of the row."
  possible: Float
}

"A point of a trend by year that reads otherwise."
type TrendPointChange {
  "Of what: \`category PressureSensor\`, \`pattern duplicated-sensors\`."
  subject: String!
  "The year of the point."
  year: Int!
  "Id of the device that moves it."
  device: ID!
  "What the device adds to the expected number of devices of its year, before."
  before: Float!
  "What the device adds to the expected number of devices of its year, after."
  after: Float!
}

"A sentence whose number or fit is another."
type ClaimChange {
  "Id of the claim: publication, slash, local id."
  id: ID!
  "Id of the publication."
  publication: ID!
  "Its title."
  publicationTitle: String!
  "The sentence, as published."
  sentence: String!
  "Probability that the evidence gave it, 0 to 1."
  before: Float
  "Probability that the evidence gives it, 0 to 1."
  after: Float
  "What is wrong with it now and was not before."
  newFindings: [ClaimFinding!]!
  "What was wrong with it and no longer is."
  settledFindings: [ClaimFinding!]!
  "The wording that would fit; null without a number."
  proposal: String
}

"A correction of the record, with the publications it touches."
type Correction {
  "Id of the correction."
  id: ID!
  "What was changed, in a sentence."
  summary: String!
  "Who put it right."
  by: String!
  "Why."
  reason: String!
  "When."
  on: DateTime!
  "Publications with sentences that it touches, as far as they may be seen."
  publications: [CorrectedPublication!]!
}

"A publication that a correction touches."
type CorrectedPublication {
  "The publication."
  publication: Publication!
  "Text ready for a correction notice."
  notice: String!
  "The sentences touched."
  claims: [CorrectedClaim!]!
}

"A sentence that a correction touches."
type CorrectedClaim {
  "Id of the claim: publication, slash, local id."
  id: ID!
  "The sentence, as published."
  sentence: String!
  "Probability that the evidence gave it, 0 to 1."
  before: Float
  "Probability that the evidence gave it after the correction, 0 to 1."
  after: Float
  "What is wrong with it since."
  findings: [String!]!
}

"What a correction did."
type CorrectionAnswer {
  "The correction, as journaled."
  correction: Correction!
  "What it came to."
  difference: Difference!
  "The last entry written."
  entry: JournalEntry!
}

extend type Claim {
  "The sentence held against its evidence."
  audit: AuditedClaim!
}

extend type Publication {
  "Corrections that touch it, first to last."
  corrections: [Correction!]!
}

extend type Query {
  "Sentences of visible publications held against their evidence: those that say more than it, or less, lack support, or rest on something taken back."
  auditClaims(
    "Id of a publication; all publications when left out."
    publication: ID
    "Whether to list sentences whose wording fits as well."
    fitting: Boolean! = false
    "The most items to give, 1 to 1000."
    first: Int! = 200
  ): [AuditedClaim!]!
  "Everything that rests on a thing: an observation, photo, component, part, device, pattern, decision, source or claim. Null, with error NOT_FOUND, when nothing visible has the id."
  impactOf(
    "Global id of the thing."
    id: ID!
  ): Impact
  "What a change would come to. Nothing is written."
  whatIf(
    "The change."
    change: AmendmentInput!
  ): Difference!
  "The latest corrections, first to last."
  corrections(
    "The most items to give, 1 to 1000."
    last: Int! = 100
  ): [Correction!]!
}

extend type Mutation {
  "Puts the record right and journals it together with the publications and sentences that it touches, each with a text for its notice."
  correct(
    "The change."
    change: AmendmentInput!
    "Who puts it right."
    actor: String!
    "Why; stands in the notice."
    reason: String!
  ): CorrectionAnswer!
}
`;
