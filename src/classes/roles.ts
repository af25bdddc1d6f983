import { z } from 'zod';
import { isUnder, lineage, termInWords } from '../model/taxonomy.ts';
import { fixed } from '../text/rounding.ts';
import { readYamlFile } from '../text/yaml-file.ts';
import type { Board } from './board.ts';
import { byName, type ChipOdds, type NamedClass } from './class-odds.ts';
import { CLASSES, GROUPS } from './class-table.ts';
import type { Neighbour } from './neighbour-clues.ts';

// What a chip does for its neighbours, whatever it is called: schema/class-roles.yaml.

const names = new Set(CLASSES.map(({ is }) => is));
const groups = new Map(GROUPS.map(([name], at) => [name, at]));
const name = z.string().refine((one) => names.has(one), { error: ({ input }) => `"${input}" is no class` });
const group = z.string().refine((one) => groups.has(one), { error: ({ input }) => `"${input}" is no group` });
const { roles: ROLES, rails: RAILS } = z
  .strictObject({
    roles: z.array(
      z.strictObject({
        does: z.string(),
        of: z.array(name).min(1),
        with: z.array(group).min(1),
        by: z.literal('supply').optional(),
        alone: z.literal(true).optional(),
      }),
    ),
    rails: z.array(z.strictObject({ does: z.string(), of: z.array(name).min(1) })),
  })
  .parse(readYamlFile(new URL('../../schema/class-roles.yaml', import.meta.url)));

/** Something that a chip may do for a neighbour. */
export interface ChipRole {
  /** In words, such as "reads". */
  readonly does: string;
  /** What it does that to, in words, such as "the pressure sensor U4"; and its local id, where it is a component. */
  readonly to: string;
  readonly component: string | undefined;
  /** Probability that the chip is of a class that does it, and that the neighbour is what it takes. */
  readonly probability: number;
  /** Names of the classes that do it and that the chip may be, likeliest first. */
  readonly classes: readonly string[];
}

/** Roles less likely than this are not listed. */
const LISTED = 0.05;

/** What a chip may do for its neighbours, likeliest first. */
export function rolesOf(board: Board, odds: ChipOdds): readonly ChipRole[] {
  const named = byName(odds.classes);
  const found = new Map<string, ChipRole>();
  const add = (does: string, to: string, component: string | undefined, of: readonly string[], p: number) => {
    const classes = named.filter(({ is }) => of.includes(is));
    const probability = p * classes.reduce((sum, one) => sum + one.probability, 0);
    const key = `${does} ${to}`;
    if (probability >= LISTED && probability > (found.get(key)?.probability ?? 0))
      found.set(key, { does, to, component, probability, classes: classes.map(({ is }) => is) });
  };
  const { neighbours, leads, feeds, supplies } = odds.clues;
  const alone = new Map(leads.map(({ id, probability }) => [id, probability]));
  for (const { does, of, with: whom, by = 'line', alone: onlyAlone } of ROLES) {
    for (const neighbour of neighbours) {
      if (neighbour.by !== by) continue;
      const fits = sumOf(neighbour, whom);
      const p = onlyAlone ? Math.min(fits, alone.get(neighbour.id) ?? 0) : fits;
      if (p > 0) add(does, nameOf(board, neighbour, whom), neighbour.id, of, p);
    }
    // A supply that a label names, and no component.
    if (by === 'supply')
      for (const supply of supplies)
        if (whom.includes(supply) && !neighbours.some((one) => one.by === by && sumOf(one, [supply]) > 0))
          add(does, `the ${supply}`, undefined, of, 1);
  }
  for (const { does, of } of RAILS)
    for (const { wire, probability } of feeds)
      add(does, wire.label === undefined ? 'a rail' : `the rail ${wire.label}`, undefined, of, probability);
  return [...found.values()].sort(
    (a, b) => b.probability - a.probability || (a.does + a.to < b.does + b.to ? -1 : 1),
  );
}

function sumOf(neighbour: Neighbour, whom: readonly string[]): number {
  return whom.reduce((sum, one) => sum + neighbour.groups[groups.get(one) as number], 0);
}

/** The neighbour as an engineer names it: by its narrowest likely term among those that count here. */
function nameOf({ named }: Board, { id, groups: odds }: Neighbour, whom: readonly string[]): string {
  const likeliest = whom.reduce((a, b) => (at(odds, b) > at(odds, a) ? b : a));
  const terms = GROUPS[groups.get(likeliest) as number][1];
  const narrowest = [...(named.get(id) ?? [])]
    .filter(([term, weight]) => weight >= 0.5 && terms.some((one) => isUnder(term, one)))
    .sort(([a, p], [b, q]) => lineage(b).length - lineage(a).length || q - p)[0]?.[0];
  return `the ${narrowest === undefined ? likeliest : termInWords(narrowest)} ${id}`;
}

function at(odds: readonly number[], groupName: string): number {
  return odds[groups.get(groupName) as number];
}

/** Words for a probability; what is behind them is always given beside. */
function adverbOf(probability: number): string {
  if (probability >= 0.8) return 'very probably';
  if (probability >= 0.6) return 'probably';
  return probability >= 0.3 ? 'perhaps' : 'not told by what hangs on it; perhaps';
}

/** Roles that one sentence names. */
const ROLES_SAID = 3;
/** A second name is said where it is at least this likely, and this likely against the first. */
const SECOND = 0.1;
const RIVAL = 0.5;
/** A kind is named beside another under one name where it is at least a quarter as likely. */
const KIND_SAID = 0.25;

/** What a chip may be, in a sentence: "probably reads the pressure sensor U4 and watches the button S1: sensor hub or microcontroller, 0.70". */
export function sentenceOf(odds: ChipOdds, roles: readonly ChipRole[]): string {
  const [first, second] = byName(odds.classes);
  if (!first) return 'nothing that hangs on it tells what it is';
  const isOpen = second !== undefined && second.probability >= RIVAL * first.probability;
  const said = isOpen ? [first, second] : [first];
  const whole = said.reduce((sum, { probability }) => sum + probability, 0);
  const does = roles
    .filter(({ classes }) => said.every(({ is }) => classes.includes(is)))
    .slice(0, ROLES_SAID)
    .sort((a, b) => rankOf(a) - rankOf(b));
  const what = isOpen
    ? said.map((one) => `${kindsIn(one)} ${fixed(one.probability, 2)}`).join(' or ')
    : `${kindsIn(first)}, ${fixed(first.probability, 2)}`;
  const doing = does.length === 0 ? '' : ` ${deedsIn(does)}:`;
  const rest =
    !isOpen && second && second.probability >= SECOND
      ? `; else ${kindsIn(second)}, ${fixed(second.probability, 2)}`
      : '';
  return `${adverbOf(whole)}${doing} ${what}${rest}`;
}

/** Deeds are said in the order of schema/class-roles.yaml. */
const DEEDS = [...ROLES, ...RAILS].map(({ does }) => does);

function rankOf({ does }: ChipRole): number {
  return DEEDS.indexOf(does);
}

function kindsIn({ is, kinds }: NamedClass): string {
  const said = kinds.filter(({ probability }) => probability >= KIND_SAID * kinds[0].probability);
  return said.length > 3 ? is : said.map(({ term }) => termInWords(term)).join(' or ');
}

const LIST = new Intl.ListFormat('en-GB');

/** "reads the pressure sensor U4 and the accelerometer U5 and watches the button S1". */
function deedsIn(roles: readonly ChipRole[]): string {
  const byDeed = [...Map.groupBy(roles, ({ does }) => does)];
  return LIST.format(byDeed.map(([does, all]) => `${does} ${LIST.format(all.map(({ to }) => to))}`));
}
