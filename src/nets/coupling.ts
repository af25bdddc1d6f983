import { has } from '../statistics/bits.ts';
import { type Class, classesOf, classesSaid, type Says, type Thing } from './parts-played.ts';
import type { Sites, Union } from './sites.ts';

// What a link between two components can depend on. Conductors between which anything might go on, whatever doubtful components turn
// out to be, are one region; a link depends on the doubtful components of the regions that both its ends are in, and on nothing else.
// Regions may be too large, which costs time; they must not be too small.

/** A doubtful component as far as a link depends on it: alternatives that nothing tells apart are one class. */
export interface Doubt {
  readonly thing: Thing;
  readonly classes: readonly Class[];
  /** Tells it from the same component in another respect. */
  readonly name: string;
}

/** What links of one sort depend on. */
export interface Coupling {
  /** What links between two members of a region depend on, by region. */
  readonly doubts: readonly (readonly Doubt[])[];
  /** Members of each region. */
  readonly members: readonly (readonly string[])[];
  /** Where links between two members of a region come from, by region: their conductors, as numbers of {@link Sites}. */
  readonly around: readonly (readonly number[])[];
  /** Regions with something doubtful in which such a link may start at a component, by local id, and those in which one may end. */
  readonly startsOf: ReadonlyMap<string, readonly number[]>;
  readonly endsOf: ReadonlyMap<string, readonly number[]>;
  /** What a link depends on besides because it ends at a component, by local id. */
  readonly ofEnd: ReadonlyMap<string, Doubt>;
}

/** What makes links of a sort. */
export interface Sort {
  /** All that such links depend on in what a component is, in a region by its nets. */
  readonly saysOf: (id: string, isIn: (net: string) => boolean) => Says;
  /** Whether such links come from a conductor. */
  readonly isHere: (at: number) => boolean;
  /** All that a link depends on because it ends at a component; at least what `saysOf` says. */
  readonly asEnd?: (id: string) => Says;
  /** Whether a link may start at a component in a region by its nets, or end at it; any unless given. */
  readonly mayStart?: (id: string, isIn: (net: string) => boolean) => boolean;
  readonly mayEnd?: (id: string) => boolean;
}

const NO_DOUBTS: readonly Doubt[] = [];

/** What links of a sort depend on, by what hangs together for them. */
export function couplingOf(sites: Sites, union: Union, name: string, sort: Sort): Coupling {
  const { saysOf, isHere, asEnd, mayStart = () => true, mayEnd = () => true } = sort;
  const doubtOf = (id: string, says: (id: string) => Says, what: string): readonly Doubt[] => {
    const thing = sites.things.get(id) as Thing;
    if (thing.possible.length < 2) return [];
    const classes = classesSaid(thing, says(id));
    return classes.length > 1 ? [{ thing, classes, name: nameOf(what, thing, classes) }] : [];
  };
  // What no net joins is the same in every region.
  const everywhere = new Map<string, readonly Doubt[]>();
  const doubtIn = (id: string, isIn: (net: string) => boolean): readonly Doubt[] => {
    const { possible } = sites.things.get(id) as Thing;
    if (possible.length < 2) return NO_DOUBTS;
    if (possible[0].landings.length > 0) return doubtOf(id, () => saysOf(id, isIn), name);
    let known = everywhere.get(id);
    if (!known) {
      known = doubtOf(id, () => saysOf(id, isIn), name);
      everywhere.set(id, known);
    }
    return known;
  };
  const ofEnd = new Map<string, Doubt>();
  if (asEnd)
    for (const id of sites.of.keys())
      for (const doubt of doubtOf(id, asEnd, `${name} to`)) ofEnd.set(id, doubt);
  const [doubts, members, around]: [Doubt[][], string[][], number[][]] = [[], [], []];
  const [startsOf, endsOf] = [0, 1].map(() => new Map<string, number[]>());
  const add = (to: Map<string, number[]>, id: string) => to.set(id, [...(to.get(id) ?? []), doubts.length]);
  const byRoot = Map.groupBy(sites.sites.keys(), (at) => union.root(at));
  for (const [root, places] of byRoot) {
    if (!places.some(isHere)) continue;
    const all = new Set(places.flatMap((at) => sites.sites[at].members));
    const nets = new Set(places.map((at) => sites.sites[at].net));
    const isIn = (net: string) => nets.has(net);
    const open: Doubt[] = [];
    for (const id of all) open.push(...doubtIn(id, isIn));
    // What drives a rail may not be on it itself, such as a converter before its inductor.
    const here = new Set(
      places.flatMap((at) => (sites.sites[at].kind === 'ground' ? [] : sites.sites[at].members)),
    );
    const isOpen = open.length > 0 || [...here].some((id) => ofEnd.has(id));
    if (!isOpen || here.size < 2) continue;
    for (const id of here) {
      if (mayStart(id, isIn)) add(startsOf, id);
      if (mayEnd(id)) add(endsOf, id);
    }
    doubts.push(open);
    members.push([...here]);
    around.push(aroundRegion(sites, union, byRoot, root, here, isHere));
  }
  return { startsOf, endsOf, doubts, members, around, ofEnd };
}

/** Tells a doubt from others, of the same component too. */
function nameOf(what: string, { id }: Thing, classes: readonly Class[]): string {
  return `${what} ${id} ${classes.map(({ bits }) => bits)}`;
}

/** Two doubts about a component as one that tells apart what either does. */
export function both(one: Doubt, other: Doubt): Doubt {
  if (one.name === other.name) return one;
  const { thing } = one;
  const classOf = ({ classes }: Doubt, at: number) => classes.findIndex(({ bits }) => has(bits, at));
  const classes = classesOf(thing, (played) => {
    const at = thing.played.findIndex((own, place) => own === played && thing.masses[place] > 0);
    return `${classOf(one, at)} ${classOf(other, at)}`;
  });
  return { thing, classes, name: nameOf(one.name.split(' ')[0], thing, classes) };
}

/** Conductors of a region, and of others that have two members in common with it: a link between these may come from either. */
function aroundRegion(
  sites: Sites,
  union: Union,
  byRoot: ReadonlyMap<number, readonly number[]>,
  root: number,
  members: ReadonlySet<string>,
  isHere: (at: number) => boolean,
): number[] {
  const common = new Map<number, number>();
  for (const id of members)
    for (const other of new Set(sites.at(id).map((at) => union.root(at))))
      common.set(other, (common.get(other) ?? 0) + 1);
  return [...common].flatMap(([other, number]) => {
    const places = byRoot.get(other) ?? [];
    if (other !== root && (number < 2 || !places.some(isHere))) return [];
    return places.filter((at) => sites.sites[at].kind !== 'ground');
  });
}
