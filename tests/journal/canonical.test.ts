import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { canonicalJson, NotJson } from '../../src/journal/canonical.ts';

// RFC 8785, section 3.2.2 (the sample), 3.2.3 (its canonical form) and 3.2.4 (its bytes). Values from memory, checked
// against the reference test data that the RFC names.
describe('the sample of RFC 8785', () => {
  const sample = String.raw`{
    "numbers": [333333333.33333329, 1E30, 4.50, 2e-3, 0.000000000000000000000000001],
    "string": "\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/",
    "literals": [null, true, false]
  }`;
  const canonical = String.raw`{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],"string":"€$\u000f\nA'B\"\\\\\"/"}`;

  test('as text', () => expect(canonicalJson(JSON.parse(sample))).toBe(canonical));

  test('as bytes', () => {
    const bytes = `7b 22 6c 69 74 65 72 61 6c 73 22 3a 5b 6e 75 6c 6c 2c 74 72 75 65 2c 66 61 6c 73 65 5d 2c 22
      6e 75 6d 62 65 72 73 22 3a 5b 33 33 33 33 33 33 33 33 33 2e 33 33 33 33 33 33 33 2c 31 65 2b 33 30 2c 34 2e
      35 2c 30 2e 30 30 32 2c 31 65 2d 32 37 5d 2c 22 73 74 72 69 6e 67 22 3a 22 e2 82 ac 24 5c 75 30 30 30 66 5c
      6e 41 27 42 5c 22 5c 5c 5c 5c 5c 22 2f 22 7d`;
    expect(Buffer.from(canonicalJson(JSON.parse(sample))).toString('hex')).toBe(bytes.replaceAll(/\s/gu, ''));
  });

  test('its keys in order of UTF-16 code units (section 3.2.3)', () => {
    const written = String.raw`{
      "\u20ac": "Euro Sign",
      "\r": "Carriage Return",
      "\ufb33": "Hebrew Letter Dalet With Dagesh",
      "1": "One",
      "\ud83d\ude00": "Emoji: Grinning Face",
      "\u0080": "Control",
      "\u00f6": "Latin Small Letter O With Diaeresis"
    }`;
    const order = [
      'Carriage Return',
      'One',
      'Control',
      'Latin Small Letter O With Diaeresis',
      'Euro Sign',
      'Emoji: Grinning Face',
      'Hebrew Letter Dalet With Dagesh',
    ];
    const text = canonicalJson(JSON.parse(written));
    expect([...text.matchAll(/:"([^"]+)"/gu)].map(([, value]) => value)).toEqual(order);
  });
});

// Test data that accompanies RFC 8785 (file "structures"): keys that look like numbers.
test('keys that look like numbers are ordered as text', () => {
  const written = String.raw`{
    "1": {"f": {"f": "hi","F": 5} ,"\n": 56.0},
    "10": { }, "": "empty", "a": { }, "111": [ {"e": "yes","E": "no" } ], "A": { }
  }`;
  expect(canonicalJson(JSON.parse(written))).toBe(
    String.raw`{"":"empty","1":{"\n":56,"f":{"F":5,"f":"hi"}},"10":{},"111":[{"E":"no","e":"yes"}],"A":{},"a":{}}`,
  );
});

// RFC 8785, appendix B: IEEE 754 doubles and what they must look like.
describe('the numbers of RFC 8785, appendix B', () => {
  const numbers: readonly (readonly [string, string])[] = [
    ['0000000000000000', '0'],
    ['8000000000000000', '0'],
    ['0000000000000001', '5e-324'],
    ['8000000000000001', '-5e-324'],
    ['7fefffffffffffff', '1.7976931348623157e+308'],
    ['ffefffffffffffff', '-1.7976931348623157e+308'],
    ['4340000000000000', '9007199254740992'],
    ['c340000000000000', '-9007199254740992'],
    ['4430000000000000', '295147905179352830000'],
    ['44b52d02c7e14af5', '9.999999999999997e+22'],
    ['44b52d02c7e14af6', '1e+23'],
    ['44b52d02c7e14af7', '1.0000000000000001e+23'],
    ['444b1ae4d6e2ef4e', '999999999999999700000'],
    ['444b1ae4d6e2ef4f', '999999999999999900000'],
    ['444b1ae4d6e2ef50', '1e+21'],
    ['3eb0c6f7a0b5ed8c', '9.999999999999997e-7'],
    ['3eb0c6f7a0b5ed8d', '0.000001'],
    ['41b3de4355555553', '333333333.3333332'],
    ['41b3de4355555554', '333333333.33333325'],
    ['41b3de4355555555', '333333333.3333333'],
    ['41b3de4355555556', '333333333.3333334'],
    ['41b3de4355555557', '333333333.33333343'],
    ['becbf647612f3696', '-0.0000033333333333333333'],
    ['43143ff3c1cb0959', '1424953923781206.2'],
  ];
  for (const [bits, text] of numbers)
    test(text, () => expect(canonicalJson(Buffer.from(bits, 'hex').readDoubleBE())).toBe(text));

  for (const bits of ['7fffffffffffffff', '7ff0000000000000'])
    test(`${bits} is an error`, () =>
      expect(() => canonicalJson(Buffer.from(bits, 'hex').readDoubleBE())).toThrow(NotJson));
});

test('what is not JSON is refused with its path', () => {
  const wrong: readonly (readonly [unknown, string])[] = [
    [{ a: [{ b: '\ud800' }] }, 'a[0].b holds half a surrogate pair'],
    [{ a: { '\udc00': 1 } }, 'holds half a surrogate pair in its name'],
    [[1, undefined], '[1] is of type undefined'],
    // biome-ignore lint/suspicious/noSparseArray: a gap is what is tested
    [[1, , 2], '[1] is of type undefined'],
    [{ a: 1n }, 'a is of type bigint'],
    [{ a: () => 1 }, 'a is of type function'],
    [{ on: new Date(0) }, 'on is a Date'],
    [[new Map()], '[0] is a Map'],
    [Number.NEGATIVE_INFINITY, 'the value is -Infinity'],
    [undefined, 'the value is of type undefined'],
  ];
  for (const [value, message] of wrong) expect(() => canonicalJson(value)).toThrow(message);
});

test('members that are undefined are left out, and a member may be called __proto__', () => {
  expect(canonicalJson({ b: undefined, a: 1 })).toBe('{"a":1}');
  expect(canonicalJson(JSON.parse('{"b":1,"__proto__":{"a":2}}'))).toBe('{"__proto__":{"a":2},"b":1}');
  expect(canonicalJson(Object.assign(Object.create(null), { a: 1 }))).toBe('{"a":1}');
});

test('reading the text gives the value, and every order of members the same text', () => {
  const value = fc.jsonValue({ stringUnit: 'binary', maxDepth: 4 });
  fc.assert(
    fc.property(value, (one) => {
      const text = canonicalJson(one);
      expect(JSON.parse(text)).toEqual(JSON.parse(JSON.stringify(one)));
      expect(canonicalJson(reversed(one))).toBe(text);
      expect(canonicalJson(JSON.parse(text))).toBe(text);
    }),
    { numRuns: 500 },
  );
});

/** The same value with the members of every object in reverse order. */
function reversed(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(reversed);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value)
      .reverse()
      .map(([key, member]) => [key, reversed(member)]),
  );
}
