import canonicalize from 'canonicalize';

/**
 * Canonical JSON after RFC 8785 (JSON Canonicalization Scheme): keys sorted by UTF-16 code unit, no white space,
 * numbers and strings as ECMAScript writes them. Members that are undefined are left out, as JSON does.
 * @throws NotJson for numbers that JSON cannot hold, strings with half a surrogate pair (RFC 8785, section
 * 3.2.2) and whatever else is not a JSON value
 */
export function canonicalJson(value: unknown): string {
  refuseNonJson(value, []);
  return canonicalize(value) as string;
}

/** Raised for a value that has no form in I-JSON (RFC 7493), with its path, such as `components[3].marking`. */
export class NotJson extends TypeError {
  override readonly name = 'NotJson';
  readonly path: string;
  readonly what: string;

  constructor(path: string, what: string) {
    super(`${path || 'the value'} ${what}`);
    this.path = path;
    this.what = what;
  }
}

/** The library would drop such values or make something else of them; here they are refused, with their path. */
function refuseNonJson(value: unknown, path: (string | number)[]): void {
  switch (typeof value) {
    case 'string':
      if (!value.isWellFormed()) throw notJson(path, 'holds half a surrogate pair');
      return;
    case 'number':
      if (!Number.isFinite(value)) throw notJson(path, `is ${value}, which has no form in JSON`);
      return;
    case 'boolean':
      return;
    case 'object':
      if (value === null) return;
      if (Array.isArray(value)) refuseInList(value, path);
      else refuseInMembers(value, path);
      return;
    default:
      throw notJson(path, `is of type ${typeof value}, which has no form in JSON`);
  }
}

function refuseInList(list: readonly unknown[], path: (string | number)[]): void {
  // By index, since gaps must be seen too.
  for (let i = 0; i < list.length; i++) {
    path.push(i);
    refuseNonJson(list[i], path);
    path.pop();
  }
}

function refuseInMembers(value: object, path: (string | number)[]): void {
  const members = value as Readonly<Record<string, unknown>>;
  if (!isPlain(members)) throw notJson(path, `is a ${members.constructor.name}, which has no form in JSON`);
  for (const key of Object.keys(members)) {
    const member = members[key];
    if (member === undefined) continue;
    path.push(key);
    if (!key.isWellFormed()) throw notJson(path, 'holds half a surrogate pair in its name');
    refuseNonJson(member, path);
    path.pop();
  }
}

/** An object of members only; dates, maps and the like would lose what they hold. */
function isPlain(value: object): boolean {
  const prototype: unknown = Object.getPrototypeOf(value);
  return prototype === Object.prototype || prototype === null || Object.getPrototypeOf(prototype) === null;
}

function notJson(path: readonly (string | number)[], what: string): NotJson {
  const steps = path.map((step) => (typeof step === 'number' ? `[${step}]` : `.${step}`));
  return new NotJson(steps.join('').replace(/^\./u, ''), what);
}
