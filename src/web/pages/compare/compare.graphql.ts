// Written by "npm run generate" from pages/compare/compare.graphql; do not edit.
import type { Question } from '../../api/ask.ts';

/** Internal type. DO NOT USE DIRECTLY. */
type Exact<T extends { [key: string]: unknown }> = { [K in keyof T]: T[K] };
/** Internal type. DO NOT USE DIRECTLY. */
export type Incremental<T> = T | { [P in keyof T]?: P extends ' $fragmentName' | '__typename' ? T[P] : never };
export type ComparisonSectionKey =
  | 'DEVICE'
  | 'SENSORS'
  | 'PROCESSORS'
  | 'RADIO'
  | 'MEMORY'
  | 'POWER'
  | 'BATTERY'
  | 'BOARDS'
  | 'MAKERS'
  | 'PARTS'
  | 'REUSE'
  | 'DECISIONS';

export type MissingFigure =
  | 'NOT_OBSERVED'
  | 'ABSENT';

export type ComponentChangeKind =
  | 'KEPT'
  | 'REPLACED'
  | 'MOVED'
  | 'ADDED'
  | 'REMOVED'
  | 'NOT_OBSERVED';

export type CompareQueryVariables = Exact<{
  ids: ReadonlyArray<string> | string;
}>;


export type CompareQuery = { readonly compareDevices: { readonly columns: ReadonlyArray<{ readonly otherSpecimens: number, readonly device: { readonly id: string, readonly name: string, readonly year: number }, readonly specimen: { readonly id: string } }>, readonly sections: ReadonlyArray<{ readonly key: ComparisonSectionKey, readonly label: string, readonly rows: ReadonlyArray<{ readonly key: string, readonly label: string, readonly unit: string, readonly meaning: string, readonly cells: ReadonlyArray<{ readonly certain: number | null, readonly expected: number | null, readonly possible: number | null, readonly missing: MissingFigure | null, readonly note: string | null }> }> }> | null } | null };

export type AlignedQueryVariables = Exact<{
  ids: ReadonlyArray<string> | string;
}>;


export type AlignedQuery = { readonly compareDevices: { readonly alignment: { readonly rows: ReadonlyArray<{ readonly role: string | null, readonly cells: ReadonlyArray<{ readonly probability: number | null, readonly component: { readonly id: string, readonly designator: string }, readonly part: { readonly number: string, readonly maker: { readonly name: string } | null } | null } | null>, readonly changes: ReadonlyArray<{ readonly change: ComponentChangeKind, readonly certainty: number, readonly reason: string } | null> }> } | null } | null };

export type DevicesToChooseQueryVariables = Exact<{
  text: string;
}>;


export type DevicesToChooseQuery = { readonly search: { readonly nodes: ReadonlyArray<{ readonly id: string, readonly title: string }> } | null };

export const Compare: Question<CompareQuery, CompareQueryVariables> = {
  text: "query Compare($ids: [ID!]!) { compareDevices(ids: $ids) { columns { device { id name year } specimen { id } otherSpecimens } sections( keys: [DEVICE, SENSORS, PROCESSORS, RADIO, MEMORY, POWER, BATTERY, BOARDS, MAKERS, PARTS, REUSE] ) { key label rows { key label unit meaning cells { certain expected possible missing note } } } } }",
};
export const Aligned: Question<AlignedQuery, AlignedQueryVariables> = {
  text: "query Aligned($ids: [ID!]!) { compareDevices(ids: $ids) { alignment { rows { role cells { probability component { id designator } part { number maker { name } } } changes { change certainty reason } } } } }",
};
export const DevicesToChoose: Question<DevicesToChooseQuery, DevicesToChooseQueryVariables> = {
  text: "query DevicesToChoose($text: String!) { search(text: $text, kinds: [DEVICE], first: 20) { nodes { id title } } }",
};
