import type { Standing } from '../../decisions/decision.ts';
import { enumType } from '../base/enums.ts';

const STANDING_MEANINGS: Readonly<Record<Standing, string>> = {
  proposed: 'The pattern suggests it; no editor has spoken.',
  endorsed: 'An editor agrees.',
  doubted: 'An editor has doubts.',
  rejected: 'An editor rejects it; it counts for nothing as long as its evidence stays as it was.',
  reopened: 'It was rejected, and its evidence has changed since.',
};

export const schema = `
${enumType('DecisionStanding', 'How a decision stands.', STANDING_MEANINGS)}
"What an editor may say of a decision."
enum DecisionVerdict {
  "Agreed."
  ENDORSED
  "Doubted."
  DOUBTED
  "Rejected; it does not come back unless its evidence changes."
  REJECTED
}

"A design decision that a named pattern suggests of a device: a conclusion, never something seen."
type Decision implements Node {
  "Id: device, colon, pattern."
  id: ID!
  "The device."
  device: Device!
  "The named pattern that suggests it."
  pattern: Pattern!
  "Name of the pattern."
  name: String!
  "The design idea, in one sentence."
  idea: String!
  "Probability, 0 to 1, that the designers decided so: that the shape is there, times how often the shape means the idea."
  probability: Float!
  "Probability, 0 to 1, that the shape is there, from the identifications it rests on."
  shape: Float!
  "How often the shape means the idea, as judged by the editor of the pattern, 0 to 1."
  strength: Float!
  "How \`shape\` was found: \`exact\`, or a bounded \`estimate\`."
  method: String!
  "The phrase of the calibrated likelihood scale for the probability (Mastrandrea et al. 2010)."
  likelihood: String!
  "Number of ways in which the pattern fits."
  matchCount: Int!
  "The ways in which the pattern fits, most certain first."
  matches(
    "The most matches to give, 0 to 200."
    first: Int! = 5
  ): [PatternMatch!]!
  "Reasons a designer may have had."
  reasons: [String!]!
  "Other explanations of the same shape."
  against: [String!]!
  "How it stands."
  standing: DecisionStanding!
  "What editors said of it, first to last."
  judgements: [DecisionJudgement!]!
  "What it is made of: components and boards that the matches bind."
  supportedBy: [Node!]!
  "The observations underneath: those under the identifications and connections used, and those about the components."
  observations: [Observation!]!
  "The arithmetic that tests it, with the figures of its most certain match; null when the pattern names none."
  check(
    "Inputs by hand, in addition to what the archive knows."
    given: [CheckInputValue!]! = []
  ): BoundCheck
}

"What an editor said of a decision."
type DecisionJudgement {
  "The verdict."
  verdict: DecisionVerdict!
  "Who judged."
  by: String!
  "Why."
  reason: String!
  "When."
  on: DateTime!
}

"What judging a decision did."
type DecisionAnswer {
  "The decision, as it now stands."
  decision: Decision!
  "The entry written."
  entry: JournalEntry!
}

extend type Device {
  "Design decisions that named patterns suggest of it, likeliest first."
  decisions(
    "The least probability, 0 to 1."
    atLeast: Float! = 0
    "Whether to list rejected ones too."
    rejected: Boolean! = false
  ): [Decision!]!
}

extend type Query {
  "One decision; null when its pattern does not fit, or nothing visible has the id."
  decision(
    "Id: device, colon, pattern."
    id: ID!
  ): Decision
  "Decisions of a device, or those of a pattern in every visible device, likeliest first. Give exactly one of the two."
  decisions(
    "Id of the device."
    device: ID
    "Id of the named pattern."
    pattern: ID
    "The least probability, 0 to 1."
    atLeast: Float! = 0
    "Whether to list rejected ones too."
    rejected: Boolean! = false
    "The most items to give, 1 to 500."
    first: Int! = 100
  ): [Decision!]!
}

extend type Mutation {
  "Says what an editor makes of a decision. The number stays what the evidence makes it; a rejected decision counts for nothing until its evidence changes."
  judgeDecision(
    "Id of the decision: device, colon, pattern."
    decision: ID!
    "The verdict."
    verdict: DecisionVerdict!
    "Who judges."
    actor: String!
    "Why."
    reason: String!
  ): DecisionAnswer!
}
`;
