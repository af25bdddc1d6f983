import { z } from 'zod';
import { PIN_FUNCTIONS, type Pin } from '../model/net.ts';
import { isTerm, lineage } from '../model/taxonomy.ts';
import { readYamlFile } from '../text/yaml-file.ts';

/** What a pin may hang on, as told by its net alone. */
export const SURROUNDINGS = [
  'ground',
  'rail',
  'battery',
  'outside-supply',
  'switch-node',
  'supplied-inductor',
  'capacitor',
  'fly-capacitor',
  'pull-up',
  'resistor-to-ground',
  'sense-resistor',
  'divider',
  'feedback',
  'crystal',
  'antenna',
  'coil',
  'load',
  'analogue-source',
  'i2c',
  'spi',
  'debug',
  'usb',
  'audio',
  'uart',
  'button',
  'connector',
  'unconnected',
  'signal',
] as const;
export type Surrounding = (typeof SURROUNDINGS)[number];

/** How the numbers that a reader gave may differ from those of the maker. */
export const ALTERNATIVES = ['as-is', 'turned', 'mirrored', 'reversed'] as const;
export type Alternative = (typeof ALTERNATIVES)[number];

const share = z.number().gt(0).max(1);
const shareOf = z.partialRecord(z.enum(SURROUNDINGS), share);
const stepSchema = z.strictObject({ lower: share, equal: share, higher: share });
const pairSchema = stepSchema.extend({ same: share });
const prior = z.record(z.enum(ALTERNATIVES), share);
const count = z.number().int().positive();
const fileSchema = z.strictObject({
  background: z.record(z.enum(SURROUNDINGS), share),
  pairs: pairSchema,
  alternatives: z.strictObject({ numbered: prior, 'x-ray': prior }),
  roles: z.record(z.string(), z.strictObject({ is: z.string(), on: shareOf })),
  functions: z.partialRecord(z.enum(PIN_FUNCTIONS), z.string()),
  arrangements: z.array(
    z.strictObject({
      terms: z.array(z.string().refine(isTerm)).min(1),
      is: z.string(),
      package: z.string().optional(),
      pins: z.union([count, z.tuple([count, count])]),
      order: z.array(z.strictObject({ share, roles: z.array(z.string()) })).optional(),
      of: z.record(z.string(), z.number().positive()).optional(),
      pair: pairSchema.extend({ of: z.tuple([z.string(), z.string()]) }).optional(),
      step: stepSchema.optional(),
    }),
  ),
});

/** What a pin is for, and what it then hangs on. */
export interface Role {
  readonly id: string;
  /** In words, such as "input supply". */
  readonly is: string;
  /** Probability of each surrounding, in the order of {@link SURROUNDINGS}; sums to 1. */
  readonly on: readonly number[];
}

/** How two supply pins of a part compare: on one net or not, and where not, the second's voltage against the first's. */
export type PairShares = z.infer<typeof pairSchema>;

/** How the voltage that a part makes compares with what it is supplied with. */
export type StepShares = z.infer<typeof stepSchema>;

/** The pins of a class of parts, or of one part. */
export interface Arrangement {
  /** What has it, in words, such as "linear regulator". */
  readonly is: string;
  readonly terms: readonly string[];
  /** Pattern on the name of the package without blanks and hyphens. */
  readonly package: RegExp | undefined;
  /** Minimum and maximum number of pins. */
  readonly pins: readonly [number, number];
  /** Roles by label of the pin, each order with its share. The rest to 1: some other order of the same roles. */
  readonly orders: readonly { readonly share: number; readonly roles: ReadonlyMap<string, Role> }[];
  /** Roles whatever the order, with the share of pins that have each; sums to 1. */
  readonly any: readonly { readonly role: Role; readonly share: number }[];
  readonly pair: (PairShares & { readonly of: readonly [string, string] }) | undefined;
  readonly step: StepShares | undefined;
}

const url = new URL('../../schema/class-pinouts.yaml', import.meta.url);
const file = fileSchema.parse(readYamlFile(url));

/** How often a pin at large hangs on each, in the order of {@link SURROUNDINGS}. */
export const BACKGROUND: readonly number[] = SURROUNDINGS.map((one) => file.background[one]);
/** How two supply pins of any component compare. */
export const PAIRS: PairShares = file.pairs;
/** How often numbers are as they should be, turned, mirrored or counted the wrong way, by how the nets were seen. */
export const ALTERNATIVE_SHARES = file.alternatives;

const roles = new Map<string, Role>(
  Object.entries(file.roles).map(([id, { is, on }]) => [id, roleOf(id, is, on)]),
);

/** What is left to 1 is spread over all surroundings as often as each is seen at large. */
function roleOf(id: string, is: string, on: z.infer<typeof shareOf>): Role {
  const rest = 1 - SURROUNDINGS.reduce((sum, one) => sum + (on[one] ?? 0), 0);
  if (rest < 0.01)
    throw wrong(`role "${id}" leaves ${rest.toFixed(3)} for anything else; leave 0.01 or more`);
  return { id, is, on: SURROUNDINGS.map((one, at) => (on[one] ?? 0) + rest * BACKGROUND[at]) };
}

function role(id: string): Role {
  const found = roles.get(id);
  if (!found) throw wrong(`"${id}" is not one of its roles`);
  return found;
}

function wrong(problem: string): Error {
  return new Error(`schema/class-pinouts.yaml: ${problem}`);
}

if (Math.abs(BACKGROUND.reduce((sum, one) => sum + one, 0) - 1) > 1e-9)
  throw wrong('the shares under "background" must sum to 1');

/** Arrangements of schema/class-pinouts.yaml, in its order. */
export const CLASS_PINOUTS: readonly Arrangement[] = file.arrangements.map(
  ({ is, terms, package: pattern, pins, order = [], of, pair, step }) => {
    const range: readonly [number, number] = typeof pins === 'number' ? [pins, pins] : pins;
    for (const one of order)
      if (one.roles.length !== range[0] || range[0] !== range[1])
        throw wrong(`an order of "${is}" has ${one.roles.length} roles for pins: ${pins}`);
    const orders = order.map((one) => ({
      share: one.share,
      roles: new Map(one.roles.map((id, at) => [String(at + 1), role(id)])),
    }));
    if (of === undefined && orders.length === 0) throw wrong(`"${is}" has neither order nor of`);
    const counts = of ?? countsIn(order[0].roles);
    return {
      is,
      terms,
      package: pattern === undefined ? undefined : new RegExp(pattern, 'u'),
      pins: range,
      orders,
      any: sharesOf(counts),
      pair,
      step,
    };
  },
);

function countsIn(ids: readonly string[]): Readonly<Record<string, number>> {
  const counts: Record<string, number> = {};
  for (const id of ids) counts[id] = (counts[id] ?? 0) + 1;
  return counts;
}

function sharesOf(counts: Readonly<Record<string, number>>): Arrangement['any'] {
  const total = Object.values(counts).reduce((sum, one) => sum + one, 0);
  return Object.entries(counts).map(([id, pins]) => ({ role: role(id), share: pins / total }));
}

/** Arrangements by the class that they are listed under. */
const byTerm = new Map<string, Arrangement[]>();
for (const one of CLASS_PINOUTS)
  for (const term of one.terms) {
    const listed = byTerm.get(term);
    if (listed) listed.push(one);
    else byTerm.set(term, [one]);
  }

/** Classes that have arrangements of their own. */
export const PINOUT_CLASSES: readonly string[] = [...byTerm.keys()];

/** The class whose arrangements count for a term: itself or the nearest above it; undefined where none is listed. */
export function pinoutClassOf(term: string): string | undefined {
  return lineage(term).find((one) => byTerm.has(one));
}

/** Arrangements of a class that allow a number of pins and a package; what is not known allows any. */
export function arrangementsOf(
  term: string,
  pins: number | undefined,
  packageName: string | undefined,
): readonly Arrangement[] {
  const plain = packageName?.toUpperCase().replace(/[\s_-]/gu, '');
  const listed = byTerm.get(pinoutClassOf(term) ?? '') ?? [];
  return listed.filter(
    ({ pins: [low, high], package: pattern }) =>
      // An exposed pad is often counted as one pin more.
      (pins === undefined ||
        (pins >= low && pins <= high) ||
        (pins > 8 && pins - 1 >= low && pins - 1 <= high)) &&
      (pattern === undefined || plain === undefined || pattern.test(plain)),
  );
}

/** An exposed pad mostly is ground. */
export const PAD: Role = role('ground');

/** How often the pinout of the catalogue is that of the part in hand (common practice, no source). */
const CATALOGUE_HOLDS = 0.97;

const made = new WeakMap<readonly Pin[], Arrangement>();

/**
 * The arrangement that a pinout of the catalogue gives: pins whose function is not known say nothing.
 * @param pins number of its pins, where the catalogue has it
 * @param functionOf what a pin is for; by default its recorded function
 */
export function arrangementOfPart(
  is: string,
  pinout: readonly Pin[],
  pins: number | undefined,
  functionOf: (pin: Pin) => (typeof PIN_FUNCTIONS)[number] | undefined = (pin) => pin.function,
): Arrangement {
  const known = made.get(pinout);
  if (known) return known;
  const byLabel = new Map<string, Role>();
  const counts: Record<string, number> = {};
  pinout.forEach((pin) => {
    const id = file.functions[functionOf(pin) ?? 'other'];
    if (id === undefined) return;
    for (const label of [pin.number, pin.name]) if (label !== undefined) byLabel.set(label, role(id));
    counts[id] = (counts[id] ?? 0) + 1;
  });
  const numbers = pinout.flatMap(({ number }) =>
    number !== undefined && /^\d+$/u.test(number) ? [Number(number)] : [],
  );
  const size = Math.max(1, pins ?? 0, pinout.length, ...numbers);
  const arrangement: Arrangement = {
    is,
    terms: [],
    package: undefined,
    pins: [size, size],
    orders: byLabel.size === 0 ? [] : [{ share: CATALOGUE_HOLDS, roles: byLabel }],
    any: sharesOf(counts),
    pair: undefined,
    step: undefined,
  };
  made.set(pinout, arrangement);
  return arrangement;
}
