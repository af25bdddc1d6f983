// Written by "npm run generate" from pages/publications/publications.graphql; do not edit.
import type { Question } from '../../api/ask.ts';

/** Internal type. DO NOT USE DIRECTLY. */
type Exact<T extends { [key: string]: unknown }> = { [K in keyof T]: T[K] };
/** Internal type. DO NOT USE DIRECTLY. */
export type Incremental<T> = T | { [P in keyof T]?: P extends ' $fragmentName' | '__typename' ? T[P] : never };
export type ClaimFindingKind =
  | 'OVERSTATED'
  | 'UNDERSTATED'
  | 'UNSUPPORTED'
  | 'CONTRADICTED'
  | 'WITHDRAWN';

export type PublicationKind =
  | 'ARTICLE'
  | 'VIDEO'
  | 'NEWSLETTER'
  | 'FIGURE';

export type Visibility =
  | 'PUBLISHED'
  | 'DRAFT'
  | 'EMBARGOED';

export type PublicationListQueryVariables = Exact<{
  first: number;
  after?: string | null | undefined;
}>;


export type PublicationListQuery = { readonly publications: { readonly totalCount: number, readonly pageInfo: { readonly endCursor: string | null, readonly hasNextPage: boolean }, readonly nodes: ReadonlyArray<{ readonly id: string, readonly title: string, readonly kind: PublicationKind, readonly published: string | null, readonly visibility: Visibility }> } | null };

export type PublicationPageQueryVariables = Exact<{
  id: string;
}>;


export type PublicationPageQuery = { readonly publication: { readonly id: string, readonly title: string, readonly kind: PublicationKind, readonly published: string | null, readonly visibility: Visibility, readonly note: string | null, readonly claims: ReadonlyArray<{ readonly id: string, readonly sentence: string, readonly supportedBy: ReadonlyArray<
        | { readonly __typename: 'Component', readonly designator: string, readonly id: string, readonly device: { readonly id: string, readonly name: string } | null }
        | { readonly __typename: 'Decision', readonly name: string, readonly id: string, readonly device: { readonly id: string, readonly name: string } | null }
        | { readonly __typename: 'Device', readonly name: string, readonly id: string }
        | { readonly __typename: 'Feed', readonly id: string }
        | { readonly __typename: 'Maker', readonly id: string }
        | { readonly __typename: 'ProductLine', readonly id: string }
        | { readonly __typename: 'Net', readonly id: string }
        | { readonly __typename: 'Part', readonly id: string }
        | { readonly __typename: 'Pattern', readonly id: string }
        | { readonly __typename: 'Publication', readonly id: string }
        | { readonly __typename: 'Claim', readonly id: string }
        | { readonly __typename: 'Source', readonly title: string, readonly url: string | null, readonly id: string }
        | { readonly __typename: 'Specimen', readonly id: string }
        | { readonly __typename: 'Teardown', readonly id: string }
        | { readonly __typename: 'Board', readonly id: string }
        | { readonly __typename: 'Subsystem', readonly id: string }
        | { readonly __typename: 'Observation', readonly text: string | null, readonly id: string, readonly specimen: { readonly device: { readonly id: string, readonly name: string } | null } }
        | { readonly __typename: 'Photo', readonly id: string }
      > | null }> } | null, readonly auditClaims: { readonly nodes: ReadonlyArray<{ readonly probability: number | null, readonly likelihoodWords: string | null, readonly low: number, readonly high: number, readonly proposal: string | null, readonly notChecked: ReadonlyArray<string>, readonly claim: { readonly id: string }, readonly findings: ReadonlyArray<{ readonly kind: ClaimFindingKind, readonly message: string }> }> } | null };

export const PublicationList: Question<PublicationListQuery, PublicationListQueryVariables> = {
  text: "query PublicationList($first: Int!, $after: String) { publications(first: $first, after: $after) { totalCount pageInfo { endCursor hasNextPage } nodes { id title kind published visibility } } }",
};
export const PublicationPage: Question<PublicationPageQuery, PublicationPageQueryVariables> = {
  text: "query PublicationPage($id: ID!) { publication(id: $id) { id title kind published visibility note claims { id sentence supportedBy { __typename id ... on Component { designator device { id name } } ... on Device { name } ... on Decision { name device { id name } } ... on Observation { text specimen { device { id name } } } ... on Source { title url } } } } auditClaims(publication: $id, includeFitting: true, first: 200) { nodes { claim { id } probability likelihoodWords low high proposal notChecked findings { kind message } } } }",
};
