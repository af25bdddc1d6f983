import { yearOf } from '../../../model/dates.ts';
import type { Device } from '../../../model/dossier.ts';
import type {
  PatternBinding,
  PatternDevice,
  PatternMatch,
  PatternQuestion,
} from '../../../patterns/answer.ts';
import type { NearDevice } from '../../../patterns/near-find.ts';
import { explainPattern, findPattern, nearPattern, patternRows } from '../../../questions/patterns.ts';
import { resolved } from '../../../state/resolve.ts';
import type { View } from '../../../state/view.ts';
import { tidy } from '../../../statistics/tidy.ts';
import { type Context, type Seen, viewOf } from '../context.ts';
import { sortedListing } from '../listing.ts';
import { findNode } from '../node.ts';
import { type Connection, paginate } from '../paginate.ts';
import type * as Api from '../resolver-types.ts';
import { deviceSource, maybe, patternSource } from '../sources.ts';
import { specimenSource } from '../specimens/sources.ts';
import { checkLength, onlyGiven } from '../words.ts';

/** A device that shows a pattern, as its resolvers see it. */
export type PatternDeviceSource = Seen<PatternDevice>;
/** A match. */
export type PatternMatchSource = Seen<PatternMatch>;
/** What a variable stands for. */
export type PatternBindingSource = Seen<PatternBinding>;
/** A page of devices that show a pattern, and what the fields that take long need when they are asked for. */
export interface PatternDeviceConnectionSource extends Connection<PatternDeviceSource> {
  readonly view: View;
  readonly question: PatternQuestion;
}
/** A device that nearly shows a pattern. */
export type PatternNearMatchSource = Seen<NearDevice>;

/** The pattern that a question is about: a text, or the text of a named pattern. */
function questionOf(
  view: View,
  { text, name, distinctNodes, acrossDevices }: Omit<Api.QueryFindPatternArgs, 'first'>,
  { signal }: Context,
): PatternQuestion {
  onlyGiven('findPattern', { text, name }, ['text', 'name']);
  const named = typeof name === 'string' ? resolved(view, name, ['Pattern']).thing : undefined;
  return {
    text: named?.text ?? checkLength('text', text as string),
    distinctNodes,
    scope: acrossDevices == null ? (named?.scope ?? 'device') : acrossDevices ? 'archive' : 'device',
    signal: signal(),
  };
}

const expectedOf = (devices: readonly PatternDevice[]) =>
  tidy(devices.reduce((sum, { probability }) => sum + probability, 0));

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

/** Patterns: what shows them, what nearly does, and the library. */
export const patterns: Api.Resolvers = {
  Query: {
    findPattern: async (root, { first, after, last, before, ...asked }, context) => {
      const view = viewOf(root, context);
      const question = questionOf(view, asked, context);
      const { devices, variables, complete } = await findPattern(view, question);
      const listing = sortedListing('devices that show a pattern', devices, ({ deviceId }) => [deviceId]);
      const page = { first, after, last, before };
      return Object.assign(
        paginate(listing, page, (one) => ({ ...one, view })),
        {
          view,
          question,
          variables,
          complete,
          certainCount: devices.filter(({ certain }) => certain).length,
          expectedCount: expectedOf(devices),
          facets: facetsOf(view, devices),
        },
      );
    },
    patternRows: async (root, { text, distinctNodes }, context) => {
      const view = viewOf(root, context);
      const question = { text: checkLength('text', text), distinctNodes, signal: context.signal() };
      const answer = await patternRows(view, question);
      return {
        ...answer,
        rows: answer.rows.map((row) => row.map((value) => JSON.stringify(value ?? null))),
      };
    },
    explainPattern: async (root, { text, distinctNodes }, context) => {
      const question = { text: checkLength('text', text), distinctNodes, signal: context.signal() };
      return explainPattern(viewOf(root, context), question);
    },
    pattern: (root, { id }, context) => {
      const view = viewOf(root, context);
      return maybe(view, view.pattern(id), patternSource);
    },
    patterns: (root, page, context) => {
      const view = viewOf(root, context);
      const found = view.patterns().toSorted((a, b) => (a.name + a.id < b.name + b.id ? -1 : 1));
      const listing = sortedListing('named patterns', found, ({ name, id }) => [name + id]);
      return paginate(listing, page, (one) => patternSource(view, one));
    },
  },
  PatternDeviceConnection: {
    // A resolver, since compiled documents do not call functions that stand on a source.
    nearMatches: async ({ view, question }, { first }) => {
      const { devices, complete } = await nearPattern(view, question);
      const nodes = devices.slice(0, Math.max(0, Math.min(first, 100))).map((one) => ({ ...one, view }));
      return { totalCount: devices.length, complete, nodes };
    },
  },
  PatternDevice: {
    device: ({ view, deviceId }) => maybe(view, view.device(deviceId), deviceSource),
    possible: ({ certain }) => !certain,
    matchCount: ({ matches }) => matches.length,
    matches: ({ view, matches }, { first }) =>
      matches.slice(0, Math.max(0, Math.min(first, 500))).map((one) => ({ ...one, view })),
  },
  PatternNearMatch: {
    device: ({ view, deviceId }) => maybe(view, view.device(deviceId), deviceSource),
  },
  PatternMatch: {
    specimen: ({ view, specimenId }) => maybe(view, view.specimen(specimenId), specimenSource),
    bindings: ({ view, bindings }) => bindings.map((one) => ({ ...one, view })),
  },
  PatternBinding: {
    nodes: ({ view, ids }) => ids.flatMap((id) => findNode(view, id) ?? []),
  },
};
