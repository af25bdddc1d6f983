import type { Observation } from '../../model/dossier.ts';
import { convert, formatQuantity, sameDimension } from '../../model/quantity.ts';
import { fallenIn } from '../../model/standing.ts';
import { ABSENT_CELL, type Cell, figure, type RowCell } from './cell.ts';
import { type Column, noneSeen, parameterIn, type Stated, statedOf } from './column.ts';
import { kindRow } from './kind-rows.ts';
import { summed } from './part-figures.ts';
import { designatorsOf } from './processors.ts';

/** Cells, their charge and their energy: measured or printed where the bench says so, else after the catalogue. */
export function batteryRows(column: Column): readonly RowCell[] {
  return [
    { ...kindRow(column, 'battery', 'Battery'), label: 'Battery cells' },
    {
      key: 'battery.capacity',
      label: 'Battery capacity',
      unit: 'mA.h',
      is: 'Charge that all cells hold together.',
      cell: held(column, 'mA.h', (id) => statedOf(column, id, 'capacity', 'mA.h'), 'a capacity'),
    },
    {
      key: 'battery.energy',
      label: 'Battery energy',
      unit: 'W.h',
      is: 'Energy that all cells hold together; where only the capacity is known, at the nominal voltage.',
      cell: held(column, 'W.h', (id) => energyOf(column, id), 'an energy'),
    },
  ];
}

function held(column: Column, unit: string, stated: (id: string) => readonly Stated[], what: string): Cell {
  const cells = designatorsOf(column, 'Battery');
  const none = noneSeen(column, 'Battery');
  if (cells.length === 0) return none.missing === 'absent' ? ABSENT_CELL : none;
  const seen = cells.map((id) => observed(column, id, unit));
  if (seen.every((one) => one !== undefined)) {
    const sum = seen.reduce((total, { value }) => total + value, 0);
    return figure(sum, `observed: ${seen.map(formatQuantity).join(', ')}`);
  }
  return summed(
    cells.map((id, at) => {
      const value = seen[at]?.value;
      return value === undefined ? stated(id) : [{ value, probability: 1 }];
    }),
    what,
    cells.map((id) => column.specimen.labels.get(id)?.get('Battery') ?? 0),
  );
}

/** The last observation of a component that gives a quantity of a unit's dimension, without withdrawn or corrected ones. */
function observed({ specimen }: Column, id: string, unit: string) {
  const fallen = fallenIn(specimen.dossier.observations);
  const value = (specimen.observations.get(id) ?? []).findLast(
    (one: Observation) =>
      !fallen.has(one.id) && one.value !== undefined && sameDimension(one.value.unit, unit),
  )?.value;
  return value && convert(value, unit);
}

/** Energy in W.h of what a cell may be; from capacity and nominal voltage where the catalogue states no energy. */
function energyOf({ state, specimen }: Column, id: string): readonly Stated[] {
  return (specimen.identified.get(id)?.candidates ?? []).flatMap(({ part, probability }) => {
    const record = part === undefined ? undefined : state.part(part);
    if (!record) return [];
    const capacity = parameterIn(record, 'capacity', 'A.h');
    const voltage = parameterIn(record, 'outputVoltage', 'V') ?? parameterIn(record, 'ratedVoltage', 'V');
    const calculated = capacity === undefined || voltage === undefined ? undefined : capacity * voltage;
    const value = parameterIn(record, 'energy', 'W.h') ?? calculated;
    return value === undefined ? [] : [{ value, probability }];
  });
}
