import { convert, parseQuantity, type Quantity, QuantityError, unitCode } from '../model/quantity.ts';

// The language in which a pattern says where an input of its check comes from:
//   sensor.accelerationNoise      a figure of what the variable `sensor` stands for
//   Battery.capacity              the same of the device's component of that term, when no variable has the name
//   device.mass, specimen.boards  of the device, of the opened specimen
//   sum(Sensor.activeCurrent)     the same of all its components of that term that have the figure, added up
//   count(a, b)  distance(a, b)   how many things the variables stand for; millimetres between two of them
//   2  100 deg/s                  a figure the pattern states by itself
//   a + b  a - b  a * b  a / b    with units; brackets as usual
//   a ?? b                        b where a is not known

/** A binding, parsed. */
export type Binding =
  | { readonly kind: 'figure'; readonly quantity: Quantity }
  | {
      readonly kind: 'property';
      readonly owner: string;
      readonly property: string;
      /** Of all components of the term, added up. */
      readonly all?: true;
    }
  | { readonly kind: 'call'; readonly name: CallName; readonly variables: readonly string[] }
  | {
      readonly kind: 'arithmetic';
      readonly sign: '+' | '-' | '*' | '/';
      readonly of: readonly [Binding, Binding];
    }
  | { readonly kind: 'either'; readonly first: Binding; readonly otherwise: Binding };

export const CALLS = ['count', 'distance'] as const;
export type CallName = (typeof CALLS)[number];

/** Raised for a binding that cannot be read, or whose units do not go together; the message says where and why. */
export class BindingError extends Error {
  override readonly name = 'BindingError';
}

const TOKEN = /\s*(?:(\?\?|[().,*/+-])|([A-Za-z_]\w*)|(\d+(?:\.\d+)?)(?:\s*([A-Za-z%µΩ°[\]_.]+\d?))?)/uy;

type Token =
  | { readonly kind: 'sign' | 'name'; readonly text: string; readonly at: number }
  | { readonly kind: 'number'; readonly quantity: Quantity; readonly text: string; readonly at: number };

/**
 * Reads a binding. A number is a figure without unit.
 * @throws BindingError
 */
export function parseBinding(written: string | number | Quantity): Binding {
  if (typeof written === 'number') return { kind: 'figure', quantity: { value: written, unit: '1' } };
  if (typeof written === 'object') return { kind: 'figure', quantity: written };
  const whole = figureIn(written);
  if (whole) return { kind: 'figure', quantity: whole };
  const reader = new Reader(tokensOf(written), written);
  const binding = reader.either();
  reader.end();
  return binding;
}

/** Text that is one quantity and nothing else, such as `100 deg/s`: its unit may hold what is a sign elsewhere. */
function figureIn(text: string): Quantity | undefined {
  if (!/^\s*[+-]?[\d.]/u.test(text)) return undefined;
  try {
    return parseQuantity(text);
  } catch (error) {
    if (error instanceof QuantityError) return undefined;
    throw error;
  }
}

function tokensOf(text: string): Token[] {
  const tokens: Token[] = [];
  TOKEN.lastIndex = 0;
  while (TOKEN.lastIndex < text.trimEnd().length) {
    const at = TOKEN.lastIndex;
    const match = TOKEN.exec(text);
    if (!match) throw new BindingError(`"${text}" cannot be read from character ${at + 1} on`);
    const [whole, sign, name, number, unit = '1'] = match;
    if (number === undefined) tokens.push({ kind: sign ? 'sign' : 'name', text: sign ?? name, at });
    else {
      const code = unitCode(unit);
      if (code === undefined) throw new BindingError(`"${unit}" in "${text}" is not a UCUM unit`);
      tokens.push({
        kind: 'number',
        quantity: { value: Number(number), unit: code },
        text: whole.trim(),
        at,
      });
    }
  }
  return tokens;
}

/** Recursive descent; `??` binds least, then + and -, then * and /. */
class Reader {
  readonly #tokens: readonly Token[];
  readonly #text: string;
  #next = 0;

  constructor(tokens: readonly Token[], text: string) {
    this.#tokens = tokens;
    this.#text = text;
  }

  either(): Binding {
    const first = this.#sum();
    if (!this.#takes('??')) return first;
    return { kind: 'either', first, otherwise: this.either() };
  }

  end(): void {
    if (this.#next < this.#tokens.length) throw this.#wrong('an end or a sign such as "??"');
  }

  #sum(): Binding {
    return this.#chain(['+', '-'], () => this.#product());
  }

  #product(): Binding {
    return this.#chain(['*', '/'], () => this.#single());
  }

  #chain(signs: readonly ('+' | '-' | '*' | '/')[], one: () => Binding): Binding {
    let left = one();
    for (;;) {
      const sign = signs.find((candidate) => this.#takes(candidate));
      if (sign === undefined) return left;
      left = { kind: 'arithmetic', sign, of: [left, one()] };
    }
  }

  #single(): Binding {
    const token = this.#tokens[this.#next];
    if (this.#takes('(')) {
      const inside = this.either();
      this.#need(')');
      return inside;
    }
    if (token?.kind === 'number') {
      this.#next += 1;
      return { kind: 'figure', quantity: token.quantity };
    }
    const name = this.#name();
    if (this.#takes('.')) return { kind: 'property', owner: name, property: this.#name() };
    if (this.#takes('(')) return this.#call(name);
    throw this.#wrong(`"." and a property after "${name}"`);
  }

  #call(written: string): Binding {
    if (written === 'sum') {
      const owner = this.#name();
      this.#need('.');
      const property = this.#name();
      this.#need(')');
      return { kind: 'property', owner, property, all: true };
    }
    const name = CALLS.find((one) => one === written);
    if (!name)
      throw new BindingError(`"${written}" is not a function; there are sum, ${CALLS.join(' and ')}`);
    const variables = [this.#name()];
    while (this.#takes(',')) variables.push(this.#name());
    this.#need(')');
    if (name === 'distance' && variables.length !== 2)
      throw new BindingError(`distance takes two variables; "${this.#text}" gives ${variables.length}`);
    return { kind: 'call', name, variables };
  }

  #name(): string {
    const token = this.#tokens[this.#next];
    if (token?.kind !== 'name') throw this.#wrong('a name');
    this.#next += 1;
    return token.text;
  }

  #takes(sign: string): boolean {
    const token = this.#tokens[this.#next];
    if (token?.kind !== 'sign' || token.text !== sign) return false;
    this.#next += 1;
    return true;
  }

  #need(sign: string): void {
    if (!this.#takes(sign)) throw this.#wrong(`"${sign}"`);
  }

  #wrong(wanted: string): BindingError {
    const token = this.#tokens[this.#next];
    const found = token ? `"${token.text}" at character ${token.at + 1}` : 'its end';
    return new BindingError(`"${this.#text}": ${wanted} is wanted, not ${found}`);
  }
}

/** A property or a call: what must be looked up. */
export type Leaf = Extract<Binding, { readonly kind: 'property' | 'call' }>;

/** The value of a property or call; undefined where it is not known. */
export type Resolve = (leaf: Leaf) => Quantity | undefined;

/**
 * The value of a binding, or undefined where something it needs is not known. Uncertainties of sums and products add up
 * (worst case, to first order), since nothing says that they are independent.
 * @param used collects the properties and calls that were used; those of an abandoned branch are not among them
 * @throws BindingError when units do not go together
 */
export function quantityOf(binding: Binding, resolve: Resolve, used: Leaf[] = []): Quantity | undefined {
  switch (binding.kind) {
    case 'figure':
      return binding.quantity;
    case 'property':
    case 'call': {
      const quantity = resolve(binding);
      if (quantity) used.push(binding);
      return quantity;
    }
    case 'either': {
      const tried: Leaf[] = [];
      const quantity = quantityOf(binding.first, resolve, tried);
      if (quantity) used.push(...tried);
      return quantity ?? quantityOf(binding.otherwise, resolve, used);
    }
    case 'arithmetic': {
      const [a, b] = binding.of.map((one) => quantityOf(one, resolve, used));
      return a && b && combined(binding.sign, a, b);
    }
    default:
      return binding satisfies never;
  }
}

function combined(sign: '+' | '-' | '*' | '/', a: Quantity, b: Quantity): Quantity {
  const spread = (value: number) => (value === 0 ? {} : { plusMinus: value });
  const [da, db] = [a.plusMinus ?? 0, b.plusMinus ?? 0];
  if (sign === '+' || sign === '-') {
    const other = sameUnit(b, a.unit);
    const value = sign === '+' ? a.value + other.value : a.value - other.value;
    return { value, unit: a.unit, ...spread(da + (other.plusMinus ?? 0)) };
  }
  if (sign === '*') {
    const value = a.value * b.value;
    return {
      value,
      unit: product(a.unit, b.unit),
      ...spread(Math.abs(b.value) * da + Math.abs(a.value) * db),
    };
  }
  if (b.value === 0) throw new BindingError('a division by nothing');
  const value = a.value / b.value;
  return {
    value,
    unit: quotient(a.unit, b.unit),
    ...spread((da + Math.abs(value) * db) / Math.abs(b.value)),
  };
}

function sameUnit(quantity: Quantity, unit: string): Quantity {
  try {
    return convert(quantity, unit);
  } catch (error) {
    if (error instanceof QuantityError) throw new BindingError(error.message, { cause: error });
    throw error;
  }
}

function product(a: string, b: string): string {
  return a === '1' ? b : b === '1' ? a : known(`(${a}).(${b})`);
}

function quotient(a: string, b: string): string {
  return b === '1' ? a : a === b ? '1' : known(`${a === '1' ? '1' : `(${a})`}/(${b})`);
}

function known(unit: string): string {
  const code = unitCode(unit);
  if (code === undefined) throw new BindingError(`"${unit}" is not a UCUM unit`);
  return code;
}

/** Every property and call in a binding, from left to right. */
export function leavesOf(binding: Binding): readonly Leaf[] {
  switch (binding.kind) {
    case 'figure':
      return [];
    case 'property':
    case 'call':
      return [binding];
    case 'either':
      return [...leavesOf(binding.first), ...leavesOf(binding.otherwise)];
    case 'arithmetic':
      return binding.of.flatMap(leavesOf);
    default:
      return binding satisfies never;
  }
}
