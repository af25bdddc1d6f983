import { type Passage, type Passages, supplyPassages, withPassages } from './passing.ts';
import { LOAD_RANK, type Role, type SupplyKind } from './roles.ts';
import { isTiedOn, type RailTransistor, transistorsOf } from './switches.ts';
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

/** A source on a rail. */
interface Driver {
  readonly role: Role;
  readonly on: Conductor;
  readonly output: string | undefined;
  readonly supply: SupplyKind | undefined;
  readonly switched: boolean | undefined;
}

/** Pins of a chip on a rail that draw from it; others are inputs held high, or outputs. */
const DRAWING: ReadonlySet<string | undefined> = new Set(['supply-input', 'battery', 'anode', 'switch-node']);
/** Resistance up to which a resistor may filter the supply of a small load, Ohm (chosen; 100 Ohm to 1 kOhm are usual). */
const MOST_FILTERING_OHMS = 4_700;
const CELL_LABEL = /(?:^|[_/+])V?_?(?:BATT?(?:ERY)?|CELL|LIPO|LIION)(?:$|[_+\d/-])/iu;

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
  const uncontrolled = transistorsOf(wiring).filter(({ isControlled }) => !isControlled);
  const passages = withTransistors(supplyPassages(wiring, ohmsOf), uncontrolled);
  const rails = new Rails(wiring, passages);
  const known = [...tracedDrivers(wiring), ...namedDrivers(wiring), ...connectorDrivers(wiring, passages)];
  for (const driver of known) rails.drive(driver);
  for (const role of [...wiring.roles.values()].sort((a, b) => a.rank - b.rank)) {
    const driver = unnamedDriver(wiring, role, rails);
    if (driver) rails.drive(driver);
  }
  const ofCell = new Set(
    wiring.conductors.filter(isCellRail).flatMap(({ at }) => [...reach(at, passages).keys()]),
  );
  for (const { role, rails: pair } of transistorsOf(wiring).filter(({ isControlled }) => isControlled)) {
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
  for (const driver of lastResort(wiring, rails)) rails.drive(driver);
  return { feeds: rails.feeds(), rails: rails.names() };
}

/** Rails, who drives them, and what hangs on them. */
class Rails {
  readonly #wiring: Wiring;
  #passages: Passages;
  /** Ways back from rails that are filtered: no supply goes there, but they are one rail. */
  #filtered: Passages = new Map();
  readonly #drivers: Driver[] = [];
  readonly #driven = new Set<number>();
  readonly #drawsByName: ReadonlySet<Role>;
  readonly #more = new Map<number, Role[]>();
  readonly #mated: ReadonlySet<Role>;

  constructor(wiring: Wiring, passages: Passages) {
    this.#wiring = wiring;
    this.#passages = passages;
    this.#mated = matedIn(wiring);
    this.#drawsByName = new Set(
      wiring.conductors.flatMap(({ kind, members }) =>
        kind === 'power'
          ? members.flatMap((member) => (member.function === 'supply-input' ? [member.role] : []))
          : [],
      ),
    );
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
    if (pin === 'battery' && role.is('FuelGauge') && this.#drawsByName.has(role)) return false;
    if (pin === undefined)
      return (number === undefined && name === undefined) || !this.#drawsByName.has(role);
    return DRAWING.has(pin);
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

/** Drivers by what their pins are for. */
function namedDrivers(wiring: Wiring): readonly Driver[] {
  return wiring.conductors.flatMap((on): Driver[] => {
    if (on.net === undefined) return [];
    return on.members.flatMap((member): Driver[] => {
      const { role } = member;
      const drives = (supply: SupplyKind | undefined, switched: boolean | undefined = false): Driver[] =>
        // Nets of references are often filed as signals.
        on.kind === 'power' || (on.kind === 'signal' && supply === 'reference')
          ? [{ role, on, output: outputOf(member), supply, switched }]
          : [];
      if (role.is('Battery')) return member.function === 'ground' ? [] : drives('cell');
      switch (member.function) {
        case 'switched-output':
          return drives('switch', !isTiedOn(role, wiring));
        case 'battery':
          return role.supplies.includes('charger') || role.is('PowerManagement') ? drives('charger') : [];
        case 'supply-output': {
          const supply = supplyOf(member);
          return role.supplies.length > 0 ? drives(supply, isSwitched(role, supply)) : [];
        }
        case 'switch-node':
          return role.supplies.length > 0 ? throughInductor(wiring, member, on) : [];
        default:
          return [];
      }
    });
  });
}

/**
 * A switching converter drives the rail behind its inductor; where it draws from that rail and gives nothing to it, the inductor
 * is at its input, as in a step-up.
 */
function throughInductor(wiring: Wiring, member: Member, node: Conductor): Driver[] {
  const { role } = member;
  const isAt = (rail: Conductor, functions: readonly string[]) =>
    rail.members.some((one) => one.role === role && functions.includes(one.function ?? ''));
  const supply = role.supplies.length === 1 ? role.supplies[0] : 'buck';
  if (supply === 'boost') return [];
  return node.members.flatMap((other) => {
    if (!other.role.is('Inductor')) return [];
    return (wiring.of.get(other.role.id) ?? []).flatMap((at): Driver[] => {
      const on = wiring.conductors[at];
      if (on === node || on.kind !== 'power') return [];
      const isOutput = isAt(on, ['supply-output', 'feedback']);
      if (!isOutput && isAt(on, ['supply-input'])) return [];
      const sense = on.members.find((one) => one.role === role && one.function === 'supply-output');
      return [{ role, on, output: outputOf(sense ?? member), supply, switched: false }];
    });
  });
}

/** Name of an output, for sources that have several. */
function outputOf({ role, output, name, number }: Member): string | undefined {
  if (output !== undefined) return output;
  return role.supplies.length > 1 || role.is('PowerManagement') ? (name ?? number) : undefined;
}

/** What kind of supply a chip gives at a pin: by the name of the pin where the chip makes several kinds. */
function supplyOf({ role, name = '' }: Member): SupplyKind | undefined {
  const { supplies } = role;
  if (supplies.length === 1) return supplies[0];
  const hints: readonly (readonly [RegExp, SupplyKind])[] = [
    [/LDO/iu, 'linear'],
    [/BUCK|DCDC/iu, 'buck'],
    [/BOOST|BST/iu, 'boost'],
    [/LS|LOAD|SW/iu, 'switch'],
    [/V?SYS/iu, 'charger'],
  ];
  return hints.find(([hint, supply]) => hint.test(name) && supplies.includes(supply))?.[1];
}

/** Connectors that meet another one of the device: their supplies go on. */
function matedIn({ mates }: Wiring): ReadonlySet<Role> {
  return new Set(mates.flatMap(({ ends }) => ends));
}

/**
 * Outside connectors drive their supply, and connectors on a cell's rail stand for the cell; where that rail has none, the only one
 * behind a resistor, fuse or bead does.
 */
function connectorDrivers(wiring: Wiring, passages: Passages): readonly Driver[] {
  const mated = matedIn(wiring);
  const connectorsOn = ({ members }: Conductor): readonly Role[] => [
    ...new Set(members.flatMap(({ role }) => (role.isConnector && !mated.has(role) ? [role] : []))),
  ];
  const mayBeCell = (role: Role) => !role.isOutside && !role.is('ProgrammingContact');
  return wiring.conductors.flatMap((on): Driver[] => {
    if (on.kind !== 'power' || on.net === undefined) return [];
    const drives = (role: Role, supply: SupplyKind, rail = on): Driver => {
      return { role, on: rail, output: undefined, supply, switched: false };
    };
    const outside = connectorsOn(on).filter(({ isOutside }) => isOutside);
    if (!isCellRail(on)) return outside.map((role) => drives(role, 'connector'));
    const own = connectorsOn(on).filter(mayBeCell);
    const hasCell = own.length > 0 || on.members.some(({ role }) => role.is('Battery'));
    const beyond = (hasCell ? [] : (passages.get(on.at) ?? [])).flatMap(({ to, through }) =>
      through.length === 1 && ['Resistor', 'Fuse', 'FerriteBead'].some(through[0].is)
        ? connectorsOn(wiring.conductors[to])
            .filter(mayBeCell)
            .map((role) => drives(role, 'cell', wiring.conductors[to]))
        : [],
    );
    return [
      ...outside.map((role) => drives(role, 'connector')),
      ...own.map((role) => drives(role, 'cell')),
      ...(beyond.length === 1 ? beyond : []),
    ];
  });
}

/** Whether a rail is that of the cell: by its label, or by a pin of a charger or gauge for the cell. */
function isCellRail({ kind, label, members }: Conductor): boolean {
  if (kind !== 'power') return false;
  if (label !== undefined && CELL_LABEL.test(label)) return true;
  return members.some(
    ({ role, function: pin }) => role.is('Battery') || (pin === 'battery' && !role.is('Battery')),
  );
}

/**
 * Of two components joined by a traced supply, the one nearer to its origin feeds the other. Through a connector the supply comes in
 * where something nearer to the origin is beyond it, or something as near that draws from elsewhere.
 */
function tracedDrivers({ conductors, mates }: Wiring): readonly Driver[] {
  const traced = conductors.filter(({ kind, net }) => kind === 'power' && net === undefined);
  const drawing = new Set(
    traced.flatMap(({ members: [a, b] }) =>
      a.role.rank === b.role.rank ? [] : [a.role.rank < b.role.rank ? b.role : a.role],
    ),
  );
  const beyond = new Map<number, Role[]>();
  for (const [one, other] of mates.flatMap(({ pairs }) => pairs)) {
    for (const [at, far] of [
      [one, other],
      [other, one],
    ])
      beyond.set(at, [...(beyond.get(at) ?? []), ...conductors[far].members.map(({ role }) => role)]);
  }
  const comesIn = (role: Role, at: number) =>
    (beyond.get(at) ?? []).some(
      (far) => far.rank < role.rank || (far.rank === role.rank && drawing.has(far) && !drawing.has(role)),
    );
  return conductors.flatMap((on): Driver[] => {
    if (on.kind !== 'power' || on.net !== undefined) return [];
    const [a, b] = on.members.map(({ role }) => role);
    // What only may be a source is one where the other end is none for sure.
    const [rankA, rankB] = Math.min(a.rank, b.rank) < LOAD_RANK ? [a.rank, b.rank] : [a.mayRank, b.mayRank];
    const nearer = rankA === rankB ? [] : rankA < rankB ? [a] : [b];
    const sources = nearer.filter((role) => !((role === a ? b : a).isConnector && comesIn(role, on.at)));
    const drivers = sources.flatMap((role): Driver[] => {
      const supply = tracedSupply(role, role === a ? b : a);
      return [{ role, on, output: undefined, supply, switched: isSwitched(role, supply) }];
    });
    const [cell, other] = a.is('Battery') ? [a, b] : [b, a];
    // A chip that charges the cell and makes supplies also draws from it.
    if (cell.is('Battery') && other.supplies.includes('charger') && other.supplies.length > 1)
      drivers.push({ role: cell, on, output: undefined, supply: 'cell', switched: false });
    return drivers;
  });
}

/** Whether a supply can be cut off; not known of a chip that has switches among other supplies. */
function isSwitched(role: Role, supply: SupplyKind | undefined): boolean | undefined {
  return supply === undefined && role.supplies.includes('switch') ? undefined : supply === 'switch';
}

function tracedSupply(role: Role, load: Role): SupplyKind | undefined {
  if (role.is('Battery')) return 'cell';
  if (role.isConnector || role.is('Coil')) return 'connector';
  if (load.is('Battery')) return 'charger';
  return role.supplies.length === 1 ? role.supplies[0] : undefined;
}

/**
 * The output of a regulator, switch or reference whose pins have no names: of its two rails the one that nothing else drives, else
 * the lower one of a step-down and the higher one of a step-up; and that of a charger, of whose two rails one is the cell's.
 */
function unnamedDriver(wiring: Wiring, role: Role, rails: Rails): Driver | undefined {
  if (role.supplies.length === 0 || role.is('PowerManagement')) return undefined;
  const own = (wiring.of.get(role.id) ?? []).map((at) => wiring.conductors[at]);
  const power = own.filter(({ kind, net }) => kind === 'power' && net !== undefined);
  if (power.length !== 2) return undefined;
  const isNamed = power.some(({ members }) =>
    members.some((one) => one.role === role && /output|switch-node|battery/u.test(one.function ?? '')),
  );
  if (isNamed) return undefined;
  if (role.is('Charger')) {
    const [cell, ...more] = power.filter(isCellRail);
    if (!cell || more.length > 0) return undefined;
    return { role, on: cell, output: undefined, supply: 'charger', switched: false };
  }
  const supply = role.supplies.length === 1 ? role.supplies[0] : undefined;
  const free = power.filter(({ at }) => !rails.isDriven(at));
  const [low, high] = [...power].sort((a, b) => (a.voltage ?? 0) - (b.voltage ?? 0));
  const byVoltage =
    low.voltage !== undefined && high.voltage !== undefined && low.voltage < high.voltage
      ? supply === 'boost'
        ? high
        : low
      : undefined;
  const on = free.length === 1 ? free[0] : byVoltage;
  return on && { role, on, output: undefined, supply, switched: isSwitched(role, supply) };
}

/** A connector on a rail that nothing drives: the supply comes in there. */
function lastResort(wiring: Wiring, rails: Rails): readonly Driver[] {
  const mated = matedIn(wiring);
  return wiring.conductors.flatMap((on): Driver[] => {
    if (on.kind !== 'power' || on.net === undefined || rails.isDriven(on.at)) return [];
    const connectors = on.members.filter(
      ({ role }) => role.isConnector && !mated.has(role) && !role.is('ProgrammingContact'),
    );
    return connectors.length === 1
      ? [{ role: connectors[0].role, on, output: undefined, supply: 'connector', switched: false }]
      : [];
  });
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
