// Written by "npm run generate" from pages/device/diagram.graphql; do not edit.
import type { Question } from '../../api/ask.ts';

/** Internal type. DO NOT USE DIRECTLY. */
type Exact<T extends { [key: string]: unknown }> = { [K in keyof T]: T[K] };
/** Internal type. DO NOT USE DIRECTLY. */
export type Incremental<T> = T | { [P in keyof T]?: P extends ' $fragmentName' | '__typename' ? T[P] : never };
export type DeviceDiagramQueryVariables = Exact<{
  id: string;
}>;


export type DeviceDiagramQuery = { readonly device: { readonly id: string, readonly name: string, readonly specimen: { readonly id: string, readonly blockDiagram: { readonly description: string } | null } | null } | null };

export const DeviceDiagram: Question<DeviceDiagramQuery, DeviceDiagramQueryVariables> = {
  text: "query DeviceDiagram($id: ID!) { device(id: $id) { id name specimen { id blockDiagram { description } } } }",
};
