import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { matchFiles } from '../../src/gql/csv/match-files.ts';
import { readGraphFiles } from '../../src/gql/csv/read-csv.ts';

let folder = '';
const file = (name: string) => join(folder, name);

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'match-'));
  await writeFile(
    file('nodes.csv'),
    'id,labels,name,people,capital,zip:string\na,Town;Port:0.7,"Ashford, upper",1200,false,0123\nb,Town,Bree,,true,0456\nc,,Cold Hill,12,,\n',
  );
  await writeFile(
    file('edges.csv'),
    '\uFEFFsource,target,label,directed,km\r\na,b,ROAD,false,12.5\r\nb,c,FERRY,true,\r\n',
  );
});
afterAll(() => rm(folder, { recursive: true }));

describe('a graph from CSV files', () => {
  test('has labels with weights, typed properties, quoted fields', async () => {
    const { nodes, edges } = await readGraphFiles(file('nodes.csv'), file('edges.csv'));
    expect(nodes[0]).toEqual({
      id: 'a',
      labels: ['Town', { label: 'Port', weight: 0.7 }],
      properties: { name: 'Ashford, upper', people: 1200, capital: false, zip: '0123' },
    });
    expect(nodes[2]).toEqual({ id: 'c', labels: [], properties: { name: 'Cold Hill', people: 12 } });
    expect(edges).toEqual([
      { source: 'a', target: 'b', label: 'ROAD', directed: false, properties: { km: 12.5 } },
      { source: 'b', target: 'c', label: 'FERRY', directed: true, properties: {} },
    ]);
  });

  test('answers a pattern as tab-separated text', async () => {
    const pattern = 'MATCH (a:Town)~[r:ROAD]~(b) RETURN a.name AS start, r.km AS km, b ORDER BY start';
    const { text } = await matchFiles({ nodes: file('nodes.csv'), edges: file('edges.csv'), pattern });
    expect(text).toBe('start\tkm\tb\nAshford, upper\t12.5\tb\nBree\t12.5\ta');
  });

  test('explains a pattern', async () => {
    const pattern = 'MATCH (a:Town)-[:FERRY]->(b) RETURN *';
    const { text } = await matchFiles({
      nodes: file('nodes.csv'),
      edges: file('edges.csv'),
      pattern,
      explain: true,
    });
    expect(text).toContain('walk [:FERRY]');
  });

  test.each([
    ['name\nx\n', 'nodes.csv:1: the column id is missing'],
    ['id,labels\na,Town:2\n', 'nodes.csv:2: the weight of label Town:2'],
    ['id,size:number\na,big\n', 'nodes.csv:2: size:number is big, which is not a number'],
    ['id\na\n\n', undefined],
  ])('%j', async (text, message) => {
    await writeFile(file('bad-nodes.csv'), text);
    await writeFile(file('no-edges.csv'), 'source,target\n');
    const reading = readGraphFiles(file('bad-nodes.csv'), file('no-edges.csv'));
    if (message === undefined) expect((await reading).nodes).toHaveLength(1);
    else await expect(reading).rejects.toThrow(message.replace('nodes.csv', 'bad-nodes.csv'));
  });
});
