import { resistanceIn } from '../model/component-value.ts';
import type { PartOf } from '../state/pins.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';
import { type Bits, bitsOf, either, placeAlone } from '../statistics/bits.ts';
import { type Condition, type Conditional, Explored } from './conditions.ts';
import { type Feed, feedsOf } from './feeds.ts';
import { type DerivedNets, derivedNets } from './nets.ts';
import { type MayBe, type Thing, thingsOf } from './parts-played.ts';
import { type SharedNet, sharedNetsOf } from './shared-nets.ts';
import { signalCoupling } from './signal-coupling.ts';
import { type SharedBus, type SignalPath, signalPathsOf } from './signal-paths.ts';
import { Sites } from './sites.ts';
import { supplyCoupling } from './supply-coupling.ts';
import type { Wiring } from './wiring.ts';
import { WiringByWorld } from './wiring-by-world.ts';

// Links that follow from nets, in every world: what each doubtful component is, one of its candidates or none. Each link comes with the
// condition under which it is there. The rules of certain components (`nets.ts`) are applied to worlds that differ in what links can
// depend on (`coupling.ts`); many such parts of worlds are tried in one go, since what does not hang together does not matter.

/** What a net joins at one pin; of a doubtful component the pin has a name and a function by what that is. */
export interface Joined {
  readonly component: string;
  readonly net: string;
  readonly pin: string | undefined;
  readonly name: string | undefined;
  readonly function: string | undefined;
}

/** Links of a specimen in all worlds. */
export interface LinksByWorld {
  readonly joins: readonly Conditional<Joined>[];
  readonly sharedNets: readonly Conditional<SharedNet>[];
  readonly feeds: readonly Conditional<Feed>[];
  readonly paths: readonly Conditional<SignalPath>[];
  readonly buses: readonly Conditional<SharedBus>[];
  /** Of the likeliest kinds. */
  readonly likeliest: DerivedNets;
  /**
   * Upper bounds of the probability of the worlds in which links may differ from these: combinations that were not worked out. One for
   * feeds, one for paths, buses and shared nets; what nets join is known in every world.
   */
  readonly left: { readonly signal: number; readonly supply: number };
}

/**
 * Links between components, under every combination of what those that matter to them may be.
 * @param mayBe what doubtful components may be, by local id
 */
export function linksByWorld(
  specimen: OpenedSpecimen,
  mayBe: ReadonlyMap<string, MayBe>,
  partOf: PartOf,
): LinksByWorld {
  const likeliest = derivedNets(specimen, partOf);
  const certain = <T>(links: readonly T[]) => links.map((link): Conditional<T> => ({ link, when: true }));
  if (mayBe.size === 0 || likeliest.wiring.conductors.length + likeliest.wiring.mates.length === 0)
    return {
      joins: joinsOf(likeliest, new Map()),
      sharedNets: certain(likeliest.sharedNets),
      feeds: certain(likeliest.feeds),
      paths: certain(likeliest.paths),
      buses: certain(likeliest.buses),
      likeliest,
      left: { signal: 0, supply: 0 },
    };
  const things = thingsOf(specimen, mayBe, partOf, likeliest.wiring.roles);
  const sites = new Sites(specimen, things);
  const wirings = new WiringByWorld(specimen, things);
  const signal = new Explored(signalCoupling(sites), things);
  const supply = new Explored(supplyCoupling(sites), things);
  // The first world of either sort, as a whole.
  let whole: Wiring | undefined;
  const wiringsOf = ({ worlds, coupling }: Explored) => {
    // Many worlds are asked about the same part.
    const parts = new Map<string, ReturnType<typeof wirings.part>>();
    return worlds.map(({ world, regions }) => {
      if (!regions) {
        whole ??= wirings.in(world);
        return { world, wiring: whole };
      }
      const key = [...regions].sort((a, b) => a - b).join(' ');
      let part = parts.get(key);
      if (!part) {
        part = wirings.part(
          sites,
          [...regions].flatMap((region) => coupling.around[region]),
        );
        parts.set(key, part);
      }
      return { world, wiring: wirings.in(world, part) };
    });
  };
  const sharedBy = new Map<string, readonly SharedNet[]>();
  const signals = wiringsOf(signal).map(({ world, wiring }) => {
    // Most doubts do not matter to what shares a net.
    const key = wirings.sharingIn(world);
    const sharedNets = sharedBy.get(key) ?? sharedNetsOf(wiring);
    sharedBy.set(key, sharedNets);
    return { sharedNets, ...signalPathsOf(wiring) };
  });
  const ohmsOf = resistancesIn(specimen);
  const supplies = wiringsOf(supply).map(({ wiring }) => feedsOf(wiring, ohmsOf).feeds);
  const between = ({ ends }: { readonly ends: readonly [string, string] }) => ends;
  return {
    joins: joinsOf(likeliest, new Map(things.map((thing) => [thing.id, thing]))),
    sharedNets: signal.conditional(
      signals.map((one) => one.sharedNets),
      between,
      ({ ends, lines, bus, net }) => text(ends, [lines], bus, net),
    ),
    paths: signal.conditional(
      signals.map((one) => one.paths),
      between,
      ({ ends, bus, lines, through, ways, crosses }) =>
        text(
          ends,
          through,
          ways.map((way) => `${way.lines} ${way.through}`),
          [lines],
          bus,
          crosses,
        ),
    ),
    buses: signal.conditional(
      signals.map((one) => one.buses),
      between,
      ({ ends, bus, lines }) => text(ends, [lines], bus),
    ),
    feeds: supply.conditional(
      supplies,
      ({ source, load }) => [source, load],
      ({ source, load, voltage, supply, switched, through, output }) =>
        text([source, load], through, voltage, supply, switched, output),
    ),
    likeliest,
    left: { signal: signal.left, supply: supply.left },
  };
}

/** Values as one text; lists hold what has neither space nor line break, as ids do. */
function text(...values: readonly unknown[]): string {
  let all = '';
  for (const value of values) {
    if (value !== undefined) all += Array.isArray(value) ? value.join(' ') : JSON.stringify(value);
    all += '\n';
  }
  return all;
}

/** Resistance of components where their values say it, Ohm; values are read once. */
function resistancesIn({ components }: OpenedSpecimen): (id: string) => number | undefined {
  const known = new Map<string, number | undefined>();
  return (id) => {
    if (!known.has(id)) known.set(id, resistanceIn(components.get(id)?.value));
    return known.get(id);
  };
}

/** Members of nets, with their pins as what they may be has them. */
function joinsOf(
  { wiring }: DerivedNets,
  things: ReadonlyMap<string, Thing>,
): readonly Conditional<Joined>[] {
  return wiring.conductors.flatMap(({ net, members }): Conditional<Joined>[] => {
    if (!net) return [];
    const told = new Set<string>();
    return members.flatMap(({ role, number, name, function: means }): Conditional<Joined>[] => {
      const { id: component } = role;
      const thing = things.get(component);
      const join = { component, net: net.id };
      if (!thing?.mayBe) return [{ link: { ...join, pin: number, name, function: means }, when: true }];
      if (told.has(component)) return [];
      told.add(component);
      return joinsOfThing(thing, net.id).map(({ link, when }) => ({ link: { ...join, ...link }, when }));
    });
  });
}

function joinsOfThing({ id, played, masses }: Thing, net: string) {
  const found = new Map<string, { readonly link: Omit<Joined, 'component' | 'net'>; bits: Bits }>();
  const all = bitsOf(masses, (mass) => mass > 0);
  played.forEach(({ landings }, at) => {
    if (masses[at] <= 0) return;
    const here = placeAlone(at, played.length);
    const times = new Map<string, number>();
    for (const one of landings) {
      if (one.net.id !== net) continue;
      const link = { pin: one.number, name: one.name, function: one.function };
      const text = JSON.stringify(link);
      times.set(text, (times.get(text) ?? 0) + 1);
      const key = `${times.get(text)} ${text}`;
      const known = found.get(key);
      if (known) known.bits = either(known.bits, here);
      else found.set(key, { link, bits: here });
    }
  });
  return [...found.values()].map(({ link, bits }) => {
    const when: Condition = bits === all ? true : [[{ id, bits }]];
    return { link, when };
  });
}
