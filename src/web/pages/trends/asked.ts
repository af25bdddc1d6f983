import { textIn } from '../../parts/facts.ts';
import type { TrendAnswerQueryVariables, TrendFacet, TrendPeriodLength } from './trends.graphql.ts';

/** Measures that the page offers, by their names in the address. */
export const MEASURES = {
  'has-kind': 'Share of devices with a kind of component',
  'shows-pattern': 'Share of devices that show a named pattern',
  count: 'Components of a kind, a device',
  mass: 'Mass, median',
  price: 'Price at release, median',
} as const;
export type Measure = keyof typeof MEASURES;

export const PERIODS: Readonly<Record<TrendPeriodLength, string>> = {
  YEAR: 'Year',
  HALF_YEAR: 'Half-year',
  QUARTER: 'Quarter',
};
export const FACETS: Readonly<Record<TrendFacet, string>> = {
  BODY_SITE: 'Where it is worn',
  MAKER: 'Maker',
  PRICE_BAND: 'Price band',
};

/** What the address asks for. */
export interface AskedTrend {
  readonly measure: Measure;
  readonly kind: string;
  readonly pattern: string;
  readonly per: TrendPeriodLength;
  readonly by: TrendFacet | undefined;
}

export function askedTrend(query: URLSearchParams): AskedTrend {
  const measure = textIn(query, 'measure');
  const per = textIn(query, 'per');
  const by = textIn(query, 'by');
  return {
    measure: measure in MEASURES ? (measure as Measure) : 'has-kind',
    kind: textIn(query, 'kind'),
    pattern: textIn(query, 'pattern'),
    per: per in PERIODS ? (per as TrendPeriodLength) : 'YEAR',
    by: by in FACETS ? (by as TrendFacet) : undefined,
  };
}

/** The question for the API; undefined while it is not complete. */
export function variablesOf({
  measure,
  kind,
  pattern,
  per,
  by,
}: AskedTrend): TrendAnswerQueryVariables | undefined {
  const of = {
    'has-kind': kind === '' ? undefined : { share: { category: kind } },
    'shows-pattern': pattern === '' ? undefined : { share: { pattern } },
    count: kind === '' ? undefined : { count: kind },
    mass: { quantity: { device: 'MASS' as const } },
    price: { quantity: { device: 'PRICE' as const } },
  }[measure];
  return of && { of, per, ...(by ? { by } : {}) };
}
