// Written by "npm run generate" from pages/device/device.graphql; do not edit.
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

export type HatchMark =
  | 'LINES'
  | 'GRID'
  | 'DOTS';

export type Condition =
  | 'INTACT'
  | 'WORN'
  | 'DAMAGED_BEFORE'
  | 'DAMAGED_IN_OPENING';

export type BoardKind =
  | 'RIGID'
  | 'FLEX'
  | 'RIGID_FLEX'
  | 'SUBSTRATE'
  | 'MODULE';

export type Side =
  | 'TOP'
  | 'BOTTOM';

export type SubsystemKind =
  | 'SENSING'
  | 'PROCESSING'
  | 'POWER'
  | 'RADIO'
  | 'DISPLAY'
  | 'HAPTICS'
  | 'AUDIO'
  | 'STORAGE'
  | 'INTERCONNECT'
  | 'ANTENNA'
  | 'ENCLOSURE';

export type DevicePageQueryVariables = Exact<{
  id: string;
}>;


export type DevicePageQuery = { readonly device: { readonly id: string, readonly name: string, readonly year: number, readonly released: string, readonly bodySite: BodySite, readonly invented: boolean, readonly note: string | null, readonly maker: { readonly id: string, readonly name: string } | null, readonly productLine: { readonly id: string, readonly name: string } | null, readonly mass: { readonly text: string } | null, readonly price: { readonly amount: number, readonly currency: string } | null, readonly predecessors: ReadonlyArray<{ readonly id: string, readonly name: string }>, readonly successors: ReadonlyArray<{ readonly id: string, readonly name: string }>, readonly specimen: { readonly id: string, readonly condition: Condition } | null, readonly boards: ReadonlyArray<{ readonly id: string, readonly name: string | null, readonly kind: BoardKind, readonly planViews: ReadonlyArray<{ readonly side: Side, readonly width: number, readonly height: number, readonly shapes: unknown, readonly photo: { readonly address: string, readonly note: string, readonly width: number, readonly height: number, readonly at: { readonly x: number, readonly y: number } } | null, readonly hatches: ReadonlyArray<{ readonly number: number, readonly subsystem: string, readonly tile: number, readonly turn: number, readonly marks: HatchMark, readonly pen: number }> }> | null }>, readonly components: { readonly totalCount: number, readonly nodes: ReadonlyArray<{ readonly id: string, readonly designator: string, readonly side: Side | null, readonly package: string | null, readonly marking: string | null, readonly counted: boolean, readonly board: { readonly id: string } | null, readonly category: { readonly term: string, readonly probability: number } | null, readonly identification: { readonly unknown: number, readonly candidates: ReadonlyArray<{ readonly partId: string | null, readonly category: string | null, readonly probability: number, readonly part: { readonly id: string, readonly number: string, readonly maker: { readonly name: string } | null } | null }> } | null, readonly subsystem: { readonly kind: SubsystemKind, readonly name: string | null } | null }> } | null } | null };

export const DevicePage: Question<DevicePageQuery, DevicePageQueryVariables> = {
  text: "query DevicePage($id: ID!) { device(id: $id) { id name year released bodySite invented note maker { id name } productLine { id name } mass { text } price { amount currency } predecessors { id name } successors { id name } specimen { id condition } boards { id name kind planViews { side width height shapes photo { address note at { x y } width height } hatches { number subsystem tile turn marks pen } } } components(first: 500) { totalCount nodes { id designator side package marking counted board { id } category { term probability } identification { unknown candidates { partId category probability part { id number maker { name } } } } subsystem { kind name } } } } }",
};
