import type { ProductLine } from '../model/catalogue.ts';
import { dateRange } from '../model/dates.ts';
import type { Device } from '../model/dossier.ts';
import { CasebackError } from '../model/problems.ts';
import { compareText } from '../state/lists/device-list.ts';
import { notFound } from '../state/resolve.ts';
import type { State } from '../state/state.ts';
import { type Comparison, compareDevices } from './compare-devices.ts';

/** A product line from its first device to its last, with the counts of each. */
export interface Generations {
  readonly productLine: ProductLine;
  readonly generations: readonly Generation[];
  /** The counts side by side, columns in the order of `generations`. */
  readonly comparison: Comparison;
}

export interface Generation {
  readonly device: Device;
  /** Longest chain of predecessors inside the line: 1 for a first device. Branches share a number. */
  readonly number: number;
  readonly predecessors: readonly Device[];
  readonly successors: readonly Device[];
}

/**
 * The opened devices of a product line in order of generation, then release.
 * @throws CasebackError NOT_FOUND when no visible line has the id
 */
export function generations(state: State, productLineId: string): Generations {
  const productLine = state.productLine(productLineId);
  const devices = [...state.devices()].filter(
    (device) => device.productLine === productLineId && state.specimensOf(device.id).length > 0,
  );
  if (!productLine) throw notFound(state, productLineId, ['ProductLine']);
  if (devices.length === 0)
    throw new CasebackError('NOT_FOUND', `Nobody has opened a device of product line "${productLineId}" yet`);
  const inLine = new Map(devices.map((device) => [device.id, device]));
  const numbers = new Map<string, number>();
  const numberOf = (device: Device): number => {
    const known = numbers.get(device.id);
    if (known !== undefined) return known;
    // Import refuses succession cycles, so the recursion ends.
    const before = device.succeeds.flatMap((id) => inLine.get(id) ?? []).map(numberOf);
    const number = 1 + Math.max(0, ...before);
    numbers.set(device.id, number);
    return number;
  };
  const ordered = devices.sort(
    (a, b) =>
      numberOf(a) - numberOf(b) ||
      compareText(dateRange(a.released).first, dateRange(b.released).first) ||
      compareText(a.id, b.id),
  );
  return {
    productLine,
    generations: ordered.map((device) => ({
      device,
      number: numberOf(device),
      predecessors: device.succeeds.flatMap((id) => state.device(id) ?? []),
      successors: successorsOf(state, device),
    })),
    comparison: compareDevices(
      state,
      ordered.map(({ id }) => id),
    ),
  };
}

/** Visible devices that directly succeed a device, by release. */
export function successorsOf(state: State, device: Device): readonly Device[] {
  const found = state.linkedFrom(device.id, 'SUCCEEDS');
  return found
    .flatMap((id) => state.device(id) ?? [])
    .sort((a, b) => compareText(a.released, b.released) || compareText(a.id, b.id));
}
