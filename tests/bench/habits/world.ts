import { type Catalogue, catalogueSchema } from '../../../src/model/catalogue.ts';
import { type Dossier, dossierSchema } from '../../../src/model/dossier.ts';
import { type Random, seededRandom } from '../../../src/statistics/random.ts';
import { asRead, code, type Editor, filled, looks } from './bench.ts';
import { type Circuit, drawCircuit, type Placed } from './circuit.ts';
import { type MadePart, makeParts, makerName, type PartHabits } from './makers.ts';
import { HOSTS, KINDS, type Pin, terminalNames } from './trade.ts';

// A made-up world: makers, parts, devices, and what editors wrote down when they opened these. What every chip really is, is
// known beside what was written. Nothing here knows how an identification weighs evidence.

export interface Habits {
  readonly name: string;
  readonly parts: PartHabits;
  readonly editors: (random: Random) => readonly Editor[];
  /** Shares of chips whose print is the customer's own, gone but for lot and date, or gone; the rest carry the maker's. */
  readonly foreign: number;
  readonly lotOnly: number;
  readonly erased: number;
  /** Share of settled identifications that name the wrong part. */
  readonly settledWrong: number;
  /** Share of chips looked at again by somebody else, who corrects what was read. */
  readonly lookedAtAgain: number;
}

export interface WorldOptions {
  readonly devices: number;
  readonly seed: number;
  /** Whether chance or a good reading decides which chips editors settle. @default 'by-chance' */
  readonly settling?: 'by-chance' | 'what-reads-well';
  /** First year of release of a device, last year. @default 2014 to 2024 */
  readonly years?: readonly [number, number];
  /** Makers of devices, from this number on. @default [0, 8] */
  readonly deviceMakers?: readonly [number, number];
}

export interface Truth {
  /** Id of the part, whether the catalogue has it or not. */
  readonly part: string;
  readonly catalogued: boolean;
  readonly term: string;
}

export interface World {
  readonly catalogue: Catalogue;
  readonly dossiers: readonly Dossier[];
  /** Every chip by specimen id and designator: `device/a/U3`. */
  readonly truth: ReadonlyMap<string, Truth>;
}

/** A world of so many devices; the same options give the same world. */
export function generateWorld(habits: Habits, options: WorldOptions): World {
  const random = seededRandom(`${habits.name}/${options.seed}`);
  const parts = makeParts(habits.parts, random.stream('parts'));
  const shop = new Shop(parts, random.stream('shop'));
  const editors = habits.editors(random.stream('editors'));
  const truth = new Map<string, Truth>();
  const dossiers = Array.from({ length: options.devices }, (_, at) =>
    new Opening(habits, options, shop, editors, random.stream(`device ${at}`)).dossier(at, truth),
  );
  return { catalogue: catalogueOf(habits, parts, options, random.stream('catalogue')), dossiers, truth };
}

const DEVICE_MAKERS: readonly [number, number] = [0, 8];
const deviceMaker = (at: number) => `made-up-devices-${at}`;

const PIN_NAMES: Readonly<Partial<Record<Pin, string>>> = {
  ground: 'GND',
  supply: 'VDD',
  battery: 'VBAT',
  input: 'IN',
  usb: 'VBUS',
  rail: 'OUT',
  switch: 'SW',
  sense: 'FB',
  bypass: 'BYP',
  scl: 'SCL',
  sda: 'SDA',
  crystal: 'XTAL',
  aerial: 'ANT',
};

function catalogueOf(
  { parts: { makers } }: Habits,
  parts: readonly MadePart[],
  options: WorldOptions,
  random: Random,
) {
  const [first, last] = options.deviceMakers ?? DEVICE_MAKERS;
  const drawn = new Set([...new Set(parts.map(({ family }) => family))].filter(() => random.chance(0.4)));
  return catalogueSchema.parse({
    caseback: 'catalogue/1',
    makers: [
      ...Array.from({ length: makers }, (_, at) => ({
        id: makerName(at),
        name: `Made-up chips ${at}`,
        makes: ['parts'],
        invented: true,
      })),
      ...Array.from({ length: last - first }, (_, at) => ({
        id: deviceMaker(first + at),
        name: `Made-up devices ${first + at}`,
        makes: ['devices'],
        invented: true,
      })),
    ],
    parts: parts
      .filter(({ catalogued }) => catalogued)
      .map(
        ({
          maker,
          number,
          kind,
          package: pack,
          pins,
          body,
          print,
          listsPrint,
          introduced,
          family,
          order,
        }) => ({
          maker,
          number,
          categories: [kind.term],
          package: pack,
          pins,
          body: { length: body[0], width: body[1], height: body[2] },
          markings: listsPrint ? [print] : [],
          introduced: String(introduced),
          ...(drawn.has(family)
            ? {
                pinout: order.map((place, at) => ({
                  number: terminalNames(pack)[place],
                  name: PIN_NAMES[kind.pins[at] ?? kind.rest] ?? `P${at}`,
                })),
              }
            : {}),
        }),
      ),
  });
}

/**
 * What makers of devices buy: each has suppliers that it comes back to and parts that it is used to. What one device gets does
 * not hang on what others got, so that devices are exchangeable.
 */
class Shop {
  readonly #byTerm: ReadonlyMap<string, readonly MadePart[]>;
  readonly #random: Random;
  readonly #used = new Map<string, readonly number[]>();

  constructor(parts: readonly MadePart[], random: Random) {
    this.#byTerm = Map.groupBy(parts, ({ kind }) => kind.term);
    this.#random = random;
  }

  buy(maker: number, term: string, year: number, random: Random): MadePart | undefined {
    const made = this.#byTerm.get(term) ?? [];
    const weights = this.#usedBy(maker, term).map((weight, at) => (made[at].introduced <= year ? weight : 0));
    return weights.some((weight) => weight > 0) ? made[random.weighted(weights)] : undefined;
  }

  #usedBy(maker: number, term: string): readonly number[] {
    const key = `${maker}/${term}`;
    let used = this.#used.get(key);
    if (used === undefined) {
      const random = this.#random.stream(key);
      const made = this.#byTerm.get(term) ?? [];
      const liked = new Set(random.shuffled([...new Set(made.map(({ family }) => family))]).slice(0, 2));
      used = made.map(
        ({ family, popularity }) => (popularity * (liked.has(family) ? 8 : 1)) / (0.03 + random.uniform()),
      );
      this.#used.set(key, used);
    }
    return used;
  }
}

/** One device, opened. */
class Opening {
  readonly habits: Habits;
  readonly options: WorldOptions;
  readonly shop: Shop;
  readonly editor: Editor;
  readonly second: Editor;
  readonly random: Random;

  constructor(habits: Habits, options: WorldOptions, shop: Shop, editors: readonly Editor[], random: Random) {
    this.habits = habits;
    this.options = options;
    this.shop = shop;
    this.random = random;
    const at = random.integer(0, editors.length - 1);
    this.editor = editors[at];
    this.second = editors[(at + 1) % editors.length];
  }

  dossier(number: number, truth: Map<string, Truth>): Dossier {
    const { random, editor, options } = this;
    const [firstMaker, lastMaker] = options.deviceMakers ?? DEVICE_MAKERS;
    const maker = random.integer(firstMaker, lastMaker - 1);
    const year = random.integer(...(options.years ?? [2014, 2024]));
    const circuit = drawCircuit(this.#chips(maker, year), random);
    const device = `${this.habits.name}-${number}`;
    const marked = circuit.placed.flatMap((one) =>
      one.part === undefined ? [] : [{ one, part: one.part, seen: this.#seen(one.part, maker, year) }],
    );
    for (const { one, part } of marked)
      truth.set(`${device}/a/${one.id}`, {
        part: part.id,
        catalogued: part.catalogued,
        term: part.kind.term,
      });
    const observations = marked.flatMap(({ one, seen }, at) =>
      seen.again === undefined || seen.read === undefined
        ? []
        : [
            { id: `o${at}`, about: [one.id], kind: 'marking', marking: seen.read, by: editor.name },
            {
              id: `p${at}`,
              about: [one.id],
              kind: 'marking',
              marking: seen.again,
              by: this.second.name,
              corrects: `o${at}`,
            },
          ],
    );
    return dossierSchema.parse({
      caseback: 'dossier/1',
      device: {
        id: device,
        name: `Made-up ${this.habits.name} ${number}`,
        maker: deviceMaker(maker),
        released: String(year),
        bodySite: 'wrist',
        invented: true,
      },
      specimen: { id: 'a' },
      teardown: { on: String(Math.min(2025, year + 1)), by: editor.name },
      boards: [{ id: 'main', kind: 'rigid' }],
      components: circuit.placed.map((one) => {
        const seen = marked.find((other) => other.one === one)?.seen;
        return {
          id: one.id,
          board: 'main',
          ...(one.part === undefined ? { appears: one.term } : looks(editor, one, random)),
          ...(seen?.read === undefined
            ? {}
            : { marking: seen.read, ...(editor.says === undefined ? {} : { reading: editor.says }) }),
        };
      }),
      ...this.#traced(circuit),
      observations,
      identifications: marked.flatMap(({ one, part, seen }) => this.#concluded(one, part, seen.well)),
    });
  }

  #chips(maker: number, year: number): MadePart[] {
    const { random, shop } = this;
    const host = shop.buy(maker, random.pick(HOSTS).term, year, random);
    const others = KINDS.flatMap(({ term, often }) => {
      const count = Math.floor(often) + (random.chance(often % 1) ? 1 : 0);
      return Array.from({ length: count }, () => shop.buy(maker, term, year, random));
    });
    return [host, ...random.shuffled(others)].filter((part) => part !== undefined);
  }

  /** What is on the chip and what the editors read of it. */
  #seen({ id, print, maker: _ }: MadePart, maker: number, year: number) {
    const { random, editor, second, habits } = this;
    const kind = random.weighted([
      habits.foreign,
      habits.lotOnly,
      habits.erased,
      1 - habits.foreign - habits.lotOnly - habits.erased,
    ]);
    // A customer's own number: the same for the same part in all its devices.
    const own = seededRandom(`${maker}/${id}`);
    const real = [
      () => `${code(1, own)}${own.integer(10, 99)}-${own.integer(1000, 9999)}`,
      () => `${String(year).slice(2)}${random.integer(10, 52)}${code(2, random)}`,
      () => undefined,
      () => filled(print, year, random),
    ][kind]();
    if (real === undefined) return { well: false };
    const read = asRead(editor, real, random);
    return {
      read,
      again: random.chance(habits.lookedAtAgain) ? asRead(second, real, random) : undefined,
      well: kind === 3 && read !== undefined && !/[?[]/u.test(read),
    };
  }

  #traced({ placed, nets }: Circuit): object {
    const { editor, random } = this;
    if (editor.traces === 'none') return {};
    const joined = new Map<string, [Placed, string][]>();
    for (const one of placed)
      for (const [pin, net] of one.pins) {
        const ends = joined.get(net);
        if (ends) ends.push([one, pin]);
        else joined.set(net, [[one, pin]]);
      }
    const recorded = [...joined].filter(([, ends]) => ends.length > 1 && random.chance(0.85));
    if (editor.traces === 'nets') {
      return {
        nets: recorded.map(([id, ends]) => {
          const { kind, voltage, bus } = nets.get(id) as { kind: string; voltage?: number; bus?: string };
          return {
            id,
            kind,
            ...(voltage === undefined ? {} : { voltage: `${voltage} V` }),
            ...(bus === undefined ? {} : { bus }),
            pins: ends.map(([{ id: own, part }, pin]) =>
              part === undefined || random.chance(0.8) ? `${own}.${pin}` : own,
            ),
            complete: random.chance(0.5),
          };
        }),
      };
    }
    // Signals from chip to chip and from a chip to what hangs on it; rails and ground are not followed, a cell is.
    const pairs = new Map<string, { between: [string, string]; medium: 'trace'; bus?: string }>();
    for (const [net, ends] of recorded) {
      const { kind, bus } = nets.get(net) as { kind: string; bus?: string };
      const cell = net === 'vbat' ? ends.find(([{ term }]) => term === 'PouchCell') : undefined;
      if (kind !== 'signal' && cell === undefined) continue;
      const centre =
        cell ?? ends.find(([{ id }]) => id === 'U1') ?? ends.find(([{ part }]) => part) ?? ends[0];
      for (const end of ends) {
        if (end[0].id === centre[0].id || /^[CR]\d/u.test(end[0].id) || !random.chance(0.7)) continue;
        const between: [string, string] = [centre[0].id, end[0].id];
        pairs.set(between.join('-'), {
          between,
          medium: 'trace',
          ...(cell ? { bus: 'power' } : bus ? { bus } : {}),
        });
      }
    }
    return { connections: [...pairs.values()] };
  }

  #concluded({ id }: Placed, part: MadePart, readsWell: boolean): object[] {
    const { random, editor, habits, options } = this;
    const settles =
      options.settling === 'what-reads-well'
        ? random.chance(readsWell ? 0.95 : 0.25)
        : random.chance(editor.settles);
    if (!settles) return [];
    if (!part.catalogued) {
      if (!random.chance(0.5)) return [];
      return [
        {
          component: id,
          candidates: [{ category: part.kind.term, probability: 0.9 }],
          state: 'favoured',
          by: editor.name,
        },
      ];
    }
    const named = random.chance(habits.settledWrong) ? this.shop.buy(0, part.kind.term, 2024, random) : part;
    if (!named?.catalogued) return [];
    return [
      {
        component: id,
        candidates: [{ part: named.id, probability: random.pick([0.97, 0.99, 1]) }],
        state: 'settled',
        by: editor.name,
      },
    ];
  }
}
