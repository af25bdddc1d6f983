import { MOST_COMPONENTS, MOST_GIVEN } from '../../structures/settled.ts';
import { enumType } from '../base/enums.ts';

/** Seconds that a search may take; what was found until then is answered. */
export const MOST_SECONDS = 20;

export const schema = `
${enumType('RecurringLinks', 'How connections are told apart.', {
  bus: 'By bus where it is known, by medium where not.',
  medium: 'By medium alone.',
  none: 'Not at all.',
})}
${enumType('RecurringOrder', 'Which structures come first.', {
  surprise: 'Number of devices times the logarithm of the lift.',
  lift: 'How much oftener than by chance.',
  support: 'Number of devices.',
  year: 'How clearly it goes with the years.',
})}

"A lower and an upper limit of 95 %, both included."
type RecurringInterval {
  "Lower limit: a share (0 to 1) or a ratio."
  low: Float!
  "Upper limit: a share (0 to 1) or a ratio."
  high: Float!
}

"A connection of a structure."
type RecurringLink {
  "Number of the component at one end, from 0 in the list of kinds."
  from: Int!
  "Number of the component at the other end, from 0 in the list of kinds."
  to: Int!
  "Bus or kind of signal, where it is known and told apart."
  bus: String
  "Medium, where the bus is not known or media alone are told apart."
  medium: String
  "Whether it runs within \`one\` board, between \`two\`, or that is \`unknown\`; null where not told apart."
  boards: String
}

"What chance alone would give: every kind of link spread over devices by itself, and the links of a device joining any components of the right kinds."
type RecurringChance {
  "Number of devices expected."
  expected: Float!
  "Share (0 to 1) of seeded shuffles, of devices that hold all its links, in which they meet in this way."
  meeting: Float!
  "Standard error of \`meeting\` from the finite number of shuffles."
  meetingError: Float!
  "Number of devices that have it over the number expected; null when no shuffle gave it."
  lift: Float
  "Interval of the lift from that of the share (Wilson)."
  liftInterval: RecurringInterval
}

"Whether the share of devices with a structure goes with the year of release."
type RecurringYears {
  "Number of devices it rests on."
  n: Int!
  "Number of years with devices."
  years: Int!
  "Two-sided p-value of Cochran and Armitage, 0 to 1."
  p: Float!
  "The p-value, 0 to 1, corrected for all structures found (Benjamini–Hochberg)."
  q: Float!
  "Change of the share in a year."
  slope: Float!
}

"A named pattern that speaks of the same components."
type RecurringKnown {
  "The pattern."
  pattern: Pattern!
  "Share (0 to 1) of the devices with the structure, of at most 30 of them, in which a match of the pattern and the structure have two components in common."
  share: Float!
}

"Components of given kinds joined by given connections, found in several devices."
type RecurringStructure {
  "In words."
  words: String!
  "As a pattern in the read-only subset of ISO/IEC 39075 (GQL): it finds at least the devices counted here, and beside them only such where a kind is in doubt."
  text: String!
  "Term of the taxonomy of each component."
  kinds: [String!]!
  "Its connections."
  links: [RecurringLink!]!
  "Number of devices in which it lies with every kind certain (probability 0.95 or more each)."
  support: Int!
  "Share of the devices looked into, 0 to 1."
  share: Float!
  "Interval of the share (Wilson)."
  shareInterval: RecurringInterval!
  "Number of devices that may have it, doubtful identifications included."
  possible: Int!
  "Number of devices to expect among these: the sum of their probabilities."
  expected: Float!
  "What chance alone would give."
  chance: RecurringChance!
  "Whether it goes with the years; null with fewer than 20 devices or 4 years, or where nothing varies."
  year: RecurringYears
  "Named patterns that speak of the same components in at least half of its devices, most first."
  knownAs: [RecurringKnown!]!
  "Number of structures left out of the list as variants of this one: at the same components but for one."
  variants: Int!
  "Whether a structure of more components than allowed has the same devices."
  growsFurther: Boolean!
  "The devices, by id."
  devices(
    "The most devices to give, 0 to 500."
    first: Int! = 20
  ): [Device!]!
}

"Structures that recur over the visible devices."
type RecurringStructures {
  "The first ones in the order asked for."
  structures: [RecurringStructure!]!
  "Number of closed structures found: those that no larger one has the same devices as."
  found: Int!
  "Number of devices looked into: those with a component on record."
  devices: Int!
  "Number of devices that a structure had to have."
  minSupport: Int!
  "False when time or too many structures ended the search early; then structures may be missing."
  complete: Boolean!
  "What must be said beside the figures."
  cautions: [String!]!
}

"What saving a pattern did."
type SavePatternAnswer {
  "The pattern, as it stands in the library."
  pattern: Pattern!
  "The entry written."
  entry: JournalEntry!
}

extend type Query {
  "Structures of components and connections that recur over the visible devices (closed frequent subgraphs), against chance and against year. The search is given ${MOST_SECONDS} s."
  recurringStructures(
    "Fewest devices, 2 or more; left out: a tenth of the devices looked into, at least 3."
    minSupport: Int
    "Fewest components, 2 or more."
    minSize: Int! = 3
    "Most components, at most ${MOST_COMPONENTS}."
    maxSize: Int! = 4
    "Steps under \`Component\` down to which kinds are told apart, 1 to 5; left out: the most telling kind that is certain."
    level: Int
    "Kinds (terms of the taxonomy) left out, with all under them."
    without: [String!]! = ["Passive"]
    "How connections are told apart."
    links: RecurringLinks! = BUS
    "Whether connections within a board and from board to board are told apart."
    boards: Boolean! = false
    "Which come first."
    order: RecurringOrder! = SURPRISE
    "Whether variants of a structure given before are given as well."
    variants: Boolean! = false
    "Whether only those are given that no named pattern speaks of: what nobody has written of."
    unwritten: Boolean! = false
    "The most structures to give, 1 to ${MOST_GIVEN}."
    first: Int! = 20
  ): RecurringStructures!
}

extend type Mutation {
  "Puts a pattern into the library under an id that none has yet. It is journaled with who saved it and why."
  savePattern(
    "Id of the pattern, lower-case words joined by hyphens."
    id: ID!
    "Plain words of the trade."
    name: String!
    "The design idea, in one sentence."
    idea: String!
    "The pattern, in the read-only subset of ISO/IEC 39075 (GQL)."
    text: String!
    "Reasons a designer may have had, one or more."
    reasons: [String!]!
    "What would speak against reading it so."
    against: [String!]! = []
    "How often the shape means the idea, as judged by the editor, 0 to 1."
    strength: Float! = 0.8
    "A remark, in words."
    note: String
    "Who saves it."
    actor: String!
    "Why."
    reason: String!
  ): SavePatternAnswer!
}
`;
