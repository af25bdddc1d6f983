import { dateRange, isPartialDate } from '../model/dates.ts';
import { BODY_SITES, type Device } from '../model/dossier.ts';
import { CasebackError } from '../model/problems.ts';
import { devicePredicate } from '../state/device-list.ts';
import { resolved } from '../state/resolve.ts';
import type { View } from '../state/view.ts';
import { didYouMean } from '../text/near.ts';
import { groundOf } from './ground.ts';

/** Which devices a question is about; what is left out does not narrow. */
export interface DeviceFilter {
  readonly bodySite?: string | null;
  /** Id of the device's maker. */
  readonly maker?: string | null;
  /** Id of the product line. */
  readonly productLine?: string | null;
  /** Released on or after this date, at any precision of ISO 8601; a device dated `2019` may have come any day of it. */
  readonly from?: string | null;
  /** Released on or before this date; `2019` includes the whole year. */
  readonly to?: string | null;
  /** Price at release, in `currency`, both ends included; devices priced in another currency do not pass. */
  readonly priceFrom?: number | null;
  readonly priceTo?: number | null;
  /** ISO 4217. */
  readonly currency?: string | null;
}

/**
 * Visible devices that pass, by id, so that the order in which they came in changes nothing.
 * @throws CasebackError BAD_INPUT for a filter that makes no sense, NOT_FOUND for a maker or product line that nothing
 * visible has
 */
export function devicesWhere(view: View, filter: DeviceFilter): readonly Device[] {
  const passes = deviceFilter(view, filter);
  const { devices } = groundOf(view);
  if (Object.values(filter).every((one) => one === undefined || one === null)) return devices;
  return devices.filter(passes);
}

/** Whether single devices pass. @throws CasebackError as {@link devicesWhere} */
export function deviceFilter(view: View, filter: DeviceFilter): (device: Device) => boolean {
  checkFilter(view, filter);
  const { bodySite, maker, productLine, from, to, currency } = filter;
  const passes = devicePredicate({
    bodySites: bodySite ? [bodySite] : null,
    makers: maker ? [maker] : null,
    productLines: productLine ? [productLine] : null,
    releasedFrom: from,
    releasedTo: to,
  });
  const low = filter.priceFrom ?? Number.NEGATIVE_INFINITY;
  const high = filter.priceTo ?? Number.POSITIVE_INFINITY;
  const priced = ({ price }: Device) =>
    !currency || (price?.currency === currency && price.amount >= low && price.amount <= high);
  return (device) => passes(device) && priced(device);
}

function checkFilter(view: View, filter: DeviceFilter): void {
  const { bodySite, maker, productLine, from, to, priceFrom, priceTo, currency } = filter;
  if (bodySite && !(BODY_SITES as readonly string[]).includes(bodySite)) {
    throw bad(`"${bodySite}" is no body site; ${didYouMean(bodySite, BODY_SITES) ?? BODY_SITES.join(', ')}`);
  }
  for (const date of [from, to]) {
    if (date && !isPartialDate(date))
      throw bad(`"${date}" is no date; write 2019, 2019-04 or 2019-04-17 (ISO 8601)`);
  }
  if (from && to && dateRange(from).first > dateRange(to).last) throw bad(`from ${from} lies after to ${to}`);
  if (currency && !/^[A-Z]{3}$/u.test(currency))
    throw bad(`"${currency}" is no currency code; write for example EUR (ISO 4217)`);
  const hasBound = typeof priceFrom === 'number' || typeof priceTo === 'number';
  if (hasBound && !currency) throw bad('a price without a currency says nothing; give currency as well');
  if (typeof priceFrom === 'number' && typeof priceTo === 'number' && priceFrom > priceTo)
    throw bad(`priceFrom ${priceFrom} lies above priceTo ${priceTo}`);
  if (maker) resolved(view, maker, ['Maker']);
  if (productLine) resolved(view, productLine, ['ProductLine']);
}

function bad(message: string): CasebackError {
  return new CasebackError('BAD_INPUT', message);
}
