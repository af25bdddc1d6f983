import { type Catalogue, catalogueSchema } from '../../../src/model/catalogue.ts';

/** Kinds of component that blocks use: terms, body in mm, package; those with `chips` are parts of the catalogue. */
export const KINDS = {
  controller: {
    letter: 'U',
    terms: ['Microcontroller'],
    body: [7, 7],
    package: 'QFN-64',
    pins: 64,
    chips: 4,
  },
  radio: { letter: 'U', terms: ['BluetoothRadio'], body: [4, 4], package: 'QFN-32', pins: 32, chips: 3 },
  accelerometer: {
    letter: 'U',
    terms: ['Accelerometer'],
    body: [2, 2],
    package: 'LGA-12',
    pins: 12,
    chips: 4,
  },
  motion: {
    letter: 'U',
    terms: ['Accelerometer', 'Gyroscope'],
    body: [3, 2.5],
    package: 'LGA-14',
    pins: 14,
    chips: 3,
  },
  magnetometer: {
    letter: 'U',
    terms: ['Magnetometer'],
    body: [1.6, 1.6],
    package: 'WLCSP-8',
    pins: 8,
    chips: 2,
  },
  barometer: { letter: 'U', terms: ['PressureSensor'], body: [2, 2], package: 'LGA-10', pins: 10, chips: 3 },
  thermometer: {
    letter: 'U',
    terms: ['TemperatureSensor'],
    body: [1.5, 1.5],
    package: 'DFN-6',
    pins: 6,
    chips: 3,
  },
  frontEnd: {
    letter: 'U',
    terms: ['AnalogueFrontEnd'],
    body: [4, 4],
    package: 'WLCSP-36',
    pins: 36,
    chips: 3,
  },
  amplifier: {
    letter: 'U',
    terms: ['OperationalAmplifier'],
    body: [1.6, 2.9],
    package: 'SOT-23-5',
    pins: 5,
    chips: 3,
  },
  flash: { letter: 'U', terms: ['FlashMemory'], body: [5, 6], package: 'WSON-8', pins: 8, chips: 3 },
  linear: {
    letter: 'U',
    terms: ['LinearRegulator'],
    body: [1.6, 2.9],
    package: 'SOT-23-5',
    pins: 5,
    chips: 4,
  },
  buck: { letter: 'U', terms: ['BuckConverter'], body: [2, 2], package: 'WSON-6', pins: 6, chips: 3 },
  charger: { letter: 'U', terms: ['Charger'], body: [3, 3], package: 'QFN-16', pins: 16, chips: 3 },
  gauge: { letter: 'U', terms: ['FuelGauge'], body: [2.5, 4], package: 'SON-12', pins: 12, chips: 2 },
  loadSwitch: { letter: 'U', terms: ['LoadSwitch'], body: [1.2, 0.8], package: 'WLCSP-6', pins: 6, chips: 2 },
  shifter: { letter: 'U', terms: ['LevelShifter'], body: [1.4, 1], package: 'XSON-8', pins: 8, chips: 2 },
  expander: { letter: 'U', terms: ['PortExpander'], body: [3, 3], package: 'QFN-24', pins: 24, chips: 2 },
  boost: { letter: 'U', terms: ['BoostConverter'], body: [2, 2], package: 'DFN-8', pins: 8, chips: 2 },
  haptic: { letter: 'U', terms: ['HapticDriver'], body: [1.5, 1.5], package: 'WLCSP-9', pins: 9, chips: 2 },
  emitter: {
    letter: 'D',
    terms: ['GreenEmitter'],
    body: [1.6, 0.8],
    package: 'LED 1.6 x 0.8 mm',
    pins: 2,
    chips: 3,
  },
  photodiode: {
    letter: 'PD',
    terms: ['Photodiode'],
    body: [3, 2],
    package: 'chip 3 x 2 mm',
    pins: 2,
    chips: 2,
  },
  transistor: { letter: 'Q', terms: ['Transistor'], body: [1.6, 2.9], package: 'SOT-23', pins: 3, chips: 3 },
  surge: { letter: 'D', terms: ['SurgeProtector'], body: [1, 0.6], package: '0402 body', pins: 2, chips: 3 },
  diode: { letter: 'D', terms: ['Diode'], body: [2.5, 1.3], package: 'SOD-323', pins: 2, chips: 2 },
  resistor: { letter: 'R', terms: ['Resistor'], body: [1, 0.5], package: '0402', pins: 2, chips: 0 },
  capacitor: { letter: 'C', terms: ['Capacitor'], body: [1, 0.5], package: '0402', pins: 2, chips: 0 },
  bulk: { letter: 'C', terms: ['Capacitor'], body: [1.6, 0.8], package: '0603', pins: 2, chips: 0 },
  inductor: {
    letter: 'L',
    terms: ['Inductor'],
    body: [2, 1.6],
    package: 'inductor 2.0 x 1.6 mm',
    pins: 2,
    chips: 0,
  },
  bead: { letter: 'FB', terms: ['FerriteBead'], body: [1, 0.5], package: '0402', pins: 2, chips: 0 },
  crystal: {
    letter: 'Y',
    terms: ['Crystal'],
    body: [3.2, 1.5],
    package: 'crystal 3.2 x 1.5 mm',
    pins: 2,
    chips: 0,
  },
  antenna: {
    letter: 'ANT',
    terms: ['ChipAntenna'],
    body: [3, 1.5],
    package: 'chip antenna',
    pins: 2,
    chips: 0,
  },
  button: { letter: 'SW', terms: ['Button'], body: [3, 2], package: 'push button', pins: 2, chips: 0 },
  plug: { letter: 'J', terms: ['CableConnector'], body: [9, 7], package: 'receptacle', pins: 12, chips: 0 },
  contact: { letter: 'J', terms: ['ProgrammingContact'], body: [4, 2], package: '6 pads', pins: 6, chips: 0 },
  cell: { letter: 'J', terms: ['Connector'], body: [4, 3], package: 'connector 2 pins', pins: 2, chips: 0 },
  mate: {
    letter: 'J',
    terms: ['BoardToBoardConnector'],
    body: [8, 2],
    package: 'board-to-board',
    pins: 40,
    chips: 0,
  },
  pad: { letter: 'TP', terms: ['TestPad'], body: [1, 1], package: 'test pad', pins: 1, chips: 0 },
  hole: { letter: 'MH', terms: ['MountingHole'], body: [2, 2], package: 'mounting hole', pins: 1, chips: 0 },
} as const satisfies Readonly<Record<string, object>>;
export type Kind = keyof typeof KINDS;

export const MAKER = 'bench-devices';
export const CHIPS = 'bench-chips';
export const partNumber = (kind: Kind, at: number) => `${kind.toUpperCase()}${at + 1}`;

/** The catalogue that all generated devices share. */
export function generateBoardCatalogue(): Catalogue {
  return catalogueSchema.parse({
    caseback: 'catalogue/1',
    makers: [
      { id: MAKER, name: 'Bench devices', makes: ['devices'], invented: true },
      { id: CHIPS, name: 'Bench chips', makes: ['parts'], invented: true },
    ],
    parts: Object.entries(KINDS).flatMap(([kind, { terms, chips, pins, package: body }]) =>
      Array.from({ length: chips }, (_, at) => ({
        number: partNumber(kind as Kind, at),
        maker: CHIPS,
        categories: terms,
        package: body,
        pins,
        markings: [`${partNumber(kind as Kind, at)}{lot:2}`],
        introduced: '2015',
      })),
    ),
  });
}
