import { readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { afterAll, expect, test } from 'vitest';
import { countPattern, defaultPool } from '../../src/gql/engine.ts';
import { PatternGraph } from '../../src/gql/graph.ts';
import { DEEPEST_TREE } from '../../src/gql/language/limits.ts';
import { TREES } from '../../src/gql/workers/protocol.ts';

// Each thread of the pool loads what it imports anew, so that it must need little: it is handed trees, and reads no text.

const IMPORT = /^(?:import|export)(?!\s+type\b)\s[^;]*?from\s+'([^']+)';/gmu;

test('the thread that runs queries loads no parser', () => {
  const files = new Set<string>();
  const packages = new Set<string>();
  const visit = (file: string) => {
    if (files.has(file)) return;
    files.add(file);
    for (const [, from] of readFileSync(file, 'utf8').matchAll(IMPORT)) {
      if (from?.startsWith('.')) visit(join(dirname(file), from));
      else packages.add(from as string);
    }
  };
  visit(join(import.meta.dirname, '../../src/gql/workers/worker.ts'));
  expect([...packages].sort()).toEqual(['lru-cache', 'node:worker_threads']);
});

afterAll(() => defaultPool().close());

const graph = new PatternGraph();
graph.putSegment('one', {
  nodes: Array.from({ length: 7 }, (_, n) => ({ id: `n${n}`, labels: ['Thing'], properties: { n } })),
  edges: [],
});
const asked = async (text: string) => (await countPattern(graph, text, { where: 'workers' })).count;

test('texts asked again on other threads answer the same, more of them than are kept there', async () => {
  const above = (n: number) => asked(`MATCH (a:Thing) WHERE a.n >= ${n % 8} AND a.n < ${100 + n} RETURN a`);
  for (let round = 0; round < 2; round++)
    for (let n = 0; n < TREES + 20; n++) expect(await above(n)).toBe(7 - (n % 8));
  // One that is asked between others stays, and one that was crowded out comes again.
  expect([await above(0), await above(TREES + 19), await above(0)]).toEqual([7, 7 - ((TREES + 19) % 8), 7]);
});

test('the deepest tree goes to another thread whole', async () => {
  const sum = `a.n${' + 1'.repeat(DEEPEST_TREE - 20)}`;
  expect(await asked(`MATCH (a:Thing) WHERE ${sum} > ${DEEPEST_TREE - 20} RETURN a`)).toBe(6);
});
