import { type AlignmentWeights, WEIGHT_TABLE } from '../../compare/align/weights.ts';
import type { AlignmentRow, DeviceAlignment } from '../../compare/alignment.ts';
import { type Comparison, compareColumns } from '../../compare/compare-devices.ts';
import type { Compared } from '../../compare/representative.ts';
import type { View } from '../../state/view.ts';
import { enumName } from '../base/enums.ts';
import { maybe, partSource } from '../sources/catalogue.ts';
import { componentSource } from '../sources/component.ts';

/** Weights as a question gives them: what is left out or null keeps its default. */
export type WeightsInput = { readonly [name in keyof AlignmentWeights]?: number | null } | null;

export function weightsOf(input: WeightsInput | undefined): Partial<AlignmentWeights> {
  return Object.fromEntries(
    Object.entries(input ?? {}).flatMap(([name, value]) =>
      typeof value === 'number' ? [[name, value]] : [],
    ),
  );
}

export interface Compares {
  readonly view: View;
}
export type ComparisonSource = Comparison & Compares;

export function comparisonSource(view: View, columns: readonly Compared[]) {
  const comparison = compareColumns(columns);
  return { ...comparison, view, columns: columnSources(view, columns) };
}

export const columnSources = (view: View, columns: readonly Compared[]) =>
  columns.map((column) => ({ ...column, view }));

/** An alignment as the schema shows it. */
export function alignmentSource(view: View, { columns, rows, steps, weights }: DeviceAlignment) {
  return {
    rows: rows.map((row) => rowSource(view, columns, row)),
    steps: steps.map((step) => ({
      ...step,
      tallies: step.tallies.map((tally) => ({ ...tally, change: enumName(tally.change) })),
    })),
    weights: Object.entries(WEIGHT_TABLE).map(([name, { is }]) => ({
      name,
      value: weights[name as keyof AlignmentWeights],
      is,
    })),
  };
}

function rowSource(view: View, columns: readonly Compared[], { role, cells, changes }: AlignmentRow) {
  return {
    role,
    cells: cells.map((cell, at) => {
      const { specimen } = columns[at];
      const component = cell && specimen.components.get(cell.component);
      if (!component) return null;
      return {
        component: componentSource(view, specimen, component),
        part: cell.part ? maybe(view, view.part(cell.part.id), partSource) : null,
        probability: cell.part?.probability ?? null,
      };
    }),
    changes: changes.map((change) => (change ? { ...change, change: enumName(change.change) } : null)),
  };
}
