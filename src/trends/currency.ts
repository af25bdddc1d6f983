import type { Device } from '../model/dossier.ts';

/** The currency of most prices, the first by code of several; undefined without prices. */
export function commonestCurrency(devices: readonly Device[]): string | undefined {
  const counts = new Map<string, number>();
  for (const { price } of devices)
    if (price) counts.set(price.currency, (counts.get(price.currency) ?? 0) + 1);
  return [...counts].sort(([a, m], [b, n]) => n - m || (a < b ? -1 : 1))[0]?.[0];
}

/** Price of a device in a currency; no conversion. */
export function priceIn({ price }: Device, currency: string | undefined): number | undefined {
  return price && price.currency === currency ? price.amount : undefined;
}
