import { expect, test, vi } from 'vitest';
import type { Archive } from '../../src/archive.ts';
import { file, watchOver } from '../service/feeds/feeding.ts';
import { archiveOf, HIDDEN_LATER, NOW, runStep } from './archives.ts';
import { Asked, difference, type Told } from './asking.ts';

// What feeds answer readers (content, ETag, Last-Modified, refusals) and when they tell of a change is the same whether or not
// something hidden was written before, and does not change when something hidden is written.

const FEEDS = [
  {
    id: 'feed-devices',
    title: 'Devices',
    question: '{ devices { totalCount nodes { id name components { totalCount } } } }',
  },
  {
    id: 'feed-search',
    title: 'Search',
    question: '{ search(text: "sensor") { nodes { kind id title } } }',
  },
  {
    id: 'feed-pattern',
    title: 'Pattern',
    question: '{ findPattern(text: "MATCH (x:Sensor) RETURN x") { totalCount } }',
  },
  {
    id: 'feed-archive',
    title: 'Counts',
    question: '{ archive { devices specimens } feeds { totalCount } }',
    origins: ['*'],
  },
];
const HIDDEN_FEED = {
  id: 'feed-hidden',
  title: 'Hidden',
  question: '{ devices { totalCount } }',
  visibility: 'draft',
};
const ADDRESSES = [
  '/feeds',
  ...[...FEEDS, HIDDEN_FEED].flatMap(({ id }) =>
    ['json', 'csv', 'svg'].map((form) => `/feeds/${id}.${form}`),
  ),
  '/feeds/feed-hidden/events',
];
const REQUESTS = ADDRESSES.flatMap((url) => [
  // A stream would not end.
  ...(url.endsWith('/events')
    ? []
    : [
        { method: 'GET', url },
        { method: 'GET', url, headers: { 'if-none-match': '*' } },
      ]),
  { method: 'HEAD', url },
  {
    method: 'OPTIONS',
    url,
    headers: { origin: 'https://a.example', 'access-control-request-method': 'GET' },
  },
]);

async function told(asked: Asked): Promise<readonly Told[]> {
  const all: Told[] = [];
  for (const request of REQUESTS) all.push(await asked.request(request));
  return all;
}

function differing(before: readonly Told[], after: readonly Told[]): readonly string[] {
  return REQUESTS.flatMap(({ method, url }, at) => {
    const found = difference(before[at] as Told, after[at] as Told);
    return found ? [`${method} ${url}: ${found}`] : [];
  });
}

/** How often listeners of readers are told, once at the beginning and then for each hidden step. */
async function eventsOf(archive: Archive): Promise<number> {
  let count = 0;
  const watch = watchOver(archive);
  for (const { id } of FEEDS) watch.subscribe(id, 'reader', () => count++);
  await watch.settled();
  for (const step of HIDDEN_LATER) {
    await runStep(step, archive);
    await watch.settled();
  }
  watch.close();
  return count;
}

/** As if readers saw what the desk sees. */
function leaking(archive: Archive): Archive {
  return new Proxy(archive, {
    get(target, name) {
      if (name === 'state') return () => target.state('desk');
      const value: unknown = Reflect.get(target, name, target);
      return typeof value === 'function' ? value.bind(target) : value;
    },
  });
}

test('what feeds tell readers is as if what is hidden had never been', async () => {
  vi.useFakeTimers({ toFake: ['Date'], now: new Date(NOW) });
  try {
    const [whole, seen] = [await archiveOf('whole'), await archiveOf('seen')];
    await file(whole, { feeds: [...FEEDS, HIDDEN_FEED] });
    await file(seen, { feeds: FEEDS });
    const [one, other] = [new Asked(whole, 'reader'), new Asked(seen, 'reader')];
    const desk = new Asked(whole, 'desk');
    expect((await desk.request({ method: 'GET', url: '/feeds/feed-hidden.json' })).status).toBe(200);
    expect(differing(await told(one), await told(other))).toEqual([]);
    // The test can fail.
    const leaky = new Asked(leaking(whole), 'reader');
    expect(differing(await told(leaky), await told(other)).length).toBeGreaterThan(10);
    for (const asked of [one, other, desk, leaky]) await asked.close();
  } finally {
    vi.useRealTimers();
  }
});

test('nothing of it changes, and no listener is told, while the desk writes what is hidden', async () => {
  const archive = await archiveOf('whole');
  await file(archive, { feeds: FEEDS });
  const asked = new Asked(archive, 'reader');
  const before = await told(asked);
  expect(await eventsOf(archive)).toBe(FEEDS.length);
  expect(differing(before, await told(asked))).toEqual([]);
  await asked.close();
  // The test can fail.
  const other = await archiveOf('whole');
  await file(other, { feeds: FEEDS });
  expect(await eventsOf(leaking(other))).toBeGreaterThan(FEEDS.length);
});
