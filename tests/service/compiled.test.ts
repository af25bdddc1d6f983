import { type ExecutionResult, execute, parse } from 'graphql/index.js';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { serviceSchema } from '../../src/service/graphql/schema.ts';
import { type Served, serve } from './serving.ts';

// Outside check: graphql-js, the reference implementation, executes the same documents on the same archive.
// The service must answer alike before a document is compiled, while it is, and after.

const CASES: readonly (readonly [string, string, Record<string, unknown>[]])[] = [
  [
    'variables with and without defaults',
    'query ($n: Int = 2, $o: DeviceOrder! = { field: NAME }) { devices(first: $n, orderBy: $o) { nodes { id } } }',
    [
      {},
      { n: 1 },
      { n: null },
      { o: { field: 'RELEASED', direction: 'DESC' } },
      { o: { direction: 'DESC' } },
      { o: {} },
    ],
  ],
  [
    'single fields of an input object',
    'query ($f: DeviceOrderField!, $from: PartialDate, $m: [ID!]) { devices(orderBy: { field: $f }, filter: { releasedFrom: $from, makers: $m }) { nodes { id } } }',
    [
      { f: 'NAME' },
      { f: 'RELEASED', from: '2018' },
      { f: 'ID', m: ['veil'] },
      { f: 'ID', m: 'tarn' },
      { f: 'ID', m: null, from: null },
    ],
  ],
  [
    'arguments whose variable is not given',
    'query ($above: String!, $n: Int) { device(id: "tarn-sennit-1") { kindCounts(above: $above) { kind expected } components(first: $n) { totalCount nodes { id } } } }',
    [{ above: 'Sensor' }, { above: 'Processor', n: 1 }],
  ],
  [
    'directives, aliases, fragments and interfaces',
    `query ($with: Boolean!, $id: ID!) {
      node(id: $id) { __typename id ...C ... on Board { kind area } ... on Device @include(if: $with) { name } }
      again: node(id: $id) @skip(if: $with) { id }
    }
    fragment C on Component { labels { term probability } at { x y } rotation board { name kind } inside { id } holds { id } identification { unknown state candidates { part { id } } } }`,
    ['tarn-sennit-1/a/U1', 'tarn-sennit-1/a/main', 'tarn-sennit-1', 'nothing'].flatMap((id) => [
      { id, with: true },
      { id, with: false },
    ]),
  ],
  [
    'errors below lists and non-null fields',
    'query ($unit: String!, $first: Int) { devices(first: 2) { nodes { id mass { text in(unit: $unit) { value } } components(first: $first) { totalCount } } } }',
    [{ unit: 'kg' }, { unit: 'V' }, { unit: 'kg', first: -1 }],
  ],
  [
    'answers that are waited for, and what is asked of them later',
    '{ findPattern(id: "front-end-at-sensor", first: 1) { totalCount facets { years { value count } } nearMatches { totalCount nodes { device { id } missing } } nodes { matches { nodes { bindings { nodes { id } } } } } } }',
    [{}],
  ],
  [
    'lists of lists and numbers',
    '{ compareDevices(ids: ["tarn-sennit-1", "tarn-sennit-2"]) { subsystems { kind components } sensors { counts { certain expected } } } taxonomy { name below } }',
    [{}],
  ],
];

let served: Served;
beforeAll(async () => {
  served = await serve();
});
afterAll(() => served.close());

const plain = (result: ExecutionResult) => ({
  data: JSON.parse(JSON.stringify(result.data ?? null)),
  errors: result.errors?.map(({ message, path }) => ({ message, path })),
});

describe('the service answers as the reference implementation does', () => {
  for (const [what, query, variants] of CASES) {
    test(what, async () => {
      for (const variables of variants) {
        const contextValue = {
          archive: served.archive,
          view: served.archive.state('reader'),
          signal: () => AbortSignal.timeout(60_000),
        };
        const expected = plain(
          await execute({
            schema: serviceSchema(),
            document: parse(query),
            contextValue,
            variableValues: variables,
          }),
        );
        for (let i = 0; i < 4; i++) {
          const { data, errors } = await served.answer(query, variables);
          expect({
            data: data ?? null,
            errors: errors?.map(({ message, path }) => ({ message, path })),
          }).toEqual(expected);
        }
      }
    });
  }
});
