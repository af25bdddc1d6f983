import { ABSENT_CELL, type RowCell } from './cell.ts';
import { type Column, noneSeen, statedOf } from './column.ts';
import { kindRows } from './kind-rows.ts';
import { summed } from './part-figures.ts';
import { designatorsOf } from './processors.ts';

/** Memory chips by kind, and flash memory and RAM in KiB, that of processors included. */
export function memoryRows(column: Column): readonly RowCell[] {
  return [
    ...kindRows(column, 'memory', 'Memory'),
    sizeRow(column, 'flash', 'flashSize', 'Lasting memory', 'FlashMemory'),
    sizeRow(column, 'ram', 'ramSize', 'RAM', 'RandomAccessMemory'),
  ];
}

function sizeRow(column: Column, key: string, parameter: string, label: string, kind: string): RowCell {
  const holders = [...new Set([...designatorsOf(column, kind), ...designatorsOf(column, 'Processor')])];
  const values = holders.map((id) => statedOf(column, id, parameter, 'KiBy'));
  const missing = [kind, 'Processor'].map((one) => noneSeen(column, one));
  const unseen = missing.find((cell) => cell.missing === 'not-observed');
  return {
    key: `memory.${key}`,
    label,
    unit: 'KiBy',
    is: `${label} of memory chips and processors together, after their catalogue entries.`,
    cell: holders.length === 0 ? (unseen ?? ABSENT_CELL) : summed(values, 'a size'),
  };
}
