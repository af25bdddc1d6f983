import { Archive } from '../../../src/archive.ts';
import type { ReadDocument } from '../../../src/dossier/document/document.ts';
import { MemoryJournal } from '../../../src/journal/memory/journal.ts';
import { drawEditor } from './bench.ts';
import { generateWorld, type Habits, type World, type WorldOptions } from './world.ts';

// Four worlds of unlike habits, against which odds and candidate sets are measured. What one has in plenty the others have a
// little of, as in life. All shares are guesses of the trade (no source), chosen before the evidence model was looked at.

const PARTS = {
  makers: 14,
  families: 8,
  siblings: [1, 3],
  uncatalogued: () => 0.07,
  listed: 0.5,
  coded: 0.6,
  codes: { from: 'ABCDEFGHJKLMNPRSTUVWXYZ0123456789', length: 3 },
  twins: 0.1,
} as const;
const PRINTS = {
  foreign: 0.02,
  lotOnly: 0.03,
  erased: 0.03,
  settledWrong: 0.002,
  lookedAtAgain: 0.03,
} as const;

export const HABITS = {
  /** One editor confuses the same characters again and again, with a bad microscope, and abbreviates; another corrects some of it. */
  misreading: {
    name: 'misreading',
    parts: PARTS,
    ...PRINTS,
    settledWrong: 0.01,
    lookedAtAgain: 0.12,
    editors: (random) => [
      drawEditor('Editor A', 'poor', random),
      drawEditor('Editor B', 'poor', random),
      drawEditor('Editor C', 'poor', random),
      drawEditor('Editor D', 'good', random),
    ],
  },
  /** Families of numbers that differ in a digit or a suffix, of which no catalogue has all. */
  siblings: {
    name: 'siblings',
    parts: { ...PARTS, families: 5, siblings: [3, 7], uncatalogued: () => 0.25, coded: 0.25 },
    ...PRINTS,
    editors: (random) =>
      ['E', 'F', 'G', 'H', 'I'].map((name) => drawEditor(`Editor ${name}`, 'good', random)),
  },
  /** Second sources in the same package and size with near numbers, and short codes that several makers use. */
  twins: {
    name: 'twins',
    parts: {
      ...PARTS,
      families: 12,
      siblings: [1, 2],
      coded: 0.9,
      codes: { from: 'ABCEHL', length: 2 },
      twins: 0.6,
    },
    ...PRINTS,
    editors: (random) => ['J', 'K', 'L'].map((name) => drawEditor(`Editor ${name}`, 'good', random)),
  },
  /** Makers whose parts are listed well, half or badly (5 to 30 % missing), customers' own prints, lot codes alone, erased tops. */
  uncatalogued: {
    name: 'uncatalogued',
    parts: { ...PARTS, siblings: [2, 4], uncatalogued: (maker) => [0.05, 0.15, 0.3][maker % 3] },
    ...PRINTS,
    foreign: 0.12,
    lotOnly: 0.1,
    erased: 0.1,
    editors: (random) => [
      ...['M', 'N', 'O'].map((name) => drawEditor(`Editor ${name}`, 'good', random)),
      drawEditor('Editor P', 'poor', random),
    ],
  },
} as const satisfies Readonly<Record<string, Habits>>;

export type HabitName = keyof typeof HABITS;
export const HABIT_NAMES = Object.keys(HABITS) as readonly HabitName[];

export interface HabitArchive extends World {
  readonly archive: Archive;
}

/** A world of these habits, imported into an archive in memory; about 14 chips a device. The same options give the same one. */
export async function habitArchive(name: HabitName, options: WorldOptions): Promise<HabitArchive> {
  const world = generateWorld(HABITS[name], options);
  const archive = await Archive.open(new MemoryJournal());
  const place = { file: 'generated', locate: () => ({ line: 1, column: 1 }) };
  const documents: ReadDocument[] = [
    { ...place, kind: 'catalogue', catalogue: world.catalogue },
    ...world.dossiers.map((dossier) => ({ ...place, kind: 'dossier' as const, dossier })),
  ];
  await archive.importDocuments(documents, { actor: 'generator', reason: name });
  return { ...world, archive };
}

/** An unlike world: the same trade seen by others, who open other makers' devices of another decade. */
export function otherYears(options: WorldOptions): WorldOptions {
  return { ...options, years: [2008, 2012], deviceMakers: [8, 12] };
}
