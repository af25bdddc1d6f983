// What chips of a wearable look like and what they are joined to: packages with their usual bodies, and for each kind the
// pins it has and what hangs on them. Counted from the three reference boards (tests/reference/boards/) where these have
// the kind, else common practice, no source. It knows nothing of src/identification.

/** Body of a package, mm: length, width, height. Several where the trade has several. */
const BODIES: Readonly<Record<string, readonly (readonly [number, number, number])[]>> = {
  'SOT-23-5': [[2.9, 1.6, 1.1]],
  'SOT-23-6': [[2.9, 1.6, 1.1]],
  'SC-70-5': [[2, 1.25, 0.95]],
  'DFN-4': [[1, 1, 0.4]],
  'DFN-6': [
    [2, 2, 0.75],
    [1.6, 1.6, 0.55],
  ],
  'DFN-8': [
    [2, 2, 0.75],
    [3, 2, 0.75],
  ],
  'DFN-10': [
    [3, 3, 0.75],
    [2.5, 2, 0.55],
  ],
  'USON-8': [
    [3, 2, 0.55],
    [4, 3, 0.55],
  ],
  'SOIC-8': [[4.9, 3.9, 1.6]],
  'LGA-5': [[3.5, 2.65, 0.98]],
  'LGA-8': [[2.5, 2, 0.95]],
  'LGA-10': [[2, 2, 0.76]],
  'LGA-12': [[2, 2, 0.9]],
  'LGA-14': [[3, 2.5, 0.83]],
  'OLGA-14': [[5.6, 3.3, 1.5]],
  'QFN-16': [[3, 3, 0.75]],
  'QFN-24': [[4, 4, 0.75]],
  'QFN-32': [
    [5, 5, 0.8],
    [4, 4, 0.5],
  ],
  'QFN-40': [
    [5, 5, 0.75],
    [6, 6, 0.85],
  ],
  'QFN-48': [
    [6, 6, 0.85],
    [7, 7, 0.85],
  ],
};

/** Rows and columns of balls of wafer-level packages; the body is that of the die and differs from part to part. */
const BALLS: Readonly<Record<string, readonly [number, number]>> = {
  'WLCSP-4': [2, 2],
  'WLCSP-6': [3, 2],
  'WLCSP-8': [4, 2],
  'WLCSP-9': [3, 3],
  'WLCSP-12': [4, 3],
  'WLCSP-16': [4, 4],
  'WLCSP-20': [5, 4],
  'WLCSP-25': [5, 5],
  'WLCSP-30': [6, 5],
  'WLCSP-36': [6, 6],
  'WLCSP-49': [7, 7],
};

/** Terminals of a package, from its name. */
export function terminals(pack: string): number {
  return Number(pack.split('-').at(-1));
}

/** One body of a package, mm. `draw` gives at least 0, below 1. */
export function bodyOf(pack: string, draw: () => number): readonly [number, number, number] {
  const balls = BALLS[pack];
  if (balls === undefined) {
    const bodies = BODIES[pack];
    return bodies[Math.floor(draw() ** 2 * bodies.length)];
  }
  // Pitch 0.4 mm, half a pitch beyond the outer balls, and what the die needs on top.
  const side = (count: number) => Math.round((count * 0.4 + draw() * 0.45) * 100) / 100;
  const [a, b] = [side(balls[0]), side(balls[1])];
  return [Math.max(a, b), Math.min(a, b), 0.3 + Math.round(draw() * 3) / 10];
}

/** Names of the terminals of a package, in the order of the drawing: 1, 2, 3 …, or A1, A2 … of a grid of balls. */
export function terminalNames(pack: string): readonly string[] {
  const balls = BALLS[pack];
  return Array.from({ length: terminals(pack) }, (_, at) =>
    balls === undefined ? String(at + 1) : `${'ABCDEFGH'[Math.floor(at / balls[1])]}${(at % balls[1]) + 1}`,
  );
}

/**
 * What a pin hangs on. `supply`: the device's digital rail; `battery`: the cell; `input`: one of both; `usb`: the contact of
 * the charger; `rail`: a supply that it makes; `switch`: an inductor to its rail; `sense`: a divider; `bypass`: a capacitor
 * of its own; `line`: a line of the processor; `lamp`, `light`, `shaker`, `speaker`, `aerial`, `crystal`, `analog`, `electrode`, `load`.
 */
export type Pin =
  | 'ground'
  | 'supply'
  | 'battery'
  | 'input'
  | 'usb'
  | 'rail'
  | 'switch'
  | 'sense'
  | 'bypass'
  | 'line'
  | 'scl'
  | 'sda'
  | 'spi'
  | 'lamp'
  | 'light'
  | 'shaker'
  | 'speaker'
  | 'aerial'
  | 'crystal'
  | 'analogue'
  | 'load'
  | 'free';

export interface Kind {
  readonly term: string;
  /** Packages with how often the kind comes in them. */
  readonly packages: readonly (readonly [string, number])[];
  readonly pins: readonly Pin[];
  /** What further pins of a large package are. */
  readonly rest: Pin;
  /** How many there are in a device: mean of what is drawn. */
  readonly often: number;
}

const I2C: readonly Pin[] = ['ground', 'supply', 'scl', 'sda', 'line'];
const SPI: readonly Pin[] = ['spi', 'spi', 'spi', 'spi'];

export const HOSTS: readonly Kind[] = [
  {
    term: 'Microcontroller',
    packages: [
      ['QFN-48', 4],
      ['QFN-32', 2],
      ['WLCSP-49', 2],
    ],
    pins: ['ground', 'supply', 'scl', 'sda', ...SPI, 'crystal', 'crystal', 'bypass', 'supply', 'ground'],
    rest: 'free',
    often: 1,
  },
  {
    term: 'BluetoothRadio',
    packages: [
      ['QFN-48', 4],
      ['QFN-40', 3],
      ['WLCSP-49', 2],
    ],
    pins: ['ground', 'supply', 'scl', 'sda', ...SPI, 'crystal', 'crystal', 'aerial', 'bypass', 'supply'],
    rest: 'free',
    often: 1,
  },
];

export const KINDS: readonly Kind[] = [
  {
    term: 'LinearRegulator',
    packages: [
      ['SOT-23-5', 5],
      ['DFN-4', 3],
      ['WLCSP-4', 2],
      ['DFN-6', 1],
    ],
    pins: ['input', 'ground', 'rail', 'line', 'bypass'],
    rest: 'free',
    often: 1.6,
  },
  {
    term: 'BuckConverter',
    packages: [
      ['WLCSP-6', 3],
      ['DFN-6', 2],
      ['SOT-23-5', 2],
      ['DFN-8', 1],
    ],
    pins: ['battery', 'ground', 'switch', 'sense', 'line'],
    rest: 'free',
    often: 0.9,
  },
  {
    term: 'BoostConverter',
    packages: [
      ['DFN-6', 3],
      ['SOT-23-6', 2],
      ['WLCSP-6', 2],
      ['WLCSP-9', 1],
    ],
    pins: ['battery', 'ground', 'switch', 'sense', 'line', 'rail'],
    rest: 'ground',
    often: 0.6,
  },
  {
    term: 'Charger',
    packages: [
      ['DFN-10', 3],
      ['QFN-16', 2],
      ['WLCSP-9', 2],
      ['SOT-23-5', 2],
    ],
    pins: ['usb', 'ground', 'battery', 'sense', 'line', 'sense', 'scl', 'sda', 'rail'],
    rest: 'ground',
    often: 0.9,
  },
  {
    term: 'FuelGauge',
    packages: [
      ['WLCSP-9', 4],
      ['DFN-8', 2],
      ['DFN-10', 1],
    ],
    pins: ['battery', 'ground', 'scl', 'sda', 'line', 'sense', 'bypass'],
    rest: 'ground',
    often: 0.5,
  },
  {
    term: 'BatteryProtector',
    packages: [
      ['SOT-23-6', 3],
      ['DFN-6', 2],
      ['WLCSP-4', 1],
    ],
    pins: ['battery', 'sense', 'ground', 'load', 'load'],
    rest: 'free',
    often: 0.4,
  },
  {
    term: 'LoadSwitch',
    packages: [
      ['WLCSP-4', 4],
      ['DFN-4', 1],
      ['SC-70-5', 1],
      ['WLCSP-6', 1],
    ],
    pins: ['input', 'ground', 'load', 'line'],
    rest: 'free',
    often: 0.6,
  },
  {
    term: 'Accelerometer',
    packages: [
      ['LGA-12', 4],
      ['LGA-14', 2],
      ['WLCSP-8', 1],
    ],
    pins: [...I2C, 'line', 'ground', 'supply'],
    rest: 'ground',
    often: 0.8,
  },
  {
    term: 'Gyroscope',
    packages: [
      ['LGA-14', 5],
      ['LGA-12', 1],
    ],
    pins: ['ground', 'supply', ...SPI, 'line', 'line', 'supply'],
    rest: 'ground',
    often: 0.6,
  },
  {
    term: 'PressureSensor',
    packages: [
      ['LGA-8', 4],
      ['LGA-10', 4],
    ],
    pins: [...I2C, 'ground', 'supply'],
    rest: 'ground',
    often: 0.5,
  },
  {
    term: 'TemperatureSensor',
    packages: [
      ['WLCSP-4', 3],
      ['DFN-6', 3],
      ['LGA-10', 1],
    ],
    pins: ['ground', 'supply', 'scl', 'sda', 'line'],
    rest: 'ground',
    often: 0.6,
  },
  {
    term: 'AnalogueFrontEnd',
    packages: [
      ['WLCSP-30', 3],
      ['WLCSP-36', 2],
      ['WLCSP-25', 2],
      ['QFN-40', 1],
    ],
    pins: ['ground', 'supply', ...SPI, 'light', 'light', 'lamp', 'lamp', 'bypass', 'line', 'bypass'],
    rest: 'analogue',
    often: 0.6,
  },
  {
    term: 'OpticalSensor',
    packages: [
      ['OLGA-14', 5],
      ['WLCSP-16', 1],
    ],
    pins: [...I2C, 'lamp', 'battery', 'bypass'],
    rest: 'ground',
    often: 0.4,
  },
  {
    term: 'OperationalAmplifier',
    packages: [
      ['SOT-23-5', 4],
      ['SC-70-5', 3],
      ['WLCSP-6', 1],
    ],
    pins: ['analogue', 'ground', 'analogue', 'analogue', 'supply'],
    rest: 'free',
    often: 0.7,
  },
  {
    term: 'FlashMemory',
    packages: [
      ['USON-8', 4],
      ['SOIC-8', 1],
      ['WLCSP-8', 2],
    ],
    pins: [...SPI, 'ground', 'supply', 'supply', 'supply'],
    rest: 'free',
    often: 0.7,
  },
  {
    term: 'HapticDriver',
    packages: [
      ['WLCSP-9', 4],
      ['DFN-10', 2],
    ],
    pins: ['ground', 'battery', 'scl', 'sda', 'shaker', 'shaker', 'line', 'bypass', 'line'],
    rest: 'free',
    often: 0.5,
  },
  {
    term: 'AudioAmplifier',
    packages: [
      ['WLCSP-9', 4],
      ['WLCSP-12', 1],
      ['QFN-16', 1],
    ],
    pins: ['ground', 'battery', 'speaker', 'speaker', 'line', 'line', 'line', 'bypass', 'ground'],
    rest: 'free',
    often: 0.3,
  },
  {
    term: 'EmitterDriver',
    packages: [
      ['WLCSP-12', 2],
      ['DFN-10', 2],
      ['QFN-16', 2],
    ],
    pins: ['ground', 'battery', 'scl', 'sda', 'lamp', 'lamp', 'lamp', 'line', 'bypass'],
    rest: 'lamp',
    often: 0.4,
  },
  {
    term: 'LevelShifter',
    packages: [
      ['DFN-8', 2],
      ['WLCSP-8', 2],
      ['WLCSP-12', 2],
    ],
    pins: ['ground', 'supply', 'rail', 'line', 'line', 'scl', 'sda', 'line'],
    rest: 'line',
    often: 0.4,
  },
  {
    term: 'RealTimeClock',
    packages: [
      ['DFN-8', 3],
      ['WLCSP-8', 1],
    ],
    pins: ['ground', 'supply', 'scl', 'sda', 'crystal', 'crystal', 'line'],
    rest: 'free',
    often: 0.3,
  },
  {
    term: 'SensorHub',
    packages: [
      ['QFN-24', 3],
      ['WLCSP-25', 2],
      ['WLCSP-36', 1],
    ],
    pins: ['ground', 'supply', 'scl', 'sda', 'crystal', 'crystal', 'bypass', 'line', 'line'],
    rest: 'line',
    often: 0.25,
  },
  {
    term: 'Microphone',
    packages: [['LGA-5', 1]],
    pins: ['ground', 'supply', 'line', 'line', 'ground'],
    rest: 'ground',
    often: 0.4,
  },
  {
    term: 'PowerManagement',
    packages: [
      ['QFN-32', 2],
      ['WLCSP-36', 2],
      ['WLCSP-25', 2],
    ],
    pins: [
      'ground',
      'usb',
      'battery',
      'scl',
      'sda',
      'switch',
      'switch',
      'rail',
      'rail',
      'line',
      'bypass',
      'sense',
    ],
    rest: 'load',
    often: 0.3,
  },
];
