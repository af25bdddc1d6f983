// Written by "npm run generate" from pages/device/component.graphql; do not edit.
import type { Question } from '../../api/ask.ts';

/** Internal type. DO NOT USE DIRECTLY. */
type Exact<T extends { [key: string]: unknown }> = { [K in keyof T]: T[K] };
/** Internal type. DO NOT USE DIRECTLY. */
export type Incremental<T> = T | { [P in keyof T]?: P extends ' $fragmentName' | '__typename' ? T[P] : never };
export type EvidenceKind =
  | 'MARKING'
  | 'PACKAGE'
  | 'PIN_COUNT'
  | 'BODY_SIZE'
  | 'APPEARANCE'
  | 'BOARD_SIDE'
  | 'NEIGHBOURS'
  | 'BUSES'
  | 'PINOUT'
  | 'MAKER_HABIT'
  | 'RELEASE_DATE'
  | 'UNKNOWN_PART'
  | 'JUDGEMENT';

export type CandidateState =
  | 'ALL_BUT_CERTAIN'
  | 'LEADING'
  | 'CONTESTED'
  | 'NOT_IN_CATALOGUE';

export type NetKind =
  | 'GROUND'
  | 'POWER'
  | 'SIGNAL';

export type Side =
  | 'TOP'
  | 'BOTTOM';

export type Bus =
  | 'I2C'
  | 'I3C'
  | 'SPI'
  | 'QSPI'
  | 'UART'
  | 'I2S'
  | 'PDM'
  | 'USB'
  | 'MIPI_DSI'
  | 'SDIO'
  | 'SWD'
  | 'JTAG'
  | 'GPIO'
  | 'ANALOGUE'
  | 'POWER'
  | 'RF';

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

export type IdentificationState =
  | 'PROPOSED'
  | 'FAVOURED'
  | 'SETTLED'
  | 'WITHDRAWN';

export type PickedComponentQueryVariables = Exact<{
  id: string;
}>;


export type PickedComponentQuery = { readonly node: { readonly id: string, readonly designator: string, readonly printed: boolean, readonly side: Side | null, readonly package: string | null, readonly marking: string | null, readonly reading: number | null, readonly value: string | null, readonly pins: number | null, readonly note: string | null, readonly body: { readonly length: number, readonly width: number, readonly height: number | null } | null, readonly board: { readonly id: string, readonly name: string | null } | null, readonly pinout: ReadonlyArray<{ readonly number: string | null, readonly name: string | null, readonly net: { readonly id: string, readonly label: string | null, readonly kind: NetKind, readonly bus: Bus | null } | null }> | null, readonly identification: { readonly state: IdentificationState, readonly unknown: number, readonly by: string | null, readonly on: string | null, readonly reason: string | null, readonly candidates: ReadonlyArray<{ readonly probability: number, readonly category: string | null, readonly partId: string | null, readonly part: { readonly id: string, readonly number: string, readonly maker: { readonly name: string } | null } | null }> } | null, readonly observations: { readonly totalCount: number, readonly nodes: ReadonlyArray<{ readonly id: string, readonly kind: ObservationKind, readonly text: string | null, readonly marking: string | null, readonly method: string | null, readonly on: string | null, readonly by: string | null, readonly value: { readonly text: string } | null }> } | null } | null, readonly candidates: { readonly state: CandidateState, readonly none: number, readonly sentence: string | null, readonly parts: ReadonlyArray<{ readonly probability: number, readonly part: { readonly id: string, readonly number: string, readonly maker: { readonly name: string } | null }, readonly evidence: ReadonlyArray<{ readonly kind: EvidenceKind, readonly description: string, readonly decibans: number }> }> | null, readonly disagreement: { readonly recorded: string, readonly recordedProbability: number, readonly probability: number } | null } | null, readonly nextObservations: ReadonlyArray<{ readonly action: string, readonly bits: number, readonly minutes: number, readonly isDestructive: boolean, readonly cautions: ReadonlyArray<string> }> | null };

export type LitNetsQueryVariables = Exact<{
  board: string;
  lit: ReadonlyArray<string> | string;
}>;


export type LitNetsQuery = { readonly node: { readonly planViews: ReadonlyArray<{ readonly side: Side, readonly shapes: unknown }> | null } | null };

export const PickedComponent: Question<PickedComponentQuery, PickedComponentQueryVariables> = {
  text: "query PickedComponent($id: ID!) { node(id: $id) { ... on Component { id designator printed side package marking reading value pins note body { length width height } board { id name } pinout { number name net { id label kind bus } } identification { state unknown by on reason candidates { probability category partId part { id number maker { name } } } } observations(first: 20) { totalCount nodes { id kind text marking method on by value { text } } } } } candidates(component: $id) { state none sentence parts(first: 5) { probability part { id number maker { name } } evidence { kind description decibans } } disagreement { recorded recordedProbability probability } } nextObservations(of: $id, first: 3) { action bits minutes isDestructive cautions } }",
};
export const LitNets: Question<LitNetsQuery, LitNetsQueryVariables> = {
  text: "query LitNets($board: ID!, $lit: [ID!]!) { node(id: $board) { ... on Board { planViews(lit: $lit) { side shapes } } } }",
};
