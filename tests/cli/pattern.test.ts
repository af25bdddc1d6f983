import { parse } from 'csv-parse/sync';
import { afterAll, expect, test } from 'vitest';
import { caseback, Folder } from './running.ts';

const folder = new Folder({
  'nodes.csv': 'id,labels,people\na,Town,900\nb,Town,20\nc,Lake,\n',
  'edges.csv': 'source,target,label,directed\na,b,ROAD,false\nb,c,PATH,true\n',
  'dangling.csv': 'source,target,label\na,b,ROAD\nb,q,ROAD\n',
});
afterAll(() => folder.remove());
const run = (...args: string[]) =>
  caseback(['pattern', ...args, '--nodes', 'nodes.csv', '--edges', 'edges.csv'], { cwd: folder.path });

const TEXT =
  'MATCH (x:Town)~[:ROAD]~(y) WHERE x.people > 100 RETURN x.people AS people, y.people AS others, y';

test('a pattern runs on any graph given as CSV, in every format', async () => {
  const { out, code } = await run(TEXT);
  expect(out.split('\n').map((line) => line.split(/ +/u))).toEqual([
    ['people', 'others', 'y'],
    ['------', '------', '-'],
    ['', '900', '20', 'b'],
    [''],
  ]);
  expect(code).toBe(0);
  const csv = (await run(TEXT, '--format', 'csv')).out;
  expect(parse(csv, { columns: true })).toEqual([{ people: '900', others: '20', y: 'b' }]);
  const { columns, rows } = JSON.parse((await run(TEXT, '--format', 'json')).out);
  expect([columns, rows[0].slice(0, 2)]).toEqual([
    ['people', 'others', 'y'],
    [900, 20],
  ]);
});

test('the plan shows what was expected and what was found, and has no form as CSV', async () => {
  const { out } = await run('MATCH (x:Town)-[:PATH]->(y) RETURN y', '--explain');
  expect(out).toMatch(/expected .* found/u);
  expect(out).toMatch(/1 match/u);
  const csv = await run('MATCH (x:Town)-[:PATH]->(y) RETURN y', '--explain', '--format', 'csv');
  expect([csv.code, csv.err]).toEqual([2, expect.stringContaining('has no form as csv')]);
});

test('a mistyped pattern gets its place, a caret and the near name; exit code 1', async () => {
  const { code, err } = await run('MATCH (x) RETUR x');
  expect(code).toBe(1);
  expect(err).toContain('Line 1, column 11');
  expect(err).toContain('RETURN');
  expect(err).toContain('^^^^^');
});

test('a missing graph file, or a file with a bad line, is named', async () => {
  const gone = await caseback(['pattern', TEXT, '--nodes', 'gone.csv', '--edges', 'edges.csv'], {
    cwd: folder.path,
  });
  expect(gone.err).toMatch(/^caseback pattern: .*gone\.csv/mu);
  expect(gone.err).not.toMatch(/ENOENT|^\s+at /mu);
  expect(gone.code).toBe(1);
  const alone = await caseback(['pattern', TEXT, '--nodes', 'nodes.csv'], { cwd: folder.path });
  expect([alone.code, alone.err]).toEqual([2, expect.stringContaining('--nodes and --edges go together')]);
});

test('a name that the graph does not have is told, and in JSON as a field; what was asked is still answered', async () => {
  const text = 'MATCH (x:Twon) RETURN x';
  const warning = 'Line 1, column 10: ';
  const table = await run(text);
  expect([table.code, table.err]).toEqual([0, expect.stringContaining(`Warning: ${warning}`)]);
  expect(table.err).toContain('Did you mean "Town"?');
  const json = await run(text, '--format', 'json');
  expect(JSON.parse(json.out).warnings).toEqual([expect.stringContaining(warning)]);
  expect((await run(text, '--explain')).err).toContain(`Warning: ${warning}`);
  expect((await run(TEXT)).err).not.toContain('Warning');
});

test('an edge to a node that is not there is an error', async () => {
  const { code, err } = await caseback(['pattern', TEXT, '--nodes', 'nodes.csv', '--edges', 'dangling.csv'], {
    cwd: folder.path,
  });
  expect(code).toBe(1);
  expect(err).toContain('from b to q, and no node has the id q');
});

test.each([
  ['CREATE (n:Town {name: "x"})', 'CREATE changes data; patterns only read'],
  ['UNWIND [1, 2] AS x RETURN x', 'GQL has no UNWIND'],
  ['with 1 as one return one', 'GQL has no WITH clause'],
  ['// a comment\nCALL db.labels()', 'CALL runs a procedure'],
])('a text without MATCH is read as one: %s', async (text, message) => {
  const { code, err } = await run(text);
  expect(code).toBe(1);
  expect(err).toContain(message);
  expect(err).not.toContain('not the text of a pattern');
});

test('what is neither a text nor a file is said to be none', async () => {
  for (const given of ['gone.gql', 'folder/with.gql', 'set.txt']) {
    const { code, err } = await caseback(['pattern', given, '--nodes', 'nodes.csv', '--edges', 'edges.csv'], {
      cwd: folder.path,
    });
    expect([code, err]).toEqual([1, expect.stringContaining('is not the text of a pattern')]);
  }
});
