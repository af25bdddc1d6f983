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
        | (
          { readonly designator: string, readonly id: string, readonly device: { readonly id: string, readonly name: string } | null }
          & { readonly __typename: 'Component' }
        )
        | (
          { readonly name: string, readonly id: string, readonly device: { readonly id: string, readonly name: string } | null }
          & { readonly __typename: 'Decision' }
        )
        | (
          { readonly name: string, readonly id: string }
          & { readonly __typename: 'Device' }
        )
        | (
          { readonly id: string }
          & { readonly __typename: 'Feed' | 'ListMapping' | 'Maker' | 'ProductLine' | 'Net' | 'Part' | 'Pattern' | 'Publication' | 'Claim' | 'Specimen' | 'Teardown' | 'Board' | 'Subsystem' | 'Photo' }
        )
        | (
          { readonly title: string, readonly url: string | null, readonly id: string }
          & { readonly __typename: 'Source' }
        )
        | (
          { readonly text: string | null, readonly id: string, readonly specimen: { readonly device: { readonly id: string, readonly name: string } | null } }
          & { readonly __typename: 'Observation' }
        )
      > | null }> } | null, readonly auditClaims: { readonly nodes: ReadonlyArray<{ readonly probability: number | null, readonly likelihoodWords: string | null, readonly low: number, readonly high: number, readonly proposal: string | null, readonly notChecked: ReadonlyArray<string>, readonly claim: { readonly id: string }, readonly findings: ReadonlyArray<{ readonly kind: ClaimFindingKind, readonly message: string }> }> } | null };

export const PublicationList: Question<PublicationListQuery, PublicationListQueryVariables> = {
  text: "query PublicationList($first: Int!, $after: String) { publications(first: $first, after: $after) { totalCount pageInfo { endCursor hasNextPage } nodes { id title kind published visibility } } }",
};
export const PublicationPage: Question<PublicationPageQuery, PublicationPageQueryVariables> = {
  text: "query PublicationPage($id: ID!) { publication(id: $id) { id title kind published visibility note claims { id sentence supportedBy { __typename id ... on Component { designator device { id name } } ... on Device { name } ... on Decision { name device { id name } } ... on Observation { text specimen { device { id name } } } ... on Source { title url } } } } auditClaims(publication: $id, includeFitting: true, first: 200) { nodes { claim { id } probability likelihoodWords low high proposal notChecked findings { kind message } } } }",
};
