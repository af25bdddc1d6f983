import { afterAll, beforeAll, expect, test, vi } from 'vitest';
import { documentIdOf } from '../../src/api-schema/document-id.ts';
import type { Archive } from '../../src/archive.ts';
import { archiveOf, HIDDEN_LATER, NOW, runStep } from './archives.ts';
import { Asked, difference, type Told } from './asking.ts';
import { CATALOGUE } from './devices.ts';

// What is cited tells readers what it would tell them had the hidden never been: the address that they are led to, and what it answers.

let archive: Archive;
let whole: Asked;
let seen: Asked;
beforeAll(async () => {
  vi.useFakeTimers({ toFake: ['Date'], now: new Date(NOW) });
  archive = await archiveOf('whole');
  whole = new Asked(archive, 'reader');
  seen = new Asked(await archiveOf('seen'), 'reader');
});
afterAll(async () => {
  vi.useRealTimers();
  for (const asked of [whole, seen]) await asked.close();
});

/** The name of a state is sealed with a nonce drawn anew, under a key of the archive; what can be told apart is how long it is. */
function masked({ status, headers, body }: Told): Told {
  const name = /state=([\w-]+)/gu;
  const mask = (text: string) => text.replaceAll(name, (_, state: string) => `state=${state.length}`);
  return { status, headers: mask(headers).replaceAll(/"etag":"\\"[\w-]+\\""/gu, '"etag"'), body: mask(body) };
}

const QUESTIONS = ['gauges-by-year', 'gauges-counted', 'never-was', documentIdOf('{ archive { devices } }')];
const addresses = [...QUESTIONS, documentIdOf(String(CATALOGUE.feeds?.[0]?.question))].flatMap((id) =>
  ['json', 'csv', 'csl.json'].map((form) => `/cite/${id}.${form}`),
);

async function told(asked: Asked, url: string): Promise<readonly Told[]> {
  const led = await asked.request({ method: 'GET', url });
  const { location } = JSON.parse(led.headers) as { location?: string };
  return location === undefined ? [led] : [led, await asked.request({ method: 'GET', url: location })];
}

test.each(addresses)('%s', async (url) => {
  const [one, other] = [await told(whole, url), await told(seen, url)];
  expect(one.length).toBe(other.length);
  for (const [at, answer] of one.entries())
    expect(difference(masked(answer), masked(other[at] as Told))).toBeUndefined();
  if (url.startsWith('/cite/gauges-by-year')) expect(one[1]?.status).toBe(200);
});

test('an address answers the same bytes while the desk writes what is hidden', async () => {
  const led = await whole.request({ method: 'GET', url: '/cite/gauges-by-year.json' });
  const { location } = JSON.parse(led.headers) as { location: string };
  const before = await whole.request({ method: 'GET', url: location });
  for (const step of HIDDEN_LATER) await runStep(step, archive);
  expect(difference(before, await whole.request({ method: 'GET', url: location }))).toBeUndefined();
});
