import type { Device } from '../model/dossier.ts';
import { CasebackError } from '../model/problems.ts';
import { type Quantity as Amount, valueIn } from '../model/quantity.ts';
import { isUnder, PARAMETERS } from '../model/taxonomy.ts';
import { knownCategory } from '../presence/asked.ts';
import { presenceOf, presenceRow, thingOf } from '../presence/presence.ts';
import type { SpecimenRow } from '../state/facts.ts';
import { CERTAIN } from '../state/labels.ts';
import { COLUMN, COLUMNS, categoryOf } from '../state/lists/component-columns.ts';
import type { State } from '../state/state.ts';
import { ABSENT, known, NOT_OBSERVED, type Reading } from '../statistics/missing.ts';
import { median } from '../statistics/quantile.ts';
import { didYouMean } from '../text/near.ts';
import type { DeviceQuantity } from './asked.ts';
import { commonestCurrency, priceIn } from './currency.ts';

/** A quantity of the device, or a parameter of its parts of a category, such as `capacity` of `Battery`. */
export type Quantity =
  | { readonly device: DeviceQuantity }
  | { readonly parameter: string; readonly of: string };

/** Recorded value of a device, and whether every identification that supports it has probability 0.95 or more. */
export interface DeviceReading {
  readonly reading: Reading;
  readonly sure: boolean;
}

export interface Readings {
  readonly unit: string;
  of(device: Device): DeviceReading;
}

/**
 * Readings of a quantity, all in one unit: mass in g, dimensions in mm, price in one currency, part parameters in the
 * unit of the taxonomy. A part's parameter is read where the likeliest part, at least as likely as not, has it; of
 * several such components of a device the median counts.
 * @throws CasebackError BAD_INPUT for a parameter or category that the taxonomy does not hold
 */
export async function quantityReadings(
  state: State,
  quantity: Quantity,
  { devices, currency, signal }: { devices: readonly Device[]; currency?: string; signal?: AbortSignal },
): Promise<Readings> {
  if ('parameter' in quantity) return parameterReadings(state, quantity, signal);
  if (quantity.device === 'price') {
    const inOne = currency ?? commonestCurrency(devices);
    return { unit: inOne ?? '1', of: (device) => sure(priceIn(device, inOne)) };
  }
  const unit = quantity.device === 'mass' ? 'g' : 'mm';
  return {
    unit,
    of: (device) => {
      const amount = deviceAmount(device, quantity.device as Exclude<DeviceQuantity, 'price'>);
      return sure(amount && valueIn(amount, unit));
    },
  };
}

function deviceAmount(device: Device, name: Exclude<DeviceQuantity, 'price'>): Amount | undefined {
  return name === 'mass' ? device.mass : device.dimensions?.[name];
}

function sure(value: number | undefined): DeviceReading {
  return { reading: value === undefined ? NOT_OBSERVED : known(value), sure: true };
}

async function parameterReadings(
  state: State,
  { parameter, of: category }: { readonly parameter: string; readonly of: string },
  signal: AbortSignal | undefined,
): Promise<Readings> {
  const unit = unitOf(parameter);
  knownCategory(category);
  const found = (await presenceOf(state, signal)).of(category);
  const thing = thingOf(state, category);
  const values = partValues(state, parameter, unit);
  return {
    unit,
    of: ({ id }) => {
      const verdict = found.get(id)?.verdict ?? 'NOT_OBSERVED';
      if (verdict === 'NOT_OBSERVED') return { reading: NOT_OBSERVED, sure: true };
      if (verdict === 'ABSENT') return { reading: ABSENT, sure: true };
      const rows = state.specimensOf(id);
      const chance = (row: SpecimenRow) => presenceRow(state, row).probabilityOf(thing.number);
      const [best] =
        rows.length === 1 ? rows : rows.toSorted((a, b) => chance(b) - chance(a) || (a.id < b.id ? -1 : 1));
      return readSpecimen(state, best, category, values);
    },
  };
}

/** @throws CasebackError BAD_INPUT for an unknown parameter, or one without a number */
function unitOf(parameter: string): string {
  const definition = PARAMETERS.get(parameter);
  if (definition?.unit) return definition.unit;
  if (definition?.count) return '1';
  const why = definition ? 'has no number to follow' : 'is not a valid part parameter';
  const fix = definition ? undefined : didYouMean(parameter, PARAMETERS.keys());
  throw new CasebackError('BAD_INPUT', `"${parameter}" ${why}${fix ? `; ${fix}` : ''}`);
}

/** Value of a parameter by the part's number in the archive's names, each converted once. */
function partValues(state: State, parameter: string, unit: string): (part: number) => number | undefined {
  const values = new Map<number, number | undefined>();
  const read = (number: number) => {
    const value = state.part(state.shared.names.textOf(number))?.parameters[parameter];
    if (value === undefined) return undefined;
    return typeof value === 'number' ? value : valueIn(value as Amount, unit);
  };
  return (number) => {
    if (!values.has(number)) values.set(number, read(number));
    return values.get(number);
  };
}

function readSpecimen(
  state: State,
  { columns }: SpecimenRow,
  category: string,
  ofPart: (part: number) => number | undefined,
): DeviceReading {
  const found: number[] = [];
  let least = 1;
  for (let at = 0; at < columns.length; at += COLUMNS) {
    const part = columns[at + COLUMN.part];
    const probability = columns[at + COLUMN.partProbability] / 1_000_000;
    if (part === 0 || probability < 0.5) continue;
    const value = ofPart(part);
    if (value === undefined || !isOf(state, columns, at, category)) continue;
    found.push(value);
    least = Math.min(least, probability);
  }
  if (found.length === 0) return { reading: NOT_OBSERVED, sure: true };
  return { reading: known(median(found)), sure: least >= CERTAIN };
}

/** Whether a component is of a category by its likeliest part or by its appearance. */
function isOf(state: State, columns: Uint32Array, at: number, category: string): boolean {
  const looks = categoryOf(columns[at + COLUMN.category]);
  if (looks !== undefined && isUnder(looks, category)) return true;
  const part = state.part(state.shared.names.textOf(columns[at + COLUMN.part]));
  return part?.categories.some((term) => isUnder(term, category)) ?? false;
}
