import type { z } from 'zod';
import type { dossierSchema } from '../../src/model/dossier.ts';
import type { Random } from '../../src/statistics/random.ts';

// Small random boards with nets, on which some components are doubtful: each is one of two or three rivals or none of them. Everything
// is invented.

type Written = Omit<z.input<typeof dossierSchema>, 'caseback' | 'teardown'>;

export interface Rival {
  readonly candidate: { readonly part?: string; readonly category?: string };
  readonly probability: number;
}

/** A board, and its doubtful components by id. */
export interface DoubtfulBoard {
  readonly board: Written;
  readonly doubts: ReadonlyMap<string, readonly Rival[]>;
}

const ON_SIGNALS = [
  'Accelerometer',
  'Microcontroller',
  'SensorHub',
  'FlashMemory',
  'Amplifier',
  'Resistor',
  'Capacitor',
  'LevelShifter',
  'AnalogueSwitch',
  'SurgeProtector',
  'Transistor',
  'FlexConnector',
  'ChargingContact',
  'Crystal',
  'Button',
  'TestPad',
  'Balun',
  'Antenna',
  'BluetoothRadio',
] as const;
const ON_RAILS = [
  'PouchCell',
  'LinearRegulator',
  'BuckConverter',
  'BoostConverter',
  'Charger',
  'LoadSwitch',
  'PowerManagement',
  'FerriteBead',
  'Inductor',
  'Resistor',
  'Fuse',
  'Diode',
  'Transistor',
  'FlexConnector',
  'ChargingContact',
  'FuelGauge',
  'Microcontroller',
  'Accelerometer',
  'Capacitor',
  'SurgeProtector',
  'VoltageReference',
] as const;
const NAMES = [
  'VIN',
  'VOUT',
  'VDD',
  'SDA',
  'SCL',
  'EN',
  'A1',
  'B1',
  'A',
  'K',
  'G',
  'SW',
  'BAT',
  'OUT',
  'TX',
  'MOSI',
] as const;
const MEANT = [
  'supply-input',
  'supply-output',
  'battery',
  'enable',
  'switch-node',
  'switched-output',
  'anode',
  'gate',
] as const;

/** Parts whose pins have names: what a component is decides what its pins are for. */
export const PARTS = [
  {
    number: 'LDO5',
    maker: 'quillon',
    categories: ['LinearRegulator'],
    pinout: [
      { number: '1', name: 'VIN' },
      { number: '2', name: 'VOUT' },
      { number: '3', name: 'EN' },
    ],
  },
  {
    number: 'SNS6',
    maker: 'quillon',
    categories: ['PressureSensor'],
    pinout: [
      { number: '1', name: 'VDD' },
      { number: '2', name: 'SDA' },
      { number: '3', name: 'SCL' },
    ],
  },
] as const;

/** @param doubtful how many components are doubtful */
export function drawBoard(random: Random, id: string, doubtful: number): DoubtfulBoard {
  const size = random.integer(3, 7);
  // Class letters of its own for each: what others are says nothing of it, and what its rivals leave is none of any kind.
  const ids = Array.from({ length: size }, (_, at) => `W${'ABCDEFG'[at]}1`);
  const isPower = random.chance(0.5);
  const kinds = isPower ? ON_RAILS : ON_SIGNALS;
  const rival = (): Rival['candidate'] =>
    random.chance(0.15)
      ? { part: `quillon/${random.pick(PARTS).number}` }
      : { category: random.pick(random.chance(0.8) ? kinds : [...ON_RAILS, ...ON_SIGNALS]) };
  const doubts = new Map<string, readonly Rival[]>();
  const identifications: NonNullable<Written['identifications']> = [];
  ids.forEach((component, at) => {
    if (at >= doubtful) {
      identifications.push({ component, candidates: [{ ...rival(), probability: 1 }], state: 'favoured' });
      return;
    }
    const count = random.integer(1, 3);
    const chosen = new Map<string, Rival['candidate']>();
    while (chosen.size < count) {
      const one = rival();
      chosen.set(JSON.stringify(one), one);
    }
    const weights = Array.from({ length: count }, () => random.integer(1, 9));
    const rest = random.chance(0.3) ? 0 : random.integer(1, 6);
    const total = weights.reduce((sum, one) => sum + one, rest);
    const rivals = [...chosen.values()].map((candidate, i) => ({
      candidate,
      probability: rest === 0 && i === count - 1 ? 1 - (total - weights[i]) / total : weights[i] / total,
    }));
    doubts.set(component, rivals);
    identifications.push({
      component,
      candidates: rivals.map(({ candidate, probability }) => ({ ...candidate, probability })),
      state: 'favoured',
    });
  });
  const areMated = random.chance(0.3);
  if (areMated)
    mate(
      random,
      ids.slice(-2).filter((one) => !doubts.has(one)),
      identifications,
    );
  const netCount = random.integer(2, 6);
  const used = new Map<string, number>();
  const pinOf = (component: string) => {
    const next = (used.get(component) ?? 0) + 1;
    used.set(component, next);
    return random.chance(0.1) ? component : `${component}.${next}`;
  };
  const nets = Array.from({ length: netCount }, (_, at) => {
    const kind = random.chance(0.1) ? 'ground' : random.chance(isPower ? 0.75 : 0.15) ? 'power' : 'signal';
    const members = random.shuffled(ids).slice(0, random.integer(2, Math.min(4, size)));
    return {
      id: `n${at}`,
      kind: kind as 'power' | 'signal' | 'ground',
      ...(random.chance(0.4) ? { label: random.pick(['VBAT', 'SDA', 'SDA_1V8', 'VSYS', 'X1', 'MISO']) } : {}),
      ...(kind === 'power' && random.chance(0.5) ? { voltage: random.pick(['1.8 V', '3.3 V', '5 V']) } : {}),
      ...(kind === 'signal' && random.chance(0.3) ? { bus: random.pick(['I2C', 'SPI'] as const) } : {}),
      pins: members.map(pinOf),
    };
  });
  const pairs = ids.flatMap((one, at) => ids.slice(at + 1).map((other) => [one, other] as [string, string]));
  const connections = random
    .shuffled(pairs)
    .filter(([a, b]) => !areMated || !ids.slice(-2).every((id) => id === a || id === b))
    .slice(0, random.chance(0.5) ? 0 : random.integer(1, 2))
    .map((between) => ({
      between,
      medium: 'trace' as const,
      ...(random.chance(0.6) ? { bus: random.pick(['I2C', 'power', 'power'] as const) } : {}),
    }));
  const meeting = areMated
    ? [
        {
          between: ids.slice(-2) as [string, string],
          medium: 'trace' as const,
          ...(random.chance(0.5)
            ? { pins: [['1', '1'] as [string, string], ['2', '2'] as [string, string]] }
            : {}),
        },
      ]
    : [];
  const components = ids.map((component) => ({
    id: component,
    board: 'main',
    ...(random.chance(0.2) ? { value: random.pick(['4.7 Ω', '100 Ω', '1 µF']) } : {}),
    ...(random.chance(0.4)
      ? {
          pinout: Array.from({ length: used.get(component) ?? 1 }, (_, at) => ({
            number: `${at + 1}`,
            ...(random.chance(0.6) ? { name: random.pick(NAMES) } : {}),
            ...(random.chance(0.4) ? { function: random.pick(MEANT) } : {}),
          })),
        }
      : {}),
  }));
  return {
    doubts,
    board: {
      device: { id, name: id, maker: 'tarn', released: '2016-05', bodySite: 'wrist' },
      visibility: 'draft',
      specimen: { id: 'a' },
      boards: [{ id: 'main', kind: 'rigid' }],
      components,
      nets,
      connections: [...meeting, ...connections],
      identifications,
    } as Written,
  };
}

/** Makes certain ones of two components connectors. */
function mate(
  random: Random,
  ids: readonly string[],
  identifications: NonNullable<Written['identifications']>,
): void {
  for (const [at, one] of identifications.entries())
    if (ids.includes(one.component))
      identifications[at] = {
        ...one,
        candidates: [{ category: random.pick(['FlexConnector', 'ChargingContact']), probability: 1 }],
      };
}

/** Every world of a board: the certain board, and its probability. */
export function worldsOf({ board, doubts }: DoubtfulBoard): readonly {
  readonly board: Written;
  readonly mass: number;
  /** Index of what each doubtful component is; of none of its rivals, their number. */
  readonly chosen: ReadonlyMap<string, number>;
}[] {
  let worlds: { chosen: Map<string, number>; mass: number }[] = [{ chosen: new Map(), mass: 1 }];
  for (const [id, rivals] of doubts) {
    const rest = 1 - rivals.reduce((sum, { probability }) => sum + probability, 0);
    const masses = [...rivals.map(({ probability }) => probability), rest];
    worlds = worlds.flatMap(({ chosen, mass }) =>
      masses.flatMap((one, at) =>
        one < 1e-9 ? [] : [{ chosen: new Map(chosen).set(id, at), mass: mass * one }],
      ),
    );
  }
  return worlds.map(({ chosen, mass }, at) => {
    const { id } = board.device as { readonly id: string };
    const identifications = (board.identifications ?? []).flatMap((one) => {
      const rivals = doubts.get(one.component);
      if (!rivals) return [one];
      const rival = rivals[chosen.get(one.component) as number];
      return rival ? [{ ...one, candidates: [{ ...rival.candidate, probability: 1 }] }] : [];
    });
    const name = `${id}-world-${at}`;
    return {
      mass,
      chosen,
      board: {
        ...board,
        device: { ...(board.device as object), id: name, name },
        identifications,
      } as Written,
    };
  });
}
