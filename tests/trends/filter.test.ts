import { describe, expect, test } from 'vitest';
import type { DeviceFilter } from '../../src/state/lists/device-list.ts';
import { devicesWhere } from '../../src/trends/filter.ts';
import { DEVICE, dossierChange, liveOf, SMALL_CATALOGUE } from '../state/archive-of.ts';

const euro = (amount: number) => ({ amount, currency: 'EUR' });
const live = liveOf([
  ...SMALL_CATALOGUE,
  ...[
    { id: 'd-2018', released: '2018', price: euro(100) },
    { id: 'c-2019', released: '2019-04', price: euro(200) },
    { id: 'b-2019', released: '2019-12-31', bodySite: 'finger', price: { amount: 200, currency: 'USD' } },
    { id: 'a-2020', released: '2020-01-01', productLine: undefined },
  ].map((one) =>
    dossierChange({ device: { ...DEVICE, ...one, bodySite: 'wrist', ...pick(one) }, specimen: { id: 'a' } }),
  ),
  dossierChange({ device: { ...DEVICE, id: 'secret' }, specimen: { id: 'a' }, visibility: 'draft' }),
]);

function pick(one: { readonly bodySite?: string }) {
  return one.bodySite ? { bodySite: one.bodySite as 'finger' } : {};
}

function found(filter: DeviceFilter): string[] {
  return devicesWhere(live.state('reader', '2026-06-01T00:00:00.000Z'), filter).map(({ id }) => id);
}

describe('devices of a question', () => {
  test('without a filter everything visible, by id', () => {
    expect(found({})).toEqual(['a-2020', 'b-2019', 'c-2019', 'd-2018']);
  });

  test('dates at any precision, both ends included', () => {
    expect(found({ releasedFrom: '2019' })).toEqual(['a-2020', 'b-2019', 'c-2019']);
    expect(found({ releasedTo: '2019' })).toEqual(['b-2019', 'c-2019', 'd-2018']);
    expect(found({ releasedFrom: '2019-04', releasedTo: '2019-11-30' })).toEqual(['c-2019']);
    // It may have come any day of 2018.
    expect(found({ releasedFrom: '2018-12', releasedTo: '2018-12' })).toEqual(['d-2018']);
  });

  test('body site, product line and price, both ends included and one currency only', () => {
    expect(found({ bodySites: ['finger'] })).toEqual(['b-2019']);
    expect(found({ productLines: ['tarn-sennit'], releasedFrom: '2020' })).toEqual([]);
    expect(found({ priceFrom: 100, priceTo: 200, currency: 'EUR' })).toEqual(['c-2019', 'd-2018']);
    expect(found({ priceFrom: 100.01, currency: 'EUR' })).toEqual(['c-2019']);
    expect(found({ currency: 'USD' })).toEqual(['b-2019']);
  });

  test.each([
    [{ releasedFrom: '2019-13' }, /not a valid date/u],
    [{ releasedFrom: '2020', releasedTo: '2019' }, /is after/u],
    [{ bodySites: ['rist'] }, /did you mean "wrist"/u],
    [{ priceFrom: 10 }, /currency/u],
    [{ priceFrom: 10, priceTo: 5, currency: 'EUR' }, /is above/u],
    [{ currency: 'euro' }, /ISO 4217/u],
    [{ makers: ['nobody'] }, /No maker "nobody"/u],
    [{ productLines: ['nothing'] }, /No product line "nothing"/u],
  ])('%j is refused', (filter, why) => {
    expect(() => found(filter)).toThrow(why);
  });
});
