// Written by "npm run generate" from pages/structures/structures.graphql; do not edit.
import type { Question } from '../../api/ask.ts';

/** Internal type. DO NOT USE DIRECTLY. */
type Exact<T extends { [key: string]: unknown }> = { [K in keyof T]: T[K] };
/** Internal type. DO NOT USE DIRECTLY. */
export type Incremental<T> = T | { [P in keyof T]?: P extends ' $fragmentName' | '__typename' ? T[P] : never };
export type StructureOrder =
  | 'SURPRISE'
  | 'LIFT'
  | 'SUPPORT'
  | 'YEAR';

export type StructureListQueryVariables = Exact<{
  order: StructureOrder;
  onlyUnnamed: boolean;
  without: ReadonlyArray<string> | string;
}>;


export type StructureListQuery = { readonly structures: { readonly found: number, readonly devices: number, readonly minSupport: number, readonly isComplete: boolean, readonly cautions: ReadonlyArray<string>, readonly structures: ReadonlyArray<{ readonly words: string, readonly text: string, readonly support: number, readonly share: number, readonly possible: number, readonly expected: number, readonly shareInterval: { readonly low: number, readonly high: number }, readonly chance: { readonly expected: number, readonly lift: number | null, readonly liftInterval: { readonly low: number, readonly high: number } | null }, readonly year: { readonly q: number, readonly slope: number } | null, readonly knownAs: ReadonlyArray<{ readonly share: number, readonly pattern: { readonly id: string, readonly name: string } }>, readonly devices: { readonly totalCount: number, readonly nodes: ReadonlyArray<{ readonly id: string, readonly name: string }> } | null }> } | null };

export const StructureList: Question<StructureListQuery, StructureListQueryVariables> = {
  text: "query StructureList($order: StructureOrder!, $onlyUnnamed: Boolean!, $without: [String!]!) { structures( order: $order onlyUnnamed: $onlyUnnamed without: $without first: 40 ) { found devices minSupport isComplete cautions structures { words text support share shareInterval { low high } possible expected chance { expected lift liftInterval { low high } } year { q slope } knownAs { share pattern { id name } } devices(first: 6) { totalCount nodes { id name } } } } }",
};
