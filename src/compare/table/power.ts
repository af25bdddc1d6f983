import { CERTAIN, POSSIBLE } from '../../state/labels.ts';
import { noisyOr } from '../../statistics/noisy-or.ts';
import { count, NOT_OBSERVED_CELL, type RowCell, withNote } from './cell.ts';
import { type Column, noneSeen, statedOf } from './column.ts';
import { kindRow, kindRows } from './kind-rows.ts';
import { designatorsOf } from './processors.ts';

const OTHERS = [
  'PowerManagement',
  'Charger',
  'WirelessPowerReceiver',
  'FuelGauge',
  'BatteryProtector',
  'LoadSwitch',
  'VoltageSupervisor',
] as const;

/** Regulators by kind, the supply voltages they make, and what else handles power. */
export function powerRows(column: Column): readonly RowCell[] {
  const makers = new Set([
    ...designatorsOf(column, 'Regulator'),
    ...designatorsOf(column, 'PowerManagement'),
  ]);
  const rails = new Map<number, number[]>();
  for (const id of makers) {
    for (const { value, probability } of statedOf(column, id, 'outputVoltage', 'V'))
      rails.set(value, [...(rails.get(value) ?? []), probability]);
  }
  const ordered = [...rails].sort(([a], [b]) => a - b);
  const each = ordered.map(([, probabilities]) => probabilities);
  return [
    ...kindRows(column, 'power', 'Regulator'),
    ...OTHERS.map((kind) => kindRow(column, 'power', kind)),
    {
      key: 'power.rails',
      label: 'Supply voltages',
      unit: '1',
      is: 'Unlike voltages that regulators and power managers make, after their catalogue entries.',
      cell:
        makers.size === 0
          ? noneSeen(column, 'Regulator')
          : each.length === 0
            ? withNote(NOT_OBSERVED_CELL, 'no catalogue entry states a voltage')
            : count(
                each.filter((all) => noisyOr(all) >= CERTAIN).length,
                each.reduce((sum, all) => sum + noisyOr(all), 0),
                each.filter((all) => noisyOr(all) >= POSSIBLE).length,
              ),
    },
    ...ordered.map(([voltage, probabilities]) => ({
      key: `power.rail.${voltage}`,
      label: `Supplies of ${voltage} V`,
      unit: '1',
      is: 'Regulators and power managers that make this voltage.',
      cell: count(
        probabilities.filter((p) => p >= CERTAIN).length,
        probabilities.reduce((sum, p) => sum + p, 0),
        probabilities.filter((p) => p >= POSSIBLE).length,
      ),
    })),
  ];
}
