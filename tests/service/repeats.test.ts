import {
  buildSchema,
  OverlappingFieldsCanBeMergedRule,
  parse,
  type ValidationContext,
  validate,
} from 'graphql/index.js';
import { expect, test } from 'vitest';
import { repeatedTooOften } from '../../src/service/server/repeats.ts';
import { serve } from './serving.ts';

const times = (count: number, make: (i: number) => string) =>
  Array.from({ length: count }, (_, i) => make(i)).join(' ');
const refusalOf = (text: string) => repeatedTooOften(parse(text, { noLocation: true }))?.message;

/** Pairs of n. */
const pairs = (n: number) => (n * (n - 1)) / 2;

test('a place may have as many fields of one name as make 10,000 pairs, those of fragments counted', () => {
  // 141 make 9,870 pairs, 142 make 10,011.
  expect([pairs(141), pairs(142)]).toEqual([9_870, 10_011]);
  expect(refusalOf(`{ ${times(141, () => 'a')} }`)).toBeUndefined();
  expect(refusalOf(`{ ${times(142, () => 'a')} }`)).toContain('"a" 142 times at one place');
  const fragments = times(142, (i) => `fragment F${i} on Query { a }`);
  expect(refusalOf(`{ ${times(142, (i) => `...F${i}`)} } ${fragments}`)).toContain('142 times');
  expect(refusalOf(`{ ${times(142, () => '... on Query { a }')} }`)).toContain('142 times');
  expect(refusalOf(`{ ${times(142, (i) => `a${i}: a`)} }`)).toBeUndefined();
});

test('what stands below counts at its own place: fields that are merged bring theirs together', () => {
  // 90 make 4,005 pairs on each of three levels.
  expect(refusalOf(`{ ${times(90, () => 'a { b }')} }`)).toBeUndefined();
  expect(refusalOf(`{ ${times(90, () => 'a { b { c } }')} }`)).toContain('"c" 90 times');
  // Under names of their own they never meet.
  expect(refusalOf(`{ ${times(90, (i) => `a${i}: a { b { c } }`)} }`)).toBeUndefined();
});

test('fragments that are spread everywhere, and circles of them, are counted no further than allowed', () => {
  const everywhere = times(
    12,
    (i) => `fragment F${i} on T { a { ...F${i + 1} } b { ...F${i + 1} } c { ...F${i + 1} } }`,
  );
  expect(refusalOf(`{ ...F0 } ${everywhere} fragment F12 on T { a }`)).toContain('more than 20,000 fields');
  expect(refusalOf('{ ...A } fragment A on T { a { ...A } }')).toBeUndefined();
  expect(refusalOf('{ ...A } fragment A on T { a { ...A } b { ...A } }')).toContain(
    'more than 20,000 fields',
  );
});

test('so the rule of graphql-js compares a bounded number of fields, however they are nested', () => {
  const schema = buildSchema('type Query { a: Query b: Query c: Int }');
  /** How often the rule compares two fields: it looks at the arguments of each pair. */
  const compared = (text: string) => {
    let looks = 0;
    const document = parse(text, { noLocation: true });
    for (const field of fieldsIn(document)) {
      const { arguments: given } = field;
      Object.defineProperty(field, 'arguments', {
        get: () => {
          looks++;
          return given;
        },
      });
    }
    validate(schema, document, [(context: ValidationContext) => OverlappingFieldsCanBeMergedRule(context)]);
    return looks;
  };
  const kept = [
    `{ ${times(141, () => 'c')} }`,
    `{ ${times(80, () => 'a { b { c } }')} }`,
    `{ ${times(9, () => `a { ${times(9, () => 'b { c }')} }`)} }`,
    `{ ${times(60, (i) => `...F${i}`)} } ${times(60, (i) => `fragment F${i} on Query { a { c } }`)}`,
  ];
  for (const text of kept) {
    expect(refusalOf(text)).toBeUndefined();
    // Two looks a pair, on every level from which it is reached.
    expect(compared(text)).toBeLessThan(2 * 14 * 10_000);
  }
});

function* fieldsIn(node: object): Generator<{ arguments?: unknown }> {
  if ('kind' in node && node.kind === 'Field') yield node as { arguments?: unknown };
  for (const inner of Object.values(node))
    if (typeof inner === 'object' && inner !== null) yield* fieldsIn(inner as object);
}

test('a service refuses such a document in a line, and answers a usual one with repeated fields', async () => {
  const served = await serve();
  const { errors } = await served.answer(`{ ${times(480, () => 'devices { nodes { id } }')} }`);
  expect(errors?.[0]).toMatchObject({
    message: expect.stringContaining('"devices" 480 times at one place'),
    extensions: { code: 'OUT_OF_BUDGET' },
  });
  expect(await served.ask(`{ ${times(40, () => 'devices { totalCount }')} }`)).toEqual({
    devices: { totalCount: expect.any(Number) },
  });
  await served.close();
});
