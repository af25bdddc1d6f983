import { KINDS, type Kind } from './kinds.ts';

/** A component on a board, its pins in the order in which they were joined. */
export interface Placed {
  readonly id: string;
  readonly board: string;
  readonly kind: Kind;
  readonly value: string | undefined;
  readonly pinout: { number: string; name: string }[];
}

/** A net of one board. */
export interface NetDrawn {
  readonly board: string;
  readonly label: string;
  readonly kind: 'ground' | 'power' | 'signal';
  readonly voltage: number | undefined;
  readonly bus: string | undefined;
  readonly pins: string[];
}

const RAILS: Readonly<Record<string, number>> = {
  VBUS: 5,
  VBAT: 3.7,
  VSYS: 3.7,
  '3V0': 3,
  '1V8': 1.8,
  VLED: 5,
};
const BUS_LINES: Readonly<Record<string, string>> = {
  SDA: 'I2C',
  SCL: 'I2C',
  SCK: 'SPI',
  MOSI: 'SPI',
  MISO: 'SPI',
};
/** Lines of a controller that blocks may use. */
const LINES = 36;

/** A circuit while it is being drawn: components on boards, and the nets of each board by name. */
export class Circuit {
  readonly random: () => number;
  readonly placed: Placed[] = [];
  readonly nets = new Map<string, NetDrawn>();
  readonly boards: readonly string[];
  readonly mates: { between: [string, string]; lines: number; pins: [string, string][] }[] = [];
  readonly rails: string[] = ['3V0', '1V8'];
  /** The controller whose lines blocks use next, and how many it has left. */
  controller: { readonly id: string; free: number } | undefined;
  readonly #numbers = new Map<string, number>();
  /** Names that pass from the main board to each other board. */
  readonly #crossing = new Map<string, Set<string>>();
  readonly #busOf = new Map<string, string>();
  #controllers = 0;
  #local = 0;

  constructor(boards: readonly string[], random: () => number) {
    this.random = random;
    this.boards = boards;
    for (const board of boards.slice(1)) this.#crossing.set(board, new Set(['GND', '3V0', '1V8']));
  }

  /** A controller with clock, reset and programming contacts; its lines serve other blocks. */
  controls(): void {
    const on = 'main';
    this.#controllers++;
    const [x1, x2, reset] = [this.fresh('X1'), this.fresh('X2'), this.fresh('RESET')];
    const [data, clock] = [this.fresh('SWDIO', 'SWD'), this.fresh('SWCLK', 'SWD')];
    const id = this.place('controller', on, {
      VDD1: '1V8',
      VDD2: '1V8',
      VDD3: '1V8',
      GND1: 'GND',
      GND2: 'GND',
      X1: x1,
      X2: x2,
      RESET: reset,
      SWDIO: data,
      SWCLK: clock,
      SDA: this.bus('SDA'),
      SCL: this.bus('SCL'),
      SCK: this.bus('SCK'),
      MOSI: this.bus('MOSI'),
      MISO: this.bus('MISO'),
    });
    this.place('crystal', on, { '1': x1, '2': x2 }, '32.768 kHz');
    for (const end of [x1, x2]) this.place('capacitor', on, { '1': end, '2': 'GND' }, '12 pF');
    this.place('resistor', on, { '1': '1V8', '2': reset }, '10 kOhm');
    this.decouple(on, '1V8', 3);
    if (this.controller === undefined) {
      this.place('contact', on, { VREF: '1V8', SWDIO: data, SWCLK: clock, RESET: reset, GND: 'GND' });
    }
    for (const line of ['SDA', 'SCL'])
      this.place('resistor', on, { '1': '1V8', '2': this.bus(line) }, '4.7 kOhm');
    this.controller = { id, free: LINES };
  }

  /** Mated connectors: what crosses between the main board and each other one. */
  connectors(): void {
    for (const [board, names] of this.#crossing) {
      const pins = Object.fromEntries([...names].map((name, at) => [String(at + 1), name]));
      const [here, there] = ['main', board].map((on) => this.place('mate', on, pins));
      this.mates.push({
        between: [`main:${here}`, `${board}:${there}`],
        lines: names.size,
        pins: Object.keys(pins).map((pin) => [pin, pin]),
      });
    }
  }

  decouple(on: string, rail: string, count: number): void {
    for (let at = 0; at < count; at++)
      this.place(
        'capacitor',
        on,
        { '1': rail, '2': 'GND' },
        this.one(['100 nF', '100 nF', '1 uF', '4.7 uF']),
      );
  }

  /** A new net that a resistor or capacitor ties to another one. */
  pulled(on: string, to: string, value: string, kind: Kind = 'resistor'): string {
    const name = this.fresh('P');
    this.place(kind, on, { '1': name, '2': to }, value);
    return name;
  }

  /** A new net behind a series resistor, or, as often, the net itself. */
  series(on: string, name: string): string {
    if (this.random() < 0.5) return name;
    const near = this.fresh('N');
    this.place('resistor', on, { '1': near, '2': name }, '22 Ohm');
    return near;
  }

  /** A new net between a line of a controller on the main board and what uses it. */
  line(on: string): string {
    if (this.controller === undefined || this.controller.free === 0) this.controls();
    const controller = this.controller as { id: string; free: number };
    const number = LINES - --controller.free;
    const name = this.fresh('IO');
    this.#join('main', name, controller.id, `P${number}`);
    this.cross(on, name);
    return name;
  }

  /** A line of the bus of the newest controller. */
  bus(line: string): string {
    return this.#controllers > 1 ? `${line}${this.#controllers}` : line;
  }

  cross(on: string, name: string): void {
    this.#crossing.get(on)?.add(name);
  }

  /** A supply that a board has; in most cases one of the two long rails. */
  rail(on: string): string {
    const drawn = this.random();
    const rail = drawn < 0.45 ? '1V8' : drawn < 0.65 ? '3V0' : this.one(this.rails);
    this.cross(on, rail);
    return rail;
  }

  any(): string {
    return this.random() < 0.5 ? 'main' : this.one(this.boards);
  }

  fresh(name: string, bus?: string): string {
    const full = `${name}_${++this.#local}`;
    if (bus !== undefined) this.#busOf.set(full, bus);
    return full;
  }
  /** A number not given before. */
  next(): number {
    return ++this.#local;
  }

  /** Puts a component on a board and joins its pins to nets of that board. */
  place(kind: Kind, board: string, pins: Readonly<Record<string, string>>, value?: string): string {
    const { letter } = KINDS[kind];
    const key = `${board} ${letter}`;
    const number = (this.#numbers.get(key) ?? 0) + 1;
    this.#numbers.set(key, number);
    const id = `${letter}${number}`;
    this.placed.push({ id, board, kind, value, pinout: [] });
    for (const [pin, net] of Object.entries(pins)) this.#join(board, net, id, pin);
    return id;
  }

  #join(board: string, label: string, id: string, name: string): void {
    const key = `${board}/${label}`;
    let net = this.nets.get(key);
    if (!net) {
      const isRail = label in RAILS || /^V[AS]\d+$/u.test(label);
      const kind = label === 'GND' ? 'ground' : isRail ? 'power' : 'signal';
      const voltage = isRail ? (RAILS[label] ?? 3) : undefined;
      net = {
        board,
        label,
        kind,
        voltage,
        bus: BUS_LINES[label.replace(/\d+$/u, '')] ?? this.#busOf.get(label),
        pins: [],
      };
      this.nets.set(key, net);
    }
    const component = this.placed.findLast((one) => one.id === id && one.board === board) as Placed;
    const number = /^\d+$/u.test(name) ? name : String(component.pinout.length + 1);
    component.pinout.push({ number, name });
    net.pins.push(`${board}:${id}.${number}`);
  }

  one<T>(list: readonly T[]): T {
    return list[Math.floor(this.random() * list.length)];
  }
}
