import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, test } from 'vitest';

const folder = mkdtempSync(join(tmpdir(), 'caseback-pattern-'));
afterAll(() => rmSync(folder, { recursive: true }));
const main = join(import.meta.dirname, '../../src/cli/main.ts');
const nodes = join(folder, 'nodes.csv');
const edges = join(folder, 'edges.csv');
writeFileSync(nodes, 'id,labels,people\na,Town,900\nb,Town,20\nc,Lake,\n');
writeFileSync(edges, 'source,target,label,directed\na,b,ROAD,false\nb,c,PATH,true\n');
const graph = ['--nodes', nodes, '--edges', edges];

test('a pattern runs on any graph given as CSV', () => {
  const text =
    'MATCH (x:Town)~[:ROAD]~(y) WHERE x.people > 100 RETURN x.people AS people, y.people AS others';
  const out = execFileSync(process.execPath, [main, 'pattern', text, ...graph], { encoding: 'utf8' });
  expect(out).toBe('people\tothers\n900\t20\n');
});

test('the plan says what was expected and what was found', () => {
  const out = execFileSync(
    process.execPath,
    [main, 'pattern', 'MATCH (x:Town)-[:PATH]->(y) RETURN y', '--explain', ...graph],
    {
      encoding: 'utf8',
    },
  );
  expect(out).toMatch(/expected .* found/u);
  expect(out).toMatch(/1 match/u);
});

test('a mistyped pattern gets its place, a caret and the near name; exit code 1', () => {
  const { status, stderr } = spawnSync(process.execPath, [main, 'pattern', 'MATCH (x) RETUR x', ...graph], {
    encoding: 'utf8',
  });
  expect(status).toBe(1);
  expect(stderr).toContain('Line 1, column 11');
  expect(stderr).toContain('RETURN');
  expect(stderr).toContain('^^^^^');
});
