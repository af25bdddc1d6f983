import { z } from 'zod';
import { CERTAIN } from '../model/certainty.ts';
import { isChipFunction } from '../model/chip-function.ts';
import { mostSpecific } from '../model/taxonomy.ts';
import { readYamlFile } from '../text/yaml-file.ts';
import type { Board, TermWeights } from './board.ts';
import { CLASSES, CLUES, nameOfClue, placeOfClue, rowOf } from './class-table.ts';
import { Neighbourhood } from './neighbour-clues.ts';

// What the chips of a board teach: how often a class of chip has each clue.

/** Chips of each class, and how often each clue was seen on them; fractions where a neighbour is not certain. */
export interface Taught {
  /** By place of the class in the table. */
  readonly chips: readonly number[];
  /** By class and clue. */
  readonly seen: readonly (readonly number[])[];
}

export const NOTHING_TAUGHT: Taught = {
  chips: CLASSES.map(() => 0),
  seen: CLASSES.map(() => CLUES.map(() => 0)),
};

/**
 * Lessons of one board, packed: threes of class, clue and thousandths; clue {@link CHIPS} stands for the chips themselves. In a fixed order.
 */
export type Lessons = Int32Array;
export const NO_LESSONS: Lessons = new Int32Array(0);
const CHIPS = CLUES.length;
const THOUSAND = 1000;

/** What the chips of a board teach whose class is certain and of which something is traced. */
export function lessonsOf(board: Board): Lessons {
  if (board.nets.length === 0 && board.joined.length === 0) return NO_LESSONS;
  const around = new Neighbourhood(board, board.named);
  const sums = new Map<number, number>();
  const add = (row: number, clue: number, by: number) => {
    const key = row * (CHIPS + 1) + clue;
    sums.set(key, (sums.get(key) ?? 0) + Math.round(by * THOUSAND));
  };
  for (const [id, weights] of board.named) {
    const rows = around.isJoined(id) ? rowsOf(weights) : NO_ROWS;
    if (rows.size === 0) continue;
    const { has } = around.of(id);
    for (const row of rows) {
      add(row, CHIPS, 1);
      has.forEach((p, clue) => {
        if (p * THOUSAND >= 1) add(row, clue, p);
      });
    }
  }
  const keys = [...sums.keys()].sort((a, b) => a - b);
  return Int32Array.from(
    keys.flatMap((key) => [Math.floor(key / (CHIPS + 1)), key % (CHIPS + 1), sums.get(key) as number]),
  );
}

const countsSchema = z.record(z.string(), z.record(z.string(), z.record(z.string(), z.number().positive())));

const NO_ROWS: ReadonlySet<number> = new Set();

/** Places of the classes of a packaged chip, as far as they are certain; a bare photodiode is none. */
function rowsOf(weights: TermWeights): ReadonlySet<number> {
  // Most components are no chips.
  let mayBe = false;
  for (const [term, weight] of weights) mayBe ||= weight >= CERTAIN && rowOf(term) !== undefined;
  if (!mayBe) return NO_ROWS;
  const certain = mostSpecific([...weights.keys()].filter((term) => (weights.get(term) ?? 0) >= CERTAIN));
  const isModule = certain.includes('Module');
  const chips = certain.filter((term) => isChipFunction(term) || isModule || term === 'TransistorArray');
  return new Set(chips.flatMap((term) => rowOf(term)?.at ?? []));
}

/** Lessons in words, by class and clue, as in schema/class-counts.yaml; `chips` counts the chips. */
export function spelled(lessons: Lessons): Readonly<Record<string, Readonly<Record<string, number>>>> {
  const classes: Record<string, Record<string, number>> = {};
  for (let at = 0; at < lessons.length; at += 3) {
    const [row, clue, thousandths] = lessons.subarray(at, at + 3);
    const { term } = CLASSES[row];
    classes[term] ??= {};
    classes[term][clue === CHIPS ? 'chips' : nameOfClue(CLUES[clue])] = thousandths / THOUSAND;
  }
  return classes;
}

function read(classes: Readonly<Record<string, Readonly<Record<string, number>>>>): Lessons {
  return Int32Array.from(
    Object.entries(classes).flatMap(([term, counts]) => {
      const row = CLASSES.find((one) => one.term === term);
      if (!row)
        throw new Error(`schema/class-counts.yaml: "${term}" is not a class of class-neighbours.yaml`);
      return Object.entries(counts).flatMap(([clue, count]) => [
        row.at,
        clue === 'chips' ? CHIPS : placeOfClue(clue),
        Math.round(count * THOUSAND),
      ]);
    }),
  );
}

/** Lessons of the published boards that every archive begins with, by the name of the board. */
export const COUNTED_BOARDS: ReadonlyMap<string, Lessons> = new Map(
  Object.entries(
    countsSchema.parse(readYamlFile(new URL('../../schema/class-counts.yaml', import.meta.url))),
  ).map(([board, classes]) => [board, read(classes)]),
);

/** What several boards teach together. @param rounded makes a sum coarser, so that it seldom changes */
export function taughtBy(
  boards: Iterable<Lessons>,
  rounded: (count: number) => number = (count) => count,
): Taught {
  return taughtIn(summed(boards), rounded);
}

/** Sums of lessons, in thousandths. */
export type LessonSums = Taught;

/** @param before sums that these come to, which stay as they are */
export function summed(boards: Iterable<Lessons>, before: LessonSums = NOTHING_TAUGHT): LessonSums {
  const chips = [...before.chips];
  const seen = before.seen.map((sums) => [...sums]);
  for (const lessons of boards)
    for (let at = 0; at < lessons.length; at += 3) {
      const [row, clue, thousandths] = lessons.subarray(at, at + 3);
      if (clue === CHIPS) chips[row] += thousandths;
      else seen[row][clue] += thousandths;
    }
  return { chips, seen };
}

/** Whether what is taught differs once the lessons of another board are added. */
export function teachMore(
  lessons: Lessons,
  { chips, seen }: LessonSums,
  rounded: (count: number) => number,
): boolean {
  for (let at = 0; at < lessons.length; at += 3) {
    const [row, clue, thousandths] = lessons.subarray(at, at + 3);
    const before = clue === CHIPS ? chips[row] : seen[row][clue];
    if (rounded(before / THOUSAND) !== rounded((before + thousandths) / THOUSAND)) return true;
  }
  return false;
}

export function taughtIn({ chips, seen }: LessonSums, rounded: (count: number) => number): Taught {
  return {
    chips: chips.map((sum) => rounded(sum / THOUSAND)),
    seen: seen.map((sums) => sums.map((sum) => rounded(sum / THOUSAND))),
  };
}
