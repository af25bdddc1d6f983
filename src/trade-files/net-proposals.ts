import { z } from 'zod';
import { resistanceIn } from '../model/component-value.ts';
import { classOf, parseDesignator } from '../model/designator.ts';
import { BUSES, type NET_KINDS } from '../model/net.ts';
import { readYamlFile } from '../text/yaml-file.ts';
import type { DesignComponent, DesignNet, DesignPin } from './board-design.ts';

// What a net probably is, by documented rules on its label and pins: schema/trade-file-nets.yaml. Reported as proposals.

const patterns = z.array(z.string()).min(1);
const fileSchema = z.strictObject({
  automatic: patterns,
  notSupplies: patterns,
  ground: patterns,
  power: patterns,
  voltages: patterns,
  nominal: z.record(z.string(), z.number()),
  buses: z.partialRecord(z.enum(BUSES), patterns),
});

const file = fileSchema.parse(readYamlFile(new URL('../../schema/trade-file-nets.yaml', import.meta.url)));
const whole = (list: readonly string[]) => new RegExp(`^(?:${list.join('|')})$`, 'iu');
const AUTOMATIC = whole(file.automatic);
const NOT_SUPPLIES = whole(file.notSupplies);
const GROUND = whole(file.ground);
const POWER = whole(file.power);
const VOLTAGES = file.voltages.map((pattern) => new RegExp(pattern, 'iu'));
const BUS_RULES = Object.entries(file.buses).map(([bus, list]) => [bus as Bus, whole(list)] as const);

type Bus = (typeof BUSES)[number];
type NetKind = (typeof NET_KINDS)[number];

/** Labels are short; longer ones are not looked at. */
const MAX_LABEL = 100;

/** What a net probably is, and why. */
export interface NetProposal {
  readonly kind: NetKind;
  /** V */
  readonly voltage?: number;
  readonly bus?: Bus;
  /** What said so. */
  readonly because: 'the file' | 'label' | 'pins' | 'a part in series' | 'nothing else';
}

/** Label of a net without the path of its sheet; undefined where a tool made it up or there is none. */
export function meaningfulLabel({ label }: Pick<DesignNet, 'label'>): string | undefined {
  const own = label?.replace(/^.*\/(?=[^/]+$)/u, '').trim();
  return own === undefined ||
    own === '' ||
    own.length > MAX_LABEL ||
    AUTOMATIC.test(own) ||
    AUTOMATIC.test(label ?? '')
    ? undefined
    : own;
}

/**
 * What the nets of a board are: each by itself, see {@link proposeNet}; then one that nothing told of is a supply where a fuse, a
 * ferrite bead or a resistor of 0 Ohm joins it to one.
 * @returns by key
 */
export function proposeNets(board: {
  readonly nets: readonly DesignNet[];
  readonly components: readonly DesignComponent[];
}): ReadonlyMap<string, NetProposal> {
  const pins = Map.groupBy(
    board.components.flatMap((one) => one.pins),
    ({ net }) => net,
  );
  const proposals = new Map(board.nets.map((net) => [net.key, proposeNet(net, pins.get(net.key) ?? [])]));
  const joined = board.components.flatMap((one): (readonly [string, string])[] => {
    const [a, b, ...more] = new Set(one.pins.flatMap(({ net }) => net ?? []));
    return a !== undefined && b !== undefined && more.length === 0 && joinsSupplies(one)
      ? [
          [a, b],
          [b, a],
        ]
      : [];
  });
  const supplies = [...proposals].flatMap(([key, { kind }]) => (kind === 'power' ? [key] : []));
  for (const from of supplies) {
    for (const [, to] of joined.filter(([end]) => end === from)) {
      if (proposals.get(to)?.because !== 'nothing else') continue;
      const { voltage } = proposals.get(from) as NetProposal;
      proposals.set(to, {
        kind: 'power',
        ...(voltage === undefined ? {} : { voltage }),
        because: 'a part in series',
      });
      supplies.push(to);
    }
  }
  return proposals;
}

/** Whether a part of two nets passes a supply whole. */
function joinsSupplies({ designator, value }: DesignComponent): boolean {
  const meaning = classOf(parseDesignator(designator)?.letters ?? '')?.meaning;
  if (meaning === 'fuse' || meaning === 'ferrite bead') return true;
  return meaning === 'resistor' && resistanceIn(value) === 0;
}

/** What a net is, by what the file says, its label, else its pins; a signal where nothing tells. */
export function proposeNet(net: DesignNet, pins: readonly DesignPin[]): NetProposal {
  const label = meaningfulLabel(net);
  const byLabel = label === undefined ? undefined : kindOfLabel(label);
  const byPins = kindOfPins(pins);
  const kind = net.kind ?? byLabel ?? byPins ?? 'signal';
  const voltage = kind === 'power' && label !== undefined ? voltageOf(label) : undefined;
  const labelled = kind === 'signal' ? busOf(label) : undefined;
  const bus = labelled ?? (kind === 'signal' ? busOfPins(pins) : undefined);
  const because = net.kind
    ? 'the file'
    : byLabel || voltage !== undefined || labelled
      ? 'label'
      : byPins || bus
        ? 'pins'
        : 'nothing else';
  return { kind, ...(voltage === undefined ? {} : { voltage }), ...(bus ? { bus } : {}), because };
}

function kindOfLabel(label: string): NetKind | undefined {
  if (GROUND.test(label)) return 'ground';
  return POWER.test(label) && !NOT_SUPPLIES.test(label) ? 'power' : undefined;
}

/**
 * A net with two pins or more that are called ground is ground, whatever else is tied to it; one with two supply pins or more,
 * and nothing that drives a line, a supply.
 */
function kindOfPins(pins: readonly DesignPin[]): NetKind | undefined {
  const names = pins.flatMap(({ name }) => name ?? []);
  if (names.filter((name) => GROUND.test(name)).length >= 2) return 'ground';
  const supplies = pins.filter(
    ({ direction }) => direction === 'power-input' || direction === 'power-output',
  ).length;
  const lines = pins.some(
    ({ direction }) => direction === 'input' || direction === 'output' || direction === 'bidirectional',
  );
  if (supplies >= 2 && !lines && !names.some((name) => GROUND.test(name))) return 'power';
  return undefined;
}

/** Volts that a label of a supply names: 3.3 of `+3V3`. */
export function voltageOf(label: string): number | undefined {
  const nominal = file.nominal[label.toUpperCase()];
  if (nominal !== undefined) return nominal;
  for (const pattern of VOLTAGES) {
    const found = pattern.exec(label);
    if (found) return Number(`${found[1]}.${found[2] ?? 0}`);
  }
  return undefined;
}

function busOf(label: string | undefined): Bus | undefined {
  return label === undefined ? undefined : BUS_RULES.find(([, rule]) => rule.test(label))?.[0];
}

/** The bus that at least two pins of a net name, where none names another. */
function busOfPins(pins: readonly DesignPin[]): Bus | undefined {
  const named = pins.flatMap(({ name }) => {
    const buses = (name?.match(/[^/]+/gu) ?? []).flatMap((part) => busOf(part) ?? []);
    return buses.length > 0 ? [buses] : [];
  });
  if (named.length < 2) return undefined;
  return named[0]?.find((bus) => named.every((buses) => buses.includes(bus)));
}
