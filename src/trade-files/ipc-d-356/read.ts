import type { Point } from '../../model/outline.ts';
import {
  type DesignBoard,
  type DesignComponent,
  type DesignPin,
  Findings,
  quoted,
  type Side,
  type TradeFile,
} from '../board-design.ts';
import { closedLoops, outlineOf, point, type Segment } from '../outline.ts';
import { DESIGNATOR_CHARACTERS, NET_CHARACTERS, tellCutNames } from './cut-names.ts';

// Netlists after IPC-D-356 and IPC-D-356A: records of fixed columns. Columns of the test records after published descriptions of
// the format; those of board edges (389, 089) from memory.
//
//   1-3    operation: 317 through a hole, 327 on the surface, 367 hole without plating, 307 blind or buried via; a leading 0
//          continues the record before
//   4-17   net, 14 characters; N/C for none; NNAMEn for a name of the table of long names
//   21-26  designator, 6 characters; VIA for a via     27  -     28-31  pin, 4 characters     32  M: mid-point of a net
//   33-38  D and hole diameter, P plated or U           39-41  A and access side: 00 both, 01 first, others below
//   42-57  X and Y with sign and six digits

const NET = [3, 17] as const;
const DESIGNATOR = [20, 26] as const;
const PIN = [27, 31] as const;
const PIN_CHARACTERS = PIN[1] - PIN[0];

/** mm of one step of a coordinate: a ten-thousandth of an inch, or a micrometre. */
const STEPS = { customary: 0.00254, metric: 0.001 } as const;

/** Everything behind the pin: access side and place. Digits vary between writers, and a plus and leading zeros may be blanks. */
const TAIL = /(?:A(\d\d))?\s{0,8}X([+\- ]{0,8}\d{1,8})Y([+\- ]{0,8}\d{1,8})/u;

const NO_NET = /^(?:N\/C|NC|NO[-_ ]?NET)?$/iu;

interface Pad {
  readonly designator: string;
  readonly pin: string;
  readonly net: string | undefined;
  readonly access: number | undefined;
  readonly at: Point | undefined;
  readonly onSurface: boolean;
  readonly line: number;
}

/** Reads an IPC-D-356 or -356A netlist. */
export function readNetlist356(text: string, file: string, findings = new Findings(file)): TradeFile {
  const records = new Records(findings);
  let line = 0;
  for (const raw of text.split(/\r\n|\n|\r/u)) {
    line++;
    records.take(raw, line);
    if (records.isEnded) break;
  }
  return findings.result('ipc-d-356', [records.board()]);
}

class Records {
  isEnded = false;
  readonly #findings: Findings;
  readonly #names = new Map<string, string>();
  readonly #pads: Pad[] = [];
  readonly #edges: Segment[] = [];
  #step: number | undefined;
  #edge: { readonly name: string; at: Point | undefined } | undefined;
  #vias = 0;
  #holes = 0;
  #others = 0;
  #image: string | undefined;
  #isSkipped = false;

  constructor(findings: Findings) {
    this.#findings = findings;
  }

  take(raw: string, line: number): void {
    const record = raw.trimEnd();
    if (record === '' || record.startsWith('C')) return;
    if (record.length > 400) {
      this.#findings.problem(
        line,
        `has ${record.length} characters; a record has 80`,
        'export the netlist again',
      );
      return;
    }
    if (record.startsWith('P')) this.#parameter(record.slice(1).trim(), line);
    else if (record.startsWith('999')) this.isEnded = true;
    else if (this.#isSkipped) this.#others++;
    else if (/^\d{3}/u.test(record)) this.#test(record, line);
    else
      this.#findings.problem(
        line,
        `${quoted(record)} is not a record of IPC-D-356`,
        'records begin with C, P or three digits',
      );
  }

  #parameter(text: string, line: number): void {
    const [keyword = '', ...rest] = text.split(/\s+/u);
    const value = rest.join(' ');
    if (keyword === 'UNITS') this.#units(value.toUpperCase(), line);
    else if (keyword === 'VER') this.#findings.understood.push(`version ${value}`);
    else if (keyword === 'IMAGE') {
      // Further images repeat the first one on a panel.
      this.#isSkipped = this.#image !== undefined && this.#image !== value;
      this.#image ??= value;
    } else if (keyword.startsWith('NNAME')) {
      const [alias, name] =
        keyword === 'NNAME' ? [rest[0], rest.slice(1).join(' ')] : [keyword.slice(5), value];
      if (!alias || name === '') {
        this.#findings.problem(
          line,
          `${quoted(text)} names no net`,
          'write NNAME, its number and the long name',
        );
        return;
      }
      if (this.#names.has(alias) && this.#names.get(alias) !== name)
        this.#findings.problem(line, `NNAME${alias} stands for two nets`, 'export the netlist again');
      this.#names.set(alias, name);
    }
  }

  #units(value: string, line: number): void {
    const units: Readonly<Record<string, readonly [number, string]>> = {
      'CUST 0': [STEPS.customary, 'ten-thousandths of an inch'],
      CUST: [STEPS.customary, 'ten-thousandths of an inch'],
      'CUST 1': [STEPS.metric, 'micrometres'],
      SI: [STEPS.metric, 'micrometres'],
      'CUST 2': [STEPS.customary, 'ten-thousandths of an inch, angles in radians'],
    };
    const known = Object.hasOwn(units, value) ? units[value] : undefined;
    if (!known) {
      this.#findings.problem(
        line,
        `${quoted(value)} is not a unit here`,
        'units are CUST 0, CUST 1, CUST 2 and SI',
      );
      return;
    }
    this.#step = known[0];
    this.#findings.understood.push(`coordinates in ${known[1]}`);
  }

  #test(record: string, line: number): void {
    const operation = record.slice(0, 3);
    switch (operation) {
      case '317':
      case '327':
        this.#pad(record, line, operation === '327');
        break;
      case '017':
      case '027':
        this.#continuation(record);
        break;
      case '367':
        this.#holes++;
        break;
      case '307':
        this.#vias++;
        break;
      case '389':
      case '089':
        this.#boardEdge(record, line);
        break;
      default:
        this.#others++;
    }
  }

  #pad(record: string, line: number, onSurface: boolean): void {
    const designator = record.slice(...DESIGNATOR).trim();
    if (designator === '' || designator.toUpperCase() === 'VIA') {
      this.#vias++;
      return;
    }
    const net = record.slice(...NET).trim();
    const pin = record.slice(...PIN).trim();
    if (pin === '') {
      this.#findings.caution(line, `${designator} is met by a pad without a pin`, 'it is left out');
      return;
    }
    const tail = TAIL.exec(record.slice(31));
    if (!tail) {
      this.#findings.problem(
        line,
        `has no place "X+nnnnnnY+nnnnnn" for ${designator}.${pin}`,
        'it may be cut off; export the netlist again',
      );
      return;
    }
    const [, access, x, y] = tail;
    this.#pads.push({
      designator,
      pin,
      net: NO_NET.test(net) ? undefined : net,
      access: access === undefined ? undefined : Number(access),
      at: this.#place(x, y),
      onSurface,
      line,
    });
  }

  /** A continued record tells more of the pad before it; what that one lacks is taken. */
  #continuation(record: string): void {
    const before = this.#pads.at(-1);
    const net = record.slice(...NET).trim();
    if (before && before.net === undefined && !NO_NET.test(net))
      this.#pads[this.#pads.length - 1] = { ...before, net };
    else this.#others++;
  }

  /** `389BOARD_EDGE … X+000000Y+000000 X…Y…`: corners in order; a coordinate left out repeats the one before. */
  #boardEdge(record: string, line: number): void {
    if (record.startsWith('3')) this.#edge = { name: record.slice(...NET).trim(), at: undefined };
    const edge = this.#edge;
    if (!edge || !/^(?:BOARD|OUTLINE)/iu.test(edge.name)) {
      this.#others++;
      return;
    }
    for (const [, x, behind, alone] of record
      .slice(NET[1])
      .matchAll(/X([+-]?\d{1,8})?(?:Y([+-]?\d{1,8}))?|Y([+-]?\d{1,8})/gu)) {
      const y = behind ?? alone;
      const to: Point = [
        x === undefined ? (edge.at?.[0] ?? 0) : Number(x),
        y === undefined ? (edge.at?.[1] ?? 0) : Number(y),
      ];
      if (edge.at) this.#edges.push({ from: edge.at, to, line });
      edge.at = to;
    }
  }

  #place(x: string, y: string): Point {
    const number = (text: string) => Number(text.replace(/[ +]/gu, ''));
    return [number(x), number(y)];
  }

  board(): DesignBoard {
    if (!this.isEnded)
      this.#findings.caution(
        undefined,
        'has no end record 999; it may be cut off',
        'compare its last line with the design',
      );
    if (this.#pads.length === 0)
      this.#findings.problem(undefined, 'holds no pads of components', 'export it with designators and pins');
    if (this.#step === undefined && this.#pads.length > 0) {
      this.#findings.caution(
        undefined,
        'does not say its units; they are taken as ten-thousandths of an inch',
        'add the line "P  UNITS CUST 1" if they are micrometres',
      );
    }
    const step = this.#step ?? STEPS.customary;
    const nets = this.#nets();
    const lowest = this.#pads.reduce((most, { access = 0 }) => Math.max(most, access), 2);
    const outline = outlineOf(
      closedLoops(
        this.#edges.map((one) => scaled(one, step)),
        this.#findings,
      ),
      this.#findings,
    );
    const components = [...Map.groupBy(this.#pads, ({ designator }) => designator)].map(
      ([designator, pads]): DesignComponent => {
        const side = sideOf(pads, lowest);
        return {
          designator,
          ...(side ? { side } : {}),
          pins: this.#pinsOf(designator, pads, nets, step),
          line: pads[0].line,
        };
      },
    );
    this.#tellWhatIsLeftOut();
    tellCutNames(this.#pads, this.#names, nets, this.#findings);
    const long = new Set(this.#names.values());
    const labels = new Set(
      this.#pads.flatMap(({ net }) => (net === undefined ? [] : [nets.get(net) ?? net])),
    );
    return {
      ...(outline ? { outline } : {}),
      components,
      nets: [...labels].map((label) => ({
        key: label,
        label,
        ...(label.length === NET_CHARACTERS && !long.has(label) ? { mayBeCut: true } : {}),
      })),
    };
  }

  /** Long names by the names that stand for them in records: `NNAME1`, or `1` where no net is called so. */
  #nets(): ReadonlyMap<string, string> {
    const nets = new Map<string, string>();
    const used = new Set(this.#pads.flatMap(({ net }) => net ?? []));
    for (const [alias, name] of this.#names) {
      if (used.has(`NNAME${alias}`)) nets.set(`NNAME${alias}`, name);
      else if (used.has(alias)) nets.set(alias, name);
    }
    if (this.#names.size > 0)
      this.#findings.understood.push(`${this.#names.size} long net names, of which ${nets.size} are used`);
    for (const net of used) {
      if (/^NNAME\d+$/u.test(net) && !nets.has(net))
        this.#findings.problem(
          undefined,
          `${net} is not in the table of long names`,
          'export the netlist again',
        );
    }
    return nets;
  }

  #pinsOf(
    designator: string,
    pads: readonly Pad[],
    nets: ReadonlyMap<string, string>,
    step: number,
  ): readonly DesignPin[] {
    const pins = new Map<string, Pad>();
    for (const pad of pads) {
      const before = pins.get(pad.pin);
      if (!before) pins.set(pad.pin, pad);
      else if (before.net !== pad.net) {
        if (before.net === undefined) pins.set(pad.pin, { ...before, net: pad.net });
        else if (pad.net !== undefined) {
          const cut = designator.length >= DESIGNATOR_CHARACTERS || pad.pin.length >= PIN_CHARACTERS;
          this.#findings.problem(
            pad.line,
            `${designator}.${pad.pin} lies on ${quoted(before.net)}, in line ${before.line}, and on ${quoted(pad.net)}`,
            cut
              ? `the format cuts designators to ${DESIGNATOR_CHARACTERS} characters and pins to ${PIN_CHARACTERS}: two may be alike; give them other names or take another format`
              : 'look at the design and export again',
          );
        }
      }
    }
    return [...pins.values()].map(({ pin, net, at }) => ({
      number: pin,
      ...(at ? { at: point(at[0] * step, at[1] * step) } : {}),
      ...(net === undefined ? {} : { net: nets.get(net) ?? net }),
    }));
  }

  #tellWhatIsLeftOut(): void {
    const aside = [
      [this.#vias, 'vias'],
      [this.#holes, 'holes without plating'],
      [this.#others, 'other records'],
    ] as const;
    const told = aside.flatMap(([count, what]) => (count > 0 ? [`${count} ${what}`] : []));
    if (told.length > 0) this.#findings.understood.push(`left aside: ${told.join(', ')}`);
  }
}

/** Side by its pads on the surface: access side 01 is the first; the last layer is the other. */
function sideOf(pads: readonly Pad[], lowest: number): Side | undefined {
  const sides = new Set(
    pads.flatMap(({ access, onSurface }): Side[] =>
      !onSurface || access === undefined || access === 0
        ? []
        : access === 1
          ? ['top']
          : access === lowest
            ? ['bottom']
            : [],
    ),
  );
  return sides.size === 1 ? [...sides][0] : undefined;
}

function scaled({ from, to, line }: Segment, step: number): Segment {
  const by = ([x, y]: Point): Point => [x * step, y * step];
  return { from: by(from), to: by(to), line };
}
