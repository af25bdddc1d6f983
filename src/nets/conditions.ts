import { type Bits, either, has } from '../statistics/bits.ts';
import type { Coupling, Doubt } from './coupling.ts';
import type { Class, Thing } from './parts-played.ts';
import type { World } from './wiring-by-world.ts';
import { Dependence, type DoubtSet, Worlds, worldIn } from './worlds-to-try.ts';

// Under which condition a link is there, by the worlds in which it was found.

/** A component is one of some of its alternatives, as a bit set. */
export interface IsOneOf {
  readonly id: string;
  readonly bits: Bits;
}

/** At least one of these holds, each of which asks several things; true for what is there in every world. */
export type Condition = true | readonly (readonly IsOneOf[])[];

/** A link with the condition under which it is there. */
export interface Conditional<T> {
  readonly link: T;
  readonly when: Condition;
}

/** Worlds as far as a set of doubts tells them apart. */
interface Told {
  /** What each kind of world has of each doubt. */
  readonly kinds: readonly (readonly Bits[])[];
  /** Kind of each world that was worked out; undefined where the links in question were not. */
  readonly ofWorld: readonly (number | undefined)[];
  /** Worlds in which they were. */
  readonly number: number;
}

/** A link with the worlds in which it was found, of those that tell of it. */
interface Found<T> {
  readonly link: T;
  readonly told: Told;
  readonly set: DoubtSet;
  readonly worlds: number[];
}

/** A world that is worked out. */
export interface WorkedOut {
  readonly world: World;
  /** Regions of which the links are worked out; undefined for all links. */
  readonly regions: ReadonlySet<number> | undefined;
}

/** The worlds that have to be worked out for links of one sort. */
export class Explored {
  readonly worlds: readonly WorkedOut[];
  readonly coupling: Coupling;
  readonly #sets: ReadonlySet<DoubtSet>;
  readonly #left: number;
  readonly #dependence: Dependence;
  /** Whether no link depended on more than `coupling.ts` knows of; else nothing is known for sure. */
  #isConsistent = true;
  readonly #told = new Map<DoubtSet, Told>();
  readonly #conditions = new Map<DoubtSet, Map<string, Condition>>();

  constructor(coupling: Coupling, things: readonly Thing[]) {
    this.coupling = coupling;
    this.#dependence = new Dependence(coupling);
    const sets = [...this.#dependence.sets()];
    this.#sets = new Set(sets);
    const { runs, left } = new Worlds(sets, things);
    this.worlds = runs.map(({ asked, regions }) => ({ world: worldIn(things, asked), regions }));
    this.#left = left;
  }

  /** Upper bound of the probability of the worlds in which links may differ; known when all links were asked for. */
  get left(): number {
    return this.#isConsistent ? this.#left : 1;
  }

  /** Links with their conditions. @param found by world @param keyOf the same for links that are alike in all */
  conditional<T>(
    found: readonly (readonly T[])[],
    endsOf: (link: T) => readonly [from: string, to: string],
    keyOf: (link: T) => string,
  ): readonly Conditional<T>[] {
    const all = new Map<string, Found<T>>();
    // What is the same list in several worlds is read once.
    const lists = new Map<readonly T[], readonly Found<T>[]>();
    found.forEach((links, world) => {
      let list = lists.get(links);
      if (!list) {
        list = links.map((link) => {
          const key = keyOf(link);
          let known = all.get(key);
          if (!known) {
            const set = this.#dependence.of(...endsOf(link));
            known = { link, told: this.#toldBy(set), set, worlds: [] };
            all.set(key, known);
          }
          return known;
        });
        lists.set(links, list);
      }
      for (const { told, worlds } of list) if (told.ofWorld[world] !== undefined) worlds.push(world);
    });
    return [...all.values()].flatMap(({ link, told, set, worlds }) => {
      if (worlds.length === 0) return [];
      return { link, when: worlds.length === told.number || this.#conditionOf(worlds, told, set) };
    });
  }

  /** When a link is there, by the worlds in which it was found. */
  #conditionOf(worlds: readonly number[], { kinds, ofWorld }: Told, set: DoubtSet): Condition {
    let known = this.#conditions.get(set);
    if (!known) {
      known = new Map();
      this.#conditions.set(set, known);
    }
    const key = worlds.join(' ');
    let condition = known.get(key);
    if (condition === undefined) {
      const isThere = new Set(worlds.map((world) => ofWorld[world]));
      const isIn = new Set(worlds);
      if (ofWorld.some((kind, world) => kind !== undefined && isThere.has(kind) !== isIn.has(world)))
        this.#isConsistent = false;
      condition = simplified(
        kinds.map((bits, kind) => ({ bits, holds: isThere.has(kind) })),
        set.doubts,
      );
      known.set(key, condition);
    }
    return condition;
  }

  #toldBy(set: DoubtSet): Told {
    let told = this.#told.get(set);
    if (!told) {
      if (set.doubts.length > 0 && !this.#sets.has(set)) this.#isConsistent = false;
      const kinds: Bits[][] = [];
      const numbers = new Map<string, number>();
      const ofWorld = this.worlds.map(({ world, regions }) => {
        // What no doubt concerns is worked out once.
        if (regions && (set.regions.length === 0 || !set.regions.every((one) => regions.has(one))))
          return undefined;
        const bits = set.doubts.map(({ thing, classes }) => {
          const at = world.get(thing) as number;
          return (classes.find((one) => has(one.bits, at)) as Class).bits;
        });
        const key = bits.join(' ');
        let number = numbers.get(key);
        if (number === undefined) {
          number = kinds.push(bits) - 1;
          numbers.set(key, number);
        }
        return number;
      });
      told = { kinds, ofWorld, number: ofWorld.filter((kind) => kind !== undefined).length };
      this.#told.set(set, told);
    }
    return told;
  }
}

type Case = { readonly bits: readonly Bits[]; readonly holds: boolean };

/** Leaves out what does not matter, and puts cases together that differ in one component. */
function simplified(cases: readonly Case[], doubts: readonly Doubt[]): Condition {
  let left = doubts.map((_, at) => at);
  for (const at of [...left]) {
    const without = left.filter((one) => one !== at);
    const told = new Map<string, boolean>();
    const isClear = cases.every(({ bits, holds }) => {
      const key = without.map((one) => bits[one]).join(' ');
      const known = told.get(key);
      told.set(key, holds);
      return known === undefined || known === holds;
    });
    if (isClear) left = without;
  }
  if (left.length === 0) return true;
  let there: (readonly Bits[])[] = [
    ...new Map(
      cases.flatMap(({ bits, holds }) => {
        const kept = left.map((at) => bits[at]);
        return holds ? [[kept.join(' '), kept] as const] : [];
      }),
    ).values(),
  ];
  for (let at = 0; at < left.length; at++) {
    const groups = Map.groupBy(there, (bits) => bits.toSpliced(at, 1).join(' '));
    there = [...groups.values()].map((group) =>
      group[0].with(at, group.map((bits) => bits[at]).reduce(either)),
    );
  }
  return there.map((bits) =>
    left.flatMap((at, i) => {
      const { thing, classes } = doubts[at];
      const all = classes.map((one) => one.bits).reduce(either);
      return bits[i] === all ? [] : [{ id: thing.id, bits: bits[i] }];
    }),
  );
}
