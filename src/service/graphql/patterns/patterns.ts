import { yearOf } from '../../../model/dates.ts';
import type { Device } from '../../../model/dossier.ts';
import type {
  CutShort,
  PatternBinding,
  PatternDevice,
  PatternMatch,
  PatternQuestion,
} from '../../../patterns/answer.ts';
import type { NearDevice } from '../../../patterns/near-find.ts';
import { patternSql } from '../../../questions/mirror.ts';
import { explainPattern, findPattern, nearPattern, patternRows } from '../../../questions/patterns.ts';
import { listDevices } from '../../../state/lists/device-list.ts';
import { resolved } from '../../../state/resolve.ts';
import type { State } from '../../../state/state.ts';
import { tidy } from '../../../statistics/tidy.ts';
import { type Context, type Seen, viewOf } from '../context.ts';
import { deviceFilter } from '../device-filter.ts';
import { idIn } from '../instants.ts';
import { rankedListing, sortedListing } from '../listing.ts';
import { itself, marks, recalled } from '../marks.ts';
import { findNode } from '../node.ts';
import { type Connection, type PageArguments, paginate } from '../paginate.ts';
import type * as Api from '../resolver-types.ts';
import { deviceSource, maybe, patternSource } from '../sources.ts';
import { specimenSource } from '../specimens/sources.ts';
import { checkLength, enumName, onlyGiven } from '../words.ts';

/** A device that shows a pattern, as its resolvers see it. */
export type PatternDeviceSource = Seen<PatternDevice>;
/** A match. */
export type PatternMatchSource = Seen<PatternMatch>;
/** What a variable stands for. */
export type PatternBindingSource = Seen<PatternBinding>;
/** A page of devices that show a pattern, and what the fields that take long need when they are asked for. */
export interface PatternDeviceConnectionSource extends Connection<PatternDeviceSource> {
  readonly view: State;
  readonly question: PatternQuestion;
}
/** A device that nearly shows a pattern. */
export type PatternNearMatchSource = Seen<NearDevice>;

/** The pattern that a question is about: a text, or the text of a named pattern. */
async function questionOf(
  view: State,
  { text, id, filter, distinctNodes, acrossDevices }: Api.QueryFindPatternArgs,
  context: Context,
): Promise<PatternQuestion> {
  onlyGiven('findPattern', { text, id }, ['text', 'id']);
  const named = typeof id === 'string' ? resolved(view, id, ['Pattern']).thing : undefined;
  return {
    text: named?.text ?? checkLength('text', text as string),
    distinctNodes,
    scope: acrossDevices == null ? (named?.scope ?? 'device') : acrossDevices ? 'archive' : 'device',
    signal: context.signal(),
    ...(filter && { specimens: await specimensOf(view, filter, context.signal()) }),
  };
}

/** Ids of the specimens of the devices that pass a filter. */
async function specimensOf(
  view: State,
  filter: Api.DeviceFilter,
  signal: AbortSignal,
): Promise<ReadonlySet<string>> {
  const devices = listDevices(view, await deviceFilter(view, filter, signal), 'ID');
  return new Set(devices.flatMap(({ id }) => view.specimensOf(id).map((row) => row.id)));
}

/** One page of matches, in the order they are given. */
export function pageOfMatches(view: State, matches: readonly PatternMatch[], page: PageArguments) {
  const keyOf = ({ bindings }: PatternMatch) => bindings.map(({ ids }) => ids.join(' ')).join(', ');
  return paginate(rankedListing('matches of a pattern', matches, keyOf), page, (one) => ({ ...one, view }));
}

const expectedOf = (devices: readonly PatternDevice[]) =>
  tidy(devices.reduce((sum, { probability }) => sum + probability, 0));

/** How devices spread over what readers ask next. */
function facetsOf(view: State, devices: readonly PatternDevice[]) {
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

/** What was not searched, as the API has it. */
function cutShortSource({ note, searched }: CutShort) {
  return { note, searched: searched && { specimens: searched.segments, of: searched.of } };
}

/** Patterns: what shows them, what nearly does, and the library. */
export const patterns: Api.Resolvers = {
  Query: {
    findPattern: async (root, args, context) => {
      const view = viewOf(root, context);
      const question = await questionOf(view, args, context);
      const answer = await findPattern(view, question);
      const { devices, variables, complete, warnings } = answer;
      const listing = sortedListing('devices that show a pattern', devices, ({ deviceId }) => [deviceId]);
      return Object.assign(
        paginate(listing, args, (one) => ({ ...one, view })),
        {
          view,
          question,
          variables,
          warnings,
          isComplete: complete,
          ...cutShortSource(answer),
          certainCount: devices.filter(({ certain }) => certain).length,
          expectedCount: tidy(
            expectedOf(devices) +
              [...answer.unlikely.values()].reduce((sum, probability) => sum + probability, 0),
          ),
          facets: facetsOf(view, devices),
        },
      );
    },
    patternRows: async (root, { text, distinctNodes }, context) => {
      const view = viewOf(root, context);
      const question = { text: checkLength('text', text), distinctNodes, signal: context.signal() };
      const answer = await patternRows(view, question);
      const { columns, rows, complete, warnings } = answer;
      // What a row does not have is null to whoever reads it.
      return {
        columns,
        rows: rows.map((row) => row.map((value) => value ?? null)),
        isComplete: complete,
        ...cutShortSource(answer),
        warnings,
      };
    },
    explainPattern: async (root, { text, distinctNodes }, context) => {
      const question = { text: checkLength('text', text), distinctNodes, signal: context.signal() };
      return (await explainPattern(viewOf(root, context), question)).text;
    },
    patternSql: (_root, { text, distinctNodes, dialect }) =>
      patternSql(
        { text: checkLength('text', text), distinctNodes },
        dialect === 'POSTGRES' ? 'postgres' : 'duckdb',
      ),
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
    nearMatches: async ({ view, question }, page) => {
      const { devices, complete, note } = await nearPattern(view, question);
      const passing = devices.filter(
        ({ deviceId }) =>
          !question.specimens || view.specimensOf(deviceId).some(({ id }) => question.specimens?.has(id)),
      );
      const listing = sortedListing('devices that nearly show a pattern', passing, ({ deviceId }) => [
        deviceId,
      ]);
      return Object.assign(
        paginate(listing, page, (one) => ({ ...one, view })),
        { isComplete: complete, note },
      );
    },
  },
  Pattern: { ...marks(itself, 'published'), recalled },
  PatternDevice: {
    device: ({ view, deviceId }) => maybe(view, view.device(deviceId), deviceSource),
    isCertain: ({ certain }) => certain,
    method: ({ method }) => enumName(method),
    matchCount: ({ matches }) => matches.length,
    matches: ({ view, matches }, page) => pageOfMatches(view, matches, page),
  },
  PatternNearMatch: {
    device: ({ view, deviceId }) => maybe(view, view.device(deviceId), deviceSource),
  },
  PatternMatch: {
    isCertain: ({ certain }) => certain,
    specimen: ({ view, specimenId }) => maybe(view, view.specimen(specimenId), specimenSource),
    bindings: ({ view, bindings }) => bindings.map((one) => ({ ...one, view })),
  },
  PatternBinding: {
    ids: ({ view, ids }) => ids.map((id) => idIn(view, id)),
    nodes: ({ view, ids }) => ids.flatMap((id) => findNode(view, id) ?? []),
  },
};
