// Written by "npm run generate" from pages/patterns/patterns.graphql; do not edit.
import type { Question } from '../../api/ask.ts';

/** Internal type. DO NOT USE DIRECTLY. */
type Exact<T extends { [key: string]: unknown }> = { [K in keyof T]: T[K] };
/** Internal type. DO NOT USE DIRECTLY. */
export type Incremental<T> = T | { [P in keyof T]?: P extends ' $fragmentName' | '__typename' ? T[P] : never };
export type PatternListQueryVariables = Exact<{
  first: number;
  after?: string | null | undefined;
}>;


export type PatternListQuery = { readonly patterns: { readonly totalCount: number, readonly pageInfo: { readonly endCursor: string | null, readonly hasNextPage: boolean }, readonly nodes: ReadonlyArray<{ readonly id: string, readonly name: string, readonly idea: string }> } | null };

export const PatternList: Question<PatternListQuery, PatternListQueryVariables> = {
  text: "query PatternList($first: Int!, $after: String) { patterns(first: $first, after: $after) { totalCount pageInfo { endCursor hasNextPage } nodes { id name idea } } }",
};
