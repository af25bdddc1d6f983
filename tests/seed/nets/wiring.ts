import type { Component } from '../../../src/model/dossier.ts';
import { BUSES, MEDIA } from '../../../src/model/net.ts';
import type { DrawnPin } from './pins.ts';
import type { Floor } from './places.ts';

// Nets of a specimen as a sheet says them, one a line:
//
//     vio power 1.8V "VIO" all [x1, p1]: U4.VOUT1 U1.VDD 100nF@U1 4k7>sda@U1
//
// Before the colon: id, kind, and as wanted voltage, bus, label, medium in brackets, `all` for a net that is known to be complete,
// and the observations that show it. Behind it the members: pins by name or number (a name that several pins share means all
// of them), components whose pin is not known, and passives that are made here: value, `>` the net of the other end (ground if
// left out), `@` the component that it stands at, `*3` how many, `!` on the other side, `?` not fitted. `TP@U1` makes a test pad.

/** A passive or test pad that a sheet asks for, with its place. */
export interface Made {
  readonly id: string;
  readonly board: string;
  readonly side: string;
  readonly x: number;
  readonly y: number;
  readonly rotation: 0 | 90;
  readonly length: number;
  readonly width: number;
  readonly package: string | undefined;
  readonly pins: number;
  readonly value: string | undefined;
  readonly fitted: boolean;
  readonly appears: string;
  readonly subsystem: string | undefined;
}

/** A net as it goes into the dossier. */
export interface Drawn {
  readonly id: string;
  readonly kind: string;
  readonly label: string | undefined;
  readonly voltage: string | undefined;
  readonly bus: string | undefined;
  readonly medium: string | undefined;
  readonly complete: boolean;
  readonly basis: readonly string[];
  readonly pins: string[];
}

/** What the wiring of a specimen starts from. */
export interface Ground {
  readonly specimen: string;
  readonly components: readonly Component[];
  /** Pins of a component, empty where only their numbers are known. */
  readonly pinsOf: (component: Component) => readonly DrawnPin[];
  readonly floor: Floor;
  /** Length and width of small passives and of large ones, by package. */
  readonly sizes: readonly [string, string];
  readonly basis: readonly string[];
}

const SIZES: Readonly<Record<string, readonly [number, number]>> = {
  '0201': [0.6, 0.3],
  '0402': [1, 0.5],
  '0603': [1.6, 0.8],
  '0805': [2, 1.25],
};

const HEAD = /^(\S+) (ground|power|signal)((?: [^:]*)?)$/u;
const PASSIVE = /^(TP|FB[^@>*!?]*|[^@>*!?]+)(?:>([a-z0-9-]+))?@([^*!?]+)(?:\*(\d+))?([!?]*)$/u;

/** Nets and the parts that they ask for. Throws with the line for what it cannot read. */
export function wire(
  text: string,
  ground: Ground,
): { readonly nets: readonly Drawn[]; readonly made: readonly Made[] } {
  const lines = text
    .split('\n')
    .map((line) => line.replace(/\s+#.*$|^#.*$/u, '').trim())
    .reduce<string[]>((all, line) => {
      // A line without a head goes on the one before.
      if (/^[a-z0-9-]+ (ground|power|signal)\b/u.test(line)) all.push(line);
      else if (line !== '') all[all.length - 1] += ` ${line}`;
      return all;
    }, []);
  const nets = lines.map((line) => head(line, ground));
  const byId = new Map(nets.map(({ net }) => [net.id, net]));
  const made: Made[] = [];
  const numbers = new Map<string, number>();
  const taken = new Set(ground.components.map(({ id }) => id));
  const byName = new Map(ground.components.map((one) => [one.id, one]));
  const find = (written: string, line: string): Component => {
    const component = byName.get(written);
    if (!component) throw new Error(`${ground.specimen}: no component ${written} in "${line}"`);
    return component;
  };

  for (const { net, members, line } of nets) {
    for (const member of members) {
      const passive = member.includes('@') ? PASSIVE.exec(member) : null;
      if (!passive) {
        net.pins.push(...pinsMeant(member, line));
        continue;
      }
      const [, what, other = 'gnd', near, times = '1', marks] = passive;
      for (let i = 0; i < Number(times); i++) {
        const part = make(what, find(near, line), marks);
        made.push(part);
        net.pins.push(`${part.board}:${part.id}.1`);
        if (part.pins < 2) continue;
        const end = byId.get(other);
        if (!end) throw new Error(`${ground.specimen}: no net ${other} in "${line}"`);
        end.pins.push(`${part.board}:${part.id}.2`);
      }
    }
  }
  const boards = new Map<string, Set<string>>();
  for (const { id, board } of made) boards.set(id, (boards.get(id) ?? new Set()).add(board));
  // A designator that one board alone has needs no board before it.
  for (const { net } of nets) {
    net.pins.forEach((pin, i) => {
      const [, board, id, rest] = /^([a-z0-9-]+):([^.]+)(\..+)$/u.exec(pin) ?? [];
      if (board && boards.get(id)?.size === 1) net.pins[i] = id + rest;
    });
  }
  return { nets: nets.map(({ net }) => net), made };

  function pinsMeant(member: string, line: string): string[] {
    const range = /^([A-Z]+)(\d+)\.\.(\d+)(\.\S+)$/u.exec(member);
    if (range) {
      const [, letters, from, to, pin] = range;
      return Array.from(
        { length: Number(to) - Number(from) + 1 },
        (_, i) => `${letters}${Number(from) + i}${pin}`,
      );
    }
    const dot = member.indexOf('.');
    const component = find(dot < 0 ? member : member.slice(0, dot), line);
    if (dot < 0) return [member];
    const pin = member.slice(dot + 1);
    const pins = ground.pinsOf(component);
    if (pins.length === 0) return [member];
    const meant = pins.filter(({ name, number }) => name === pin || number === pin);
    if (meant.length === 0)
      throw new Error(`${ground.specimen}: ${component.id} has no pin ${pin} in "${line}"`);
    return meant.length === 1 ? [member] : meant.map(({ number }) => `${component.id}.${number}`);
  }

  function make(what: string, near: Component, marks: string): Made {
    const { letters, appears, value, large } = kindOf(what);
    const { board } = near;
    if (!board) throw new Error(`${ground.specimen}: ${near.id} is on no board`);
    const key = `${board} ${letters}`;
    let number = (numbers.get(key) ?? 0) + 1;
    while (taken.has(`${letters}${number}`)) number++;
    numbers.set(key, number);
    const id = `${letters}${number}`;
    const size = appears === 'TestPad' ? undefined : ground.sizes[large ? 1 : 0];
    const [length, width] = size ? SIZES[size] : [0.8, 0.8];
    const other = near.side === 'top' ? 'bottom' : 'top';
    const side = marks.includes('!') ? other : (near.side ?? 'top');
    const place = ground.floor.take(`${ground.specimen} ${board} ${id}`, near, side, length, width);
    return {
      id,
      board,
      side,
      ...place,
      length,
      width,
      package: size,
      pins: appears === 'TestPad' ? 1 : 2,
      value,
      fitted: !marks.includes('?'),
      appears,
      subsystem: near.subsystem,
    };
  }
}

function head(line: string, { specimen, basis }: Ground): { net: Drawn; members: string[]; line: string } {
  const colon = line.indexOf(':');
  const [, id, kind, rest = ''] = HEAD.exec(line.slice(0, colon)) ?? [];
  if (!id) throw new Error(`${specimen}: no net in "${line}"`);
  const label = /"([^"]*)"/u.exec(rest)?.[1];
  const observations = /\[([^\]]*)\]/u.exec(rest)?.[1];
  const words = rest.replace(/"[^"]*"|\[[^\]]*\]/gu, '').split(' ');
  const medium = words.find((word) => MEDIA.some((one) => `(${one})` === word))?.slice(1, -1);
  return {
    line,
    members: line
      .slice(colon + 1)
      .split(' ')
      .filter((word) => word !== ''),
    net: {
      id,
      kind,
      label,
      voltage: words.find((word) => /^[\d.]+V$/u.test(word))?.replace('V', ' V'),
      bus: words.find((word) => (BUSES as readonly string[]).includes(word)),
      medium,
      complete: words.includes('all'),
      basis: observations?.split(', ') ?? basis,
      pins: [],
    },
  };
}

/** What a written value is: `100nF`, `4k7`, `22R`, `2u2H`, `FB600R`, `TP`. */
function kindOf(what: string): {
  letters: string;
  appears: string;
  value: string | undefined;
  large: boolean;
} {
  if (what === 'TP') return { letters: 'TP', appears: 'TestPad', value: undefined, large: false };
  if (what.startsWith('FB'))
    return {
      letters: 'FB',
      appears: 'FerriteBead',
      value: `${what.slice(2, -1)} Ohm at 100 MHz`,
      large: true,
    };
  const farad = /^([\d.]+)([pnu])F$/u.exec(what);
  if (farad) {
    const large = farad[2] === 'u' && Number(farad[1]) >= 4;
    return { letters: 'C', appears: 'Capacitor', value: `${farad[1]} ${farad[2]}F`, large };
  }
  const henry = /^([\d.]+)([nu])H$/u.exec(what);
  if (henry)
    return { letters: 'L', appears: 'Inductor', value: `${henry[1]} ${henry[2]}H`, large: henry[2] === 'u' };
  const ohm = /^(\d+)([RkM])(\d*)$/u.exec(what);
  if (!ohm) throw new Error(`no value: ${what}`);
  const unit = { R: 'Ohm', k: 'kOhm', M: 'MOhm' }[ohm[2]];
  return {
    letters: 'R',
    appears: 'Resistor',
    value: `${ohm[1]}${ohm[3] && `.${ohm[3]}`} ${unit}`,
    large: false,
  };
}
