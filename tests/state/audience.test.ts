import { isDeepStrictEqual } from 'node:util';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Change, Entry } from '../../src/model/entry.ts';
import { Holder } from '../../src/state/holder.ts';
import type { State } from '../../src/state/state.ts';
import { catalogueChanges, dossierChange, entriesOf } from './archive-of.ts';
import { contentOf } from './content-of.ts';
import { HOURS, journalSteps, type Step, withoutHidden } from './hidden-archive.ts';

// What readers see, held to an archive in which the hidden never was: a journal of what is left, folded anew.

/** Entries of steps, each written at its own time. */
const entriesAt = (steps: readonly Step[], first = 1): Entry[] =>
  entriesOf(
    steps.map(({ change }) => change),
    first,
  ).map((entry, i) => ({ ...entry, instant: (steps[i] as Step).at }));

const folded = (changes: readonly Change[]) => {
  const holder = new Holder();
  holder.apply(entriesOf(changes));
  return holder;
};

/** All that a state holds, but for when and in which order it came, which differs where the hidden was left out. */
function saidBy({ facts, shared }: State) {
  const { judgements, specimens, corrections, into, ...content } = contentOf(facts, shared.names);
  return {
    ...content,
    // Of what is not described only the links that lead there are known, and these stand with what they come from.
    into: into.map((all) => all.map((ids) => ids.filter((id) => facts.links.describes(id)))),
    specimens: specimens.map(({ added: _, ...row }) => row),
    judgements: judgements.map(([id, all]) => [id, all.map((one) => ({ ...one, on: '' }))]),
    corrections: corrections.map((one) => ({ ...one, on: '' })),
  };
}

/** What searches find, what an unnamed chip may be, and which patterns there are. */
const answeredBy = (state: State) => ({
  found: ['quistle', 'old', 'new', 'maker', 'so', 'seen', 'letter', 'accelerometer', 'u1', 'ostrel'].map(
    (words) =>
      [...state.search(words)].map(({ id, kind, title, specimen }) => ({ id, kind, title, specimen })),
  ),
  learnt: state.unnamed.spreadOf({ id: 'U9' }).kinds,
});

const CATALOGUE = catalogueChanges({
  makers: [
    { id: 'quistle', name: 'Quistle', makes: ['parts'] },
    { id: 'maker', name: 'Maker', makes: ['devices'] },
  ],
  parts: [{ number: 'A', maker: 'quistle', categories: ['Accelerometer'] }],
});

const dossier = (device: string, specimen: string, hidden: object, part: string) =>
  dossierChange({
    ...hidden,
    device: { id: device, name: device, maker: 'maker', released: '2020', bodySite: 'wrist' },
    specimen: { id: specimen },
    boards: [{ id: 'main', kind: 'rigid' }],
    components: [{ id: 'U1', board: 'main' }],
    identifications: [{ component: 'U1', candidates: [{ part: `quistle/${part}`, probability: 0.97 }] }],
  });

describe("a reader's facts", () => {
  test('equals an archive without the hidden records, at any time and however it was imported', () => {
    fc.assert(
      fc.property(
        journalSteps,
        fc.array(fc.option(fc.constantFrom(...HOURS)), { maxLength: 40 }),
        fc.constantFrom(...HOURS),
        (steps, looks, now) => {
          const without = folded(withoutHidden(steps, now)).state('reader', now);
          const expected = saidBy(without);
          const holder = new Holder();
          steps.forEach((step, i) => {
            holder.apply(entriesAt([step], i + 1));
            // Looks at any hour in between, in no order, bring the reader's facts along.
            const look = looks[i];
            if (look) answeredBy(holder.state('reader', look));
          });
          const seen = holder.state('reader', now);
          expect(saidBy(seen)).toEqual(expected);
          expect(answeredBy(seen)).toEqual(answeredBy(without));
          const atOnce = new Holder();
          atOnce.apply(entriesAt(steps));
          expect(saidBy(atOnce.state('reader', now))).toEqual(expected);
        },
      ),
      { numRuns: 150 },
    );
  });

  test('equals it when taken up from what was saved of it, at another time, with more to come', () => {
    fc.assert(
      fc.property(
        journalSteps,
        fc.nat(),
        fc.constantFrom(...HOURS),
        fc.constantFrom(...HOURS),
        (steps, cut, then, now) => {
          const saved = cut % (steps.length + 1);
          const before = new Holder();
          before.apply(entriesAt(steps.slice(0, saved)));
          before.state('reader', then);
          const captured = before.capture();
          expect(captured.readers).toBeDefined();
          const holder = new Holder({
            ...captured,
            readers: JSON.parse(JSON.stringify(captured.readers)),
          } as typeof captured);
          const atOnce = folded(withoutHidden(steps.slice(0, saved), then)).state('reader', then);
          expect(saidBy(holder.state('reader', then))).toEqual(saidBy(atOnce));
          expect(answeredBy(holder.state('reader', then))).toEqual(answeredBy(atOnce));
          holder.apply(entriesAt(steps.slice(saved), saved + 1));
          const without = folded(withoutHidden(steps, now)).state('reader', now);
          expect(saidBy(holder.state('reader', now))).toEqual(saidBy(without));
          expect(answeredBy(holder.state('reader', now))).toEqual(answeredBy(without));
        },
      ),
      { numRuns: 100 },
    );
  });

  test('stays the same object while nothing in it changes', () => {
    const holder = folded([...CATALOGUE, dossier('one', 'a', { visibility: 'published' }, 'A')]);
    const before = holder.state('reader', HOURS[0] as string);
    holder.apply(entriesOf([dossier('two', 'a', { visibility: 'draft' }, 'A')], holder.sequence + 1));
    expect(holder.state('reader', HOURS[1] as string)).toBe(before);
    expect(holder.state('desk', HOURS[1] as string).device('two')).toBeDefined();
    expect(before.sequence).toBeLessThan(holder.sequence);
  });

  test('stays the same object while a part that a specimen holds has a version that is not open', () => {
    const holder = folded([...CATALOGUE, dossier('one', 'a', { visibility: 'published' }, 'A')]);
    const before = holder.state('reader', HOURS[0] as string);
    const newer = catalogueChanges({
      parts: [
        {
          number: 'A',
          maker: 'quistle',
          categories: ['Accelerometer'],
          introduced: '2019',
          visibility: 'embargoed',
          embargoUntil: HOURS[3],
        },
      ],
    });
    holder.apply(entriesOf(newer, holder.sequence + 1));
    expect(holder.state('desk', HOURS[1] as string).part('quistle/A')?.introduced).toBe('2019');
    expect(holder.state('reader', HOURS[1] as string)).toBe(before);
    expect(holder.state('reader', HOURS[4] as string).part('quistle/A')?.introduced).toBe('2019');
  });

  // What names a state is made of the entry that last changed it: that must not move with what is hidden.
  test('stays the same object as long as what is written is hidden', () => {
    let hidden = 0;
    fc.assert(
      fc.property(journalSteps, fc.constantFrom(...HOURS), (steps, now) => {
        const holder = new Holder();
        let before = holder.state('reader', now);
        steps.forEach((step, i) => {
          holder.apply(entriesAt([step], i + 1));
          const after = holder.state('reader', now);
          const [less, more] = [i, i + 1].map((end) => withoutHidden(steps.slice(0, end), now));
          // The same once more is no other archive, and is not hidden.
          const isAgain = steps.slice(0, i).some(({ change }) => isDeepStrictEqual(change, step.change));
          if (isDeepStrictEqual(less, more) && !isAgain) {
            hidden++;
            expect(after.facts).toBe(before.facts);
          }
          before = after;
        });
      }),
      { numRuns: 150 },
    );
    expect(hidden).toBeGreaterThan(100);
  });

  test('the desk and the reader share the rows of what both see', () => {
    const holder = folded([...CATALOGUE, dossier('one', 'a', { visibility: 'published' }, 'A')]);
    const [desk, reader] = (['desk', 'reader'] as const).map((one) => holder.state(one, HOURS[0] as string));
    expect(reader?.specimenRow('one/a')).toBe(desk?.specimenRow('one/a'));
    expect(reader?.part('quistle/A')).toBe(desk?.part('quistle/A'));
  });
});

test('a state finds the words of its own edition', () => {
  const holder = folded([...CATALOGUE, dossier('one', 'a', { visibility: 'published' }, 'A')]);
  const ids = (question: string, state = holder.state('desk', HOURS[0] as string)) =>
    [...state.search(question)].map(({ id }) => id);
  const before = holder.state('desk', HOURS[0] as string);
  holder.apply(
    entriesOf(
      [
        ...catalogueChanges({ makers: [{ id: 'quistle', name: 'Renamed', makes: ['parts'] }] }),
        dossier('two', 'a', { visibility: 'published' }, 'A'),
      ],
      holder.sequence + 1,
    ),
  );
  expect(ids('renamed')).toEqual(['quistle']);
  expect(ids('renamed', before)).toEqual([]);
  expect(ids('quistle', before)).toContain('quistle');
  expect(ids('two', before)).not.toContain('two');
  expect(ids('two')[0]).toBe('two');
});
