import type { Random } from '../../../src/statistics/random.ts';
import type { MadePart } from './makers.ts';
import { type Pin, terminalNames } from './trade.ts';

// The circuit of a device around its chips: what each pin hangs on, with the passives, cell, contacts and actuators that
// come with it. Shares of passives and of what joins what follow the three reference boards.

export interface Placed {
  readonly id: string;
  /** What it is; of a chip, its kind. */
  readonly term: string;
  readonly part?: MadePart;
  /** Net of each connected terminal. */
  readonly pins: ReadonlyMap<string, string>;
}

export interface DrawnNet {
  readonly kind: 'ground' | 'power' | 'signal';
  readonly voltage?: number;
  readonly bus?: 'I2C' | 'SPI';
}

export interface Circuit {
  readonly placed: readonly Placed[];
  readonly nets: ReadonlyMap<string, DrawnNet>;
}

const LETTERS: Readonly<Record<string, string>> = {
  Capacitor: 'C',
  Resistor: 'R',
  Inductor: 'L',
  Crystal: 'Y',
  Emitter: 'DS',
  GreenEmitter: 'DS',
  Photodiode: 'PD',
  HapticActuator: 'M',
  Speaker: 'LS',
  ChipAntenna: 'E',
  PouchCell: 'BT',
  ChargingContact: 'J',
  FlexConnector: 'J',
  Button: 'SW',
};

/** Draws the circuit of these chips; the first one is the processor that the others' lines lead to. */
export function drawCircuit(chips: readonly MadePart[], random: Random): Circuit {
  const placed: Placed[] = [];
  const nets = new Map<string, DrawnNet>([
    ['gnd', { kind: 'ground' }],
    ['vbat', { kind: 'power', voltage: 3.7 }],
    ['vbus', { kind: 'power', voltage: 5 }],
    ['v3', { kind: 'power', voltage: 3 }],
    ['v18', { kind: 'power', voltage: 1.8 }],
    ['scl', { kind: 'signal', bus: 'I2C' }],
    ['sda', { kind: 'signal', bus: 'I2C' }],
    ...['clk', 'mosi', 'miso'].map((id): [string, DrawnNet] => [id, { kind: 'signal', bus: 'SPI' }]),
  ]);
  const counts = new Map<string, number>();
  const place = (term: string, ...ends: string[]) => {
    const letters = LETTERS[term];
    const count = (counts.get(letters) ?? 0) + 1;
    counts.set(letters, count);
    placed.push({
      id: `${letters}${count}`,
      term,
      pins: new Map(ends.map((net, at) => [String(at + 1), net])),
    });
  };
  let lines = 0;
  const line = (kind: DrawnNet['kind'] = 'signal') => {
    const id = `n${++lines}`;
    nets.set(id, { kind });
    return id;
  };
  /** Nets that wait for a free pin of the processor. */
  const toHost: string[] = [];
  const madeRails = ['v3', 'v18'];
  const rail = () => madeRails.shift() ?? line('power');
  const ownRail = new Map<number, string>();
  const railOf = (chip: number) => {
    const known = ownRail.get(chip);
    if (known !== undefined) return known;
    const made = rail();
    ownRail.set(chip, made);
    place('Capacitor', made, 'gnd');
    return made;
  };

  const lead = (pin: Pin, chip: number, seen: number): string | undefined => {
    switch (pin) {
      case 'ground':
        return 'gnd';
      case 'supply':
        return chip % 3 === 0 ? 'v18' : 'v3';
      case 'battery':
        return 'vbat';
      case 'input':
        return chip % 2 === 0 ? 'vbat' : 'v3';
      case 'usb':
        return 'vbus';
      case 'rail':
        return railOf(chip);
      case 'scl':
      case 'sda':
        return pin;
      case 'spi':
        if (seen < 3) return ['clk', 'mosi', 'miso'][seen];
        break;
      case 'switch': {
        const net = line();
        place('Inductor', net, railOf(chip));
        return net;
      }
      case 'sense': {
        const net = line();
        place('Resistor', ownRail.get(chip) ?? 'vbat', net);
        place('Resistor', net, 'gnd');
        return net;
      }
      case 'bypass': {
        const net = line('power');
        place('Capacitor', net, 'gnd');
        return net;
      }
      case 'load': {
        const net = line('power');
        place('Capacitor', net, 'gnd');
        if (random.chance(0.5)) place('FlexConnector', net, 'gnd');
        return net;
      }
      case 'lamp': {
        const net = line();
        place(random.chance(0.5) ? 'GreenEmitter' : 'Emitter', net, 'vbat');
        return net;
      }
      case 'light': {
        const net = line();
        place('Photodiode', net, 'gnd');
        return net;
      }
      case 'analogue': {
        const net = line();
        place('Resistor', net, random.chance(0.5) ? 'gnd' : 'v3');
        place('Capacitor', net, 'gnd');
        if (random.chance(0.3)) place('Photodiode', net, 'gnd');
        return net;
      }
      case 'aerial': {
        const [net, fed] = [line(), line()];
        place('Inductor', net, fed);
        place('Capacitor', fed, 'gnd');
        place('ChipAntenna', fed, 'gnd');
        return net;
      }
      case 'shaker':
      case 'speaker':
      case 'crystal': {
        // The two pins belong to one component, which is placed with the second.
        const net = line();
        if (seen % 2 === 1) {
          const other = pairs.get(`${chip}/${pin}`) as string;
          place({ shaker: 'HapticActuator', speaker: 'Speaker', crystal: 'Crystal' }[pin], other, net);
          if (pin === 'crystal') for (const end of [other, net]) place('Capacitor', end, 'gnd');
        } else pairs.set(`${chip}/${pin}`, net);
        return net;
      }
      case 'free':
        return undefined;
      case 'line':
        break;
    }
    const net = line();
    if (chip > 0) toHost.push(net);
    if (random.chance(0.15)) place('Resistor', net, 'v3');
    return net;
  };
  const pairs = new Map<string, string>();

  const hostFree: string[] = [];
  let hostPins = new Map<string, string>();
  for (const [at, part] of chips.entries()) {
    const names = terminalNames(part.package);
    const joined = new Map<string, string>();
    const seen = new Map<Pin, number>();
    for (const [index, name] of part.order.map((place) => names[place]).entries()) {
      const pin = part.kind.pins[index] ?? part.kind.rest;
      const net = lead(pin, at, seen.get(pin) ?? 0);
      seen.set(pin, (seen.get(pin) ?? 0) + 1);
      if (net !== undefined) joined.set(name, net);
      else if (at === 0) hostFree.push(name);
    }
    if (at === 0) hostPins = joined;
    placed.push({ id: `U${at + 1}`, term: part.kind.term, part, pins: joined });
    for (const supply of new Set(joined.values()))
      if (['v3', 'v18', 'vbat', 'vbus'].includes(supply) && random.chance(0.8))
        place('Capacitor', supply, 'gnd');
  }
  for (const net of toHost) {
    const pin = hostFree.shift();
    if (pin === undefined) break;
    hostPins.set(pin, net);
  }
  for (const wire of ['scl', 'sda']) place('Resistor', wire, 'v3');
  place('PouchCell', 'vbat', 'gnd');
  place('ChargingContact', 'vbus', 'gnd');
  const key = hostFree.shift();
  if (key !== undefined) {
    const net = line();
    hostPins.set(key, net);
    place('Button', net, 'gnd');
  }
  return { placed, nets };
}
