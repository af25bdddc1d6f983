// Written by "npm run generate" from pages/trends/trends.graphql; do not edit.
import type { Question } from '../../api/ask.ts';

/** Internal type. DO NOT USE DIRECTLY. */
type Exact<T extends { [key: string]: unknown }> = { [K in keyof T]: T[K] };
/** Internal type. DO NOT USE DIRECTLY. */
export type Incremental<T> = T | { [P in keyof T]?: P extends ' $fragmentName' | '__typename' ? T[P] : never };
export type TrendPeriodLength =
  | 'YEAR'
  | 'HALF_YEAR'
  | 'QUARTER';

export type TrendFacet =
  | 'BODY_SITE'
  | 'MAKER'
  | 'PRICE_BAND';

export type TrendDeviceQuantity =
  | 'MASS'
  | 'PRICE'
  | 'LENGTH'
  | 'WIDTH'
  | 'HEIGHT';

export type TrendSubject = {
  readonly pattern?: string | null | undefined;
  readonly text?: string | null | undefined;
  readonly category?: string | null | undefined;
  readonly maker?: string | null | undefined;
  readonly part?: string | null | undefined;
  readonly decision?: string | null | undefined;
};

export type TrendQuantity = {
  readonly device?: TrendDeviceQuantity | null | undefined;
  readonly parameter?: string | null | undefined;
  readonly of?: string | null | undefined;
};

export type TrendMeasure = {
  readonly share?: TrendSubject | null | undefined;
  readonly count?: string | null | undefined;
  readonly quantity?: TrendQuantity | null | undefined;
};

export type TrendAnswerQueryVariables = Exact<{
  of: TrendMeasure;
  per: TrendPeriodLength;
  by?: TrendFacet | null | undefined;
}>;


export type TrendAnswerQuery = { readonly trend: { readonly of: string, readonly unit: string, readonly cautions: ReadonlyArray<string>, readonly total: { readonly verdict: { readonly isSufficient: boolean, readonly sentence: string } }, readonly chart: { readonly title: string, readonly subtitle: string, readonly n: string, readonly description: string, readonly columns: ReadonlyArray<string>, readonly rows: ReadonlyArray<ReadonlyArray<string>>, readonly cautions: ReadonlyArray<string>, readonly vegaLite: unknown, readonly svg: string | null } | null, readonly totalsChart: { readonly title: string, readonly subtitle: string, readonly n: string, readonly description: string, readonly columns: ReadonlyArray<string>, readonly rows: ReadonlyArray<ReadonlyArray<string>>, readonly cautions: ReadonlyArray<string>, readonly vegaLite: unknown, readonly svg: string | null } | null } | null };

export type TrendChoicesQueryVariables = Exact<{ [key: string]: never; }>;


export type TrendChoicesQuery = { readonly patterns: { readonly nodes: ReadonlyArray<{ readonly id: string, readonly name: string }> } | null, readonly taxonomy: ReadonlyArray<{ readonly name: string }> | null };

export type DrawnFragment = { readonly title: string, readonly subtitle: string, readonly n: string, readonly description: string, readonly columns: ReadonlyArray<string>, readonly rows: ReadonlyArray<ReadonlyArray<string>>, readonly cautions: ReadonlyArray<string>, readonly vegaLite: unknown, readonly svg: string | null };

export const TrendAnswer: Question<TrendAnswerQuery, TrendAnswerQueryVariables> = {
  text: "query TrendAnswer($of: TrendMeasure!, $per: TrendPeriodLength!, $by: TrendFacet) { trend(of: $of, per: $per, by: $by) { of unit cautions total { verdict { isSufficient sentence } } chart { ...Drawn } totalsChart { ...Drawn } } } fragment Drawn on Chart { title subtitle n description columns rows cautions vegaLite svg }",
};
export const TrendChoices: Question<TrendChoicesQuery, TrendChoicesQueryVariables> = {
  text: "query TrendChoices { patterns(first: 200) { nodes { id name } } taxonomy { name } }",
};
