import { BODY_SITES, type Device } from '../model/dossier.ts';
import { CasebackError } from '../model/problems.ts';
import type { State } from '../state/state.ts';
import { quantile } from '../statistics/quantile.ts';
import type { TrendQuestion } from './answer.ts';
import { commonestCurrency, priceIn } from './currency.ts';

/** A group of devices. */
export interface Group {
  readonly value: string;
  readonly label: string;
  readonly devices: readonly Device[];
}

/** Group of the devices without a price in the currency of the question. */
export const NOT_KNOWN = 'not known';

/**
 * Devices grouped by a facet: each is in exactly one group; empty groups are left out. Body sites in the
 * order of the vocabulary, makers by id, price bands by rising price with "not known" last.
 */
export function groupsOf(
  state: State,
  devices: readonly Device[],
  { by, edges, currency }: Pick<TrendQuestion, 'by' | 'edges' | 'currency'>,
): readonly Group[] {
  switch (by) {
    case undefined:
      return [];
    case 'body-site':
      return groupedBy(
        devices,
        ({ bodySite }) => bodySite,
        BODY_SITES,
        (site) => site,
      );
    case 'maker': {
      const makers = [...new Set(devices.map(({ maker }) => maker))].sort();
      return groupedBy(
        devices,
        ({ maker }) => maker,
        makers,
        (id) => state.maker(id)?.name ?? id,
      );
    }
    case 'price-band':
      return priceBands(devices, edges, currency ?? commonestCurrency(devices));
    default:
      return by satisfies never;
  }
}

function groupedBy(
  devices: readonly Device[],
  valueIn: (device: Device) => string,
  order: readonly string[],
  labelOf: (value: string) => string,
): readonly Group[] {
  const groups = Map.groupBy(devices, valueIn);
  return order.flatMap((value) => {
    const group = groups.get(value);
    return group ? [{ value, label: labelOf(value), devices: group }] : [];
  });
}

function priceBands(
  devices: readonly Device[],
  given: readonly number[] | undefined,
  currency: string | undefined,
): readonly Group[] {
  const edges = given ? checkedEdges(given) : terciles(devices, currency);
  const labels = bandLabels(edges, currency);
  const bandOf = (device: Device) => {
    const price = priceIn(device, currency);
    // An edge belongs to the band above it.
    return price === undefined ? NOT_KNOWN : labels[edges.filter((edge) => edge <= price).length];
  };
  return groupedBy(devices, bandOf, [...labels, NOT_KNOWN], (label) =>
    label === NOT_KNOWN ? `price not known${currency ? ` in ${currency}` : ''}` : label,
  );
}

function checkedEdges(edges: readonly number[]): readonly number[] {
  const rising = edges.every(
    (edge, at) => Number.isFinite(edge) && edge >= 0 && (at === 0 || edge > edges[at - 1]),
  );
  if (edges.length === 0 || edges.length > 20 || !rising) {
    throw new CasebackError(
      'BAD_INPUT',
      `edges of price bands must be 1 to 20 rising amounts, 0 or more; given: ${edges.join(', ') || 'none'}`,
    );
  }
  return edges;
}

/** Prices that divide the priced devices into thirds; fewer edges where prices are equal, none without prices. */
function terciles(devices: readonly Device[], currency: string | undefined): readonly number[] {
  const prices = devices.flatMap((device) => priceIn(device, currency) ?? []);
  if (prices.length === 0) return [];
  const lowest = Math.min(...prices);
  const thirds = [1 / 3, 2 / 3].map((share) => Number(quantile(prices, share).toFixed(2)));
  return [...new Set(thirds)].filter((edge) => edge > lowest);
}

function bandLabels(edges: readonly number[], currency: string | undefined): readonly string[] {
  if (edges.length === 0) return [`any price in ${currency}`];
  return [
    `under ${edges[0]} ${currency}`,
    ...edges.slice(1).map((edge, at) => `${edges[at]} to under ${edge} ${currency}`),
    `${edges[edges.length - 1]} ${currency} and more`,
  ];
}
