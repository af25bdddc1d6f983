/**
 * Searches by the value of a property: the same as loops over what was put in, whatever has been replaced since, and
 * as quick plans as with labels.
 */
import { afterAll, describe, expect, test } from 'vitest';
import { countPattern, defaultPool } from '../../src/gql/engine.ts';
import { explainPattern } from '../../src/gql/explain.ts';
import { PatternGraph } from '../../src/gql/graph.ts';
import { ValueLists } from '../../src/gql/search/value-lists.ts';
import type { NodeInput, SegmentInput } from '../../src/gql/storage/input.ts';
import { seeded } from '../bench/match-archive.ts';
import { CATEGORY, deviceSegment, flatTables, partsSegment } from '../bench/match-flat-archive.ts';
import { FLAT_PATTERNS, flatText } from '../bench/match-flat-patterns.ts';

afterAll(() => defaultPool().close());

describe.each(['property', 'label'] as const)('a flat archive with categories as %s', (style) => {
  const t = flatTables(250, 60);
  const graph = new PatternGraph();
  graph.putSegment('parts', partsSegment(t));
  for (let d = 0; d < t.devices; d++) graph.putSegment(`d${d}`, deviceSegment(t, d, style));

  test.each(FLAT_PATTERNS.map((p) => [p.name, p] as const))(
    '%s: as many as loops by hand',
    async (_, pattern) => {
      const expected = pattern.loops(t);
      for (const options of [{}, { where: 'workers' as const }, { strategy: 'candidates' as const }])
        expect((await countPattern(graph, flatText(pattern, style), options)).count).toBe(expected);
    },
  );

  test('a search by candidate sets that was cut short leaves nothing for the next one', async () => {
    const how = { strategy: 'candidates', where: 'here' } as const;
    const shortages = new Set<unknown>();
    for (const cut of FLAT_PATTERNS)
      for (const steps of [1, 2_000, 4_000, 8_000]) {
        const text = flatText(cut, style);
        shortages.add((await countPattern(graph, text, { ...how, budgets: { steps } })).shortage);
        for (const pattern of FLAT_PATTERNS) {
          const { count } = await countPattern(graph, flatText(pattern, style), how);
          expect(count, `${pattern.name} after ${cut.name}`).toBe(pattern.loops(t));
        }
      }
    expect(shortages).toContain('steps');
  });
});

interface Thing {
  readonly kind: string | number | boolean | undefined;
  readonly size: number;
}

/** A hub with things around it: `(hub)<-[:OF]-(thing)`. */
function star(key: string, things: readonly Thing[]): SegmentInput {
  const nodes: NodeInput[] = [{ id: `${key}/hub`, labels: ['Hub'], properties: { kind: 'a' } }];
  things.forEach(({ kind, size }, i) => {
    const labels = size % 2 === 0 ? ['Even'] : [];
    nodes.push({ id: `${key}/${i}`, labels, properties: { size, ...(kind === undefined ? {} : { kind }) } });
  });
  const edges = things.map((_, i) => ({ source: `${key}/${i}`, target: `${key}/hub`, label: 'OF' }));
  return { nodes, edges };
}

describe('values of several types in segments that are replaced', () => {
  const KINDS = ['a', 'b', 'c', 'd', 'e', '1', 'true', 1, 2, 0, true, false, undefined];
  const random = seeded(99);
  const pick = <T>(list: readonly T[]): T => list[Math.floor(random() * list.length)]!;
  const things = (): Thing[] =>
    Array.from({ length: Math.floor(random() * 40) }, () => ({
      kind: pick(KINDS),
      size: pick([1, 2, 3, 4]),
    }));
  const graph = new PatternGraph();
  const held = new Map<string, Thing[]>();
  const put = (key: string) => {
    const made = things();
    held.set(key, made);
    graph.putSegment(key, star(key, made));
  };
  for (let s = 0; s < 40; s++) put(`s${s}`);

  /** Texts, and how many matches a hub's things make. */
  const asked: readonly (readonly [string, (list: readonly Thing[]) => number])[] = [
    ["(x:!Hub WHERE x.kind = 'a')", (list) => list.filter(({ kind }) => kind === 'a').length],
    ['(x WHERE x.kind = 1)', (list) => list.filter(({ kind }) => kind === 1).length],
    ['(x WHERE x.kind = TRUE)', (list) => list.filter(({ kind }) => kind === true).length],
    ["(x WHERE x.kind = '1')", (list) => list.filter(({ kind }) => kind === '1').length],
    ["(x WHERE x.kind = 'never')", () => 0],
    [
      "(x:Even WHERE x.kind = 'b' AND x.size = 4)",
      (list) => list.filter(({ kind, size }) => kind === 'b' && size === 4).length,
    ],
    [
      "(x WHERE x.kind = 'c')-[:OF]->(h)<-[:OF]-(y WHERE y.kind = 'd')",
      (list) =>
        list.filter(({ kind }) => kind === 'c').length * list.filter(({ kind }) => kind === 'd').length,
    ],
    [
      "(x WHERE x.kind = 'c')-[:OF]->(h)<-[:OF]-(y WHERE y.kind = 'c')",
      (list) => {
        const n = list.filter(({ kind }) => kind === 'c').length;
        return n * (n - 1);
      },
    ],
    [
      '(h:Hub) WHERE NOT EXISTS { MATCH (h)<-[:OF]-(y WHERE y.kind = 2) }',
      (list) => (list.some(({ kind }) => kind === 2) ? 0 : 1),
    ],
  ];

  test('equal loops over the input', async () => {
    for (let round = 0; round < 12; round++) {
      for (const [pattern, matches] of asked) {
        const expected = [...held.values()].reduce((sum, list) => sum + matches(list), 0);
        for (const where of ['here', 'workers'] as const) {
          const { count } = await countPattern(graph, `MATCH ${pattern} RETURN COUNT(*) AS n`, { where });
          expect([round, pattern, where, count]).toEqual([round, pattern, where, expected]);
        }
      }
      for (let i = 0; i < 10; i++) put(`s${Math.floor(random() * 44)}`);
      const gone = `s${Math.floor(random() * 44)}`;
      graph.removeSegment(gone);
      held.delete(gone);
    }
  });

  test('lists of replaced segments are given up', () => {
    const key = graph.store.catalog.findKey('kind');
    const lists = new ValueLists({
      key,
      name: 'kind',
      storage: 'string',
      value: graph.store.strings.find('a'),
    });
    const many = Array.from({ length: 2000 }, () => ({ kind: 'a', size: 1 }));
    let before = lists.rows;
    let anew = 0;
    for (let round = 0; round < 12; round++) {
      graph.putSegment('large', star('large', many));
      const segments = graph.snapshot();
      lists.fit(segments.visible.length);
      if (lists.rows !== before && round > 0) anew++;
      before = lists.rows;
      segments.visible.forEach((flag, segment) => {
        if (flag === 1) lists.find(segment, graph.store);
      });
      segments.release();
    }
    expect(anew).toBeGreaterThan(1);
    // The hub is one of them.
    expect(lists.list.length).toBeLessThan(20_000);
    graph.removeSegment('large');
  });
});

test('a rare value is where the search begins, and how far nodes are looked for', async () => {
  const t = flatTables(100, 60);
  const graph = new PatternGraph();
  graph.putSegment('parts', partsSegment(t));
  for (let d = 0; d < t.devices; d++) graph.putSegment(`d${d}`, deviceSegment(t, d, 'property'));
  const pattern = FLAT_PATTERNS.find(({ name }) => name.startsWith('one accelerometer twice'))!;
  const { text, matches } = await explainPattern(graph, flatText(pattern, 'property'));
  const [scan] = matches[0]!.steps;
  const accelerometers = t.category.filter((c) => c === CATEGORY.accelerometer).length;
  expect(text).toContain('by its category');
  expect(scan!.real).toBeLessThanOrEqual(accelerometers);
});
