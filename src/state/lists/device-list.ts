import { dateRange } from '../../model/dates.ts';
import type { Device } from '../../model/dossier.ts';
import { isUnder, TERMS } from '../../model/taxonomy.ts';
import type { State } from '../state.ts';
import { categoryNumber } from './component-columns.ts';

/** Which devices a list, a trend or a pattern is about; what is left out does not narrow. */
export interface DeviceFilter {
  readonly makers?: readonly string[] | null;
  readonly productLines?: readonly string[] | null;
  readonly bodySites?: readonly string[] | null;
  /** Released on or after this date, at any precision of ISO 8601; a device dated `2019` may have come any day of it. */
  readonly releasedFrom?: string | null;
  /** Released on or before this date; `2019` includes the whole year. */
  readonly releasedTo?: string | null;
  /** Price at release, in `currency`, both ends included; devices priced in another currency do not pass. */
  readonly priceFrom?: number | null;
  readonly priceTo?: number | null;
  /** ISO 4217. */
  readonly currency?: string | null;
  /** Only these, by id: devices that have something, by `presence/`. */
  readonly among?: ReadonlySet<string> | null;
}

export type DeviceOrder = 'RELEASED' | 'NAME' | 'MAKER' | 'ID';

/** Devices that pass the filter, each with its place in the order, ties broken by id. */
export function listDevices(state: State, filter: DeviceFilter, order: DeviceOrder): Device[] {
  return state.derived(IN_ORDER[order]).filter(devicePredicate(filter));
}

/** All devices of a state in each order: sorted once a state, each with its key worked out once. */
const IN_ORDER: Readonly<Record<DeviceOrder, (state: State) => readonly Device[]>> = {
  RELEASED: (state) => sortedBy(state, 'RELEASED'),
  NAME: (state) => sortedBy(state, 'NAME'),
  MAKER: (state) => sortedBy(state, 'MAKER'),
  ID: (state) => sortedBy(state, 'ID'),
};

function sortedBy(state: State, order: DeviceOrder): readonly Device[] {
  return state
    .devices()
    .map((device) => ({ device, key: deviceKey(device, order) }))
    .sort((a, b) => compareText(a.key, b.key) || compareText(a.device.id, b.device.id))
    .map(({ device }) => device);
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
  const { among, currency } = filter;
  const low = filter.priceFrom ?? Number.NEGATIVE_INFINITY;
  const high = filter.priceTo ?? Number.POSITIVE_INFINITY;
  return (device) =>
    (!makers || makers.has(device.maker)) &&
    (!productLines || (device.productLine !== undefined && productLines.has(device.productLine))) &&
    (!sites || sites.has(device.bodySite)) &&
    (!from || dateRange(device.released).last >= from) &&
    (!to || dateRange(device.released).first <= to) &&
    (!currency ||
      (device.price?.currency === currency && device.price.amount >= low && device.price.amount <= high)) &&
    (!among || among.has(device.id));
}

/** Numbers, as in the component columns, of a term and all terms under it. */
export function categoryNumbersUnder(term: string): ReadonlySet<number> {
  return new Set(TERMS.filter((name) => isUnder(name, term)).map((name) => categoryNumber(name) as number));
}

/** Order of two texts by code unit: the same on every machine. */
export function compareText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
