import type { Device } from '../model/dossier.ts';
import type { FigureWhere } from '../model/figure.ts';
import { type DeviceFilter, devicePredicate } from '../state/lists/device-list.ts';
import type { State } from '../state/state.ts';
import { checkDeviceFilter } from './check-filter.ts';
import { visibleDevices } from './visible-devices.ts';

/**
 * Visible devices that pass, sorted by id, so that the order of import changes nothing.
 * @throws CasebackError as {@link checkDeviceFilter}
 */
export function devicesWhere(state: State, filter: DeviceFilter): readonly Device[] {
  const passes = deviceMatcher(state, filter);
  const { devices } = visibleDevices(state);
  if (Object.values(filter).every((value) => value === undefined || value === null)) return devices;
  return devices.filter(passes);
}

/** A test for single devices. @throws CasebackError as {@link checkDeviceFilter} */
export function deviceMatcher(state: State, filter: DeviceFilter): (device: Device) => boolean {
  checkDeviceFilter(state, filter);
  return devicePredicate(filter);
}

/** The filter that the figure of a publication states. */
export function filterOfFigure({ bodySite, maker, productLine, from, to }: FigureWhere): DeviceFilter {
  return {
    bodySites: bodySite ? [bodySite] : null,
    makers: maker ? [maker] : null,
    productLines: productLine ? [productLine] : null,
    releasedFrom: from,
    releasedTo: to,
  };
}

/** What a filter lets pass, in words that follow "devices", such as "of body site wrist, released from 2016"; null where that is all. */
export function filterInWords(state: State, filter: DeviceFilter): string | null {
  const { makers, productLines, bodySites, releasedFrom, releasedTo, priceFrom, priceTo, currency } = filter;
  const named = (ids: readonly string[] | null | undefined, nameOf: (id: string) => string | undefined) =>
    ids && ids.length > 0 && eitherOf(ids.map((id) => nameOf(id) ?? id));
  const maker = named(makers, (id) => state.maker(id)?.name);
  const line = named(productLines, (id) => state.productLine(id)?.name);
  const site = named(bodySites, (id) => id);
  const released = between(releasedFrom, releasedTo);
  const price = between(priceFrom, priceTo);
  const all = [
    maker && `made by ${maker}`,
    line && `of the product line ${line}`,
    site && `of body site ${site}`,
    released && `released ${released}`,
    price ? `priced ${[price, currency].filter(Boolean).join(' ')}` : currency && `priced in ${currency}`,
    filter.among && 'with what the filter names',
  ].filter((one) => one);
  return all.length > 0 ? all.join(', ') : null;
}

function eitherOf(names: readonly string[]): string {
  return names.length === 1 ? (names[0] as string) : `${names.slice(0, -1).join(', ')} or ${names.at(-1)}`;
}

function between(from: unknown, to: unknown): string {
  return [from != null && `from ${from}`, to != null && `to ${to}`].filter(Boolean).join(' ');
}
