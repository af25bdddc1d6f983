import { BUSES } from '../../../model/net.ts';
import { feedsIn, sharedBusesIn, signalPathsIn } from '../../../questions/wiring.ts';
import type { OpenedSpecimen } from '../../../state/specimen.ts';
import type { State } from '../../../state/state.ts';
import { componentSource } from '../component-sources.ts';
import { rankedListing } from '../listing.ts';
import { paginate } from '../paginate.ts';
import type * as Api from '../resolver-types.ts';
import type { Resolvers } from '../resolver-types.ts';
import { enumName, enumWord } from '../words.ts';

type Place = { readonly view: State; readonly opened: OpenedSpecimen };

/** What follows from nets: who feeds whom, signal paths, shared buses. */
export const wiring: Resolvers = {
  Specimen: {
    feeds: ({ view, opened }, { component, ...page }) => {
      const found = feedsIn(view, opened, { component: component ?? undefined });
      const listing = rankedListing('feeds of a specimen', found, ({ source, load, output, supply }) =>
        [source, load, output ?? '', supply ?? ''].join(' '),
      );
      return paginate(listing, page, (one) => ({ ...one, view, opened }));
    },
    signalPaths: ({ view, opened }, { component, bus, ...page }) => {
      const found = signalPathsIn(view, opened, filterOf({ component, bus }));
      return paginate(rankedListing('signal paths of a specimen', found, pathKey), page, (one) => ({
        ...one,
        view,
        opened,
      }));
    },
    sharedBuses: ({ view, opened }, { component, bus, ...page }) => {
      const found = sharedBusesIn(view, opened, filterOf({ component, bus }));
      return paginate(rankedListing('shared buses of a specimen', found, pathKey), page, (one) => ({
        ...one,
        view,
        opened,
      }));
    },
  },
  PowerFeed: {
    source: (feed) => componentOf(feed, feed.source),
    load: (feed) => componentOf(feed, feed.load),
    voltage: ({ voltage }) => (voltage === undefined ? null : { value: voltage, unit: 'V' }),
    supply: ({ supply }) => enumName(supply),
    isSwitched: ({ switched }) => switched,
    through: (feed) => feed.through.map((id) => componentOf(feed, id)),
  },
  SignalPath: {
    ends: (path) => path.ends.map((id) => componentOf(path, id)),
    bus: ({ bus }) => enumName(bus),
    through: (path) => path.through.map((id) => componentOf(path, id)),
    isBoardToBoard: ({ crosses }) => crosses,
  },
  SharedBus: {
    ends: (shared) => shared.ends.map((id) => componentOf(shared, id)),
    bus: ({ bus }) => enumName(bus),
  },
};

const pathKey = ({
  ends,
  bus,
}: {
  readonly ends: readonly [string, string];
  readonly bus?: string | undefined;
}) => [...ends, bus ?? ''].join(' ');

function filterOf({ component, bus }: Pick<Api.SpecimenSignalPathsArgs, 'component' | 'bus'>) {
  return { component: component ?? undefined, bus: bus ? enumWord(BUSES, bus) : undefined };
}

/** What is derived names only components that the dossier has. */
function componentOf({ view, opened }: Place, id: string) {
  const component = opened.components.get(id);
  if (!component) throw new Error(`${opened.id} has no component ${id}`);
  return componentSource(view, opened, component);
}
