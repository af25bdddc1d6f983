/** A field of a record that reads otherwise. */
export interface FieldChange {
  /** Such as `mass.value` or `components[U3].marking`; empty for the record itself. */
  readonly path: string;
  /** JSON of the value before, null where there was none. */
  readonly before: string | null;
  /** JSON of the value after, null where there is none. */
  readonly after: string | null;
}

type Members = Readonly<Record<string, unknown>>;

/**
 * The fields in which two JSON values differ, in the order in which they stand. Items of a list that have an `id` are compared by
 * it, wherever they stand; other lists are compared item by item.
 */
export function fieldChanges(before: unknown, after: unknown, path = ''): readonly FieldChange[] {
  if (before === after) return [];
  if (isList(before) && isList(after)) return inLists(before, after, path);
  if (isGroup(before) && isGroup(after)) return inGroups(before, after, path);
  return [{ path, before: json(before), after: json(after) }];
}

function inGroups(before: Members, after: Members, path: string): readonly FieldChange[] {
  const keys = new Set([...Object.keys(before), ...Object.keys(after)]);
  return [...keys].flatMap((key) =>
    fieldChanges(before[key], after[key], path === '' ? key : `${path}.${key}`),
  );
}

function inLists(
  before: readonly unknown[],
  after: readonly unknown[],
  path: string,
): readonly FieldChange[] {
  const [was, is] = [byId(before), byId(after)];
  const keys = new Set([...was.keys(), ...is.keys()]);
  return [...keys].flatMap((key) => fieldChanges(was.get(key), is.get(key), `${path}[${key}]`));
}

/** Items by their ids where all of them have one of their own, else by their places from 0. */
function byId(list: readonly unknown[]): ReadonlyMap<string, unknown> {
  const ids = list.map((item) => (isGroup(item) && typeof item.id === 'string' ? item.id : undefined));
  const haveIds = ids.every((id) => id !== undefined) && new Set(ids).size === list.length;
  return new Map(list.map((item, at) => [haveIds ? (ids[at] as string) : String(at), item]));
}

function isList(value: unknown): value is readonly unknown[] {
  return Array.isArray(value);
}

function isGroup(value: unknown): value is Members {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function json(value: unknown): string | null {
  return value === undefined ? null : JSON.stringify(value);
}
