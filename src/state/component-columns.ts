import type { Dossier } from '../model/dossier.ts';
import { TERMS } from '../model/taxonomy.ts';
import { type CategoriesOf, currentIdentifications, labelWeights, likeliestCategory } from './labels.ts';
import type { Names } from './names.ts';

/**
 * What lists and filters over all components of the archive need, in 32 bytes a component: eight 32-bit
 * columns side by side (`COLUMN`), rows in the order of the dossier. Text is stored as its number in `Names`,
 * probabilities in millionths, categories as index into TERMS plus one (0: not known).
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

const termNumbers = new Map(TERMS.map((term, index) => [term, index + 1]));

export function buildColumns(dossier: Dossier, names: Names, categoriesOf: CategoriesOf): ComponentColumns {
  const columns = new Uint32Array(dossier.components.length * COLUMNS);
  const identifications = currentIdentifications(dossier);
  dossier.components.forEach((component, row) => {
    const identification = identifications.get(component.id);
    const category = likeliestCategory(labelWeights(component, identification, categoriesOf));
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
    columns[at + COLUMN.side] = component.side ? SIDE_NUMBER[component.side] : 0;
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

export function sideNumber(side: 'top' | 'bottom'): number {
  return SIDE_NUMBER[side];
}
