import { readdirSync, readFileSync } from 'node:fs';
import { beforeAll, expect, test } from 'vitest';
import { parse } from 'yaml';
import { Archive } from '../../src/archive.ts';
import { withUniqueIds } from '../../src/dossier/component-ids.ts';
import type { ReadDocument } from '../../src/dossier/document/document.ts';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import { catalogueSchema } from '../../src/model/catalogue.ts';
import { dossierSchema } from '../../src/model/dossier.ts';
import { findPattern } from '../../src/questions/patterns.ts';

// Small invented boards in a few lines each, and what an engineer says of them. Pin names and circuits are common practice of
// the trade, no source; no board is a real one. A text has one statement a line:
//
//   board ID KIND [LxW] [on=ID] [points=0,0;30,0;30,10~28,12]    corners; x,y~x,y goes to the first through the second
//   net NAME ground|signal|power|3.3V [bus=I2C] [open] [medium=flex]   open: not everything on it is listed
//   mate J1 J2 [medium] [1-1 2-2 …]                               pins that meet; medium: contact unless named
//   link A B medium [bus=SPI]                                     a traced connection without pins
//   ID Term[+Term…] [@board] [x,y] [LxW] [rot=90] [bottom] [unfitted] [in=MOD1] [part=NAME] [bare] [catalogued]: PIN=NET …
//
// A pin is NAME, NUMBER:NAME, NUMBER or ? (not known); net - is none. Nets called like a ground are ground, all that no line
// declares are signals. bare: no pinout, names stand in nets alone. catalogued: the pinout is that of the part.

/** Why a pattern holds on a board, or why it does not, each in a sentence. */
export interface Judged {
  readonly holds?: Readonly<Record<string, string>>;
  readonly not?: Readonly<Record<string, string>>;
}
export interface SmallBoard extends Judged {
  readonly id: string;
  /** One specimen each; most have one. */
  readonly devices: readonly { readonly id: string; readonly maker: string; readonly text: string }[];
}

/** A device of one text and what is said of it. */
export const small = (id: string, text: string, judged: Judged): SmallBoard => ({
  id,
  devices: [{ id, maker: 'bench-a', text }],
  ...judged,
});

/** Terms that the eye tells; anything else is identified. */
const PLAIN =
  /^(?:\w*Connector|\w*Contact|Resistor|Capacitor|Inductor|FerriteBead|Fuse|Crystal|TestPad|Button|\w*Cell|Shield|OpticalBarrier|MountingHole|SolderBridge|Thermistor|Window)$/u;
const GROUND = /^(?:[ADP]?GND|VSS|GND_\w+)$/u;

interface Line {
  readonly words: string[];
  readonly pins: readonly (readonly [string, string])[];
}
type Options = ReadonlyMap<string, string>;

const numbers = (text: string) => text.split(/[x,]/u).map(Number);
const isSize = (word: string) => /^[\d.]+x[\d.]+$/u.test(word);
const optionsOf = (words: readonly string[]): Options =>
  new Map(words.flatMap((word) => (/^\w+=/u.test(word) ? [word.split('=', 2) as [string, string]] : [])));
const netId = (name: string) =>
  'n-' +
  name
    .replaceAll('+', 'p')
    .replace(/-$/u, 'm')
    .replaceAll('~', 'n')
    .toLowerCase()
    .replaceAll(/[^a-z0-9]+/gu, '-')
    .replaceAll(/^-|-$/gu, '');

function linesOf(text: string): Line[] {
  return text
    .split('\n')
    .map((line) => line.replace(/\s#.*$/u, '').trim())
    .filter((line) => line !== '')
    .map((line) => {
      const [head, tail = ''] = line.split(/:\s+|:$/u);
      const pins = tail.split(/\s+/u).filter((word) => word !== '');
      return {
        words: head.split(/\s+/u),
        pins: pins.map((word) => {
          const at = word.lastIndexOf('=');
          if (at < 0) throw new Error(`pin without a net: ${word} in ${line}`);
          return [word.slice(0, at), word.slice(at + 1)] as const;
        }),
      };
    });
}

function outlineOf(words: readonly string[], options: Options) {
  const points = options.get('points');
  if (points !== undefined) {
    return {
      points: points.split(';').map((corner) => {
        const [to, through] = corner.split('~').map(numbers);
        return through ? { to, through } : to;
      }),
    };
  }
  const size = words.find(isSize);
  if (size === undefined) return undefined;
  const [length, width] = numbers(size);
  return { length, width };
}

/** Catalogue and dossier of one device. Throws ZodError where the text makes no dossier. */
export function documentsOf({ id, maker, text }: SmallBoard['devices'][number]): ReadDocument[] {
  const lines = linesOf(text);
  const named = (word: string) => lines.filter(({ words }) => words[0] === word);
  const boards = named('board').map(({ words }) => {
    const options = optionsOf(words);
    return {
      id: words[1],
      kind: words[2] as 'rigid',
      outline: outlineOf(words, options),
      stackedOn: options.get('on'),
      fullyInventoried: true,
    };
  });
  if (boards.length === 0)
    boards.push({
      id: 'main',
      kind: 'rigid',
      outline: undefined,
      stackedOn: undefined,
      fullyInventoried: true,
    });

  const parts = new Map<string, object>();
  const joined = new Map<string, string[]>();
  const identifications: object[] = [];
  const components = lines
    .filter(({ words }) => !['board', 'net', 'mate', 'link'].includes(words[0]))
    .map(({ words: [designator, written, ...words], pins }) => {
      const options = optionsOf(words);
      const terms = written.split('+');
      const onBoard = words.find((word) => word.startsWith('@'))?.slice(1) ?? 'main';
      const board = onBoard === '-' ? undefined : onBoard;
      const at = words.find((word) => /^-?[\d.]+,-?[\d.]+$/u.test(word));
      const size = words.find(isSize);
      const pinout = pins
        .filter(([pin]) => pin !== '?')
        .map(([pin]) => {
          const [first, second] = pin.split(':');
          if (second !== undefined) return { number: first, name: second };
          return /^\d+$/u.test(first) ? { number: first } : { name: first };
        });
      const unique = pinout.filter(
        (one, i) => pinout.findIndex((other) => JSON.stringify(other) === JSON.stringify(one)) === i,
      );
      const isBare = words.includes('bare') || unique.length === 0;
      const part = options.get('part') ?? (terms.length > 1 ? `${designator}-${id}`.slice(0, 40) : undefined);
      const local = board === undefined ? designator : `${board}:${designator}`;
      for (const [pin, net] of pins) {
        if (net === '-') continue;
        const label = pin === '?' ? local : `${local}.${pin.split(':')[0]}`;
        const all = joined.get(net) ?? joined.set(net, []).get(net) ?? [];
        if (!all.includes(label)) all.push(label);
      }
      const isCatalogued = words.includes('catalogued');
      if (part !== undefined) {
        parts.set(part, {
          number: part,
          maker: 'bench-parts',
          categories: terms,
          ...(isCatalogued && !isBare ? { pinout: unique } : {}),
        });
      }
      const isPlain = part === undefined && PLAIN.test(written);
      const candidate = part === undefined ? { category: terms[0] } : { part: `bench-parts/${part}` };
      if (!isPlain && !words.includes('unfitted'))
        identifications.push({
          component: local,
          candidates: [{ ...candidate, probability: 1 }],
          state: 'settled',
        });
      const [x, y] = at === undefined ? [] : numbers(at);
      const [length, width] = size === undefined ? [] : numbers(size);
      return {
        id: designator,
        board,
        side: board === undefined ? undefined : words.includes('bottom') ? 'bottom' : 'top',
        at: x === undefined ? undefined : { x, y },
        body: length === undefined ? undefined : { length, width },
        rotation: options.has('rot') ? Number(options.get('rot')) : undefined,
        fitted: words.includes('unfitted') ? false : undefined,
        inside: options.get('in'),
        appears: isPlain ? written : undefined,
        pinout: isBare || isCatalogued ? undefined : unique,
      };
    });

  const declared = new Map(named('net').map(({ words }) => [words[1], words.slice(2)]));
  const nets = [...joined].map(([name, pins]) => {
    const words = declared.get(name) ?? [];
    const options = optionsOf(words);
    const volts = words.find((word) => /^[\d.]+V$/u.test(word));
    const isPower = volts !== undefined || words.includes('power');
    const isGround = words.includes('ground') || (!isPower && GROUND.test(name));
    return {
      id: netId(name),
      label: name,
      kind: isPower ? 'power' : isGround ? 'ground' : 'signal',
      voltage: volts?.replace('V', ' V'),
      bus: options.get('bus'),
      medium: options.get('medium'),
      pins,
      complete: !words.includes('open'),
    };
  });
  const boardOf = new Map(components.map((one) => [one.id, one.board]));
  const end = (written: string) => {
    const board = boardOf.get(written);
    return written.includes(':') || board === undefined ? written : `${board}:${written}`;
  };
  const connections = [
    ...named('mate').map(({ words: [, first, second, ...words] }) => ({
      between: [end(first), end(second)],
      medium: words.find((word) => /^[a-z]/u.test(word)) ?? 'contact',
      pins: words.filter((word) => /^\w+-\w+$/u.test(word)).map((word) => word.split('-')),
    })),
    ...named('link').map(({ words: [, first, second, medium, ...words] }) => ({
      between: [end(first), end(second)],
      medium,
      bus: optionsOf(words).get('bus'),
    })),
  ];
  const dossier = dossierSchema.parse({
    caseback: 'dossier/1',
    device: { id, name: `Small ${id}`, maker, released: '2020', bodySite: 'wrist', invented: true },
    specimen: { id: 'a' },
    teardown: { on: '2021-01', by: 'I. Example' },
    boards,
    components,
    connections: connections.map((one) =>
      'pins' in one && one.pins.length === 0 ? { ...one, pins: undefined } : one,
    ),
    nets: nets.length > 0 ? nets : undefined,
    identifications,
  });
  const catalogue = catalogueSchema.parse({ caseback: 'catalogue/1', parts: [...parts.values()] });
  const locate = () => ({ line: 1, column: 1 });
  return [
    { kind: 'catalogue', file: `${id} parts`, locate, catalogue },
    { kind: 'dossier', file: id, locate, dossier: withUniqueIds(dossier) },
  ];
}

const MAKERS = catalogueSchema.parse({
  caseback: 'catalogue/1',
  makers: [
    { id: 'bench-a', name: 'Bench A', makes: ['devices'], invented: true },
    { id: 'bench-b', name: 'Bench B', makes: ['devices'], invented: true },
    { id: 'bench-parts', name: 'Bench Parts', makes: ['parts'], invented: true },
  ],
});

/** Ids of all named patterns. */
export const PATTERNS = readdirSync('seed-data/patterns').map((file) => file.replace('.yaml', ''));

/**
 * All boards in one archive, and what every named pattern finds there for certain.
 * @returns ids of the devices that a pattern finds
 */
export async function foundOn(
  boards: readonly SmallBoard[],
): Promise<(pattern: string) => Promise<Set<string>>> {
  const archive = await Archive.open(new MemoryJournal());
  const locate = () => ({ line: 1, column: 1 });
  const byPart = new Map<string, ReadDocument>();
  for (const device of boards.flatMap(({ devices }) => devices))
    for (const document of documentsOf(device)) byPart.set(`${document.kind} ${document.file}`, document);
  const documents = [
    { kind: 'catalogue', file: 'makers', locate, catalogue: MAKERS } as const,
    ...byPart.values(),
  ];
  await archive.importDocuments(documents, { actor: 'test', reason: 'small boards' }).catch((error) => {
    throw new Error(JSON.stringify(error.problems ?? error), { cause: error });
  });
  const state = archive.state('desk');
  return async (pattern) => {
    const { text, scope } = parse(readFileSync(`seed-data/patterns/${pattern}.yaml`, 'utf8')).patterns[0];
    const { devices } = await findPattern(state, { text, scope });
    return new Set(devices.filter(({ certain }) => certain).map(({ deviceId }) => deviceId));
  };
}

/**
 * Declares the tests of a file: each statement about its boards against what the engine finds there for certain.
 * @param missed statements, as `board: pattern`, that the engine is known to get wrong
 */
export function heldTo(boards: readonly SmallBoard[], missed: readonly string[] = []): void {
  const statements = boards.flatMap(({ id, devices, holds = {}, not = {} }) =>
    [...Object.entries(holds), ...Object.entries(not)].map(([pattern, because], index) => ({
      board: id,
      devices: devices.map((device) => device.id),
      pattern,
      because,
      expected: index < Object.keys(holds).length,
    })),
  );
  let found: Awaited<ReturnType<typeof foundOn>>;
  beforeAll(async () => {
    found = await foundOn(boards);
  });
  const isMissed = ({ board, pattern }: (typeof statements)[number]) =>
    missed.includes(`${board}: ${pattern}`);
  const answer = async ({ devices, pattern }: (typeof statements)[number]) => {
    const all = await found(pattern);
    return devices.some((device) => all.has(device));
  };
  test.each(statements.filter((one) => !isMissed(one)))(
    '$board: $pattern: $expected, $because',
    async (one) => {
      expect(await answer(one)).toBe(one.expected);
    },
  );
  if (missed.length > 0) {
    test('what is known to be answered wrongly still is', async () => {
      const wrong = statements.filter(isMissed);
      expect(wrong.length).toBe(missed.length);
      for (const one of wrong) expect(await answer(one), `${one.board}: ${one.pattern}`).toBe(!one.expected);
    });
  }
}
