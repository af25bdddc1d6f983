import fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import type { Archive } from '../../src/archive.ts';
import { decisionsOf, ownDecisionsOf } from '../../src/decisions/decisions.ts';
import { auditClaims } from '../../src/evidence/audit.ts';
import type { Difference } from '../../src/evidence/difference.ts';
import { type Amendment, amendmentSchema } from '../../src/model/correction.ts';
import type { Change } from '../../src/model/entry.ts';
import { CasebackError } from '../../src/model/problems.ts';
import { catalogueChanges } from '../state/archive-of.ts';
import { demoArchive } from '../trends/demo.ts';
import { chip, dossiersOf, many } from '../trends/made.ts';
import { anyAmendment } from './amendments.ts';
import { archiveFrom, archiveWith, BY, changesOf, demoFiles, publicationsFile } from './archive.ts';

const SPECIMENS = [
  'thovane-calcar-2/a',
  'tarn-sennit-3/a',
  'tarn-sennit-3/b',
  'tarn-sennit-1/a',
  'nolvey-collet/a',
];
const PATTERNS = [
  'duplicated-sensors',
  'like-sensors-far-apart',
  'amplifier-at-the-sensor',
  'part-shared-by-makers',
  'boards-linked-by-flex',
];
const OTHER_PARTS = ['quistle/QWR4T10', 'dremond/DHQS32', 'nearbrook/NKB32F'];
const DEVICES = [...new Set(SPECIMENS.map((id) => id.split('/')[0]))];

/** Sentences of every kind: on observations, components, parts, decisions, other sentences and all four figures. */
const PUBLICATION = {
  id: 'all-sorts',
  kind: 'article',
  title: 'All sorts',
  claims: [
    {
      id: 'seen',
      sentence: 'It is amplified at once.',
      supportedBy: ['tarn-sennit-3/a/o2', 'tarn-sennit-3/a/U10'],
    },
    {
      id: 'twice',
      sentence: 'It is there twice.',
      supportedBy: ['thovane-calcar-2/a/U2', 'thovane-calcar-2/a/U3'],
    },
    { id: 'meant', sentence: 'That is meant.', supportedBy: ['thovane-calcar-2:duplicated-sensors'] },
    { id: 'so', sentence: 'So it likely tells turns.', supportedBy: ['all-sorts/meant', 'all-sorts/twice'] },
    { id: 'across', sentence: 'A part is shared.', supportedBy: ['tarn-sennit-3:part-shared-by-makers'] },
    { id: 'label', sentence: 'It is relabelled.', supportedBy: ['tarn-sennit-3/b/U7', 'dremond/DHQS32'] },
    {
      id: 'counted',
      sentence: 'Two of them double a sensor, and one shares a part.',
      supportedBy: ['tarn-sennit-1'],
      figures: [
        { count: { pattern: 'duplicated-sensors' }, where: { bodySite: 'wrist', from: '2016' }, atLeast: 2 },
        { count: { decision: 'part-shared-by-makers' }, atLeast: 1 },
      ],
    },
    {
      id: 'share',
      sentence: 'Probably half of those by Tarn sense motion.',
      supportedBy: ['tarn-sennit-1'],
      figures: [{ share: { category: 'Accelerometer' }, where: { maker: 'tarn' }, atLeast: 0.5 }],
    },
    {
      id: 'beside',
      sentence: 'It has more of them, and they become rarer.',
      supportedBy: ['tarn-sennit-1'],
      figures: [
        { compare: 'Accelerometer', devices: ['thovane-calcar-2', 'tarn-sennit-3'], says: 'more' },
        { trend: { category: 'Accelerometer' }, says: 'falling' },
      ],
    },
  ],
} as const;

const SPOKEN_OF = [
  ...PUBLICATION.claims.flatMap(({ supportedBy }) => supportedBy as readonly string[]),
  'thovane-calcar-2/a/o1',
  'thovane-calcar-2/a/o4',
  'tarn-sennit-3/a/U2',
];

const identified = (component: string, part: string, probability: number) => ({
  identify: { specimen: 'thovane-calcar-2/a', component, candidates: [{ part, probability }] },
});
/** Changes that the archive takes and that move an answer, each list by itself. */
const MOVING: readonly Amendment[][] = [
  [{ withdraw: { observation: 'tarn-sennit-3/a/o2' } }],
  [identified('U2', 'quistle/QWR4T10', 0.6), identified('U3', 'quistle/QWR4T10', 0.5)],
  [{ value: { of: 'thovane-calcar-2', field: 'released', is: '2014' } }],
  [{ value: { of: 'tarn-sennit-1', field: 'bodySite', is: 'finger' } }],
].map((changes) => changes.map((one) => amendmentSchema.parse(one)));

let made: readonly Change[];
let amendments: fc.Arbitrary<Amendment>;
beforeAll(async () => {
  const files = [
    ...demoFiles(SPECIMENS, PATTERNS, OTHER_PARTS),
    publicationsFile([structuredClone(PUBLICATION) as never]),
  ];
  const { archive, journal } = await archiveWith(files);
  made = await changesOf(journal);
  amendments = anyAmendment(archive.state('desk'), SPECIMENS, OTHER_PARTS, SPOKEN_OF);
});

async function outcome(work: () => Promise<Difference>): Promise<Difference | string> {
  try {
    return await work();
  } catch (error) {
    if (!(error instanceof CasebackError)) throw error;
    expect(['BAD_INPUT', 'CONFLICT', 'NOT_FOUND']).toContain(error.code);
    return error.message;
  }
}

/** What the archive says of everything, as text. */
async function saysOf(archive: Archive): Promise<string> {
  const view = archive.state('desk');
  const decisions = [];
  for (const id of DEVICES) decisions.push(await decisionsOf(view, id));
  return JSON.stringify([decisions, await auditClaims(view), view.parts(), [...view.devices()]]);
}

describe('a what-if and the real change', () => {
  /** Tries and makes the changes one after another, compares, and returns what the last one made different. */
  async function triedAndMade(changes: readonly Amendment[]): Promise<Difference | string> {
    const { archive, journal } = await archiveFrom(made);
    let last: Difference | string = 'no change';
    for (const change of changes) {
      const { sequence } = await journal.head();
      const tried = await outcome(() => archive.whatIf(archive.state('desk'), change, undefined, BY));
      expect((await journal.head()).sequence).toBe(sequence);
      last = await outcome(async () => (await archive.correct(change, BY, 'desk')).difference);
      expect(last).toEqual(tried);
      if (typeof last === 'string') expect((await journal.head()).sequence).toBe(sequence);
      else expect((await journal.head()).sequence).toBeGreaterThan(sequence + 1);
    }
    await archive.close();
    return last;
  }

  // So that the property below cannot be true of refusals alone.
  test.each(MOVING.map((changes) => [changes]))('is accepted and changes an answer: %j', async (changes) => {
    const last = await triedAndMade(changes);
    if (typeof last === 'string') expect.fail(last);
    const { devices, ...answers } = last;
    expect(devices).toHaveLength(1);
    expect(Object.values(answers).flat().length).toBeGreaterThan(0);
  });

  test('has the same result, one after another, and the same refusals', async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(amendments, { minLength: 1, maxLength: 2 }), async (changes) => {
        await triedAndMade(changes);
      }),
      { numRuns: 30 },
    );
  });

  test('is only a what-if: every later answer is as before', async () => {
    const { archive } = await archiveFrom(made);
    const before = await saysOf(archive);
    await fc.assert(
      fc.asyncProperty(amendments, async (change) => {
        await outcome(() => archive.whatIf(archive.state('desk'), change));
        expect(await saysOf(archive)).toBe(before);
      }),
      { numRuns: 15 },
    );
    expect(archive.version).toBe(made.length);
    await archive.close();
  });
});

test('what is known of a device is not looked for again after a change was only tried out', async () => {
  const archive = await demoArchive();
  const state = archive.state('desk');
  const of = async () => (await ownDecisionsOf(state, 'tarn-sennit-3')).map(({ matches }) => matches);
  const before = await of();
  expect(before.length).toBeGreaterThan(3);
  const { dossier } = state.specimen('tarn-sennit-3/a') as NonNullable<ReturnType<typeof state.specimen>>;
  const observation = `tarn-sennit-3/a/${dossier.observations[0].id}`;
  await archive.whatIf(state, amendmentSchema.parse({ withdraw: { observation } }));
  // The very same lists, not equal ones that were made anew.
  (await of()).forEach((matches, at) => {
    expect(matches).toBe(before[at]);
  });
  await archive.close();
});

test('a trend that depends on a single device turns when that device is something else', async () => {
  // Five devices a year, of which 0, 0, 1, 2 and 2 hear: rising at q = 0.03; with one fewer in the fourth year 0.05.
  const hearing = [0, 0, 1, 2, 2].flatMap((hear, at) => {
    const released = String(2015 + at);
    return [
      ...many(hear, { released, chips: [chip('Microphone')] }, `hears-${at}`),
      ...many(5 - hear, { released }, `deaf-${at}`),
    ];
  });
  const { archive, journal } = await archiveFrom([
    ...catalogueChanges({ makers: [{ id: 'tarn', name: 'Tarn', makes: ['devices'] }] }),
    ...dossiersOf(hearing),
    ...catalogueChanges({
      publications: [
        {
          id: 'trend',
          kind: 'figure',
          title: 'More of them hear',
          claims: [
            {
              id: 'c1',
              sentence: 'More and more devices hear.',
              supportedBy: ['d-hears-3-0'],
              figures: [{ trend: { category: 'Microphone' }, says: 'rising' }],
            },
          ],
        },
      ],
    }),
  ]);
  const candidates = [{ category: 'Speaker', probability: 1 }];
  const change = amendmentSchema.parse({
    identify: { specimen: 'd-hears-3-0/a', component: 'U1', candidates },
  });
  const tried = await archive.whatIf(archive.state('desk'), change, undefined, BY);
  expect(tried.claims).toMatchObject([
    { id: 'trend/c1', before: null, after: null, newFindings: [{ kind: 'overstated', about: 'figure 1' }] },
  ]);
  expect(tried.trendPoints).toContainEqual({
    subject: 'category Microphone',
    year: 2018,
    deviceId: 'd-hears-3-0',
    before: 1,
    after: 0,
  });
  const { sequence } = await journal.head();
  expect((await archive.correct(change, BY, 'desk')).difference).toEqual(tried);
  expect((await journal.head()).sequence).toBe(sequence + 2);
});

test('a part that is no longer a label is none for a maker who sells it under a third', async () => {
  const part = (number: string, relabels?: string) => ({
    number,
    maker: 'quistle',
    categories: ['Memory'],
    ...(relabels && { relabels }),
  });
  const { archive } = await archiveFrom([
    ...catalogueChanges({
      makers: [
        { id: 'tarn', name: 'Tarn', makes: ['devices'] },
        { id: 'quistle', name: 'Quistle', makes: ['parts'] },
      ],
      parts: [part('P1'), part('P2', 'quistle/P1'), part('P3', 'quistle/P2')],
    }),
    ...dossiersOf([{ id: 'd', released: '2020', chips: [[{ part: 'quistle/P3', probability: 1 }]] }]),
    ...catalogueChanges({
      publications: [
        {
          id: 'label',
          kind: 'article',
          title: 'One part, three names',
          claims: [{ id: 'c1', sentence: 'It is the first.', supportedBy: ['d/a/U1', 'quistle/P1'] }],
        },
      ],
    }),
  ]);
  const change = amendmentSchema.parse({ value: { of: 'quistle/P2', field: 'relabels', is: null } });
  const tried = await archive.whatIf(archive.state('desk'), change, undefined, BY);
  expect(tried.devices).toEqual(['d']);
  expect(tried.claims).toMatchObject([{ id: 'label/c1', before: 1, after: 0 }]);
  expect((await archive.correct(change, BY, 'desk')).difference).toEqual(tried);
});
