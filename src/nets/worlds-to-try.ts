import { type Bits, has, both as intersection, placeAlone, without } from '../statistics/bits.ts';
import { both, type Coupling, type Doubt } from './coupling.ts';
import type { Thing } from './parts-played.ts';
import type { World } from './wiring-by-world.ts';

// Which worlds have to be worked out so that each link has been seen under every combination on which it depends. Many such parts of worlds
// are tried in one go, since what does not hang together does not matter.

/** Combinations of what the components around a link may be, up to which all are worked out. */
const ALL_COMBINATIONS = 256;
/** Of more than these, those that are less likely are left out, */
const LEAST_COMBINATION = 0.001;
/** after what a component is by less than this. */
const LEAST_CLASS = 0.003;
/** Times that the links of a specimen are worked out; what is left out is told. */
const MOST_RUNS = 400;

/** A world in which some components are one of some alternatives: the likeliest of those that are allowed. */
export function worldIn(things: readonly Thing[], asked: ReadonlyMap<Thing, Bits>): World {
  const world = new Map<Thing, number>();
  for (const thing of things) {
    if (!thing.mayBe) continue;
    const bits = asked.get(thing);
    let best = -1;
    thing.masses.forEach((mass, at) => {
      const isAllowed = bits === undefined || has(bits, at);
      if (isAllowed && (best < 0 || mass > thing.masses[best])) best = at;
    });
    world.set(thing, best);
  }
  return world;
}

/** Doubts that a link depends on, each component once. */
export interface DoubtSet {
  readonly key: string;
  /** Regions that such a link may come from. */
  readonly regions: readonly number[];
  readonly doubts: readonly Doubt[];
  /** The one that concerns the end of the link alone. */
  readonly end: Doubt | undefined;
}

/** What links of one sort depend on, by their ends. */
export class Dependence {
  readonly #coupling: Coupling;
  readonly #known = new Map<string, DoubtSet>();

  constructor(coupling: Coupling) {
    this.#coupling = coupling;
  }

  /** All sets of doubts on which a link depends. */
  sets(): Iterable<DoubtSet> {
    const { members, startsOf, endsOf, ofEnd } = this.#coupling;
    members.forEach((here, region) => {
      const starts = here.filter((id) => startsOf.get(id)?.includes(region));
      const ends = here.filter((id) => endsOf.get(id)?.includes(region));
      if (starts.length === 0 || ends.length === 0) return;
      if (ends.some((id) => !ofEnd.has(id))) this.#setOf([region], undefined);
      for (const id of ends) if (ofEnd.has(id)) this.#setOf([region], id);
      // Most components are in one region: then it does not matter which.
      const several = (ids: readonly string[], of: ReadonlyMap<string, readonly number[]>) =>
        ids.filter((id) => (of.get(id)?.length ?? 0) > 1);
      for (const a of several(starts, startsOf))
        for (const b of several(ends, endsOf)) if (a !== b) this.of(a, b);
    });
    return this.#known.values();
  }

  /** Those of a link from one component to another. */
  of(from: string, to: string): DoubtSet {
    const { startsOf, endsOf } = this.#coupling;
    const theirs = endsOf.get(to) ?? [];
    return this.#setOf(
      (startsOf.get(from) ?? []).filter((region) => theirs.includes(region)),
      to,
    );
  }

  #setOf(regions: readonly number[], to: string | undefined): DoubtSet {
    const { doubts, ofEnd } = this.#coupling;
    const end = to === undefined ? undefined : ofEnd.get(to);
    const asked = `${regions.join(' ')}>${end ? to : ''}`;
    let known = this.#known.get(asked);
    if (!known) {
      const all = new Map<Thing, Doubt>();
      for (const doubt of regions.flatMap((region) => doubts[region])) {
        const before = all.get(doubt.thing);
        all.set(doubt.thing, before ? both(before, doubt) : doubt);
      }
      if (end) all.delete(end.thing);
      const sorted = [...all.values()].sort((a, b) => (a.name < b.name ? -1 : 1));
      const key = sorted.map(({ name }) => name).join('|');
      known = { key, regions, doubts: end ? [...sorted, end] : sorted, end };
      this.#known.set(asked, known);
    }
    return known;
  }
}

/** A world to be worked out, as far as it matters what components are. */
export interface Run {
  readonly asked: Map<Thing, Bits>;
  /** Regions of which the links are to be worked out; undefined for everything. */
  readonly regions: Set<number> | undefined;
}

/** Parts of worlds that have to be worked out, packed into as few as possible. */
export class Worlds {
  /** The first is the likeliest, as a whole. */
  readonly runs: Run[];
  left = 0;

  constructor(sets: readonly DoubtSet[], things: readonly Thing[]) {
    const likeliest = worldIn(things, new Map());
    const asked = new Map([...likeliest].map(([thing, at]) => [thing, placeAlone(at, thing.masses.length)]));
    this.runs = [{ asked, regions: undefined }];
    const masses = new Map<string, number>();
    const rare = new Map<Thing, number>();
    const distinct = new Map<string, { readonly set: DoubtSet; readonly regions: Set<number> }>();
    for (const set of sets) {
      const name = set.doubts.map((doubt) => doubt.name).join('|');
      const known = distinct.get(name);
      if (known) for (const region of set.regions) known.regions.add(region);
      else distinct.set(name, { set, regions: new Set(set.regions) });
    }
    // The widest first: they cover others.
    const sorted = [...distinct.values()].sort((a, b) => b.set.doubts.length - a.set.doubts.length);
    for (const { set, regions } of sorted) {
      const { doubts, key, end } = set;
      const shape = withoutRare(end ? doubts.slice(0, -1) : doubts, rare);
      let explored = 0;
      for (const { bits, mass } of combinations(shape)) {
        let isTold = true;
        for (const own of end?.classes ?? [undefined]) {
          const asked = new Map(shape.map(({ thing }, at) => [thing, bits[at]]));
          if (end && own) asked.set(end.thing, own.bits);
          isTold &&= this.#place(asked, regions);
        }
        if (isTold) explored += mass;
      }
      const all = shape.reduce((product, { classes }) => product * massOf(classes), 1);
      masses.set(key, Math.max(masses.get(key) ?? 0, all - explored));
    }
    const left = [...masses.values(), ...rare.values()].reduce((sum, one) => sum + one, 0);
    this.left = left < 1e-9 ? 0 : Math.min(1, left);
  }

  #place(asked: ReadonlyMap<Thing, Bits>, regions: ReadonlySet<number>): boolean {
    const isCovered = (run: Run) => {
      for (const [thing, bits] of asked) {
        const own = run.asked.get(thing);
        if (own === undefined || without(own, bits)) return false;
      }
      return true;
    };
    const fits = (run: Run) => {
      for (const [thing, bits] of asked) {
        const own = run.asked.get(thing);
        if (own !== undefined && !intersection(own, bits)) return false;
      }
      return true;
    };
    let run = this.runs.find(isCovered) ?? this.runs.find(fits);
    if (!run) {
      if (this.runs.length >= MOST_RUNS) return false;
      run = { asked: new Map(), regions: new Set() };
      this.runs.push(run);
    }
    for (const region of regions) run.regions?.add(region);
    for (const [thing, bits] of asked) {
      const own = run.asked.get(thing);
      run.asked.set(thing, own === undefined ? bits : intersection(own, bits));
    }
    return true;
  }
}

function massOf(classes: Doubt['classes']): number {
  return classes.reduce((sum, { mass }) => sum + mass, 0);
}

/** Where there are many combinations: what components may be without what they hardly are. @param rare takes what was left out */
function withoutRare(doubts: readonly Doubt[], rare: Map<Thing, number>): readonly Doubt[] {
  if (doubts.reduce((product, { classes }) => product * classes.length, 1) <= ALL_COMBINATIONS) return doubts;
  return doubts.map((doubt) => {
    const classes = doubt.classes.filter(({ mass }) => mass >= LEAST_CLASS);
    const out = massOf(doubt.classes) - massOf(classes);
    if (out > 0) rare.set(doubt.thing, Math.max(rare.get(doubt.thing) ?? 0, out));
    return { ...doubt, classes };
  });
}

/** Combinations of classes, all or the likeliest: bit sets by doubt. */
function combinations(doubts: readonly Doubt[]): { readonly bits: readonly Bits[]; readonly mass: number }[] {
  const all = doubts.reduce((product, { classes }) => product * classes.length, 1);
  const least = all <= ALL_COMBINATIONS ? 0 : LEAST_COMBINATION;
  let found: { bits: Bits[]; mass: number }[] = [{ bits: [], mass: 1 }];
  for (const { classes } of doubts)
    found = found.flatMap(({ bits, mass }) =>
      classes.flatMap((one) =>
        mass * one.mass < least ? [] : [{ bits: [...bits, one.bits], mass: mass * one.mass }],
      ),
    );
  return found.sort((a, b) => b.mass - a.mass);
}
