/** Equal as JSON, whatever the order of fields; a field that is undefined counts as left out. */
export function same(a: unknown, b: unknown): boolean {
  if (a === b) return true;
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false;
  if (Array.isArray(a) || Array.isArray(b)) {
    return (
      Array.isArray(a) && Array.isArray(b) && a.length === b.length && a.every((one, i) => same(one, b[i]))
    );
  }
  const [x, y] = [certain(a), certain(b)];
  return x.size === y.size && [...x].every(([key, value]) => y.has(key) && same(value, y.get(key)));
}

function certain(value: object): Map<string, unknown> {
  return new Map(Object.entries(value).filter(([, member]) => member !== undefined));
}
