import type { DeviceAlignment } from '../compare/alignment.ts';
import type { Section } from '../compare/comparison-table.ts';
import type { Generation, Generations } from '../compare/generations.ts';
import type { LineStep } from '../compare/line/steps.ts';
import { headed } from './cell-figures.ts';
import { MOST_CELL_ROWS } from './cells.ts';
import type { Chart, ChartSource } from './chart.ts';
import { columnsOf, differsInRows, figuresChart, joined, othersOpened } from './comparison-chart.ts';
import type { ChartSize } from './house-style.ts';
import { counted } from './numbers.ts';

/** A step of a line and what became of the components in it. */
export interface AlignedLineStep extends LineStep {
  readonly alignment: DeviceAlignment;
}

/** What each step of a product line kept, replaced, moved, added and removed: a row a step, a column a kind of change. */
export function stepsChart(
  { productLine, generations, comparison }: Generations,
  steps: readonly AlignedLineStep[],
  source: ChartSource,
  size: ChartSize = 'page',
): Chart {
  const drawn = steps.slice(0, MOST_CELL_ROWS);
  const kinds = drawn[0]?.alignment.steps[0].tallies.map(({ change }) => change) ?? [];
  return figuresChart(
    {
      title: `${productLine.name}: what became of the components from device to device`,
      subtitle:
        steps.length === 0
          ? 'No two devices of it were opened of which one follows the other.'
          : 'Each row is a step: a device, and the one that it follows. Kinds of change have one scale.',
      n: `${counted(generations.length, 'device')}, ${counted(steps.length, 'step')}`,
      rowsAre: 'step',
      columnsAre: 'components',
      isWhole: true,
      rows: drawn.map(({ from, to }) => ({
        name: to.name,
        beside: [`after ${from.name}`],
      })),
      columns: kinds.map((kind, at) => ({
        heading: kind.replaceAll('-', ' '),
        unit: '1',
        scale: 'components',
        cells: drawn.map(({ alignment }) => {
          const { certain, expected } = alignment.steps[0].tallies[at];
          return { certain, expected, possible: null, missing: null };
        }),
      })),
      cautions: [
        ...othersOpened(comparison.columns),
        ...(steps.length > drawn.length
          ? [`Drawn are the first ${drawn.length} of ${steps.length} steps.`]
          : []),
      ],
    },
    source,
    size,
  );
}

/** Figures of a product line that changed: a row a device in the order of the line, a column a figure. */
export function lineChart(
  { productLine, generations, comparison }: Generations,
  sections: readonly Section[],
  source: ChartSource,
  size: ChartSize = 'page',
): Chart {
  const all = columnsOf(sections);
  const changed = all.filter(differsInRows);
  const equal = all.filter((column) => !differsInRows(column)).map(headed);
  const drawn = generations.slice(0, MOST_CELL_ROWS);
  return figuresChart(
    {
      title: `${productLine.name}, generation by generation: ${joined(sections.map(({ label }) => label.toLowerCase()))}`,
      subtitle: 'Figures that changed. What was not observed may be anything, none included.',
      n: counted(generations.length, 'device'),
      rows: drawn.map((one, at) => ({ name: one.device.name, beside: besideOf(one, drawn[at - 1]) })),
      columns: changed,
      notes: equal.length === 0 ? [] : [`The same in all: ${equal.join(', ')}.`],
      cautions: [
        ...othersOpened(comparison.columns),
        ...(generations.length > drawn.length
          ? [`Drawn are the first ${drawn.length} of ${generations.length} devices.`]
          : []),
      ],
    },
    source,
    size,
  );
}

/** The release, and what it follows where that is not the row above. */
function besideOf({ device, predecessors }: Generation, above: Generation | undefined): readonly string[] {
  const isPlain = predecessors.length === 0 || predecessors.every(({ id }) => id === above?.device.id);
  return isPlain
    ? [device.released]
    : [device.released, `after ${joined(predecessors.map(({ name }) => name))}`];
}
