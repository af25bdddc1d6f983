import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Change } from '../../src/model/entry.ts';
import { type Facts, FactsDraft, NO_FACTS } from '../../src/state/facts.ts';
import { applyEntry } from '../../src/state/fold.ts';
import { COLUMN } from '../../src/state/lists/component-columns.ts';
import { dossierOf as currentDossier } from '../../src/state/merge.ts';
import { Names } from '../../src/state/names.ts';
import { BY, catalogueChanges, DEVICE, dossierChange, entriesOf, SMALL_CATALOGUE } from './archive-of.ts';
import { contentOf as contentWith } from './content-of.ts';

const COMPONENTS = [
  { id: 'U1', board: 'main', side: 'top', at: { x: 1, y: 1 } },
  { id: 'U2', board: 'main', side: 'top', at: { x: 3, y: 1 } },
  { id: 'J1', board: 'main', side: 'bottom', at: { x: 2, y: 2 }, appears: 'FlexConnector' },
] as const;

const dossier = (more: object = {}) =>
  dossierChange({
    device: DEVICE,
    specimen: { id: 'a' },
    boards: [{ id: 'main', kind: 'rigid', outline: { length: 10, width: 5 } }],
    components: [...COMPONENTS],
    identifications: [
      { component: 'U1', candidates: [{ part: 'quistle/QWR4T10', probability: 0.9 }] },
      { component: 'U2', candidates: [{ part: 'ostrel/OS7', probability: 0.6 }] },
    ],
    ...more,
  });

const names = new Names();

function fold(changes: readonly Change[], batch = changes.length): Facts {
  const entries = entriesOf(changes);
  let facts = NO_FACTS;
  for (let at = 0; at < entries.length; at += batch) {
    const draft = new FactsDraft(facts, names);
    for (const entry of entries.slice(at, at + batch)) applyEntry(draft, entry);
    facts = draft.seal();
  }
  return facts;
}

const contentOf = (facts: Facts) => contentWith(facts, names);

test('a later identification counts, and the part that it replaces is no longer held', () => {
  const facts = fold([
    ...SMALL_CATALOGUE,
    dossier(),
    {
      ...BY,
      kind: 'identification-set',
      payload: {
        specimen: 'tarn-sennit-1/a',
        identification: {
          component: 'U1',
          candidates: [{ part: 'quistle/QWR4T60', probability: 0.8 }],
          state: 'favoured',
          basis: [],
        },
      },
    },
  ]);
  expect([...(facts.holders.get('quistle/QWR4T60') ?? [])]).toEqual(['tarn-sennit-1/a']);
  expect(facts.holders.has('quistle/QWR4T10')).toBe(false);
  const row = facts.specimens.get('tarn-sennit-1/a');
  expect(row && currentDossier(row).identifications).toHaveLength(3);
});

test('a changed part is read again in every component that may be it', () => {
  const before = fold([...SMALL_CATALOGUE, dossier()]);
  const after = fold([
    ...SMALL_CATALOGUE,
    dossier(),
    ...catalogueChanges({ parts: [{ number: 'QWR4T10', maker: 'quistle', categories: ['PressureSensor'] }] }),
  ]);
  const category = (facts: Facts) => facts.specimens.get('tarn-sennit-1/a')?.columns[COLUMN.category];
  expect(category(after)).not.toBe(category(before));
});

test('an entry that does not follow the last is refused', () => {
  const draft = new FactsDraft(NO_FACTS, names);
  expect(() => applyEntry(draft, entriesOf(SMALL_CATALOGUE, 2)[0])).toThrow('does not follow 0');
});

test('a dossier filed again keeps what was recorded since', () => {
  const observation = { id: 'o9', about: ['U1'], kind: 'marking', marking: 'QWR4?' } as const;
  const facts = fold([
    ...SMALL_CATALOGUE,
    dossier(),
    {
      ...BY,
      kind: 'observation-recorded',
      payload: { specimen: 'tarn-sennit-1/a', observation: { ...observation, about: ['U1'] } },
    },
    dossier({ note: 'filed again' }),
  ]);
  const row = facts.specimens.get('tarn-sennit-1/a');
  expect(row && currentDossier(row).observations.map(({ id }) => id)).toEqual(['o9']);
});

/** Random journals over two specimens: filings, observations and identifications in any order. */
const later = fc.array(
  fc.oneof(
    fc.constantFrom('filed again', 'and again').map((note) => dossier({ note })),
    fc.integer({ min: 1, max: 5 }).map(
      (n): Change => ({
        ...BY,
        kind: 'observation-recorded',
        payload: {
          specimen: 'tarn-sennit-1/a',
          observation: { id: `o${n}`, about: ['U1'], kind: 'trace', text: 'seen' },
        },
      }),
    ),
    fc
      .record({
        part: fc.constantFrom('quistle/QWR4T10', 'quistle/QWR4T60', 'ostrel/OS7'),
        probability: fc.double({ min: 0.01, max: 1, noNaN: true }),
        component: fc.constantFrom('U1', 'U2'),
      })
      .map(
        ({ part, probability, component }): Change => ({
          ...BY,
          kind: 'identification-set',
          payload: {
            specimen: 'tarn-sennit-1/a',
            identification: { component, candidates: [{ part, probability }], state: 'proposed', basis: [] },
          },
        }),
      ),
  ),
  { maxLength: 12 },
);

test('the fold is a function of the journal: at once, entry by entry or in batches it gives the same facts', () => {
  fc.assert(
    fc.property(later, fc.integer({ min: 1, max: 5 }), (changes, batch) => {
      const all = [...SMALL_CATALOGUE, dossier(), ...changes];
      const expected = contentOf(fold(all));
      expect(contentOf(fold(all, 1))).toEqual(expected);
      expect(contentOf(fold(all, batch))).toEqual(expected);
    }),
    { numRuns: 60 },
  );
});

test('sealed facts stay as they are, whatever is derived from them', () => {
  fc.assert(
    fc.property(later, later, (first, second) => {
      const facts = fold([...SMALL_CATALOGUE, dossier(), ...first]);
      const before = contentOf(facts);
      const draft = new FactsDraft(facts, names);
      for (const entry of entriesOf(
        [...SMALL_CATALOGUE, dossier({ note: 'again' }), ...second],
        facts.sequence + 1,
      ))
        applyEntry(draft, entry);
      draft.seal();
      expect(contentOf(facts)).toEqual(before);
    }),
    { numRuns: 60 },
  );
});

test('filing a state at once equals reaching it step by step: columns, holders and graph have no memory', () => {
  fc.assert(
    fc.property(later, (changes) => {
      const stepwise = fold([...SMALL_CATALOGUE, dossier(), ...changes]);
      const row = stepwise.specimens.get('tarn-sennit-1/a');
      if (!row) throw new Error('no specimen');
      const { specimens: _, ...content } = contentOf(stepwise);
      const whole = fold([
        ...SMALL_CATALOGUE,
        {
          ...BY,
          kind: 'dossier-put',
          payload: { ...currentDossier(row), device: { ...DEVICE, regulatoryIds: [], succeeds: [] } },
        },
      ]);
      const { specimens, ...wholeContent } = contentOf(whole);
      expect(wholeContent).toEqual(content);
      expect(specimens[0].columns).toEqual(contentOf(stepwise).specimens[0].columns);
    }),
    { numRuns: 60 },
  );
});
