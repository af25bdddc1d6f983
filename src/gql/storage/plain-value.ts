/** Whether what a caller hands in is plain data: what JSON can write, without loss. */

/** Lists and records inside one another. */
const DEEPEST = 40;

interface Open {
  readonly value: object;
  /** `$p[3].width` */
  readonly path: () => string;
  readonly depth: number;
  readonly around: Around | undefined;
}

/** The lists and records that a value is in, innermost first. */
interface Around {
  readonly value: object;
  readonly around: Around | undefined;
}

export interface PlainRules {
  /** Values that may be there in all, items of lists and fields of records included. */
  readonly most: number;
  /** Whether a field of a record that is undefined counts as absent. */
  readonly undefinedIsAbsent: boolean;
}

/** The first value that is not plain data, in a sentence that begins with its path, ends with the fix and has no full stop. */
export function notPlain(
  values: readonly (readonly [path: string, value: unknown])[],
  { most, undefinedIsAbsent }: PlainRules,
): string | undefined {
  let seen = 0;
  const open: Open[] = [];
  const wrong = (
    value: unknown,
    path: () => string,
    depth: number,
    around: Around | undefined,
  ): string | undefined => {
    if (++seen > most) return `${path()} is one value too many; at most ${most} may be given`;
    const what = wrongWith(value);
    if (what) return `${path()} is ${what}`;
    if (typeof value === 'object' && value !== null) open.push({ value, path, depth, around });
    return undefined;
  };
  for (const [path, value] of values) {
    const found = wrong(value, () => path, 0, undefined);
    if (found) return found;
  }
  for (let at = open.pop(); at; at = open.pop()) {
    const { value, path, depth } = at;
    for (let one = at.around; one; one = one.around)
      if (one.value === value) return `${path()} holds itself; give a value that comes to an end`;
    if (depth >= DEEPEST) return `${path()} is nested more than ${DEEPEST} deep; give a flatter value`;
    const around: Around = { value, around: at.around };
    const within = (inner: unknown, place: string) => wrong(inner, () => path() + place, depth + 1, around);
    let found: string | undefined;
    // By index, since an iterator leaves out what is missing.
    if (Array.isArray(value))
      for (let i = 0; i < value.length && !found; i++) found = within(value[i], `[${i}]`);
    else
      for (const [field, inner] of Object.entries(value)) {
        if (inner === undefined && undefinedIsAbsent) continue;
        found ??= within(inner, placeOf(field));
      }
    if (found) return found;
  }
  return undefined;
}

function placeOf(field: string): string {
  return /^[\p{L}_][\p{L}\p{N}_]*$/u.test(field) ? `.${field}` : `[${JSON.stringify(field)}]`;
}

/** What a value is and the fix, if it is none of the language. */
function wrongWith(value: unknown): string | undefined {
  switch (typeof value) {
    case 'string':
    case 'boolean':
      return undefined;
    case 'number':
      return Number.isFinite(value) ? undefined : `${value}, which is not a finite number; give null`;
    case 'bigint':
      return `the BigInt ${String(value).slice(0, 40)}; give a number up to ${Number.MAX_SAFE_INTEGER}, or a text`;
    case 'undefined':
      return 'undefined; give null, or leave it out';
    case 'symbol':
    case 'function':
      return `a ${typeof value}; give a text, number, truth value, null, list or plain object`;
    default:
      return value === null || Array.isArray(value) ? undefined : wrongWithObject(value as object);
  }
}

function wrongWithObject(value: object): string | undefined {
  const prototype: unknown = Object.getPrototypeOf(value);
  if (prototype === null || Object.getPrototypeOf(prototype) === null) return undefined;
  if (value instanceof Date)
    return 'a Date; give its text, from toISOString(), which ZONED_DATETIME() in a pattern reads';
  if (value instanceof Map) return 'a Map; give a plain object, from Object.fromEntries()';
  if (value instanceof Set || ArrayBuffer.isView(value))
    return `${classOf(value)}; give a list, from Array.from()`;
  return `${classOf(value)}; give a plain object with its fields, a list, or a single value`;
}

function classOf(value: object): string {
  const { name } = (value as { constructor?: { name?: unknown } }).constructor ?? {};
  return typeof name === 'string' && name !== '' ? `an object of class ${name}` : 'an object of a class';
}
