import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Change } from '../../src/model/entry.ts';
import { COLUMN, COLUMNS } from '../../src/state/component-columns.ts';
import { applyEntry } from '../../src/state/fold.ts';
import { dossierOf as currentDossier } from '../../src/state/merge.ts';
import { emptyState, type State } from '../../src/state/state.ts';
import { BY, catalogueChanges, DEVICE, dossierChange, entriesOf, SMALL_CATALOGUE } from './archive-of.ts';

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
      { component: 'U1', candidates: [{ part: 'quillon/QN4410', probability: 0.9 }] },
      { component: 'U2', candidates: [{ part: 'ostrel/OS7', probability: 0.6 }] },
    ],
    ...more,
  });

function fold(changes: readonly Change[]): State {
  const state = emptyState();
  for (const entry of entriesOf(changes)) applyEntry(state, entry);
  return state;
}

/** Everything a state holds, in a form that two states can be compared by. */
function contentOf(state: State) {
  const edges = state.knowledge.mapEdges((_, attributes, from, to) => ({ from, to, ...attributes }));
  return {
    records: Object.entries(state.records).map(([name, map]) => [name, [...map]]),
    devices: [...state.devices],
    specimens: [...state.specimens.values()].map((row) => ({
      ...row,
      filed: undefined,
      version: undefined,
      columns: [...row.columns].map((value, index) =>
        [COLUMN.designator, COLUMN.part, COLUMN.board, COLUMN.package].some((c) => c === index % COLUMNS)
          ? state.names.textOf(value)
          : value,
      ),
      dossier: currentDossier(row),
    })),
    holders: [...state.holders]
      .filter(([, set]) => set.size > 0)
      .map(([part, set]) => [part, [...set].sort()])
      .sort(),
    edges: edges.map((edge) => JSON.stringify(edge)).sort(),
  };
}

test('an identification set later is the one that speaks, and the part it replaces is no longer held', () => {
  const state = fold([
    ...SMALL_CATALOGUE,
    dossier(),
    {
      ...BY,
      kind: 'identification-set',
      payload: {
        specimen: 'tarn-loop-1/a',
        identification: {
          component: 'U1',
          candidates: [{ part: 'quillon/QN4460', probability: 0.8 }],
          state: 'favoured',
          basis: [],
        },
      },
    },
  ]);
  expect(state.holders.get('quillon/QN4460')).toEqual(new Set(['tarn-loop-1/a']));
  expect(state.holders.get('quillon/QN4410')).toEqual(new Set());
  const row = state.specimens.get('tarn-loop-1/a');
  expect(row && currentDossier(row).identifications).toHaveLength(3);
});

test('a part described anew is read anew in every component that may be it', () => {
  const before = fold([...SMALL_CATALOGUE, dossier()]);
  const after = fold([
    ...SMALL_CATALOGUE,
    dossier(),
    ...catalogueChanges({ parts: [{ number: 'QN4410', maker: 'quillon', categories: ['PressureSensor'] }] }),
  ]);
  const category = (state: State) => state.specimens.get('tarn-loop-1/a')?.columns[COLUMN.category];
  expect(category(after)).not.toBe(category(before));
});

test('an entry that does not follow the last one is refused', () => {
  const state = emptyState();
  expect(() => applyEntry(state, entriesOf(SMALL_CATALOGUE, 2)[0])).toThrow('does not follow 0');
});

test('a dossier filed again keeps what was recorded since', () => {
  const observation = { id: 'o9', about: ['U1'], kind: 'marking', marking: 'QN4?' } as const;
  const state = fold([
    ...SMALL_CATALOGUE,
    dossier(),
    {
      ...BY,
      kind: 'observation-recorded',
      payload: { specimen: 'tarn-loop-1/a', observation: { ...observation, about: ['U1'] } },
    },
    dossier({ note: 'filed again' }),
  ]);
  const row = state.specimens.get('tarn-loop-1/a');
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
          specimen: 'tarn-loop-1/a',
          observation: { id: `o${n}`, about: ['U1'], kind: 'trace', text: 'seen' },
        },
      }),
    ),
    fc
      .record({
        part: fc.constantFrom('quillon/QN4410', 'quillon/QN4460', 'ostrel/OS7'),
        probability: fc.double({ min: 0.01, max: 1, noNaN: true }),
        component: fc.constantFrom('U1', 'U2'),
      })
      .map(
        ({ part, probability, component }): Change => ({
          ...BY,
          kind: 'identification-set',
          payload: {
            specimen: 'tarn-loop-1/a',
            identification: { component, candidates: [{ part, probability }], state: 'proposed', basis: [] },
          },
        }),
      ),
  ),
  { maxLength: 12 },
);

test('the fold is a function of the journal: in one go, in publications, or again, it gives the same state', () => {
  fc.assert(
    fc.property(later, fc.nat(), (changes, cut) => {
      const all = [...SMALL_CATALOGUE, dossier(), ...changes];
      const whole = fold(all);
      const publications = emptyState();
      const entries = entriesOf(all);
      const at = cut % entries.length;
      for (const entry of entries.slice(0, at)) applyEntry(publications, entry);
      for (const entry of entries.slice(at)) applyEntry(publications, entry);
      expect(contentOf(publications)).toEqual(contentOf(whole));
    }),
    { numRuns: 60 },
  );
});

test('filing a state whole equals reaching it step by step: columns, holders and graph have no memory', () => {
  fc.assert(
    fc.property(later, (changes) => {
      const stepwise = fold([...SMALL_CATALOGUE, dossier(), ...changes]);
      const row = stepwise.specimens.get('tarn-loop-1/a');
      if (!row) throw new Error('no specimen');
      const { specimens: _, ...content } = contentOf(stepwise);
      const whole = fold([...SMALL_CATALOGUE, { ...BY, kind: 'dossier-put', payload: currentDossier(row) }]);
      const { specimens, ...wholeContent } = contentOf(whole);
      expect(wholeContent).toEqual(content);
      expect(specimens[0].columns).toEqual(contentOf(stepwise).specimens[0].columns);
    }),
    { numRuns: 60 },
  );
});
