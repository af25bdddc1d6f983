import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { CasebackError } from '../../src/model/problems.ts';
import { rankedListing, reversedListing, sortedListing } from '../../src/service/graphql/listing.ts';
import { type PageArguments, paginate } from '../../src/service/graphql/paginate.ts';

// The properties are those of the GraphQL Cursor Connections Specification (relay.dev/graphql/connections.htm),
// sections 4.3 and 4.4: edges to return, and what pageInfo says of them.

interface Thing {
  readonly id: string;
  readonly weight: number;
}

const things = fc.uniqueArray(fc.record({ id: fc.stringMatching(/^[a-z]{1,4}$/u), weight: fc.nat(4) }), {
  selector: ({ id }) => id,
  maxLength: 40,
});

const keyOf = ({ id, weight }: Thing) => [weight, id];
const sorted = (list: readonly Thing[]) =>
  list.toSorted((a, b) => a.weight - b.weight || (a.id < b.id ? -1 : 1));

const LISTINGS = {
  sorted: (list: readonly Thing[]) => sortedListing('things', sorted(list), keyOf),
  reversed: (list: readonly Thing[]) => reversedListing('things', sorted(list), keyOf),
  ranked: (list: readonly Thing[]) => rankedListing('things', sorted(list), ({ id }) => id),
} as const;

const page = (listing: ReturnType<(typeof LISTINGS)['sorted']>, args: PageArguments) =>
  paginate(listing, args, ({ id }) => id);

for (const [name, make] of Object.entries(LISTINGS)) {
  describe(`a ${name} list`, () => {
    test('read forwards page by page is the complete list', () => {
      fc.assert(
        fc.property(things, fc.integer({ min: 1, max: 7 }), (list, size) => {
          const listing = make(list);
          const seen: string[] = [];
          let after: string | null = null;
          for (;;) {
            const { nodes, pageInfo, totalCount } = page(listing, { first: size, after });
            expect(totalCount).toBe(list.length);
            expect(pageInfo.hasPreviousPage).toBe(seen.length > 0);
            seen.push(...nodes);
            expect(pageInfo.hasNextPage).toBe(seen.length < list.length);
            if (!pageInfo.hasNextPage) break;
            after = pageInfo.endCursor;
          }
          expect(seen).toEqual(listing.items.map(({ id }) => id));
        }),
      );
    });

    test('read backwards page by page is the complete list', () => {
      fc.assert(
        fc.property(things, fc.integer({ min: 1, max: 7 }), (list, size) => {
          const listing = make(list);
          const seen: string[] = [];
          let before: string | null = null;
          for (;;) {
            const { nodes, pageInfo } = page(listing, { last: size, before });
            expect(pageInfo.hasNextPage).toBe(seen.length > 0);
            seen.unshift(...nodes);
            expect(pageInfo.hasPreviousPage).toBe(seen.length < list.length);
            if (!pageInfo.hasPreviousPage) break;
            before = pageInfo.startCursor;
          }
          expect(seen).toEqual(listing.items.map(({ id }) => id));
        }),
      );
    });

    test('gives what is between two cursors', () => {
      fc.assert(
        fc.property(things, fc.nat(39), fc.nat(39), (list, a, b) => {
          fc.pre(list.length > 0);
          const listing = make(list);
          const { edges } = page(listing, { first: 100 });
          const [from, to] = [a % list.length, b % list.length];
          const { nodes } = page(listing, { after: edges[from].cursor, before: edges[to].cursor });
          expect(nodes).toEqual(listing.items.slice(from + 1, to).map(({ id }) => id));
        }),
      );
    });
  });
}

test('items added or removed between two pages neither repeat nor hide others', () => {
  fc.assert(
    fc.property(things, things, fc.integer({ min: 1, max: 6 }), (list, others, size) => {
      const first = page(LISTINGS.sorted(list), { first: size });
      fc.pre(first.pageInfo.endCursor !== null);
      // Some of the old ones leave, the item of the cursor among them; new ones come in anywhere.
      const kept = list.filter((_, i) => i % 3 !== 0);
      const known = new Set(list.map(({ id }) => id));
      const later = LISTINGS.sorted([...kept, ...others.filter(({ id }) => !known.has(id))]);
      const rest = page(later, { first: 500, after: first.pageInfo.endCursor });
      const end = keyOf(list.find(({ id }) => id === first.nodes.at(-1)) as Thing);
      const behind = later.items.filter(
        (one) => one.weight > Number(end[0]) || (one.weight === end[0] && one.id > String(end[1])),
      );
      expect(rest.nodes).toEqual(behind.map(({ id }) => id));
    }),
  );
});

describe('refuses, with a reason,', () => {
  const listing = LISTINGS.sorted([{ id: 'a', weight: 1 }]);
  const cursor = page(listing, {}).pageInfo.endCursor;
  const foreign = page(sortedListing('others', listing.items, keyOf), {}).pageInfo.endCursor;
  const CASES: readonly (readonly [string, PageArguments, RegExp])[] = [
    ['first and last together', { first: 1, last: 1 }, /first and last are both given/u],
    ['a negative first', { first: -1 }, /first is -1; it cannot be negative/u],
    ['a negative last', { last: -3 }, /last is -3; it cannot be negative/u],
    ['a page too large', { first: 501 }, /first is 501; a page has at most 500 items/u],
    ['text that is not a cursor', { after: 'x' }, /after: "x" is not a cursor/u],
    ['an empty cursor', { before: '' }, /before: "" is not a cursor/u],
    ['a cursor of another list', { after: foreign }, /belongs to a list in another order \(others\)/u],
    ['a cursor that was cut', { after: cursor?.slice(0, -4) }, /is not a cursor/u],
  ];
  for (const [what, args, message] of CASES) {
    test(what, () => {
      expect(() => page(listing, args)).toThrow(message);
      expect(() => page(listing, args)).toThrow(CasebackError);
    });
  }

  test('but gives an empty page for size 0, with the count', () => {
    const { nodes, totalCount, pageInfo } = page(listing, { first: 0 });
    expect([nodes, totalCount, pageInfo.hasNextPage, pageInfo.endCursor]).toEqual([[], 1, true, null]);
  });
});
