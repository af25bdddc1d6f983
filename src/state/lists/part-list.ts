import { type Part, partIdOf } from '../../model/catalogue.ts';
import { dateRange } from '../../model/dates.ts';
import { isUnder } from '../../model/taxonomy.ts';
import type { State } from '../state.ts';
import { compareText } from './device-list.ts';

export interface PartFilter {
  readonly makers?: readonly string[] | null;
  /** One of its categories is this term or below it. */
  readonly category?: string | null;
  readonly package?: string | null;
  readonly introducedFrom?: string | null;
  readonly introducedTo?: string | null;
  /** Whether a visible specimen certainly or possibly has it. */
  readonly seen?: boolean | null;
}

export type PartOrder = 'ID' | 'INTRODUCED' | 'USE';

/** Visible specimens that certainly or possibly have a part, by its id. */
export type PartUses = (part: string) => number;

/** Parts that pass the filter; ties broken by id. `USE` puts the most used part first. */
export function listParts(state: State, filter: PartFilter, order: PartOrder, uses: PartUses): Part[] {
  const makers = filter.makers && new Set(filter.makers);
  const from = filter.introducedFrom && dateRange(filter.introducedFrom).first;
  const to = filter.introducedTo && dateRange(filter.introducedTo).last;
  const { category, seen } = filter;
  const found = state
    .parts()
    .filter(
      (part) =>
        (!makers || makers.has(part.maker)) &&
        (!category || part.categories.some((term) => isUnder(term, category))) &&
        (!filter.package || part.package === filter.package) &&
        (!from || (part.introduced !== undefined && dateRange(part.introduced).last >= from)) &&
        (!to || (part.introduced !== undefined && dateRange(part.introduced).first <= to)) &&
        (seen === undefined || seen === null || uses(partIdOf(part)) > 0 === seen),
    );
  const keys = new Map(found.map((part) => [part, partKey(part, order, uses)]));
  return found.sort(
    (a, b) =>
      compareText(keys.get(a) as string, keys.get(b) as string) || compareText(partIdOf(a), partIdOf(b)),
  );
}

/** The value by which an order sorts a part. */
export function partKey(part: Part, order: PartOrder, uses: PartUses): string {
  switch (order) {
    case 'ID':
      return '';
    case 'INTRODUCED':
      return part.introduced ? dateRange(part.introduced).first : '9999';
    case 'USE':
      return String(1_000_000_000 - uses(partIdOf(part))).padStart(10, '0');
    default:
      return order satisfies never;
  }
}
