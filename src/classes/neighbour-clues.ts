import { pinOf } from '../model/ids.ts';
import type { Board, TermWeights } from './board.ts';
import { CLUE_BUSES, CLUES, FEEDING, GROUPS, NEEDS_LEADER, placeOfClue, SUPPLYING } from './class-table.ts';
import { type Wire, Wires } from './wires.ts';

// What hangs on a chip, each clue with the probability that it is there: neighbours count by their own odds.

/** A neighbour of a chip, with what it may be to it. */
export interface Neighbour {
  readonly id: string;
  /** Probability of each group, in their order. */
  readonly groups: readonly number[];
  /** On a signal wire, on a supply, or behind one part in series. */
  readonly by: 'line' | 'supply';
  readonly bus: Wire['bus'];
  /** The series part between. */
  readonly through: string | undefined;
}

/** What hangs on one chip. */
export interface NeighbourClues {
  /** Probability of each clue, in the order of CLUES. */
  readonly has: readonly number[];
  /** Whether all its pins are on complete nets, so that what is not there is not there. */
  readonly isFull: boolean;
  readonly neighbours: readonly Neighbour[];
  /** Components that it leads, and wires that it feeds, where nobody else does, with the probability. */
  readonly leads: readonly { readonly id: string; readonly probability: number }[];
  readonly feeds: readonly { readonly wire: Wire; readonly probability: number }[];
  /** Groups whose supply a label says it is on. */
  readonly supplies: readonly string[];
}

const PASSING = ['Resistor', 'Capacitor', 'FerriteBead'];
/** Parts behind which a rail may get its supply. */
const SUPPLY_PASSING = ['Inductor', 'FerriteBead', 'Fuse', 'Diode', 'Transistor', 'SolderBridge', 'Resistor'];
/** Nothing hangs on these. */
const NOTHING = ['BoardFeature', 'Shield', 'Window', 'OpticalBarrier'];
/** What lies beyond a connector is not known: as likely as not it is what one would look for. */
const BEYOND = 0.5;
/** A rail behind an inductor, a bead, a diode or a transistor is mostly fed through it. */
const FED_THROUGH = 0.9;
/** No more parts of one wire are followed to their other end. */
const MAX_FOLLOWED = 48;

const PLACE = {
  line: GROUPS.map(([name]) => placeOfClue(`line:${name}`)),
  supply: new Map(SUPPLYING.map((name) => [name, placeOfClue(`supply:${name}`)])),
  bus: new Map(CLUE_BUSES.map((name) => [name, placeOfClue(`bus:${name}`)])),
  leads: placeOfClue('leads'),
  feeds: placeOfClue('feeds'),
  rails: placeOfClue('rails'),
  bridges: placeOfClue('bridges'),
};
const PROCESSOR = GROUPS.findIndex(([name]) => name === 'processor');
const IS_CONNECTOR = GROUPS.map(([name]) => /connector|contact/u.test(name));
const HAS_LEADER = GROUPS.map(([name]) => NEEDS_LEADER.has(name));
const IS_FEEDING = GROUPS.map(([name]) => FEEDING.has(name));

/** What hangs on the chips of a board; made once for a board. */
export class Neighbourhood {
  readonly #board: Board;
  readonly #weights: ReadonlyMap<string, TermWeights>;
  readonly #wires: Wires;
  readonly #sorted = new Map<string, Sorted>();

  /** @param weights what each component may be, by local id */
  constructor(board: Board, weights: ReadonlyMap<string, TermWeights>) {
    this.#board = board;
    this.#weights = weights;
    this.#wires = new Wires(board);
  }

  /** Whether anything is known to be joined to a component. */
  isJoined(id: string): boolean {
    return this.#wires.of(id).length > 0;
  }

  /** What hangs on a component. */
  of(id: string): NeighbourClues {
    const has = CLUES.map(() => 0);
    const also = (at: number, p: number) => {
      has[at] = 1 - (1 - has[at]) * (1 - p);
    };
    const neighbours = new Map<string, Neighbour>();
    const leads = new Map<string, number>();
    const feeds: { wire: Wire; probability: number }[] = [];
    const wires = this.#wires.of(id);
    for (const wire of wires) {
      if (wire.kind === 'power') {
        if (wire.supply) has[PLACE.supply.get(wire.supply) as number] = 1;
        for (const other of wire.members) {
          if (other === id) continue;
          neighbours.set(`${other} supply`, this.#neighbour(other, wire, undefined));
        }
        const p = this.#feedsAlone(id, wire, wires);
        if (p > 0) feeds.push({ wire, probability: p });
        continue;
      }
      if (wire.bus) has[PLACE.bus.get(wire.bus) as number] = 1;
      for (const other of wire.members) {
        if (other === id) continue;
        neighbours.set(`${other} line`, this.#neighbour(other, wire, undefined));
        const p = this.#leadsAlone(id, other, wire);
        if (p > (leads.get(other) ?? 0)) leads.set(other, p);
      }
      for (const [far, through] of this.#behind(id, wire))
        for (const other of far.members)
          if (other !== id && other !== through && !neighbours.has(`${other} line`))
            neighbours.set(`${other} line`, this.#neighbour(other, wire, through));
    }
    for (const { groups, by } of neighbours.values())
      groups.forEach((p, at) => {
        if (p === 0) return;
        if (by === 'line') also(PLACE.line[at], p);
        else {
          const place = PLACE.supply.get(GROUPS[at][0]);
          if (place !== undefined) also(place, p);
        }
      });
    has[PLACE.leads] = Math.max(0, ...leads.values());
    has[PLACE.feeds] = Math.max(0, ...feeds.map(({ probability }) => probability));
    has[PLACE.rails] = wires.filter(({ kind, isNet }) => kind === 'power' && isNet).length > 1 ? 1 : 0;
    has[PLACE.bridges] = wires.filter(({ bus, isNet }) => bus === 'i2c' && isNet).length > 2 ? 1 : 0;
    return {
      has,
      isFull: this.#isFull(id, wires),
      neighbours: [...neighbours.values()],
      leads: [...leads].map(([other, probability]) => ({ id: other, probability })),
      feeds,
      supplies: [...new Set(wires.flatMap(({ supply }) => supply ?? []))],
    };
  }

  #sortedOf(id: string): Sorted {
    let found = this.#sorted.get(id);
    if (!found) {
      found = sortedFor(this.#weights.get(id));
      this.#sorted.set(id, found);
    }
    return found;
  }

  #neighbour(id: string, wire: Wire, through: string | undefined): Neighbour {
    const by = wire.kind === 'power' ? 'supply' : 'line';
    return { id, groups: this.#sortedOf(id).groups, by, bus: wire.bus, through };
  }

  /** Signal wires behind the resistors, capacitors and beads of a wire. */
  *#behind(id: string, wire: Wire): Generator<readonly [far: Wire, through: string]> {
    let followed = 0;
    for (const part of wire.members) {
      if (part === id || !this.#is(part, PASSING)) continue;
      if (++followed > MAX_FOLLOWED) return;
      for (const far of this.#wires.of(part))
        if (far !== wire && far.kind === 'signal' && !far.members.includes(id)) yield [far, part];
    }
  }

  /** Probability that a member is one that needs somebody to lead it, and nobody else on its wires does. */
  #leadsAlone(id: string, member: string, wire: Wire): number {
    const { led } = this.#sortedOf(member);
    if (led < 0.01) return 0;
    let nobody = 1;
    const seen = new Set([id, member]);
    const wires = wire.isNet ? [wire] : this.#wires.of(member).filter((one) => one.kind === 'signal');
    for (const one of wires)
      for (const other of one.members) {
        if (seen.has(other)) continue;
        seen.add(other);
        nobody *= this.#sortedOf(other).leadsNot;
      }
    return led * nobody;
  }

  /** Probability that a rail has a load, and nobody else on it feeds it. */
  #feedsAlone(id: string, wire: Wire, own: readonly Wire[]): number {
    if (wire.supply) return 0;
    let [nobody, noLoad] = [1, 1];
    for (const other of wire.members) {
      if (other === id) continue;
      const { feeding, feedsNot } = this.#sortedOf(other);
      nobody *= feedsNot;
      noLoad *= feeding + this.#chance(other, ['Passive', 'Connector', ...NOTHING]);
      if (!this.#is(other, SUPPLY_PASSING)) continue;
      for (const far of this.#wires.of(other))
        if (far !== wire && !own.includes(far) && (far.kind === 'power' || !this.#is(other, ['Resistor'])))
          nobody *= 1 - FED_THROUGH;
    }
    return nobody * (1 - Math.min(1, noLoad));
  }

  #isFull(id: string, wires: readonly Wire[]): boolean {
    const component = this.#board.components.get(id);
    const count = component?.pins ?? component?.pinout?.length;
    return (
      count !== undefined &&
      wires.length > 0 &&
      wires.every(({ isNet, isComplete }) => isNet && isComplete) &&
      this.#pinsOnNets(id) >= count
    );
  }

  #pinsOnNets(id: string): number {
    return this.#pinCounts().get(id) ?? 0;
  }

  #counts: ReadonlyMap<string, number> | undefined;

  #pinCounts(): ReadonlyMap<string, number> {
    if (!this.#counts) {
      const counts = new Map<string, number>();
      for (const { pins } of this.#board.nets)
        for (const pin of pins) {
          const { component } = pinOf(pin);
          counts.set(component, (counts.get(component) ?? 0) + 1);
        }
      this.#counts = counts;
    }
    return this.#counts;
  }

  #chance(id: string, terms: readonly string[]): number {
    const weights = this.#weights.get(id);
    return Math.min(
      1,
      terms.reduce((sum, term) => sum + (weights?.get(term) ?? 0), 0),
    );
  }

  #is(id: string, terms: readonly string[]): boolean {
    return this.#chance(id, terms) >= 0.5;
  }
}

/** What a component is to others. */
interface Sorted {
  /** Probability of each group; each is the first that fits. */
  readonly groups: readonly number[];
  /** Probability that it is one that somebody has to lead; that it feeds a rail. */
  readonly led: number;
  readonly feeding: number;
  /** Probability that it leads nothing, and nothing beyond it does; that it feeds nothing, and nothing beyond it does. */
  readonly leadsNot: number;
  readonly feedsNot: number;
}

const NO_GROUPS: readonly number[] = GROUPS.map(() => 0);
const IS_NOBODY: Sorted = { groups: NO_GROUPS, led: 0, feeding: 0, leadsNot: 1, feedsNot: 1 };

/** Groups of a term, by place, so that most components are sorted by a look. */
const groupsOfTerm = new Map<string, readonly number[]>();

function groupsUnder(term: string): readonly number[] {
  let found = groupsOfTerm.get(term);
  if (!found) {
    found = GROUPS.flatMap(([, terms], at) => (terms.includes(term) ? [at] : []));
    groupsOfTerm.set(term, found);
  }
  return found;
}

function sortedFor(weights: TermWeights | undefined): Sorted {
  let best: number[] | undefined;
  for (const [term, weight] of weights ?? [])
    for (const at of groupsUnder(term)) {
      best ??= [...NO_GROUPS];
      if (weight > best[at]) best[at] = weight;
    }
  if (!best) return IS_NOBODY;
  let left = 1;
  let [led, feeding, connector] = [0, 0, 1];
  for (let at = 0; at < best.length; at++) {
    if (best[at] === 0) continue;
    const p = Math.min(left, best[at]);
    best[at] = p;
    left -= p;
    if (HAS_LEADER[at]) led += p;
    if (IS_FEEDING[at]) feeding += p;
    if (IS_CONNECTOR[at]) connector *= 1 - BEYOND * p;
  }
  return {
    groups: best,
    led,
    feeding,
    leadsNot: (1 - best[PROCESSOR]) * connector,
    feedsNot: (1 - feeding) * connector,
  };
}
