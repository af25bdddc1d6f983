import fc from 'fast-check';
import type { State } from '../../src/state/state.ts';
import { seededRandom } from '../../src/statistics/random.ts';
import { catalogueChanges, dossierChange, liveOf } from '../state/archive-of.ts';

/** An invented catalogue of a few kinds, each with two or three parts of unlike makers. */
export const CATALOGUE = catalogueChanges({
  makers: [
    { id: 'tarn', name: 'Tarn', makes: ['devices'] },
    { id: 'quistle', name: 'Quistle', makes: ['parts'] },
    { id: 'ostrel', name: 'Ostrel', makes: ['parts'] },
  ],
  productLines: [{ id: 'tarn-sennit', name: 'Tarn Sennit', maker: 'tarn' }],
  parts: [
    { number: 'A1', maker: 'quistle', categories: ['Accelerometer'] },
    { number: 'A2', maker: 'quistle', categories: ['Accelerometer', 'Gyroscope'] },
    { number: 'A3', maker: 'ostrel', categories: ['Accelerometer'] },
    { number: 'A1R', maker: 'ostrel', categories: ['Accelerometer'], relabels: 'quistle/A1' },
    { number: 'P1', maker: 'quistle', categories: ['PressureSensor'] },
    {
      number: 'M1',
      maker: 'ostrel',
      categories: ['Microcontroller', 'BluetoothRadio'],
      parameters: { wordWidth: '32 bit', flashSize: '512 KiB' },
    },
    { number: 'M2', maker: 'quistle', categories: ['Microcontroller'], parameters: { wordWidth: '8 bit' } },
    {
      number: 'R1',
      maker: 'ostrel',
      categories: ['LinearRegulator'],
      parameters: { outputVoltage: '1.8 V' },
    },
    { number: 'R2', maker: 'ostrel', categories: ['BuckConverter'], parameters: { outputVoltage: '3 V' } },
    {
      number: 'B1',
      maker: 'quistle',
      categories: ['PouchCell'],
      parameters: { capacity: '90 mAh', outputVoltage: '3.7 V' },
    },
  ],
});

const PARTS = ['A1', 'A2', 'A3', 'P1', 'M1', 'M2', 'R1', 'R2', 'B1'];
const OF = (number: string) => `${'A1 A2 P1 M2 B1'.includes(number) ? 'quistle' : 'ostrel'}/${number}`;
const LOOKS = ['Capacitor', 'Resistor', 'FlexConnector', 'GreenEmitter'];

export type Written = Parameters<typeof dossierChange>[0];

/** A device with some of everything, decided by its seed: chips sure and doubtful, chips nobody named, passives. */
export function writtenDevice(id: string, seed: number, more: Partial<Written> = {}): Written {
  const random = seededRandom(seed).stream('device');
  const size = random.integer(1, 9);
  const boards = ['main', 'flex'].slice(0, random.integer(1, 2));
  const components = Array.from({ length: size }, (_, at) => ({
    id: `U${at + 1}`,
    ...(random.chance(0.85) ? { board: random.pick(boards) } : {}),
    ...(random.chance(0.8) ? { side: random.pick(['top', 'bottom'] as const) } : {}),
    ...(random.chance(0.6) ? { at: { x: random.integer(0, 30), y: random.integer(0, 20) } } : {}),
    ...(random.chance(0.4) ? { appears: random.pick(LOOKS) } : {}),
    ...(random.chance(0.5) ? { marking: `K${random.integer(1, 3)}` } : {}),
    ...(random.chance(0.5) ? { subsystem: 'sensing' } : {}),
  }));
  const identifications = components.flatMap((component) => {
    if ('appears' in component || random.chance(0.15)) return [];
    const [first, second] = random.shuffled(PARTS);
    const sure = random.pick([1, 0.97, 0.7, 0.5]);
    const rivals = random.chance(0.5) ? [{ part: OF(second), probability: (1 - sure) / 2 }] : [];
    return [
      {
        component: component.id,
        candidates: [{ part: OF(first), probability: sure }, ...rivals.filter((one) => one.probability > 0)],
      },
    ];
  });
  const connections = Array.from({ length: random.integer(0, size) }, () =>
    random.shuffled(components).slice(0, 2),
  )
    .filter((pair) => pair.length === 2)
    .map(([a, b]) => ({ between: [a.id, b.id] as [string, string], medium: 'trace' as const }));
  return {
    device: {
      id,
      name: id,
      maker: 'tarn',
      productLine: 'tarn-sennit',
      released: `20${10 + (seed % 10)}`,
      bodySite: 'wrist',
    },
    specimen: { id: 'a' },
    boards: boards.map((board) => ({
      id: board,
      kind: board === 'main' ? 'rigid' : 'flex',
      outline: { length: 30, width: 20 },
      fullyInventoried: true,
    })),
    subsystems: [{ id: 'sensing', kind: 'sensing' }],
    components,
    connections,
    identifications,
    ...more,
  };
}

/** What an audience sees of the catalogue and some dossiers. */
export function viewOf(
  written: readonly Written[],
  audience: 'reader' | 'desk' = 'reader',
  patterns: Parameters<typeof catalogueChanges>[0]['patterns'] = [],
): State {
  const live = liveOf([...CATALOGUE, ...catalogueChanges({ patterns }), ...written.map(dossierChange)]);
  return live.state(audience, '2026-01-01T00:00:00Z');
}

export const seeds = (least: number, most = least) =>
  fc.uniqueArray(fc.integer({ min: 0, max: 1_000_000 }), { minLength: least, maxLength: most });
