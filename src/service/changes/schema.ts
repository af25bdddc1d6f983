export const schema = `
"A file of an import."
input FileInput {
  "Name of the file; its ending says how to read it (\`.yaml\`, \`.yml\`, \`.json\`), and problems name it."
  name: String!
  "The whole text of the file, a dossier or a catalogue."
  text: String!
}

"Something seen or measured, to be recorded."
input ObservationInput {
  "Local id, lower-case words joined by hyphens; not used in the dossier yet."
  id: String!
  "Local ids of the components, boards or other things it is about."
  about: [String!]!
  "How it was observed."
  kind: ObservationKind!
  "What was seen, in words."
  text: String
  "Marking as read: \`?\` for an unread character, \`[8B]\` for one of several."
  marking: String
  "What was measured."
  value: QuantityInput
  "For a trace: local ids of what it leads to."
  leadsTo: [String!]
  "Local id of the photo that shows it."
  photo: String
  "How it was looked at."
  method: String
  "When."
  on: PartialDate
  "By whom."
  by: String
  "Local id of the earlier observation that it puts right."
  corrects: String
  "Ids of published sentences (publication, slash, local id) or sources that it leans on."
  cites: [ID!]
  "A remark, in words."
  note: String
}

"A conclusion about what a component is, to be set."
input IdentificationInput {
  "Ids of published sentences (publication, slash, local id) or sources that it leans on."
  cites: [ID!]
  "Reference designator of the component."
  component: String!
  "Rival candidates; what their probabilities leave to 1 stays unknown."
  candidates: [CandidateInput!]!
  "How far the conclusion has come."
  state: IdentificationState! = PROPOSED
  "Local ids of the observations it rests on."
  basis: [String!]! = []
  "Who judged."
  by: String
  "When."
  on: PartialDate
  "Why."
  reason: String
}

"One thing a component may be; names a part, a category or a maker."
input CandidateInput {
  "Id of the part."
  part: ID
  "Term of the taxonomy, for a component known only by its kind."
  category: String
  "Id of the maker, when the part is not known."
  maker: ID
  "Probability that the component is this, 0 to 1."
  probability: Float!
}

"A line of the journal, as proof of a change."
type JournalEntry {
  "Its place in the journal, from 1 without gaps."
  sequence: Int!
  "UUID of version 7 (RFC 9562)."
  id: ID!
  "When it was written."
  instant: DateTime!
  "Who made the change."
  actor: String!
  "Why."
  reason: String!
  "What kind of change: \`record-put\`, \`dossier-put\`, \`observation-recorded\`, \`observation-withdrawn\`, \`identification-set\` or \`identification-judged\`."
  kind: String!
  "SHA-256 over the entry and the hash of the entry before it, lower-case hexadecimal."
  hash: String!
}

"What an import brought in."
type ImportAnswer {
  "Number of journal entries written; 0 when the archive already held everything."
  entries: Int!
  "Number of catalogue records put."
  records: Int!
  "Number of dossiers put."
  dossiers: Int!
  "Specimens whose dossiers were put, as far as the asker may see them."
  specimens: [Specimen!]!
  "The last entry written; null when none was."
  entry: JournalEntry
}

"What recording an observation did."
type ObservationAnswer {
  "The observation, as it now stands."
  observation: Observation!
  "The entry written."
  entry: JournalEntry!
}

"What setting an identification did."
type IdentificationAnswer {
  "The component, with what it is now taken for."
  component: Component!
  "The entry written."
  entry: JournalEntry!
}

"The changes that the archive takes. Each is journaled with who made it and why."
type Mutation {
  "Brings dossiers and catalogues in, all or nothing. Every problem of every file is listed in the error, with file, line, column, path and mend. Importing the same again changes nothing."
  importDossier(
    "The files."
    files: [FileInput!]!
    "Who imports."
    actor: String!
    "Why."
    reason: String!
  ): ImportAnswer!
  "Adds an observation to a specimen's dossier. Observations are never changed; a later one corrects an earlier."
  recordObservation(
    "Id of the specimen."
    specimen: ID!
    "What was observed."
    observation: ObservationInput!
    "Who records it."
    actor: String!
    "Why."
    reason: String!
  ): ObservationAnswer!
  "Sets what a component is taken for; the judgement before stays in history."
  setIdentification(
    "Id of the specimen."
    specimen: ID!
    "The judgement."
    identification: IdentificationInput!
    "Who judges."
    actor: String!
    "Why."
    reason: String!
  ): IdentificationAnswer!
}
`;
