// What follows from the nets of a specimen. Linear in its pins, and kept with the opened specimen.

import { componentMeant, lastOfId } from '../model/ids.ts';
import type { BUSES } from '../model/net.ts';
import { CasebackError } from '../model/problems.ts';
import type { Feed } from '../nets/feeds.ts';
import { derivedNets } from '../nets/nets.ts';
import type { SharedBus, SignalPath } from '../nets/signal-paths.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';
import type { State } from '../state/state.ts';
import { didYouMean } from '../text/near.ts';

/** Limits an answer to what concerns one component, by its id or local id, or to one bus. */
export interface WiringFilter {
  readonly component?: string | undefined;
  readonly bus?: (typeof BUSES)[number] | undefined;
}

/** Who feeds whom in a specimen. @throws CasebackError NOT_FOUND for an unknown component */
export function feedsIn(state: State, specimen: OpenedSpecimen, filter: WiringFilter = {}): readonly Feed[] {
  const { feeds } = derived(state, specimen);
  const component = meant(specimen, filter);
  return feeds.filter(({ source, load }) => !component || source === component || load === component);
}

/** Where signals go in a specimen. @throws CasebackError NOT_FOUND for an unknown component */
export function signalPathsIn(
  state: State,
  specimen: OpenedSpecimen,
  filter: WiringFilter = {},
): readonly SignalPath[] {
  return ofEnds(derived(state, specimen).paths, specimen, filter);
}

/** Chips that share buses in a specimen. @throws CasebackError NOT_FOUND for an unknown component */
export function sharedBusesIn(
  state: State,
  specimen: OpenedSpecimen,
  filter: WiringFilter = {},
): readonly SharedBus[] {
  return ofEnds(derived(state, specimen).buses, specimen, filter);
}

function derived(state: State, specimen: OpenedSpecimen) {
  return derivedNets(specimen, (part) => state.part(part));
}

function ofEnds<T extends { readonly ends: readonly [string, string]; readonly bus: string | undefined }>(
  all: readonly T[],
  specimen: OpenedSpecimen,
  filter: WiringFilter,
): readonly T[] {
  const component = meant(specimen, filter);
  return all.filter(
    ({ ends, bus }) =>
      (!component || ends.includes(component)) && (filter.bus === undefined || bus === filter.bus),
  );
}

function meant(specimen: OpenedSpecimen, { component }: WiringFilter): string | undefined {
  if (component === undefined) return undefined;
  const { components } = specimen.dossier;
  const found = componentMeant(components, lastOfId(component));
  if (found) return found.id;
  const near = didYouMean(
    lastOfId(component),
    components.map(({ id }) => id),
  );
  throw new CasebackError(
    'NOT_FOUND',
    `no component of ${specimen.id} is called "${component}"${near ? `; ${near}` : ''}`,
  );
}
