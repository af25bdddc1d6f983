import { resistanceIn } from '../model/component-value.ts';
import type { PartOf } from '../state/pins.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';
import { type Feed, feedsOf } from './feeds.ts';
import { type SharedNet, sharedNetsOf } from './shared-nets.ts';
import { type SharedBus, type SignalPath, signalPathsOf } from './signal-paths.ts';
import { type Wiring, wiringOf } from './wiring.ts';

/** What follows from the nets and connections of a specimen; the rules are in src/nets/README.md. */
export interface DerivedNets {
  readonly wiring: Wiring;
  readonly sharedNets: readonly SharedNet[];
  readonly feeds: readonly Feed[];
  /** Id of the first net of the rail that a power net belongs to, by its place among the conductors. */
  readonly rails: ReadonlyMap<number, string>;
  readonly paths: readonly SignalPath[];
  readonly buses: readonly SharedBus[];
}

const kept = new WeakMap<OpenedSpecimen, DerivedNets>();
const NO_PARTS: PartOf = () => undefined;

/**
 * Derives feeding, signal paths, shared buses and shared nets of a specimen; kept with it.
 * @param partOf parts of the catalogue, for their pins; the first caller's counts
 */
export function derivedNets(specimen: OpenedSpecimen, partOf: PartOf = NO_PARTS): DerivedNets {
  let derived = kept.get(specimen);
  if (!derived) {
    derived = derivedFrom(wiringOf(specimen, partOf), specimen);
    kept.set(specimen, derived);
  }
  return derived;
}

/** Each sort of link is worked out when it is first asked for: patterns take what is certain of all worlds, and never these. */
function derivedFrom(wiring: Wiring, { components }: OpenedSpecimen): DerivedNets {
  const once = <T>(make: () => T) => {
    let made: { readonly of: T } | undefined;
    return () => {
      made ??= { of: make() };
      return made.of;
    };
  };
  const sharedNets = once(() => sharedNetsOf(wiring));
  const supplies = once(() => feedsOf(wiring, (id) => resistanceIn(components.get(id)?.value)));
  const rails = once(() => supplies().rails);
  const signals = once(() => signalPathsOf(wiring));
  return {
    wiring,
    get sharedNets() {
      return sharedNets();
    },
    get feeds() {
      return supplies().feeds;
    },
    get rails() {
      return rails();
    },
    get paths() {
      return signals().paths;
    },
    get buses() {
      return signals().buses;
    },
  };
}
