import { describe, expect, test } from 'vitest';
import { type AskedElement, prepare, type UnseenOptions, withoutUnseen } from '../../src/gql/gql.ts';

// Expected texts follow from the definition: the weakest pattern that every graph with more in it than was seen must have.

const MEANS: Record<string, (element: AskedElement) => boolean> = {
  nothing: () => false,
  wall: ({ kind, labels }) => kind === 'node' && labels.named.includes('Wall'),
  road: ({ kind, labels }) => kind === 'edge' && labels.named.includes('ROAD'),
};

function left(text: string, unseen: keyof typeof MEANS, more: Partial<UnseenOptions> = {}): string {
  const { text: found } = withoutUnseen(prepare(text).tree, {
    mayBeUnseen: MEANS[unseen]!,
    shared: ['Part'],
    ...more,
  });
  return (found ?? 'nothing').replaceAll('`', '').replace(/\s+/gu, ' ');
}

describe('what is left of a pattern', () => {
  test.each([
    // A node goes with its edges and with the conditions that name it.
    [
      'MATCH (a:Town)-[:ROAD]->(w:Wall) WHERE w.height > a.height RETURN a',
      'wall',
      'MATCH (a:Town) RETURN 1',
    ],
    ['MATCH (w:Wall) RETURN w', 'wall', 'nothing'],
    [
      'MATCH (a:Town)-[r:ROAD]->(b:Town) WHERE r.width > 2 RETURN a',
      'road',
      'MATCH (a:Town), (b:Town) RETURN 1',
    ],
    // A road of any length may be unseen where one road may.
    ['MATCH (a:Town)-[:ROAD]->{1,3}(b:Town) RETURN a', 'road', 'MATCH (a:Town), (b:Town) RETURN 1'],
    // What may be unknown holds unless it is known to be false; labels and what is recorded of a known edge are known.
    [
      'MATCH (a:Town {size: 3}) RETURN a',
      'nothing',
      'MATCH (a:Town) WHERE (a.size = 3) IS NOT FALSE RETURN 1',
    ],
    [
      'MATCH (a:Town)-[r:ROAD]->(b) WHERE r.width > 2 AND NOT a.size = b.size AND b:Port RETURN a',
      'nothing',
      'MATCH (a:Town)-[r:ROAD]->(b) WHERE r.width > 2 AND NOT ((a.size = b.size) IS TRUE) AND b IS LABELED Port RETURN 1',
    ],
    [
      'MATCH (a:Town) WHERE a.x = 1 OR a:Port RETURN a',
      'nothing',
      'MATCH (a:Town) WHERE (a.x = 1) IS NOT FALSE OR a IS LABELED Port RETURN 1',
    ],
    // Inside EXISTS as outside; what was seen inside NOT EXISTS stays.
    [
      'MATCH (a:Town) WHERE EXISTS { MATCH (a)-[:ROAD]->(w:Wall) } RETURN a',
      'wall',
      'MATCH (a:Town) WHERE EXISTS { MATCH (a) } RETURN 1',
    ],
    [
      'MATCH (a:Town) WHERE NOT EXISTS { MATCH (a)-[:ROAD]->(w:Wall) } RETURN a',
      'wall',
      'MATCH (a:Town) WHERE NOT EXISTS { MATCH (a)-[:ROAD]->(w:Wall) } RETURN 1',
    ],
    // A catalogue's entry that nothing leads to says nothing.
    [
      'MATCH (w:Wall)-[:IS]->(p:Part)<-[:IS]-(a:Town) RETURN a',
      'wall',
      'MATCH (p:Part)<-[:IS]-(a:Town) RETURN 1',
    ],
    ['MATCH (w:Wall)-[:IS]->(p:Part) RETURN w', 'wall', 'nothing'],
    [
      'MATCH (a:Town) OPTIONAL MATCH (a)-[:ROAD]->(b) RETURN a, b ORDER BY a.name LIMIT 3',
      'nothing',
      'MATCH (a:Town) RETURN 1',
    ],
  ] as const)('%s without %s', (text, unseen, expected) => {
    expect(left(text, unseen)).toBe(expected);
  });

  test('things that may be one in the graph may coincide, others not', () => {
    const mayCoincide: UnseenOptions['mayCoincide'] = ({ named }) => named.includes('Shop');
    expect(
      left('MATCH (a:Shop)-[:IN]->(t:Town), (b:Shop)-[:IN]->(u:Town) RETURN a', 'nothing', { mayCoincide }),
    ).toBe(
      'MATCH REPEATABLE ELEMENTS (a:Shop)-[:IN]->(t:Town), (b:Shop)-[:IN]->(u:Town) WHERE ALL_DIFFERENT(t, u) RETURN 1',
    );
  });
});
