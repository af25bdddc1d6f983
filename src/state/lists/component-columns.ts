import type { Dossier } from '../../model/dossier.ts';
import { TERMS } from '../../model/taxonomy.ts';
import {
  type CategoriesOf,
  currentIdentifications,
  isCounted,
  labelWeights,
  likeliestCategory,
} from '../labels.ts';
import type { Names } from '../names.ts';

/**
 * What lists and filters over all components of the archive need, in 32 bytes a component: eight 32-bit
 * columns side by side (`COLUMN`), rows in the order of the dossier. Text is stored as its number in `Names`,
 * probabilities in millionths, categories as index into TERMS plus one (0: not known). Everything with a place has a row; what
 * does not count as a component is marked beside its side: see {@link countsIn}.
 */
export type ComponentColumns = Uint32Array;

export const COLUMN = {
  designator: 0,
  category: 1,
  categoryProbability: 2,
  part: 3,
  partProbability: 4,
  board: 5,
  side: 6,
  package: 7,
} as const;
export const COLUMNS = 8;
const MILLION = 1_000_000;
const SIDE_NUMBER = { top: 1, bottom: 2 } as const;
/** Bits of the column of sides. */
const SIDE = 3;
const NOT_COUNTED = 4;

const termNumbers = new Map(TERMS.map((term, index) => [term, index + 1]));

export function buildColumns(dossier: Dossier, names: Names, categoriesOf: CategoriesOf): ComponentColumns {
  const columns = new Uint32Array(dossier.components.length * COLUMNS);
  const identifications = currentIdentifications(dossier);
  dossier.components.forEach((component, row) => {
    const identification = identifications.get(component.id);
    const weights = labelWeights(component, identification, categoriesOf);
    const category = likeliestCategory(weights);
    const best = identification?.candidates
      .filter(({ part }) => part !== undefined)
      .reduce(
        (a, b) => (a && a.probability >= b.probability ? a : b),
        undefined as { part?: string; probability: number } | undefined,
      );
    const at = row * COLUMNS;
    columns[at + COLUMN.designator] = names.numberOf(component.id);
    columns[at + COLUMN.category] = category ? (termNumbers.get(category.term) as number) : 0;
    columns[at + COLUMN.categoryProbability] = Math.round((category?.probability ?? 0) * MILLION);
    columns[at + COLUMN.part] = names.numberOf(best?.part);
    columns[at + COLUMN.partProbability] = Math.round((best?.probability ?? 0) * MILLION);
    columns[at + COLUMN.board] = names.numberOf(component.board);
    columns[at + COLUMN.side] =
      (component.side ? SIDE_NUMBER[component.side] : 0) | (isCounted(weights) ? 0 : NOT_COUNTED);
    columns[at + COLUMN.package] = names.numberOf(component.package);
  });
  return columns;
}

/** Number of a category in the columns. */
export function categoryNumber(term: string): number | undefined {
  return termNumbers.get(term);
}

/** The category of a number in the columns. */
export function categoryOf(number: number): string | undefined {
  return number === 0 ? undefined : TERMS[number - 1];
}

/** Whether a row is on a side of its board. @param at place of the row in the columns */
export function isOnSide(columns: ComponentColumns, at: number, side: 'top' | 'bottom'): boolean {
  return (columns[at + COLUMN.side] & SIDE) === SIDE_NUMBER[side];
}

/** Whether a row counts as a component: fitted, and no feature of the board itself. @param at place of the row in the columns */
export function countsIn(columns: ComponentColumns, at: number): boolean {
  return (columns[at + COLUMN.side] & NOT_COUNTED) === 0;
}

/** Number of rows that count as components. */
export function countedIn(columns: ComponentColumns): number {
  let counted = 0;
  for (let at = 0; at < columns.length; at += COLUMNS) if (countsIn(columns, at)) counted++;
  return counted;
}
