import type { SearchHitsQuery, SearchKind } from './search.graphql.ts';

export type Hit = NonNullable<SearchHitsQuery['search']>['nodes'][number];

/** What kinds of hits are called in a list. */
export const HIT_KINDS: Readonly<Record<SearchKind, string>> = {
  DEVICE: 'device',
  MAKER: 'maker',
  PRODUCT_LINE: 'product line',
  PART: 'part',
  PUBLICATION: 'publication',
  COMPONENT: 'component',
  OBSERVATION: 'observation',
};

const PLACES: Readonly<Partial<Record<SearchKind, string>>> = {
  DEVICE: '/devices/',
  MAKER: '/makers/',
  PRODUCT_LINE: '/lines/',
  PART: '/parts/',
  PUBLICATION: '/publications/',
};

/** The page on which a hit is seen. */
export function addressOf({ id, kind, node }: Hit): string {
  const place = PLACES[kind];
  if (place !== undefined) return `${place}${id}`;
  if (node && 'device' in node && node.device)
    return `/devices/${node.device.id}?picked=${encodeURIComponent(id)}`;
  if (node && 'specimen' in node && node.specimen.device) return `/devices/${node.specimen.device.id}/record`;
  return '/devices';
}

/** The device that a hit lies in. */
export function deviceOf({ node }: Hit): string | undefined {
  if (node && 'device' in node) return node.device?.name;
  return node && 'specimen' in node ? node.specimen.device?.name : undefined;
}
