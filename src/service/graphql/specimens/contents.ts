import { compareDesignators } from '../../../model/designator.ts';
import type { Component, Dossier, Identification } from '../../../model/dossier.ts';
import type { Connection } from '../../../model/net.ts';
import { BUSES, NET_KINDS } from '../../../model/net.ts';
import { isUnder } from '../../../model/taxonomy.ts';
import { netMembers, netsIn } from '../../../questions/contents.ts';
import { deviceToCompare, subsystemCounts } from '../../../questions/devices.ts';
import { Names } from '../../../state/names.ts';
import { type OpenedSpecimen, openSpecimen } from '../../../state/specimen.ts';
import { UnnamedKinds } from '../../../state/unnamed/unnamed-kinds.ts';
import { categoryOf, componentSource, identificationSource } from '../component-sources.ts';
import { rankedListing, sortedListing } from '../listing.ts';
import { type PageArguments, paginate } from '../paginate.ts';
import type * as Api from '../resolver-types.ts';
import type { DeviceSource } from '../sources.ts';
import { enumWord, knownTerm, subsystemKind } from '../words.ts';
import {
  boardSource,
  type NetSource,
  netSource,
  observationSource,
  physicalLinkSource,
  type SpecimenSource,
  specimenSource,
  subsystemSource,
} from './sources.ts';

// What a dossier holds, as lists and pages. A specimen answers for itself; a device answers through the
// specimen that stands for it; boards, subsystems and components narrow the lists down.

export const boardsOf = ({ view, opened }: SpecimenSource) =>
  opened.dossier.boards.map((board) => boardSource(view, opened, board));

export const subsystemsOf = ({ view, opened }: SpecimenSource) =>
  opened.dossier.subsystems.map((subsystem) => subsystemSource(view, opened, subsystem));

type Place = Pick<SpecimenSource, 'view' | 'opened'>;

/** Components by designator, narrowed to a category and to those that `passes` lets through. */
export function componentsOf(
  { view, opened }: Place,
  { category, ...page }: PageArguments & { readonly category?: string | null },
  passes?: (component: Component) => boolean,
) {
  knownTerm(category, 'category');
  const sorted = inOrder(opened);
  const found =
    passes || category
      ? sorted.filter((one) => (passes?.(one) ?? true) && (!category || isOf(opened, one, category)))
      : sorted;
  const listing = sortedListing(
    'components of a specimen',
    found,
    ({ id }) => [id],
    ([a], [b]) => compareDesignators(String(a), String(b)),
  );
  return paginate(listing, page, (one) => componentSource(view, opened, one));
}

/** Sorted once for each opened specimen, which is made anew when anything in it changes. */
const orders = new WeakMap<OpenedSpecimen, readonly Component[]>();

function inOrder(opened: OpenedSpecimen): readonly Component[] {
  let sorted = orders.get(opened);
  if (!sorted) {
    sorted = opened.dossier.components.toSorted((a, b) => compareDesignators(a.id, b.id));
    orders.set(opened, sorted);
  }
  return sorted;
}

function isOf(opened: OpenedSpecimen, { id }: Component, category: string): boolean {
  const likeliest = categoryOf(opened, id);
  return likeliest !== null && isUnder(likeliest.term, category);
}

/** Connections in the order of the dossier; all of them, or those at one component or board. */
export function linksOf({ view, opened }: Place, page: PageArguments, at?: string) {
  const links = at === undefined ? opened.dossier.connections : (opened.connections.get(at) ?? []);
  const listing = rankedListing('connections of a specimen', links, linkKey);
  return paginate(listing, page, (one) => physicalLinkSource(view, opened, one));
}

const linkKey = ({ between, medium, bus }: Connection) => [...between, medium, bus ?? ''].join(' ');

/** Nets in the order of the dossier, those of one kind or bus. */
export function netsOf(
  { view, opened }: Place,
  { kind, bus, ...page }: PageArguments & Pick<Api.SpecimenNetsArgs, 'kind' | 'bus'>,
) {
  const nets = netsIn(opened, { kind: kind && enumWord(NET_KINDS, kind), bus: bus && enumWord(BUSES, bus) });
  const listing = rankedListing('nets of a specimen', nets, ({ id }) => id);
  return paginate(listing, page, (one) => netSource(view, opened, one));
}

/** What a net joins, in the order of the dossier. */
export function netPinsOf({ view, opened, pins }: NetSource, page: PageArguments) {
  const members = netMembers(view, opened, { pins });
  const listing = rankedListing('members of a net', members, (one) =>
    [one.component.id, one.number ?? '', one.name ?? ''].join(' '),
  );
  return paginate(listing, page, (one) => ({ ...one, view, opened }));
}

/** Observations in the order they were recorded; all of them, or those about one thing. */
export function observationsOf({ view, opened }: Place, page: PageArguments, about?: string) {
  const { observations } = opened.dossier;
  const some = about === undefined ? observations : (opened.observations.get(about) ?? []);
  const listing = rankedListing('observations of a specimen', some, ({ id }) => id);
  return paginate(listing, page, (one) => observationSource(view, opened, one));
}

const counted = new WeakMap<object, readonly { kind: Api.SubsystemKind | null; components: number }[]>();

/** Components in each subsystem, by kind; null for those in no named one. */
export function subsystemCountsOf({ opened }: Place) {
  const counts = subsystemCounts(opened);
  const known =
    counted.get(counts) ?? counts.map(({ kind, components }) => ({ kind: subsystemKind(kind), components }));
  counted.set(counts, known);
  return known;
}

/** The judgement that counts now for each component, by designator. */
export function identificationsOf({ view, opened }: Place, page: PageArguments) {
  const current = [...opened.identified.values()].sort((a, b) =>
    compareDesignators(a.component, b.component),
  );
  const listing = sortedListing(
    'identifications of a specimen',
    current,
    ({ component }: Identification) => [component],
    ([a], [b]) => compareDesignators(String(a), String(b)),
  );
  return paginate(listing, page, (one) => identificationSource(view, opened, one));
}

const standing = new WeakMap<DeviceSource, SpecimenSource>();

/** The specimen that stands for a device: the same one as in comparisons; null for a device that nobody opened. */
export function standingSpecimen(device: DeviceSource): SpecimenSource | null {
  return isOpened(device) ? seenOf(device) : null;
}

/** What was seen of a device: its standing specimen, or one of which nothing is on record. Found once a request. */
export function seenOf(device: DeviceSource): SpecimenSource {
  let source = standing.get(device);
  if (!source) {
    const { view, id } = device;
    const rows = view.specimensOf(id);
    // Most devices were opened once, and then there is nothing to choose.
    const only = rows.length === 1 ? view.specimen(rows[0].id) : undefined;
    const opened =
      only ??
      (rows.length > 0
        ? deviceToCompare(view, id).specimen
        : openSpecimen({ ...NOTHING_SEEN, device: id }, () => undefined, NOTHING_LEARNT));
    source = specimenSource(view, opened);
    standing.set(device, source);
  }
  return source;
}

const isOpened = ({ view, id }: DeviceSource) => view.specimensOf(id).length > 0;

const NOTHING_LEARNT = UnnamedKinds.learn([], new Names());

const NOTHING_SEEN: Omit<Dossier, 'device'> = {
  caseback: 'dossier/1',
  visibility: 'published',
  specimen: { id: 'none', condition: 'intact' },
  teardown: { on: '', by: '', hazards: [], steps: [] },
  boards: [],
  subsystems: [],
  components: [],
  connections: [],
  observations: [],
  identifications: [],
  photos: [],
};
