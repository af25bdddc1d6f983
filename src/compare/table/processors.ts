import { CERTAIN, POSSIBLE } from '../../state/labels.ts';
import { ABSENT_CELL, count, type RowCell } from './cell.ts';
import { type Column, noneSeen, statedOf } from './column.ts';
import { kindRows } from './kind-rows.ts';
import { largest } from './part-figures.ts';

/** Processors by kind, their word widths in bits and the highest clock in MHz. */
export function processorRows(column: Column): readonly RowCell[] {
  const processors = designatorsOf(column, 'Processor');
  const widths = processors.map((id) => statedOf(column, id, 'wordWidth', 'bit'));
  const clocks = processors.map((id) => statedOf(column, id, 'clockMax', 'MHz'));
  const each = new Map<number, { certain: number; expected: number; possible: number }>();
  for (const { value, probability } of widths.flat()) {
    const sum = each.get(value) ?? { certain: 0, expected: 0, possible: 0 };
    each.set(value, {
      certain: sum.certain + (probability >= CERTAIN ? 1 : 0),
      expected: sum.expected + probability,
      possible: sum.possible + (probability >= POSSIBLE ? 1 : 0),
    });
  }
  const seen = noneSeen(column, 'Processor');
  const none = seen.missing === 'absent' ? ABSENT_CELL : seen;
  return [
    ...kindRows(column, 'processors', 'Processor'),
    ...[...each]
      .sort(([a], [b]) => a - b)
      .map(([width, { certain, expected, possible }]) => ({
        key: `processors.width.${width}`,
        label: `Processors of ${width} bit`,
        unit: '1',
        is: 'Processors whose catalogue entry states this word width.',
        cell: count(certain, expected, possible),
      })),
    {
      key: 'processors.widest',
      label: 'Widest word',
      unit: 'bit',
      is: 'Word width of the widest processor.',
      cell: processors.length === 0 ? none : largest(widths, 'a word width'),
    },
    {
      key: 'processors.clock',
      label: 'Highest clock',
      unit: 'MHz',
      is: 'Highest clock frequency that a processor allows, after its catalogue entry.',
      cell: processors.length === 0 ? none : largest(clocks, 'a clock'),
    },
  ];
}

/** Components that were possibly identified as of a kind; unnamed ones state no figures. */
export function designatorsOf({ specimen }: Column, kind: string): readonly string[] {
  return [...specimen.named].flatMap(([id, weights]) => ((weights.get(kind) ?? 0) >= POSSIBLE ? [id] : []));
}
