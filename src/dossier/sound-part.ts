import type { z } from 'zod';
import type { Path } from './document/document.ts';
import { deepIssues } from './issues.ts';
import { definitionOf, required, type Schema, schemaAt } from './schema-walk.ts';

/** What of a file can be read although a schema refuses it as a whole. */
export interface SoundPart<T> {
  readonly value: T;
  /** Path in the file of a path in the value: items that could not be read are left out. */
  readonly inFile: (path: Path) => Path;
  /** What stands in for what is missing or cannot be read; nothing that is said of these is true. */
  readonly standIns: readonly string[];
  /** Whether something that others may name is among what could not be read. */
  readonly hasGaps: boolean;
}

/** Rounds of taking out what is refused; what is refused behind all of them is left alone. */
const ROUNDS = 5;

/** Values that stand in where a field must not be missing; odd ones, so that they are told apart from what was written. */
const STAND_INS: readonly unknown[] = [
  'unread-9f3a',
  'U99173',
  'unread-9f3a/UNREAD9F3A',
  '1971-01-01',
  '1971-01-01T00:00:00Z',
  '9173 mm',
  '9173 g',
  '9173 V',
  '9173',
  'QZ',
  'QZQ',
  'https://unread.invalid/9f3a',
  `9f3a${'0'.repeat(60)}`,
  1,
  0,
  true,
  [],
  {},
];

/**
 * Takes out of a value what a schema refuses: fields that may be left out and items of lists go, other fields get a stand-in.
 * @param value plain data of a file, which is altered
 * @returns undefined where nothing sound is left
 */
export function soundPart<T>(schema: z.ZodType<T>, value: unknown): SoundPart<T> | undefined {
  const original = new WeakMap<object, number[]>();
  const out: TakenOut = { original, standIns: new Set(), hasGaps: false };
  for (let round = 0; round < ROUNDS; round++) {
    const read = schema.safeParse(value);
    if (read.success) {
      return {
        value: read.data,
        inFile: (path) => originalPath(value, path, original),
        standIns: [...out.standIns],
        hasGaps: out.hasGaps,
      };
    }
    const leaves = deepIssues(read.error.issues, value, schema);
    // Keys first, items of lists last and from the end, so that no path is out of date.
    for (const { path, keys } of leaves) {
      const at = keys && nodeAt(value, path);
      if (at) for (const key of keys) delete at[key];
    }
    const refused = leaves.flatMap(({ path, keys }) => (keys ? [] : [path])).toSorted(lastFirst);
    if (!refused.every((path) => takeOut(value, path, schema, out))) return undefined;
  }
  return undefined;
}

interface TakenOut {
  /** Numbers in the file of the items of lists from which some were taken. */
  readonly original: WeakMap<object, number[]>;
  readonly standIns: Set<string>;
  hasGaps: boolean;
}

/** Fields that say what a thing is called. */
const NAMING: ReadonlySet<PropertyKey> = new Set(['id', 'number', 'maker', 'device', 'specimen']);

/** Takes one refused value out; false where the file cannot do without it. */
function takeOut(root: unknown, path: Path, schema: Schema, out: TakenOut): boolean {
  const step = path.at(-1);
  if (step === undefined) return false;
  const around = path.slice(0, -1);
  const at = nodeAt(root, around);
  if (!at) return true;
  if (Array.isArray(at)) {
    const outer = schemaAt(schema, around);
    if (outer && definitionOf(required(outer)).type === 'tuple') return takeOut(root, around, schema, out);
    const numbers = out.original.get(at) ?? at.map((_, i) => i);
    numbers.splice(step as number, 1);
    at.splice(step as number, 1);
    out.original.set(at, numbers);
    out.hasGaps = true;
    return true;
  }
  const field = schemaAt(schema, path);
  if (!field || definitionOf(field).type === 'optional' || definitionOf(field).type === 'default') {
    delete at[step as string];
    return true;
  }
  const fits = [...STAND_INS, ...wordsOf(field)].find((one) => parses(field, one));
  if (fits === undefined) return takeOut(root, around, schema, out);
  at[step as string] = typeof fits === 'object' ? structuredClone(fits) : fits;
  if (typeof fits === 'string' && STAND_INS.includes(fits)) out.standIns.add(fits);
  if (NAMING.has(step)) out.hasGaps = true;
  return true;
}

function parses(schema: Schema, value: unknown): boolean {
  return (schema as z.ZodType).safeParse(value).success;
}

function wordsOf(schema: Schema): readonly unknown[] {
  const def = definitionOf(required(schema));
  return def.type === 'enum' ? Object.values(def.entries) : def.type === 'literal' ? def.values : [];
}

function nodeAt(root: unknown, path: Path): Record<string, unknown> | undefined {
  const found = path.reduce<unknown>(
    (at, step) =>
      typeof at === 'object' && at !== null ? (at as Record<PropertyKey, unknown>)[step] : undefined,
    root,
  );
  return typeof found === 'object' && found !== null ? (found as Record<string, unknown>) : undefined;
}

function originalPath(root: unknown, path: Path, original: WeakMap<object, number[]>): Path {
  let at = root;
  return path.map((step) => {
    const numbers = Array.isArray(at) ? original.get(at) : undefined;
    at = typeof at === 'object' && at !== null ? (at as Record<PropertyKey, unknown>)[step] : undefined;
    return typeof step === 'number' ? (numbers?.[step] ?? step) : step;
  });
}

/** Deeper paths before those around them, later items of a list before earlier ones. */
function lastFirst(a: Path, b: Path): number {
  for (let i = 0; i < Math.min(a.length, b.length); i++) {
    const [one, other] = [a[i], b[i]];
    if (typeof one === 'number' && typeof other === 'number' && one !== other) return other - one;
    if (one !== other) return String(one) < String(other) ? -1 : 1;
  }
  return b.length - a.length;
}
