import type { Place } from '../../frame/page.ts';
import type { BodySite, DeviceListQuery, DeviceOrderField } from './devices.graphql.ts';

/** What the address asks for. */
export interface Asked {
  readonly bodySites: readonly BodySite[];
  readonly makers: readonly string[];
  readonly has: string;
  readonly from: string;
  readonly to: string;
  readonly order: string;
  readonly after: string;
}

export interface DevicesData {
  readonly answer: DeviceListQuery;
  /** What could not be answered, such as a term that the taxonomy does not have. */
  readonly trouble: string | undefined;
}

/** Orders of the list, by their names in the address. */
export const ORDERS: Readonly<
  Record<
    string,
    { readonly name: string; readonly field: DeviceOrderField; readonly direction: 'ASC' | 'DESC' }
  >
> = {
  newest: { name: 'Newest first', field: 'RELEASED', direction: 'DESC' },
  oldest: { name: 'Oldest first', field: 'RELEASED', direction: 'ASC' },
  name: { name: 'By name', field: 'NAME', direction: 'ASC' },
  maker: { name: 'By maker', field: 'MAKER', direction: 'ASC' },
};

export const BODY_SITES: readonly BodySite[] = [
  'WRIST',
  'FINGER',
  'EAR',
  'CHEST',
  'HEAD',
  'ANKLE',
  'EYEWEAR',
  'BADGE',
  'CLOTHING',
  'OTHER',
];

export function askedIn({ query }: Place): Asked {
  const text = (name: string) => query.get(name)?.trim() ?? '';
  return {
    bodySites: query
      .getAll('worn')
      .filter((one): one is BodySite => (BODY_SITES as readonly string[]).includes(one)),
    makers: query.getAll('maker').filter((one) => one !== ''),
    has: text('has'),
    from: text('from'),
    to: text('to'),
    order: ORDERS[text('order')] ? text('order') : 'newest',
    after: text('after'),
  };
}
