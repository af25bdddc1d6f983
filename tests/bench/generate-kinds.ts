// What goes into a generated device, and how often: rough counts of a wearable's boards, from memory of the trade;
// they shape the load of a benchmark and claim nothing about real devices.

export interface Kind {
  readonly term: string;
  /** Class letters of its designator. */
  readonly letters: string;
  readonly package: string;
  readonly pins: number;
  /** Relative frequency. */
  readonly weight: number;
  readonly subsystem: string;
  /** Known to the eye and without a part number, such as a capacitor. */
  readonly plain?: true;
  /** Word width of a processor, in bit. */
  readonly width?: number;
}

const chip = (term: string, packaging: string, weight: number, subsystem: string, width?: number): Kind => ({
  term,
  letters: term === 'Microphone' ? 'MK' : 'U',
  package: packaging,
  pins: Number(packaging.split('-').at(-1)),
  weight,
  subsystem,
  ...(width ? { width } : {}),
});
const plain = (
  term: string,
  letters: string,
  packaging: string,
  pins: number,
  weight: number,
  subsystem: string,
): Kind => ({ term, letters, package: packaging, pins, weight, subsystem, plain: true });

export const KINDS: readonly Kind[] = [
  chip('Accelerometer', 'LGA-12', 5, 'sensing'),
  chip('Gyroscope', 'LGA-14', 3, 'sensing'),
  chip('OpticalSensor', 'OLGA-14', 3, 'sensing'),
  chip('PressureSensor', 'HLGA-10', 2, 'sensing'),
  chip('TemperatureSensor', 'DFN-6', 2, 'sensing'),
  chip('Microphone', 'LGA-5', 2, 'audio'),
  chip('Microcontroller', 'QFN-48', 4, 'processing', 32),
  chip('SensorHub', 'WLCSP-36', 1, 'processing', 16),
  chip('BluetoothRadio', 'QFN-32', 3, 'radio'),
  chip('AnalogueFrontEnd', 'WLCSP-25', 3, 'sensing'),
  chip('OperationalAmplifier', 'SOT-23-5', 3, 'sensing'),
  chip('LinearRegulator', 'DFN-4', 4, 'power'),
  chip('BuckConverter', 'WLCSP-6', 3, 'power'),
  chip('BoostConverter', 'DFN-8', 2, 'power'),
  chip('Charger', 'DFN-10', 2, 'power'),
  chip('FuelGauge', 'WLCSP-9', 2, 'power'),
  chip('LoadSwitch', 'WLCSP-4', 2, 'power'),
  chip('FlashMemory', 'USON-8', 2, 'storage'),
  plain('FlexConnector', 'J', 'FPC-20', 20, 3, 'interconnect'),
  plain('Inductor', 'L', '1008', 2, 4, 'power'),
  plain('Capacitor', 'C', '0402', 2, 8, 'power'),
  plain('Crystal', 'Y', '2016', 4, 2, 'processing'),
  plain('GreenEmitter', 'DS', '0603', 2, 2, 'sensing'),
  plain('ChipAntenna', 'E', '3216', 2, 1, 'antenna'),
];
