// Written by "npm run generate" from pages/patterns/pattern.graphql; do not edit.
import type { Question } from '../../api/ask.ts';

/** Internal type. DO NOT USE DIRECTLY. */
type Exact<T extends { [key: string]: unknown }> = { [K in keyof T]: T[K] };
/** Internal type. DO NOT USE DIRECTLY. */
export type Incremental<T> = T | { [P in keyof T]?: P extends ' $fragmentName' | '__typename' ? T[P] : never };
export type BodySite =
  | 'WRIST'
  | 'FINGER'
  | 'EAR'
  | 'CHEST'
  | 'HEAD'
  | 'ANKLE'
  | 'EYEWEAR'
  | 'BADGE'
  | 'CLOTHING'
  | 'OTHER';

export type ProbabilityMethod =
  | 'EXACT'
  | 'ESTIMATE';

export type Side =
  | 'TOP'
  | 'BOTTOM';

export type PatternPageQueryVariables = Exact<{
  id: string;
}>;


export type PatternPageQuery = { readonly pattern: { readonly id: string, readonly name: string, readonly idea: string, readonly text: string, readonly reasons: ReadonlyArray<string>, readonly against: ReadonlyArray<string>, readonly strength: number, readonly note: string | null } | null, readonly findPattern: { readonly totalCount: number, readonly certainCount: number, readonly expectedCount: number, readonly isComplete: boolean, readonly note: string | null, readonly warnings: ReadonlyArray<string>, readonly facets: { readonly years: ReadonlyArray<{ readonly value: string, readonly count: number, readonly expected: number }>, readonly bodySites: ReadonlyArray<{ readonly value: string, readonly count: number, readonly expected: number }> }, readonly nodes: ReadonlyArray<{ readonly probability: number, readonly method: ProbabilityMethod, readonly low: number, readonly high: number, readonly isCertain: boolean, readonly matchCount: number, readonly device: { readonly id: string, readonly name: string, readonly year: number, readonly bodySite: BodySite } | null, readonly matches: { readonly nodes: ReadonlyArray<{ readonly bindings: ReadonlyArray<{ readonly variable: string, readonly nodes: ReadonlyArray<
              | { readonly designator: string, readonly side: Side | null, readonly id: string, readonly board: { readonly id: string } | null, readonly category: { readonly term: string } | null }
              | { readonly id: string }
              | { readonly name: string | null, readonly id: string }
            > }> }> } | null }> } | null };

export type FoundByTextQueryVariables = Exact<{
  text: string;
}>;


export type FoundByTextQuery = { readonly findPattern: { readonly totalCount: number, readonly certainCount: number, readonly expectedCount: number, readonly isComplete: boolean, readonly note: string | null, readonly warnings: ReadonlyArray<string>, readonly facets: { readonly years: ReadonlyArray<{ readonly value: string, readonly count: number, readonly expected: number }>, readonly bodySites: ReadonlyArray<{ readonly value: string, readonly count: number, readonly expected: number }> }, readonly nodes: ReadonlyArray<{ readonly probability: number, readonly method: ProbabilityMethod, readonly low: number, readonly high: number, readonly isCertain: boolean, readonly matchCount: number, readonly device: { readonly id: string, readonly name: string, readonly year: number, readonly bodySite: BodySite } | null, readonly matches: { readonly nodes: ReadonlyArray<{ readonly bindings: ReadonlyArray<{ readonly variable: string, readonly nodes: ReadonlyArray<
              | { readonly designator: string, readonly side: Side | null, readonly id: string, readonly board: { readonly id: string } | null, readonly category: { readonly term: string } | null }
              | { readonly id: string }
              | { readonly name: string | null, readonly id: string }
            > }> }> } | null }> } | null };

export type NearMatchesQueryVariables = Exact<{
  id?: string | null | undefined;
  text?: string | null | undefined;
}>;


export type NearMatchesQuery = { readonly findPattern: { readonly nearMatches: { readonly totalCount: number, readonly isComplete: boolean, readonly note: string | null, readonly nodes: ReadonlyArray<{ readonly missing: ReadonlyArray<string>, readonly device: { readonly id: string, readonly name: string } | null }> } | null } | null };

export type FoundFragment = { readonly totalCount: number, readonly certainCount: number, readonly expectedCount: number, readonly isComplete: boolean, readonly note: string | null, readonly warnings: ReadonlyArray<string>, readonly facets: { readonly years: ReadonlyArray<{ readonly value: string, readonly count: number, readonly expected: number }>, readonly bodySites: ReadonlyArray<{ readonly value: string, readonly count: number, readonly expected: number }> }, readonly nodes: ReadonlyArray<{ readonly probability: number, readonly method: ProbabilityMethod, readonly low: number, readonly high: number, readonly isCertain: boolean, readonly matchCount: number, readonly device: { readonly id: string, readonly name: string, readonly year: number, readonly bodySite: BodySite } | null, readonly matches: { readonly nodes: ReadonlyArray<{ readonly bindings: ReadonlyArray<{ readonly variable: string, readonly nodes: ReadonlyArray<
            | { readonly designator: string, readonly side: Side | null, readonly id: string, readonly board: { readonly id: string } | null, readonly category: { readonly term: string } | null }
            | { readonly id: string }
            | { readonly name: string | null, readonly id: string }
          > }> }> } | null }> };

export const PatternPage: Question<PatternPageQuery, PatternPageQueryVariables> = {
  text: "query PatternPage($id: ID!) { pattern(id: $id) { id name idea text reasons against strength note } findPattern(id: $id, first: 60) { ...Found } } fragment Found on PatternDeviceConnection { totalCount certainCount expectedCount isComplete note warnings facets { years { value count expected } bodySites { value count expected } } nodes { probability method low high isCertain matchCount device { id name year bodySite } matches(first: 1) { nodes { bindings { variable nodes { id ... on Component { designator side board { id } category { term } } ... on Board { name } } } } } } }",
};
export const FoundByText: Question<FoundByTextQuery, FoundByTextQueryVariables> = {
  text: "query FoundByText($text: String!) { findPattern(text: $text, first: 60) { ...Found } } fragment Found on PatternDeviceConnection { totalCount certainCount expectedCount isComplete note warnings facets { years { value count expected } bodySites { value count expected } } nodes { probability method low high isCertain matchCount device { id name year bodySite } matches(first: 1) { nodes { bindings { variable nodes { id ... on Component { designator side board { id } category { term } } ... on Board { name } } } } } } }",
};
export const NearMatches: Question<NearMatchesQuery, NearMatchesQueryVariables> = {
  text: "query NearMatches($id: ID, $text: String) { findPattern(id: $id, text: $text, first: 1) { nearMatches(first: 60) { totalCount isComplete note nodes { missing device { id name } } } } }",
};
