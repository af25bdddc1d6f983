import { expect, test } from 'vitest';
import type { Change } from '../../src/model/entry.ts';
import { FactsDraft, NO_FACTS } from '../../src/state/facts.ts';
import { applyEntry } from '../../src/state/fold.ts';
import { Holder } from '../../src/state/holder.ts';
import { EarlierCaches } from '../../src/state/past/earlier-caches.ts';
import { EarlierReaders } from '../../src/state/past/earlier-readers.ts';
import type { State } from '../../src/state/state.ts';
import { BY, catalogueChanges, dossierChange, entriesOf } from './archive-of.ts';

// Each case by hand: what is filed, when, and what readers see of it now and as of an earlier hour.

const HOUR = (hour: number) => `2027-01-01T${String(hour).padStart(2, '0')}:00:00.000Z`;
const FIRST = catalogueChanges({
  makers: [
    { id: 'tarn', name: 'Tarn', makes: ['devices'] },
    { id: 'quistle', name: 'Quistle', makes: ['parts'] },
  ],
  parts: [
    { number: 'A', maker: 'quistle', categories: ['Accelerometer'] },
    { number: 'B', maker: 'quistle', categories: ['Microcontroller'] },
  ],
});
const device = (name: string, hidden: object = {}) =>
  catalogueChanges({
    devices: [{ id: 'band', name, maker: 'tarn', released: '2020', bodySite: 'wrist', ...hidden }],
  })[0] as Change;
const specimen = (id: string, part: string, hidden: object = {}, mark: object = {}) =>
  dossierChange({
    device: 'band',
    specimen: { id },
    boards: [{ id: 'main', kind: 'rigid' }],
    components: [{ id: 'U1', board: 'main' }],
    identifications: [{ component: 'U1', candidates: [{ part, probability: 0.97 }], ...mark }],
    ...hidden,
  });
const letter = (title: string, hidden: object = {}, claim: object = {}) =>
  catalogueChanges({
    publications: [
      {
        id: 'letter',
        kind: 'article',
        title,
        claims: [{ id: 'c', sentence: 'So it is.', supportedBy: ['band/a/U1'], ...claim }],
        ...hidden,
      },
    ],
  })[0] as Change;
const recalled = (...ids: string[]): Change => ({ ...BY, kind: 'recalled', payload: { ids } });

/** A journal with an entry every hour, and what readers see of it at an hour, as of another or now. */
function journal(changes: readonly Change[]) {
  const entries = entriesOf([...FIRST, ...changes]).map((entry, i) => ({
    ...entry,
    instant: HOUR(Math.max(0, i - FIRST.length + 1)),
  }));
  const whole = new Holder();
  whole.apply(entries);
  const shared = new EarlierCaches(whole.names);
  const foldedTo = (instant: string) => {
    const draft = new FactsDraft(NO_FACTS, whole.names);
    for (const entry of entries) if (entry.instant <= instant) applyEntry(draft, entry);
    return draft.seal();
  };
  return {
    at: (hour: number) => whole.state('reader', HOUR(hour)),
    asOf: (past: number, hour: number) =>
      shared.stateOf(
        new EarlierReaders(whole.names).at(foldedTo(HOUR(past)), HOUR(past), whole.seenNow(HOUR(hour))),
        'reader',
        HOUR(past),
        { find: () => [] },
      ),
  };
}

const partIn = (state: State) =>
  state
    .specimen('band/a')
    ?.identified.get('U1')
    ?.candidates.map(({ part }) => part);
const draft = { visibility: 'draft' } as const;
const until = (hour: number) => ({ visibility: 'embargoed', embargoUntil: HOUR(hour) }) as const;

test('a draft version leaves standing what readers see, until it is published', () => {
  const changes = [device('Band'), specimen('a', 'quistle/A'), letter('First')];
  const drafts = [device('Band of ours', draft), specimen('a', 'quistle/B', draft), letter('Second', draft)];
  const before = journal([...changes, ...drafts]).at(9);
  expect([before.device('band')?.name, partIn(before), before.publication('letter')?.title]).toEqual([
    'Band',
    ['quistle/A'],
    'First',
  ]);
  const after = journal([
    ...changes,
    ...drafts,
    device('Band of ours'),
    specimen('a', 'quistle/B'),
    letter('Second'),
  ]).at(9);
  expect([after.device('band')?.name, partIn(after), after.publication('letter')?.title]).toEqual([
    'Band of ours',
    ['quistle/B'],
    'Second',
  ]);
});

test('a draft second specimen that describes its device otherwise changes nothing of the device for readers', () => {
  const device = { id: 'band', name: 'Band', maker: 'tarn', released: '2020', bodySite: 'wrist' } as const;
  const changes = [
    dossierChange({ device, specimen: { id: 'a' } }),
    dossierChange({ device: { ...device, name: 'Another' }, specimen: { id: 'b' }, ...draft }),
  ];
  const state = journal(changes).at(9);
  expect([state.device('band')?.name, state.deviceRecord('band')?.visibility]).toEqual(['Band', 'published']);
  expect(state.specimensOf('band').map(({ id }) => id)).toEqual(['band/a']);
});

test('a version under embargo takes the place of the one before when the embargo ends, without an entry', () => {
  const { at } = journal([device('Band'), specimen('a', 'quistle/A'), specimen('a', 'quistle/B', until(5))]);
  expect([4, 5, 6, 3].map((hour) => partIn(at(hour)))).toEqual([
    ['quistle/A'],
    ['quistle/B'],
    ['quistle/B'],
    ['quistle/A'],
  ]);
});

test('an embargo extended before it ended hides until the later end', () => {
  const { at } = journal([
    device('Band'),
    specimen('a', 'quistle/A', until(5)),
    specimen('a', 'quistle/A', until(7)),
  ]);
  expect([5, 6, 7].map((hour) => at(hour).specimenRow('band/a') !== undefined)).toEqual([false, false, true]);
});

test('what is recalled is gone, as of every earlier instant too, and what is filed after it is seen from then on', () => {
  const changes = [device('Band'), specimen('a', 'quistle/A'), letter('First'), recalled('band/a', 'letter')];
  const gone = journal(changes);
  const seen = (state: State) => [
    state.specimenRow('band/a') !== undefined,
    state.publication('letter')?.title,
  ];
  expect(seen(gone.at(9))).toEqual([false, undefined]);
  expect(seen(gone.asOf(3, 9))).toEqual([false, undefined]);
  const anew = journal([...changes, letter('Second'), letter('Third')]);
  expect(seen(anew.at(9))).toEqual([false, 'Third']);
  expect([3, 4, 5].map((hour) => anew.asOf(hour, 9).publication('letter')?.title)).toEqual([
    undefined,
    undefined,
    'Second',
  ]);
});

test('a recalled device takes its specimens with it, whatever is filed of them alone', () => {
  const { at } = journal([
    device('Band'),
    specimen('a', 'quistle/A'),
    recalled('band', 'band/a'),
    specimen('b', 'quistle/A'),
  ]);
  expect([at(9).device('band'), at(9).specimenRow('band/b'), at(9).maker('tarn')]).toEqual([
    undefined,
    undefined,
    undefined,
  ]);
});

test('a sentence or an identification that is hidden now is hidden as of an earlier instant', () => {
  const { at, asOf } = journal([
    device('Band'),
    specimen('a', 'quistle/A'),
    letter('First'),
    letter('First', {}, draft),
    specimen('a', 'quistle/A', {}, draft),
  ]);
  const seen = (state: State) => [state.publication('letter')?.claims.length, partIn(state)];
  expect(seen(at(9))).toEqual([0, undefined]);
  expect(seen(asOf(3, 9))).toEqual([0, undefined]);
});

test('an earlier instant shows makers and product lines that are known through nothing today', () => {
  const moved = catalogueChanges({
    makers: [{ id: 'sallow', name: 'Sallow', makes: ['devices'] }],
    devices: [{ id: 'band', name: 'Band', maker: 'sallow', released: '2020', bodySite: 'wrist' }],
  });
  const { at, asOf } = journal([device('Band'), ...moved]);
  expect([at(9).maker('tarn'), asOf(1, 9).maker('tarn')?.name, asOf(1, 9).device('band')?.maker]).toEqual([
    undefined,
    'Tarn',
    'tarn',
  ]);
});

test('a hidden part leaves its component to the rival candidates, and the rest unknown', () => {
  const rivals = dossierChange({
    device: 'band',
    specimen: { id: 'a' },
    components: [{ id: 'U1' }],
    identifications: [
      {
        component: 'U1',
        candidates: [
          { part: 'quistle/A', probability: 0.3 },
          { part: 'quistle/B', probability: 0.6 },
        ],
      },
    ],
  });
  const state = journal([device('Band'), rivals, recalled('quistle/B')]).at(9);
  expect(state.specimen('band/a')?.identified.get('U1')?.candidates).toEqual([
    { part: 'quistle/A', probability: 0.3 },
  ]);
  expect([state.part('quistle/B'), state.holdersOf('quistle/B')]).toEqual([undefined, []]);
  expect([...state.search('microcontroller')]).toEqual([]);
  const alone = journal([device('Band'), specimen('a', 'quistle/B'), recalled('quistle/B')]).at(9);
  expect(alone.specimen('band/a')?.identified.size).toBe(0);
});
