import { expect, test } from 'vitest';
import { type Amendment, amendmentSchema } from '../../src/model/correction.ts';
import type { Change } from '../../src/model/entry.ts';
import type { State } from '../../src/state/state.ts';
import { BY, catalogueChanges, DEVICE, dossierChange, SMALL_CATALOGUE } from '../state/archive-of.ts';
import { archiveFrom } from './archive.ts';

// Corrections that wait for their notice: readers see what was, until the instant, and what is right from then on.

const END = '2027-03-01T09:00:00.000Z';
const CHANGES: readonly Change[] = [
  ...SMALL_CATALOGUE,
  dossierChange({
    device: DEVICE,
    specimen: { id: 'a' },
    boards: [{ id: 'main', kind: 'rigid' }],
    components: [{ id: 'U1', board: 'main', pins: 12 }],
    observations: [{ id: 'o1', about: ['U1'], kind: 'marking', marking: 'QW' }],
    identifications: [
      { component: 'U1', candidates: [{ part: 'quistle/QWR4T10', probability: 0.9 }], basis: ['o1'] },
    ],
  }),
];
const at = (instant: string) => ({ now: new Date(instant) });

const opened = (state: State) => state.specimen(`${DEVICE.id}/a`);
const CASES: readonly (readonly [string, unknown, (state: State) => unknown, unknown, unknown])[] = [
  [
    'an identification',
    {
      identify: {
        specimen: `${DEVICE.id}/a`,
        component: 'U1',
        candidates: [{ part: 'ostrel/OS7', probability: 0.8 }],
      },
    },
    (state) => opened(state)?.identified.get('U1')?.candidates[0]?.part,
    'quistle/QWR4T10',
    'ostrel/OS7',
  ],
  [
    'a withdrawal',
    { withdraw: { observation: `${DEVICE.id}/a/o1` } },
    (state) => opened(state)?.identified.has('U1'),
    true,
    false,
  ],
  [
    'an observation',
    { observe: { specimen: `${DEVICE.id}/a`, id: 'o2', about: ['U1'], kind: 'appearance', text: 'A lid.' } },
    (state) => opened(state)?.dossier.observations.length,
    1,
    2,
  ],
  [
    'a value of a component',
    { value: { of: `${DEVICE.id}/a/U1`, field: 'pins', is: 14 } },
    (state) => opened(state)?.components.get('U1')?.pins,
    12,
    14,
  ],
  [
    'a value of a part',
    { value: { of: 'quistle/QWR4T10', field: 'package', is: 'LGA-16' } },
    (state) => state.part('quistle/QWR4T10')?.package,
    'LGA-12',
    'LGA-16',
  ],
  [
    'a value of a device',
    { value: { of: DEVICE.id, field: 'released', is: '2017' } },
    (state) => state.device(DEVICE.id)?.released,
    '2016-05',
    '2017',
  ],
];

test.each(CASES)('%s under embargo is seen when that ends', async (_, written, look, before, after) => {
  const clock = at('2027-02-01T00:00:00Z');
  const { archive } = await archiveFrom(CHANGES, () => clock.now);
  const amendment = amendmentSchema.parse(written) as Amendment;
  await archive.correct(amendment, BY, 'desk', END);
  const seen = () => [look(archive.state('reader')), archive.state('reader').corrections.length];
  expect([look(archive.state('desk')), archive.state('desk').corrections.length]).toEqual([after, 1]);
  expect(seen()).toEqual([before, 0]);
  clock.now = new Date(END);
  expect(seen()).toEqual([after, 1]);
  await archive.close();
});

test('a correction cannot wait for what has passed, nor of what readers do not see', async () => {
  const clock = at('2027-04-01T00:00:00Z');
  const hidden = dossierChange({
    device: DEVICE.id,
    specimen: { id: 'b' },
    components: [{ id: 'U1' }],
    visibility: 'draft',
  });
  const { archive, journal } = await archiveFrom([...CHANGES, hidden], () => clock.now);
  const length = (await journal.head()).sequence;
  const amend = (of: string) => amendmentSchema.parse({ value: { of, field: 'pins', is: 14 } }) as Amendment;
  await expect(archive.correct(amend(`${DEVICE.id}/a/U1`), BY, 'desk', END)).rejects.toThrow('is not ahead');
  const later = '2028-01-01T00:00:00Z';
  await expect(archive.correct(amend(`${DEVICE.id}/b/U1`), BY, 'desk', later)).rejects.toThrow(
    'Readers do not see the newest version',
  );
  expect((await journal.head()).sequence).toBe(length);
});

test('what a correction says of a published sentence counts only what readers see', async () => {
  const letter = catalogueChanges({
    publications: [
      {
        id: 'letter',
        kind: 'article',
        title: 'Letter',
        published: '2026',
        claims: [
          { id: 'c', sentence: 'It is very likely an accelerometer.', supportedBy: [`${DEVICE.id}/a/U1`] },
          {
            id: 'd',
            sentence: 'It is an accelerometer.',
            supportedBy: [`${DEVICE.id}/a/U1`],
            visibility: 'draft',
          },
        ],
      },
    ],
  });
  const { archive } = await archiveFrom([...CHANGES, ...letter], () => new Date('2027-02-01T00:00:00Z'));
  const amendment = amendmentSchema.parse(CASES[0]?.[1]) as Amendment;
  await archive.correct(amendment, BY, 'desk');
  const claims = (state: State) =>
    state.corrections.flatMap(({ publications }) =>
      publications.map((one) => [one.claims.map(({ claim }) => claim), one.notice !== null]),
    );
  expect(claims(archive.state('reader'))).toEqual([[['letter/c'], true]]);
  expect(claims(archive.state('desk'))).toEqual([
    [['letter/c'], true],
    [['letter/d'], false],
  ]);
  const text = archive.state('reader').corrections[0]?.publications[0]?.notice ?? '';
  expect([text.includes('very likely'), text.includes('“It is an')]).toEqual([true, false]);
});
