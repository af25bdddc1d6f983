import type { AlignmentWeights } from '../../../compare/align/weights.ts';
import type { AlignmentRow, DeviceAlignment } from '../../../compare/alignment.ts';
import type { Compared } from '../../../compare/representative.ts';
import { CasebackError } from '../../../model/problems.ts';
import { chartOfComparison } from '../../../questions/charts.ts';
import { alignedComponents, alignmentWeights, comparisonSections } from '../../../questions/comparison.ts';
import { countsOf, deviceToCompare } from '../../../questions/devices.ts';
import type { State } from '../../../state/state.ts';
import { chartSource, sizeOf } from '../charts/charts.ts';
import { componentSource } from '../component-sources.ts';
import { type Seen, viewOf } from '../context.ts';
import type * as Api from '../resolver-types.ts';
import { deviceSource, maybe, partSource } from '../sources.ts';
import { specimenSource } from '../specimens/sources.ts';
import { enumName, enumWord, subsystemKind } from '../words.ts';

/** Columns of a comparison. */
const MAX_COLUMNS = 50;

/** Sections of a comparison, in its order. */
const SECTIONS = [
  'device',
  'sensors',
  'processors',
  'radio',
  'memory',
  'power',
  'battery',
  'boards',
  'makers',
  'parts',
  'reuse',
  'decisions',
] as const;

/** A comparison as its resolvers see it. */
export type ComparisonSource = Seen<{ readonly compared: readonly Compared[] }>;

/** Weights in the form that alignments take: what is left out or null keeps its default. */
export function weightsIn(input: Api.AlignmentWeightsInput | null | undefined): Partial<AlignmentWeights> {
  return Object.fromEntries(
    Object.entries(input ?? {}).flatMap(([name, value]) =>
      typeof value === 'number' ? [[name, value]] : [],
    ),
  );
}

/** Keys of sections as comparisons take them. */
export function sectionKeys(keys: readonly Api.ComparisonSectionKey[]): readonly string[] {
  return keys.map((key) => enumWord(SECTIONS, key));
}

/** Devices side by side. */
export function comparisonSource(view: State, compared: readonly Compared[]) {
  const { sensors, processors, subsystems } = countsOf(compared);
  return {
    view,
    compared,
    columns: compared.map((one) => comparedSource(view, one)),
    sensors,
    processors,
    subsystems: subsystems.map((row) => ({ ...row, kind: subsystemKind(row.kind) })),
  };
}

/** A device of a comparison with the specimen that stands for it. */
export function comparedSource(view: State, { device, specimen, otherSpecimens }: Compared) {
  return { device: deviceSource(view, device), specimen: specimenSource(view, specimen), otherSpecimens };
}

/** An alignment as the schema has it. */
export async function alignmentSource(view: State, { columns, rows, steps, weights }: DeviceAlignment) {
  return {
    rows: rows.map((row) => rowSource(view, columns, row)),
    steps: steps.map((step) => ({
      ...step,
      tallies: step.tallies.map((tally) => ({ ...tally, change: enumName(tally.change) })),
    })),
    weights: Object.entries(await alignmentWeights()).map(([name, { is: meaning }]) => ({
      name,
      value: weights[name as keyof AlignmentWeights],
      meaning,
    })),
  };
}

function rowSource(view: State, columns: readonly Compared[], { role, cells, changes }: AlignmentRow) {
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
    changes: changes.map((one) => {
      if (!one) return null;
      const { change, elsewhere, why, ...odds } = one;
      return { ...odds, change: enumName(change), isElsewhere: elsewhere, reason: why };
    }),
  };
}

/** Devices side by side: counts, figures with units, components aligned. */
export const comparison: Api.Resolvers = {
  Query: {
    compareDevices: (root, { ids }, context) => {
      if (ids.length === 0 || ids.length > MAX_COLUMNS)
        throw new CasebackError('BAD_INPUT', `ids has ${ids.length} items; give 1 to ${MAX_COLUMNS}`);
      const view = viewOf(root, context);
      return comparisonSource(
        view,
        ids.map((id) => deviceToCompare(view, id)),
      );
    },
  },
  Comparison: {
    sections: async ({ view, compared }, { keys }, context) => {
      const wanted = keys ? sectionKeys(keys) : undefined;
      const options = { sections: wanted, signal: context.signal() };
      const sections = await comparisonSections(view, compared, options);
      return sections.map((section) => ({
        ...section,
        key: enumName(section.key as (typeof SECTIONS)[number]),
        rows: section.rows.map(({ is: meaning, ...row }) => ({
          ...row,
          meaning,
          cells: row.cells.map((cell) => ({ ...cell, missing: enumName(cell.missing ?? undefined) })),
        })),
      }));
    },
    chart: ({ view, compared }, { sections, size }, context) =>
      chartOfComparison(
        view,
        compared,
        { sections: sectionKeys(sections), signal: context.signal() },
        chartSource(view),
        sizeOf(size),
      ),
    alignment: async ({ view, compared }, { weights }, context) => {
      const options = { weights: weightsIn(weights), signal: context.signal() };
      return alignmentSource(view, await alignedComponents(view, compared, options));
    },
  },
};
