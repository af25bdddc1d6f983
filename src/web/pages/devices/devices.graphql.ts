// Written by "npm run generate" from pages/devices/devices.graphql; do not edit.
import type { Question } from '../../api/ask.ts';

/** Internal type. DO NOT USE DIRECTLY. */
type Exact<T extends { [key: string]: unknown }> = { [K in keyof T]: T[K] };
/** Internal type. DO NOT USE DIRECTLY. */
export type Incremental<T> = T | { [P in keyof T]?: P extends ' $fragmentName' | '__typename' ? T[P] : never };
export type Direction =
  | 'ASC'
  | 'DESC';

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

export type DeviceFilter = {
  readonly makers?: ReadonlyArray<string> | null | undefined;
  readonly productLines?: ReadonlyArray<string> | null | undefined;
  readonly bodySites?: ReadonlyArray<BodySite> | null | undefined;
  readonly releasedFrom?: string | null | undefined;
  readonly releasedTo?: string | null | undefined;
  readonly priceFrom?: number | null | undefined;
  readonly priceTo?: number | null | undefined;
  readonly currency?: string | null | undefined;
  readonly hasPart?: string | null | undefined;
  readonly hasCategory?: string | null | undefined;
};

export type DeviceOrderField =
  | 'RELEASED'
  | 'NAME'
  | 'MAKER'
  | 'ID';

export type DeviceOrder = {
  readonly field?: DeviceOrderField;
  readonly direction?: Direction;
};

export type DeviceListQueryVariables = Exact<{
  filter?: DeviceFilter | null | undefined;
  orderBy: DeviceOrder;
  first: number;
  after?: string | null | undefined;
}>;


export type DeviceListQuery = { readonly devices: { readonly totalCount: number, readonly pageInfo: { readonly endCursor: string | null, readonly hasNextPage: boolean }, readonly nodes: ReadonlyArray<{ readonly id: string, readonly name: string, readonly year: number, readonly bodySite: BodySite, readonly invented: boolean, readonly maker: { readonly name: string } | null, readonly productLine: { readonly name: string } | null, readonly specimens: ReadonlyArray<{ readonly id: string }> | null, readonly boards: ReadonlyArray<{ readonly id: string, readonly name: string | null }> }> } | null, readonly makers: { readonly nodes: ReadonlyArray<{ readonly id: string, readonly name: string }> } | null };

export const DeviceList: Question<DeviceListQuery, DeviceListQueryVariables> = {
  text: "query DeviceList($filter: DeviceFilter, $orderBy: DeviceOrder!, $first: Int!, $after: String) { devices(filter: $filter, orderBy: $orderBy, first: $first, after: $after) { totalCount pageInfo { endCursor hasNextPage } nodes { id name year bodySite invented maker { name } productLine { name } specimens { id } boards { id name } } } makers(first: 200) { nodes { id name } } }",
};
