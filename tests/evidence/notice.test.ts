import { expect, test } from 'vitest';
import { amendmentText } from '../../src/evidence/notice.ts';
import { amendmentSchema } from '../../src/model/correction.ts';
import type { Change } from '../../src/model/entry.ts';
import { BY, catalogueChanges, DEVICE, dossierChange, SMALL_CATALOGUE } from '../state/archive-of.ts';
import { archiveFrom } from './archive.ts';

test.each([
  [
    {
      identify: {
        specimen: 'tarn-sennit-1/a',
        component: 'U3',
        candidates: [
          { part: 'quistle/QWR4T60', probability: 0.9 },
          { category: 'Gyroscope', probability: 0.1 },
        ],
      },
    },
    'U3 of the Tarn Sennit 1 is now identified as quistle/QWR4T60 (0.9) or Gyroscope (0.1).',
  ],
  [
    { withdraw: { observation: 'tarn-sennit-1/a/o1' } },
    'An observation of the Tarn Sennit 1 is withdrawn (tarn-sennit-1/a/o1).',
  ],
  [
    {
      observe: {
        specimen: 'tarn-sennit-1/a',
        id: 'o9',
        about: ['U1', 'U2'],
        kind: 'trace',
        text: 'Both are joined.',
      },
    },
    'A further observation of the Tarn Sennit 1 is on record, of U1, U2 (trace: Both are joined.).',
  ],
  [{ value: { of: 'tarn-sennit-1', field: 'mass', is: null } }, 'The mass of Tarn Sennit 1 is not known.'],
  [
    { value: { of: 'tarn-sennit-1', field: 'mass', is: { value: 21, unit: 'g' } } },
    'The mass of Tarn Sennit 1 is 21 g.',
  ],
  [
    { value: { of: 'tarn-sennit-1/a/U1', field: 'pins', is: 14 } },
    'The pins of U1 of the Tarn Sennit 1 is 14.',
  ],
])('an amendment in a sentence: %j', (written, sentence) => {
  const called = (id: string) => (id === DEVICE.id ? DEVICE.name : undefined);
  expect(amendmentText(amendmentSchema.parse(written), called)).toBe(sentence);
});

const PUBLICATIONS = [
  {
    id: 'published',
    kind: 'article',
    title: 'Loops counted',
    published: '2021-04',
    claims: [
      { id: 'falls', sentence: 'It is very likely an accelerometer.', supportedBy: [`${DEVICE.id}/a/U1`] },
      { id: 'apart', sentence: 'The other is a processor.', supportedBy: [`${DEVICE.id}/a/U2`] },
    ],
  },
  {
    id: 'on-it',
    kind: 'video',
    title: 'Loops again',
    published: '2021-06',
    claims: [
      { id: 'holds', sentence: 'More likely than not, it moves.', supportedBy: ['published/falls'] },
      { id: 'never-fitted', sentence: 'It moves.', supportedBy: ['published/falls'], probability: 0.3 },
    ],
  },
  {
    id: 'elsewhere',
    kind: 'video',
    title: 'Other things',
    claims: [{ id: 'c1', sentence: 'A part.', supportedBy: ['quistle/QWR4T60'] }],
  },
] as const;
const MADE: readonly Change[] = [
  ...SMALL_CATALOGUE,
  dossierChange({
    device: DEVICE,
    specimen: { id: 'a' },
    components: [{ id: 'U1' }, { id: 'U2' }],
    observations: [
      { id: 'o1', about: ['U1'], kind: 'marking', text: 'seen' },
      { id: 'o2', about: ['U1'], kind: 'marking', text: 'seen' },
    ],
    identifications: [
      { component: 'U1', candidates: [{ part: 'quistle/QWR4T10', probability: 0.97 }], basis: ['o1'] },
      { component: 'U2', candidates: [{ part: 'ostrel/OS7', probability: 1 }] },
    ],
  }),
  ...catalogueChanges({ publications: structuredClone(PUBLICATIONS) as never }),
];

test('a correction names every publication and sentence whose number or fit it moves, and no other', async () => {
  const { archive, journal } = await archiveFrom(MADE);
  const amendment = amendmentSchema.parse({
    identify: {
      specimen: `${DEVICE.id}/a`,
      component: 'U1',
      candidates: [{ part: 'quistle/QWR4T10', probability: 0.7 }],
      basis: ['o2'],
    },
  });
  const { correction, entry } = await archive.correct(amendment, BY, 'desk');
  expect(entry).toMatchObject({ kind: 'correction-made', sequence: MADE.length + 2 });
  expect((await journal.head()).sequence).toBe(MADE.length + 2);
  expect(correction).toMatchObject({
    id: expect.stringMatching(/^correction-\d{4}-\d\d-\d\d-[0-9a-f]{8}$/u),
    amendment,
    by: BY.actor,
    reason: BY.reason,
  });
  const named = correction.publications.flatMap(({ claims }) => claims.map((one) => one.claim));
  expect(named).toEqual(['on-it/holds', 'on-it/never-fitted', 'published/falls']);
  const [onIt, published] = correction.publications;
  expect(published.claims[0]).toMatchObject({ before: 0.97, after: 0.7 });
  expect(published.claims[0].findings.join(' ')).toContain('"very likely"');
  const [head, falls, why] = published.notice?.split('\n\n') ?? [];
  expect(head).toContain(
    'Correction to “Loops counted” (2021-04). U1 of the Tarn Sennit 1 is now identified as',
  );
  expect(falls).toContain('“It is very likely an accelerometer.”');
  expect(falls).not.toContain('still fits');
  expect(falls).toContain('a probability of 0.70, where it gave a probability of 0.97 before');
  expect(falls).toContain('say "likely"');
  expect(why).toBe(`Reason: ${BY.reason}`);
  const [, holds, never] = onIt.notice?.split('\n\n') ?? [];
  expect(holds).toContain('The wording still fits.');
  expect(never).not.toContain('still fits');
});

test('a sentence that did not fit before, and is moved, is not reported to fit', async () => {
  const { archive } = await archiveFrom(MADE);
  // 0.97 to 0.96 moves the number; what is wrong with the sentence is its author's own 0.3.
  const value = {
    component: 'U1',
    candidates: [{ part: 'quistle/QWR4T10', probability: 0.96 }],
    basis: ['o1'],
  };
  const { correction } = await archive.correct(
    amendmentSchema.parse({ identify: { specimen: `${DEVICE.id}/a`, ...value } }),
    BY,
    'desk',
  );
  const [, holds, never] =
    correction.publications.find(({ publication }) => publication === 'on-it')?.notice?.split('\n\n') ?? [];
  expect(holds).toContain('The wording still fits.');
  expect(never).toContain('It did not fit the evidence before and does not now.');
});

test.each([
  ['in the making', {}],
  ['a draft', { published: '2021-04', visibility: 'draft' }],
  ['under embargo', { published: '2021-04', visibility: 'embargoed', embargoUntil: '2999-01-01T00:00:00Z' }],
  ['dated ahead', { published: '2999-04' }],
])('a publication %s needs no notice, but its sentences are named', async (_, state) => {
  const { published: __, ...making } = PUBLICATIONS[0];
  const { archive } = await archiveFrom([
    ...MADE.slice(0, -PUBLICATIONS.length),
    ...catalogueChanges({ publications: [{ ...making, ...state }] as never }),
  ]);
  const candidates = [{ part: 'quistle/QWR4T10', probability: 0.5 }];
  const { correction } = await archive.correct(
    amendmentSchema.parse({
      identify: { specimen: `${DEVICE.id}/a`, component: 'U1', candidates, basis: ['o2'] },
    }),
    BY,
    'desk',
  );
  expect(correction.publications).toMatchObject([
    { publication: 'published', notice: null, claims: [{ claim: 'published/falls', after: 0.5 }] },
  ]);
});

test('a refused correction writes nothing and keeps out none that comes after', async () => {
  const { archive, journal } = await archiveFrom(MADE);
  const wrong = amendmentSchema.parse({ value: { of: DEVICE.id, field: 'released', is: 'soon' } });
  await expect(archive.correct(wrong, BY, 'desk')).rejects.toMatchObject({ code: 'BAD_INPUT' });
  await expect(
    archive.correct(amendmentSchema.parse({ withdraw: { observation: 'no/such/one' } }), BY, 'desk'),
  ).rejects.toMatchObject({ code: 'NOT_FOUND' });
  expect((await journal.head()).sequence).toBe(MADE.length);
  const fine = amendmentSchema.parse({ withdraw: { observation: `${DEVICE.id}/a/o1` } });
  expect((await archive.correct(fine, BY, 'desk')).correction.amendment).toEqual(fine);
});
