import type { Role } from './roles.ts';
import type { Conductor, Member, Wiring } from './wiring.ts';

/** A component, or two mated connectors, through which one conductor goes on in another. */
export interface Passage {
  readonly from: number;
  readonly to: number;
  /** The component passed, or both mated connectors. */
  readonly through: readonly Role[];
}

/** Passages by the conductor that they leave. */
export type Passages = ReadonlyMap<number, readonly Passage[]>;

/** Resistance up to which a resistor between two rails only measures, damps or joins, Ohm (chosen). */
const SERIES_OHMS = 10;

/**
 * Where signals go on: through resistors, capacitors, inductors, beads and fuses between two signal nets, through level shifters,
 * switches, protectors, filters and buffers line by line, through a transistor with its gate on a rail, and through mated
 * connectors.
 */
export function signalPassages(wiring: Wiring): Passages {
  const { roles, conductors, of, mates } = wiring;
  const passages = new Collected();
  for (const role of roles.values()) {
    const own = (of.get(role.id) ?? []).map((at) => conductors[at]);
    if (role.isTwoEnded && !role.passesLines) {
      const ends = own.filter(({ kind }) => kind === 'signal');
      if (own.length === 2 && ends.length === 2 && !isFeedback(role, own))
        passages.join(ends[0], ends[1], role);
    } else if (role.passesLines) {
      for (const [a, b] of linePairs(role, own, wiring)) passages.join(a, b, role);
    } else if (role.is('Transistor')) {
      const lines = own.filter(({ kind }) => kind === 'signal');
      if (own.length === 3 && lines.length === 2 && own.some(({ kind }) => kind === 'power'))
        passages.join(lines[0], lines[1], role);
    }
  }
  for (const { ends, pairs } of mates) {
    for (const [a, b] of pairs) {
      if (conductors[a].kind === 'signal' && conductors[b].kind === 'signal')
        passages.join(conductors[a], conductors[b], ...ends);
    }
  }
  return passages.all;
}

/**
 * Where a supply goes on: through beads, fuses, inductors, solder bridges, slide switches and resistors of at most 10 Ohm between two rails,
 * through a diode in its direction, and through mated connectors. A transistor switches, and is a source of its own.
 * @param ohmsOf resistance of a component, Ohm, where known
 */
export function supplyPassages(
  { roles, conductors, of, mates }: Wiring,
  ohmsOf: (id: string) => number | undefined,
): Passages {
  const passages = new Collected();
  for (const role of roles.values()) {
    const [a, b, ...more] = railsAmong(of.get(role.id) ?? [], conductors);
    if (!b || more.length > 0) continue;
    if ((['FerriteBead', 'Fuse', 'Inductor', 'SolderBridge', 'SlideSwitch'] as const).some(role.is))
      passages.join(a, b, role);
    else if (role.is('Resistor') && (ohmsOf(role.id) ?? Number.POSITIVE_INFINITY) <= SERIES_OHMS)
      passages.join(a, b, role);
    else if (role.is('Diode') && !role.is('SurgeProtector')) {
      const isAnode = ({ members }: Conductor) =>
        members.some((member) => member.role === role && member.function === 'anode');
      if (isAnode(a) !== isAnode(b)) passages.lead(isAnode(a) ? a : b, isAnode(a) ? b : a, role);
    }
  }
  for (const { ends, pairs } of mates) {
    for (const [a, b] of pairs) {
      if (conductors[a].kind === 'power' && conductors[b].kind === 'power')
        passages.join(conductors[a], conductors[b], ...ends);
    }
  }
  return passages.all;
}

const NO_RAILS: readonly Conductor[] = [];

/** Rails of some conductors; most components have one at most. */
function railsAmong(places: readonly number[], conductors: readonly Conductor[]): readonly Conductor[] {
  let number = 0;
  for (const at of places) if (conductors[at].kind === 'power') number++;
  if (number < 2) return NO_RAILS;
  return places.map((at) => conductors[at]).filter(({ kind }) => kind === 'power');
}

/** Passages with more. */
export function withPassages(passages: Passages, more: readonly Passage[]): Passages {
  if (more.length === 0) return passages;
  const all = new Map(passages);
  for (const one of more) all.set(one.from, [...(all.get(one.from) ?? []), one]);
  return all;
}

class Collected {
  readonly all = new Map<number, Passage[]>();

  join(a: Conductor, b: Conductor, ...through: readonly Role[]): void {
    this.lead(a, b, ...through);
    this.lead(b, a, ...[...through].reverse());
  }

  lead({ at: from }: Conductor, { at: to }: Conductor, ...through: readonly Role[]): void {
    const passage = { from, to, through };
    const known = this.all.get(from);
    if (known) known.push(passage);
    else this.all.set(from, [passage]);
  }
}

/** A part between two pins of one chip sets its gain or pace; no signal goes on there. */
function isFeedback(role: Role, own: readonly Conductor[]): boolean {
  const [first, second] = own.map(
    ({ members }) => new Set(members.flatMap((member) => (member.role.isActive ? [member.role] : []))),
  );
  first.delete(role);
  return [...first].some((one) => second.has(one));
}

/** A pin of a many-line part: the line it belongs to, and whether it is the common end. */
const LINE_NAME = /^(?:(?<first>[A-Z/]+?)_?(?<number>\d+)(?<last>[A-Z]?)|(?<digits>\d+)(?<side>[A-Z]+))$/iu;
const COMMON = /^(?:D|COM|Z|Y|X)$/iu;
/** Pins of a shifter made for one bus: the number is the side, and the letters say which line it is. */
const BUS_LINE = /^(?<line>SDA|SCL)_?(?:\d|[A-Z])?$/iu;

/** Pairs of signal nets that are the two ends of one line of a level shifter, switch, protector or filter. */
export function linePairs(
  role: Role,
  own: readonly Conductor[],
  wiring: Pick<Wiring, 'conductors' | 'of'>,
): readonly (readonly [Conductor, Conductor])[] {
  const lines = own.flatMap((conductor) =>
    conductor.kind === 'signal'
      ? conductor.members.flatMap((member) =>
          member.role === role && member.function !== 'enable' ? [{ member, conductor }] : [],
        )
      : [],
  );
  const named = Map.groupBy(lines, ({ member: { name } }) => {
    const line = BUS_LINE.exec(name ?? '')?.groups?.line;
    if (line !== undefined) return line.toUpperCase();
    const groups = LINE_NAME.exec(name ?? '')?.groups;
    return groups && (groups.number ?? groups.digits);
  });
  const byName = [...named].flatMap(([number, ends]) => (number === undefined ? [] : endsOfLine(ends)));
  if (byName.length > 0) return byName;
  const bySign = pairsBySign(lines);
  if (bySign.length > 0) return bySign;
  const distinct = [...new Set(lines.map(({ conductor }) => conductor))];
  // Two lines of one bus, or of one traced connection: there is no other way through.
  if (distinct.length === 2 && lines.length === 2) return [[distinct[0], distinct[1]]];
  const byLabel = pairsOf(distinct, (a, b) => isSameLine(a.label, b.label));
  if (byLabel.length > 0) return byLabel;
  if (RADIO_PORTS.some(role.is)) return fromCommonPort(role, lines, distinct, wiring);
  return pairsOf(distinct, (a, b) => facesAcross(role, lines, a, b));
}

interface LineEnd {
  readonly member: Member;
  readonly conductor: Conductor;
}

function endsOfLine(ends: readonly LineEnd[]): readonly (readonly [Conductor, Conductor])[] {
  const distinct = [...new Set(ends.map(({ conductor }) => conductor))];
  if (distinct.length === 2) return [[distinct[0], distinct[1]]];
  if (distinct.length < 2) return [];
  const common = ends.filter(({ member: { name } }) =>
    COMMON.test(LINE_NAME.exec(name ?? '')?.groups?.first ?? ''),
  );
  if (common.length !== 1) return [];
  return distinct
    .filter((one) => one !== common[0].conductor)
    .map((one) => [common[0].conductor, one] as const);
}

/** A pin of a switch for pairs of lines: the one without a channel is common to the others of its sign, as D+ is to 1D+ and 2D+. */
const SIGNED = /^(?<before>\d?)(?<word>[A-Z]+)(?<behind>\d?)(?<sign>[+-])$/iu;

function pairsBySign(lines: readonly LineEnd[]): readonly (readonly [Conductor, Conductor])[] {
  const signed = lines.flatMap(({ member: { name }, conductor }) => {
    const groups = SIGNED.exec(name ?? '')?.groups;
    return groups ? [{ sign: groups.sign, isCommon: groups.before + groups.behind === '', conductor }] : [];
  });
  return [...Map.groupBy(signed, ({ sign }) => sign).values()].flatMap((ends) => {
    const common = ends.filter(({ isCommon }) => isCommon);
    if (common.length !== 1) return [];
    return ends
      .filter(({ conductor }) => conductor !== common[0].conductor)
      .map(({ conductor }) => [common[0].conductor, conductor] as const);
  });
}

/** Pairs that belong together in one way only. */
function pairsOf(
  conductors: readonly Conductor[],
  together: (a: Conductor, b: Conductor) => boolean,
): readonly (readonly [Conductor, Conductor])[] {
  const partners = conductors.map((one) =>
    conductors.filter((other) => other !== one && together(one, other)),
  );
  return conductors.flatMap((one, i) => {
    const [partner, ...more] = partners[i];
    const back = partner && partners[conductors.indexOf(partner)];
    return partner && more.length === 0 && back?.length === 1 && one.at < partner.at
      ? [[one, partner] as const]
      : [];
  });
}

/** Whether two labels name one line before and behind a part: one is the other with something put before or behind it. */
function isSameLine(a: string | undefined, b: string | undefined): boolean {
  if (a === undefined || b === undefined) return false;
  const [short, long] = (a.length < b.length ? [a, b] : [b, a]).map((one) =>
    one.toUpperCase().replace(/^.*\//u, ''),
  );
  if (short.length < 2) return false;
  return long.endsWith(`_${short}`) || long.startsWith(`${short}_`) || long === short;
}

/** Parts of an antenna's line with more than two ports. */
export const RADIO_PORTS = ['Balun', 'Filter'] as const;
/** Names of the port that the others lead to: the single-ended one of a balun, the one at the antenna of a diplexer. */
const COMMON_PORT =
  /^(?:UN_?BAL(?:ANCED)?|UB|SE|SINGLE|COM(?:MON)?|ANT(?:ENNA)?)(?:_?(?:PORT|IN|OUT|IO))?\d?$/iu;
/** Parts between such a port and the antenna or chip that it leads to, at most: a matching network has no more in series. */
const MOST_MATCHING = 4;

/**
 * Ports of a balun, diplexer or filter with three ports or more: the common one with each of the others. The common port is the one
 * called so; else, where all ports but one lead to one chip, as the two of a balanced radio do, that one; else the only one that
 * leads to an antenna.
 */
function fromCommonPort(
  role: Role,
  lines: readonly LineEnd[],
  ports: readonly Conductor[],
  wiring: Pick<Wiring, 'conductors' | 'of'>,
): readonly (readonly [Conductor, Conductor])[] {
  if (ports.length < 3) return [];
  const only = (found: readonly Conductor[]) => (new Set(found).size === 1 ? found[0] : undefined);
  const met = new Map(ports.map((port) => [port, metFrom(port, role, wiring)]));
  const byChip = () => {
    const chips = new Set(
      [...met.values()].flatMap((roles) => [...roles]).filter((one) => one.is('Radio') || one.isProcessor),
    );
    return only(
      [...chips].flatMap((chip) => {
        const off = ports.filter((port) => !met.get(port)?.has(chip));
        return off.length === 1 ? off : [];
      }),
    );
  };
  const isAtAntenna = (port: Conductor) =>
    [...(met.get(port) ?? [])].some((one) => one.is('Antenna') || one.is('CoaxialConnector'));
  const common =
    only(
      lines.flatMap(({ member, conductor }) => (COMMON_PORT.test(member.name ?? '') ? [conductor] : [])),
    ) ??
    byChip() ??
    only(ports.filter(isAtAntenna));
  return common ? ports.flatMap((port) => (port === common ? [] : [[common, port] as const])) : [];
}

/** What a port leads to directly or through a matching network. */
function metFrom(
  port: Conductor,
  role: Role,
  { conductors, of }: Pick<Wiring, 'conductors' | 'of'>,
): ReadonlySet<Role> {
  const met = new Set<Role>();
  const passed = new Set([role]);
  let nets = [port];
  for (let depth = 0; depth <= MOST_MATCHING && nets.length > 0; depth++) {
    const next: Conductor[] = [];
    for (const net of nets)
      for (const { role: one } of net.members) {
        if (passed.has(one)) continue;
        met.add(one);
        if (!one.isTwoEnded) continue;
        passed.add(one);
        for (const at of of.get(one.id) ?? [])
          if (conductors[at].kind === 'signal' && conductors[at] !== net) next.push(conductors[at]);
      }
    nets = next;
  }
  return met;
}

/** In a package of six terminals the ends of a protected line lie opposite each other: 1 and 6, 3 and 4 (common practice). */
function facesAcross(role: Role, lines: readonly LineEnd[], a: Conductor, b: Conductor): boolean {
  if (!role.is('SurgeProtector')) return false;
  const numbers = [a, b].map((one) => lines.find(({ conductor }) => conductor === one)?.member.number);
  return ['1 6', '6 1', '3 4', '4 3'].includes(numbers.join(' '));
}
