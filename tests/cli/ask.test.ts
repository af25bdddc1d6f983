import { setTimeout as pause } from 'node:timers/promises';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { FILES } from './invented.ts';
import { caseback, Folder } from './running.ts';

const folder = new Folder(FILES);
const run = (args: readonly string[], input?: string) => caseback(args, { cwd: folder.path, input });
let between: string;

beforeAll(async () => {
  await run(['import', 'catalogue.yaml', 'band-1.yaml']);
  await pause(5);
  between = new Date().toISOString();
  await pause(5);
  await run(['import', 'band-2.yaml']);
});
afterAll(() => folder.remove());

const DEVICES = '{ devices { totalCount nodes { id released maker { name } } } }';

test('answers a question from --query as JSON', async () => {
  const { code, out, err } = await run(['ask', '--query', DEVICES]);
  expect(JSON.parse(out)).toEqual({
    data: {
      devices: {
        totalCount: 2,
        nodes: [
          { id: 'ferrule-band-1', released: '2019-04', maker: { name: 'Ferrule Works' } },
          { id: 'ferrule-band-2', released: '2020-04', maker: { name: 'Ferrule Works' } },
        ],
      },
    },
  });
  expect(err).toBe('');
  expect(code).toBe(0);
});

test('takes the question from standard input and lays lists out as a table', async () => {
  const { code, out } = await run(['ask', '-', '--format', 'table'], DEVICES);
  expect(out.split('\n')).toEqual([
    'id              released  maker.name',
    '--------------  --------  -------------',
    'ferrule-band-1  2019-04   Ferrule Works',
    'ferrule-band-2  2020-04   Ferrule Works',
    '',
  ]);
  expect(code).toBe(0);
});

test('takes the question and its variables from files and answers as CSV', async () => {
  folder.write(
    'q.graphql',
    'query One($id: ID!) { device(id: $id) { name } }\nquery Few($n: Int!) { devices(first: $n) { edges { node { id } } } }',
  );
  folder.write('v.json', '{"n": 1}');
  const { code, out } = await run([
    ...['ask', 'q.graphql', '--variables', '@v.json', '--operation', 'Few', '--format', 'csv'],
  ]);
  expect(out).toBe('id\r\nferrule-band-1\r\n');
  expect(code).toBe(0);
  const one = await run([
    ...[
      'ask',
      'q.graphql',
      '--variables',
      '{"id": "ferrule-band-2"}',
      '--operation',
      'One',
      '--format',
      'csv',
    ],
  ]);
  expect(one.out).toBe('name\r\nFerrule Band 2\r\n');
});

test('answers for the archive at an instant, and refuses to change the past', async () => {
  const then = await run(['ask', '--as-of', between, '--query', DEVICES]);
  expect(JSON.parse(then.out).data.devices.totalCount).toBe(1);
  const today = await run(['ask', '--as-of', new Date().toISOString().slice(0, 10), '--query', DEVICES]);
  expect(JSON.parse(today.out).data.devices.totalCount).toBe(2);
  const earlier = await run(['ask', '--as-of', '2020-02-29', '--query', DEVICES]);
  expect(earlier).toMatchObject({ code: 2, out: '' });
  expect(earlier.err).toMatch(/the archive begins on 20.*before that it held nothing/u);
});

test('says where a question is wrong and ends with code 1', async () => {
  const { code, err } = await run(['ask', '--query', '{ devices { nodes { nam } } }']);
  expect(err).toMatch(/^caseback ask: 1:\d+: .*"nam"/mu);
  expect(code).toBe(1);
  const missing = await run(['ask', 'gone.graphql']);
  expect(missing.err).toContain('gone.graphql cannot be read');
  expect(missing.code).toBe(1);
});

test('a CSV answer holds one list', async () => {
  const { code, err } = await run([
    'ask',
    '--format',
    'csv',
    '--query',
    '{ devices { nodes { id } } parts { nodes { id } } }',
  ]);
  expect(err).toContain('the answer has devices, parts; ask for one of them');
  expect(code).toBe(2);
});

test('says that no service answers at an address', async () => {
  const { code, err } = await run([
    'ask',
    '--url',
    'http://127.0.0.1:9/graphql',
    '--query',
    '{ __typename }',
  ]);
  expect(err).toContain('no service answers at http://127.0.0.1:9/graphql');
  expect(code).toBe(4);
});

test('answers the stored question of a feed, with its rows as CSV', async () => {
  const question = 'query ($n: Int) { devices(first: $n) { totalCount nodes { id maker { name } } } }';
  const feed = { id: 'firsts', title: 'Firsts', question, variables: { n: 1 }, rows: 'devices.nodes.maker' };
  folder.write('feeds.json', JSON.stringify({ caseback: 'catalogue/1', feeds: [feed] }));
  expect((await run(['import', 'feeds.json'])).code).toBe(0);
  const { out } = await run(['ask', '--feed', 'firsts']);
  expect(JSON.parse(out).data.devices.nodes).toHaveLength(1);
  const csv = await run(['ask', '--feed', 'firsts', '--format', 'csv']);
  expect(csv.out).toBe('name\r\nFerrule Works\r\n');
  expect((await run(['ask', '--feed', 'first'])).err).toContain('firsts');
  const both = await run(['ask', '--feed', 'firsts', '--query', DEVICES]);
  expect([both.code, both.err.includes('leave the others out')]).toEqual([2, true]);
});
