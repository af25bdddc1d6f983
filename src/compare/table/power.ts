import { pinOf } from '../../model/ids.ts';
import { valueIn } from '../../model/quantity.ts';
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
  const recorded = recordedSupplies(column);
  for (const voltage of recorded) if (!rails.has(voltage)) rails.set(voltage, []);
  const ordered = [...rails].sort(([a], [b]) => a - b);
  const each = ordered.map(([voltage, all]) => (recorded.has(voltage) ? 1 : noisyOr(all)));
  return [
    ...kindRows(column, 'power', 'Regulator'),
    ...OTHERS.map((kind) => kindRow(column, 'power', kind)),
    {
      key: 'power.rails',
      label: 'Supply voltages',
      unit: '1',
      is: 'Unlike voltages that regulators and power managers make, after their catalogue entries, and those of rails on record that neither a cell nor an outside connector gives.',
      cell:
        each.length > 0
          ? count(
              each.filter((p) => p >= CERTAIN).length,
              each.reduce((sum, p) => sum + p, 0),
              each.filter((p) => p >= POSSIBLE).length,
            )
          : makers.size === 0
            ? noneSeen(column, 'Regulator')
            : withNote(NOT_OBSERVED_CELL, 'no catalogue entry and no rail on record states a voltage'),
    },
    ...ordered.map(([voltage, probabilities]) => ({
      key: `power.rail.${voltage}`,
      label: `Supplies of ${voltage} V`,
      unit: '1',
      is: 'Regulators and power managers that make this voltage; at least one where a rail of it is on record.',
      cell: count(
        Math.max(recorded.has(voltage) ? 1 : 0, probabilities.filter((p) => p >= CERTAIN).length),
        Math.max(
          recorded.has(voltage) ? 1 : 0,
          probabilities.reduce((sum, p) => sum + p, 0),
        ),
        Math.max(recorded.has(voltage) ? 1 : 0, probabilities.filter((p) => p >= POSSIBLE).length),
      ),
    })),
  ];
}

/** What gives a voltage to a device and does not make it there. */
const GIVERS = ['Battery', 'CableConnector', 'ChargingContact', 'WirelessPowerReceiver'] as const;

/** Voltages of the rails on record that are made in the device, V. */
function recordedSupplies({ specimen }: Column): ReadonlySet<number> {
  const isGiver = (id: string) => GIVERS.some((kind) => (specimen.labels.get(id)?.get(kind) ?? 0) >= 0.5);
  return new Set(
    specimen.nets.flatMap(({ kind, voltage, pins }) => {
      const volts = kind === 'power' && voltage ? valueIn(voltage, 'V') : undefined;
      return volts === undefined || pins.some((pin) => isGiver(pinOf(pin).component)) ? [] : [volts];
    }),
  );
}
