import type { LinkedPlace } from './places.ts';
import { SPACES } from './places.ts';

// Our own terms: what no published vocabulary has. Each class names what it is a kind of in W3C PROV-O, SKOS and schema.org, and every
// thing is written with both, so that a reader needs no inference.

export interface OwnClass {
  readonly is: string;
  /** Classes of published vocabularies that it is under. */
  readonly under?: readonly string[];
}

export const CLASSES = {
  Maker: { is: 'A maker of devices or parts.', under: ['schema:Organization'] },
  ProductLine: { is: 'A product line whose devices succeed one another.' },
  Device: { is: 'A model of a wearable, as sold.', under: ['schema:ProductModel', 'prov:Entity'] },
  Specimen: { is: 'One unit that was opened.', under: ['schema:IndividualProduct', 'prov:Entity'] },
  Teardown: { is: 'The event of opening a specimen.', under: ['prov:Activity'] },
  Step: { is: 'One step of opening a specimen.' },
  Board: { is: 'A circuit board, flexible circuit, substrate or module carrier.', under: ['prov:Entity'] },
  Subsystem: { is: 'A group of components with one task.', under: ['prov:Entity'] },
  Component: { is: 'A placed component: what was seen of it.', under: ['prov:Entity'] },
  Marking: { is: 'What is printed on a component, as it was read.', under: ['prov:Entity'] },
  Pin: { is: 'A pin of a component or part.' },
  Net: { is: 'A net: the pins that one conductor joins.', under: ['prov:Entity'] },
  NetMember: { is: 'A component that a net joins, with its pin where that is known.' },
  Connection: {
    is: 'A connection traced between two components or boards, without direction.',
    under: ['prov:Entity'],
  },
  Photo: { is: 'A photo, by its digest.', under: ['schema:ImageObject', 'prov:Entity'] },
  PhotoRegion: {
    is: 'A region of a photo; the address of a rectangle is a media fragment.',
    under: ['prov:Entity'],
  },
  Observation: {
    is: 'Something seen or measured. It is never changed; a later one corrects it.',
    under: ['prov:Entity'],
  },
  Seeing: { is: 'The act of seeing or measuring that gave an observation.', under: ['prov:Activity'] },
  Withdrawal: {
    is: 'The act of withdrawing an observation, which then counts for nothing.',
    under: ['prov:Activity'],
  },
  Identification: {
    is: 'A conclusion about what a component is. Its candidates exclude each other; what they leave to 1 is unknown.',
    under: ['prov:Entity'],
  },
  Concluding: { is: 'The act of concluding.', under: ['prov:Activity'] },
  Candidate: { is: 'One thing that a component may be.' },
  Judgement: {
    is: 'Weight that an editor gives for or against a part, or a verdict on a decision.',
    under: ['prov:Entity'],
  },
  Judging: { is: 'The act of judging.', under: ['prov:Activity'] },
  Part: { is: 'A catalogue entry of a part.', under: ['schema:ProductModel', 'prov:Entity'] },
  Source: {
    is: 'Where a fact from outside the bench comes from.',
    under: ['schema:CreativeWork', 'prov:Entity'],
  },
  Pattern: {
    is: 'A named pattern: a shape of circuits and the design idea that it stands for.',
    under: ['prov:Entity'],
  },
  Decision: {
    is: 'A design decision that a named pattern suggests of a device: a conclusion, never something seen.',
    under: ['prov:Entity'],
  },
  Publication: {
    is: 'What was published: an article, video, newsletter or figure.',
    under: ['schema:CreativeWork', 'prov:Entity'],
  },
  Claim: {
    is: 'One sentence of a publication with what supports it.',
    under: ['schema:Claim', 'prov:Entity'],
  },
  Figure: { is: 'A share, count, comparison or trend that a sentence states.', under: ['prov:Entity'] },
  Finding: { is: 'What was found against a sentence.' },
  Correction: { is: 'A change that corrected the archive.', under: ['prov:Activity'] },
  TouchedClaim: { is: 'A sentence that a correction touched, with its probability before and after.' },
  Feed: { is: 'A stored question with an address of its own.' },
  ListMapping: { is: 'Which column of the lists of one origin holds what.' },
} as const satisfies Readonly<Record<string, OwnClass>>;
export type OwnClassName = keyof typeof CLASSES;

/** What a property holds; `node` and `link` both lead to things. */
export type Holds = 'link' | 'text' | 'number' | 'count' | 'boolean' | 'date' | 'instant' | 'json';

interface Property {
  readonly holds: Holds;
  /** IRI of a published vocabulary that means it; left out for our own. */
  readonly iri?: string;
  /** Of our own: what it says. */
  readonly is?: string;
  readonly of?: OwnClassName;
  /** Of our own: class of what it leads to, of ours or of a published vocabulary. */
  readonly to?: string;
  /** Of our own: the published property that it is a narrower one of. */
  readonly under?: string;
  /** Order counts. */
  readonly isList?: true;
}

const published = (iri: string, holds: Holds): Property => ({ iri, holds });
const own = (holds: Holds, is: string, more: Omit<Property, 'holds' | 'is'> = {}): Property => ({
  holds,
  is,
  ...more,
});

/** Every key of a document but `id`, `type` and JSON-LD's own. */
export const PROPERTIES = {
  // schema.org
  name: published('schema:name', 'text'),
  manufacturer: published('schema:manufacturer', 'link'),
  model: published('schema:model', 'link'),
  released: published('schema:releaseDate', 'date'),
  succeeds: published('schema:successorOf', 'link'),
  mass: published('schema:weight', 'link'),
  width: published('schema:width', 'link'),
  height: published('schema:height', 'link'),
  identifier: published('schema:identifier', 'link'),
  propertyId: published('schema:propertyID', 'text'),
  value: published('schema:value', 'number'),
  minValue: published('schema:minValue', 'number'),
  maxValue: published('schema:maxValue', 'number'),
  unitCode: published('schema:unitCode', 'text'),
  unitText: published('schema:unitText', 'text'),
  textValue: published('schema:value', 'text'),
  parameter: published('schema:additionalProperty', 'link'),
  price: published('schema:price', 'number'),
  currency: published('schema:priceCurrency', 'text'),
  serialNumber: published('schema:serialNumber', 'text'),
  bought: published('schema:purchaseDate', 'date'),
  partNumber: published('schema:mpn', 'text'),
  sentence: published('schema:text', 'text'),
  inPublication: published('schema:isPartOf', 'link'),
  published: published('schema:datePublished', 'date'),
  caption: published('schema:caption', 'text'),
  credit: published('schema:creditText', 'text'),
  licence: published('schema:license', 'text'),
  sha256: published('schema:sha256', 'text'),
  address: published('schema:url', 'text'),
  // Dublin Core, RDF Schema
  date: published('dcterms:date', 'date'),
  partOf: published('dcterms:isPartOf', 'link'),
  cites: published('dcterms:references', 'link'),
  citation: published('dcterms:bibliographicCitation', 'text'),
  note: published('rdfs:comment', 'text'),
  // W3C PROV-O
  generatedBy: published('prov:wasGeneratedBy', 'link'),
  derivedFrom: published('prov:wasDerivedFrom', 'link'),
  revisionOf: published('prov:wasRevisionOf', 'link'),
  invalidatedBy: published('prov:wasInvalidatedBy', 'link'),
  invalidatedAt: published('prov:invalidatedAtTime', 'instant'),
  endedAt: published('prov:endedAtTime', 'instant'),
  used: published('prov:used', 'link'),
  associatedWith: published('prov:wasAssociatedWith', 'link'),
  qualifiedAssociation: published('prov:qualifiedAssociation', 'link'),
  agent: published('prov:agent', 'link'),
  plan: published('prov:hadPlan', 'link'),
  // W3C SKOS
  label: published('skos:prefLabel', 'text'),
  alsoCalled: published('skos:altLabel', 'text'),
  definition: published('skos:definition', 'text'),
  notation: published('skos:notation', 'text'),
  broader: published('skos:broader', 'link'),
  narrower: published('skos:narrower', 'link'),
  inScheme: published('skos:inScheme', 'link'),
  topConceptOf: published('skos:topConceptOf', 'link'),
  hasTopConcept: published('skos:hasTopConcept', 'link'),

  // Our own
  makes: own('text', 'Whether a maker makes devices, parts or both.', { of: 'Maker' }),
  country: own('text', 'Country after ISO 3166-1, two letters.'),
  invented: own('boolean', 'Marks demo data: no such thing exists.'),
  inLine: own('link', 'The product line of a device.', { of: 'Device', to: 'ProductLine' }),
  bodySite: own('text', 'Where a device is worn.'),
  length: own('link', 'Longest side.', { to: 'schema:QuantitativeValue' }),
  priceAtRelease: own('link', 'Price when it was first sold.', {
    of: 'Device',
    to: 'schema:PriceSpecification',
  }),
  ingress: own('text', 'Ingress protection code after IEC 60529.', { of: 'Device' }),
  revision: own('text', 'Hardware revision, as printed or reported.', { of: 'Specimen' }),
  condition: own('text', 'State in which a specimen was when it was opened.', { of: 'Specimen' }),
  specimen: own('link', 'A unit of a device that was opened.', { of: 'Device', to: 'Specimen' }),
  teardown: own('link', 'The opening of a specimen.', { of: 'Specimen', to: 'Teardown' }),
  recordedFrom: own('text', 'What a record comes from: bench or design-files; the bench when left out.', {
    of: 'Teardown',
  }),
  place: own('text', 'Where a specimen was opened.', { of: 'Teardown' }),
  hazard: own('text', 'A hazard of opening it.'),
  step: own('link', 'Steps of an opening, in order.', { of: 'Teardown', isList: true }),
  does: own('text', 'What is done in a step.', { of: 'Step' }),
  tool: own('text', 'Tool of a step.', { of: 'Step' }),
  minutes: own('number', 'Bench time, minutes.', { of: 'Step' }),
  destructive: own('boolean', 'Whether the specimen cannot be put back as it was.', { of: 'Step' }),
  kindOfThing: own('text', 'The kind, one of the words that records of its class may have.'),
  outline: own('json', 'Outline of a board, mm, x to the right and y up, seen from the top side.', {
    of: 'Board',
  }),
  componentSide: own('text', 'A side of a board that carries components.', { of: 'Board' }),
  layers: own('count', 'Copper layers.', { of: 'Board' }),
  stackedOn: own('link', 'The board that a board lies on.', { of: 'Board', to: 'Board' }),
  fullyInventoried: own(
    'boolean',
    'Whether every component of a board is listed; only then can another one be absent.',
    { of: 'Board' },
  ),
  fullyTraced: own('boolean', 'Whether everything that components of a board are joined to is listed.', {
    of: 'Board',
  }),
  designator: own('text', 'Reference designator on its board.', { of: 'Component' }),
  designatorPrinted: own('boolean', 'Whether the designator is printed on the board.', { of: 'Component' }),
  onBoard: own('link', 'The board of a component, or that a photo shows.', { to: 'Board' }),
  side: own('text', 'Side of a board: top or bottom.'),
  xMillimetres: own('number', 'Centre to the right of the origin of its board, mm.', { of: 'Component' }),
  yMillimetres: own('number', 'Centre above the origin of its board, mm.', { of: 'Component' }),
  rotationDegrees: own('number', 'Degrees counter-clockwise, seen from its side.', { of: 'Component' }),
  bodyLengthMillimetres: own('number', 'Body along its own x, mm.'),
  bodyWidthMillimetres: own('number', 'Body along its own y, mm.'),
  bodyHeightMillimetres: own('number', 'Height of the body, mm.'),
  package: own('text', 'Package as the trade writes it.'),
  pinCount: own('count', 'Number of pins.'),
  pin: own('link', 'A pin, as far as it is known.', { to: 'Pin' }),
  pinNumber: own('text', 'Number of a pin after the package drawing.', { of: 'Pin' }),
  pinName: own('text', 'Name of a pin after the pinout.', { of: 'Pin' }),
  direction: own('text', 'Electrical type of a pin.', { of: 'Pin' }),
  pinFunction: own('text', 'What a pin is for.', { of: 'Pin' }),
  output: own('text', 'Which output of a chip with several supplies a pin is.', { of: 'Pin' }),
  statedValue: own('text', 'Value of a passive component, as printed or listed.', { of: 'Component' }),
  fitted: own('boolean', 'false: the place is empty.', { of: 'Component' }),
  marking: own('link', 'The marking of a component.', { of: 'Component', to: 'Marking' }),
  characters: own('text', 'Marking as read: ? for an unread character, [8B] for one of several.'),
  readingProbability: own('number', 'How sure the reading of a marking is, 0 to 1.', { of: 'Marking' }),
  appearsAs: own('link', 'What a component plainly is to the eye.', { of: 'Component', to: 'skos:Concept' }),
  inSubsystem: own('link', 'The subsystem of a component.', { of: 'Component', to: 'Subsystem' }),
  inside: own('link', 'The module or package that holds a component.', { of: 'Component', to: 'Component' }),
  joins: own('link', 'A member of a net.', { of: 'Net', to: 'NetMember' }),
  component: own('link', 'The component.', { to: 'Component' }),
  atPin: own('text', 'Pin by number or name, as recorded.', { of: 'NetMember' }),
  voltage: own('link', 'Voltage of a supply, nominal for a cell.', {
    of: 'Net',
    to: 'schema:QuantitativeValue',
  }),
  bus: own('text', 'Bus or kind of signal.'),
  medium: own('text', 'What carries a net or connection.'),
  complete: own('boolean', 'Whether everything that a net joins is listed.', { of: 'Net' }),
  between: own('link', 'The two ends of a connection, in order.', { of: 'Connection', isList: true }),
  lines: own('count', 'Number of conductors.', { of: 'Connection' }),
  matedPins: own('json', 'For mated connectors: pairs of pins that meet, in the order of the ends.', {
    of: 'Connection',
  }),
  file: own('text', 'File name of a photo.', { of: 'Photo' }),
  region: own('link', 'A region of a photo.', { of: 'Photo', to: 'PhotoRegion' }),
  knownPoints: own(
    'json',
    'Points of known position: place on the photo in percent from the left and from the top, place on the board in mm, standard uncertainty of that in mm.',
    { of: 'Photo' },
  ),
  shows: own('link', 'What a region of a photo shows.', { of: 'PhotoRegion' }),
  corners: own(
    'json',
    'Corners of a region that is no rectangle, one after the other: from the left and from the top, in percent of the photo.',
    { of: 'PhotoRegion' },
  ),
  shownOn: own('link', 'The photo that shows a step.', { of: 'Step', to: 'Photo' }),
  about: own('link', 'What an observation, identification or judgement is about.'),
  words: own('text', 'What was seen, in words.', { of: 'Observation' }),
  measured: own('link', 'What was measured.', { of: 'Observation', to: 'schema:QuantitativeValue' }),
  leadsTo: own('link', 'What a trace leads to.', { of: 'Observation' }),
  method: own('text', 'How it was looked at.', { of: 'Seeing' }),
  suggestion: own(
    'json',
    'What a program read on the photo before a person confirmed the marking: program, marking, part of the photo, degrees turned clockwise.',
    { of: 'Seeing' },
  ),
  reason: own('text', 'Why it was concluded, judged, withdrawn or changed.'),
  state: own('text', 'How far an identification has come: proposed, favoured, settled or withdrawn.', {
    of: 'Identification',
  }),
  current: own('boolean', 'Whether this identification of the component is the one that counts.', {
    of: 'Identification',
  }),
  candidate: own('link', 'One thing that the component may be.', { of: 'Identification', to: 'Candidate' }),
  unknownProbability: own('number', 'Probability that the component is none of the candidates, 0 to 1.', {
    of: 'Identification',
  }),
  part: own('link', 'The part.', { to: 'Part' }),
  kind: own('link', 'Term of the taxonomy that says what it is.', { to: 'skos:Concept' }),
  maker: own('link', 'The maker of whatever it is.', { to: 'Maker' }),
  probability: own('number', 'Probability, 0 to 1.'),
  probabilityLow: own('number', 'Least that the probability can be if doubts hang together, 0 to 1.'),
  probabilityHigh: own('number', 'Most that the probability can be if doubts hang together, 0 to 1.'),
  decibans: own('number', 'Weight of a judgement: 10 makes the part ten times as likely, -10 a tenth.', {
    of: 'Judgement',
  }),
  verdict: own('text', 'Verdict of an editor on a decision.', { of: 'Judgement' }),
  knownMarking: own('text', 'Marking that a part is known to carry, as a template.', { of: 'Part' }),
  discontinued: own('date', 'Last delivered.', { of: 'Part' }),
  relabels: own('link', 'The part of another maker that this one is, under a new label.', {
    of: 'Part',
    to: 'Part',
  }),
  accessed: own('date', 'When a source was looked at.', { of: 'Source' }),
  idea: own('text', 'The design idea in one sentence.', { of: 'Pattern' }),
  scope: own('text', 'Whether a match lies within one opened device or may span the archive.', {
    of: 'Pattern',
  }),
  patternText: own('text', 'The pattern, in the read-only subset of ISO/IEC 39075 (GQL).', { of: 'Pattern' }),
  possibleReason: own('text', 'A reason that a designer may have had.'),
  against: own('text', 'What would be evidence against this reading.'),
  strength: own('number', 'How often the shape means the idea, as judged by the editor, 0 to 1.'),
  check: own('json', 'The design check that tests it, with where its inputs come from.', { of: 'Pattern' }),
  ofDevice: own('link', 'The device that a decision is about.', { of: 'Decision', to: 'Device' }),
  byPattern: own('link', 'The pattern that suggests a decision.', { of: 'Decision', to: 'Pattern' }),
  shapeProbability: own('number', 'Probability that the shape is there, 0 to 1.', { of: 'Decision' }),
  standing: own('text', 'How a decision stands: proposed, endorsed, doubted, rejected or reopened.', {
    of: 'Decision',
  }),
  asserts: own('link', 'A sentence of a publication.', { of: 'Publication', to: 'Claim' }),
  supportedBy: own('link', 'What supports a sentence, as its author named it.', { of: 'Claim' }),
  figure: own('link', 'A figure that a sentence states.', { of: 'Claim', to: 'Figure' }),
  statedProbability: own('number', 'Probability that the author gave the sentence, 0 to 1.', { of: 'Claim' }),
  judgedBy: own('link', 'Who judged a sentence.', { of: 'Claim', to: 'prov:Agent' }),
  finding: own('link', 'What was found against a sentence.', { of: 'Claim', to: 'Finding' }),
  message: own('text', 'A finding in words.'),
  states: own('json', 'A figure in the form in which it can be calculated again.', { of: 'Figure' }),
  inWords: own('text', 'A figure or decision in words.'),
  subject: own('link', 'What devices have, of which a figure is about.', { of: 'Figure' }),
  device: own('link', 'A device that a figure compares.', { of: 'Figure', to: 'Device' }),
  summary: own('text', 'What a correction changed, in a sentence.', { of: 'Correction' }),
  corrects: own('link', 'What a correction changed.', { of: 'Correction' }),
  amendment: own('json', 'The change itself.', { of: 'Correction' }),
  touches: own('link', 'A sentence that a correction touched.', { of: 'Correction', to: 'TouchedClaim' }),
  claim: own('link', 'The sentence.', { to: 'Claim' }),
  probabilityBefore: own('number', 'Probability before a correction, 0 to 1.', { of: 'TouchedClaim' }),
  probabilityAfter: own('number', 'Probability after a correction, 0 to 1.', { of: 'TouchedClaim' }),
  notice: own('text', 'Text for a correction notice of a publication.', { of: 'TouchedClaim' }),
  question: own('text', 'The question of a feed, a GraphQL document.', { of: 'Feed' }),
  variables: own('json', 'Values of the variables of a question.', { of: 'Feed' }),
  rows: own('text', 'Path of the list in the answer whose items are rows.', { of: 'Feed' }),
  maxAgeSeconds: own('count', 'Seconds for which a copy may be shown without asking again.', { of: 'Feed' }),
  origin: own('text', 'Origin whose pages may read a feed.', { of: 'Feed' }),
  columns: own('json', 'Columns of a list by heading, with field and unit.', { of: 'ListMapping' }),
  sheet: own('text', 'Sheet of a workbook.', { of: 'ListMapping' }),
  headingRow: own('count', 'Number of the line with the headings.', { of: 'ListMapping' }),
  decimalSign: own('text', 'Decimal sign of numbers in a list: point or comma.', { of: 'ListMapping' }),
  lengthUnit: own('text', 'Unit of lengths in a list that says none.', { of: 'ListMapping' }),
  offBoard: own(
    'boolean',
    'Whether things of a kind lie off the boards, so that files of boards do not show them.',
  ),
  impliedBy: own('link', 'Wherever one of that kind is, there is one of this somewhere.', {
    to: 'skos:Concept',
  }),
  visibility: own(
    'text',
    'Who may see a record: published, draft or embargoed. Left out: whoever sees what it stands in.',
  ),
  embargoUntil: own('instant', 'End of an embargo.'),
} as const satisfies Readonly<Record<string, Property>>;
export type PropertyName = keyof typeof PROPERTIES;

/** Beginnings of published vocabularies. */
export const PUBLISHED = {
  schema: 'http://schema.org/',
  prov: 'http://www.w3.org/ns/prov#',
  skos: 'http://www.w3.org/2004/02/skos/core#',
  dcterms: 'http://purl.org/dc/terms/',
  rdf: 'http://www.w3.org/1999/02/22-rdf-syntax-ns#',
  rdfs: 'http://www.w3.org/2000/01/rdf-schema#',
  xsd: 'http://www.w3.org/2001/XMLSchema#',
} as const;

const DATATYPES: Partial<Readonly<Record<Holds, string>>> = {
  link: '@id',
  number: 'xsd:double',
  instant: 'xsd:dateTime',
  json: '@json',
};

const prefix = (iri: string) => ({ '@id': iri, '@prefix': true });

/** The JSON-LD context (JSON-LD 1.1) of all documents. */
export function contextOf({ base }: LinkedPlace): Readonly<Record<string, unknown>> {
  return {
    '@version': 1.1,
    ...PUBLISHED,
    ...Object.fromEntries(Object.entries(SPACES).map(([name, path]) => [name, prefix(`${base}${path}`)])),
    id: '@id',
    type: '@type',
    ...Object.fromEntries(Object.keys(CLASSES).map((name) => [name, `caseback:${name}`])),
    ...Object.fromEntries(
      Object.entries(PROPERTIES as Readonly<Record<string, Property>>).map(([name, property]) => {
        const iri = property.iri ?? `caseback:${name}`;
        const type = DATATYPES[property.holds];
        if (type === undefined) return [name, iri];
        return [name, { '@id': iri, '@type': type, ...(property.isList ? { '@container': '@list' } : {}) }];
      }),
    ),
  };
}

const RANGES: Readonly<Record<Holds, string | undefined>> = {
  link: undefined,
  text: 'xsd:string',
  number: 'xsd:double',
  count: 'xsd:integer',
  boolean: 'xsd:boolean',
  // At the precision known: xsd:gYear, xsd:gYearMonth or xsd:date.
  date: undefined,
  instant: 'xsd:dateTime',
  json: 'rdf:JSON',
};

const english = (text: string) => ({ '@value': text, '@language': 'en' });

/** The vocabulary of our own terms as a JSON-LD document (RDF Schema 1.1). */
export function vocabularyOf({ base }: LinkedPlace): Readonly<Record<string, unknown>> {
  const vocabulary = `${base}${VOCABULARY_NAME}`;
  const shared = (name: string, is: string) => ({
    '@id': `caseback:${name}`,
    'rdfs:label': english(inWords(name)),
    'rdfs:comment': english(is),
    'rdfs:isDefinedBy': { '@id': vocabulary },
  });
  const named = (name: string) => ({ '@id': name in CLASSES ? `caseback:${name}` : name });
  const classes = Object.entries(CLASSES as Readonly<Record<string, OwnClass>>).map(
    ([name, { is, under = [] }]) => ({
      ...shared(name, is),
      '@type': 'rdfs:Class',
      ...(under.length > 0 && { 'rdfs:subClassOf': under.map(named) }),
    }),
  );
  const properties = Object.entries(PROPERTIES as Readonly<Record<string, Property>>).flatMap(
    ([name, { is, of, to, under, holds, isList }]) => {
      if (is === undefined) return [];
      const range = isList ? 'rdf:List' : (to ?? RANGES[holds]);
      return {
        ...shared(name, is),
        '@type': 'rdf:Property',
        ...(of && { 'rdfs:domain': named(of) }),
        ...(range && { 'rdfs:range': named(range) }),
        ...(under && { 'rdfs:subPropertyOf': named(under) }),
      };
    },
  );
  return {
    '@context': {
      '@version': 1.1,
      ...PUBLISHED,
      caseback: prefix(`${base}${SPACES.caseback}`),
    },
    '@graph': [
      {
        '@id': vocabulary,
        'rdfs:label': english('Terms of Caseback'),
        'rdfs:comment': english(
          'What was seen in opened wearables, what was concluded from it, and what was published: terms that PROV-O, SKOS and schema.org do not have.',
        ),
      },
      ...classes,
      ...properties,
    ],
  };
}

/** The vocabulary itself, without the sign that its terms begin with. */
const VOCABULARY_NAME = SPACES.caseback.slice(0, -1);

/** `pin count` for `pinCount`. */
function inWords(name: string): string {
  return name.replaceAll(/(?<=[a-z])(?=[A-Z])/gu, ' ').toLowerCase();
}
