import { yearOf } from '../../model/dates.ts';
import type { Device } from '../../model/dossier.ts';
import { CasebackError } from '../../model/problems.ts';
import type { PatternBinding, PatternDevice, PatternMatch, PatternQuestion } from '../../patterns/answer.ts';
import type { NearDevice } from '../../patterns/near-find.ts';
import { resolved } from '../../state/resolve.ts';
import type { View } from '../../state/view.ts';
import { tidy } from '../../statistics/tidy.ts';
import { type Context, type Domain, type Root, viewOf } from '../base/domain.ts';
import { sortedListing } from '../connections/listing.ts';
import { type PageArguments, paginate } from '../connections/paginate.ts';
import { connectionTypes, PAGE_ARGUMENTS } from '../connections/schema.ts';
import { deviceSource, maybe, patternSource } from '../sources/catalogue.ts';
import { findNode } from '../sources/find.ts';
import { specimenSource } from '../sources/specimen.ts';
import { parseable } from './mistakes.ts';

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
  certain: Boolean!
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
  certain: Boolean!
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

"How the devices that show a pattern spread."
type PatternFacets {
  "By maker of the device, most first."
  makers: [PatternFacet!]!
  "By year of release, in order."
  years: [PatternFacet!]!
  "By where the device is worn, most first."
  bodySites: [PatternFacet!]!
}

"One value and the devices that have it."
type PatternFacet {
  "The value: a maker's id, a year or a body site."
  value: String!
  "Number of devices with at least a possible match."
  count: Int!
  "Number of devices to expect: the sum of their probabilities."
  expected: Float!
}

"Devices that nearly show a pattern."
type PatternNearMatches {
  "Number of such devices."
  totalCount: Int!
  "The devices, by id."
  nodes: [PatternNearMatch!]!
  "False when a budget ended the search early; then there may be more."
  complete: Boolean!
}

"A device that would show a pattern but for one thing."
type PatternNearMatch {
  "The device."
  device: Device!
  "Things that stand in the way, each of them alone, in words that quote the pattern."
  missing: [String!]!
}

${connectionTypes('Pattern', 'named patterns')}
${connectionTypes(
  'PatternDevice',
  'devices that show a pattern',
  `"Number of devices with a certain match."
  certainCount: Int!
  "Number of devices to expect with a match: the sum of their probabilities."
  expectedCount: Float!
  "Variables of the pattern, in the order of the text."
  variables: [String!]!
  "False when a budget ended the search early; then there may be more."
  complete: Boolean!
  "How the devices spread over makers, years of release and body sites."
  facets: PatternFacets!
  "Devices that would show the pattern but for one node, link or condition of it, by id."
  nearMatches(
    "The most devices to give, 0 to 100."
    first: Int! = 10
  ): PatternNearMatches!`,
)}

"What the RETURN of a pattern gives."
type PatternRows {
  "Names of the columns."
  columns: [String!]!
  "Values by column as JSON text: nodes and edges by their global ids."
  rows: [[String!]!]!
  "False when a budget ended the search early; then there may be more."
  complete: Boolean!
  "Why it is not complete, in a sentence."
  note: String
}

extend type Query {
  "Rows of a pattern over everything visible, RETURN, aggregates and all. Labels count that are at all possible; for odds, ask findPattern."
  patternRows(
    "The pattern, in the read-only subset of ISO/IEC 39075 (GQL); at most ${LONGEST_PATTERN} characters."
    text: String!
    "Whether different nodes of the pattern must be different things."
    distinctNodes: Boolean! = true
  ): PatternRows
  "How a pattern is searched: the plan with estimated and real counts, as text for people."
  explainPattern(
    "The pattern; at most ${LONGEST_PATTERN} characters."
    text: String!
    "Whether different nodes of the pattern must be different things."
    distinctNodes: Boolean! = true
  ): String
  "Devices that show a pattern, by id. Give the pattern as text, or the id of a named one. Null, with error BAD_PATTERN that gives line and column, when the text has a mistake."
  findPattern(
    "The pattern, in the read-only subset of ISO/IEC 39075 (GQL); at most ${LONGEST_PATTERN} characters."
    text: String
    "Id of a named pattern, instead of \`text\`."
    name: ID
    "Whether different nodes of the pattern must be different things: two sensors written are two sensors found."
    distinctNodes: Boolean! = true
    "Whether one match may span several devices, as for a part that two makers use; a named pattern knows by itself."
    acrossDevices: Boolean
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

interface RowsArguments {
  readonly text: string;
  readonly distinctNodes: boolean;
}

interface FindArguments extends PageArguments {
  readonly text?: string | null;
  readonly name?: string | null;
  readonly acrossDevices?: boolean | null;
  readonly distinctNodes: boolean;
}

async function findPattern(
  view: View,
  { text, name, distinctNodes, acrossDevices, ...page }: FindArguments,
  { archive, signal }: Context,
) {
  const scope = typeof name === 'string' ? view.pattern(name)?.scope : undefined;
  const question: PatternQuestion = {
    text: patternText(view, text, name),
    distinctNodes,
    scope: acrossDevices == null ? (scope ?? 'device') : acrossDevices ? 'archive' : 'device',
    signal: signal(),
  };
  const answer = await archive.findPattern(view, question);
  const listing = sortedListing('devices that show a pattern', answer.devices, ({ deviceId }) => [deviceId]);
  const connection = paginate(listing, page, (one) => ({ ...one, view }));
  const { devices, variables, complete } = answer;
  return Object.assign(connection, {
    variables,
    complete,
    certainCount: devices.filter(({ certain }) => certain).length,
    expectedCount: expectedOf(devices),
    facets: facetsOf(view, devices),
    view,
    question,
  });
}

function expectedOf(devices: readonly PatternDevice[]): number {
  return tidy(devices.reduce((sum, { probability }) => sum + probability, 0));
}

/** How devices spread over what readers ask next. */
function facetsOf(view: View, devices: readonly PatternDevice[]) {
  const by = (groupOf: (device: Device) => string) =>
    [...Map.groupBy(devices, ({ deviceId }) => groupOf(view.device(deviceId) as Device))].map(
      ([value, group]) => ({
        value,
        count: group.length,
        expected: expectedOf(group),
      }),
    );
  const mostFirst = (a: { count: number; value: string }, b: { count: number; value: string }) =>
    b.count - a.count || (a.value < b.value ? -1 : 1);
  return {
    makers: by(({ maker }) => maker).sort(mostFirst),
    years: by(({ released }) => String(yearOf(released))).sort((a, b) => (a.value < b.value ? -1 : 1)),
    bodySites: by(({ bodySite }) => bodySite).sort(mostFirst),
  };
}

function patternText(view: View, text: string | null | undefined, name: string | null | undefined): string {
  if (typeof text === 'string' && typeof name === 'string') {
    throw new CasebackError('BAD_INPUT', 'text and name are both given; give one of them');
  }
  if (typeof name === 'string') {
    return resolved(view, name, ['Pattern']).thing.text;
  }
  if (typeof text !== 'string') {
    throw new CasebackError('BAD_INPUT', 'neither text nor name is given; give one of them');
  }
  if (text.length > LONGEST_PATTERN) {
    throw new CasebackError('TOO_LARGE', `text has ${text.length} characters; at most ${LONGEST_PATTERN}`);
  }
  return parseable(text);
}

interface Seen {
  readonly view: View;
}

/** What the fields of an answer that take long need, to be asked when they are. */
interface Asked extends Seen {
  readonly question: PatternQuestion;
}

export const patterns: Domain = {
  schema,
  resolvers: {
    Query: {
      findPattern: (root: Root, args: FindArguments, context: Context) =>
        findPattern(viewOf(root, context), args, context),
      patternRows: async (root: Root, { text, distinctNodes }: RowsArguments, context: Context) => {
        const question = {
          text: patternText(viewOf(root, context), text, null),
          distinctNodes,
          signal: context.signal(),
        };
        const answer = await context.archive.patternRows(viewOf(root, context), question);
        return {
          ...answer,
          rows: answer.rows.map((row) => row.map((value) => JSON.stringify(value ?? null))),
        };
      },
      explainPattern: async (root: Root, { text, distinctNodes }: RowsArguments, context: Context) => {
        const question = {
          text: patternText(viewOf(root, context), text, null),
          distinctNodes,
          signal: context.signal(),
        };
        return (await context.archive.explainPattern(viewOf(root, context), question)).text;
      },
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
    PatternDeviceConnection: {
      // A resolver, since compiled documents do not call functions that stand on a source.
      nearMatches: async ({ view, question }: Asked, { first }: { first: number }, { archive }: Context) => {
        const { devices, complete } = await archive.nearPattern(view, question);
        const nodes = devices.slice(0, Math.max(0, Math.min(first, 100))).map((one) => ({ ...one, view }));
        return { totalCount: devices.length, complete, nodes };
      },
    },
    PatternDevice: {
      device: ({ view, deviceId }: PatternDevice & Seen) => maybe(view, view.device(deviceId), deviceSource),
      possible: ({ certain }: PatternDevice) => !certain,
      matchCount: ({ matches }: PatternDevice) => matches.length,
      matches: ({ view, matches }: PatternDevice & Seen, { first }: { first: number }) =>
        matches.slice(0, Math.max(0, Math.min(first, 500))).map((one) => ({ ...one, view })),
    },
    PatternNearMatch: {
      device: ({ view, deviceId }: NearDevice & Seen) => maybe(view, view.device(deviceId), deviceSource),
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
  weights: {
    'Query.findPattern': 2_000,
    'Query.patternRows': 2_000,
    'Query.explainPattern': 2_000,
    'PatternDevice.matches': 10,
    'PatternDeviceConnection.nearMatches': 4_000,
  },
};
