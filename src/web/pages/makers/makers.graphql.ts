// Written by "npm run generate" from pages/makers/makers.graphql; do not edit.
import type { Question } from '../../api/ask.ts';

/** Internal type. DO NOT USE DIRECTLY. */
type Exact<T extends { [key: string]: unknown }> = { [K in keyof T]: T[K] };
/** Internal type. DO NOT USE DIRECTLY. */
export type Incremental<T> = T | { [P in keyof T]?: P extends ' $fragmentName' | '__typename' ? T[P] : never };
export type Makes =
  | 'DEVICES'
  | 'PARTS';

export type MakerPageQueryVariables = Exact<{
  id: string;
}>;


export type MakerPageQuery = { readonly maker: { readonly id: string, readonly name: string, readonly makes: ReadonlyArray<Makes>, readonly country: string | null, readonly invented: boolean, readonly note: string | null, readonly productLines: { readonly nodes: ReadonlyArray<{ readonly id: string, readonly name: string }> } | null, readonly devices: { readonly totalCount: number, readonly nodes: ReadonlyArray<{ readonly id: string, readonly name: string, readonly year: number }> } | null, readonly parts: { readonly totalCount: number, readonly nodes: ReadonlyArray<{ readonly id: string, readonly number: string, readonly name: string | null, readonly categories: ReadonlyArray<string> }> } | null } | null };

export type LinePageQueryVariables = Exact<{
  id: string;
}>;


export type LinePageQuery = { readonly generations: { readonly productLine: { readonly id: string, readonly name: string, readonly maker: { readonly id: string, readonly name: string } | null }, readonly generations: ReadonlyArray<{ readonly number: number, readonly device: { readonly id: string, readonly name: string, readonly released: string, readonly boards: ReadonlyArray<{ readonly id: string }> } }>, readonly chart: { readonly title: string, readonly subtitle: string, readonly n: string, readonly description: string, readonly columns: ReadonlyArray<string>, readonly rows: ReadonlyArray<ReadonlyArray<string>>, readonly cautions: ReadonlyArray<string>, readonly vegaLite: unknown, readonly svg: string | null } | null, readonly figures: { readonly title: string, readonly subtitle: string, readonly n: string, readonly description: string, readonly columns: ReadonlyArray<string>, readonly rows: ReadonlyArray<ReadonlyArray<string>>, readonly cautions: ReadonlyArray<string>, readonly vegaLite: unknown, readonly svg: string | null } | null } | null };

export type LineChartFragment = { readonly title: string, readonly subtitle: string, readonly n: string, readonly description: string, readonly columns: ReadonlyArray<string>, readonly rows: ReadonlyArray<ReadonlyArray<string>>, readonly cautions: ReadonlyArray<string>, readonly vegaLite: unknown, readonly svg: string | null };

export const MakerPage: Question<MakerPageQuery, MakerPageQueryVariables> = {
  text: "query MakerPage($id: ID!) { maker(id: $id) { id name makes country invented note productLines(first: 200) { nodes { id name } } devices(first: 200, orderBy: {field: RELEASED, direction: DESC}) { totalCount nodes { id name year } } parts(first: 200) { totalCount nodes { id number name categories } } } }",
};
export const LinePage: Question<LinePageQuery, LinePageQueryVariables> = {
  text: "query LinePage($id: ID!) { generations(productLine: $id) { productLine { id name maker { id name } } generations { number device { id name released boards { id } } } chart { ...LineChart } figures: chart(of: FIGURES) { ...LineChart } } } fragment LineChart on Chart { title subtitle n description columns rows cautions vegaLite svg }",
};
