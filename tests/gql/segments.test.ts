import { afterAll, describe, expect, test } from 'vitest';
import {
  type BySegmentOptions,
  countBySegment,
  matchBySegment,
  type SegmentAnswer,
} from '../../src/gql/by-segment.ts';
import { countPattern, defaultPool, runPattern } from '../../src/gql/engine.ts';
import { explainPattern } from '../../src/gql/explain.ts';
import { PatternGraph } from '../../src/gql/graph.ts';
import { nearMatches } from '../../src/gql/near.ts';
import { device, deviceKey, HIERARCHY, knowledge } from '../bench/match-archive.ts';
import { PATTERNS } from '../bench/match-patterns.ts';
import { tables } from '../bench/match-tables.ts';

afterAll(() => defaultPool().close());

const DEVICES = 600;
const archive = new PatternGraph({ hierarchy: HIERARCHY });
archive.putSegment('knowledge', knowledge());
for (let d = 0; d < DEVICES; d++) archive.putSegment(deviceKey(d), device(d));

async function all(
  graph: PatternGraph,
  text: string,
  options: BySegmentOptions = {},
): Promise<SegmentAnswer[]> {
  const answers: SegmentAnswer[] = [];
  for await (const answer of matchBySegment(graph, text, options)) answers.push(answer);
  return answers;
}

describe('patterns of the benchmark on a generated archive', () => {
  const t = tables(DEVICES);
  test.each(PATTERNS.map((p) => [p.name, p] as const))('%s: as many as loops by hand', async (_, pattern) => {
    const expected = pattern.loops(t);
    for (const options of [{}, { where: 'workers' as const }, { strategy: 'candidates' as const }]) {
      const answer = await countPattern(archive, pattern.text, { distinctNodes: true, ...options });
      expect(answer.count).toBe(expected);
    }
    const counts = await countBySegment(archive, pattern.text, { distinctNodes: true });
    expect([...counts.counts.values()].reduce((a, b) => a + b, 0)).toBe(expected);
  });
});

describe('matches segment by segment', () => {
  const text = 'MATCH (s:Sensor)~[:CONNECTS]~(a:Amplifier) RETURN *';

  test('are those of the whole graph, in the order of the keys', async () => {
    const answers = await all(archive, text, { matchesPerSegment: 1000 });
    const keys = answers.map(({ key }) => key);
    expect(keys).toEqual([...keys].sort());
    const { rows } = await runPattern(archive, text, { budgets: { rows: 1e6 } });
    const expected = rows.map((row) => row.map((value) => (value as { id: string }).id).join(' ')).sort();
    const found = answers
      .flatMap(({ key, matches }) =>
        matches.map(({ bindings }) => {
          const ids = [bindings.s, bindings.a].map((value) => (value?.kind === 'node' ? value.id : ''));
          expect(ids.every((id) => id.startsWith(`${key}/`))).toBe(true);
          return ids.join(' ');
        }),
      )
      .sort();
    expect(found).toEqual(expected);
  });

  test('continue after a cursor', async () => {
    const whole = (await all(archive, text)).map(({ key }) => key);
    const after = whole[7]!;
    const rest = (await all(archive, text, { after })).map(({ key }) => key);
    expect(rest).toEqual(whole.slice(8));
  });

  test('stop when the reader has enough', async () => {
    const answers: string[] = [];
    for await (const { key } of matchBySegment(archive, text)) {
      answers.push(key);
      if (answers.length === 3) break;
    }
    expect(answers).toEqual((await all(archive, text)).slice(0, 3).map(({ key }) => key));
  });

  test('count matches that are not handed out', async () => {
    const some = await all(archive, text, { matchesPerSegment: 1 });
    const whole = await all(archive, text, { matchesPerSegment: 1000 });
    expect(some.map(({ count }) => count)).toEqual(whole.map(({ matches }) => matches.length));
    expect(some.every(({ matches }) => matches.length === 1)).toBe(true);
  });

  test('keep unconnected node patterns within one segment', async () => {
    const loose = 'MATCH (s:Gyroscope), (d:Motor) RETURN *';
    for (const { key, matches } of await all(archive, loose))
      for (const { bindings } of matches)
        for (const value of Object.values(bindings))
          expect(value?.kind === 'node' && value.id.startsWith(`${key}/`)).toBe(true);
  });

  test('name the edges they use, those without a variable too', async () => {
    const [first] = await all(
      archive,
      'MATCH (s:Sensor)-[:IDENTIFIED_AS]->(p)-[:MADE_BY]->(m:Maker) RETURN *',
    );
    expect(first!.matches[0]!.edges.map(({ label }) => label).sort()).toEqual(['IDENTIFIED_AS', 'MADE_BY']);
  });
});

describe('segments that a query may not see', () => {
  const hidden = deviceKey(3);
  const visible = archive.segmentKeys().filter((key) => key !== hidden);

  test('show in no count, not even through what several segments point to', async () => {
    const text =
      'MATCH (c:Component)-[:IDENTIFIED_AS]->(p:Part)<-[:IDENTIFIED_AS]-(d:Component) RETURN COUNT(*) AS n';
    const without = new PatternGraph({ hierarchy: HIERARCHY });
    without.putSegment('knowledge', knowledge());
    for (let d = 0; d < 60; d++) if (d !== 3) without.putSegment(deviceKey(d), device(d));
    const some = visible.filter((key) => key === 'knowledge' || key < deviceKey(60));
    const seen = await countPattern(archive, text, { segments: some, budgets: { time: 60_000 } });
    const expected = await countPattern(without, text, { budgets: { time: 60_000 } });
    expect(seen.count).toBe(expected.count);
    expect(seen.count).toBeGreaterThan(0);
  });

  test('are not among the answers', async () => {
    const text = 'MATCH (b:Board) RETURN *';
    const keys = (await all(archive, text, { segments: visible })).map(({ key }) => key);
    expect(keys).not.toContain(hidden);
    expect(keys.length).toBe((await all(archive, text)).length - 1);
  });
});

describe('labels that are only probably true', () => {
  const graph = new PatternGraph({ hierarchy: { Cat: ['Animal'], Dog: ['Animal'] } });
  graph.putSegment('sure', { nodes: [{ id: 's', labels: ['Cat'] }] });
  graph.putSegment('maybe', {
    nodes: [
      {
        id: 'm',
        labels: [
          { label: 'Cat', weight: 0.6 },
          { label: 'Dog', weight: 0.3 },
        ],
      },
    ],
  });
  graph.putSegment('either', {
    nodes: [
      {
        id: 'e',
        labels: [
          { label: 'Cat', weight: 0.5 },
          { label: 'Dog', weight: 0.5 },
        ],
      },
    ],
  });
  graph.putSegment('no', { nodes: [{ id: 'n', labels: ['Stone'] }] });
  const keys = async (text: string, labels: 'possible' | 'certain') =>
    (await all(graph, text, { labels })).map(({ key }) => key);

  test('match as possible, and only then', async () => {
    expect(await keys('MATCH (a:Cat) RETURN a', 'possible')).toEqual(['either', 'maybe', 'sure']);
    expect(await keys('MATCH (a:Cat) RETURN a', 'certain')).toEqual(['sure']);
  });

  test('add up for the super-label', async () => {
    expect(graph.store.nodeLabels(graph.findNode('m'))).toContainEqual({
      label: 'Animal',
      weight: 0.8999999999999999,
    });
    expect(await keys('MATCH (a:Animal) RETURN a', 'certain')).toEqual(['either', 'sure']);
  });

  test('may as well not be true', async () => {
    expect(await keys('MATCH (a:!Cat) RETURN a', 'possible')).toEqual(['either', 'maybe', 'no']);
    expect(await keys('MATCH (a:!Cat) RETURN a', 'certain')).toEqual(['no']);
  });

  test('are named with the match that makes use of them', async () => {
    const [either] = await all(graph, 'MATCH (a:Cat) RETURN a');
    const [match] = either!.matches;
    const node = graph.findNode('e');
    expect(match!.certain).toBe(false);
    expect(match!.uncertain).toEqual([{ node, label: 'Cat', weight: 0.5 }]);
    expect(match!.holdsIn((_, label) => label === 'Cat')).toBe(true);
    expect(match!.holdsIn((_, label) => label === 'Dog')).toBe(false);
  });

  test('hold together where alternatives are asked for', async () => {
    const [either] = await all(graph, 'MATCH (a:Cat|Dog) RETURN a');
    const [match] = either!.matches;
    expect(match!.uncertain.map(({ label }) => label).sort()).toEqual(['Cat', 'Dog']);
    expect(match!.holdsIn((_, label) => label === 'Dog')).toBe(true);
    expect(match!.holdsIn(() => false)).toBe(false);
  });

  test('are told alike where the same labels decide them in the same way, and only there', async () => {
    const odd = new PatternGraph();
    const put = (key: string, labels: Readonly<Record<string, number>>) =>
      odd.putSegment(key, {
        nodes: [{ id: key, labels: Object.entries(labels).map(([label, weight]) => ({ label, weight })) }],
      });
    put('a', { Cat: 0.6, Dog: 0.3 });
    put('b', { Cat: 0.1, Dog: 0.9 });
    put('c', { Cat: 0.6 });
    put('d', { Cat: 0.6, Dog: 1 });
    const openIn = async (text: string) => (await all(odd, text)).map(({ matches }) => matches[0]!.open[0]!);
    const worlds: readonly (readonly string[])[] = [[], ['Cat'], ['Dog'], ['Cat', 'Dog']];
    for (const text of ['MATCH (n:Cat) RETURN n', 'MATCH (n:Cat&!Dog|Dog&!Cat) RETURN n']) {
      const tests = await openIn(text);
      expect(tests.length).toBe(4);
      for (const one of tests)
        for (const other of tests) {
          const differs = worlds.some(
            (world) =>
              one.holdsIn((label) => world.includes(label)) !==
              other.holdsIn((label) => world.includes(label)),
          );
          if (one.alike === other.alike) expect(differs).toBe(false);
        }
      expect(tests[0]!.alike).toBe(tests[1]!.alike);
      expect(new Set(tests.map(({ alike }) => alike)).size).toBe(3);
    }
  });

  test('count inside EXISTS inversely when there must be none', async () => {
    const pairs = new PatternGraph();
    const put = (key: string, weight: number | undefined) =>
      pairs.putSegment(key, {
        nodes: [
          { id: `${key}/a`, labels: ['A'] },
          { id: `${key}/b`, labels: weight === undefined ? [] : [{ label: 'B', weight }] },
        ],
        edges: [{ source: `${key}/a`, target: `${key}/b` }],
      });
    put('certain', 1);
    put('maybe', 0.5);
    put('none', undefined);
    const ask = async (text: string, labels: 'possible' | 'certain') =>
      (await all(pairs, text, { labels })).map(({ key, matches }) => [key, matches[0]!.certain]);
    const there = 'MATCH (a:A) WHERE EXISTS { (a)->(:B) } RETURN a';
    expect(await ask(there, 'possible')).toEqual([
      ['certain', true],
      ['maybe', false],
    ]);
    expect(await ask(there, 'certain')).toEqual([['certain', true]]);
    const missing = 'MATCH (a:A) WHERE NOT EXISTS { (a)->(:B) } RETURN a';
    expect(await ask(missing, 'possible')).toEqual([
      ['maybe', false],
      ['none', true],
    ]);
    expect(await ask(missing, 'certain')).toEqual([['none', true]]);
    // A node that is only possible outside may still be looked from inside.
    pairs.putSegment('unsure', {
      nodes: [
        { id: 'u', labels: [{ label: 'C', weight: 0.5 }] },
        { id: 'v', labels: [] },
      ],
      edges: [{ source: 'u', target: 'v' }],
    });
    expect(await ask('MATCH (c:C) WHERE NOT EXISTS { (c)->(:B) } RETURN c', 'possible')).toEqual([
      ['unsure', false],
    ]);
  });

  test('count inside quantified paths too', async () => {
    const chain = new PatternGraph();
    chain.putSegment('s', {
      nodes: [
        { id: 'a', labels: ['A'] },
        { id: 'b', labels: [{ label: 'B', weight: 0.5 }] },
        { id: 'c', labels: ['C'] },
      ],
      edges: [
        { source: 'a', target: 'b' },
        { source: 'b', target: 'c' },
      ],
    });
    const [answer] = await all(chain, 'MATCH (a:A)(()->(:B))+(x)->(c:C) RETURN *');
    expect(answer!.matches[0]!.uncertain).toEqual([{ node: chain.findNode('b'), label: 'B', weight: 0.5 }]);
  });
});

describe('near matches', () => {
  const graph = new PatternGraph();
  const put = (key: string, ...edges: readonly (readonly [string, string])[]) =>
    graph.putSegment(key, {
      nodes: [...new Set(edges.flat())].map((name) => ({
        id: `${key}/${name}`,
        labels: [name[0]!],
        properties: { size: name.length },
      })),
      edges: edges.map(([a, b]) => ({
        source: `${key}/${a}`,
        target: `${key}/${b}`,
        label: 'L',
        directed: false,
      })),
    });
  put('full', ['A', 'B'], ['B', 'C']);
  put('no edge', ['A', 'B'], ['C', 'D']);
  put('no node', ['A', 'B'], ['B', 'D']);
  put('too small', ['A', 'B'], ['B', 'Cc']);
  put('nothing', ['D', 'E']);
  const text = 'MATCH (a:A)~[:L]~(b:B)~[e:L]~(c:C WHERE c.size = 1) RETURN *';

  test('name what is missing, and leave out those that match or lack more', async () => {
    const { matches, complete } = await nearMatches(graph, text);
    expect(complete).toBe(true);
    expect(matches.map(({ key }) => key)).toEqual(['no edge', 'no node', 'too small']);
    const missing = new Map(matches.map((near) => [near.key, near.missing.map(({ removed }) => removed)]));
    expect(missing.get('no edge')).toMatchObject([{ kind: 'edge', variable: 'e' }]);
    expect(missing.get('no node')).toMatchObject([{ kind: 'condition', condition: 'labels', variable: 'c' }]);
    expect(missing.get('too small')).toMatchObject([
      { kind: 'condition', condition: 'where', variable: 'c' },
    ]);
  });

  test('give the place of the missing thing in the text, with an example of the rest', async () => {
    const { matches } = await nearMatches(graph, text);
    const small = matches.find(({ key }) => key === 'too small')!.missing[0]!;
    expect(text.slice(small.removed.span.start, small.removed.span.end)).toBe('c.size = 1');
    expect(small.example!.bindings.c).toMatchObject({ kind: 'node', id: 'too small/Cc' });
  });

  test('name a node only when no condition or edge at it would do', async () => {
    graph.putSegment('alone', {
      nodes: [
        { id: 'alone/A', labels: ['A'] },
        { id: 'alone/B', labels: ['B'] },
      ],
      edges: [{ source: 'alone/A', target: 'alone/B', label: 'L', directed: false }],
    });
    const { matches } = await nearMatches(graph, text);
    const alone = matches.find(({ key }) => key === 'alone')!;
    expect(alone.missing.map(({ removed }) => [removed.kind, removed.variable])).toEqual([['node', 'c']]);
    graph.removeSegment('alone');
  });
});

test('explain gives steps with estimated and real counts, as data and as text', async () => {
  const text = 'MATCH (s:Sensor)~[:CONNECTS]~(a:Amplifier)-[:ON]->(b:Board) RETURN *';
  const explained = await explainPattern(archive, text, { where: 'here', budgets: { time: 60_000 } });
  const { steps } = explained.matches[0]!;
  expect(steps.map(({ kind }) => kind)).toEqual(['scan', 'walk', 'walk']);
  expect(steps.at(-1)!.real).toBe(explained.count);
  expect(steps[0]!.real).toBeGreaterThan(0);
  expect(steps[0]!.segments).toBeLessThanOrEqual(DEVICES);
  for (const { estimated } of steps) expect(estimated).toBeGreaterThan(0);
  expect(explained.text).toContain('scan (a:Amplifier)');
  expect(explained.text).toContain(`${explained.count} matches`);
});
