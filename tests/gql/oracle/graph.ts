/** A property graph in plain arrays, and what expressions ask of it. */
import type {
  EdgeReference,
  ElementAccess,
  ElementReference,
  NodeReference,
} from '../../../src/gql/expression/value.ts';
import { valueOfProperty } from '../../../src/gql/expression/value.ts';

export interface OracleNode {
  readonly id: string;
  /** All labels: super-labels are not worked out here. */
  readonly labels: readonly string[];
  readonly properties?: Readonly<Record<string, unknown>>;
}

export interface OracleEdge {
  readonly id: string;
  readonly source: string;
  readonly target: string;
  readonly label?: string | undefined;
  readonly directed: boolean;
  readonly properties?: Readonly<Record<string, unknown>>;
}

export interface OracleGraph {
  readonly nodes: readonly OracleNode[];
  readonly edges: readonly OracleEdge[];
}

/** The graph by id. */
export class Elements implements ElementAccess {
  readonly nodes: ReadonlyMap<string, OracleNode>;
  readonly edges: ReadonlyMap<string, OracleEdge>;

  constructor(graph: OracleGraph) {
    this.nodes = new Map(graph.nodes.map((node) => [node.id, node]));
    this.edges = new Map(graph.edges.map((edge) => [edge.id, edge]));
  }

  property(element: ElementReference, key: string) {
    const properties = this.#element(element).properties ?? {};
    return Object.hasOwn(properties, key) ? valueOfProperty(properties[key]) : null;
  }

  labels(element: ElementReference): readonly string[] {
    if (element.kind === 'node') return this.nodes.get(String(element.key))!.labels;
    const { label } = this.edges.get(String(element.key))!;
    return label === undefined ? [] : [label];
  }

  hasLabel(element: ElementReference, label: string): boolean {
    return this.labels(element).includes(label);
  }

  isDirected({ key }: EdgeReference): boolean {
    return this.edges.get(String(key))!.directed;
  }

  ends({ key }: EdgeReference): { readonly source: NodeReference; readonly target: NodeReference } {
    const { source, target } = this.edges.get(String(key))!;
    return { source: { kind: 'node', key: source }, target: { kind: 'node', key: target } };
  }

  id({ key }: ElementReference): string {
    return String(key);
  }

  #element({ kind, key }: ElementReference): OracleNode | OracleEdge {
    return (kind === 'node' ? this.nodes : this.edges).get(String(key))!;
  }
}
