import {
  type GraphQLArgument,
  type GraphQLInputField,
  type GraphQLInputType,
  getNamedType,
  isEnumType,
  isInputObjectType,
  isLeafType,
  isListType,
  isNonNullType,
} from 'graphql/index.js';
import { readSchema } from '../../src/api-schema/read-schema.ts';

/** A request written to stop a service, or to make it say more than it should. */
export interface HostileRequest {
  readonly name: string;
  readonly method: 'GET' | 'POST' | 'PUT' | 'DELETE' | 'OPTIONS' | 'HEAD';
  readonly url: string;
  readonly headers?: Readonly<Record<string, string>>;
  readonly body?: string;
}

/** A file likewise, for the command line. */
export interface HostileFile {
  readonly name: string;
  readonly content: string | Uint8Array;
}

/** What no answer may hold: a mistake of the program, a stack, a path of this machine. */
export const UNCLEAN = /INTERNAL|\bat .*\.(?:ts|js):\d|node:internal|node_modules|Maximum call stack/u;

const TEXTS: readonly (readonly [name: string, text: string])[] = [
  ['empty', ''],
  ['NUL', 'a\u0000b'],
  ['lone surrogate', 'a\ud800b'],
  ['override', '\u202etinneS nraT'],
  ['escape sequences', '\u001b]0;x\u0007\u001b[2J\u009b31m'],
  ['__proto__', '__proto__'],
  ['path', '../../../../etc/passwd'],
  ['quotes', `'"; DROP TABLE entries; --`],
  ['markup', '<script>alert(1)</script>"onload="x'],
  ['expression', '(a+)+$[^'],
  ['brackets', '['.repeat(9_000)],
  ['combining', `a${'\u0301'.repeat(9_000)}`],
  ['long', 'a1-'.repeat(6_600)],
  ['too long', 'x'.repeat(300_000)],
  ['parts of ids', 'a/b:c/d@e/'.repeat(500)],
  ['MATCH', `MATCH ${'(a)-[x]->'.repeat(300)}(b) RETURN a`],
];

/** A value for an argument: hostile where a text or number is wanted, else something that fits. */
function valueFor(type: GraphQLInputType, text: string, depth = 0): unknown {
  if (isNonNullType(type)) return valueFor(type.ofType, text, depth);
  if (isListType(type)) return Array.from({ length: 3 }, () => valueFor(type.ofType, text, depth));
  if (isEnumType(type)) return type.getValues()[0]?.name;
  if (isInputObjectType(type)) {
    const fields = Object.values(type.getFields());
    const wanted = fields.filter((field) => isRequired(field) || depth < 2);
    return Object.fromEntries(
      wanted.map(({ name, type: inner }) => [name, valueFor(inner, text, depth + 1)]),
    );
  }
  switch (type.name) {
    case 'Int':
      return 2_147_483_647;
    case 'Float':
      return -1e308;
    case 'Boolean':
      return true;
    default:
      return text;
  }
}

const isRequired = ({ type, defaultValue }: GraphQLArgument | GraphQLInputField) =>
  isNonNullType(type) && defaultValue === undefined;

const post = (body: string, headers: Record<string, string> = {}) =>
  ({
    method: 'POST',
    url: '/graphql',
    headers: { 'content-type': 'application/json', ...headers },
    body,
  }) as const;
const asking = (name: string, query: string, variables?: unknown): HostileRequest => ({
  name,
  ...post(JSON.stringify({ query, variables })),
});

/** Every question and change of the schema, with every hostile text in every argument. */
function* ofSchema(): Generator<HostileRequest> {
  const schema = readSchema();
  for (const root of ['Query', 'Mutation'] as const) {
    const type = root === 'Query' ? schema.getQueryType() : schema.getMutationType();
    for (const field of Object.values(type?.getFields() ?? {})) {
      if (field.args.length === 0) continue;
      const takes = field.args.map((arg) => `$${arg.name}: ${arg.type}`).join(', ');
      const gives = field.args.map(({ name }) => `${name}: $${name}`).join(', ');
      const below = isLeafType(getNamedType(field.type)) ? '' : ' { __typename }';
      const query = `${root.toLowerCase()} (${takes}) { ${field.name}(${gives})${below} }`;
      for (const [name, text] of TEXTS) {
        const variables = Object.fromEntries(field.args.map((arg) => [arg.name, valueFor(arg.type, text)]));
        yield asking(`${field.name}, ${name}`, query, variables);
      }
    }
  }
}

const times = (count: number, make: (i: number) => string) =>
  Array.from({ length: count }, (_, i) => make(i)).join(' ');

/** Documents, bodies, headers and addresses. */
const WRITTEN: readonly HostileRequest[] = [
  asking(
    'a field path of 40 kB',
    'query ($f: String!) { whatIf(change: { value: { of: "tarn-sennit-1", field: $f, text: "x" } }) { __typename } }',
    {
      f: 'a.'.repeat(20_000),
    },
  ),
  asking('one field 3,900 times', `{ ${'__typename '.repeat(3_900)} }`),
  asking('one page 480 times', `{ ${'devices { nodes { id name } } '.repeat(480)} }`),
  asking('aliases', `{ ${times(1_900, (i) => `a${i}: __typename`)} }`),
  asking('an alias of a megabyte', `{ ${'a'.repeat(900_000)}: archive { devices } }`),
  asking('a comment of a megabyte', `{ __typename } #${'x'.repeat(990_000)}`),
  asking('unknown fields', `{ ${times(3_900, (i) => `devicez${i}`)} }`),
  asking(
    'fragments twofold',
    `{ ...F0 } ${times(60, (i) => `fragment F${i} on Query { ...F${i + 1} ...F${i + 1} }`)} fragment F60 on Query { __typename }`,
  ),
  asking('a circle of fragments', '{ ...A } fragment A on Query { ...B } fragment B on Query { ...A }'),
  asking(
    'lists in lists',
    `{ compareDevices(ids: ${'['.repeat(1_900)}${']'.repeat(1_900)}) { __typename } }`,
  ),
  asking('inline fragments', `{ ${'... on Query { '.repeat(900)}__typename${' }'.repeat(900)} }`),
  asking('variables', `query (${times(900, (i) => `$v${i}: Int`)}) { __typename }`),
  asking('directives', `{ __typename ${'@include(if: true) '.repeat(600)} }`),
  asking(
    'a hundred pages of a hundred',
    '{ devices(first: 500) { nodes { components(first: 500) { nodes { id } } } } }',
  ),
  asking(
    'introspection in circles',
    `{ __schema { types { ${'fields { type { '.repeat(12)}name${' } }'.repeat(12)} } } }`,
  ),
  asking('a subscription', 'subscription { __typename }'),
  asking(
    'many operations',
    times(900, (i) => `query Q${i} { __typename }`),
  ),
  asking('a list of 60,000 ids', 'query ($ids: [ID!]!) { compareDevices(ids: $ids) { __typename } }', {
    ids: Array.from({ length: 60_000 }, (_, i) => `x${i}`),
  }),
  asking('a search for everything', '{ search(text: "* OR NOT (", first: 500) { totalCount } }'),
  asking(
    'a pattern of everything',
    '{ findPattern(text: "MATCH (a)-[x]-{1,9}(b) RETURN a") { totalCount } }',
  ),
  asking('an earlier instant in year 0', '{ asOf(instant: "0000-01-01T00:00:00Z") { archive { devices } } }'),
  { name: 'ten megabytes of lists', ...post('['.repeat(10_000_000)) },
  { name: 'a megabyte of lists', ...post('['.repeat(1_000_000)) },
  { name: 'a megabyte of groups', ...post('{"a":'.repeat(200_000)) },
  {
    name: 'a megabyte of numbers',
    ...post(`{"query":"{__typename}","variables":{"a":[${'0,'.repeat(499_000)}0]}}`),
  },
  {
    name: 'a number of a megabyte',
    ...post(`{"query":"{__typename}","variables":{"a":${'9'.repeat(1_000_000)}}}`),
  },
  { name: 'a key of a megabyte', ...post(`{"${'k'.repeat(1_000_000)}":1}`) },
  { name: 'many keys', ...post(`{${times(100_000, (i) => `"k${i}":0${i < 99_999 ? ',' : ''}`)}}`) },
  { name: '__proto__', ...post('{"__proto__":{"query":"{__typename}"},"query":"{__typename}"}') },
  {
    name: 'constructor',
    ...post('{"query":"{__typename}","variables":{"constructor":{"prototype":{"a":1}}}}'),
  },
  { name: 'a body that is no JSON', ...post('\u0000\u0001\u0002') },
  { name: 'an empty body', ...post('') },
  { name: 'half a body', ...post('{"query":"{__type') },
  { name: 'a batch', ...post(`[${times(1_000, () => '{"query":"{__typename}"},')}{}]`) },
  { name: 'a body of 30 megabytes', ...post(JSON.stringify({ query: ' '.repeat(30_000_000) })) },
  {
    name: 'another character set',
    ...post('{"query":"{__typename}"}', { 'content-type': 'application/json; charset=utf-7' }),
  },
  { name: 'a form', ...post('query={__typename}', { 'content-type': 'application/x-www-form-urlencoded' }) },
  { name: 'plain text', ...post('{"query":"{__typename}"}', { 'content-type': 'text/plain' }) },
  { name: 'compressed', ...post('\u001f\u008b', { 'content-encoding': 'gzip' }) },
  { name: 'another site', ...post('{"query":"{__typename}"}', { origin: 'https://elsewhere.example' }) },
  { name: 'another host', ...post('{"query":"{__typename}"}', { host: 'elsewhere.example' }) },
  {
    name: 'a wrong token',
    ...post('{"query":"{__typename}"}', { authorization: `Bearer ${'a'.repeat(4_000)}` }),
  },
  { name: 'a header of 15 kB', ...post('{"query":"{__typename}"}', { 'x-long': 'a'.repeat(15_000) }) },
  { name: 'a header of 60 kB', ...post('{"query":"{__typename}"}', { 'x-long': 'a'.repeat(60_000) }) },
  { name: 'Accept of 10 kB', ...post('{"query":"{__typename}"}', { accept: 'a/b,'.repeat(2_500) }) },
  ...['PUT', 'DELETE', 'OPTIONS', 'HEAD'].map((method) => ({
    name: method,
    method: method as 'PUT',
    url: '/graphql',
  })),
  ...[
    '/../../etc/passwd',
    '/%2e%2e/%2e%2e/etc/passwd',
    '/assets/..%2f..%2fpackage.json',
    '/%',
    '/%00',
    '/%c0%ae',
    `/${'a'.repeat(7_000)}`,
    '/publications/..%2f..%2fx/sheet',
    '/publications/%E2%80%AE/sheet',
    '/publications/__proto__/sheet',
    '/graphql?query={__typename}&variables={',
    '/graphql?query=mutation{x}',
    `/graphql?query=${'%7B'.repeat(2_000)}`,
    '/graphql?query[]=a&query[]=b',
    '/?a[__proto__][b]=c',
    '/.git/config',
    '/metrics',
    '/livez?%',
  ].map((url) => ({ name: url.slice(0, 40), method: 'GET', url }) as const),
];

/** All of them; the same each time. */
export const HOSTILE_REQUESTS: readonly HostileRequest[] = [...WRITTEN, ...ofSchema()];

const dossier = (name: string) =>
  `caseback: dossier/1\ndevice: { id: x-1, name: ${name}, maker: x, released: 2020, bodySite: wrist }\nspecimen: { id: a }\nteardown: { on: 2021, by: I. Example }\n`;

export const HOSTILE_FILES: readonly HostileFile[] = [
  ...TEXTS.map(([name, text]) => ({ name: `a name: ${name}`, content: dossier(JSON.stringify(text)) })),
  ...TEXTS.map(([name, text]) => ({
    name: `a key: ${name}`,
    content: `${dossier('X')}${JSON.stringify(text)}: 1\n`,
  })),
  ...TEXTS.map(([name, text]) => ({ name: `a whole file: ${name}`, content: text })),
  ...[
    'true',
    '-1',
    '1e999',
    '.nan',
    '~',
    '[]',
    '{}',
    '!!binary x',
    '*x',
    '&x y',
    '<<: {}',
    '? [a]',
    '2020-13-45',
  ].map((value) => ({
    name: `a name: ${value}`,
    content: dossier(value),
  })),
  { name: 'lists in lists', content: '['.repeat(1_000_000) },
  { name: 'dashes', content: '- '.repeat(500_000) },
  { name: 'groups in JSON', content: '{"a":'.repeat(300_000) },
  { name: 'many documents', content: '---\n'.repeat(200_000) },
  {
    name: 'many keys',
    content: `caseback: dossier/1\n${Array.from({ length: 100_000 }, (_, i) => `k${i}: 1`).join('\n')}\n`,
  },
  { name: 'not UTF-8', content: new Uint8Array(1_000).fill(0xff) },
  { name: 'UTF-16', content: Buffer.from(`\ufeff${dossier('X')}`, 'utf16le') },
];
