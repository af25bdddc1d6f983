import { type Catalogue, catalogueSchema, type Part, partIdOf } from '../../src/model/catalogue.ts';
import { BODY_SITES, type Dossier, dossierSchema } from '../../src/model/dossier.ts';
import { KINDS, type Kind } from './generate-kinds.ts';

// Archives of any size, invented throughout: the same seed gives the same archive.

const MAKERS = 20;
const CHIP_MAKERS = 30;
const PARTS_A_KIND = 40;
const MISREAD = 0.05;
/** Characters that are taken for one another on a package, in both directions (common practice, no source). */
const ALIKE: Readonly<Record<string, string>> = { '0': 'O', '8': 'B', '5': 'S', '1': 'I', '2': 'Z', G: '6' };

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

/** Product line and generation of each device: lines of two to six generations. */
function linesOf(devices: number): readonly { readonly line: number; readonly generation: number }[] {
  const lengths = seededRandom(devices + 1);
  const all: { line: number; generation: number }[] = [];
  for (let line = 0; all.length < devices; line++) {
    const length = 2 + Math.floor(lengths() * 5);
    for (let generation = 1; generation <= length && all.length < devices; generation++)
      all.push({ line, generation });
  }
  return all;
}

/** The catalogue that all generated devices share: makers, product lines and 720 parts. */
export function generateCatalogue(devices: number, random: () => number): Catalogue {
  const maker = (id: string, name: string, makes: 'devices' | 'parts') => ({
    id,
    name,
    makes: [makes],
    invented: true,
  });
  const lines = (linesOf(devices).at(-1)?.line ?? -1) + 1;
  return catalogueSchema.parse({
    caseback: 'catalogue/1',
    makers: [
      ...Array.from({ length: MAKERS }, (_, i) => maker(`maker-${i}`, `Maker ${i}`, 'devices')),
      ...Array.from({ length: CHIP_MAKERS }, (_, i) => maker(`chips-${i}`, `Chips ${i}`, 'parts')),
    ],
    productLines: Array.from({ length: lines }, (_, i) => ({
      id: `line-${i}`,
      name: `Line ${i}`,
      maker: `maker-${i % MAKERS}`,
    })),
    parts: KINDS.filter(({ plain }) => !plain).flatMap((kind, k) =>
      Array.from({ length: PARTS_A_KIND }, (_, i) => partOf(kind, k, i, random)),
    ),
  });
}

function partOf(kind: Kind, k: number, i: number, random: () => number): object {
  const number = `G${String(k).padStart(2, '0')}${String(i * 7 + 100)}`;
  return {
    number,
    maker: `chips-${Math.floor(random() * CHIP_MAKERS)}`,
    categories: [kind.term],
    package: kind.package,
    pins: kind.pins,
    markings: [`${number}{lot:2}{date:YWW}`],
    introduced: String(2004 + Math.floor(random() * 9)),
    parameters: {
      supplyMin: '1.7 V',
      supplyMax: '3.6 V',
      ...(kind.width ? { wordWidth: `${kind.width} bit` } : {}),
    },
  };
}

/**
 * Dossiers of devices with 20 to 60 components each on one to three boards: placed, connected, identified with doubt,
 * one marking in twenty misread, half of those put right later. A line keeps most of its parts from one generation to
 * the next; one dossier in fifty is a draft or under embargo.
 */
export function* generateDossiers(
  count: number,
  catalogue: Catalogue,
  random: () => number,
): Generator<Dossier> {
  const bench = new Bench(catalogue, random);
  for (const { line, generation } of linesOf(count)) yield bench.dossier(line, generation);
}

class Bench {
  readonly #random: () => number;
  readonly #parts: ReadonlyMap<string, readonly Part[]>;
  readonly #kinds = KINDS.flatMap((kind) => Array.from({ length: kind.weight }, () => kind));
  /** Parts that a line has used, by kind. */
  #used = new Map<string, Part>();
  /** Whether the dossier made last is a draft or under embargo. */
  #hidBefore = false;

  constructor(catalogue: Catalogue, random: () => number) {
    this.#random = random;
    this.#parts = new Map(
      KINDS.map(({ term }) => [term, catalogue.parts.filter(({ categories }) => categories.includes(term))]),
    );
  }

  dossier(line: number, generation: number): Dossier {
    if (generation === 1) this.#used = new Map();
    const year = 2012 + generation * 2 + (line % 3);
    const boards = Array.from({ length: 1 + this.#below(3) }, (_, i) => ({
      id: i === 0 ? 'main' : `flex${i}`,
      kind: i === 0 ? 'rigid' : 'flex',
      outline: { length: this.#between(18, 40), width: this.#between(10, 25) },
      // Boards of every sixth line were not looked at on all sides.
      ...(line % 6 > 0 ? { fullyInventoried: true } : {}),
    }));
    const { components, observations, identifications } = this.#components(boards, year);
    const hidden = this.#random();
    // A published device names no predecessor that is hidden: an import would refuse it.
    const namesBefore = generation > 1 && !this.#hidBefore;
    this.#hidBefore = hidden < 0.01 || hidden > 0.99;
    return dossierSchema.parse({
      caseback: 'dossier/1',
      ...(hidden < 0.01 ? { visibility: 'draft' } : {}),
      ...(hidden > 0.99 ? { visibility: 'embargoed', embargoUntil: '2099-01-01T00:00:00Z' } : {}),
      device: {
        id: `line-${line}-g${generation}`,
        name: `Line ${line} generation ${generation}`,
        maker: `maker-${line % MAKERS}`,
        productLine: `line-${line}`,
        released: `${year}-0${1 + this.#below(9)}`,
        bodySite: BODY_SITES[line % 7],
        mass: `${3 + this.#below(57)} g`,
        succeeds: namesBefore ? [`line-${line}-g${generation - 1}`] : [],
        invented: true,
      },
      specimen: { id: 'a' },
      teardown: { on: '2026-10', by: 'generator', hazards: ['lithium-cell'] },
      boards,
      subsystems: [...new Set(components.map(({ subsystem }) => subsystem))].map((id) => ({ id, kind: id })),
      components,
      connections: this.#connections(components),
      observations,
      identifications,
    });
  }

  #components(boards: readonly { id: string; outline: { length: number; width: number } }[], year: number) {
    const numbers = new Map<string, number>();
    const components: { id: string; board: string; subsystem: string }[] = [];
    const observations: object[] = [];
    const identifications: object[] = [];
    const size = 20 + this.#below(41);
    for (let c = 0; c < size; c++) {
      const kind = this.#pick(this.#kinds);
      const number = (numbers.get(kind.letters) ?? 0) + 1;
      numbers.set(kind.letters, number);
      const id = `${kind.letters}${number}`;
      const { id: board, outline } = this.#pick(boards);
      const part = kind.plain ? undefined : this.#partFor(kind);
      const marking =
        part && `${part.number}${this.#pick(['K7', 'A3', 'P9'])}${year % 10}${10 + this.#below(42)}`;
      const read = marking && this.#random() < MISREAD ? this.#misread(marking) : marking;
      components.push({
        id,
        board,
        subsystem: kind.subsystem,
        ...{ side: this.#random() < 0.7 ? 'top' : 'bottom' },
        ...{ at: { x: this.#between(0, outline.length), y: this.#between(0, outline.width) } },
        ...{ package: kind.package, pins: kind.pins, ...(kind.plain ? { appears: kind.term } : {}) },
        ...(read ? { marking: read, reading: read === marking ? 0.95 : 0.7 } : {}),
      });
      if (!part) continue;
      const seen = { about: [id], kind: 'marking', on: '2026-10', by: 'generator' };
      observations.push({ id: `o${c}`, ...seen, marking: read });
      if (read !== marking && this.#random() < 0.5) {
        observations.push({
          id: `o${c}b`,
          ...seen,
          marking,
          on: '2026-11',
          corrects: `o${c}`,
          text: 'read again',
        });
      }
      const identification = this.#identification(id, part, kind);
      if (identification) identifications.push({ ...identification, basis: [`o${c}`] });
    }
    return { components, observations, identifications };
  }

  /** Most of the time the part that the line has used before. */
  #partFor(kind: Kind): Part {
    const before = this.#used.get(kind.term);
    if (before && this.#random() < 0.7) return before;
    const part = this.#pick(this.#parts.get(kind.term) as readonly Part[]);
    this.#used.set(kind.term, part);
    return part;
  }

  /** One chip in twelve stays unidentified, a quarter have a rival. */
  #identification(component: string, part: Part, kind: Kind): object | undefined {
    const sure = this.#random();
    if (sure < 0.08) return undefined;
    const rival = this.#pick(this.#parts.get(kind.term) as readonly Part[]);
    const settled = sure > 0.33 || rival === part;
    const candidates = settled
      ? [{ part: partIdOf(part), probability: 0.98 }]
      : [
          { part: partIdOf(part), probability: 0.7 },
          { part: partIdOf(rival), probability: 0.2 },
        ];
    return { component, candidates, state: settled ? 'settled' : 'favoured' };
  }

  /** A character taken for one like it, or not read at all. */
  #misread(marking: string): string {
    const places = [...marking].flatMap((character, i) => (character in ALIKE ? [i] : []));
    const at = places.length > 0 && this.#random() < 0.6 ? this.#pick(places) : this.#below(marking.length);
    const instead = ALIKE[marking[at]] ?? '?';
    return marking.slice(0, at) + instead + marking.slice(at + 1);
  }

  /** About four thirds as many as components: traces on a board, flex between boards. */
  #connections(components: readonly { id: string; board: string }[]): object[] {
    return Array.from({ length: Math.floor(components.length * 1.3) }, () => {
      const [a, b] = [this.#pick(components), this.#pick(components)];
      if (a === b) return [];
      const medium = a.board === b.board ? 'trace' : 'flex';
      return [
        { between: [a.id, b.id], medium, bus: this.#pick(['I2C', 'SPI', 'power', 'analogue', 'GPIO']) },
      ];
    }).flat();
  }

  #pick<T>(items: readonly T[]): T {
    return items[this.#below(items.length)];
  }

  #below(limit: number): number {
    return Math.floor(this.#random() * limit);
  }

  /** In hundredths, as a calliper gives millimetres. */
  #between(low: number, high: number): number {
    return Number((low + this.#random() * (high - low)).toFixed(2));
  }
}
