// Written by "npm run generate" from pages/device/record.graphql; do not edit.
import type { Question } from '../../api/ask.ts';

/** Internal type. DO NOT USE DIRECTLY. */
type Exact<T extends { [key: string]: unknown }> = { [K in keyof T]: T[K] };
/** Internal type. DO NOT USE DIRECTLY. */
export type Incremental<T> = T | { [P in keyof T]?: P extends ' $fragmentName' | '__typename' ? T[P] : never };
export type Condition =
  | 'INTACT'
  | 'WORN'
  | 'DAMAGED_BEFORE'
  | 'DAMAGED_IN_OPENING';

export type Visibility =
  | 'PUBLISHED'
  | 'DRAFT'
  | 'EMBARGOED';

export type ObservationKind =
  | 'MARKING'
  | 'PACKAGE'
  | 'BODY_SIZE'
  | 'PIN_COUNT'
  | 'TRACE'
  | 'POSITION'
  | 'APPEARANCE'
  | 'MEASUREMENT'
  | 'PROBE'
  | 'X_RAY'
  | 'CONDITION';

export type DeviceRecordQueryVariables = Exact<{
  id: string;
}>;


export type DeviceRecordQuery = { readonly device: { readonly id: string, readonly name: string, readonly specimens: ReadonlyArray<{ readonly id: string, readonly revision: string | null, readonly bought: string | null, readonly region: string | null, readonly condition: Condition, readonly visibility: Visibility, readonly note: string | null, readonly teardown: { readonly on: string, readonly by: string, readonly place: string | null, readonly cautions: ReadonlyArray<string>, readonly steps: ReadonlyArray<{ readonly number: number, readonly do: string, readonly tool: string | null, readonly minutes: number | null, readonly isDestructive: boolean, readonly cautions: ReadonlyArray<string> }> }, readonly photos: ReadonlyArray<{ readonly id: string, readonly caption: string | null, readonly credit: string, readonly licence: string, readonly picture: { readonly widthPx: number, readonly heightPx: number, readonly address: string } | null }>, readonly observations: { readonly totalCount: number, readonly nodes: ReadonlyArray<{ readonly id: string, readonly kind: ObservationKind, readonly text: string | null, readonly marking: string | null, readonly on: string | null, readonly by: string | null, readonly method: string | null, readonly value: { readonly text: string } | null, readonly about: ReadonlyArray<
            | { readonly designator: string, readonly id: string }
            | { readonly id: string }
            | { readonly name: string | null, readonly id: string }
          >, readonly correctedBy: ReadonlyArray<{ readonly id: string }> }> } | null }> | null } | null };

export const DeviceRecord: Question<DeviceRecordQuery, DeviceRecordQueryVariables> = {
  text: "query DeviceRecord($id: ID!) { device(id: $id) { id name specimens { id revision bought region condition visibility note teardown { on by place cautions steps { number do tool minutes isDestructive cautions } } photos { id caption credit licence picture { widthPx heightPx address } } observations(first: 200) { totalCount nodes { id kind text marking on by method value { text } about { id ... on Component { designator } ... on Board { name } } correctedBy { id } } } } } }",
};
