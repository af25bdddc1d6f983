import { describe, expect, it } from 'vitest';
import { seedOf, testSeed } from '../../random.ts';
import { type Case, disagreement, report, type Way } from './disagreement.ts';
import { drawGraph, drawQuery, Random } from './draw.ts';
import { CUTS, PLANS } from './engine-answers.ts';
import { textOf } from './query.ts';
import { makesSense, shrunk } from './shrink.ts';
import { TooMuchWork } from './walks.ts';

// The engine against the brute-force matcher of this folder, on random graphs and queries: every plan, every way to cut
// the graph into segments, and worker threads. CASEBACK_BRUTE_PAIRS=2000 draws so many pairs instead of 200.
const PAIRS = Number(process.env.CASEBACK_BRUTE_PAIRS ?? 200);
/** Steps of brute force that a pair may take; what takes more is drawn anew. */
const WORK = 30_000;

const here: readonly Way[] = CUTS.flatMap((cut, at) =>
  (at < 3 ? Object.keys(PLANS) : ['auto']).map((plan) => ({ cut, plan, where: 'here' as const })),
);
const workers: readonly Way[] = [{ cut: 'three segments', plan: 'auto', where: 'workers' }];

describe('the engine finds what brute force finds', () => {
  it.each([
    { what: 'in every plan and cut', share: 0.7, distinctNodes: false, ways: here },
    { what: 'with distinct nodes', share: 0.2, distinctNodes: true, ways: here },
    { what: 'on worker threads', share: 0.1, distinctNodes: false, ways: workers },
  ])('$what', async ({ share, distinctNodes, ways }) => {
    const pairs = Math.round(PAIRS * share);
    const first = testSeed();
    let compared = 0;
    for (let round = 0; compared < pairs; round++) {
      const random = new Random(seedOf('', round, first));
      const graph = drawGraph(random);
      const one: Case = { graph, query: drawQuery(random, { distinctNodes }), distinctNodes };
      try {
        const found = await disagreement(one, ways, WORK);
        if (found !== undefined) expect.fail(await smallest(one, ways));
        compared++;
      } catch (error) {
        if (!(error instanceof TooMuchWork)) throw error;
      }
    }
    expect(compared).toBe(pairs);
  });
});

/** A report of the smallest case that goes wrong as this one does. */
async function smallest(one: Case, ways: readonly Way[]): Promise<string> {
  const first = await disagreement(one, ways, WORK);
  const small = await shrunk(one, async (smaller) => {
    try {
      return makesSense(smaller.query) && (await disagreement(smaller, ways, WORK))?.kind === first?.kind;
    } catch {
      return false;
    }
  });
  const found = await disagreement(small, ways, WORK);
  if (found === undefined) throw new Error(`the engine is not steady on ${textOf(one.query)}`);
  return `${report(small, found)}\nDrawn: ${textOf(one.query)}`;
}
