import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { documentIdOf } from '../../src/api-schema/document-id.ts';
import { filesInZip } from '../../src/pack/read-zip.ts';
import { archiveOf, NOW } from './archives.ts';
import { Asked, difference } from './asking.ts';
import { CATALOGUE } from './devices.ts';

// What is not a field of the schema: pages, the schema itself, health, refusals, and questions in other forms.

let whole: Asked;
let seen: Asked;
let desk: Asked;
beforeAll(async () => {
  vi.useFakeTimers({ toFake: ['Date'], now: new Date(NOW) });
  const archive = await archiveOf('whole');
  [whole, desk] = [new Asked(archive, 'reader'), new Asked(archive, 'desk')];
  seen = new Asked(await archiveOf('seen'), 'reader');
  await desk.request({ method: 'GET', url: '/' });
});
afterAll(async () => {
  vi.useRealTimers();
  for (const asked of [whole, seen, desk]) await asked.close();
});

const PUBLICATIONS = [
  'letter-one',
  'letter-two',
  'ended-letter',
  'hidden-film',
  'embargoed-letter',
  'recalled-letter',
  'never-was',
  'dev-recalled',
];
/** Files of everything, of a device that readers see, and of one that is hidden in part or whole. */
const EXPORTED = [
  '/exports',
  ...[
    'nodes.csv',
    'edges.csv',
    'components.csv',
    'csv.zip',
    'csv-metadata.json',
    'graph.graphml',
    'nothing.csv',
  ].map((file) => `/exports/archive/${file}`),
  ...['dev-1', 'dev-0', 'aa-hidden', 'dev-recalled', 'never-was'].flatMap((id) => [
    `/exports/device/${id}/nodes.csv`,
    `/exports/device/${id}/csv.zip`,
    `/exports/specimen/${id}/a/graph.graphml`,
    `/exports/specimen/${id}/b/components.csv`,
  ]),
];
const FOUND = ['/', '/explorer', '/schema.graphql', '/livez', '/readyz', '/docs/guide', '/assets/site.css'];
const RECORDS = [
  ...[
    'letter-one',
    'dev-1',
    'dev-1/a/U2',
    'quistle/QWR4T10',
    'dev-1:sensor-on-the-bus',
    'hidden-film',
    'aa-hidden/a/U2',
  ],
  ...['letter-three/c2', 'veil', 'never-was'],
].map((id) => `/records/${id}.jsonld`);
/** Pictures of photos, in every form, of what readers see and of what they do not. */
const PHOTOS = [
  'dev-1/a/p1',
  'dev-1/a/p2',
  'dev-2/a/p1',
  'aa-hidden/a/p1',
  'dev-recalled/a/p1',
  'never-was/a/p1',
].flatMap((id) =>
  [
    'info.json',
    'file',
    'original',
    'board.jpg',
    'of/U2.jpg',
    'of/U99.jpg',
    'full/max/0/default.jpg',
    'full/64,48/0/default.jpg',
    '0,0,512,512/512,512/0/default.jpg',
  ].map((form) => `/photos/${id}/${form}`),
);
const OTHERS = [
  ...PHOTOS,
  ...['dev-1', 'aa-hidden', 'dev-recalled', 'never-was'].map(
    (id) => `/drawings/board/${id}/a/main.svg?photoStrength=50`,
  ),
  ...RECORDS,
  '/records/aa-hidden',
  '/taxonomy',
  '/nothing-here',
  '/devices/aa-hidden',
  '/publications/hidden-film',
  '/publications/%2e%2e/sheet',
  '/graphql',
  `/graphql?query=${encodeURIComponent('{ device(id: "aa-hidden") { id } archive { devices } }')}`,
  `/graphql?query=${encodeURIComponent('{ device(id: "dev-1") { id } archive { sequence changedAt } }')}`,
  // The question of a feed that readers do not see, and that of one that they do.
  `/graphql?documentId=${documentIdOf('{ archive { devices } }')}`,
  `/graphql?documentId=${documentIdOf(String(CATALOGUE.feeds?.[0]?.question))}`,
  `/graphql?query=${encodeURIComponent('mutation { judgeDecision(input: {}) { entry { id } } }')}`,
];

describe('pages and refusals tell a reader nothing of what is hidden', () => {
  const addresses = [
    ...FOUND,
    ...PUBLICATIONS.map((id) => `/publications/${id}/sheet`),
    ...EXPORTED,
    ...OTHERS,
  ];
  const FORMS = [{ accept: 'text/html' }, { accept: 'application/json' }, { 'if-none-match': '*' }];
  test.each(addresses)('%s', async (url) => {
    const requests = [
      ...FORMS.map((headers) => ({ method: 'GET', url, headers })),
      ...['HEAD', 'POST', 'DELETE'].map((method) => ({ method, url })),
    ];
    for (const request of requests)
      expect(difference(await whole.request(request), await seen.request(request))).toBeUndefined();
  });

  test.each(PUBLICATIONS)('the pack of %s', async (id) => {
    // A state has another name in each archive; that there is one, or none, is the answer.
    const request = { method: 'GET', url: `/publications/${id}/pack.zip` };
    const [one, other] = [await whole.app.inject(request), await seen.app.inject(request)];
    expect([one.statusCode, one.body]).toEqual([other.statusCode, other.body]);
    const stateOf = ({ headers }: typeof one) =>
      String(headers.location).replace(/state=[\w-]{64}$/u, 'state=…');
    expect(stateOf(one)).toBe(stateOf(other));
    const desks = { method: 'GET', url: `/publications/${id}/pack.zip?audience=desk` };
    expect(difference(await whole.request(desks), await seen.request(desks))).toBeUndefined();
    if (one.statusCode !== 303) return;
    const filesOf = async ({ app }: Asked, location: unknown) => {
      const { rawPayload } = await app.inject({ method: 'GET', url: String(location) });
      const files = await filesInZip(rawPayload, id);
      return [...files].map(([path, content]) => [
        path,
        // Names of states, and digests of files that have one.
        Buffer.from(content)
          .toString('latin1')
          .replaceAll(/[\w-]{64}/gu, 'name or digest'),
      ]);
    };
    expect(await filesOf(whole, one.headers.location)).toEqual(await filesOf(seen, other.headers.location));
  });

  test('the desk is shown what is hidden, so that the pages are real ones', async () => {
    const sheet = { method: 'GET', url: '/publications/hidden-film/sheet' };
    expect((await desk.request(sheet)).status).toBe(200);
    expect((await whole.request(sheet)).status).toBe(404);
    const start = { method: 'GET', url: '/' };
    expect(difference(await desk.request(start), await whole.request(start))).toBeDefined();
    for (const url of [...FOUND.slice(0, 5), ...EXPORTED.slice(0, 7), '/exports/device/dev-1/csv.zip'])
      expect((await whole.request({ method: 'GET', url })).status, url).toBe(200);
  });
});

test('a state token tells neither how many entries there are nor which of two answers is newer', async () => {
  const request = { method: 'POST', url: '/graphql', payload: { query: '{ archive { devices } }' } };
  const tokensOf = async (asked: Asked, count: number) => {
    const tokens: string[] = [];
    for (let i = 0; i < count; i++) {
      const { headers } = await asked.app.inject(request);
      tokens.push(String(headers['caseback-state']));
    }
    return tokens;
  };
  // 121 entries for one, 88 for the other; 24 of each are in order by themselves once in 24! draws.
  const [one, other] = [await tokensOf(whole, 24), await tokensOf(seen, 24)];
  const all = [...one, ...other];
  expect(new Set(all.map(({ length }) => length))).toEqual(new Set([54]));
  expect(new Set(all).size).toBe(48);
  for (const tokens of [one, other]) expect(tokens.toSorted()).not.toEqual(tokens);
  // Decoded, no byte is the same in all of one archive and another in all of the other.
  const bytes = (tokens: readonly string[]) => tokens.map((token) => [...Buffer.from(token, 'base64url')]);
  const fixed = (tokens: readonly string[]) => {
    const [first = [], ...others] = bytes(tokens);
    return first.map((byte, at) => others.every((token) => token[at] === byte));
  };
  expect([...fixed(one), ...fixed(other)]).not.toContain(true);
});

test('errors of a list stand in its order, whichever of its items somebody asked about before', async () => {
  // Of one device the decisions are there already, of the others they have to be worked out: that one fails first.
  await whole.graphql('{ decisions(device: "dev-12") { totalCount } }', {});
  const query = `{ devices(first: 20) { nodes { decisions { nodes { device {
    presence(of: { category: "Sensor", maker: "tarn" }) { verdict } } } } } } }`;
  const told = await whole.graphql(query, {});
  expect(difference(told, await seen.graphql(query, {}))).toBeUndefined();
  const { errors } = JSON.parse(told.body) as { errors: { path: (string | number)[] }[] };
  const items = errors.map(({ path }) => path.filter((step) => typeof step === 'number'));
  expect(items.length).toBeGreaterThan(20);
  expect(items).toEqual(items.toSorted(([a = 0, b = 0], [c = 0, d = 0]) => a - c || b - d));
});

describe('a change that a reader asks for is refused alike, whatever it names', () => {
  const CHANGES = [
    'judgeDecision(input: { decision: "ID:sensor-on-the-bus", verdict: DOUBTED, reason: "y" })',
    'withdrawObservation(input: { specimen: "ID/a", observation: "o1", reason: "y" })',
    'correct(input: { change: { value: { of: "ID", field: "mass" } }, reason: "y" })',
    'recordObservation(input: { specimen: "ID/a", observation: { id: "n9", about: ["U1"], kind: MARKING }, reason: "y" })',
  ];
  test.each(CHANGES)('%s', async (change) => {
    for (const id of ['aa-hidden', 'dev-recalled', 'dev-1', 'never-was']) {
      const request = {
        method: 'POST',
        url: '/graphql',
        payload: { query: `mutation { ${change.replace('ID', id)} { __typename } }` },
      };
      const told = await whole.request(request);
      expect(difference(told, await seen.request(request))).toBeUndefined();
      expect(told.body).toContain('errors');
    }
  });
});
