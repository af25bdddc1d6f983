// Written by "npm run generate" from frame/search.graphql; do not edit.
import type { Question } from '../api/ask.ts';

/** Internal type. DO NOT USE DIRECTLY. */
type Exact<T extends { [key: string]: unknown }> = { [K in keyof T]: T[K] };
/** Internal type. DO NOT USE DIRECTLY. */
export type Incremental<T> = T | { [P in keyof T]?: P extends ' $fragmentName' | '__typename' ? T[P] : never };
export type SearchKind =
  | 'DEVICE'
  | 'MAKER'
  | 'PRODUCT_LINE'
  | 'PART'
  | 'PUBLICATION'
  | 'COMPONENT'
  | 'OBSERVATION';

export type SearchHitsQueryVariables = Exact<{
  text: string;
  first: number;
  after?: string | null | undefined;
}>;


export type SearchHitsQuery = { readonly search: { readonly totalCount: number, readonly isComplete: boolean, readonly pageInfo: { readonly endCursor: string | null, readonly hasNextPage: boolean }, readonly nodes: ReadonlyArray<{ readonly id: string, readonly kind: SearchKind, readonly title: string, readonly node:
        | { readonly device: { readonly id: string, readonly name: string } | null }
        | { readonly specimen: { readonly device: { readonly id: string, readonly name: string } | null } }
       | null }> } | null };

export const SearchHits: Question<SearchHitsQuery, SearchHitsQueryVariables> = {
  text: "query SearchHits($text: String!, $first: Int!, $after: String) { search(text: $text, first: $first, after: $after) { totalCount isComplete pageInfo { endCursor hasNextPage } nodes { id kind title node { ... on Component { device { id name } } ... on Observation { specimen { device { id name } } } } } } }",
};
