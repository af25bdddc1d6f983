import type { EVIDENCE_KINDS } from '../../identification/evidence.ts';
import { enumType } from '../base/enums.ts';

const KIND_MEANINGS: Readonly<Record<(typeof EVIDENCE_KINDS)[number] | 'judgement', string>> = {
  marking: 'The marking, against those the part is known to carry.',
  package: 'The package, against that of the catalogue.',
  'pin-count': 'The number of terminals.',
  'body-size': 'The body as measured.',
  appearance: 'What it plainly looks like.',
  'board-side': 'Side of the board on which such parts sit elsewhere.',
  neighbours: 'What it is connected to, as such parts are elsewhere.',
  buses: 'Buses it speaks, as such parts do elsewhere.',
  'maker-habit': 'Makers of parts that the maker of the device uses elsewhere.',
  'release-date': 'Release of the device, against the first delivery of the part.',
  'unknown-part': 'How well a part that no catalogue has would fit its place, against all parts alike.',
  judgement: "An editor's own judgement, with name and reason.",
};

export const schema = `
${enumType('EvidenceKind', 'What a piece of evidence is about.', KIND_MEANINGS)}
${enumType('CandidateState', 'How far the evidence takes a component; the probability stands beside it.', {
  'all-but-certain': 'The likeliest part has a probability of 0.95 or more.',
  leading: 'The likeliest part is more likely than all else together.',
  contested: 'No part is more likely than all else together.',
  'not-in-catalogue': 'It is most likely none of the parts in the catalogue.',
})}

"What a component may be, worked out from what was seen of it and from the habits of all other devices."
type Candidates {
  "The component."
  component: Component!
  "How far the evidence takes it."
  state: CandidateState!
  "Parts it may be, likeliest first."
  parts(
    "The most parts to give, 1 to 100."
    first: Int! = 5
  ): [PossiblePart!]!
  "Probability, 0 to 1, that it is none of the parts in the catalogue. With all parts it sums to 1."
  none: Float!
  "Probability of each term of the taxonomy, likeliest first; super-terms included."
  categories: [PossibleCategory!]!
  "Probability of each maker of parts, likeliest first."
  makers: [PossibleMaker!]!
}

"A part that a component may be, with everything that speaks for and against it."
type PossiblePart {
  "The part."
  part: Part!
  "Probability, 0 to 1."
  probability: Float!
  "Weight before anything was seen of the component, from the use of the part in other devices, in units of decibans against being in no catalogue."
  priorDecibans: Float!
  "Each piece of evidence with its weight."
  evidence: [Evidence!]!
}

"A piece of evidence for or against a part."
type Evidence {
  "What it is about."
  kind: EvidenceKind!
  "What was seen, or who judged and why."
  says: String!
  "Weight in units of decibans, against being in no catalogue: 10 makes the part ten times as likely, -10 a tenth."
  decibans: Float!
}

"A term of the taxonomy that may apply."
type PossibleCategory {
  "The term."
  term: String!
  "Probability, 0 to 1."
  probability: Float!
}

"A maker that may have made it."
type PossibleMaker {
  "The maker."
  maker: Maker!
  "Probability, 0 to 1."
  probability: Float!
}

"Something that could still be looked at, and how much it may tell."
type NextObservation {
  "The component to look at."
  component: Component!
  "What to do at the bench."
  action: String!
  "The kind of observation that comes of it."
  kind: ObservationKind!
  "What it is expected to tell about which part it is (mutual information), in units of bits."
  bits: Float!
  "Bench work, minutes."
  minutes: Float!
  "The same for each minute of bench work, in units of bits."
  bitsPerMinute: Float!
  "Whether the specimen cannot be put back as it was."
  destructive: Boolean!
  "Cautions that belong to it."
  cautions: [String!]!
}

"A marking as typed, and what it may mean."
type MarkingReading {
  "The marking in its normal form: \`?\` for an unread character, \`[8B]\` for one of several."
  text: String!
  "Logos, as they were described in round brackets."
  logos: [String!]!
  "Its lines."
  lines: [MarkingLine!]!
  "Parts whose known markings look like it, best first."
  matches: [MarkingMatch!]!
  "Parts whose number is what was given or begins with it, whatever they carry; at most ten."
  numbered: [Part!]!
}

"One line of a marking."
type MarkingLine {
  "The line in its normal form."
  text: String!
  "Number of characters in doubt between several."
  doubtful: Int!
  "Number of characters not read at all."
  unread: Int!
  "What it may mean by the codes of standards and the trade; rivals stand side by side."
  readings: [CodeReading!]!
}

"What a line of a marking means by one rule."
type CodeReading {
  "The characters as this reading takes them."
  as: String!
  "Name of the rule."
  rule: String!
  "The standard, or that it is common practice."
  source: String!
  "What it means, in words with units."
  says: String!
  "Why it may not be so, such as a date after the release of the device."
  doubt: String
}

"A part whose known marking looks like a reading."
type MarkingMatch {
  "The part."
  part: Part!
  "The known marking that fits best, as the catalogue has it."
  marking: String!
  "Weight of the reading for the part, in units of decibans against a text nobody knows."
  decibans: Float!
}

"How far stated probabilities can be trusted: each settled identification was hidden, with its whole device, and worked out anew. What is settled is in the catalogue, so the chance of being in none is left out and the rest scaled to 1."
type Calibration {
  "Number of settled components that were worked out."
  components: Int!
  "Number of settled components that there are: more than were worked out where a sample was drawn."
  settled: Int!
  "Mean Brier score of the stated probabilities, 0 to 1; lower is better."
  brier: Float!
  "Mean log loss, in units of nats; lower is better."
  logLoss: Float!
  "Share, 0 to 1, whose true part was the likeliest."
  first: Float!
  "Share, 0 to 1, whose true part was among the three likeliest."
  firstThree: Float!
  "Stated against observed, in tenths."
  reliability: [ReliabilityBin!]!
}

"Stated probabilities in one tenth, and what came true."
type ReliabilityBin {
  "Lower edge, 0 to 1; itself included."
  from: Float!
  "Upper edge, 0 to 1; itself left out, but for 1."
  to: Float!
  "Number of stated probabilities."
  count: Int!
  "Mean of what was stated, 0 to 1."
  stated: Float
  "Share that came true, 0 to 1."
  observed: Float
  "Lower limit of the exact 95 % interval of that share, 0 to 1."
  low: Float
  "Upper limit of that interval, 0 to 1."
  high: Float
  "Whether what was stated lies inside the interval; null where nothing was stated."
  calibrated: Boolean
}

extend type Component {
  "What it may be, by the evidence."
  candidates: Candidates!
}

extend type Query {
  "What a component may be, by the evidence; null, with error NOT_FOUND, when there is none of that id."
  candidates(
    "Id of the component, such as \`tarn-loop-3/a/U3\`."
    component: ID!
  ): Candidates
  "What could still be looked at, most bits a minute first; null, with error NOT_FOUND, when nothing is of that id."
  nextObservations(
    "Id of a component, specimen, device, decision (\`device:pattern\`) or claim."
    of: ID!
    "The most to give, 1 to 200."
    first: Int! = 10
    "Whether to give destructive ones too."
    destructive: Boolean! = true
  ): [NextObservation!]
  "Reads a marking: codes of standards with their rivals, and parts that carry the like. Null, with error BAD_INPUT, when it cannot be parsed."
  readMarking(
    "The marking as typed: \`?\` for an unread character, \`[8B]\` for one of several, logos in round brackets; at most 500 characters."
    text: String!
    "When the device was first sold; dates after it are doubted."
    released: PartialDate
  ): MarkingReading
  "How far the probabilities can be trusted on this archive; null when nothing is settled. Costly: it works every settled component out anew."
  calibration(
    "Work out no more than so many components, drawn at random, 1 or more; all when left out."
    sample: Int
    "Decides the draw, 0 or more."
    seed: Int! = 1
  ): Calibration
}

"What judging an identification did."
type JudgementAnswer {
  "The component; its candidates take the judgement in."
  component: Component!
  "The entry written."
  entry: JournalEntry!
}

"What withdrawing an observation did."
type WithdrawalAnswer {
  "The observation, which stays on record and counts for nothing."
  observation: Observation!
  "The entry written."
  entry: JournalEntry!
}

extend type Mutation {
  "Enters an editor's own judgement as one more piece of evidence. Nothing is overwritten."
  judgeIdentification(
    "Id of the component."
    component: ID!
    "Id of the part that it speaks for or against."
    part: ID!
    "Weight, -60 to 60, in units of decibans: 10 makes the part ten times as likely, -10 a tenth."
    decibans: Float!
    "Who judges."
    actor: String!
    "Why."
    reason: String!
  ): JudgementAnswer!
  "Takes an observation back: it stays on record and leaves no trace in any number."
  withdrawObservation(
    "Id of the specimen."
    specimen: ID!
    "Local id of the observation."
    observation: ID!
    "Who takes it back."
    actor: String!
    "Why."
    reason: String!
  ): WithdrawalAnswer!
}

"Taking an observation back."
type Withdrawal {
  "Who took it back."
  by: String!
  "When."
  on: DateTime!
  "Why."
  reason: String!
}

extend type Observation {
  "Set when it was taken back: then it counts for nothing."
  withdrawn: Withdrawal
}
`;
