// Written by "npm run generate" from pages/device/decisions.graphql; do not edit.
import type { Question } from '../../api/ask.ts';

/** Internal type. DO NOT USE DIRECTLY. */
type Exact<T extends { [key: string]: unknown }> = { [K in keyof T]: T[K] };
/** Internal type. DO NOT USE DIRECTLY. */
export type Incremental<T> = T | { [P in keyof T]?: P extends ' $fragmentName' | '__typename' ? T[P] : never };
export type DecisionStanding =
  | 'PROPOSED'
  | 'ENDORSED'
  | 'DOUBTED'
  | 'REJECTED'
  | 'REOPENED';

export type CheckVerdict =
  | 'SUPPORTS'
  | 'NEUTRAL'
  | 'SPEAKS_AGAINST';

export type DeviceDecisionsQueryVariables = Exact<{
  id: string;
}>;


export type DeviceDecisionsQuery = { readonly device: { readonly id: string, readonly name: string, readonly decisions: { readonly totalCount: number, readonly nodes: ReadonlyArray<{ readonly id: string, readonly name: string, readonly idea: string, readonly probability: number, readonly shape: number, readonly strength: number, readonly likelihood: string, readonly standing: DecisionStanding, readonly matchCount: number, readonly reasons: ReadonlyArray<string>, readonly against: ReadonlyArray<string>, readonly pattern: { readonly id: string } | null, readonly supportedBy: ReadonlyArray<
          | { readonly designator: string, readonly id: string }
          | { readonly id: string }
          | { readonly name: string | null, readonly id: string }
        > | null, readonly check: { readonly probability: number, readonly problem: string | null, readonly check: { readonly title: string }, readonly missing: ReadonlyArray<{ readonly name: string }>, readonly result: { readonly sentence: string, readonly verdict: CheckVerdict, readonly notes: ReadonlyArray<string> } | null } | null }> } | null } | null };

export const DeviceDecisions: Question<DeviceDecisionsQuery, DeviceDecisionsQueryVariables> = {
  text: "query DeviceDecisions($id: ID!) { device(id: $id) { id name decisions(first: 100) { totalCount nodes { id name idea probability shape strength likelihood standing matchCount reasons against pattern { id } supportedBy { id ... on Component { designator } ... on Board { name } } check { check { title } probability problem missing { name } result { sentence verdict notes } } } } } }",
};
