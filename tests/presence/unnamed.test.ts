import { describe, expect, test } from 'vitest';
import type { Change } from '../../src/model/entry.ts';
import { CERTAIN } from '../../src/state/labels.ts';
import type { KindSpread, UnnamedKinds } from '../../src/state/unnamed/unnamed-kinds.ts';
import { generateCatalogue, generateDossiers, seededRandom } from '../bench/generate.ts';
import { BY, dossierChange, entriesOf, liveOf, SMALL_CATALOGUE } from '../state/archive-of.ts';

type Component = Parameters<UnnamedKinds['spreadOf']>[0];

/** A device with chips of one package, all identified as one category. */
function device(
  at: number,
  category: string,
  body: string,
  visibility: 'published' | 'draft' = 'published',
): Change {
  return dossierChange({
    visibility,
    device: { id: `d${at}`, name: `D ${at}`, maker: 'tarn', released: '2020', bodySite: 'wrist' },
    specimen: { id: 'a' },
    components: Array.from({ length: 5 }, (_, i) => ({ id: `U${i + 1}`, package: body })),
    identifications: Array.from({ length: 5 }, (_, i) => ({
      component: `U${i + 1}`,
      candidates: [{ category, probability: 1 }],
    })),
  });
}

const CHIP: Component = { id: 'U9', package: 'LGA-12', appears: 'IntegratedCircuit' };
const NOW = '2026-06-01T00:00:00.000Z';
const seen = (live: ReturnType<typeof liveOf>) => live.state('desk', NOW);
const liveWith = (changes: readonly Change[]) => liveOf([...SMALL_CATALOGUE, ...changes]);
const learntFrom = (changes: readonly Change[]) => seen(liveWith(changes)).unnamed;
const shareOf = ({ kinds }: KindSpread, category: string) =>
  kinds.find((one) => one.category === category)?.probability ?? 0;
const total = ({ kinds }: KindSpread) => kinds.reduce((sum, { probability }) => sum + probability, 0);

describe('what an unnamed component may be', () => {
  test('common practice before anything is known; a chip is not a resistor', () => {
    const unnamed = learntFrom([]);
    const chip = unnamed.spreadOf(CHIP);
    expect(shareOf(chip, 'Microcontroller')).toBeGreaterThan(0.05);
    expect(shareOf(unnamed.spreadOf({ id: 'R3', appears: undefined }), 'Resistor')).toBeCloseTo(0.9, 6);
    const odd = unnamed.spreadOf({ id: 'R3', appears: 'IntegratedCircuit' });
    expect([shareOf(odd, 'Resistor'), shareOf(odd, 'Microcontroller') > 0.05]).toEqual([0, true]);
  });

  test('letters in common use, and those of IEEE 315 for the same, say the same', () => {
    const unnamed = learntFrom([]);
    const kinds = (id: string) => unnamed.spreadOf({ id, appears: undefined }).kinds;
    for (const [one, other] of [
      ['IC3', 'U3'],
      ['U$5', 'U5'],
      ['CON1', 'J1'],
      ['LD2', 'LED2'],
      ['NTC1', 'RT1'],
      ['main:SW2', 'SW2'],
    ])
      expect([one, kinds(one)]).toEqual([one, kinds(other)]);
    expect(shareOf(unnamed.spreadOf({ id: 'FB1', appears: undefined }), 'FerriteBead')).toBeCloseTo(0.9, 6);
    // A test point is most likely a pad, and then no component.
    const [pad] = kinds('TP4');
    expect(pad.category).toBe('TestPad');
  });

  test('kinds of such a package in the archive, with those of related packages', () => {
    const unnamed = learntFrom(Array.from({ length: 30 }, (_, at) => device(at, 'Accelerometer', 'LGA-12')));
    const before = shareOf(learntFrom([]).spreadOf(CHIP), 'Accelerometer');
    const same = shareOf(unnamed.spreadOf(CHIP), 'Accelerometer');
    const kin = shareOf(unnamed.spreadOf({ ...CHIP, package: 'LGA-16' }), 'Accelerometer');
    const other = shareOf(unnamed.spreadOf({ ...CHIP, package: 'QFN-32' }), 'Accelerometer');
    expect(same).toBeGreaterThan(kin);
    expect(kin).toBeGreaterThan(other);
    expect(other).toBe(before);
  });

  test('a tenth is left open whatever was learnt, and no spread alone is certain', () => {
    const unnamed = learntFrom(Array.from({ length: 200 }, (_, at) => device(at, 'Accelerometer', 'LGA-12')));
    expect(total(unnamed.spreadOf(CHIP))).toBeLessThanOrEqual(0.9 + 1e-9);
    expect(shareOf(unnamed.spreadOf(CHIP), 'Accelerometer')).toBeGreaterThan(0.8);
    expect(total(unnamed.spreadOf(CHIP))).toBeLessThan(CERTAIN);
  });

  test('nothing is learnt from hidden specimens, not even at the desk', () => {
    const open = learntFrom([device(1, 'Charger', 'LGA-12')]).spreadOf(CHIP);
    const hidden = Array.from({ length: 50 }, (_, at) => device(at + 2, 'Gyroscope', 'LGA-12', 'draft'));
    expect(learntFrom([device(1, 'Charger', 'LGA-12'), ...hidden]).spreadOf(CHIP).kinds).toEqual(open.kinds);
    // Published in the end, they do.
    const live = liveWith([device(1, 'Charger', 'LGA-12'), ...hidden]);
    live.apply(
      entriesOf(
        Array.from({ length: 50 }, (_, at) => device(at + 2, 'Gyroscope', 'LGA-12')),
        live.sequence + 1,
      ),
    );
    expect(shareOf(seen(live).unnamed.spreadOf(CHIP), 'Gyroscope')).toBeGreaterThan(0.5);
  });

  test('candidates come first: the spread gets the rest, and nothing for kinds that are candidates', () => {
    const live = liveWith([
      dossierChange({
        device: { id: 'd', name: 'D', maker: 'tarn', released: '2020', bodySite: 'wrist' },
        specimen: { id: 'a' },
        components: [{ id: 'U1' }, { id: 'U2' }, { id: 'U3' }],
        identifications: [
          { component: 'U1', candidates: [{ category: 'Microcontroller', probability: 0.3 }] },
          { component: 'U2', candidates: [{ category: 'Microcontroller', probability: 0.6 }] },
        ],
      }),
    ]);
    const specimen = seen(live).specimen('d/a');
    if (!specimen) throw new Error('the specimen is there');
    const { labels, named, spreads } = specimen;
    expect(labels.get('U1')?.get('Microcontroller')).toBe(0.3);
    expect(spreads.get('U1')?.reduce((sum, { probability }) => sum + probability, 0)).toBeLessThan(0.7);
    expect(labels.get('U1')?.get('Charger')).toBeGreaterThan(0);
    expect(named.get('U1')?.get('Charger')).toBeUndefined();
    // With a kind at even odds it is named.
    expect(spreads.has('U2')).toBe(false);
    expect(labels.get('U2')).toBe(named.get('U2'));
    expect(labels.get('U3')?.get('Microcontroller')).toBe(
      shareOf(seen(live).unnamed.spreadOf({ id: 'U3', appears: undefined }), 'Microcontroller'),
    );
  });
});

describe('the table', () => {
  const random = seededRandom(5);
  const catalogue = generateCatalogue(60, random);
  const records = (['makers', 'productLines', 'parts'] as const).flatMap((collection) =>
    catalogue[collection].map(
      (record) => ({ ...BY, kind: 'record-put', payload: { collection, record } }) as Change,
    ),
  );
  const dossiers = [...generateDossiers(60, catalogue, random)].map(
    (payload) => ({ ...BY, kind: 'dossier-put', payload }) as Change,
  );
  const LOOKS: readonly Component[] = ['LGA-12', 'LGA-14', 'QFN-32', 'WLCSP-25', 'DFN-6', undefined].map(
    (body) => ({
      ...CHIP,
      package: body,
    }),
  );

  test('is the same in whatever order and however often it was asked for', () => {
    const once = liveOf([...records, ...dossiers]);
    const often = liveOf(records);
    const order = [...dossiers.slice(30), ...dossiers.slice(0, 30)];
    // Later generations come before those they follow here; the fold does not mind.
    for (const dossier of order) {
      often.apply(entriesOf([dossier], often.sequence + 1));
      for (const look of LOOKS) seen(often).unnamed.spreadOf(look);
    }
    for (const look of LOOKS) {
      expect(seen(often).unnamed.spreadOf(look).kinds).toEqual(seen(once).unnamed.spreadOf(look).kinds);
    }
  });

  test('stays the same object over most entries, so that untouched specimens need not be read again', () => {
    const live = liveOf(records);
    let changes = 0;
    let kept = LOOKS.map((look) => seen(live).unnamed.spreadOf(look));
    for (const dossier of dossiers) {
      live.apply(entriesOf([dossier], live.sequence + 1));
      const now = LOOKS.map((look) => seen(live).unnamed.spreadOf(look));
      changes += now.filter((one, at) => one !== kept[at]).length;
      kept = now;
    }
    const last = kept.map((one) => seen(live).unnamed.areCurrent([one]));
    expect(last.every(Boolean)).toBe(true);
    expect(changes / (LOOKS.length * dossiers.length)).toBeLessThan(0.5);
  });
});
