import type { Passages } from './passing.ts';
import { LOAD_RANK, type Role, type SupplyKind } from './roles.ts';
import { isTiedOn } from './switches.ts';
import type { Conductor, Member, Wiring } from './wiring.ts';

// Sources of supplies: what drives which rail.

/** A source on a rail. */
export interface Driver {
  readonly role: Role;
  readonly on: Conductor;
  readonly output: string | undefined;
  readonly supply: SupplyKind | undefined;
  readonly switched: boolean | undefined;
}

const CELL_LABEL = /(?:^|[_/+])V?_?(?:BATT?(?:ERY)?|CELL|LIPO|LIION)(?:$|[_+\d/-])/iu;

/** Drivers by what their pins are for. */
export function namedDrivers(wiring: Wiring): readonly Driver[] {
  return wiring.here.flatMap((on): Driver[] => {
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
export function matedIn({ mates }: Wiring): ReadonlySet<Role> {
  return new Set(mates.flatMap(({ ends }) => ends));
}

/**
 * Outside connectors drive their supply, and connectors on a cell's rail stand for the cell; where that rail has none, the only one
 * behind a resistor, fuse or bead does.
 */
export function connectorDrivers(wiring: Wiring, passages: Passages): readonly Driver[] {
  const mated = matedIn(wiring);
  const connectorsOn = ({ members }: Conductor): readonly Role[] => [
    ...new Set(members.flatMap(({ role }) => (role.isConnector && !mated.has(role) ? [role] : []))),
  ];
  const mayBeCell = (role: Role) => !role.isOutside && !role.is('ProgrammingContact');
  return wiring.here.flatMap((on): Driver[] => {
    if (on.kind !== 'power' || on.net === undefined) return [];
    const drives = (role: Role, supply: SupplyKind, rail = on): Driver => {
      return { role, on: rail, output: undefined, supply, switched: false };
    };
    const outside = connectorsOn(on).filter(({ isOutside }) => isOutside);
    if (!isCellRail(on)) return outside.map((role) => drives(role, 'connector'));
    const own = connectorsOn(on).filter(mayBeCell);
    const hasCell = own.length > 0 || on.members.some(({ role }) => role.is('Battery'));
    const beyond = (hasCell ? [] : (passages.get(on.at) ?? [])).flatMap(({ to, through }) =>
      through.length === 1 && (['Resistor', 'Fuse', 'FerriteBead'] as const).some(through[0].is)
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
export function isCellRail({ kind, label, members }: Conductor): boolean {
  if (kind !== 'power') return false;
  if (label !== undefined && CELL_LABEL.test(label)) return true;
  return members.some(({ role, function: pin }) => role.is('Battery') || pin === 'battery');
}

/**
 * Of two components joined by a traced supply, the one nearer to its origin feeds the other. Through a connector the supply comes in
 * where something nearer to the origin is beyond it, or something as near that draws from elsewhere.
 */
export function tracedDrivers({ conductors, here, mates }: Wiring): readonly Driver[] {
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
      if (conductors[at].kind === 'power' && conductors[at].net === undefined)
        beyond.set(at, [...(beyond.get(at) ?? []), ...conductors[far].members.map(({ role }) => role)]);
  }
  const comesIn = (role: Role, at: number) =>
    (beyond.get(at) ?? []).some(
      (far) => far.rank < role.rank || (far.rank === role.rank && drawing.has(far) && !drawing.has(role)),
    );
  return here.flatMap((on): Driver[] => {
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
export function unnamedDriver(
  wiring: Wiring,
  role: Role,
  isDriven: (at: number) => boolean,
): Driver | undefined {
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
  const free = power.filter(({ at }) => !isDriven(at));
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
export function lastResort(wiring: Wiring, isDriven: (at: number) => boolean): readonly Driver[] {
  const mated = matedIn(wiring);
  return wiring.here.flatMap((on): Driver[] => {
    if (on.kind !== 'power' || on.net === undefined || isDriven(on.at)) return [];
    const connectors = on.members.filter(
      ({ role }) => role.isConnector && !mated.has(role) && !role.is('ProgrammingContact'),
    );
    return connectors.length === 1
      ? [{ role: connectors[0].role, on, output: undefined, supply: 'connector', switched: false }]
      : [];
  });
}
