import { connectionTypes, PAGE_ARGUMENTS } from '../connections/schema.ts';

export const schema = `
"A catalogue entry: something a component may be."
type Part implements Node {
  "Id: maker, slash, part number."
  id: ID!
  "Part number in the catalogue."
  number: String!
  "Who makes it."
  maker: Maker
  "What the catalogue calls it, in a few words."
  name: String
  "What it is: terms of the taxonomy, several for a part with several functions."
  categories: [String!]!
  "Package as the trade writes it."
  package: String
  "Number of terminals."
  pins: Int
  "Body size, mm."
  body: BodySize
  "Markings it is known to carry; \`{lot:3}\` stands for three free characters, \`{date:YYWW}\` for a date code."
  markings: [String!]!
  "When it was first delivered."
  introduced: PartialDate
  "When it was last delivered."
  discontinued: PartialDate
  "The part of another maker that this one is, under a new label."
  relabels: Part
  "Parts of other makers that are this one, under a new label."
  relabelledAs: [Part!]!
  "Parameters from the catalogue sheet, by name."
  parameters: [Parameter!]!
  "A remark, in words."
  note: String
  "Specimens that may hold it, by id, with the probability of the likeliest place."
  specimens(${PAGE_ARGUMENTS}): PartUseConnection!
  "Components whose likeliest part is this one."
  components(${PAGE_ARGUMENTS}): ComponentConnection!
}

"A parameter of a part."
type Parameter {
  "Name of the parameter."
  name: String!
  "The sentence that explains it."
  meaning: String!
  "The amount, for a parameter that is one."
  quantity: Quantity
  "The text, for a parameter in words."
  text: String
  "Yes or no, for a parameter that is a property."
  flag: Boolean
  "The number, for a parameter that counts something."
  count: Int
}

"A specimen that may hold a part."
type PartUse {
  "The specimen."
  specimen: Specimen!
  "The part."
  part: Part!
  "Largest probability, 0 to 1, that one of its components is the part."
  probability: Float!
}

${connectionTypes('Part', 'parts')}
${connectionTypes('PartUse', 'specimens that may hold a part')}

"Which parts to list; conditions not given do not restrict."
input PartFilter {
  "Made by one of these makers (ids)."
  makers: [ID!]
  "One of its categories is this term of the taxonomy or stands under it."
  category: String
  "In this package, written exactly as recorded."
  package: String
  "First delivered on or after this date."
  introducedFrom: PartialDate
  "First delivered on or before this date; a year or month includes all of it."
  introducedTo: PartialDate
  "Whether some specimen may hold it."
  seen: Boolean
}

"What parts are sorted by; equal ones stand by id."
enum PartOrderField {
  "Id of the part: maker, then number."
  ID
  "When it was first delivered; unknown last."
  INTRODUCED
  "In how many specimens it may be, most first."
  USE
}

"How to sort parts."
input PartOrder {
  "What to sort by."
  field: PartOrderField! = ID
  "Which way."
  direction: Direction! = ASC
}

extend type Query {
  "One part; null when the catalogue has none with the id."
  part(
    "Id: maker, slash, part number."
    id: ID!
  ): Part
  "Parts that pass a filter, sorted, a page at a time."
  parts(
    "Which parts; all when not given."
    filter: PartFilter
    "How to sort them."
    orderBy: PartOrder! = {}
    ${PAGE_ARGUMENTS}
  ): PartConnection!
}
`;
