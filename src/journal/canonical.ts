/**
 * Canonical JSON after RFC 8785 (JSON Canonicalization Scheme): keys sorted by UTF-16 code unit, no white space,
 * numbers and strings as ECMAScript writes them. Members that are undefined are left out, as JSON does.
 * @throws TypeError for numbers that JSON cannot hold and strings with lone surrogates (RFC 8785, section 3.2.2)
 */
export function canonicalJson(value: unknown): string {
  switch (typeof value) {
    case 'string':
      if (!value.isWellFormed()) throw new TypeError('a string holds half a surrogate pair');
      return JSON.stringify(value);
    case 'number':
      if (!Number.isFinite(value)) throw new TypeError(`${value} has no form in JSON`);
      return JSON.stringify(value);
    case 'boolean':
      return String(value);
    case 'object':
      if (value === null) return 'null';
      if (Array.isArray(value)) return `[${value.map(canonicalJson).join(',')}]`;
      return canonicalObject(value as Record<string, unknown>);
    default:
      throw new TypeError(`a ${typeof value} has no form in JSON`);
  }
}

function canonicalObject(value: Record<string, unknown>): string {
  const members: string[] = [];
  for (const key of Object.keys(value).sort()) {
    const member = value[key];
    if (member !== undefined) members.push(`${canonicalJson(key)}:${canonicalJson(member)}`);
  }
  return `{${members.join(',')}}`;
}
