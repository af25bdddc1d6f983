import type {
  BOARD_KINDS,
  BUSES,
  IDENTIFICATION_STATES,
  MEDIA,
  OBSERVATION_KINDS,
  SIDES,
  SUBSYSTEM_KINDS,
  specimenSchema,
  VISIBILITIES,
} from '../../model/dossier.ts';
import { enumType } from '../base/enums.ts';
import { connectionTypes, PAGE_ARGUMENTS } from '../connections/schema.ts';

type Meanings<W extends readonly string[]> = Readonly<Record<W[number], string>>;

const CONDITIONS: Readonly<Record<(typeof specimenSchema.shape.condition)['_output'], string>> = {
  intact: 'As it left the shop.',
  worn: 'Used, but whole.',
  'damaged-before': 'Damaged before it came to the bench.',
  'damaged-in-opening': 'Damaged while it was opened; some things could not be seen any more.',
};
const VISIBILITY: Meanings<typeof VISIBILITIES> = {
  published: 'Everyone may see it.',
  draft: 'Only the desk may see it.',
  embargoed: 'Only the desk may see it before the embargo ends.',
};
const KINDS_OF_BOARD: Meanings<typeof BOARD_KINDS> = {
  rigid: 'A rigid circuit board.',
  flex: 'A flexible circuit.',
  'rigid-flex': 'Rigid parts joined by a flexible circuit in one publication.',
  substrate: 'The substrate inside a package.',
  module: 'The carrier of a module.',
};
const SIDE: Meanings<typeof SIDES> = {
  top: 'The side that positions are seen from.',
  bottom: 'The other side.',
};
const SUBSYSTEMS: Meanings<typeof SUBSYSTEM_KINDS> = {
  sensing: 'Measures the wearer or the surroundings.',
  processing: 'Runs programs.',
  power: 'Stores, charges and regulates.',
  radio: 'Sends and receives.',
  display: 'Shows.',
  haptics: 'Makes itself felt.',
  audio: 'Makes or takes in sound.',
  storage: 'Keeps data.',
  interconnect: 'Joins boards and parts.',
  antenna: 'Radiates and receives radio waves.',
  enclosure: 'Shell, window, seals and strap.',
};
const MEDIUM: Meanings<typeof MEDIA> = {
  trace: 'A copper trace on a board.',
  flex: 'A flexible circuit.',
  wire: 'A wire or cable.',
  contact: 'A spring, pin or pad that touches.',
  'rf-feed': 'A radio-frequency feed line.',
  'optical-path': 'Light through air, a guide or a window.',
  adhesive: 'Glue or tape.',
  screw: 'A screw or clip.',
};
const BUS: Meanings<typeof BUSES> = {
  I2C: 'Two-wire bus, I2C.',
  I3C: 'Two-wire bus, I3C.',
  SPI: 'Serial peripheral interface.',
  QSPI: 'Serial peripheral interface with four data lines.',
  UART: 'Asynchronous serial line.',
  I2S: 'Serial bus for sampled sound.',
  PDM: 'Pulse-density stream, as microphones send.',
  USB: 'Universal Serial Bus.',
  'MIPI-DSI': 'Display serial interface.',
  SDIO: 'Secure Digital input/output bus.',
  GPIO: 'A single logic line.',
  analog: 'An analogue signal.',
  power: 'A supply.',
  rf: 'A radio-frequency signal.',
};
const OBSERVATIONS: Meanings<typeof OBSERVATION_KINDS> = {
  marking: 'Letters or a logo read on a package.',
  package: 'What the package looks like.',
  'body-size': 'The size of a body, measured.',
  'pin-count': 'Terminals counted.',
  trace: 'A trace followed to what it leads to.',
  position: 'Where something lies.',
  appearance: 'What something looks like.',
  measurement: 'A quantity measured.',
  probe: 'A signal probed.',
  'x-ray': 'Seen in an X-ray image.',
  condition: 'Wear or damage.',
};
const STATES: Meanings<typeof IDENTIFICATION_STATES> = {
  proposed: 'Somebody thinks so.',
  favoured: 'The best explanation so far.',
  settled: 'Nobody doubts it.',
  withdrawn: 'No longer held.',
};

export const schema = `
${enumType('Condition', 'The state a specimen was in.', CONDITIONS)}
${enumType('Visibility', 'Who may see a dossier.', VISIBILITY)}
${enumType('BoardKind', 'How a board is made.', KINDS_OF_BOARD)}
${enumType('Side', 'A side of a board.', SIDE)}
${enumType('SubsystemKind', 'The task of a group of components.', SUBSYSTEMS)}
${enumType('Medium', 'What a connection is made of.', MEDIUM)}
${enumType('Bus', 'What a connection carries.', BUS)}
${enumType('ObservationKind', 'How something was observed.', OBSERVATIONS)}
${enumType('IdentificationState', 'How far a conclusion has come; a probability always stands beside it.', STATES)}

"The unit of a device that was opened."
type Specimen implements Node {
  "Id: device, slash, local id."
  id: ID!
  "The device it is a specimen of."
  device: Device!
  "Hardware revision, as printed or told."
  revision: String
  "When it was bought."
  bought: PartialDate
  "Where it was sold: country, two letters after ISO 3166-1."
  region: String
  "Serial number or part of it."
  serial: String
  "The state it was in."
  condition: Condition!
  "A remark, in words."
  note: String
  "Who may see its dossier."
  visibility: Visibility!
  "When the embargo ends, if there is one."
  embargoUntil: DateTime
  "How it was opened."
  teardown: Teardown!
  "Its boards, in the order of the dossier."
  boards: [Board!]!
  "Its subsystems, in the order of the dossier."
  subsystems: [Subsystem!]!
  "Its components, by designator."
  components(${PAGE_ARGUMENTS}
    "Only components whose likeliest category is this term or stands under it."
    category: String
  ): ComponentConnection!
  "Its connections, in the order of the dossier."
  connections(${PAGE_ARGUMENTS}): LinkConnection!
  "What was seen and measured, in the order it was recorded."
  observations(${PAGE_ARGUMENTS}): ObservationConnection!
  "What its components are taken for: the judgement that counts now for each, by designator."
  identifications(${PAGE_ARGUMENTS}): IdentificationConnection!
  "Its photos."
  photos: [Photo!]!
  "Components of each kind, counted with their doubt."
  kindCounts(
    "Term of the taxonomy whose sub-terms are counted."
    above: String! = "Sensor"
  ): [KindCount!]!
  "Components in each subsystem."
  subsystemCounts: [SubsystemCount!]!
}

"The event of opening a specimen."
type Teardown implements Node {
  "Id: specimen, slash, \`teardown\`."
  id: ID!
  "The specimen opened."
  specimen: Specimen!
  "When it was opened."
  on: PartialDate!
  "Who opened it."
  by: String!
  "Where."
  place: String
  "What was done, step by step."
  steps: [TeardownStep!]!
  "Hazards of opening it, by the names of the cautions."
  hazards: [String!]!
  "What to mind when opening a device like this one: usual cautions of the bench, not a substitute for local rules."
  cautions: [String!]!
  "A remark, in words."
  note: String
}

"One step of opening a specimen."
type TeardownStep {
  "Its place in the order, from 1."
  number: Int!
  "What is done."
  do: String!
  "The tool used."
  tool: String
  "Bench time, minutes."
  minutes: Float
  "Whether the specimen cannot be put back as it was."
  destructive: Boolean!
  "Hazards of this step, by the names of the cautions."
  hazards: [String!]!
  "What to mind at this step; never empty for a destructive one."
  cautions: [String!]!
}

"A circuit board, flexible circuit, substrate or module carrier."
type Board implements Node {
  "Id: specimen, slash, local id."
  id: ID!
  "The specimen it belongs to."
  specimen: Specimen!
  "What it is called."
  name: String
  "How it is made."
  kind: BoardKind!
  "Corner points of its outline, mm, in order; a rectangle has four. Empty when it was not measured."
  outline: [Point!]!
  "Area inside the outline, one side, mm²."
  area: Float
  "Sides that carry components."
  sides: [Side!]!
  "Copper layers."
  layers: Int
  "The board it lies on."
  stackedOn: Board
  "Components on it, by designator."
  components(${PAGE_ARGUMENTS}
    "Only components whose likeliest category is this term or stands under it."
    category: String
  ): ComponentConnection!
  "Connections that end at the board itself."
  connections(${PAGE_ARGUMENTS}): LinkConnection!
  "A remark, in words."
  note: String
}

"A group of components with one task."
type Subsystem implements Node {
  "Id: specimen, slash, local id."
  id: ID!
  "The specimen it belongs to."
  specimen: Specimen!
  "Its task."
  kind: SubsystemKind!
  "What it is called."
  name: String
  "Components that belong to it, by designator."
  components(${PAGE_ARGUMENTS}
    "Only components whose likeliest category is this term or stands under it."
    category: String
  ): ComponentConnection!
  "A remark, in words."
  note: String
}

"A connection between two components or boards; it has no direction."
type Link {
  "The two components or boards that it joins."
  ends: [Node!]!
  "What it is made of."
  medium: Medium!
  "What it carries, when known."
  bus: Bus
  "Number of conductors."
  lines: Int
  "Observations that show it."
  basis: [Observation!]!
  "A remark, in words."
  note: String
}

"Something seen or measured. It is never changed; a later observation corrects it."
type Observation implements Node {
  "Id: specimen, slash, local id."
  id: ID!
  "The specimen it was made on."
  specimen: Specimen!
  "How it was observed."
  kind: ObservationKind!
  "The components, boards or other things it is about."
  about: [Node!]!
  "What was seen, in words."
  text: String
  "Marking as read: \`?\` for an unread character, \`[8B]\` for one of several."
  marking: String
  "What was measured."
  value: Quantity
  "For a trace: what it leads to."
  leadsTo: [Node!]!
  "The photo that shows it."
  photo: Photo
  "How it was looked at."
  method: String
  "When."
  on: PartialDate
  "By whom."
  by: String
  "The earlier observation that it puts right."
  corrects: Observation
  "Published sentences and sources that it leans on, as far as they may be seen."
  cites: [Node!]!
  "Later observations that put it right."
  correctedBy: [Observation!]!
  "A remark, in words."
  note: String
}

"A photo, known by the digest of its file."
type Photo implements Node {
  "Id: specimen, slash, local id."
  id: ID!
  "The specimen it shows."
  specimen: Specimen!
  "SHA-256 of the file, lower-case hexadecimal."
  sha256: String!
  "File name beside the dossier."
  file: String
  "Caption."
  caption: String
  "Who took it."
  credit: String!
  "Licence: SPDX identifier or a plain sentence."
  licence: String!
  "Regions that show single things."
  regions: [PhotoRegion!]!
}

"A part of a photo."
type PhotoRegion {
  "What it shows."
  of: Node
  "The region as a media fragment (W3C Media Fragments URI 1.0): left, top, width and height in percent of the photo."
  fragment: String!
}

${connectionTypes('Link', 'connections')}
${connectionTypes('Observation', 'observations')}
${connectionTypes('Specimen', 'specimens')}

extend type Query {
  "One specimen; null when nothing visible has the id."
  specimen(
    "Id: device, slash, local id."
    id: ID!
  ): Specimen
}
`;
