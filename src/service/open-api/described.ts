/** What is said of an address. */
export interface Described {
  readonly summary: string;
  /** Media type of the answer. */
  readonly type?: string;
  /** Parameters of the query, each with what it is. */
  readonly query?: readonly (readonly [name: string, description: string])[];
  /** Whether requests may be conditional. */
  readonly isConditional?: boolean;
}

const STATE = [
  [
    'state',
    'Sealed name of the state, as an answer gave it; without it the asker is led to that of the present (303).',
  ],
  ['variables', "JSON map of values of the question's variables, in place of those of the feed."],
] as const;

const JSON_TYPE = 'application/json';
const JSON_LD = 'application/ld+json';

const LINKED: Described = {
  summary:
    'Whatever has an id as linked data (JSON-LD 1.1), a publication with the support of its sentences.',
  type: JSON_LD,
  isConditional: true,
};
const THING: Described = { summary: 'The address of a thing; it leads to the document about it (303).' };

const DIAGRAM_QUERY = [
  ['passives', 'true: resistors, capacitors and the like are boxes, too.'],
  ['lit', 'Ids of components, nets and subsystems to pick out, with commas between them.'],
  ['width', 'Width wanted for the sheet, mm: 80 to 420; 170 when left out.'],
] as const;

/** Addresses of the service outside GraphQL and pages, in words. */
export const DESCRIBED: Readonly<Record<string, Described>> = {
  '/livez': { summary: 'The process answers.', type: JSON_TYPE },
  '/readyz': { summary: 'The archive is read; 503 before that.', type: JSON_TYPE },
  '/metrics': { summary: 'Counts in the text format of Prometheus, for administrators.', type: 'text/plain' },
  '/schema.graphql': { summary: 'The GraphQL schema.', type: 'text/plain' },
  '/openapi.json': { summary: 'This document.', type: JSON_TYPE },
  '/atom.xml': {
    summary: 'Devices opened, decisions judged and corrections, as readers see them (RFC 4287).',
    type: 'application/atom+xml',
    isConditional: true,
  },
  '/feeds': {
    summary: 'Feeds that the asker sees, with their addresses.',
    type: JSON_TYPE,
    isConditional: true,
  },
  '/feeds/{id}.json': { summary: 'The answer of a feed.', type: JSON_TYPE, isConditional: true },
  '/feeds/{id}.csv': { summary: 'The rows of a feed (RFC 4180).', type: 'text/csv', isConditional: true },
  '/feeds/{id}.svg': { summary: 'The picture of a feed.', type: 'image/svg+xml', isConditional: true },
  '/feeds/{id}.png': { summary: 'The picture of a feed.', type: 'image/png', isConditional: true },
  '/feeds/{id}.vl.json': {
    summary: 'The chart of a feed as Vega-Lite.',
    type: JSON_TYPE,
    isConditional: true,
  },
  '/feeds/{id}/events': {
    summary: 'Server-sent events that tell when the answer of a feed has changed.',
    type: 'text/event-stream',
  },
  '/oembed': {
    summary: 'How to frame the page of a feed (oEmbed 1.0).',
    type: JSON_TYPE,
    query: [
      ['url', 'Address of the page, /feeds/ID of this service.'],
      ['format', 'json; others are not implemented (501).'],
      ['maxwidth', 'Largest width of the frame, px.'],
      ['maxheight', 'Largest height of the frame, px.'],
    ],
  },
  '/exports': { summary: 'Files for other programs, kind by kind, with their addresses.', type: JSON_TYPE },
  '/exports/archive/{file}': {
    summary: 'A file for other programs, of everything that the asker sees, or KIND.zip for all of a kind.',
    isConditional: true,
  },
  '/exports/device/{device}/{file}': {
    summary: 'The same of a device with all its specimens.',
    isConditional: true,
  },
  '/exports/specimen/{device}/{specimen}/{file}': {
    summary: 'The same of a specimen.',
    isConditional: true,
  },
  '/drawings/board/{device}/{specimen}/{board}.svg': {
    summary: 'A board to scale.',
    type: 'image/svg+xml',
    query: [
      ['side', 'top or bottom; both when left out.'],
      ['lit', 'Ids of components, nets and subsystems to pick out, with commas between them.'],
      ['width', 'Width of the sheet, mm: 80 to 420; 170 when left out.'],
      ['photoStrength', 'Strength of photos beneath it, percent, 0 to 100; none when left out.'],
      ['photos', 'Ids of photos of which these are taken, with commas between them.'],
    ],
    isConditional: true,
  },
  '/drawings/diagram/{device}/{specimen}.svg': {
    summary: 'The block diagram of a specimen.',
    type: 'image/svg+xml',
    query: DIAGRAM_QUERY,
    isConditional: true,
  },
  '/drawings/diagram/{device}/{specimen}/{board}.svg': {
    summary: 'The block diagram of a board alone.',
    type: 'image/svg+xml',
    query: DIAGRAM_QUERY,
    isConditional: true,
  },
  '/photos/{device}/{specimen}/{photo}/info.json': {
    summary: 'What a viewer has to know of a picture (IIIF Image API 3.0, level 0).',
    type: JSON_TYPE,
    isConditional: true,
  },
  '/photos/{device}/{specimen}/{photo}/{region}/{size}/0/default.jpg': {
    summary: 'A tile of a picture, or the whole of it in one of its sizes, as its info.json lists them.',
    type: 'image/jpeg',
    isConditional: true,
  },
  '/photos/{device}/{specimen}/{photo}/board.jpg': {
    summary: 'The photo as its board would be seen from straight above, by the known points on it.',
    type: 'image/jpeg',
    isConditional: true,
  },
  '/photos/{device}/{specimen}/{photo}/of/{thing}.jpg': {
    summary: 'The part of a photo that shows a thing, by the region that its dossier gives it.',
    type: 'image/jpeg',
    isConditional: true,
  },
  '/photos/{device}/{specimen}/{photo}/file': {
    summary: 'The file of a photo without where and with which camera it was taken.',
    isConditional: true,
  },
  '/photos/{device}/{specimen}/{photo}/original': {
    summary: 'The file of a photo as it came, for whoever has an account.',
    isConditional: true,
  },
  '/photos/{device}/{specimen}/{photo}/regions/{name}.jpg': {
    summary:
      'A region of a photo by itself, at most 320 px wide and high, as GraphQL and documents lead to it.',
    type: 'image/jpeg',
    isConditional: true,
  },
  '/photos/{device}/{specimen}/{photo}/annotations.json': {
    summary: 'The regions of a photo as W3C Web Annotations.',
    type: JSON_LD,
    isConditional: true,
  },
  '/photos/{device}/{specimen}/manifest.json': {
    summary: 'The photos of a specimen with regions and credits (IIIF Presentation API 3.0).',
    type: JSON_TYPE,
    isConditional: true,
  },
  '/photos/{device}/collection.json': {
    summary: 'The manifests of a device (IIIF Presentation API 3.0).',
    type: JSON_TYPE,
    isConditional: true,
  },
  '/photos/collection.json': {
    summary: 'Devices with photos, each as a collection (IIIF Presentation API 3.0).',
    type: JSON_TYPE,
    query: [['page', 'Where there are over 100 devices: which hundred, from 1.']],
    isConditional: true,
  },
  '/publications/{publication}/pack.zip': {
    summary: 'The pack of a publication for readers (RO-Crate 1.2), as it is in a state.',
    type: 'application/zip',
    query: [
      STATE[0],
      ['audience', 'reader, when left out, or desk, for whoever may see drafts and what is under embargo.'],
    ],
    isConditional: true,
  },
  '/cite/{id}.json': {
    summary: 'The answer of a feed or of a persisted document as it stood in a state, with how to cite it.',
    type: JSON_TYPE,
    query: STATE,
    isConditional: true,
  },
  '/cite/{id}.csv': { summary: 'The rows of the same.', type: 'text/csv', query: STATE, isConditional: true },
  '/cite/{id}.csl.json': {
    summary: 'How to cite the same, as CSL-JSON.',
    type: 'application/vnd.citationstyles.csl+json',
    query: STATE,
    isConditional: true,
  },
  '/records/{id}.jsonld': LINKED,
  '/records/{id}/{member}.jsonld': LINKED,
  '/records/{id}/{member}/{thing}.jsonld': LINKED,
  '/records/{id}': THING,
  '/records/{id}/{member}': THING,
  '/records/{id}/{member}/{thing}': THING,
  '/context.jsonld': {
    summary: 'The context of documents of linked data.',
    type: JSON_LD,
    isConditional: true,
  },
  '/vocabulary': {
    summary: 'The terms of our own in linked data (RDF Schema).',
    type: JSON_LD,
    isConditional: true,
  },
  '/taxonomy': {
    summary: 'The taxonomy of components as a concept scheme (W3C SKOS).',
    type: JSON_LD,
    isConditional: true,
  },
};
