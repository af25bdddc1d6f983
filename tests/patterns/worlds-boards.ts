import { readFileSync } from 'node:fs';
import { parse } from 'yaml';
import type { z } from 'zod';
import type { NodeInput, SegmentInput } from '../../src/gql/gql.ts';
import { PatternGraph, runPattern } from '../../src/gql/gql.ts';
import type { dossierSchema } from '../../src/model/dossier.ts';
import type { Random } from '../../src/statistics/random.ts';

// Small random devices in which most components are uncertain, as dossiers and as what they mean: a graph of certain labels
// for every world. A world picks one rival or none for each uncertain component, by itself; what a component appears to be
// is true in all of them. The graphs are made here by hand: nothing of src/patterns and src/state decides what is in them.

/** Parts of the catalogue that the devices use. */
export const PARTS = [
  { number: 'ACC1', maker: 'quistle', categories: ['Accelerometer'] },
  { number: 'IMU2', maker: 'quistle', categories: ['Accelerometer', 'Gyroscope'] },
  { number: 'GYR3', maker: 'ostrel', categories: ['Gyroscope'] },
  { number: 'PD4', maker: 'ostrel', categories: ['Photodiode'] },
  { number: 'LDO5', maker: 'quistle', categories: ['LinearRegulator'] },
  { number: 'BCK6', maker: 'ostrel', categories: ['BuckConverter'] },
  { number: 'SOC7', maker: 'quistle', categories: ['Microcontroller', 'BluetoothRadio'] },
  { number: 'FLS8', maker: 'ostrel', categories: ['FlashMemory'] },
] as const;

/** Categories of rivals, at several depths of the taxonomy. */
const CATEGORIES = [
  'Sensor',
  'InertialSensor',
  'Accelerometer',
  'Gyroscope',
  'OpticalSensor',
  'Regulator',
  'LinearRegulator',
  'Processor',
  'Microcontroller',
  'BluetoothRadio',
  'Memory',
] as const;
/** What components may plainly look like, beside what is identified. */
const LOOKS = ['Sensor', 'Memory', 'Regulator', 'Connector', 'Capacitor', 'Resistor'] as const;

const UNDER: ReadonlyMap<string, string | undefined> = new Map(
  Object.entries(
    (parse(readFileSync('schema/taxonomy.yaml', 'utf8')) as { terms: Record<string, { under?: string }> })
      .terms,
  ).map(([term, { under }]) => [term, under]),
);
function withAbove(term: string): string[] {
  const above = UNDER.get(term);
  return [term, ...(above === undefined ? [] : withAbove(above))];
}

interface Rival {
  readonly candidate: { readonly part?: string; readonly category?: string };
  readonly probability: number;
}
interface Drawn {
  readonly id: string;
  readonly appears?: string;
  readonly board: string;
  readonly side: 'top' | 'bottom';
  readonly pins?: number;
  readonly rivals: readonly Rival[];
}
export interface DrawnSpecimen {
  readonly components: readonly Drawn[];
  readonly connections: readonly {
    readonly between: [string, string];
    readonly medium: 'trace' | 'flex';
    readonly bus?: 'I2C' | 'SPI';
  }[];
}
export interface DrawnDevice {
  readonly id: string;
  readonly specimens: readonly DrawnSpecimen[];
}

/**
 * A device of six to nine components, four to six of them uncertain with one to three rivals.
 * @param uncertain number of uncertain components instead
 */
export function drawDevice(
  random: Random,
  id: string,
  { specimens = 1, uncertain }: { specimens?: number; uncertain?: number } = {},
): DrawnDevice {
  return { id, specimens: Array.from({ length: specimens }, () => drawSpecimen(random, uncertain)) };
}

function drawSpecimen(random: Random, doubtful: number | undefined): DrawnSpecimen {
  const size = random.integer(6, 9);
  const uncertain = doubtful ?? random.integer(4, Math.min(6, size - 1));
  const components = Array.from({ length: size }, (_, at): Drawn => {
    const base = {
      id: `U${at + 1}`,
      board: random.pick(['main', 'flex']),
      side: random.pick(['top', 'bottom'] as const),
      ...(random.chance(0.8) ? { pins: random.integer(2, 12) } : {}),
    };
    if (at < uncertain) return { ...base, ...drawRivals(random) };
    if (random.chance(0.4)) return { ...base, appears: random.pick(LOOKS), rivals: [] };
    const candidate = random.chance(0.5) ? { part: partId(random) } : { category: random.pick(CATEGORIES) };
    return { ...base, rivals: [{ candidate, probability: 1 }] };
  });
  const ids = components.map((one) => one.id);
  const pairs = ids.flatMap((one, at) => ids.slice(at + 1).map((other) => [one, other] as [string, string]));
  return {
    components,
    connections: random
      .shuffled(pairs)
      .slice(0, size + random.integer(0, 2))
      .map((between) => ({
        between: random.chance(0.5) ? between : [between[1], between[0]],
        medium: random.pick(['trace', 'flex'] as const),
        ...(random.chance(0.5) ? { bus: random.pick(['I2C', 'SPI'] as const) } : {}),
      })),
  };
}

const partId = (random: Random) => {
  const { maker, number } = random.pick(PARTS);
  return `${maker}/${number}`;
};

/**
 * Rivals, and what the component looks like. Without a look, or as a chip, its first rival has at least even odds:
 * else the archive would add kinds that it has learnt from other devices.
 */
function drawRivals(random: Random): Pick<Drawn, 'appears' | 'rivals'> {
  const appears = random.chance(0.5)
    ? random.pick(LOOKS)
    : random.chance(0.3)
      ? 'IntegratedCircuit'
      : undefined;
  const isNamed = appears !== undefined && appears !== 'IntegratedCircuit';
  const chosen = new Map<string, Rival['candidate']>();
  const count = random.weighted([0, 2, 5, 1]);
  while (chosen.size < count) {
    const candidate = random.chance(0.5)
      ? { part: partId(random) }
      : // A test pad is no component unless it looks like one.
        { category: chosen.size > 0 && random.chance(0.08) ? 'TestPad' : random.pick(CATEGORIES) };
    chosen.set(JSON.stringify(candidate), candidate);
  }
  const weights = Array.from({ length: count }, () => random.integer(1, 9));
  const rest = random.chance(0.15) ? 0 : random.integer(1, 6);
  const total = weights.reduce((sum, one) => sum + one, rest);
  const shares = weights.map((one) => one / total);
  if (!isNamed) {
    const first = 0.5 + random.integer(2, 30) / 100;
    const others = shares.slice(1).reduce((sum, one) => sum + one, rest / total);
    shares.forEach((share, at) => {
      shares[at] = at === 0 ? first : (share / (others || 1)) * (1 - first);
    });
  }
  const rivals = [...chosen.values()].map((candidate, at) => ({
    candidate,
    probability: Math.floor(shares[at] * 1e4) / 1e4,
  }));
  return appears === undefined ? { rivals } : { appears, rivals };
}

/** The same device with a component, the last of its first specimen, that nobody identified, or weakly. */
export function withUnidentified(random: Random, device: DrawnDevice): DrawnDevice {
  const [{ components, connections }] = device.specimens;
  const { appears, ...last } = components[components.length - 1];
  const rivals = random.chance(0.5) ? [{ candidate: { category: 'Memory' }, probability: 0.3 }] : [];
  return {
    ...device,
    specimens: [{ components: [...components.slice(0, -1), { ...last, rivals }], connections }],
  };
}

/**
 * The same device with the kinds that the archive thinks possible for an unidentified component as further rivals.
 * @param kindsOf by id of the component; none for components that are identified
 */
export function withKinds(
  device: DrawnDevice,
  kindsOf: (
    id: string,
  ) => readonly { readonly category?: string | undefined; readonly probability: number }[],
): DrawnDevice {
  const specimens = device.specimens.map(({ components, connections }) => ({
    components: components.map((one) => ({
      ...one,
      rivals: [
        ...one.rivals,
        ...kindsOf(one.id).map(({ category, probability }) => ({
          candidate: { category: category as string },
          probability,
        })),
      ],
    })),
    connections,
  }));
  return { ...device, specimens };
}

/** The dossiers of a device, as a file has them. */
export function dossiersOf(
  device: DrawnDevice,
): Omit<z.input<typeof dossierSchema>, 'caseback' | 'teardown'>[] {
  return device.specimens.map(({ components, connections }, at) => ({
    device:
      at > 0
        ? device.id
        : { id: device.id, name: device.id, maker: 'tarn', released: '2016-05', bodySite: 'wrist' as const },
    specimen: { id: 'ab'[at] },
    boards: [
      { id: 'main', kind: 'rigid' as const },
      { id: 'flex', kind: 'flex' as const },
    ],
    components: components.map(({ rivals, ...component }) => component),
    connections: connections.map((one) => ({ ...one, between: [...one.between] as [string, string] })),
    identifications: components.flatMap(({ id, rivals }) =>
      rivals.length === 0
        ? []
        : [
            {
              component: id,
              candidates: rivals.map(({ candidate, probability }) => ({ ...candidate, probability })),
              state: 'favoured' as const,
            },
          ],
    ),
  }));
}

/** The catalogue as nodes: what IDENTIFIED_AS leads to. */
const CATALOGUE: SegmentInput = {
  grouped: false,
  nodes: [
    { id: 'tarn', labels: ['Maker'], properties: { id: 'tarn' } },
    { id: 'quistle', labels: ['Maker'], properties: { id: 'quistle' } },
    { id: 'ostrel', labels: ['Maker'], properties: { id: 'ostrel' } },
    ...PARTS.map(({ number, maker }) => ({
      id: `${maker}/${number}`,
      labels: ['Part'],
      properties: { number },
    })),
  ],
  edges: PARTS.map(({ number, maker }) => ({
    source: `${maker}/${number}`,
    target: maker,
    label: 'MADE_BY',
  })),
};

/** Worlds of a specimen, each with its probability: one rival, or undefined for none, of every component with rivals. */
function* worldsOf({
  components,
}: DrawnSpecimen): Generator<{ weight: number; picked: ReadonlyMap<string, Rival> }> {
  function* from(
    at: number,
    weight: number,
    picked: readonly (readonly [string, Rival])[],
  ): ReturnType<typeof worldsOf> {
    if (at === components.length) {
      yield { weight, picked: new Map(picked) };
      return;
    }
    const { id, rivals } = components[at];
    for (const rival of rivals) yield* from(at + 1, weight * rival.probability, [...picked, [id, rival]]);
    const rest = 1 - rivals.reduce((sum, { probability }) => sum + probability, 0);
    if (rest > 1e-9) yield* from(at + 1, weight * rest, picked);
  }
  yield* from(0, 1, []);
}

/** Labels of a component that is what was picked, or only what it looks like. */
function labelsIn({ appears }: Drawn, picked: Rival | undefined): string[] {
  const named =
    picked === undefined
      ? []
      : picked.candidate.part === undefined
        ? [picked.candidate.category as string]
        : (PARTS.find(({ maker, number }) => `${maker}/${number}` === picked.candidate.part)?.categories ??
          []);
  const isFeature = named.some((term) => withAbove(term).includes('BoardFeature'));
  const seen = isFeature && appears === undefined ? [] : withAbove(appears ?? 'Component');
  return [...new Set([...seen, ...named.flatMap(withAbove)])];
}

/** A specimen in one world, every label certain. */
function segmentOf(
  prefix: string,
  { components, connections }: DrawnSpecimen,
  picked: ReadonlyMap<string, Rival>,
): SegmentInput {
  const nodes: NodeInput[] = [
    { id: `${prefix}device`, labels: ['Device'], properties: { year: 2016, bodySite: 'wrist' } },
    { id: `${prefix}specimen`, labels: ['Specimen'] },
    { id: `${prefix}main`, labels: ['Board'], properties: { kind: 'rigid' } },
    { id: `${prefix}flex`, labels: ['Board'], properties: { kind: 'flex' } },
    ...components.map((one) => ({
      id: prefix + one.id,
      labels: labelsIn(one, picked.get(one.id)),
      properties: { designator: one.id, side: one.side, pins: one.pins },
    })),
  ];
  return {
    nodes,
    edges: [
      { source: `${prefix}device`, target: 'tarn', label: 'MADE_BY' },
      { source: `${prefix}specimen`, target: `${prefix}device`, label: 'SPECIMEN_OF' },
      { source: `${prefix}specimen`, target: `${prefix}main`, label: 'HAS_BOARD' },
      { source: `${prefix}specimen`, target: `${prefix}flex`, label: 'HAS_BOARD' },
      ...components.map(({ id, board }) => ({ source: prefix + id, target: prefix + board, label: 'ON' })),
      ...connections.map(({ between: [source, target], medium, bus }) => ({
        source: prefix + source,
        target: prefix + target,
        label: 'CONNECTS',
        directed: false,
        properties: { medium, bus },
      })),
      ...[...picked].flatMap(([id, { candidate, probability }]) =>
        candidate.part === undefined
          ? []
          : [
              {
                source: prefix + id,
                target: candidate.part,
                label: 'IDENTIFIED_AS',
                properties: { probability, state: 'favoured' },
              },
            ],
      ),
    ],
  };
}

/** A text and how it is asked. */
export interface AskedOfWorlds {
  readonly text: string;
  /** Whether different node patterns match different things. */
  readonly distinctNodes: boolean;
}

interface World {
  readonly weight: number;
  /** Keys of the segments that are seen in it. */
  readonly segments: readonly string[];
  readonly labels: readonly (readonly string[])[];
  readonly parts: string;
}

/** All worlds of a device, ready to be asked. */
export class EnumeratedDevice {
  readonly device: DrawnDevice;
  readonly #graph = new PatternGraph();
  /** By specimen. */
  readonly #worlds: readonly (readonly World[])[];

  constructor(device: DrawnDevice) {
    this.device = device;
    this.#graph.putSegment('catalogue', CATALOGUE);
    let made = 0;
    this.#worlds = device.specimens.map((specimen) =>
      Array.from(worldsOf(specimen), ({ weight, picked }) => {
        const key = `w${made++}`;
        this.#graph.putSegment(key, segmentOf(`${key}/`, specimen, picked));
        return {
          weight,
          segments: [key, 'catalogue'],
          labels: specimen.components.map((one) => labelsIn(one, picked.get(one.id))),
          parts: specimen.components.map(({ id }) => picked.get(id)?.candidate.part ?? '').join(),
        };
      }),
    );
  }

  /** Sum of the weights of the worlds in which the text has a row; the maximum over specimens. */
  async probability(asked: AskedOfWorlds): Promise<number> {
    const each: number[] = [];
    for (const worlds of this.#worlds) {
      const answers = new Map<string, boolean>();
      let sum = 0;
      for (const world of worlds) {
        const seen = seenBy(asked.text, world);
        if (!answers.has(seen)) answers.set(seen, (await this.#rows(asked, world, 1)) > 0);
        if (answers.get(seen)) sum += world.weight;
      }
      each.push(sum);
    }
    return Math.max(...each);
  }

  /** Number of rows in the only world of a device without doubt. */
  rows(asked: AskedOfWorlds): Promise<number> {
    return this.#rows(asked, this.#worlds[0][0], 10_000);
  }

  async #rows({ text, distinctNodes }: AskedOfWorlds, { segments }: World, most: number): Promise<number> {
    // A text that says REPEATABLE ELEMENTS means it.
    const differ = distinctNodes && !text.includes('REPEATABLE ELEMENTS');
    const options = { segments, distinctNodes: differ, where: 'here', budgets: { rows: most } } as const;
    return (await runPattern(this.#graph, text, options)).rows.length;
  }
}

/** What a text can tell of a world: the labels that it names, and parts where it follows edges to them. It is the same in worlds that are equal in these. */
function seenBy(text: string, { labels, parts }: World): string {
  const named = (terms: readonly string[]) => terms.filter((term) => text.includes(term)).sort();
  return labels.map((terms) => named(terms).join()).join(';') + (text.includes('IDENTIFIED_AS') ? parts : '');
}
