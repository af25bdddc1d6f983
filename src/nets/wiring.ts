import type { Connection, Net } from '../model/net.ts';
import { valueIn } from '../model/quantity.ts';
import { membersOf, type NetMember, type PartOf } from '../state/pins.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';
import { functionOf, type PinFunction } from './pin-function.ts';
import { LOAD_RANK, type Role, rolesOf } from './roles.ts';

// What is joined to what, in one form for nets as recorded and for connections as traced: a traced connection is a net of two
// members whose pins are not known.

/** A pin on a net, or a component whose pin is not known. */
export interface Member {
  readonly role: Role;
  /** Number, where known. */
  readonly number: string | undefined;
  readonly name: string | undefined;
  readonly function: PinFunction | undefined;
  /** Which output of a chip it is, as recorded. */
  readonly output: string | undefined;
}

/** A net, or a connection as a net of two. */
export interface Conductor {
  /** Its place among the conductors of the specimen. */
  readonly at: number;
  /** The net; undefined for a connection. */
  readonly net: Net | undefined;
  /** The connection. */
  readonly traced?: Connection;
  readonly label: string | undefined;
  readonly kind: Net['kind'];
  /** V. */
  readonly voltage: number | undefined;
  readonly bus: Net['bus'];
  /** Conductors that it stands for: several for a connection. */
  readonly lines: number;
  readonly medium: string | undefined;
  readonly members: readonly Member[];
}

/** Two connectors that meet, and what passes. */
export interface Mate {
  readonly ends: readonly [Role, Role];
  readonly medium: string;
  /** Pairs of conductors that meet. */
  readonly pairs: readonly (readonly [number, number])[];
}

/** Everything that is joined in a specimen. */
export interface Wiring {
  /** Of all components, or of those that are on what links are to follow from. */
  readonly roles: ReadonlyMap<string, Role>;
  readonly conductors: readonly Conductor[];
  /** Those from which links are to follow: all, or some beside which nothing else matters to the links that are asked for. */
  readonly here: readonly Conductor[];
  /** Conductors of each component, each once. */
  readonly of: ReadonlyMap<string, readonly number[]>;
  readonly mates: readonly Mate[];
}

/** Media that carry no current. */
const NOT_ELECTRICAL = new Set(['optical-path', 'adhesive', 'screw']);

/** Whether a medium carries current. */
export function isElectrical(medium: string): boolean {
  return !NOT_ELECTRICAL.has(medium);
}

/** Reads nets and connections of a specimen into one form. Places that are empty join nothing. Linear in pins. */
export function wiringOf(specimen: OpenedSpecimen, partOf: PartOf): Wiring {
  const roles = rolesOf(specimen);
  const nets = specimen.nets.map((net, at) =>
    conductorOf(
      net,
      at,
      membersOf(specimen, net, partOf).flatMap((pin) => memberOf(pin, net.kind, roles)),
    ),
  );
  return withConnections(nets, specimen.joined, roles);
}

/** A net as a conductor. */
export function conductorOf(net: Net, at: number, members: readonly Member[]): Conductor {
  const { kind, label, voltage, bus, medium } = net;
  return {
    at,
    net,
    label,
    kind,
    voltage: voltage && valueIn(voltage, 'V'),
    bus,
    lines: 1,
    medium,
    members,
  };
}

/** Nets and traced connections in one form. @param nets in their order */
export function withConnections(
  nets: readonly Conductor[],
  joined: readonly Connection[],
  roles: ReadonlyMap<string, Role>,
): Wiring {
  const conductors = [...nets];
  const meetings: Meeting[] = [];
  const traces: { readonly connection: Connection; readonly ends: readonly [Role, Role] }[] = [];
  for (const connection of joined) {
    if (!isElectrical(connection.medium)) continue;
    const [a, b] = connection.between.map((id) => roles.get(id));
    if (!a || !b) continue;
    if (a.isConnector && b.isConnector)
      meetings.push({ ends: [a, b], medium: connection.medium, pins: connection.pins ?? [] });
    else traces.push({ connection, ends: [a, b] });
  }

  if (traces.length === 0) {
    const of = placesOf(conductors);
    return { roles, conductors, here: conductors, of, mates: matesOf(meetings, conductors, of) };
  }
  const shown = linesShown(conductors, matesOf(meetings, conductors, placesOf(conductors)));
  for (const { connection, ends } of traces) {
    const { medium, bus, lines = 1 } = connection;
    const [a, b] = ends;
    const unshown = lines - shown(a, b, bus);
    if (unshown <= 0) continue;
    const member = (role: Role): Member => ({
      role,
      number: undefined,
      name: undefined,
      function: undefined,
      output: undefined,
    });
    conductors.push({
      at: conductors.length,
      net: undefined,
      traced: connection,
      label: undefined,
      kind: bus === 'power' ? 'power' : 'signal',
      voltage: undefined,
      bus: bus === 'power' ? undefined : bus,
      lines: unshown,
      medium,
      members: [member(a), member(b)],
    });
  }

  const of = placesOf(conductors);
  return { roles, conductors, here: conductors, of, mates: matesOf(meetings, conductors, of) };
}

/** Two connectors that meet, before it is known what passes. */
interface Meeting {
  readonly ends: readonly [Role, Role];
  readonly medium: string;
  readonly pins: readonly (readonly [string, string])[];
}

/** Conductors of each component, each once. */
function placesOf(conductors: readonly Conductor[]): ReadonlyMap<string, readonly number[]> {
  const of = new Map<string, number[]>();
  for (const { at, members } of conductors) {
    for (const { role } of members) {
      const own = of.get(role.id);
      if (!own) of.set(role.id, [at]);
      else if (own.at(-1) !== at) own.push(at);
    }
  }
  return of;
}

function matesOf(
  meetings: readonly Meeting[],
  conductors: readonly Conductor[],
  of: ReadonlyMap<string, readonly number[]>,
): readonly Mate[] {
  return meetings.map(({ ends, medium, pins }) => ({
    ends,
    medium,
    pairs: pins.length > 0 ? pairsByPin(ends, pins, of, conductors) : pairsByKind(ends, of, conductors),
  }));
}

function memberOf(pin: NetMember, kind: Net['kind'], roles: ReadonlyMap<string, Role>): readonly Member[] {
  const { component, number, name, output } = pin;
  const role = roles.get(component.id);
  if (!role) return [];
  return [{ role, number, name, output, function: kind === 'ground' ? 'ground' : functionOf(pin, role.may) }];
}

/**
 * How many lines of a traced connection the nets show by themselves: nets that both ends are on, or that hang together through
 * passives and mated connectors. A trace that nets show is not counted again.
 */
function linesShown(
  nets: readonly Conductor[],
  mates: readonly Mate[],
): (a: Role, b: Role, bus: string | undefined) => number {
  const group = nets.map(({ at }) => at);
  const rootOf = (at: number): number => {
    if (group[at] !== at) group[at] = rootOf(group[at]);
    return group[at];
  };
  const netsOf = new Map<Role, Conductor[]>();
  const nameless = new Map<Role, Set<Conductor>>();
  for (const net of nets) {
    if (net.kind === 'ground') continue;
    for (const { role, number, name } of net.members) {
      if (number === undefined && name === undefined)
        nameless.set(role, (nameless.get(role) ?? new Set()).add(net));
      const own = netsOf.get(role);
      if (!own) netsOf.set(role, [net]);
      else if (own.at(-1) !== net) own.push(net);
    }
  }
  for (const [role, [one, other, ...more]] of netsOf) {
    if (!role.isTwoEnded || !other || more.length > 0) continue;
    // From signal to supply a coil alone goes on: the one behind a switch node.
    if (one.kind === other.kind || role.is('Inductor')) group[rootOf(one.at)] = rootOf(other.at);
  }
  for (const { pairs } of mates) for (const [one, other] of pairs) group[rootOf(one)] = rootOf(other);
  return (a, b, bus) => {
    const [first, second] = [a, b].map((role) => {
      const fits = (net: Conductor) => {
        // A passive traced to a chip may sit at a supply.
        if (bus === undefined) return net.kind === 'signal' || a.isTwoEnded || b.isTwoEnded;
        if (bus !== 'power') return net.kind === 'signal' && (net.bus ?? bus) === bus;
        // Of a source whose pin is not known a net does not say that it feeds.
        return role.rank === LOAD_RANK || role.isConnector || !nameless.get(role)?.has(net);
      };
      return new Set((netsOf.get(role) ?? []).flatMap((net) => (fits(net) ? [rootOf(net.at)] : [])));
    });
    return [...first].filter((one) => second.has(one)).length;
  };
}

function pairsByPin(
  [a, b]: readonly [Role, Role],
  pins: readonly (readonly [string, string])[],
  of: ReadonlyMap<string, readonly number[]>,
  conductors: readonly Conductor[],
): readonly (readonly [number, number])[] {
  const [first, second] = [a, b].map((role) => {
    const byPin = new Map<string, number>();
    for (const at of of.get(role.id) ?? []) {
      for (const member of conductors[at].members) {
        if (member.role !== role) continue;
        if (member.name !== undefined) byPin.set(member.name, at);
        if (member.number !== undefined) byPin.set(member.number, at);
      }
    }
    return byPin;
  });
  return pins.flatMap(([one, other]) => {
    const [from, to] = [first.get(one), second.get(other)];
    return from === undefined || to === undefined ? [] : [[from, to] as const];
  });
}

/** Without pins: nets of one name meet, and traced connections of one bus. */
function pairsByKind(
  [a, b]: readonly [Role, Role],
  of: ReadonlyMap<string, readonly number[]>,
  conductors: readonly Conductor[],
): readonly (readonly [number, number])[] {
  const [first, second] = [a, b].map(({ id }) => (of.get(id) ?? []).map((at) => conductors[at]));
  return first.flatMap((one) =>
    second.flatMap((other) => {
      const sameName = one.label !== undefined && one.label === other.label;
      const traced = one.net === undefined || other.net === undefined;
      const sameBus =
        one.kind === other.kind && (one.kind === 'power' || (one.bus !== undefined && one.bus === other.bus));
      return sameName || (traced && sameBus) ? [[one.at, other.at] as const] : [];
    }),
  );
}
