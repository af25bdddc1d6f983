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
    const wiring = wiringOf(specimen, partOf);
    const ohmsOf = (id: string) => resistanceIn(specimen.components.get(id)?.value);
    derived = {
      wiring,
      sharedNets: sharedNetsOf(wiring),
      ...feedsOf(wiring, ohmsOf),
      ...signalPathsOf(wiring),
    };
    kept.set(specimen, derived);
  }
  return derived;
}
