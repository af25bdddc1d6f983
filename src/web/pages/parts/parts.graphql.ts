// Written by "npm run generate" from pages/parts/parts.graphql; do not edit.
import type { Question } from '../../api/ask.ts';

/** Internal type. DO NOT USE DIRECTLY. */
type Exact<T extends { [key: string]: unknown }> = { [K in keyof T]: T[K] };
/** Internal type. DO NOT USE DIRECTLY. */
export type Incremental<T> = T | { [P in keyof T]?: P extends ' $fragmentName' | '__typename' ? T[P] : never };
export type Direction =
  | 'ASC'
  | 'DESC';

export type PartFilter = {
  readonly makers?: ReadonlyArray<string> | null | undefined;
  readonly category?: string | null | undefined;
  readonly package?: string | null | undefined;
  readonly introducedFrom?: string | null | undefined;
  readonly introducedTo?: string | null | undefined;
  readonly seen?: boolean | null | undefined;
};

export type PartOrderField =
  | 'ID'
  | 'INTRODUCED'
  | 'USE';

export type PartOrder = {
  readonly field?: PartOrderField;
  readonly direction?: Direction;
};

export type PartListQueryVariables = Exact<{
  filter?: PartFilter | null | undefined;
  orderBy: PartOrder;
  first: number;
  after?: string | null | undefined;
}>;


export type PartListQuery = { readonly parts: { readonly totalCount: number, readonly pageInfo: { readonly endCursor: string | null, readonly hasNextPage: boolean }, readonly nodes: ReadonlyArray<{ readonly id: string, readonly number: string, readonly name: string | null, readonly categories: ReadonlyArray<string>, readonly package: string | null, readonly introduced: string | null, readonly maker: { readonly name: string } | null }> } | null };

export type PartPageQueryVariables = Exact<{
  id: string;
}>;


export type PartPageQuery = { readonly part: { readonly id: string, readonly number: string, readonly name: string | null, readonly categories: ReadonlyArray<string>, readonly package: string | null, readonly pins: number | null, readonly markings: ReadonlyArray<string>, readonly introduced: string | null, readonly discontinued: string | null, readonly note: string | null, readonly maker: { readonly id: string, readonly name: string } | null, readonly body: { readonly length: number, readonly width: number, readonly height: number | null } | null, readonly relabels: { readonly id: string, readonly number: string } | null, readonly relabelledAs: ReadonlyArray<{ readonly id: string, readonly number: string }>, readonly parameters: ReadonlyArray<{ readonly name: string, readonly meaning: string, readonly text: string | null, readonly flag: boolean | null, readonly count: number | null, readonly quantity: { readonly text: string } | null }>, readonly specimens: { readonly totalCount: number, readonly nodes: ReadonlyArray<{ readonly probability: number, readonly specimen: { readonly id: string, readonly device: { readonly id: string, readonly name: string, readonly year: number } | null } }> } | null } | null };

export const PartList: Question<PartListQuery, PartListQueryVariables> = {
  text: "query PartList($filter: PartFilter, $orderBy: PartOrder!, $first: Int!, $after: String) { parts(filter: $filter, orderBy: $orderBy, first: $first, after: $after) { totalCount pageInfo { endCursor hasNextPage } nodes { id number name categories package introduced maker { name } } } }",
};
export const PartPage: Question<PartPageQuery, PartPageQueryVariables> = {
  text: "query PartPage($id: ID!) { part(id: $id) { id number name categories package pins markings introduced discontinued note maker { id name } body { length width height } relabels { id number } relabelledAs { id number } parameters { name meaning text flag count quantity { text } } specimens(first: 200) { totalCount nodes { probability specimen { id device { id name year } } } } } }",
};
