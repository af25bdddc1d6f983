/**
 * Texts that somebody would write who wants to stop a service: each as long as a text may be, and each large in
 * another way. Read by the benchmark `match-hostile.ts`, and by tests that count work.
 */
import { LONGEST_TEXT } from '../../src/gql/language/limits.ts';

export interface HostileText {
  readonly name: string;
  readonly text: string;
  readonly parameters?: Readonly<Record<string, unknown>>;
  readonly distinctNodes?: boolean;
}

/** As many pieces as fit into the longest text. */
function full(head: string, piece: (i: number) => string, between: string, tail: string): string {
  let text = head;
  for (let i = 0; ; i++) {
    const next = `${i > 0 ? between : ''}${piece(i)}`;
    if (text.length + next.length + tail.length > LONGEST_TEXT) return text + tail;
    text += next;
  }
}

/** Every pair of `size` nodes joined, or as many as fit. */
function clique(size: number, label = ''): string {
  const pairs = Array.from({ length: size }, (_, a) => Array.from({ length: a }, (_, b) => [a, b])).flat();
  return full(
    'MATCH ',
    (i) => (pairs[i] ? `(n${pairs[i][0]})-${label}(n${pairs[i][1]})` : '(n0)'),
    ',',
    ' RETURN COUNT(*) AS n',
  );
}

function nested(open: string, inner: string, close: string, depth: number): string {
  return open.repeat(depth) + inner + close.repeat(depth);
}

const COUNT = ' RETURN COUNT(*) AS n';
const name = (i: number): string => `v${i.toString(36)}`;

export const HOSTILE: readonly HostileText[] = [
  { name: 'nodes without names', text: full('MATCH ', () => '()', ',', COUNT) },
  { name: 'nodes with names', text: full('MATCH ', (i) => `(${name(i)})`, ',', COUNT) },
  { name: 'nodes, all different', text: full('MATCH ', () => '()', ',', COUNT), distinctNodes: true },
  { name: 'nodes with labels', text: full('MATCH ', () => '(:N)', ',', COUNT) },
  { name: 'nodes with properties', text: full('MATCH ', (i) => `({i:${i % 60}})`, ',', COUNT) },
  { name: 'chain', text: full('MATCH ()', () => '-()', '', COUNT) },
  { name: 'chain with names', text: full('MATCH (x)', (i) => `-(${name(i)})`, '', COUNT) },
  {
    name: 'chain, all different',
    text: full('MATCH (x)', (i) => `-(${name(i)})`, '', COUNT),
    distinctNodes: true,
  },
  { name: 'chain of bare edges', text: full('MATCH ()', () => '~', '', `()${COUNT}`) },
  { name: 'chain of bare arrows', text: full('MATCH ()', () => '->', '', `()${COUNT}`) },
  { name: 'chain with edge names', text: full('MATCH ()', (i) => `-[${name(i)}]-()`, '', COUNT) },
  { name: 'chain with labels', text: full('MATCH (:N)', () => '-[:E]-(:N)', '', COUNT) },
  { name: 'chain, elements repeatable', text: full('MATCH REPEATABLE ELEMENTS ()', () => '-()', '', COUNT) },
  { name: 'chain in ACYCLIC', text: full('MATCH p = ACYCLIC ()', () => '-()', '', ' RETURN p') },
  { name: 'chain in SIMPLE', text: full('MATCH p = SIMPLE ()', () => '-()', '', ' RETURN p') },
  { name: 'chain in TRAIL', text: full('MATCH p = TRAIL ()', () => '-()', '', ' RETURN p') },
  { name: 'ring', text: full('MATCH (a)', () => '-()', '', `-(a)${COUNT}`) },
  { name: 'star', text: full('MATCH ', () => '(a)-()', ',', COUNT) },
  { name: 'star, all different', text: full('MATCH ', () => '(a)-()', ',', COUNT), distinctNodes: true },
  { name: 'clique of 31', text: clique(31) },
  { name: 'clique of 31, all different', text: clique(31), distinctNodes: true },
  { name: 'clique of 100', text: clique(100) },
  { name: 'parallel edges', text: full('MATCH ', () => '(a)-(b)', ',', COUNT) },
  { name: 'loops', text: full('MATCH ', () => '(a)-(a)', ',', COUNT) },
  { name: 'the same node again and again', text: full('MATCH ', () => '(a)', ',', COUNT) },
  { name: 'the same node with labels', text: full('MATCH ', () => '(a:N)', ',', COUNT) },
  { name: 'the same edge again and again', text: full('MATCH ', () => '(a)-[e]-(b)', ',', COUNT) },
  { name: 'clauses', text: full('', () => 'MATCH ()', ' ', COUNT) },
  { name: 'clauses with names', text: full('', (i) => `MATCH (${name(i)})`, ' ', COUNT) },
  {
    name: 'clauses that follow one another',
    text: full('', (i) => `MATCH (${name(i)})-(${name(i + 1)})`, ' ', COUNT),
    distinctNodes: true,
  },
  { name: 'OPTIONAL', text: full('MATCH (a)', () => ' OPTIONAL MATCH (a)-()', '', COUNT) },
  {
    name: 'OPTIONAL in OPTIONAL',
    text: `MATCH (a) ${nested('OPTIONAL { MATCH (a)-() ', 'MATCH ()', '}', 38)}${COUNT}`,
  },
  { name: 'quantifiers', text: full('MATCH ()', () => '-{0,3}()', '', COUNT) },
  { name: 'quantifiers from 0', text: full('MATCH ', () => '()-*()', ',', COUNT) },
  { name: 'quantifiers in quantifiers', text: `MATCH ${nested('(', '()-()', '){0,2}', 38)}${COUNT}` },
  { name: 'questioned parts', text: full('MATCH ()', () => '(()-())?', '', COUNT) },
  {
    name: 'quantified parts with names',
    text: full('MATCH ()', (i) => `((${name(i)})-()){1,2}()`, '', COUNT),
  },
  { name: 'EXISTS', text: full('MATCH (a) WHERE ', () => 'EXISTS{(a)-()}', ' AND ', COUNT) },
  { name: 'EXISTS with OR', text: full('MATCH (a) WHERE ', () => 'EXISTS{(a)-()}', ' OR ', COUNT) },
  { name: 'NOT EXISTS', text: full('MATCH (a) WHERE ', () => 'NOT EXISTS{(a)-()}', ' AND ', COUNT) },
  {
    name: 'EXISTS in EXISTS',
    text: `MATCH (a) WHERE ${nested('EXISTS{MATCH (a)-() WHERE ', 'TRUE', '}', 38)}${COUNT}`,
  },
  {
    name: '600 operators',
    text: full('MATCH (a) WHERE a.i = ', () => '1', '+', COUNT).replace(/(\+1){600,}/, '+1'.repeat(590)),
  },
  { name: 'AND', text: full('MATCH (a) WHERE ', (i) => `a.i<>${i}`, ' AND ', COUNT) },
  { name: 'OR', text: full('MATCH (a) WHERE ', (i) => `a.i=${i}`, ' OR ', COUNT) },
  {
    name: 'AND over pairs of nodes',
    text: full('MATCH (a),(b),(c) WHERE ', (i) => `a.i+b.i<>c.i+${i}`, ' AND ', COUNT),
  },
  {
    name: 'AND over many nodes',
    text: `MATCH ${Array.from({ length: 300 }, (_, i) => `(${name(i)})`).join()} WHERE ${Array.from({ length: 299 }, (_, i) => `${name(i)}.i<${name(i + 1)}.i`).join(' AND ')}${COUNT}`,
  },
  { name: 'brackets', text: `MATCH (a) WHERE ${nested('(', 'a.i=1', ')', 38)}${COUNT}` },
  { name: 'brackets too deep', text: `MATCH (a) WHERE ${nested('(', 'a.i=1', ')', 3_900)}${COUNT}` },
  { name: 'NOT', text: `MATCH (a) WHERE ${'NOT '.repeat(500)}a.i=1${COUNT}` },
  { name: 'labels with |', text: full('MATCH (a:', (i) => `L${i}`, '|', `)${COUNT}`) },
  { name: 'labels with &', text: full('MATCH (a:', () => 'N', '&', `)${COUNT}`) },
  { name: 'labels with !', text: `MATCH (a:${nested('!(', 'N', ')', 38)})${COUNT}` },
  { name: 'edge labels', text: full('MATCH (a)-[:', (i) => `E${i}`, '|', `]-(b)${COUNT}`) },
  { name: 'IN', text: full('MATCH (a) WHERE a.i IN [', (i) => String(i), ',', `]${COUNT}`) },
  { name: 'IN, texts', text: full('MATCH (a) WHERE a.i IN [', (i) => `'t${i}'`, ',', `]${COUNT}`) },
  { name: 'CASE', text: full('MATCH (a) RETURN CASE a.i', (i) => ` WHEN ${i} THEN ${i}`, '', ' END AS n') },
  {
    name: 'CASE in CASE',
    text: `MATCH (a) RETURN ${nested('CASE WHEN a.i=1 THEN ', '1', ' ELSE 2 END', 38)} AS n`,
  },
  { name: 'columns', text: full('MATCH (a) RETURN ', (i) => `a.i AS ${name(i)}`, ',', '') },
  {
    name: 'columns that are not there',
    text: full('MATCH (a) RETURN ', (i) => `a.p${i} AS ${name(i)}`, ',', ''),
  },
  { name: 'aggregates', text: full('MATCH (a) RETURN ', (i) => `SUM(a.i+${i}) AS ${name(i)}`, ',', '') },
  { name: 'sort keys', text: full('MATCH (a),(b),(c) RETURN a.i ORDER BY ', (i) => `a.i+${i}`, ',', '') },
  {
    name: 'group keys',
    text: full('MATCH (a) RETURN COUNT(*) AS n GROUP BY a,', (i) => name(i), ',', ''),
  },
  { name: 'ANY SHORTEST', text: `MATCH p = ANY SHORTEST (a)-+(b) RETURN p` },
  { name: 'ALL SHORTEST', text: `MATCH p = ALL SHORTEST (a)-+(b) RETURN p` },
  {
    name: 'EXCEPT',
    text: full(
      'MATCH (a),(b),(c) RETURN a.i',
      () => 'MATCH (a),(b),(c) RETURN a.i',
      ' EXCEPT ALL ',
      '',
    ).replace('a.iMATCH', 'a.i EXCEPT ALL MATCH'),
  },
  {
    name: 'FOR in FOR',
    text: `${Array.from({ length: 8 }, (_, i) => `FOR x${i} IN [${Array.from({ length: 90 }, (_, k) => k).join()}]`).join(' ')} RETURN COUNT(*) AS n`,
  },
  {
    name: 'VALUE for each row',
    text: 'MATCH (a),(b),(c) RETURN VALUE { MATCH (d)-(e) RETURN COUNT(*) AS n } + a.i AS m',
  },
  { name: 'alternatives of a path', text: full('MATCH (a)(', () => '-()-', '|', `)(b)${COUNT}`) },
  { name: 'properties of one node', text: full('MATCH (a {', (i) => `p${i}:${i}`, ',', `})${COUNT}`) },
  { name: 'a long comment', text: `MATCH (a) /*${'*'.repeat(8_000)}*/${COUNT}` },
  { name: 'a comment without an end', text: `MATCH (a)${COUNT} /*${'*'.repeat(8_000)}` },
  { name: 'line comments', text: full(`MATCH (a)${COUNT}`, () => '//', '\n', '') },
  { name: 'edges that are comments', text: full('MATCH (a)', () => '--(b)', '\n', '') },
  { name: 'a long name', text: `MATCH (${'x'.repeat(8_000)})${COUNT}` },
  { name: 'a long label', text: `MATCH (a:${'x'.repeat(8_000)})${COUNT}` },
  { name: 'a long text', text: `MATCH (a) WHERE a.i = '${'x'.repeat(8_000)}'${COUNT}` },
  { name: 'a text without an end', text: `MATCH (a) WHERE a.i = '${'x'.repeat(8_000)}` },
  {
    name: 'names that are nearly names',
    text: full('MATCH ', (i) => `(:N${name(i)}{${name(i)}i:1})`, ',', COUNT),
  },
  { name: 'names in quotes', text: full('MATCH ', (i) => `(\`${name(i)}\`)`, ',', COUNT) },
  {
    name: 'variables that are not declared',
    text: full('MATCH (a) WHERE ', (i) => `${name(i)}.i=1`, ' AND ', COUNT),
  },
  { name: 'functions that there are not', text: full('MATCH (a) WHERE ', (i) => `f${i}(a)`, ' AND ', COUNT) },
  { name: 'problems of the grammar', text: full('MATCH (a)', () => ' WHERE', '', COUNT) },
  { name: 'problems with brackets', text: full('MATCH ', () => '(]', ',', COUNT) },
  { name: 'opening brackets', text: '('.repeat(8_192) },
  { name: 'closing brackets', text: ')'.repeat(8_192) },
  { name: 'characters without meaning', text: '\u00a4'.repeat(8_192) },
  { name: 'numbers', text: full('MATCH (a) WHERE a.i IN [', () => '1e9', ',', `]${COUNT}`) },
  { name: 'a long number', text: `MATCH (a) WHERE a.i = ${'9'.repeat(8_000)}${COUNT}` },
  { name: 'escapes', text: `MATCH (a) WHERE a.i = '${'\\u0041'.repeat(1_300)}'${COUNT}` },
  {
    name: 'parameters',
    text: full('MATCH (a) WHERE ', (i) => `a.i<>$${name(i)}`, ' AND ', COUNT),
    parameters: Object.fromEntries(Array.from({ length: 1_200 }, (_, i) => [name(i), i])),
  },
  {
    name: 'a large parameter',
    text: `MATCH (a) WHERE a.i IN $list${COUNT}`,
    parameters: { list: Array.from({ length: 200_000 }, (_, i) => i) },
  },
  {
    name: 'a large parameter of texts',
    text: `MATCH (a) WHERE a.i IN $list${COUNT}`,
    parameters: { list: Array.from({ length: 200_000 }, (_, i) => `text ${i}`) },
  },
  {
    name: 'hundreds of nodes without an edge, found late',
    text: `MATCH ${Array.from({ length: 200 }, (_, i) => `(${name(i)}:N)`).join()} WHERE v0.i = -1${COUNT}`,
  },
];
