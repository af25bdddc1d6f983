import { type Catalogue, catalogueSchema } from '../../src/model/catalogue.ts';
import { type Dossier, dossierSchema } from '../../src/model/dossier.ts';

/** A seeded generator of numbers in [0, 1): mulberry32, public domain, good enough to shuffle test data. */
export function seededRandom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

/** Categories with a rough count a device and whether a chip is unmarked plain hardware. */
const KINDS: readonly {
  term: string;
  letter: string;
  package: string;
  pins: number;
  weight: number;
  plain?: true;
  width?: number;
}[] = [
  { term: 'Accelerometer', letter: 'U', package: 'LGA-12', pins: 12, weight: 5 },
  { term: 'Gyroscope', letter: 'U', package: 'LGA-14', pins: 14, weight: 3 },
  { term: 'OpticalSensor', letter: 'U', package: 'OLGA-14', pins: 14, weight: 3 },
  { term: 'PressureSensor', letter: 'U', package: 'HLGA-10', pins: 10, weight: 2 },
  { term: 'TemperatureSensor', letter: 'U', package: 'DFN-6', pins: 6, weight: 2 },
  { term: 'Microphone', letter: 'MK', package: 'LGA-5', pins: 5, weight: 2 },
  { term: 'Microcontroller', letter: 'U', package: 'QFN-48', pins: 48, weight: 4, width: 32 },
  { term: 'SensorHub', letter: 'U', package: 'WLCSP-36', pins: 36, weight: 1, width: 16 },
  { term: 'BluetoothRadio', letter: 'U', package: 'QFN-32', pins: 32, weight: 3 },
  { term: 'AnalogFrontEnd', letter: 'U', package: 'WLCSP-25', pins: 25, weight: 3 },
  { term: 'OperationalAmplifier', letter: 'U', package: 'SOT-23-5', pins: 5, weight: 3 },
  { term: 'LinearRegulator', letter: 'U', package: 'DFN-4', pins: 4, weight: 4 },
  { term: 'BuckConverter', letter: 'U', package: 'WLCSP-6', pins: 6, weight: 3 },
  { term: 'BoostConverter', letter: 'U', package: 'DFN-8', pins: 8, weight: 2 },
  { term: 'Charger', letter: 'U', package: 'DFN-10', pins: 10, weight: 2 },
  { term: 'FuelGauge', letter: 'U', package: 'WLCSP-9', pins: 9, weight: 2 },
  { term: 'LoadSwitch', letter: 'U', package: 'WLCSP-4', pins: 4, weight: 2 },
  { term: 'FlashMemory', letter: 'U', package: 'USON-8', pins: 8, weight: 2 },
  { term: 'FlexConnector', letter: 'J', package: 'FPC-20', pins: 20, weight: 3, plain: true },
  { term: 'Inductor', letter: 'L', package: '1008', pins: 2, weight: 4, plain: true },
  { term: 'Capacitor', letter: 'C', package: '0402', pins: 2, weight: 8, plain: true },
  { term: 'Crystal', letter: 'Y', package: '2016', pins: 4, weight: 2, plain: true },
  { term: 'GreenEmitter', letter: 'DS', package: '0603', pins: 2, weight: 2, plain: true },
  { term: 'ChipAntenna', letter: 'E', package: '3216', pins: 2, weight: 1, plain: true },
];
const SITES = ['wrist', 'finger', 'ear', 'chest', 'head', 'ankle', 'eyewear'] as const;
const MAKERS = 20;
const CHIP_MAKERS = 30;
const PARTS_A_KIND = 40;
const GENERATIONS = 5;

/** The catalogue that all generated devices share: invented makers, lines and parts. */
export function generateCatalogue(devices: number, random: () => number): Catalogue {
  const chipMaker = () => `chips-${Math.floor(random() * CHIP_MAKERS)}`;
  return catalogueSchema.parse({
    caseback: 'catalogue/1',
    makers: [
      ...Array.from({ length: MAKERS }, (_, i) => ({
        id: `maker-${i}`,
        name: `Maker ${i}`,
        makes: ['devices'],
        invented: true,
      })),
      ...Array.from({ length: CHIP_MAKERS }, (_, i) => ({
        id: `chips-${i}`,
        name: `Chips ${i}`,
        makes: ['parts'],
        invented: true,
      })),
    ],
    families: Array.from({ length: Math.ceil(devices / GENERATIONS) }, (_, i) => ({
      id: `line-${i}`,
      name: `Line ${i}`,
      maker: `maker-${i % MAKERS}`,
    })),
    parts: KINDS.filter(({ plain }) => !plain).flatMap(({ term, package: body, pins, width }, k) =>
      Array.from({ length: PARTS_A_KIND }, (_, i) => {
        const number = `G${String(k).padStart(2, '0')}${String(i * 7 + 100)}`;
        return {
          number,
          maker: chipMaker(),
          categories: [term],
          package: body,
          pins,
          markings: [`${number}{lot:2}{date:YWW}`],
          introduced: String(2008 + Math.floor(random() * 16)),
          parameters: {
            supplyMin: '1.7 V',
            supplyMax: '3.6 V',
            ...(width ? { wordWidth: `${width} bit` } : {}),
          },
        };
      }),
    ),
  });
}

/**
 * Dossiers of invented devices with 20 to 60 components each on one to three boards: placed, marked (one marking in
 * twenty misread), connected, identified with doubt. The same seed gives the same archive.
 */
export function* generateDossiers(
  count: number,
  catalogue: Catalogue,
  random: () => number,
): Generator<Dossier> {
  const partsOf = new Map(
    KINDS.map(({ term }) => [term, catalogue.parts.filter(({ categories }) => categories.includes(term))]),
  );
  const weighted = KINDS.flatMap((kind) => Array.from({ length: kind.weight }, () => kind));
  const pick = <T>(items: readonly T[]): T => items[Math.floor(random() * items.length)];
  const between = (low: number, high: number) => low + random() * (high - low);
  const round = (value: number) => Number(value.toFixed(2));
  for (let n = 0; n < count; n++) {
    const line = Math.floor(n / GENERATIONS);
    const generation = n % GENERATIONS;
    const year = 2013 + Math.min(13, generation * 2 + (line % 4));
    const boards = Array.from({ length: 1 + Math.floor(random() * 3) }, (_, i) => ({
      id: i === 0 ? 'main' : `flex${i}`,
      kind: i === 0 ? ('rigid' as const) : ('flex' as const),
      outline: { length: round(between(18, 40)), width: round(between(10, 25)) },
    }));
    const numbers = new Map<string, number>();
    const components: unknown[] = [];
    const observations: unknown[] = [];
    const identifications: unknown[] = [];
    const size = 20 + Math.floor(random() * 41);
    for (let c = 0; c < size; c++) {
      const kind = pick(weighted);
      const number = (numbers.get(kind.letter) ?? 0) + 1;
      numbers.set(kind.letter, number);
      const id = `${kind.letter}${number}`;
      const board = pick(boards);
      const part = kind.plain ? undefined : pick(partsOf.get(kind.term) as Catalogue['parts']);
      const marking = part
        ? `${part.number}${pick(['K7', 'A3', 'P9'])}${year % 10}${10 + Math.floor(random() * 42)}`
        : undefined;
      components.push({
        id,
        board: board.id,
        side: random() < 0.7 ? 'top' : 'bottom',
        at: { x: round(random() * board.outline.length), y: round(random() * board.outline.width) },
        package: kind.package,
        pins: kind.pins,
        ...(kind.plain ? { appears: kind.term } : {}),
        ...(marking
          ? { marking: random() < 0.05 ? marking.replace(/\d/u, '?') : marking, reading: 0.95 }
          : {}),
      });
      if (!part) continue;
      observations.push({
        id: `o${c}`,
        about: [id],
        kind: 'marking',
        marking,
        on: '2026-01',
        by: 'generator',
      });
      const sure = random();
      if (sure < 0.08) continue;
      const rival = pick(partsOf.get(kind.term) as Catalogue['parts']);
      const certain = sure > 0.35;
      identifications.push({
        component: id,
        candidates: [
          { part: `${part.maker}/${part.number}`, probability: certain ? 0.98 : 0.7 },
          ...(certain || rival === part
            ? []
            : [{ part: `${rival.maker}/${rival.number}`, probability: 0.2 }]),
        ],
        state: certain ? 'settled' : 'favoured',
        basis: [`o${c}`],
      });
    }
    const ids = (components as { id: string }[]).map(({ id }) => id);
    const connections = Array.from({ length: Math.floor(size * 1.3) }, () => [pick(ids), pick(ids)] as const)
      .filter(([a, b]) => a !== b)
      .map(([a, b]) => ({
        between: [a, b],
        medium: 'trace',
        bus: pick(['I2C', 'SPI', 'power', 'analog', 'GPIO']),
      }));
    yield dossierSchema.parse({
      caseback: 'dossier/1',
      device: {
        id: `line-${line}-g${generation + 1}`,
        name: `Line ${line} generation ${generation + 1}`,
        maker: `maker-${line % MAKERS}`,
        family: `line-${line}`,
        released: `${year}-0${1 + Math.floor(random() * 9)}`,
        bodySite: SITES[line % SITES.length],
        mass: `${Math.round(between(3, 60))} g`,
        succeeds: generation > 0 ? [`line-${line}-g${generation}`] : [],
        invented: true,
      },
      specimen: { id: 'a', bought: '2026' },
      teardown: { on: '2026-01', by: 'generator', hazards: ['lithium-cell'] },
      boards,
      components,
      connections,
      observations,
      identifications,
    });
  }
}
