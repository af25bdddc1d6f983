/**
 * A generated archive for the benchmark of the pattern engine. Every maker, part and device is invented; the
 * proportions (components a device, share of kinds, connections a component) are chosen, not measured.
 */
import type { EdgeInput, LabelHierarchy, NodeInput, SegmentInput } from '../../src/gql/gql.ts';

/** Small, fast and repeatable: Marsaglia, "Xorshift RNGs", Journal of Statistical Software 8(14), 2003. */
export function seeded(seed: number): () => number {
  let s = seed | 0 || 1;
  return () => {
    s ^= s << 13;
    s ^= s >>> 17;
    s ^= s << 5;
    return (s >>> 0) / 2 ** 32;
  };
}

export const HIERARCHY: LabelHierarchy = {
  Sensor: ['Component'],
  Accelerometer: ['Sensor'],
  Gyroscope: ['Sensor'],
  OpticalSensor: ['Sensor'],
  PressureSensor: ['Sensor'],
  TemperatureSensor: ['Sensor'],
  Microphone: ['Sensor'],
  Magnetometer: ['Sensor'],
  Electrode: ['Sensor'],
  Processor: ['Component'],
  Microcontroller: ['Processor'],
  ApplicationProcessor: ['Processor'],
  SensorHub: ['Processor'],
  Radio: ['Component'],
  Amplifier: ['Component'],
  AnalogueFrontEnd: ['Component'],
  Converter: ['Component'],
  Charger: ['Component'],
  Regulator: ['Component'],
  LinearRegulator: ['Regulator'],
  BuckConverter: ['Regulator'],
  BoostConverter: ['Regulator'],
  FuelGauge: ['Component'],
  Memory: ['Component'],
  Display: ['Component'],
  DisplayDriver: ['Component'],
  Emitter: ['Component'],
  Motor: ['Component'],
  HapticDriver: ['Component'],
  Speaker: ['Component'],
  Antenna: ['Component'],
  Connector: ['Component'],
  FlexConnector: ['Connector'],
  BoardToBoardConnector: ['Connector'],
  ChargingContact: ['Connector'],
  Battery: ['Component'],
  Button: ['Component'],
  Passive: ['Component'],
  Resistor: ['Passive'],
  Capacitor: ['Passive'],
  Inductor: ['Passive'],
  Crystal: ['Passive'],
};

/** Leaf label, designator letter and how often it is drawn. */
const KINDS: readonly (readonly [label: string, letter: string, share: number])[] = [
  ['Capacitor', 'C', 22],
  ['Resistor', 'R', 18],
  ['Inductor', 'L', 5],
  ['Crystal', 'Y', 2],
  ['Accelerometer', 'U', 2],
  ['Gyroscope', 'U', 1.5],
  ['OpticalSensor', 'U', 2],
  ['PressureSensor', 'U', 1],
  ['TemperatureSensor', 'U', 2],
  ['Microphone', 'MK', 1.5],
  ['Magnetometer', 'U', 1],
  ['Electrode', 'E', 1.5],
  ['Microcontroller', 'U', 1.5],
  ['ApplicationProcessor', 'U', 1],
  ['SensorHub', 'U', 0.7],
  ['Radio', 'U', 1.5],
  ['Amplifier', 'U', 2],
  ['AnalogueFrontEnd', 'U', 1],
  ['Converter', 'U', 1],
  ['Charger', 'U', 1],
  ['LinearRegulator', 'U', 2],
  ['BuckConverter', 'U', 2],
  ['BoostConverter', 'U', 1],
  ['FuelGauge', 'U', 0.8],
  ['Memory', 'U', 1.2],
  ['Display', 'DS', 0.8],
  ['DisplayDriver', 'U', 0.8],
  ['Emitter', 'D', 2],
  ['Motor', 'M', 0.7],
  ['HapticDriver', 'U', 0.6],
  ['Speaker', 'LS', 0.7],
  ['Antenna', 'ANT', 1],
  ['FlexConnector', 'J', 1.5],
  ['BoardToBoardConnector', 'J', 1],
  ['ChargingContact', 'J', 0.8],
  ['Battery', 'BT', 0.8],
  ['Button', 'SW', 1],
];
const PACKAGES = [
  'LGA-8',
  'LGA-12',
  'QFN-16',
  'QFN-24',
  'BGA-36',
  'WLCSP-9',
  'WLCSP-20',
  'SON-6',
  '0201',
  '0402',
];
const MEDIA = ['trace', 'trace', 'trace', 'trace', 'flex', 'wire', 'contact', 'rf-feed'];
const BUSES = ['i2c', 'spi', 'uart', 'analogue', 'power'];
export const MAKER_COUNT = 120;
export const PART_COUNT = 4000;

/** The knowledge segment: makers and parts. */
export function knowledge(): SegmentInput {
  const random = seeded(7);
  const nodes: NodeInput[] = [];
  const edges: EdgeInput[] = [];
  for (let m = 0; m < MAKER_COUNT; m++)
    nodes.push({ id: `maker/${m}`, labels: ['Maker'], properties: { name: `Invented Maker ${m}` } });
  for (let p = 0; p < PART_COUNT; p++) {
    nodes.push({
      id: `part/${p}`,
      labels: ['Part'],
      properties: { number: `XQ${1000 + p}`, pins: 4 + (p % 60) },
    });
    edges.push({
      source: `part/${p}`,
      target: `maker/${Math.floor(random() ** 2 * MAKER_COUNT)}`,
      label: 'MADE_BY',
    });
  }
  return { nodes, edges, grouped: false };
}

/** Key of the d-th device's segment. */
export function deviceKey(d: number): string {
  return `device/${String(d).padStart(6, '0')}`;
}

/** The segment of the d-th device: about `size` components on one to three boards. */
export function device(d: number, size = 56): SegmentInput {
  const random = seeded(d * 2654435761 + 12345);
  for (let i = 0; i < 4; i++) random();
  const pick = <T>(list: readonly T[]): T => list[Math.floor(random() * list.length)]!;
  const key = deviceKey(d);
  const nodes: NodeInput[] = [
    {
      id: key,
      labels: ['Device'],
      properties: { year: 2012 + Math.floor(random() * 14), price: 20 + Math.floor(random() * 600) },
    },
  ];
  const edges: EdgeInput[] = [
    { source: key, target: `maker/${Math.floor(random() ** 2 * MAKER_COUNT)}`, label: 'MADE_BY' },
  ];
  const boards = 1 + Math.floor(random() * 3);
  for (let b = 0; b < boards; b++) {
    nodes.push({
      id: `${key}/b${b}`,
      labels: ['Board'],
      properties: { layers: 2 + 2 * Math.floor(random() * 5) },
    });
    edges.push({ source: key, target: `${key}/b${b}`, label: 'HAS_BOARD' });
  }
  const count = Math.round(size * (0.5 + random()));
  const onBoard: number[] = [];
  for (let c = 0; c < count; c++) {
    const [label, letter] = drawKind(random());
    const id = `${key}/${letter}${c}`;
    const board = Math.floor(random() * random() * boards);
    onBoard.push(board);
    const uncertain = random() < 0.04;
    nodes.push({
      id,
      labels: [uncertain ? { label, weight: Math.round(50 + random() * 45) / 100 } : label],
      properties: {
        ref: `${letter}${c}`,
        side: random() < 0.7 ? 'top' : 'bottom',
        x: Math.round(random() * 4000) / 100,
        y: Math.round(random() * 3000) / 100,
        package: pick(PACKAGES),
      },
    });
    edges.push({ source: id, target: `${key}/b${board}`, label: 'ON' });
    if (random() < 0.8)
      edges.push({
        source: id,
        target: `part/${Math.floor(random() ** 3 * PART_COUNT)}`,
        label: 'IDENTIFIED_AS',
        properties: { probability: Math.round(60 + random() * 40) / 100 },
      });
    if (c === 0) continue;
    const links = 1 + (random() < 0.3 ? 1 : 0);
    for (let l = 0; l < links; l++) {
      const other = nodes[1 + boards + Math.floor(random() * c)]!.id;
      const medium = pick(MEDIA);
      edges.push({
        source: id,
        target: other,
        label: 'CONNECTS',
        directed: false,
        properties: random() < 0.5 ? { medium, bus: pick(BUSES) } : { medium },
      });
    }
  }
  return { nodes, edges };
}

const TOTAL = KINDS.reduce((sum, [, , share]) => sum + share, 0);

function drawKind(u: number): readonly [string, string] {
  let left = u * TOTAL;
  for (const [label, letter, share] of KINDS) {
    left -= share;
    if (left < 0) return [label, letter];
  }
  return ['Button', 'SW'];
}
