/**
 * The engine against the meaning of the language told without speed (`oracle/`), on random graphs and queries.
 */
import { describe, expect, test } from 'vitest';
import { seeded } from '../bench/match-archive.ts';
import { testSeed } from '../random.ts';
import { comparedRows } from './oracle/compared.ts';
import { QueryWriter, smallGraph } from './random-query.ts';

describe.each([false, true])('distinct nodes: %s', (distinctNodes) => {
  test.each(Array.from({ length: 10 }, (_, i) => i))('random queries, part %i', async () => {
    const random = seeded(testSeed());
    const writer = new QueryWriter(random);
    let asked = 0;
    let withRows = 0;
    for (let i = 0; i < 60; i++) {
      const rows = await comparedRows(smallGraph(random, 5), writer.query(), distinctNodes);
      if (rows === undefined) continue;
      asked++;
      if (rows > 0) withRows++;
    }
    expect(asked).toBeGreaterThan(20);
    expect(withRows).toBeGreaterThan(8);
  });
});

test.each(Array.from({ length: 10 }, (_, i) => i))(
  'random queries of several statements, part %i',
  async (part) => {
    const random = seeded(part * 104_729 + 11);
    const writer = new QueryWriter(random);
    let asked = 0;
    let withRows = 0;
    for (let i = 0; i < 40; i++) {
      const rows = await comparedRows(smallGraph(random, 5), writer.steps(), false);
      if (rows === undefined) continue;
      asked++;
      if (rows > 0) withRows++;
    }
    expect(asked).toBeGreaterThan(20);
    expect(withRows).toBeGreaterThan(4);
  },
);
