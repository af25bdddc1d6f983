import { dateRange } from '../../model/dates.ts';
import { compareDesignators } from '../../model/designator.ts';
import { isInside } from '../../model/ids.ts';
import type { SpecimenRow } from '../facts.ts';
import type { State } from '../state.ts';
import { COLUMN, COLUMNS, countsIn, isOnSide } from './component-columns.ts';
import { categoryNumbersUnder, compareText, type DeviceFilter, devicePredicate } from './device-list.ts';

export interface ComponentFilter {
  /** Only in devices that pass. */
  readonly device?: DeviceFilter | null;
  readonly devices?: readonly string[] | null;
  /** Its likeliest category is this term or below it. */
  readonly category?: string | null;
  /** Minimum probability of the category, 0 to 1. */
  readonly categoryProbabilityAtLeast?: number | null;
  /** Its likeliest part. */
  readonly part?: string | null;
  readonly partMaker?: string | null;
  readonly side?: 'top' | 'bottom' | null;
  readonly package?: string | null;
  /** Whether any part is proposed for it; what does not count as a component passes neither way. */
  readonly identified?: boolean | null;
  /** Whether it counts as a component: not where nothing is fitted, nor what the board itself has. */
  readonly counted?: boolean | null;
}

export type ComponentOrder = 'DEVICE' | 'RELEASED';

/** One component found: its specimen and its row in the dossier. */
export interface ComponentRef {
  readonly specimen: SpecimenRow;
  readonly row: number;
}

/**
 * Components that pass the filter, by device (id or release), specimen and designator. Works on the columns
 * alone; no dossier is unpacked.
 */
export function listComponents(state: State, filter: ComponentFilter, order: ComponentOrder): ComponentRef[] {
  const { names } = state.shared;
  const found: ComponentRef[] = [];
  const passes = componentPredicate(state, filter);
  for (const specimen of orderedSpecimens(state, filter, order)) {
    const { columns } = specimen;
    const kept = byDesignator.get(columns);
    const rows: number[] = [];
    const all = columns.length / COLUMNS;
    for (let at = 0; at < all; at++) {
      const row = kept ? kept[at] : at;
      if (passes(columns, row * COLUMNS)) rows.push(row);
    }
    if (!kept) {
      const designatorOf = (row: number) => names.textOf(columns[row * COLUMNS + COLUMN.designator]);
      rows.sort((a, b) => compareDesignators(designatorOf(a), designatorOf(b)));
      if (rows.length === all) byDesignator.set(columns, Uint32Array.from(rows));
    }
    for (const row of rows) found.push({ specimen, row });
  }
  return found;
}

/** Rows of a specimen by designator, once all of them were listed: sorting them is most of the work, and a change is of few specimens. */
const byDesignator = new WeakMap<SpecimenRow['columns'], Uint32Array>();

function orderedSpecimens(state: State, filter: ComponentFilter, order: ComponentOrder): SpecimenRow[] {
  const devices = filter.devices && new Set(filter.devices);
  const passes = filter.device ? devicePredicate(filter.device) : () => true;
  const keyed: { row: SpecimenRow; key: string }[] = [];
  for (const row of state.specimenRows()) {
    const device = state.device(row.deviceId);
    if (!device || (devices && !devices.has(device.id)) || !passes(device)) continue;
    keyed.push({ row, key: order === 'RELEASED' ? dateRange(device.released).first : '' });
  }
  keyed.sort((a, b) => compareText(a.key, b.key) || compareText(a.row.id, b.row.id));
  return keyed.map(({ row }) => row);
}

function componentPredicate(
  state: State,
  filter: ComponentFilter,
): (columns: Uint32Array, at: number) => boolean {
  const { names } = state.shared;
  const categories = filter.category ? categoryNumbersUnder(filter.category) : undefined;
  const least = Math.round((filter.categoryProbabilityAtLeast ?? 0) * 1_000_000);
  // A text never kept matches nothing: no row carries the number -1.
  const part = filter.part ? (names.find(filter.part) ?? -1) : undefined;
  const body = filter.package ? (names.find(filter.package) ?? -1) : undefined;
  const { partMaker, identified, side, counted } = filter;
  return (columns, at) =>
    (!categories || categories.has(columns[at + COLUMN.category])) &&
    columns[at + COLUMN.categoryProbability] >= least &&
    (part === undefined || columns[at + COLUMN.part] === part) &&
    (!partMaker || isInside(names.textOf(columns[at + COLUMN.part]), partMaker)) &&
    (!side || isOnSide(columns, at, side)) &&
    (counted === undefined || counted === null || countsIn(columns, at) === counted) &&
    (body === undefined || columns[at + COLUMN.package] === body) &&
    (identified === undefined ||
      identified === null ||
      (countsIn(columns, at) && (columns[at + COLUMN.part] !== 0) === identified));
}
