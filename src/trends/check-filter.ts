import { dateRange, isPartialDate } from '../model/dates.ts';
import { BODY_SITES } from '../model/dossier.ts';
import { CasebackError } from '../model/problems.ts';
import type { DeviceFilter } from '../state/lists/device-list.ts';
import { resolved } from '../state/resolve.ts';
import type { State } from '../state/state.ts';
import { didYouMean } from '../text/near.ts';

/**
 * @throws CasebackError BAD_INPUT for a contradictory filter, NOT_FOUND for an unknown maker or product line
 */
export function checkDeviceFilter(state: State, filter: DeviceFilter): void {
  const { releasedFrom: from, releasedTo: to, priceFrom, priceTo, currency } = filter;
  for (const site of filter.bodySites ?? []) {
    if (!(BODY_SITES as readonly string[]).includes(site))
      throw bad(
        `"${site}" is not a valid body site; ${didYouMean(site, BODY_SITES) ?? BODY_SITES.join(', ')}`,
      );
  }
  for (const date of [from, to]) {
    if (date && !isPartialDate(date))
      throw bad(`"${date}" is not a valid date; write 2019, 2019-04 or 2019-04-17 (ISO 8601)`);
  }
  if (from && to && dateRange(from).first > dateRange(to).last)
    throw bad(`releasedFrom ${from} is after releasedTo ${to}; swap them`);
  if (currency && !/^[A-Z]{3}$/u.test(currency))
    throw bad(`"${currency}" is not a valid currency code; write for example EUR (ISO 4217)`);
  const hasBound = typeof priceFrom === 'number' || typeof priceTo === 'number';
  if (hasBound && !currency) throw bad('a price needs a currency; give currency as well');
  if (typeof priceFrom === 'number' && typeof priceTo === 'number' && priceFrom > priceTo)
    throw bad(`priceFrom ${priceFrom} is above priceTo ${priceTo}`);
  for (const maker of filter.makers ?? []) resolved(state, maker, ['Maker']);
  for (const productLine of filter.productLines ?? []) resolved(state, productLine, ['ProductLine']);
}

function bad(message: string): CasebackError {
  return new CasebackError('BAD_INPUT', message);
}
