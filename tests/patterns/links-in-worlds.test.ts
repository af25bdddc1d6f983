import { expect, test } from 'vitest';
import { findPattern } from '../../src/questions/patterns.ts';
import type { State } from '../../src/state/state.ts';
import { seededRandom } from '../../src/statistics/random.ts';
import { drawBoard, PARTS, worldsOf } from '../nets/doubtful-boards.ts';
import { catalogueChanges, dossierChange, liveOf, SMALL_CATALOGUE } from '../state/archive-of.ts';
import { linkTexts } from './link-texts.ts';

// The probability of a text that uses links which follow from nets is the mass of the worlds in which it has a match: held against
// the certain devices of those worlds, random boards and texts. At the end a board worked out by hand, after the README's sentences.

type Written = Parameters<typeof dossierChange>[0];

function stateOf(boards: readonly Written[]): State {
  return liveOf([
    ...SMALL_CATALOGUE,
    ...catalogueChanges({ parts: structuredClone(PARTS) as never }),
    ...boards.map((board) => dossierChange(board)),
  ]).state('desk', '2026-06-01T00:00:00Z');
}

async function probabilities(state: State, text: string): Promise<ReadonlyMap<string, number>> {
  const { devices, unlikely } = await findPattern(state, { text });
  expect(
    devices.every(({ method }) => method === 'exact'),
    text,
  ).toBe(true);
  return new Map([
    ...devices.map(({ deviceId, probability }) => [deviceId, probability] as const),
    ...unlikely,
  ]);
}

test.each([1, 2, 3])(
  'with %d doubtful components, texts have the mass of the worlds that match',
  async (doubtful) => {
    let open = 0;
    for (let seed = 0; seed < 12; seed++) {
      const random = seededRandom(`texts ${doubtful} ${seed}`);
      const drawn = drawBoard(random, 'dev', doubtful);
      const worlds = worldsOf(drawn);
      const state = stateOf([drawn, ...worlds].map(({ board }) => board));
      const kinds = (drawn.board.identifications ?? []).flatMap(({ candidates = [] }) =>
        candidates.flatMap(({ category }) => category ?? []),
      );
      for (const text of linkTexts(random, kinds)) {
        const found = await probabilities(state, text);
        const expected = worlds.reduce(
          (sum, { mass }, at) => sum + mass * (found.get(`dev-world-${at}`) ?? 0),
          0,
        );
        expect(found.get('dev') ?? 0, `seed ${seed}: ${text}`).toBeCloseTo(expected, 6);
        if (expected > 0.001 && expected < 0.999) open++;
      }
    }
    expect(open).toBeGreaterThan(20);
  },
);

/** A chain of three components, of which the middle one has rivals: from net to net, or from rail to rail. */
function chain(
  kind: 'signal' | 'power',
  ends: readonly [string, string],
  rivals: Readonly<Record<string, number>>,
): Written {
  const certain = (component: string, category: string) => {
    return { component, candidates: [{ category, probability: 1 }], state: 'favoured' as const };
  };
  return {
    device: { id: 'dev', name: 'dev', maker: 'tarn', released: '2016-05', bodySite: 'wrist' },
    visibility: 'draft',
    specimen: { id: 'a' },
    boards: [{ id: 'main', kind: 'rigid' }],
    components: [
      { id: 'W1', board: 'main' },
      {
        id: 'W2',
        board: 'main',
        pinout: [
          { number: '1', function: 'supply-input' },
          { number: '2', function: 'supply-output' },
        ],
      },
      { id: 'W3', board: 'main' },
    ],
    nets: [
      { id: 's1', label: 'S1', kind, pins: ['W1.1', 'W2.1'] },
      { id: 's2', label: 'S2', kind, pins: ['W2.2', 'W3.1'] },
    ],
    identifications: [
      certain('W1', ends[0]),
      certain('W3', ends[1]),
      {
        component: 'W2',
        candidates: Object.entries(rivals).map(([category, probability]) => ({ category, probability })),
        state: 'favoured',
      },
    ],
  };
}

const signal = chain('signal', ['Accelerometer', 'Microcontroller'], { Amplifier: 0.6, Resistor: 0.3 });
const supply = chain('power', ['PouchCell', 'Microcontroller'], { FerriteBead: 0.6, LinearRegulator: 0.3 });

// A resistor passes a signal and is no end of its path; an amplifier, or a chip of no known kind, is an end and passes none. A bead passes a
// supply and draws none; a regulator draws from one rail and feeds the other; a chip of no known kind with a pin for a supply draws only.
test.each([
  [signal, '(a:Accelerometer)-[:SIGNAL_PATH]-(b:Amplifier)', 0.6],
  [signal, '(a:Accelerometer)-[:SIGNAL_PATH]-(b:Microcontroller)', 0.3],
  [signal, '(a:Accelerometer)-[e:SIGNAL_PATH]-(b) WHERE e.passed = 1', 0.3],
  [signal, '(a:Accelerometer)-[e:SIGNAL_PATH]-(b) WHERE e.passed = 0', 0.7],
  [signal, "(a:Accelerometer)-[e:SIGNAL_PATH]-(b) WHERE e.through = 'W2'", 0.3],
  [signal, '(a:Accelerometer)-[:SIGNAL_PATH]-(b:Resistor)', 0],
  [signal, '(a:Accelerometer) WHERE NOT EXISTS { (a)-[:SIGNAL_PATH]-() }', 0],
  [signal, '(a:Accelerometer)-[:SIGNAL_PATH]-(x)-[:SIGNAL_PATH]-(b:Microcontroller)', 0.7],
  [supply, '(a:PouchCell)-[:FEEDS]->(b:Microcontroller)', 0.6],
  [supply, '(a:PouchCell)-[:FEEDS]->(b:LinearRegulator)', 0.3],
  [supply, '(a:LinearRegulator)-[:FEEDS]->(b:Microcontroller)', 0.3],
  [supply, '(a:PouchCell)-[:FEEDS]->(b)-[:FEEDS]->(c)', 0.3],
  [supply, '(a)-[:FEEDS]->(b:FerriteBead)', 0],
  [supply, '(a:Microcontroller) WHERE NOT EXISTS { ()-[:FEEDS]->(a) }', 0.1],
] as const)('by hand, %#', async (board, text, expected) => {
  const found = await probabilities(stateOf([board]), `MATCH ${text} RETURN a`);
  expect(found.get('dev') ?? 0).toBeCloseTo(expected, 9);
});

// A switch in one world and a regulator in another: whichever it is, it feeds the microcontroller. That is one match.
test('what differs by world in the properties of a link alone is one match', async () => {
  const board = chain('power', ['PouchCell', 'Microcontroller'], { LoadSwitch: 0.6, LinearRegulator: 0.3 });
  const { devices } = await findPattern(stateOf([board]), {
    text: 'MATCH (a)-[:FEEDS]->(b:Microcontroller) RETURN a',
  });
  expect(devices.map(({ matches }) => matches.length)).toEqual([1]);
  expect(devices[0].matches[0].probability).toBeCloseTo(0.9, 9);
});

test('links that one world has side by side are matches of their own', async () => {
  const board = chain('signal', ['Accelerometer', 'Microcontroller'], {
    LoadSwitch: 0.6,
    LinearRegulator: 0.3,
  });
  const nets = [{ id: 's1', label: 'S1', kind: 'signal' as const, pins: ['W1.1', 'W2.1', 'W2.2'] }];
  const text = "MATCH (n:Net)-[:JOINS]->(c) WHERE c.designator = 'W2' RETURN n";
  const { devices } = await findPattern(stateOf([{ ...board, nets }]), { text });
  expect(devices.map(({ matches }) => matches.length)).toEqual([2]);
});

// More candidates than a number has bits: every second one is a switch, the others are regulators.
test('links that depend on one of many candidates', async () => {
  const ids = Array.from({ length: 40 }, (_, at) => at);
  const parts = ids.map((at) => ({
    number: `FE${at}`,
    maker: 'quistle',
    categories: [at % 2 === 0 ? 'LoadSwitch' : 'LinearRegulator'],
  }));
  const board = chain('power', ['PouchCell', 'Microcontroller'], {});
  const many = {
    component: 'W2',
    candidates: ids.map((at) => ({ part: `quistle/FE${at}`, probability: 0.02 })),
    state: 'favoured' as const,
  };
  const identifications = [...(board.identifications ?? []).slice(0, 2), many];
  const state = liveOf([
    ...SMALL_CATALOGUE,
    ...catalogueChanges({ parts: parts as never }),
    dossierChange({ ...board, identifications }),
  ]).state('desk', '2026-06-01T00:00:00Z');
  const found = async (text: string) =>
    (await probabilities(state, `MATCH ${text} RETURN a`)).get('dev') ?? 0;
  expect(await found("(a)-[e:FEEDS {supply: 'switch'}]->(b:Microcontroller)")).toBeCloseTo(0.4, 9);
  expect(await found('(a)-[e:FEEDS]->(b:Microcontroller)')).toBeCloseTo(0.8, 9);
});
