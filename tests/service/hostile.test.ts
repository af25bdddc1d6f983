import { afterAll, beforeAll, expect, test } from 'vitest';
import { readDocument } from '../../src/dossier/read.ts';
import { formatProblem } from '../../src/model/problems.ts';
import { HOSTILE_FILES, HOSTILE_REQUESTS, UNCLEAN } from '../bench/hostile-requests.ts';
import { type Served, serve } from './serving.ts';

// A share of the hostile requests and files, through the service in this process.
let served: Served;
beforeAll(async () => {
  served = await serve({ logger: false });
});
afterAll(() => served.close());

test('there are more than three hundred requests and more than fifty files', () => {
  expect(HOSTILE_REQUESTS.length).toBeGreaterThan(300);
  expect(HOSTILE_FILES.length).toBeGreaterThan(50);
  expect(new Set(HOSTILE_REQUESTS.map(({ name }) => name)).size).toBe(HOSTILE_REQUESTS.length);
});

test.each(HOSTILE_REQUESTS.filter((_, i) => i % 31 === 7).map((one) => [one.name, one] as const))(
  '%s',
  async (_, { method, url, headers = {}, body }) => {
    const response = await served.app.inject({
      method,
      url,
      headers,
      ...(body !== undefined && { payload: body }),
    });
    expect(response.body).not.toMatch(UNCLEAN);
    expect(response.statusCode).toBeLessThan(500);
    const { errors = [] } = response.body.startsWith('{')
      ? response.json<{ errors?: { message: string }[] }>()
      : {};
    for (const { message } of errors) expect(message.length).toBeLessThanOrEqual(400);
    expect(response.body.length).toBeLessThan(100_000);
  },
);

test.each(HOSTILE_FILES.filter((_, i) => i % 6 === 1).map((one) => [one.name, one] as const))(
  '%s',
  (_, { content }) => {
    const { problems } = readDocument(Buffer.from(content), 'hostile.yaml');
    for (const problem of problems) {
      const told = formatProblem(problem);
      expect(told).not.toMatch(UNCLEAN);
      expect(told.length).toBeLessThan(1_500);
    }
  },
);
