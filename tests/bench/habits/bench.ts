import type { Random } from '../../../src/statistics/random.ts';
import type { Placed } from './circuit.ts';

// How an editor looks at a chip and writes down what is there. Each editor has habits that come back with every chip.

export interface Editor {
  readonly name: string;
  /** What this editor takes a character for, again and again, and how often. */
  readonly mistakes: ReadonlyMap<string, string>;
  readonly mistaken: number;
  /** Share of chips so worn or badly lit that the whole print suffers, and of their characters that stay unread. */
  readonly smudged: number;
  readonly blur: number;
  /** Share of clear characters for which a second one is written beside the first. */
  readonly doubts: number;
  /** How sure the editor says to be of a reading, whatever the truth; left out for one who does not say. */
  readonly says?: number;
  /** Writes the first line alone, as far as so many characters. */
  readonly abbreviates?: number;
  /** Writes packages as the trade does, or leaves out the count, or uses words of its own. */
  readonly packages: 'full' | 'family' | 'own';
  /** Counts the pad below as a terminal. */
  readonly countsPad: boolean;
  /** Share of chips whose terminals, package and body are written down. */
  readonly counts: number;
  readonly measures: number;
  /** mm, standard deviation of a length. */
  readonly gauge: number;
  /** How the circuit is recorded. */
  readonly traces: 'nets' | 'lines' | 'none';
  /** Share of chips that this editor settles, when it can. */
  readonly settles: number;
}

/** Pairs that are taken for each other under a microscope (from memory of the bench; not a table of the project's). */
const ALIKE = [
  '8B',
  'B8',
  '0O',
  '0D',
  '1I',
  '1L',
  '7T',
  '5S',
  'S5',
  '2Z',
  'Z2',
  '6G',
  'G6',
  'CG',
  '3B',
  'VY',
  'MN',
  'HN',
  '4A',
  '9P',
  'RK',
  'WV',
  'XK',
  '17',
  '38',
  '69',
  '58',
  'QO',
  'DO',
];

/** An editor with habits drawn from these ranges. */
export function drawEditor(name: string, skill: 'good' | 'poor', random: Random): Editor {
  const poor = skill === 'poor';
  const pairs = random.shuffled(ALIKE).slice(0, poor ? 5 : 3);
  return {
    name,
    mistakes: new Map(pairs.map(([from, to]) => [from, to])),
    mistaken: poor ? 0.35 + 0.4 * random.uniform() : 0.08 * random.uniform(),
    smudged: poor ? 0.3 : 0.1,
    blur: poor ? 0.4 : 0.25,
    doubts: poor ? 0.02 : 0.04,
    says: random.chance(0.5) ? undefined : poor ? 0.95 : 0.9,
    abbreviates: poor && random.chance(0.6) ? random.integer(4, 6) : undefined,
    packages: random.pick(
      poor ? (['family', 'own', 'full'] as const) : (['full', 'full', 'family'] as const),
    ),
    countsPad: random.chance(0.5),
    counts: poor ? 0.5 : 0.85,
    measures: poor ? 0.3 : 0.7,
    gauge: poor ? 0.12 : 0.04,
    traces: random.pick(poor ? (['none', 'lines'] as const) : (['nets', 'nets', 'lines', 'none'] as const)),
    settles: poor ? 0.7 : 0.8,
  };
}

/** What is on a chip, with the codes filled in: `{lot:3}`, `{date:YYWW}`. */
export function filled(print: string, year: number, random: Random): string {
  const week = String(random.integer(1, 52)).padStart(2, '0');
  return print
    .replaceAll('{date:YYWW}', `${String(year).slice(2)}${week}`)
    .replaceAll('{date:YWW}', `${String(year).slice(3)}${week}`)
    .replaceAll(/\{lot:(\d)\}/gu, (_, length) => code(Number(length), random));
}

export function code(length: number, random: Random): string {
  return Array.from({ length }, () => random.pick([...'ABCDEFGHJKLMNPRSTUVWXYZ0123456789'])).join('');
}

/** A print as the editor writes it down; undefined where nothing of it could be read. */
export function asRead(editor: Editor, print: string, random: Random): string | undefined {
  const smudged = random.chance(editor.smudged);
  const seen = editor.abbreviates === undefined ? print : print.split('\n')[0].slice(0, editor.abbreviates);
  const written = [...seen]
    .map((character) => {
      if (character === '\n') return character;
      if (smudged && random.chance(editor.blur)) return '?';
      const taken =
        editor.mistakes.has(character) && random.chance(editor.mistaken)
          ? (editor.mistakes.get(character) as string)
          : character;
      const other = ALIKE.find(([from]) => from === taken)?.[1];
      return other !== undefined && random.chance(smudged ? 0.2 : editor.doubts)
        ? `[${taken}${other}]`
        : taken;
    })
    .join('');
  return /[^?\n]/u.test(written) ? written : undefined;
}

/** What is written down of how a chip looks, apart from its print. */
export function looks(editor: Editor, { part }: Placed, random: Random): object {
  if (part === undefined) return {};
  const [family, count] = part.package.split(/-(?=\d+$)/u);
  const named =
    editor.packages === 'full'
      ? part.package
      : editor.packages === 'family'
        ? family
        : family === 'WLCSP'
          ? 'BGA'
          : family === 'USON'
            ? 'DFN'
            : `${family.replaceAll('-', '')}-${count}`;
  const padded = editor.countsPad && /^(QFN|DFN|USON)/u.test(part.package) ? 1 : 0;
  const off = random.chance(part.pins > 16 ? 0.06 : 0.02) ? (random.chance(0.5) ? 1 : -1) : 0;
  const size = (length: number) =>
    Math.max(0.3, Math.round((length + random.normal(0, editor.gauge)) * 100) / 100);
  return {
    ...(random.chance(editor.counts) ? { package: named } : {}),
    ...(random.chance(editor.counts * 0.8) ? { pins: part.pins + padded + off } : {}),
    ...(random.chance(editor.measures)
      ? {
          body: {
            length: size(part.body[0]),
            width: size(part.body[1]),
            ...(random.chance(0.4) ? { height: size(part.body[2]) } : {}),
          },
        }
      : {}),
  };
}
