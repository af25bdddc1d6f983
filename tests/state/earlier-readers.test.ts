import fc from 'fast-check';
import { expect, test } from 'vitest';
import { type Facts, FactsDraft, NO_FACTS } from '../../src/state/facts.ts';
import { applyEntry } from '../../src/state/fold.ts';
import { Holder } from '../../src/state/holder.ts';
import { EarlierReaders } from '../../src/state/past/earlier-readers.ts';
import { entriesOf } from './archive-of.ts';
import { contentOf } from './content-of.ts';
import { HOURS, journalSteps } from './hidden-archive.ts';

// What readers see of the past, brought from one question to the next, held to the same looked up anew: any instants in any order,
// at a present that moves on.

test('is the same whatever was asked before', () => {
  fc.assert(
    fc.property(
      journalSteps,
      fc.array(fc.tuple(fc.nat(40), fc.constantFrom(...HOURS), fc.constantFrom(...HOURS)), {
        minLength: 2,
        maxLength: 6,
      }),
      (steps, looks) => {
        const entries = entriesOf(steps.map(({ change }) => change)).map((entry, i) => ({
          ...entry,
          instant: (steps[i] as (typeof steps)[number]).at,
        }));
        const holder = new Holder();
        const opened = entries.length >> 1;
        holder.apply(entries.slice(0, opened));
        const kept: Facts[] = [NO_FACTS];
        for (const entry of entries) {
          const draft = new FactsDraft(kept.at(-1) as Facts, holder.names);
          applyEntry(draft, entry);
          kept.push(draft.seal());
        }
        const readers = new EarlierReaders(holder.names);
        for (const [i, [until, instant, now]] of looks.entries()) {
          // Half of the journal comes in while questions are asked.
          if (i === looks.length >> 1) holder.apply(entries.slice(opened));
          const facts = kept[until % (holder.sequence + 1)] as Facts;
          const seenNow = holder.seenNow(now);
          const expected = new EarlierReaders(holder.names).at(facts, instant, seenNow);
          expect(contentOf(readers.at(facts, instant, seenNow), holder.names)).toEqual(
            contentOf(expected, holder.names),
          );
        }
        holder.close();
      },
    ),
    { numRuns: 150 },
  );
});
