import { Archive } from '../../src/archive.ts';
import type { ReadDocument } from '../../src/dossier/read.ts';
import type { Journal } from '../../src/journal/journal.ts';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import { catalogueSchema } from '../../src/model/catalogue.ts';
import type { Amendment } from '../../src/model/correction.ts';
import { dossierSchema } from '../../src/model/dossier.ts';
import { CATALOGUE, type CatalogueInput, type DossierInput, dossier } from './devices.ts';
import { SECRET } from './hidden.ts';
import { PHOTOS_AT_HAND, photoDigest, photosInMemory } from './photos.ts';

// One history of an archive, and the same history for those who may not see all of it: the archives that the
// differential tests hold against each other. Hidden steps stand between the others, so that whatever is numbered, sorted or
// learnt through them differs.

/**
 * Which part of the history an archive has:
 * - `whole`: everything; what is hidden is hidden by its visibility;
 * - `seen`: the hidden never was;
 * - `early`: nor was what an embargo hid until {@link EMBARGO_END}.
 */
export type World = 'whole' | 'seen' | 'early';

/** The present of all archives; no later than today, since nobody may ask for the archive of a time to come. */
export const NOW = '2026-06-01T12:00:00.000Z';
/** When the embargoes end that have ended by now. */
export const EMBARGO_END = '2026-03-15T00:00:00.000Z';
/** When published records were recalled. */
export const RECALL = '2026-03-01T10:00:00.000Z';

/** Instants to ask about: before, between and after what was hidden, recalled and released. */
export const INSTANTS = {
  'before the first entry': '2025-01-01T00:00:00.000Z',
  'while half is written': '2026-01-14T12:00:00.000Z',
  'before the recall': '2026-02-26T00:00:00.000Z',
  'after the recall, before the embargo ended': '2026-03-10T00:00:00.000Z',
  'after the embargo ended': '2026-04-01T00:00:00.000Z',
} as const;

/** Who may ever see what a step brought in: all, the desk alone, or all since an embargo ended. */
type Seen = 'all' | 'desk' | 'ended';

export interface Step {
  readonly seen: Seen;
  readonly run: (archive: Archive, world: World) => Promise<unknown>;
  /** The step happens at this instant; a minute after the one before when left out. */
  readonly at?: string;
}

type Part = NonNullable<CatalogueInput['parts']>[number];

const BY = { actor: 'bench', reason: 'test' } as const;
const DESK_BY = { actor: `actor-${SECRET}`, reason: `reason ${SECRET}` } as const;
const by = (seen: Seen) => (seen === 'desk' ? DESK_BY : BY);

const read = { file: 'record', locate: () => ({ line: 1, column: 1 }) };
const documentOf = (record: DossierInput | CatalogueInput): ReadDocument =>
  'device' in record
    ? { ...read, kind: 'dossier', dossier: dossierSchema.parse(record) }
    : {
        ...read,
        kind: 'catalogue',
        catalogue: catalogueSchema.parse({ caseback: 'catalogue/1', ...record }),
      };

const put = (seen: Seen, record: DossierInput | CatalogueInput, at?: string): Step => ({
  seen,
  at,
  run: (archive) => archive.importDocuments([documentOf(record)], by(seen), { photos: PHOTOS_AT_HAND }),
});

/** Something that all may see, with something in it that only the desk may. */
const putWith = (
  seenByDesk: DossierInput | CatalogueInput,
  seenByAll: DossierInput | CatalogueInput,
): Step => ({
  seen: 'all',
  run: (archive, world) =>
    archive.importDocuments([documentOf(world === 'whole' ? seenByDesk : seenByAll)], BY, {
      photos: PHOTOS_AT_HAND,
    }),
});

const recall = (ids: readonly string[], at: string): Step => ({
  seen: 'desk',
  at,
  run: async (archive) => {
    for (const id of ids) await archive.recallRecord(id, DESK_BY);
  },
});

const correct = (seen: Seen, amendment: Amendment, at?: string): Step => ({
  seen,
  at,
  run: (archive) => archive.correct(amendment, by(seen), 'desk'),
});

const HIDDEN_UNTIL_LATER = { visibility: 'embargoed', embargoUntil: '2999-01-01T00:00:00Z' } as const;
const ENDED = { visibility: 'embargoed', embargoUntil: EMBARGO_END } as const;

/** Devices that all may see: 24 in three product lines, by year. */
const visible = Array.from({ length: 24 }, (_, number) => {
  const line = number % 4 === 3 ? 'tarn-lobe' : number % 4 === 1 ? 'nolvey-ferrule' : 'tarn-sennit';
  const before = Array.from({ length: number }, (_one, other) => other).findLast(
    (other) => (other % 4 === 3 ? 'tarn-lobe' : other % 4 === 1 ? 'nolvey-ferrule' : 'tarn-sennit') === line,
  );
  return dossier({
    id: `dev-${number}`,
    number,
    released: `${2014 + Math.floor(number / 3)}-0${1 + (number % 3)}`,
    maker: line === 'nolvey-ferrule' ? 'nolvey' : 'tarn',
    productLine: line,
    succeeds: before === undefined ? [] : [`dev-${before}`],
  });
});
const some = (from: number, to: number) => visible.slice(from, to).map((one) => put('all', one));

const recalledDevice = dossier({
  id: 'dev-recalled',
  number: 4,
  released: '2020-02',
  productLine: 'tarn-sennit',
  succeeds: ['dev-2'],
  word: SECRET,
});
const recalledLetter = {
  id: 'recalled-letter',
  kind: 'article' as const,
  title: `Recalled ${SECRET}`,
  published: '2026-02',
  claims: [
    {
      id: 'c1',
      sentence: 'The dev-0 very likely senses motion.',
      supportedBy: ['dev-0/a/U2', 'Accelerometer'],
    },
    { id: 'c2', sentence: `It is a ${SECRET}.`, supportedBy: ['dev-recalled/a/U2'] },
  ],
};

const TWICE: Amendment = {
  identify: {
    specimen: 'dev-12/a',
    component: 'U2',
    candidates: [{ part: 'quistle/QWR4T10', probability: 0.7 }],
    state: 'proposed',
    basis: [],
  },
};

/** The history, first to last. */
const STEPS: readonly Step[] = [
  put('all', CATALOGUE, '2026-01-05T09:00:00.000Z'),
  // Hidden before anything else is there: whatever takes the first number takes it from this.
  put('desk', {
    makers: [{ id: 'veil', name: `Veil ${SECRET}`, makes: ['devices'], invented: true }],
    productLines: [{ id: 'veil-ring', name: `Veil Ring ${SECRET}`, maker: 'veil' }],
  }),
  put(
    'desk',
    dossier({
      id: 'veil-ring-1',
      number: 2,
      released: '2013-01',
      maker: 'veil',
      productLine: 'veil-ring',
      word: SECRET,
      more: { visibility: 'draft' },
    }),
  ),
  // Records of the catalogue: their markings, numbers and names are near those of others.
  put('desk', {
    makers: [{ id: 'quistlo', name: `Quistlo ${SECRET}`, makes: ['parts'], ...HIDDEN_UNTIL_LATER }],
    sources: [{ id: 'note-3', kind: 'press', title: `Note ${SECRET}`, visibility: 'draft' }],
    parts: [
      {
        number: 'QWR4T50',
        maker: 'quistle',
        categories: ['Accelerometer'],
        package: 'LGA-12',
        markings: ['4450', 'OS7'],
        visibility: 'draft',
      },
      { number: 'QM1', maker: 'quistlo', categories: ['PressureSensor'], ...HIDDEN_UNTIL_LATER },
    ],
    patterns: [
      {
        id: 'sensor-on-the-board',
        name: `Sensor ${SECRET}`,
        idea: 'It is there.',
        text: 'MATCH (x:Sensor)-[:ON]->(b:Board) RETURN x, b',
        reasons: ['None.'],
        visibility: 'draft',
      },
    ],
    feeds: [
      {
        id: 'gauges-counted',
        title: `Gauges ${SECRET}`,
        question: '{ archive { devices } }',
        visibility: 'draft',
      },
    ],
    listMappings: [
      {
        id: 'gauges-listed',
        title: `Lists ${SECRET}`,
        columns: [{ heading: `Kind ${SECRET}`, field: 'value' }],
        visibility: 'draft',
      },
    ],
  }),
  ...some(0, 4),
  put(
    'desk',
    dossier({
      id: 'aa-hidden',
      number: 7,
      released: '2025-05',
      productLine: 'tarn-sennit',
      succeeds: ['dev-2'],
      word: SECRET,
      more: HIDDEN_UNTIL_LATER,
    }),
  ),
  put('desk', recalledDevice),
  put('desk', { devices: [{ ...deviceOf('dev-draft'), visibility: 'draft' }] }),
  put('desk', { devices: [{ ...deviceOf('dev-coming'), ...HIDDEN_UNTIL_LATER }] }),
  put('all', { devices: [{ ...deviceOf('dev-known', 'plain'), visibility: 'published' }] }),
  ...some(4, 9),
  put('all', dossier({ id: 'dev-4', number: 6, released: '2015-02', specimen: 'b', isOnlyNamed: true })),
  put('desk', {
    publications: [
      {
        id: 'hidden-film',
        kind: 'video',
        title: `Film ${SECRET}`,
        visibility: 'draft',
        claims: [
          { id: 'c1', sentence: 'The dev-1 senses motion.', supportedBy: ['dev-1/a/U2', 'Accelerometer'] },
          { id: 'c2', sentence: `A ${SECRET} sentence.`, supportedBy: ['aa-hidden/a/U2', 'dev-0/a/o1'] },
        ],
      },
      {
        id: 'embargoed-letter',
        kind: 'newsletter',
        title: `Letter ${SECRET}`,
        ...HIDDEN_UNTIL_LATER,
        claims: [],
      },
    ],
  }),
  put('all', {
    publications: [
      {
        id: 'letter-one',
        kind: 'article',
        title: 'Motion at the wrist',
        published: '2024-02',
        note: 'Printed.',
        claims: [
          {
            id: 'c1',
            sentence: 'The dev-1 very likely senses motion.',
            supportedBy: ['dev-1/a/U2', 'Accelerometer', 'note-1'],
            probability: 0.9,
            by: 'I. Example',
            note: 'Said so.',
          },
          {
            id: 'c2',
            sentence: 'Every wrist device we opened measures air pressure.',
            supportedBy: ['dev-1/a/o1', 'dev-1:sensor-on-the-bus'],
            figures: [
              { share: { category: 'PressureSensor' }, atLeast: 0.9 },
              { count: { pattern: 'sensor-on-the-bus' }, atLeast: 24 },
              { trend: { category: 'PressureSensor' }, says: 'rising' },
              { compare: 'Sensor', devices: ['dev-0', 'dev-8'], says: 'fewer' },
            ],
          },
          {
            id: 'c3',
            sentence: 'It is so.',
            supportedBy: ['letter-one/c1', 'dev-1', 'dev-1/a', 'dev-1/a/main'],
          },
        ],
      },
      {
        id: 'letter-two',
        kind: 'article',
        title: 'Loops of 12 mm',
        claims: [
          {
            id: 'c1',
            sentence: 'The dev-2 perhaps weighs 22 g.',
            supportedBy: ['dev-2/a/U2', 'quistle/QWR4T10'],
          },
        ],
      },
    ],
  }),
  put('desk', { publications: [recalledLetter] }, '2026-01-12T09:00:00.000Z'),
  put('ended', {
    publications: [{ id: 'ended-letter', kind: 'article', title: 'Ended', ...ENDED, claims: [] }],
  }),
  putWith(
    letterThree({
      id: 'c2',
      sentence: `It has a ${SECRET}.`,
      supportedBy: ['dev-0/a/U2'],
      visibility: 'draft',
    }),
    letterThree(),
  ),
  ...some(9, 14),
  // A second specimen that only the desk may see, of a device that all may see.
  put(
    'desk',
    dossier({
      id: 'dev-3',
      number: 5,
      released: '2015-01',
      specimen: 'b',
      isOnlyNamed: true,
      word: SECRET,
      more: { visibility: 'draft' },
    }),
    '2026-01-14T09:00:00.000Z',
  ),
  put(
    'ended',
    dossier({
      id: 'dev-ended',
      number: 6,
      released: '2019-06',
      productLine: 'tarn-sennit',
      succeeds: ['dev-4'],
      more: ENDED,
    }),
  ),
  ...some(14, 20),
  // What the desk records of hidden things.
  {
    seen: 'desk',
    at: '2026-01-20T09:00:00.000Z',
    run: async (archive) => {
      await archive.recordObservation(
        'aa-hidden/a',
        { id: 'n1', about: ['U5'], kind: 'marking', marking: 'Z9Z9' },
        DESK_BY,
        'desk',
      );
      // The file is one that everybody may see elsewhere.
      await archive.addPhoto('aa-hidden/a', photo('p3', 'plain'), DESK_BY, 'desk', fileOf('plain'));
      await archive.changePhoto('aa-hidden/a/p1', { caption: SECRET }, DESK_BY, 'desk');
      await archive.setIdentification(
        'aa-hidden/a',
        {
          component: 'U5',
          candidates: [{ part: 'quistle/QWR2001', probability: 0.96 }],
          state: 'settled',
          basis: ['n1'],
        },
        DESK_BY,
        'desk',
      );
      await archive.withdrawObservation('aa-hidden/a', 'o4', DESK_BY, 'desk');
      await archive.judgeIdentification(
        'veil-ring-1/a',
        { component: 'U2', part: 'quistle/QWR4T10', decibans: 20, by: 'I. Example', reason: 'held' },
        DESK_BY,
        'desk',
      );
      await archive.judgeDecision('aa-hidden:sensor-on-the-bus', 'rejected', DESK_BY, 'desk');
    },
  },
  // What a component of a visible device is, as only the desk knows.
  {
    seen: 'desk',
    run: (archive) =>
      archive.setIdentification(
        'dev-6/a',
        {
          component: 'U2',
          candidates: [{ part: 'quistle/QWR4T50', probability: 0.99 }],
          state: 'settled',
          basis: [],
          visibility: 'draft',
        },
        DESK_BY,
        'desk',
      ),
  },
  correct('desk', {
    identify: {
      specimen: 'aa-hidden/a',
      component: 'U2',
      candidates: [{ part: 'quistle/QWR4T10', probability: 0.5 }],
      state: 'proposed',
      basis: [],
    },
  }),
  // What it records of things that all may see, some of which hidden publications are about as well.
  {
    seen: 'all',
    run: async (archive) => {
      await archive.recordObservation(
        'dev-1/a',
        { id: 'n1', about: ['U5'], kind: 'appearance', text: 'square' },
        BY,
        'desk',
      );
      // Of a file that hidden photos have as well.
      await archive.addPhoto('dev-1/a', photo('p3', SECRET), BY, 'desk', fileOf(SECRET));
      await archive.changePhoto('dev-1/a/p1', { caption: 'The board, askew.' }, BY, 'desk');
      await archive.judgeDecision('dev-5:sensor-on-the-bus', 'endorsed', BY, 'desk');
      await archive.judgeIdentification(
        'dev-5/a',
        { component: 'U2', part: 'quistle/QWR4T10', decibans: -20, by: 'I. Example', reason: 'too large' },
        BY,
        'desk',
      );
      await archive.judgeDecision('dev-1:sensor-on-the-bus', 'doubted', BY, 'desk');
      await archive.withdrawObservation('dev-1/a', 'o4', BY, 'desk');
    },
  },
  correct('all', {
    identify: {
      specimen: 'dev-1/a',
      component: 'U2',
      candidates: [{ part: 'quistle/QWR4T60', probability: 0.55 }],
      state: 'proposed',
      basis: [],
    },
  }),
  // Another account than before, against the evidence.
  {
    seen: 'all',
    run: (archive) =>
      archive.setIdentification(
        'dev-9/a',
        {
          component: 'U2',
          candidates: [{ part: 'ostrel/OS7R', probability: 0.9 }],
          state: 'favoured',
          basis: [],
        },
        BY,
        'desk',
      ),
  },
  ...some(20, 24),
  recall(['recalled-letter', 'dev-recalled'], RECALL),
  // Versions that are not published yet leave standing what all see.
  put('desk', { ...refiled(7), visibility: 'draft' }),
  put('desk', { ...refiled(8), ...HIDDEN_UNTIL_LATER }),
  put('desk', {
    publications: [
      { id: 'letter-two', kind: 'article', title: `Of ${SECRET}`, visibility: 'draft', claims: [] },
    ],
  }),
  // So of every other kind of record: name, figures and text of a version that waits show nowhere, not in another order either.
  put('desk', {
    makers: [{ ...named(CATALOGUE.makers, 'nolvey'), name: `Nolvey ${SECRET}`, visibility: 'draft' }],
    productLines: [
      { ...named(CATALOGUE.productLines, 'tarn-sennit'), name: `Sennit ${SECRET}`, ...HIDDEN_UNTIL_LATER },
    ],
    devices: [{ ...described('dev-11'), name: `dev-11 ${SECRET}`, mass: '77 g', visibility: 'draft' }],
    parts: [
      {
        ...(CATALOGUE.parts?.[0] as Part),
        name: `part ${SECRET}`,
        categories: ['Gyroscope'],
        visibility: 'draft',
      },
    ],
    sources: [{ ...named(CATALOGUE.sources, 'note-1'), title: `Note ${SECRET}`, ...HIDDEN_UNTIL_LATER }],
    patterns: [
      {
        ...named(CATALOGUE.patterns, 'part-shared-by-makers'),
        idea: `It is ${SECRET}.`,
        visibility: 'draft',
      },
    ],
  }),
  // What all may see is recorded meanwhile: it neither names such a version nor says that there is one.
  correct('all', {
    identify: {
      specimen: 'dev-11/a',
      component: 'U2',
      candidates: [{ part: 'quistle/QWR4T80', probability: 0.6 }],
      state: 'proposed',
      basis: [],
    },
  }),
  {
    seen: 'all',
    run: (archive) => archive.judgeDecision('dev-7:sensor-on-the-bus', 'rejected', BY, 'desk'),
  },
  // The same correction twice on one day, once for the desk alone: the id of the second does not say so.
  {
    seen: 'desk',
    run: (archive) => archive.correct(TWICE, BY, 'desk', HIDDEN_UNTIL_LATER.embargoUntil),
  },
  correct('all', TWICE),
  correct('desk', { value: { of: 'veil-ring-1', field: 'mass', is: '12 g' } }),
  correct('all', { value: { of: 'dev-2', field: 'mass', is: '23 g' } }, '2026-04-10T09:00:00.000Z'),
];

/** What the desk writes later, all of it hidden. */
export const HIDDEN_LATER: readonly Step[] = [
  put(
    'desk',
    dossier({
      id: 'aa-later',
      number: 9,
      released: '2024-05',
      productLine: 'tarn-sennit',
      succeeds: ['dev-20'],
      word: SECRET,
      more: { visibility: 'draft' },
    }),
  ),
  correct('desk', { value: { of: 'aa-later', field: 'mass', is: '9 g' } }),
  put('desk', {
    publications: [
      {
        id: 'later-film',
        kind: 'video',
        title: `Later ${SECRET}`,
        visibility: 'draft',
        claims: [
          { id: 'c1', sentence: 'The dev-4 senses motion.', supportedBy: ['dev-4/a/U2', 'Accelerometer'] },
        ],
      },
    ],
  }),
  put(
    'desk',
    dossier({
      id: 'dev-5',
      number: 5,
      released: '2015-03',
      specimen: 'b',
      isOnlyNamed: true,
      more: { visibility: 'draft' },
    }),
  ),
  {
    seen: 'desk',
    run: (archive) =>
      archive.setIdentification(
        'aa-later/a',
        {
          component: 'U5',
          candidates: [{ part: 'quistle/QWR2001', probability: 0.96 }],
          state: 'settled',
          basis: [],
        },
        DESK_BY,
        'desk',
      ),
  },
];

/** Makes a step at the present. */
export function runStep({ run }: Step, archive: Archive): Promise<unknown> {
  return run(archive, 'whole');
}

/** The record of an id. */
function named<T extends { readonly id: string }>(records: readonly T[] | undefined, id: string): T {
  return records?.find((one) => one.id === id) as T;
}

/** What a visible dossier says of its device. */
function described(id: string): NonNullable<CatalogueInput['devices']>[number] {
  const found = visible.find(({ device }) => typeof device === 'object' && device.id === id);
  return found?.device as NonNullable<CatalogueInput['devices']>[number];
}

/** A publication that all may see, perhaps with a sentence more. */
function letterThree(
  ...more: NonNullable<NonNullable<CatalogueInput['publications']>[number]['claims']>
): CatalogueInput {
  return {
    publications: [
      {
        id: 'letter-three',
        kind: 'article',
        title: 'Of sentences',
        claims: [{ id: 'c1', sentence: 'The dev-0 senses motion.', supportedBy: ['dev-0/a/U2'] }, ...more],
      },
    ],
  };
}

/** A visible dossier in another version. */
function refiled(number: number): DossierInput {
  const filed = visible[number] as DossierInput;
  const identifications = filed.identifications?.map((one) =>
    one.component === 'U2' ? { ...one, candidates: [{ part: 'quistle/QWR2001', probability: 0.99 }] } : one,
  );
  return { ...filed, device: `dev-${number}`, note: `A ${SECRET} note.`, identifications };
}

/** A photo of the file that dossiers with a word have. */
const photo = (id: string, word: string) => ({
  id,
  sha256: photoDigest(word),
  credit: 'I. Example',
  licence: 'CC-BY-4.0',
  regions: [],
});
const fileOf = (word: string) => PHOTOS_AT_HAND.get(photoDigest(word));

/** A device known before anybody opened it. */
function deviceOf(id: string, word: string = SECRET) {
  return {
    id,
    name: `${id} ${word}`,
    maker: 'tarn',
    productLine: 'tarn-lobe',
    released: '2027-01',
    bodySite: 'badge' as const,
    succeeds: ['dev-3'],
    mass: '77 g',
    invented: true as const,
  };
}

const HAS: Readonly<Record<World, readonly Seen[]>> = {
  whole: ['all', 'desk', 'ended'],
  seen: ['all', 'ended'],
  early: ['all'],
};

/** A clock that stands still until somebody sets it. */
export class Clock {
  now = new Date('2026-01-01T00:00:00Z');
  readonly read = () => this.now;
}

/** Writes the history into a journal, each step at its instant, as the desk does. */
export async function write(world: World, journal: Journal, clock: Clock): Promise<Archive> {
  const archive = await Archive.open(journal, clock.read, undefined, photosInMemory());
  let at = clock.now;
  for (const step of STEPS) {
    at = step.at ? new Date(step.at) : new Date(at.getTime() + 60_000);
    clock.now = at;
    if (HAS[world].includes(step.seen)) await step.run(archive, world);
  }
  clock.now = new Date(NOW);
  return archive;
}

/** An archive of the present in memory. */
export function archiveOf(world: World): Promise<Archive> {
  const clock = new Clock();
  return write(world, new MemoryJournal({ clock: clock.read }), clock);
}
