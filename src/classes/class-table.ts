import { z } from 'zod';
import { isTerm, isUnder } from '../model/taxonomy.ts';
import { readYamlFile } from '../text/yaml-file.ts';

// schema/class-neighbours.yaml, read and checked: who a neighbour is, and what each class of chip is joined to.

const share = z.number().gt(0).lt(1);
const term = z.string().refine(isTerm, { error: ({ input }) => `"${input}" is not a term` });
const between = z.tuple([z.number().positive(), z.number().positive()]);

/** Buses that tell classes apart. */
export const CLUE_BUSES = ['i2c', 'spi', 'uart', 'usb', 'audio', 'debug'] as const;
export type ClueBus = (typeof CLUE_BUSES)[number];

const joins = {
  line: z.record(z.string(), share),
  supply: z.partialRecord(z.string(), share),
  bus: z.partialRecord(z.enum(CLUE_BUSES), share),
  leads: share,
  feeds: share,
  rails: share,
  bridges: share,
};
const fileSchema = z.strictObject({
  groups: z.record(z.string(), z.array(term).min(1)),
  led: z.array(z.string()),
  feeding: z.array(z.string()),
  usual: z.strictObject(joins),
  classes: z.record(
    term,
    z.strictObject({
      is: z.string(),
      share,
      pins: between,
      body: between,
      line: joins.line.optional(),
      supply: joins.supply.optional(),
      bus: joins.bus.optional(),
      leads: share.optional(),
      feeds: share.optional(),
      rails: share.optional(),
      bridges: share.optional(),
    }),
  ),
});

const url = new URL('../../schema/class-neighbours.yaml', import.meta.url);
const file = fileSchema.parse(readYamlFile(url));

/** Who a neighbour is, by name of the group, the first that fits. */
export const GROUPS: readonly (readonly [name: string, terms: readonly string[]])[] = Object.entries(
  file.groups,
);
const groupNames: ReadonlySet<string> = new Set(GROUPS.map(([name]) => name));
/** Groups that lead no bus, and groups that may feed a rail. */
export const NEEDS_LEADER: ReadonlySet<string> = new Set(file.led.map(group));
export const FEEDING: ReadonlySet<string> = new Set(file.feeding.map(group));
/** Groups that share a supply. */
export const SUPPLYING: readonly string[] = Object.keys(file.usual.supply).map(group);

function group(name: string): string {
  if (!groupNames.has(name)) throw wrong(`"${name}" is not one of its groups`);
  return name;
}

function wrong(problem: string): Error {
  return new Error(`schema/class-neighbours.yaml: ${problem}`);
}

/** What a chip may do: lead what nobody else leads, feed what nobody else feeds, be on two rails, on two wires pairs of one bus. */
const DEEDS = ['leads', 'feeds', 'rails', 'bridges'] as const;
export type Deed = (typeof DEEDS)[number];

/** Something that may hang on a chip, or that it may do. */
export type Clue =
  | { readonly kind: 'line' | 'supply'; readonly of: string }
  | { readonly kind: 'bus'; readonly of: ClueBus }
  | { readonly kind: 'deed'; readonly of: Deed };

/** All clues, by place in rows and counts. */
export const CLUES: readonly Clue[] = [
  ...GROUPS.map(([of]) => ({ kind: 'line' as const, of })),
  ...SUPPLYING.map((of) => ({ kind: 'supply' as const, of })),
  ...CLUE_BUSES.map((of) => ({ kind: 'bus' as const, of })),
  ...DEEDS.map((of) => ({ kind: 'deed' as const, of })),
];

/** A clue as counts name it: `line:button`, `supply:cell`, `bus:i2c`, `leads`. */
export function nameOfClue({ kind, of }: Clue): string {
  return kind === 'deed' ? of : [kind, of].join(':');
}

const placeOf = new Map(CLUES.map((clue, at) => [nameOfClue(clue), at]));

/** Place of a clue in rows and counts. */
export function placeOfClue(clue: string): number {
  const at = placeOf.get(clue);
  if (at === undefined) throw new Error(`"${clue}" is not a clue`);
  return at;
}

/** A length or a number whose logarithm is normally distributed. */
export interface LogNormal {
  readonly mean: number;
  readonly deviation: number;
}

/** What chips of a class are joined to, before an archive has taught anything. */
export interface ClassRow {
  readonly at: number;
  readonly term: string;
  /** The name that an engineer gives: kinds that cannot be told apart share it. */
  readonly is: string;
  /** Share among packaged chips. */
  readonly share: number;
  readonly pins: LogNormal;
  /** Longer side, mm. */
  readonly body: LogNormal;
  /** Probability of each clue, in the order of {@link CLUES}. */
  readonly has: readonly number[];
}

/** Four in five of a normal distribution lie within this many deviations of its mean. */
const FOUR_IN_FIVE = 1.2816;

const whole = Object.values(file.classes).reduce((sum, one) => sum + one.share, 0);

/** All classes of schema/class-neighbours.yaml; shares sum to 1. */
export const CLASSES: readonly ClassRow[] = Object.entries(file.classes).map(([name, row], at) => {
  const { usual } = file;
  const line = { ...usual.line, ...row.line };
  const supply = { ...usual.supply, ...row.supply };
  const bus = { ...usual.bus, ...row.bus };
  for (const key of [...Object.keys(line), ...Object.keys(supply)]) group(key);
  const hasOf = ({ kind, of }: Clue) => {
    if (kind === 'deed') return row[of] ?? usual[of];
    return kind === 'bus' ? bus[of] : { line, supply }[kind][of];
  };
  return {
    at,
    term: name,
    is: row.is,
    share: row.share / whole,
    pins: logNormal(row.pins),
    body: logNormal(row.body),
    has: CLUES.map((clue) => {
      const p = hasOf(clue);
      if (p === undefined) throw wrong(`"usual" says nothing of ${nameOfClue(clue)}`);
      return p;
    }),
  };
});

function logNormal([low, high]: readonly [number, number]): LogNormal {
  if (low > high) throw wrong(`${low} to ${high} is the wrong way round`);
  return {
    mean: (Math.log(low) + Math.log(high)) / 2,
    deviation: Math.max(0.15, (Math.log(high) - Math.log(low)) / 2 / FOUR_IN_FIVE),
  };
}

const rowsOf = new Map<string, ClassRow | undefined>();

/** The row of a term: its own or the nearest above it; undefined for what is no chip. */
export function rowOf(of: string): ClassRow | undefined {
  if (!rowsOf.has(of))
    rowsOf.set(of, CLASSES.find((row) => row.term === of) ?? CLASSES.find((row) => isUnder(of, row.term)));
  return rowsOf.get(of);
}
