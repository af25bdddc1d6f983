// Drawn segments, and what is around each node: by the inputs alone, and by the columns of a graph.
import type { PatternGraph } from '../../src/gql/graph.ts';
import { entriesWith } from '../../src/gql/search/entries.ts';
import { Run } from '../../src/gql/search/stage.ts';
import { Entering } from '../../src/gql/storage/entering.ts';
import type {
  EdgeInput,
  LabelInput,
  NodeInput,
  Properties,
  SegmentInput,
} from '../../src/gql/storage/input.ts';
import { S } from '../../src/gql/storage/store.ts';

const LABELS = ['A', 'B', 'C', 'D', 'E', 'F'];

/** A segment whose edges lead to its own nodes, to nodes of other segments, there or not, and between others. */
export function drawSegment(key: number, random: () => number): SegmentInput {
  const below = (n: number) => Math.floor(random() * n);
  const size = 1 + below(12);
  const nodes: NodeInput[] = Array.from({ length: size }, (_, i) => ({
    id: `${below(9) === 0 ? 'ö' : 's'}${key}/${i}`,
    labels: LABELS.filter(() => random() < 0.25).map((label) =>
      random() < 0.2 ? { label, weight: 0.5 } : label,
    ),
    properties: random() < 0.5 ? { x: below(50) / 4, name: `n${below(30)}` } : { old: random() < 0.5 },
  }));
  const any = () => {
    const u = random();
    if (u < 0.5) return nodes[below(size)]!.id;
    return u < 0.7 ? `hub/${below(4)}` : `s${below(150)}/${below(12)}`;
  };
  const edges: EdgeInput[] = Array.from({ length: below(30) }, (_, i) => ({
    id: `${key}.${i}`,
    source: any(),
    target: any(),
    label: LABELS[below(3)],
    directed: random() < 0.6,
    ...(random() < 0.3 ? { properties: { weight: below(5), name: `e${below(5)}` } } : {}),
  }));
  return { nodes, edges };
}

/**
 * Of each node what the inputs say: its labels and properties, and the edges with both ends there, once for each end, and an undirected loop once.
 * Reads nothing but the inputs.
 */
export function expected(inputs: Iterable<SegmentInput>): Map<string, string[]> {
  const around = new Map<string, string[]>();
  const all = [...inputs];
  for (const { nodes } of all)
    for (const { id, labels, properties } of nodes) {
      const names = [...(labels as readonly LabelInput[])].map((label) =>
        typeof label === 'string' ? `${label} 1` : `${label.label} ${label.weight}`,
      );
      around.set(id, [`${names.sort().join()} ${inOrder(properties ?? {})}`]);
    }
  for (const { edges = [] } of all)
    for (const { id, source, target, label, directed = true, properties = {} } of edges) {
      const from = around.get(source);
      const to = around.get(target);
      if (!from || !to) continue;
      const rest = `${label} ${id} ${inOrder(properties)}`;
      from.push(`${directed ? '->' : '~'} ${target} ${rest}`);
      if (directed || source !== target) to.push(`${directed ? '<-' : '~'} ${source} ${rest}`);
    }
  for (const list of around.values()) list.sort();
  return around;
}

function inOrder(properties: Properties): string {
  return JSON.stringify(Object.entries(properties).sort(([a], [b]) => (a < b ? -1 : 1)));
}

/** The same from the columns of a graph. */
export function found(graph: PatternGraph): Map<string, string[]> {
  const { store } = graph;
  const run = new Run(0, { deadline: Infinity, steps: 1e9, bytes: 1e9, cancelled: () => false });
  const visible = graph.visible();
  const entering = new Entering(store, visible, graph.segmentRanks().rank);
  const around = new Map<string, string[]>();
  const walks = ['->', '<-', '~'].map((sign, direction) => {
    const codes = store.catalog.edgeLabels.map((_, label) => label * 3 + direction);
    return { sign, walk: entriesWith({ store, visible, entering, run }, codes) };
  });
  for (const key of graph.segmentKeys()) {
    const slot = graph.segmentSlot(key)!;
    const first = store.segmentField(slot, S.nodes);
    for (let node = first; node < first + store.segmentField(slot, S.nodeCount); node++) {
      const names = store.nodeLabels(node).map(({ label, weight }) => `${label} ${weight}`);
      const list = [`${names.sort().join()} ${inOrder(store.nodeProperties(node))}`];
      for (const { sign, walk } of walks)
        walk(node, (other, edge) => {
          const properties = inOrder(store.edgeProperties(edge));
          list.push(
            `${sign} ${store.nodeId(other)} ${store.edgeLabel(edge)} ${store.edgeId(edge)} ${properties}`,
          );
          return true;
        });
      around.set(store.nodeId(node), list.sort());
    }
  }
  return around;
}
