import type { OpenedSpecimen } from '../state/specimen.ts';
import { type Feed, feedsOf } from './feeds.ts';
import { ohmsIn } from './ohms.ts';
import { type SharedNet, sharedNetsOf } from './shared-nets.ts';
import { type SharedBus, type SignalPath, signalPathsOf } from './signal-paths.ts';
import { type PinoutOf, type Wiring, wiringOf } from './wiring.ts';

/** What follows from the nets and connections of a specimen; the rules are in src/nets/README.md. */
export interface DerivedNets {
  readonly wiring: Wiring;
  readonly sharedNets: readonly SharedNet[];
  readonly feeds: readonly Feed[];
  readonly paths: readonly SignalPath[];
  readonly buses: readonly SharedBus[];
}

const kept = new WeakMap<OpenedSpecimen, DerivedNets>();
const NO_PINOUT: PinoutOf = () => undefined;

/**
 * Derives feeding, signal paths, shared buses and shared nets of a specimen; kept with it.
 * @param pinoutOf pins of parts of the catalogue; the first caller's counts
 */
export function derivedNets(specimen: OpenedSpecimen, pinoutOf: PinoutOf = NO_PINOUT): DerivedNets {
  let derived = kept.get(specimen);
  if (!derived) {
    const wiring = wiringOf(specimen, pinoutOf);
    const ohmsOf = (id: string) => ohmsIn(specimen.components.get(id)?.value);
    derived = {
      wiring,
      sharedNets: sharedNetsOf(wiring),
      feeds: feedsOf(wiring, ohmsOf),
      ...signalPathsOf(wiring),
    };
    kept.set(specimen, derived);
  }
  return derived;
}
