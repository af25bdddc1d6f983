import { afterAll, expect, test } from 'vitest';
import { matchBySegment } from '../../src/gql/by-segment.ts';
import { defaultPool } from '../../src/gql/engine.ts';
import { PatternGraph } from '../../src/gql/graph.ts';
import type { SegmentInput } from '../../src/gql/storage/input.ts';
import { seeded } from '../bench/match-archive.ts';
import { testSeed } from '../random.ts';
import { drawSegment } from './around.ts';

// Of many matches a search hands out some, and probabilities are made of these. Two graphs with the same content must hand out the
// same ones, whatever either of them held before.

afterAll(() => defaultPool().close());

const EDGE_LABELS = ['A', 'B', 'C'];
const TEXTS = [
  'MATCH (a:A)-[:A]-(b) RETURN a',
  'MATCH (a:A|B)-[e]-(b)-[:B]-(c:!D) RETURN a',
  'MATCH (a)-[]-(h:H1|H2)-[]-(c:C) RETURN a',
  'MATCH (a:E)-[:A|C]->(b), (c:F) RETURN a',
];

function hubs(step: number): SegmentInput {
  return {
    nodes: Array.from({ length: 4 }, (_, i) => ({
      id: `hub/${i}`,
      labels: [`H${step % 3}`],
      properties: { step },
    })),
    grouped: false,
  };
}

/** Matches handed out of a segment that may have more. */
const MOST = 3;

interface HandedOut {
  readonly key: string;
  readonly matches: readonly unknown[];
  readonly further: readonly unknown[];
}

/** Matches of each segment in the order in which they are handed out, most of them not all. */
async function handedOut(graph: PatternGraph, text: string): Promise<readonly HandedOut[]> {
  const found: HandedOut[] = [];
  const segments = graph.segmentKeys();
  const options = { segments, matchesPerSegment: MOST, exactCounts: false, everyWay: 4 };
  for await (const { key, matches, further } of matchBySegment(graph, text, options))
    found.push({
      key,
      matches: matches.map(({ bindings }) => bindings),
      further: further.map(({ bindings }) => bindings),
    });
  // Rows differ: memory is given out as it comes.
  const named = (key: string, value: unknown) => (key === 'node' || key === 'edge' ? undefined : value);
  return JSON.parse(JSON.stringify(found, named));
}

test('graphs with the same content hand out the same matches in the same order, however they came about', async () => {
  const random = seeded(testSeed());
  const graph = new PatternGraph({ edgeLabels: EDGE_LABELS });
  const left = new Map<string, SegmentInput>();
  const put = (key: string, input: SegmentInput) => {
    graph.putSegment(key, input);
    left.set(key, input);
  };
  for (let round = 0; round < 4; round++) {
    for (let step = 0; step < 150; step++) {
      const key = Math.floor(random() * 90);
      if (random() < 0.15) {
        graph.removeSegment(`s${key}`);
        left.delete(`s${key}`);
      } else put(`s${key}`, drawSegment(key, random));
      if (step % 47 === 0) put('hubs', hubs(step));
    }
    const anew = new PatternGraph({ edgeLabels: EDGE_LABELS });
    for (const key of [...left.keys()].sort()) anew.putSegment(key, left.get(key)!);
    let full = 0;
    for (const text of TEXTS) {
      const [before, after] = [await handedOut(graph, text), await handedOut(anew, text)];
      expect(before, text).toEqual(after);
      full += before.filter(({ matches }) => matches.length === MOST).length;
    }
    expect(full).toBeGreaterThan(20);
  }
});
