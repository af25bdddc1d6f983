import type { Part } from '../../model/catalogue.ts';
import type { Device } from '../../model/dossier.ts';
import { type Quantity, valueIn } from '../../model/quantity.ts';
import { type Presence, specimenPresence, thingOf } from '../../presence/presence.ts';
import { type PresenceRow, presenceIn } from '../../presence/row.ts';
import type { OpenedSpecimen } from '../../state/specimen.ts';
import type { State } from '../../state/state.ts';
import type { Compared } from '../representative.ts';
import { type Cell, NONE_CELL, NOT_OBSERVED_CELL, withNote } from './cell.ts';

/** One device of a comparison with what its rows ask of it again and again. */
export interface Column {
  readonly state: State;
  readonly device: Device;
  readonly specimen: OpenedSpecimen;
  readonly presence: PresenceRow;
}

export function columnOf(state: State, { device, specimen }: Compared): Column {
  return { state, device, specimen, presence: presenceIn(specimen) };
}

/** What a column's specimen has of a term of the taxonomy, a part or a maker. */
export function presenceFor({ state, presence }: Column, name: string): Presence {
  return specimenPresence(presence, thingOf(state, name));
}

/** The cell of something counted of which a specimen shows none: looked at and not there, or not observed. */
export function noneSeen(column: Column, name = 'Component'): Cell {
  const { lists, inventoried, unnamed } = column.presence;
  if (!lists) return withNote(NOT_OBSERVED_CELL, 'the dossier lists no components');
  const { verdict } = presenceFor(column, name);
  if (verdict === 'ABSENT' || (name === 'Component' && inventoried && unnamed === 0)) return NONE_CELL;
  return withNote(
    NOT_OBSERVED_CELL,
    !inventoried
      ? 'none found, but not every board is recorded as fully inventoried'
      : unnamed > 0
        ? `none found, but ${unnamed} component${unnamed === 1 ? ' is' : 's are'} not identified`
        : 'none found, but not every component that may be one is identified',
  );
}

/** A catalogue figure of what one component may be. */
export interface Stated {
  readonly value: number;
  readonly probability: number;
}

/** The values that the parts a component may be state for a parameter, in a unit; what they leave to 1 is not stated. */
export function statedOf(
  { state, specimen }: Column,
  component: string,
  parameter: string,
  unit: string,
): readonly Stated[] {
  const byValue = new Map<number, number>();
  for (const { part, probability } of specimen.identified.get(component)?.candidates ?? []) {
    const record = part === undefined ? undefined : state.part(part);
    const value = record && parameterIn(record, parameter, unit);
    if (value !== undefined) byValue.set(value, Math.min(1, (byValue.get(value) ?? 0) + probability));
  }
  return [...byValue].map(([value, probability]) => ({ value, probability }));
}

const converted = new WeakMap<Part, Map<string, number>>();

/** A figure of a part in a unit, or undefined when the catalogue does not give it. */
export function parameterIn(part: Part, parameter: string, unit: string): number | undefined {
  const stated = part.parameters[parameter] as Quantity | number | undefined;
  if (stated === undefined) return undefined;
  if (typeof stated === 'number') return stated;
  let known = converted.get(part);
  if (!known) {
    known = new Map();
    converted.set(part, known);
  }
  const key = `${parameter} ${unit}`;
  let value = known.get(key);
  if (value === undefined) {
    value = valueIn(stated, unit);
    known.set(key, value);
  }
  return value;
}
