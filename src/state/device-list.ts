import { dateRange } from '../model/dates.ts';
import type { Device } from '../model/dossier.ts';
import { isUnder, TERMS } from '../model/taxonomy.ts';
import { categoryNumber } from './component-columns.ts';
import type { View } from './view.ts';

export interface DeviceFilter {
  readonly makers?: readonly string[] | null;
  readonly productLines?: readonly string[] | null;
  readonly bodySites?: readonly string[] | null;
  /** Released on or after this date, at any precision of ISO 8601. */
  readonly releasedFrom?: string | null;
  /** Released on or before this date; `2019` includes the whole year. */
  readonly releasedTo?: string | null;
  /** One of these, by id: those that have something, as `presence/` tells. */
  readonly among?: ReadonlySet<string> | null;
}

export type DeviceOrder = 'RELEASED' | 'NAME' | 'MAKER' | 'ID';

/** Devices that pass the filter, each with its place in the order, ties broken by id. */
export function listDevices(view: View, filter: DeviceFilter, order: DeviceOrder): Device[] {
  const found: Device[] = [];
  const passes = devicePredicate(filter);
  for (const device of view.devices()) if (passes(device)) found.push(device);
  return found.sort(
    (a, b) => compareText(deviceKey(a, order), deviceKey(b, order)) || compareText(a.id, b.id),
  );
}

/** The value by which an order sorts a device. */
export function deviceKey(device: Device, order: DeviceOrder): string {
  switch (order) {
    case 'RELEASED':
      return dateRange(device.released).first;
    case 'NAME':
      return device.name.toLowerCase();
    case 'MAKER':
      return device.maker;
    case 'ID':
      return device.id;
    default:
      return order satisfies never;
  }
}

/** A test for one device, with the sets of the filter made once. */
export function devicePredicate(filter: DeviceFilter): (device: Device) => boolean {
  const makers = filter.makers && new Set(filter.makers);
  const productLines = filter.productLines && new Set(filter.productLines);
  const sites = filter.bodySites && new Set(filter.bodySites);
  const from = filter.releasedFrom && dateRange(filter.releasedFrom).first;
  const to = filter.releasedTo && dateRange(filter.releasedTo).last;
  const { among } = filter;
  return (device) =>
    (!makers || makers.has(device.maker)) &&
    (!productLines || (device.productLine !== undefined && productLines.has(device.productLine))) &&
    (!sites || sites.has(device.bodySite)) &&
    (!from || dateRange(device.released).last >= from) &&
    (!to || dateRange(device.released).first <= to) &&
    (!among || among.has(device.id));
}

/** Numbers, as in the component columns, of a term and all terms under it. */
export function categoryNumbersUnder(term: string): ReadonlySet<number> {
  return new Set(TERMS.filter((one) => isUnder(one, term)).map((one) => categoryNumber(one) as number));
}

/** Order of two texts by code unit: the same on every machine. */
export function compareText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
