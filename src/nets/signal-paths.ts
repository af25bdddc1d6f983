import type { Net } from '../model/net.ts';
import { type Passage, type Passages, signalPassages } from './passing.ts';
import type { Role } from './roles.ts';
import type { Conductor, Wiring } from './wiring.ts';

type Bus = NonNullable<Net['bus']>;

/** Signals go from one component to another, without direction. */
export interface SignalPath {
  readonly ends: readonly [string, string];
  readonly bus: Bus | undefined;
  readonly lines: number;
  /** What its lines pass, by id, each once: first that of the line that passes fewest. */
  readonly through: readonly string[];
  /** The same line by line, the one that passes fewest first; a line that passes nothing has an empty list. */
  readonly ways: readonly Way[];
  /** Whether it goes from board to board, by the line that passes fewest. */
  readonly crosses: boolean;
}

/** The shortest way of a line of a path, or of several lines that were traced as one. */
export interface Way {
  readonly lines: number;
  readonly through: readonly string[];
}

/** Two components on the same lines of a bus. */
export interface SharedBus {
  readonly ends: readonly [string, string];
  readonly bus: Bus;
  readonly lines: number;
}

/** Buses on whose lines several devices sit side by side. */
const SHARED: ReadonlySet<Bus> = new Set(['I2C', 'I3C', 'SPI', 'QSPI', 'SDIO', 'I2S']);
/** More chips than this on one line are joined with what controls them alone, so that edges stay linear in pins. */
const MOST_PAIRED = 24;
/** Chips on a line that is no bus and has no processor, up to which each is joined with each. */
const MOST_UNLED = 4;
/** Pins that give a clock to others. */
const CLOCK_OUTPUT = /^(?:.*_)?(?:CLK_?OUT|F_?OUT|32K(?:HZ)?_?OUT)\d?$/iu;
/** Pins of what is led. */
const IS_LED = /SLAVE|TARGET|PERIPH/iu;
/** Kinds that a processor reads or sets, even where one of them has a processor inside. */
export const LED_THEMSELVES = [
  'AnalogueFrontEnd',
  'Sensor',
  'FuelGauge',
  'InterfaceBridge',
  'SecureElement',
  'EmitterDriver',
  'HapticDriver',
  'DisplayDriver',
] as const;
/** Parts of a line of radio waves. */
export const RADIO_PARTS = ['Antenna', 'Coil', 'Balun', 'RadioFrontEnd'] as const;
/** Parts that a signal passes at most. */
const MOST_PASSED = 6;

const BUS_OF_NAME: readonly (readonly [RegExp, Bus])[] = [
  [/(?:^|_)S(?:DA|CL)\d?$/iu, 'I2C'],
  [/(?:^|_)(?:MOSI|MISO)\d?$/iu, 'SPI'],
  [/^(?:.*_)?(?:TXD?|RXD?)$/iu, 'UART'],
  [/^SW(?:DIO|D?CLK)/iu, 'SWD'],
  [/^T(?:DI|DO|MS|CK)$/iu, 'JTAG'],
  [/^(?:USB_?)?D(?:[+-]|[PMN]\d?)$/iu, 'USB'],
];

/** An end of a line: a component, where it sits on it. */
interface End {
  readonly role: Role;
  readonly at: readonly number[];
  /** Whether its pin says that others lead there. */
  readonly isLed: boolean;
  /** Whether it gives the clock that the line is. */
  readonly givesClock: boolean;
}

/**
 * Signal paths and shared buses. Conductors between which signals pass are one line; on a line that several chips share, a path goes
 * between a processor that leads and each other, not from device to device.
 */
export function signalPathsOf(wiring: Wiring): {
  readonly paths: readonly SignalPath[];
  readonly buses: readonly SharedBus[];
} {
  const passages = signalPassages(wiring);
  const paths = new Map<string, SignalPath>();
  const buses = new Map<string, SharedBus>();
  const lines = linesOf(wiring, passages).flatMap((line) => {
    const ends = endsOf(line);
    return ends.length < 2 ? [] : [{ line, ends }];
  });
  const fourfold = fourLinesOf(lines);
  for (const { line, ends } of lines) {
    const { leaders, pairs } = pairsOf(ends, line);
    const joined = new Set(
      pairs.flatMap(([start, others]) => others.map((other) => pairKey(start.role, other.role))),
    );
    for (const [start, others] of pairs) {
      const reached = start.at.map((at) => reach(at, passages));
      for (const other of others) {
        const passed = addPaths(paths, wiring, start, other, reached, fourfold);
        // What a line goes through is joined with what lies behind it, as with what leads.
        for (const role of passed) {
          const passer = ends.find((end) => end.role === role && role.isActive && role.passesLines);
          const key = pairKey(role, other.role);
          if (!passer || other.role.isConnector || joined.has(key)) continue;
          joined.add(key);
          const onward = passer.at.map((at) => reach(at, passages));
          addPaths(paths, wiring, passer, other, onward, fourfold);
        }
      }
    }
    addBuses(buses, ends, leaders, line);
  }
  return { paths: [...paths.values()], buses: [...buses.values()] };
}

/** Conductors between which signals pass, together; rails and ground are none. */
function linesOf({ conductors, here }: Wiring, passages: Passages): readonly (readonly Conductor[])[] {
  const seen = new Set<number>();
  return here.flatMap((first) => {
    if (first.kind !== 'signal' || seen.has(first.at)) return [];
    const line = [first];
    seen.add(first.at);
    for (const one of line) {
      for (const { to } of passages.get(one.at) ?? []) {
        if (seen.has(to)) continue;
        seen.add(to);
        line.push(conductors[to]);
      }
    }
    return [line];
  });
}

function endsOf(line: readonly Conductor[]): readonly End[] {
  const ends = new Map<Role, { at: Set<number>; isLed: boolean; givesClock: boolean }>();
  for (const { at, members } of line) {
    for (const { role, name = '' } of members) {
      if (!role.isActive && !role.isConnector && !role.is('SurgeProtector')) continue;
      const end = ends.get(role) ?? { at: new Set<number>(), isLed: false, givesClock: false };
      end.at.add(at);
      end.isLed ||= IS_LED.test(name);
      end.givesClock ||= !role.isProcessor && (role.is('FrequencyReference') || CLOCK_OUTPUT.test(name));
      ends.set(role, end);
    }
  }
  return [...ends].map(([role, { at, ...rest }]) => ({ role, at: [...at], ...rest }));
}

/** Who leads a line, and which ends are joined by a path, each start with its others. */
function pairsOf(
  ends: readonly End[],
  line: readonly Conductor[],
): { readonly leaders: readonly End[]; readonly pairs: readonly (readonly [End, readonly End[]])[] } {
  const leaders = leadersOf(ends);
  const connectors = ends.filter(({ role }) => role.isConnector);
  const chips = ends.filter(({ role }) => role.isActive && !role.passesLines);
  const isBus = SHARED.has(busOf(line) ?? 'GPIO');
  const references = ends.filter(({ givesClock }) => givesClock);
  // A clock goes from what gives it to each that takes it; those say nothing to each other.
  if (references.length > 0 && !isBus) {
    const takers = ends.filter((end) => !references.includes(end) && !isProtector(end));
    return { leaders: [], pairs: references.map((one) => [one, takers] as const) };
  }
  const pairs: (readonly [End, readonly End[]])[] = leaders.map((leader, i) => [
    leader,
    ends.filter((one) => one.role.isActive && !leaders.slice(0, i + 1).includes(one)),
  ]);
  if (leaders.length === 0 && chips.length <= (isBus ? 2 : MOST_UNLED))
    pairs.push(...chips.map((chip, i) => [chip, chips.slice(i + 1)] as const));
  const actives = ends.filter(({ role }) => role.isActive);
  pairs.push(
    ...connectors.map((one, i) => [one, chips.length > 0 ? actives : connectors.slice(i + 1)] as const),
  );
  const protectors = ends.filter(isProtector);
  pairs.push(...connectors.filter(({ role }) => role.isOutside).map((one) => [one, protectors] as const));
  return { leaders, pairs };
}

/** Protectors hang on a line and are no end of it, except for what people touch. */
const isProtector = ({ role }: End) => role.is('SurgeProtector') && !role.isActive;

/**
 * Processors that lead a line: of several not those whose pins say that they are led, not a sensor hub beside a main processor, and
 * not a front end, a touch controller or a gauge with a processor inside beside a plain one.
 */
function leadersOf(ends: readonly End[]): readonly End[] {
  const processors = ends.filter(({ role }) => role.isProcessor);
  const without = (those: readonly End[], isLesser: (end: End) => boolean) => {
    const left = those.filter((one) => !isLesser(one));
    return left.length > 0 ? left : those;
  };
  const chips = ends.filter(({ role }) => role.isActive && !role.passesLines);
  // Two processors on a line speak to each other, and nobody else listens.
  if (chips.length <= 2) return processors;
  return [
    ({ isLed }: End) => isLed,
    ({ role }: End) => role.is('SensorHub'),
    ({ role }: End) => LED_THEMSELVES.some(role.is),
  ].reduce(without, processors);
}

/** Conductors that a signal reaches from one, with what it passes; it passes no part twice. */
function reach(from: number, passages: Passages): ReadonlyMap<number, readonly Passage[]> {
  const reached = new Map<number, readonly Passage[]>([[from, []]]);
  for (const [at, passed] of reached) {
    if (passed.length >= MOST_PASSED) continue;
    for (const passage of passages.get(at) ?? []) {
      const isAgain = passed.some((one) => one.through.some((role) => passage.through.includes(role)));
      if (!isAgain && !reached.has(passage.to)) reached.set(passage.to, [...passed, passage]);
    }
  }
  return reached;
}

/**
 * The shortest way between two ends of a line, for each bus that its ways carry: a switch may bring one contact to the USB pins of
 * a processor or to its debug pins.
 */
function addPaths(
  paths: Map<string, SignalPath>,
  { conductors }: Wiring,
  start: End,
  other: End,
  reached: readonly ReadonlyMap<number, readonly Passage[]>[],
  fourfold: ReadonlyMap<string, Bus>,
): readonly Role[] {
  if (start.role === other.role) return [];
  const four = fourfold.get(pairKey(start.role, other.role));
  const ways = reached.flatMap((from) =>
    other.at.flatMap((at) => {
      const passed = from.get(at);
      // A way through one of its own ends says nothing.
      if (
        !passed ||
        passed.some(({ through }) => through.includes(start.role) || through.includes(other.role))
      )
        return [];
      const along = [...passed.map(({ from: before }) => before), at].map((one) => conductors[one]);
      return [{ passed, along, bus: (four && recordedBus(along)) ?? four ?? busAtEnds(along, start, other) }];
    }),
  );
  const isKnown = ways.some(({ bus }) => bus !== undefined);
  const shortest = new Map<Bus | undefined, (typeof ways)[number]>();
  for (const way of ways) {
    if (isKnown && way.bus === undefined) continue;
    const before = shortest.get(way.bus);
    if (!before || way.passed.length < before.passed.length) shortest.set(way.bus, way);
  }
  const [a, b] = [start.role.id, other.role.id].sort();
  for (const [bus, { passed, along }] of shortest) {
    const key = `${a} ${b} ${bus ?? ''}`;
    const before = paths.get(key);
    const lines = Math.max(...along.map((one) => one.lines));
    const way = { lines, through: passed.flatMap((one) => one.through.map(({ id }) => id)) };
    const isShorter = !before || way.through.length < before.ways[0].through.length;
    const ways = isShorter ? [way, ...(before?.ways ?? [])] : [...before.ways, way];
    paths.set(key, {
      ends: [a, b],
      bus,
      lines: (before?.lines ?? 0) + lines,
      through: [...new Set(ways.flatMap(({ through }) => through))],
      ways,
      crosses: isShorter ? passed.some((one) => one.through.length > 1) : before.crosses,
    });
  }
  return [...shortest.values()].flatMap(({ passed }) => passed.flatMap((one) => one.through));
}

/** Bus of a way from start to other: as at the processor where one end is one, since that decides what a shared contact carries. */
function busAtEnds(along: readonly Conductor[], start: End, other: End): Bus | undefined {
  const fromStart = start.role.isProcessor && !other.role.isProcessor;
  const ordered = fromStart ? along : [...along].reverse();
  // Names of pins tell a bus where both ends may take part in one.
  return start.role.speaks && other.role.speaks ? busOf(ordered) : recordedBus(ordered);
}

const pairKey = (a: Role, b: Role) => [a.id, b.id].sort().join(' ');

/** A data line of a memory by the name of a pin or net: IO0, SIO2, DQ3, DAT1, QSPI_D2. */
const DATA_LINE = /(?:^|_)(?<kind>DAT|S?IO|DQ|D)_?(?<number>\d)$/iu;

/**
 * Memories and what they are joined to by four data lines, no fewer and no more: QSPI, or SDIO where they are called as those of a
 * card are.
 * @returns the bus, by the pair
 */
function fourLinesOf(
  lines: readonly { readonly line: readonly Conductor[]; readonly ends: readonly End[] }[],
): ReadonlyMap<string, Bus> {
  const found = new Map<string, Map<string, Bus>>();
  for (const { line, ends } of lines) {
    const memories = ends.filter(({ role }) => role.is('Memory'));
    if (memories.length === 0) continue;
    const names = line.flatMap(({ label, members }) => [label, ...members.map(({ name }) => name)]);
    const parts = names.flatMap((name) => name?.split(/[/()]/u) ?? []);
    const data = parts.map((part) => DATA_LINE.exec(part)?.groups).find((groups) => groups !== undefined);
    if (!data) continue;
    for (const { role } of memories) {
      for (const other of ends) {
        if (other.role === role) continue;
        const key = pairKey(role, other.role);
        const numbers = found.get(key) ?? new Map<string, Bus>();
        found.set(key, numbers.set(data.number, data.kind.toUpperCase() === 'DAT' ? 'SDIO' : 'QSPI'));
      }
    }
  }
  return new Map(
    [...found].flatMap(([key, numbers]) =>
      numbers.size === 4 && ['0', '1', '2', '3'].every((one) => numbers.has(one))
        ? [[key, numbers.get('0') ?? 'QSPI'] as const]
        : [],
    ),
  );
}

function recordedBus(conductors: readonly Conductor[]): Bus | undefined {
  return conductors.find(({ bus }) => bus !== undefined)?.bus;
}

/** All that the name of a pin at the end of a line says: two names that say the same are alike. */
export function saidByName(name: string | undefined, isBusKnown: boolean): string {
  if (name === undefined) return '';
  const bus = isBusKnown ? undefined : busOfName(name);
  const data = name.split(/[/()]/u).map((part) => DATA_LINE.exec(part)?.slice(1).join(''));
  return JSON.stringify([
    bus,
    data.find((one) => one !== undefined),
    IS_LED.test(name),
    CLOCK_OUTPUT.test(name),
  ]);
}

function busOfName(name: string): Bus | undefined {
  return BUS_OF_NAME.find(([names]) => names.test(name.replace(/@\d*$/u, '')))?.[1];
}

/**
 * Bus of some conductors: as recorded, else by the names of their pins. At an antenna, a coil or what lies between them and a radio, a
 * pin called RX or TX receives or sends waves.
 */
export function busOf(conductors: readonly Conductor[]): Bus | undefined {
  const recorded = recordedBus(conductors);
  if (recorded !== undefined) return recorded;
  if (conductors.some(({ members }) => members.some(({ role }) => RADIO_PARTS.some(role.is))))
    return undefined;
  for (const { members } of conductors) {
    for (const { name } of members) {
      if (name === undefined) continue;
      const found = busOfName(name);
      if (found) return found;
    }
  }
  return undefined;
}

function addBuses(
  buses: Map<string, SharedBus>,
  ends: readonly End[],
  leaders: readonly End[],
  line: readonly Conductor[],
): void {
  const bus = busOf(line);
  if (bus === undefined || !SHARED.has(bus)) return;
  const chips = ends.filter(({ role }) => role.isActive && !role.passesLines);
  const lines = Math.max(...line.map((one) => one.lines));
  const from = chips.length > MOST_PAIRED ? leaders : chips;
  for (const [i, one] of from.entries()) {
    for (const other of chips.length > MOST_PAIRED ? chips : chips.slice(i + 1)) {
      if (one === other) continue;
      const [a, b] = [one.role.id, other.role.id].sort();
      const key = `${a} ${b} ${bus}`;
      buses.set(key, { ends: [a, b], bus, lines: (buses.get(key)?.lines ?? 0) + lines });
    }
  }
}
