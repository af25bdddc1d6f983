import { Archive } from '../../src/archive.ts';
import type { ReadDocument } from '../../src/dossier/document/document.ts';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import { type Catalogue, catalogueSchema, type Part, partIdOf } from '../../src/model/catalogue.ts';
import { type Dossier, dossierSchema } from '../../src/model/dossier.ts';
import { seededRandom } from '../bench/generate.ts';

// An invented archive whose truth is known apart from its identifications: worn and misread markings, miscounted
// terminals, packages taken for others, body sizes measured with error, parts that no catalogue has. Rates here are
// those of the world, not of the model: they are set apart from the constants in src/identify on purpose.

const KINDS = [
  { term: 'Accelerometer', packages: ['LGA-12', 'LGA-14'], partner: 'Microcontroller', bus: 'I2C' },
  { term: 'Gyroscope', packages: ['LGA-14', 'LGA-16'], partner: 'Microcontroller', bus: 'SPI' },
  { term: 'PressureSensor', packages: ['LGA-8', 'LGA-10'], partner: 'Microcontroller', bus: 'I2C' },
  { term: 'Microcontroller', packages: ['QFN-48', 'WLCSP-49'], partner: 'Memory', bus: 'QSPI' },
  { term: 'Memory', packages: ['SOIC-8', 'WLCSP-8'], partner: 'Microcontroller', bus: 'QSPI' },
  { term: 'Charger', packages: ['DFN-10', 'WLCSP-9'], partner: 'Microcontroller', bus: 'I2C' },
  { term: 'BuckConverter', packages: ['DFN-8', 'SOT-23-6'], partner: 'Charger', bus: 'power' },
  { term: 'LinearRegulator', packages: ['SOT-23-5', 'DFN-4'], partner: 'Charger', bus: 'power' },
  { term: 'BluetoothRadio', packages: ['QFN-48', 'QFN-40'], partner: 'Microcontroller', bus: 'UART' },
  { term: 'HapticDriver', packages: ['WLCSP-9', 'DFN-10'], partner: 'Microcontroller', bus: 'I2C' },
] as const;

const PARTS_A_KIND = 24;
const CHIP_MAKERS = 12;
const DEVICE_MAKERS = 8;
/** Share of placed chips that no catalogue has. */
const UNLISTED = 0.08;
/** Share of chips whose marking was never read, and of read characters that are misread or worn away. */
const NO_MARKING = 0.12;
const MISREAD = 0.06;
const WORN = 0.05;
/** Share of markings that a customer had printed to its own wish. */
const OWN_MARKING = 0.015;
const MISCOUNTED = 0.03;
const PACKAGE_MISTAKEN = 0.05;
/** Share of chips that somebody has settled; the others teach nothing. */
const SETTLED = 0.8;
const ALIKE: Readonly<Record<string, string>> = {
  ...{ '0': 'O', O: '0', '1': 'I', I: '1', '5': 'S', S: '5', '8': 'B', B: '8', '2': 'Z', Z: '2' },
  ...{ '6': 'G', G: 'C', C: 'G', U: 'V', V: 'U', E: 'F', P: 'R', M: 'N' },
};
const LETTERS = 'ABCDEFGHKLMNPRSTUVXYZ';

export interface SeededArchive {
  readonly archive: Archive;
  /** Part id of each component by specimen id and designator; an id that the catalogue lacks for an unlisted one. */
  readonly truth: (specimen: string, component: string) => string | undefined;
}

/** Generates and imports; the same seed gives the same archive. */
export async function seededArchive(devices: number, seed: number): Promise<SeededArchive> {
  const world = new World(seed);
  const dossiers = Array.from({ length: devices }, (_, number) => world.dossier(number));
  const archive = await Archive.open(new MemoryJournal());
  const place = { file: 'generated', locate: () => ({ line: 1, column: 1 }) };
  const documents: ReadDocument[] = [
    { ...place, kind: 'catalogue', catalogue: world.catalogue },
    ...dossiers.map((dossier) => ({ ...place, kind: 'dossier' as const, dossier })),
  ];
  await archive.importDocuments(documents, { actor: 'generator', reason: 'seeded' });
  return { archive, truth: (specimen, component) => world.truth.get(`${specimen}/${component}`) };
}

class World {
  readonly catalogue: Catalogue;
  readonly truth = new Map<string, string>();
  readonly #random: () => number;
  readonly #parts: ReadonlyMap<string, readonly Part[]>;

  constructor(seed: number) {
    this.#random = seededRandom(seed);
    this.catalogue = catalogueSchema.parse({
      caseback: 'catalogue/1',
      makers: [
        ...this.#makers('maker', DEVICE_MAKERS, 'devices'),
        ...this.#makers('chips', CHIP_MAKERS, 'parts'),
      ],
      parts: KINDS.flatMap((_, kind) => Array.from({ length: PARTS_A_KIND }, () => this.#part(kind))),
    });
    this.#parts = new Map(
      KINDS.map(({ term }) => [
        term,
        this.catalogue.parts.filter(({ categories }) => categories[0] === term),
      ]),
    );
  }

  dossier(number: number): Dossier {
    const id = `device-${number}`;
    const maker = number % DEVICE_MAKERS;
    const year = 2012 + this.#below(10);
    const components: object[] = [];
    const identifications: object[] = [];
    const terms: string[] = [];
    const size = 8 + this.#below(10);
    for (let c = 1; c <= size; c++) {
      const kind = this.#below(KINDS.length);
      const { term } = KINDS[kind];
      const designator = `U${c}`;
      const listed = this.#random() >= UNLISTED;
      const part = listed ? this.#chosen(term, maker, year) : this.#part(kind);
      terms.push(term);
      this.truth.set(`${id}/a/${designator}`, partIdOf(part));
      components.push({ id: designator, board: 'main', ...this.#seen(part, year) });
      if (listed && this.#random() < SETTLED)
        identifications.push({
          component: designator,
          candidates: [{ part: partIdOf(part), probability: 0.98 }],
          state: 'settled',
        });
    }
    return dossierSchema.parse({
      caseback: 'dossier/1',
      device: {
        id,
        name: `Device ${number}`,
        maker: `maker-${maker}`,
        released: String(year),
        bodySite: 'wrist',
        invented: true,
      },
      specimen: { id: 'a' },
      teardown: { on: '2024-01', by: 'generator' },
      boards: [{ id: 'main', kind: 'rigid', outline: { length: 30, width: 20 } }],
      components,
      connections: this.#connections(terms),
      identifications,
    });
  }

  /** Makers of devices keep to a few makers of parts, and to parts that are not too new. */
  #chosen(term: string, maker: number, year: number): Part {
    const parts = (this.#parts.get(term) as readonly Part[]).filter(
      ({ introduced }) => Number(introduced) <= year || this.#random() < 0.01,
    );
    const liked = parts.filter((part) => Number(part.maker.slice(6)) % 4 === maker % 4);
    const from = liked.length > 0 && this.#random() < 0.6 ? liked : parts;
    // Some parts are used far more than others.
    return from[Math.floor(this.#random() ** 2 * from.length)];
  }

  #part(kind: number): Part {
    const { term, packages } = KINDS[kind];
    const letters = () => LETTERS[this.#below(LETTERS.length)];
    const number = `${letters()}${letters()}${100 + this.#below(900)}`;
    const body = packages[this.#below(packages.length)];
    const lines = this.#random() < 0.5 ? '\n' : '';
    return catalogueSchema.shape.parts.unwrap().element.parse({
      number,
      maker: `chips-${this.#below(CHIP_MAKERS)}`,
      categories: [term],
      package: body,
      pins: Number(/\d+$/u.exec(body)?.[0] ?? 4),
      body: { length: this.#tenths(15, 60), width: this.#tenths(10, 50) },
      markings: [`${number}${lines}{lot:2}{date:YWW}`],
      introduced: String(2006 + this.#below(12)),
    });
  }

  /** What the bench wrote down of a chip. */
  #seen(part: Part, year: number): object {
    // Nobody takes a package for one with a fifth of its terminals.
    const others = KINDS.flatMap(({ packages }) => packages).filter(
      (one) => one !== part.package && 4 * Number(/\d+$/u.exec(one)?.[0]) >= (part.pins ?? 4),
    );
    const measured = (mm: number) => Number((mm + this.#normal() * (0.06 + 0.015 * mm)).toFixed(2));
    const hidden = /^WLCSP/u.test(part.package ?? '');
    return {
      side: this.#random() < 0.7 ? 'top' : 'bottom',
      package: this.#random() < PACKAGE_MISTAKEN ? others[this.#below(others.length)] : part.package,
      ...(!hidden && this.#random() < 0.6
        ? { pins: (part.pins ?? 4) + (this.#random() < MISCOUNTED ? 1 : 0) }
        : {}),
      ...(this.#random() < 0.6 && part.body
        ? { body: { length: measured(part.body.length), width: measured(part.body.width) } }
        : {}),
      ...(this.#random() < NO_MARKING ? {} : { marking: this.#read(this.#printed(part, year)) }),
    };
  }

  #printed(part: Part, year: number): string {
    const date = `${year % 10}${String(1 + this.#below(52)).padStart(2, '0')}`;
    const lot = `${LETTERS[this.#below(LETTERS.length)]}${this.#below(10)}`;
    if (this.#random() < OWN_MARKING) return `${lot}${this.#below(900)}${date}`;
    return part.markings[0].replace('{lot:2}', lot).replace('{date:YWW}', date);
  }

  /** A marking as an eye reads it; a worn chip loses more. */
  #read(printed: string): string {
    const worn = this.#random() < 0.15 ? 6 * WORN : WORN;
    return [...printed]
      .map((character) => {
        if (character === '\n') return character;
        if (this.#random() < worn) return '?';
        return character in ALIKE && this.#random() < MISREAD ? ALIKE[character] : character;
      })
      .join('');
  }

  /** Chips hang on the kind of chip they mostly work with, now and then on any other. */
  #connections(terms: readonly string[]): object[] {
    return terms.flatMap((term, from) => {
      const kind = KINDS.find((one) => one.term === term);
      const fitting = terms.flatMap((other, to) => (other === kind?.partner && to !== from ? [to] : []));
      const to =
        fitting.length > 0 && this.#random() < 0.8
          ? fitting[this.#below(fitting.length)]
          : this.#below(terms.length);
      return to === from
        ? []
        : [{ between: [`U${from + 1}`, `U${to + 1}`], medium: 'trace', bus: kind?.bus }];
    });
  }

  #makers(prefix: string, count: number, makes: 'devices' | 'parts'): object[] {
    return Array.from({ length: count }, (_, i) => ({
      id: `${prefix}-${i}`,
      name: `${prefix} ${i}`,
      makes: [makes],
      invented: true,
    }));
  }

  #below(limit: number): number {
    return Math.floor(this.#random() * limit);
  }

  #tenths(low: number, high: number): number {
    return (low + this.#below(high - low)) / 10;
  }

  /** Box-Muller. */
  #normal(): number {
    return Math.sqrt(-2 * Math.log(1 - this.#random())) * Math.cos(2 * Math.PI * this.#random());
  }
}
