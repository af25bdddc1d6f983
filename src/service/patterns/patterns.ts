import type { View } from '../../graph/view.ts';
import { CasebackError } from '../../model/problems.ts';
import type { PatternBinding, PatternDevice, PatternMatch } from '../../patterns/answer.ts';
import { type Context, type Domain, type Root, viewOf } from '../base/domain.ts';
import { sortedListing } from '../connections/listing.ts';
import { type PageArguments, paginate } from '../connections/paginate.ts';
import { connectionTypes, PAGE_ARGUMENTS } from '../connections/schema.ts';
import { deviceSource, maybe, patternSource } from '../sources/catalogue.ts';
import { findNode } from '../sources/find.ts';
import { specimenSource } from '../sources/specimen.ts';

/** Characters of a pattern. */
const LONGEST_PATTERN = 20_000;

const schema = `
"A named pattern of the library."
type Pattern implements Node {
  "Id of the pattern."
  id: ID!
  "Plain words of the trade."
  name: String!
  "The design idea, in one sentence."
  idea: String!
  "The pattern, in the read-only subset of ISO/IEC 39075 (GQL)."
  text: String!
  "Reasons a designer may have had."
  reasons: [String!]!
  "What would speak against reading it so."
  against: [String!]!
  "How often the shape means the idea, as judged by the editor, 0 to 1."
  strength: Float!
  "A remark, in words."
  note: String
}

"A device that shows a pattern, for certain or possibly."
type PatternDevice {
  "The device."
  device: Device!
  "Whether some match is certain: everything it needs holds with probability 0.95 or more."
  definite: Boolean!
  "Whether there are only uncertain matches."
  possible: Boolean!
  "Probability, 0 to 1, that the device has at least one match."
  probability: Float!
  "How the probability was found: \`exact\`, or a bounded \`estimate\`."
  method: String!
  "Number of matches."
  matchCount: Int!
  "The matches, at most as many as asked for."
  matches(
    "The most matches to give, 0 to 500."
    first: Int! = 10
  ): [PatternMatch!]!
}

"One way in which a pattern fits."
type PatternMatch {
  "The specimen it lies in."
  specimen: Specimen
  "What each variable of the pattern stands for, in the order of the text."
  bindings: [PatternBinding!]!
  "Whether everything it needs holds with probability 0.95 or more."
  definite: Boolean!
  "Probability, 0 to 1, that everything in it is what the pattern asks for."
  probability: Float!
}

"What a variable of a pattern stands for."
type PatternBinding {
  "The variable, as written in the pattern."
  variable: String!
  "Global ids of what it stands for; several for a variable inside a repeated path."
  ids: [ID!]!
  "What it stands for."
  nodes: [Node!]!
}

${connectionTypes('Pattern', 'named patterns')}
${connectionTypes(
  'PatternDevice',
  'devices that show a pattern',
  `"Number of devices with a certain match."
  definiteCount: Int!
  "Number of devices to expect with a match: the sum of their probabilities."
  expectedCount: Float!
  "Variables of the pattern, in the order of the text."
  variables: [String!]!
  "False when a budget ended the search early; then there may be more."
  complete: Boolean!`,
)}

extend type Query {
  "Devices that show a pattern, by id. Give the pattern as text, or the id of a named one. Null, with error BAD_PATTERN that gives line and column, when the text has a mistake."
  findPattern(
    "The pattern, in the read-only subset of ISO/IEC 39075 (GQL); at most ${LONGEST_PATTERN} characters."
    text: String
    "Id of a named pattern, instead of \`text\`."
    name: ID
    "Whether different nodes of the pattern must be different things: two sensors written are two sensors found."
    distinctNodes: Boolean! = true
    ${PAGE_ARGUMENTS}
  ): PatternDeviceConnection
  "One named pattern; null when the library has none with the id."
  pattern(
    "Id of the pattern."
    id: ID!
  ): Pattern
  "The library of named patterns, by name."
  patterns(${PAGE_ARGUMENTS}): PatternConnection!
}
`;

interface FindArguments extends PageArguments {
  readonly text?: string | null;
  readonly name?: string | null;
  readonly distinctNodes: boolean;
}

async function findPattern(
  view: View,
  { text, name, distinctNodes, ...page }: FindArguments,
  { archive, signal }: Context,
) {
  const answer = await archive.findPattern(view, {
    text: patternText(view, text, name),
    distinctNodes,
    signal: signal(),
  });
  const listing = sortedListing('devices that show a pattern', answer.devices, ({ deviceId }) => [deviceId]);
  const connection = paginate(listing, page, (one) => ({ ...one, view }));
  const { devices, variables, complete } = answer;
  return Object.assign(connection, {
    variables,
    complete,
    definiteCount: devices.filter(({ definite }) => definite).length,
    expectedCount: Number(devices.reduce((sum, { probability }) => sum + probability, 0).toFixed(9)),
  });
}

function patternText(view: View, text: string | null | undefined, name: string | null | undefined): string {
  if (typeof text === 'string' && typeof name === 'string') {
    throw new CasebackError('BAD_INPUT', 'text and name are both given; give one of them');
  }
  if (typeof name === 'string') {
    const pattern = view.pattern(name);
    if (!pattern) throw new CasebackError('NOT_FOUND', `No named pattern "${name}" is in the archive`);
    return pattern.text;
  }
  if (typeof text !== 'string') {
    throw new CasebackError('BAD_INPUT', 'neither text nor name is given; give one of them');
  }
  if (text.length > LONGEST_PATTERN) {
    throw new CasebackError('TOO_LARGE', `text has ${text.length} characters; at most ${LONGEST_PATTERN}`);
  }
  return text;
}

interface Seen {
  readonly view: View;
}

export const patterns: Domain = {
  schema,
  resolvers: {
    Query: {
      findPattern: (root: Root, args: FindArguments, context: Context) =>
        findPattern(viewOf(root, context), args, context),
      pattern: (root: Root, { id }: { id: string }, context: Context) => {
        const view = viewOf(root, context);
        return maybe(view, view.pattern(id), patternSource);
      },
      patterns: (root: Root, page: PageArguments, context: Context) => {
        const view = viewOf(root, context);
        const found = view.patterns().toSorted((a, b) => (a.name + a.id < b.name + b.id ? -1 : 1));
        const listing = sortedListing('named patterns', found, ({ name, id }) => [name + id]);
        return paginate(listing, page, (one) => patternSource(view, one));
      },
    },
    PatternDevice: {
      device: ({ view, deviceId }: PatternDevice & Seen) => maybe(view, view.device(deviceId), deviceSource),
      possible: ({ definite }: PatternDevice) => !definite,
      matchCount: ({ matches }: PatternDevice) => matches.length,
      matches: ({ view, matches }: PatternDevice & Seen, { first }: { first: number }) =>
        matches.slice(0, Math.max(0, Math.min(first, 500))).map((one) => ({ ...one, view })),
    },
    PatternMatch: {
      specimen: ({ view, specimenId }: PatternMatch & Seen) =>
        maybe(view, view.specimen(specimenId), specimenSource),
      bindings: ({ view, bindings }: PatternMatch & Seen) => bindings.map((one) => ({ ...one, view })),
    },
    PatternBinding: {
      nodes: ({ view, ids }: PatternBinding & Seen) => ids.flatMap((id) => findNode(view, id) ?? []),
    },
  },
  weights: { 'Query.findPattern': 2_000, 'PatternDevice.matches': 10 },
};
