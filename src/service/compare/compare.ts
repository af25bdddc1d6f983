import { alignColumns } from '../../compare/alignment.ts';
import { tableOf } from '../../compare/comparison-table.ts';
import { type Compared, comparedOf } from '../../compare/representative.ts';
import type { Cell } from '../../compare/table/cell.ts';
import { CasebackError } from '../../model/problems.ts';
import { type Context, type Domain, type Root, viewOf } from '../base/domain.ts';
import { enumName } from '../base/enums.ts';
import { deviceSource } from '../sources/catalogue.ts';
import { specimenSource } from '../sources/specimen.ts';
import { comparisonSchema, MOST_COLUMNS } from './comparison-schema.ts';
import {
  alignmentSource,
  type Compares,
  type ComparisonSource,
  comparisonSource,
  type WeightsInput,
  weightsOf,
} from './sources.ts';

export const compare: Domain = {
  schema: comparisonSchema,
  resolvers: {
    Query: {
      compareDevices: (root: Root, { ids }: { ids: readonly string[] }, context: Context) => {
        if (ids.length === 0 || ids.length > MOST_COLUMNS) {
          throw new CasebackError('BAD_INPUT', `ids has ${ids.length} items; give 1 to ${MOST_COLUMNS}`);
        }
        const view = viewOf(root, context);
        return comparisonSource(
          view,
          ids.map((id) => comparedOf(view, id)),
        );
      },
    },
    Comparison: {
      sections: async (
        { view, columns }: ComparisonSource,
        { keys }: { keys?: readonly string[] | null },
        context: Context,
      ) => (await tableOf(view, columns, { sections: keys ?? undefined, signal: context.signal() })).sections,
      alignment: async (
        { view, columns }: ComparisonSource,
        { weights }: { weights?: WeightsInput },
        context: Context,
      ) => {
        const options = { weights: weightsOf(weights), signal: context.signal() };
        return alignmentSource(view, await alignColumns(view, columns, options));
      },
    },
    ComparisonCell: { missing: ({ missing }: Cell) => enumName(missing ?? undefined) },
    ComparedDevice: {
      device: ({ view, device }: Compared & Compares) => deviceSource(view, device),
      specimen: ({ view, specimen }: Compared & Compares) => specimenSource(view, specimen),
    },
  },
  weights: { 'Query.compareDevices': 500, 'Comparison.sections': 2_000, 'Comparison.alignment': 5_000 },
};
