// What of graphml-js the tests use; it comes without types.
declare module 'graphml-js' {
  interface Element {
    readonly id: string;
    readonly attributes: Readonly<Record<string, unknown>>;
  }
  export interface Graph {
    readonly nodes: readonly Element[];
    readonly edges: readonly (Element & { readonly source: string; readonly target: string })[];
  }
  export class GraphMLParser {
    parse(text: string, done: (error: Error | null, graph: Graph) => void): void;
  }
}
