import { describe, expect, test } from 'vitest';
import type { Change } from '../../src/model/entry.ts';
import { devicePresence, presenceOf } from '../../src/presence/presence.ts';
import type { Holder } from '../../src/state/holder.ts';
import {
  BY,
  DEVICE,
  dossierChange,
  dossierOf,
  entriesOf,
  liveOf,
  SMALL_CATALOGUE,
} from '../state/archive-of.ts';

const NOW = '2026-06-01T00:00:00.000Z';
const seen = (live: Holder, audience: 'reader' | 'desk' = 'reader') => live.state(audience, NOW);
type Written = Parameters<typeof dossierOf>[0];

const INVENTORIED = [{ id: 'main', kind: 'rigid' as const, fullyInventoried: true }];
const RESISTOR = { id: 'R1', appears: 'Resistor', board: 'main' };

function specimen(id: string, more: Partial<Written> = {}): Change {
  return dossierChange({
    device: id === 'a' ? DEVICE : DEVICE.id,
    specimen: { id },
    boards: INVENTORIED,
    components: [RESISTOR],
    ...more,
  });
}
const chip = (candidates: readonly object[]) =>
  ({
    components: [RESISTOR, { id: 'U1', board: 'main' }],
    identifications: [{ component: 'U1', candidates }],
  }) as Partial<Written>;
const what = (changes: readonly Change[], name: string, audience?: 'reader' | 'desk') =>
  devicePresence(seen(liveOf([...SMALL_CATALOGUE, ...changes]), audience), DEVICE.id, name);
const verdict = (changes: readonly Change[], name = 'Gyroscope') => what(changes, name).verdict;

describe('absent or not observed', () => {
  test('absent requires every board to be fully inventoried', () => {
    expect(verdict([specimen('a')])).toBe('ABSENT');
    const open = { id: 'flex', kind: 'flex' as const };
    expect(verdict([specimen('a', { boards: [...INVENTORIED, open] })])).toBe('NOT_OBSERVED');
    expect(verdict([specimen('a', { boards: [{ ...INVENTORIED[0], fullyInventoried: false }] })])).toBe(
      'NOT_OBSERVED',
    );
    expect(verdict([specimen('a', { boards: [], components: [{ id: 'R1', appears: 'Resistor' }] })])).toBe(
      'NOT_OBSERVED',
    );
  });

  test('nothing is observed in a dossier without components', () => {
    expect(verdict([specimen('a', { components: [] })])).toBe('NOT_OBSERVED');
  });

  test.each([
    [1, 'CERTAIN'],
    [0.95, 'CERTAIN'],
    [0.949, 'POSSIBLE'],
    [0.05, 'POSSIBLE'],
    [0.049, 'ABSENT'],
  ])('probability %d is %s', (probability, expected) => {
    const rest = probability < 0.5 ? [{ category: 'Charger', probability: 0.9 }] : [];
    expect(verdict([specimen('a', chip([{ category: 'Gyroscope', probability }, ...rest]))])).toBe(expected);
  });

  test('absent of one specimen and not observed of another is absent; possible in one is possible', () => {
    const unlooked = specimen('b', { boards: [], components: [{ id: 'R1', appears: 'Resistor' }] });
    expect(verdict([specimen('a'), unlooked])).toBe('ABSENT');
    const maybe = specimen(
      'b',
      chip([
        { category: 'Gyroscope', probability: 0.3 },
        { category: 'Charger', probability: 0.6 },
      ]),
    );
    expect(verdict([specimen('a'), maybe])).toBe('POSSIBLE');
  });

  test('a part is absent when every component of its kinds has an identified part', () => {
    expect(verdict([specimen('a')], 'quistle/QWR4T10')).toBe('ABSENT');
    const other = chip([{ part: 'quistle/QWR4T60', probability: 1 }]);
    expect(verdict([specimen('a', other)], 'quistle/QWR4T10')).toBe('ABSENT');
    expect(verdict([specimen('a', other)], 'quistle')).toBe('CERTAIN');
    expect(verdict([specimen('a', other)], 'ostrel')).toBe('ABSENT');
    // Some accelerometer, nobody knows which.
    const some = chip([{ category: 'Accelerometer', probability: 1 }]);
    expect(verdict([specimen('a', some)], 'quistle/QWR4T10')).toBe('NOT_OBSERVED');
    expect(verdict([specimen('a', some)], 'quistle')).toBe('NOT_OBSERVED');
    expect(verdict([specimen('a', some)], 'ostrel/OS7')).toBe('ABSENT');
  });
});

describe('several specimens', () => {
  const sure = chip([{ category: 'Gyroscope', probability: 0.98 }]);
  test('the maximum counts, whatever the order', () => {
    const half = chip([{ category: 'Gyroscope', probability: 0.6 }]);
    expect(what([specimen('a', half), specimen('b', half)], 'Gyroscope').probability).toBe(0.6);
    expect(what([specimen('a', half), specimen('b', sure)], 'Gyroscope').probability).toBe(0.98);
    expect(what([specimen('a', sure), specimen('b', half)], 'Gyroscope').probability).toBe(0.98);
  });

  test('revisions differ where one certainly has it and another is absent of it', () => {
    const differs = (...all: Change[]) => what(all, 'Gyroscope').revisionsDiffer;
    expect(differs(specimen('a', sure), specimen('b'))).toBe(true);
    expect(differs(specimen('a'), specimen('b', sure))).toBe(true);
    expect(differs(specimen('a', sure), specimen('b', sure))).toBe(false);
    expect(
      differs(
        specimen('a', sure),
        specimen('b', { boards: [], components: [{ id: 'R1', appears: 'Resistor' }] }),
      ),
    ).toBe(false);
    expect(differs(specimen('a', chip([{ category: 'Gyroscope', probability: 0.9 }])), specimen('b'))).toBe(
      false,
    );
  });

  test('a hidden specimen does not count for a reader', () => {
    const hidden = specimen('b', { ...sure, visibility: 'draft' });
    expect(what([specimen('a'), hidden], 'Gyroscope')).toMatchObject({
      verdict: 'ABSENT',
      revisionsDiffer: false,
    });
    expect(what([specimen('a'), hidden], 'Gyroscope', 'desk')).toMatchObject({
      verdict: 'CERTAIN',
      revisionsDiffer: true,
    });
  });
});

test('presence follows every change', async () => {
  const live = liveOf([...SMALL_CATALOGUE, specimen('a', chip([{ category: 'Charger', probability: 1 }]))]);
  const verdictNow = async () => (await presenceOf(seen(live))).of('Gyroscope').get(DEVICE.id)?.verdict;
  expect(await verdictNow()).toBe('ABSENT');
  const { identifications } = dossierOf({
    device: DEVICE.id,
    specimen: { id: 'a' },
    identifications: [{ component: 'U1', candidates: [{ part: 'quistle/QWR4T60', probability: 1 }] }],
  });
  const change = (one: Omit<Change, 'actor' | 'reason'>) =>
    live.apply(entriesOf([{ ...BY, ...one } as Change], live.sequence + 1));
  change({
    kind: 'identification-set',
    payload: { specimen: `${DEVICE.id}/a`, identification: identifications[0] },
  } as Omit<Change, 'actor' | 'reason'>);
  expect(await verdictNow()).toBe('CERTAIN');
  // The part turns out to be an accelerometer alone.
  const [record] = SMALL_CATALOGUE.filter(
    (one) =>
      one.kind === 'record-put' && 'number' in one.payload.record && one.payload.record.number === 'QWR4T60',
  ) as Extract<Change, { kind: 'record-put' }>[];
  change({
    ...record,
    payload: { ...record.payload, record: { ...record.payload.record, categories: ['Accelerometer'] } },
  } as Change);
  expect(await verdictNow()).toBe('ABSENT');
});
