import { expect, test } from 'vitest';
import { seededRandom } from '../../bench/generate.ts';
import { killUnderLoad } from '../../postgres/kills.ts';
import { testSeed } from '../../random.ts';

test('five kills of the server and five of a writing process: what was acknowledged is there, once, and whole', async () => {
  const outcome = await killUnderLoad({ server: 5, writers: 5 }, seededRandom(testSeed()));
  expect(outcome).toMatchObject({ lost: 0, partial: 0, faults: 0, said: '' });
  expect(outcome.acknowledged).toBeGreaterThan(10);
  // Three entries an append, also of those whose writer was killed before it could say so.
  expect(outcome.entries).toBeGreaterThanOrEqual(3 * outcome.acknowledged);
});
