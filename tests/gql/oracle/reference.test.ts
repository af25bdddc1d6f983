/** Counts of maps between published graphs (see the file's own words on sources); the small graphs only. */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { count } from './asking.ts';
import type { OracleGraph } from './graph.ts';

interface Shape {
  readonly nodes: number;
  readonly edges: readonly (readonly [number, number])[];
}

interface Reference {
  readonly graphs: Readonly<Record<string, Shape>>;
  readonly patterns: Readonly<Record<string, Shape>>;
  readonly counts: Readonly<
    Record<string, Readonly<Record<string, { node_distinct: number; homomorphisms: number }>>>
  >;
}

const file = new URL('../../reference/graph.json', import.meta.url);
const reference = JSON.parse(readFileSync(file, 'utf8')) as Reference;

function graphOf({ nodes, edges }: Shape): OracleGraph {
  return {
    nodes: Array.from({ length: nodes }, (_, i) => ({ id: `${i}`, labels: [] })),
    edges: edges.map(([a, b], i) => ({
      id: `e${i}`,
      source: `${a}`,
      target: `${b}`,
      label: 'E',
      directed: false,
    })),
  };
}

describe.each(['petersen', 'K6', 'C8', 'grid3x3', 'star6'])('%s', (name) => {
  const graph = graphOf(reference.graphs[name]!);
  test.each(['path3', 'path4', 'triangle', 'C4', 'claw', 'K4'])('%s', (pattern) => {
    const text = reference.patterns[pattern]!.edges.map(([a, b]) => `(n${a})~(n${b})`).join(', ');
    const expected = reference.counts[name]![pattern]!;
    expect(count(graph, text, { distinctNodes: true })).toBe(expected.node_distinct);
    expect(count(graph, `REPEATABLE ELEMENTS ${text}`)).toBe(expected.homomorphisms);
  });
});
