import {
  connectorDrivers,
  type Driver,
  isCellRail,
  lastResort,
  matedIn,
  namedDrivers,
  tracedDrivers,
  unnamedDriver,
} from './drivers.ts';
import { type Passage, type Passages, supplyPassages, withPassages } from './passing.ts';
import type { Role, SupplyKind } from './roles.ts';
import { type RailTransistor, transistorsOf } from './switches.ts';
import type { Conductor, Member, Wiring } from './wiring.ts';

/** One component feeds another. */
export interface Feed {
  readonly source: string;
  readonly load: string;
  /** V, where known. */
  readonly voltage: number | undefined;
  /** Output of a source with several, by the name of its pin. */
  readonly output: string | undefined;
  /** What kind of supply it is; undefined where the source may make several. */
  readonly supply: SupplyKind | undefined;
  /** Whether the load can be cut off there: behind a load switch, a switched output, a transistor; undefined where a chip may do so. */
  readonly switched: boolean | undefined;
  /** Beads, fuses, diodes and connectors in between, by id. */
  readonly through: readonly string[];
}

/** Pins of a chip on a rail that draw from it; others are inputs held high, or outputs. */
const DRAWING: ReadonlySet<string | undefined> = new Set([
  ...['supply-input', 'battery', 'anode', 'switch-node'],
  // A pin that others hold up with a capacitor alone takes its supply from a rail that another chip drives, as a core does.
  'bypass',
]);
/** Resistance up to which a resistor may filter the supply of a small load, Ohm (chosen; 100 Ohm to 1 kOhm are usual). */
const MOST_FILTERING_OHMS = 4_700;

/**
 * Who feeds whom. Sources are found on every rail, then every load is looked for from there on. The work grows with the pins of
 * a rail times its sources, of which there are few.
 * @param ohmsOf resistance of a component where its value says it
 * @returns `rails`: for each power net, by its place among the conductors, the id of the first net of its rail
 */
export function feedsOf(
  wiring: Wiring,
  ohmsOf: (id: string) => number | undefined,
): { readonly feeds: readonly Feed[]; readonly rails: ReadonlyMap<number, string> } {
  const transistors = transistorsOf(wiring);
  const passages = withTransistors(
    supplyPassages(wiring, ohmsOf),
    transistors.filter(({ isControlled }) => !isControlled),
  );
  const rails = new Rails(wiring, passages);
  const known = [...tracedDrivers(wiring), ...namedDrivers(wiring), ...connectorDrivers(wiring, passages)];
  for (const driver of known) rails.drive(driver);
  const makers = [...wiring.roles.values()].filter(({ supplies }) => supplies.length > 0);
  for (const role of makers.sort((a, b) => a.rank - b.rank)) {
    const driver = unnamedDriver(wiring, role, (at) => rails.isDriven(at));
    if (driver) rails.drive(driver);
  }
  const ofCell = new Set(wiring.here.filter(isCellRail).flatMap(({ at }) => [...reach(at, passages).keys()]));
  for (const { role, rails: pair } of transistors.filter(({ isControlled }) => isControlled)) {
    const all = pair.filter(({ at }) => rails.isDriven(at));
    // Between two driven rails one hands the cell over to the other, which outside power drives else.
    const driven = all.length === 2 ? all.filter(({ at }) => ofCell.has(at)) : all;
    if (driven.length !== 1) continue;
    const [off] = pair.filter((one) => one !== driven[0]);
    rails.drive({ role, on: off, output: undefined, supply: 'transistor', switched: true });
    rails.load(driven[0], role);
  }
  filter(wiring, rails, ohmsOf);
  // Only where nothing else drives it: a rail that comes in through a connector.
  for (const driver of lastResort(wiring, (at) => rails.isDriven(at))) rails.drive(driver);
  return {
    get feeds() {
      return rails.feeds();
    },
    get rails() {
      return rails.names();
    },
  };
}

/** Rails, who drives them, and what hangs on them. */
class Rails {
  readonly #wiring: Wiring;
  #passages: Passages;
  /** Ways back from rails that are filtered: no supply goes there, but they are one rail. */
  #filtered: Passages = new Map();
  readonly #drivers: Driver[] = [];
  readonly #driven = new Set<number>();
  readonly #drawsByName = new Map<Role, boolean>();
  readonly #more = new Map<number, Role[]>();
  readonly #mated: ReadonlySet<Role>;

  constructor(wiring: Wiring, passages: Passages) {
    this.#wiring = wiring;
    this.#passages = passages;
    this.#mated = matedIn(wiring);
  }

  /** Takes a driver; of two that are one output of one chip, the one whose kind of supply is known. */
  drive(driver: Driver): void {
    const same = this.#drivers.findIndex(
      ({ role, on, output }) => role === driver.role && on === driver.on && output === driver.output,
    );
    if (same < 0) this.#drivers.push(driver);
    else if (this.#drivers[same].supply === undefined) this.#drivers[same] = driver;
    for (const at of reach(driver.on.at, this.#passages).keys()) this.#driven.add(at);
  }

  /** Says that something draws from a rail that would not count as a load there. */
  load({ at }: Conductor, role: Role): void {
    this.#more.set(at, [...(this.#more.get(at) ?? []), role]);
  }

  /** Lets a supply go on from one rail to another. */
  lead(passage: Passage): void {
    this.#passages = withPassages(this.#passages, [passage]);
    const back = { from: passage.to, to: passage.from, through: passage.through };
    this.#filtered = withPassages(this.#filtered, [back]);
    for (const at of reach(passage.to, this.#passages).keys()) this.#driven.add(at);
  }

  /** Power nets that beads, fuses, small resistors and connectors make one rail: the id of the first of them, by conductor. */
  names(): ReadonlyMap<number, string> {
    const names = new Map<number, string>();
    const isOneWay = (role: Role) => role.is('Diode') || role.is('Transistor');
    for (const { at, net, kind } of this.#wiring.conductors) {
      if (kind !== 'power' || net === undefined || names.has(at)) continue;
      const rail = [at];
      for (const one of rail) {
        if (names.has(one)) continue;
        names.set(one, net.id);
        for (const { to, through } of [
          ...(this.#passages.get(one) ?? []),
          ...(this.#filtered.get(one) ?? []),
        ]) {
          if (!through.some(isOneWay)) rail.push(to);
        }
      }
    }
    return names;
  }

  isDriven(at: number): boolean {
    return this.#driven.has(at);
  }

  feeds(): readonly Feed[] {
    const feeds = new Map<string, Feed>();
    for (const driver of this.#drivers) {
      for (const [at, passed] of reach(driver.on.at, this.#passages)) {
        const rail = this.#wiring.conductors[at];
        const loads = [
          ...rail.members.flatMap((member) => (this.#isLoad(member, driver) ? [member.role] : [])),
          ...(this.#more.get(at) ?? []),
        ];
        for (const load of loads) {
          if (load === driver.role) continue;
          const { role, output, supply, switched } = driver;
          const key = `${role.id} ${load.id} ${output ?? ''} ${supply ?? ''}`;
          const voltage = rail.voltage ?? driver.on.voltage;
          const before = feeds.get(key);
          if (before && (before.through.length <= passed.length || before.voltage !== undefined)) continue;
          const through = passed.flatMap((one) => one.through.map(({ id }) => id));
          feeds.set(key, { source: role.id, load: load.id, voltage, output, supply, switched, through });
        }
      }
    }
    return [...feeds.values()];
  }

  #isLoad({ role, function: pin, number, name }: Member, { supply, on }: Driver): boolean {
    if (role.isIgnored || !role.draws) return false;
    if (role.is('Battery')) return supply === 'charger';
    if (role.isConnector) {
      if (role.isOutside || supply === 'connector' || role.is('ProgrammingContact')) return false;
      if (this.#mated.has(role)) return false;
      return supply === 'charger' ? isCellRail(on) || this.#isCell(role) : !this.#isCell(role);
    }
    if (role.is('SurgeProtector')) return supply === 'connector' || supply === 'receiver';
    if (!role.isActive) return false;
    // A processor takes a reference for its converter and runs from something else.
    if (pin === 'reference' && supply === 'reference') return !role.isProcessor;
    if (on.kind === 'signal') return false;
    // A gauge with a supply pin elsewhere only measures at the cell.
    if (pin === 'battery' && role.is('FuelGauge') && role.supplies.length === 0 && this.#hasSupplyPin(role))
      return false;
    if (pin === undefined) return (number === undefined && name === undefined) || !this.#hasSupplyPin(role);
    return DRAWING.has(pin);
  }

  /** Whether it draws from a rail at a pin for that. */
  #hasSupplyPin(role: Role): boolean {
    let has = this.#drawsByName.get(role);
    if (has === undefined) {
      has = (this.#wiring.of.get(role.id) ?? []).some((at) => {
        const { kind, members } = this.#wiring.conductors[at];
        return (
          kind === 'power' && members.some((one) => one.role === role && one.function === 'supply-input')
        );
      });
      this.#drawsByName.set(role, has);
    }
    return has;
  }

  #isCell(role: Role): boolean {
    return (this.#wiring.of.get(role.id) ?? []).some((at) => isCellRail(this.#wiring.conductors[at]));
  }
}

/** Conductors that a supply reaches from one, with what it passes on the shortest way, by breadth-first search. */
function reach(from: number, passages: Passages): ReadonlyMap<number, readonly Passage[]> {
  const reached = new Map<number, readonly Passage[]>([[from, []]]);
  for (const [at, passed] of reached) {
    for (const passage of passages.get(at) ?? [])
      if (!reached.has(passage.to)) reached.set(passage.to, [...passed, passage]);
  }
  return reached;
}

function withTransistors(passages: Passages, transistors: readonly RailTransistor[]): Passages {
  return withPassages(
    passages,
    transistors.flatMap(({ role, rails: [a, b] }) => [
      { from: a.at, to: b.at, through: [role] },
      { from: b.at, to: a.at, through: [role] },
    ]),
  );
}

/**
 * A resistor of more than 10 Ohm, or of a value that is not known, feeds the rail behind it where nothing else does: with the
 * capacitor there it filters the supply of a small load, such as a gauge or a clock.
 */
function filter(
  { roles, conductors, of }: Wiring,
  rails: Rails,
  ohmsOf: (id: string) => number | undefined,
): void {
  const resistors = [...roles.values()].flatMap((role) => {
    if (!role.is('Resistor') || (ohmsOf(role.id) ?? 0) > MOST_FILTERING_OHMS) return [];
    const own = (of.get(role.id) ?? []).map((at) => conductors[at]);
    const isBetweenRails = own.length === 2 && own.every(({ kind, net }) => kind === 'power' && net);
    return isBetweenRails ? [{ role, own }] : [];
  });
  // Each round feeds at least one more rail, or is the last.
  for (let before = -1, fed = 0; fed > before; ) {
    before = fed;
    for (const { role, own } of resistors) {
      const [from, ...more] = own.filter(({ at }) => rails.isDriven(at));
      const to = own.find((one) => one !== from);
      if (!from || !to || more.length > 0) continue;
      rails.lead({ from: from.at, to: to.at, through: [role] });
      fed++;
    }
  }
}
