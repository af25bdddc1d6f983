import fc from 'fast-check';
import { expect, test } from 'vitest';
import { relabelsOf } from '../../src/state/relabels.ts';
import { catalogueChanges, liveOf } from './archive-of.ts';

const id = (at: number) => `quistle/P${at}`;

test('relabels of a part, of relabels too; a changed record ends that', () => {
  // For each part an earlier one that it is, or none: every way to hang eight parts together.
  const originals = fc.tuple(
    ...Array.from({ length: 8 }, (_, at) => fc.option(fc.nat(Math.max(0, at - 1)), { nil: undefined })),
  );
  fc.assert(
    fc.property(originals, fc.integer({ min: 1, max: 7 }), (tree, cut) => {
      const parts = tree.map((of, at) => ({
        number: `P${at}`,
        maker: 'quistle',
        categories: ['Memory'],
        ...(of === undefined || at === 0 ? {} : { relabels: id(of) }),
      }));
      const makers = [{ id: 'quistle', name: 'Quistle', makes: ['parts' as const] }];
      const live = liveOf(catalogueChanges({ makers, parts }));
      const isUnder = (links: typeof parts, at: number, part: number): boolean => {
        const of = links[at].relabels;
        if (of === undefined) return false;
        const above = Number(of.slice('quistle/P'.length));
        return above === part || isUnder(links, above, part);
      };
      const expected = (links: typeof parts, part: number) =>
        parts.flatMap((_, at) => (isUnder(links, at, part) ? [id(at)] : []));
      parts.forEach((_, part) =>
        expect([...relabelsOf(live.state('desk', ''), id(part))].sort()).toEqual(expected(parts, part)),
      );
      const { relabels: _, ...alone } = parts[cut];
      const after = parts.map((one, at) => (at === cut ? alone : one));
      const again = liveOf([...catalogueChanges({ makers, parts }), ...catalogueChanges({ parts: [alone] })]);
      after.forEach((_, part) =>
        expect([...relabelsOf(again.state('desk', ''), id(part))].sort()).toEqual(
          expected(after as typeof parts, part),
        ),
      );
    }),
    { numRuns: 40 },
  );
});
