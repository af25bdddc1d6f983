import { describe, expect, test } from 'vitest';
import { alignDevices } from '../../src/compare/alignment.ts';
import { circuitDistance } from '../../src/compare/circuit-distance.ts';
import { similarDevices } from '../../src/compare/similarity.ts';
import { COLLECTIONS } from '../../src/model/catalogue.ts';
import type { Dossier } from '../../src/model/dossier.ts';
import type { Change } from '../../src/model/entry.ts';
import type { State } from '../../src/state/state.ts';
import { generateBoardCatalogue, generateBoards } from '../bench/generate-boards.ts';
import { REFERENCE_BOARDS, referenceChanges, referenceDeviceId } from '../reference-boards.ts';
import { BY, liveOf } from '../state/archive-of.ts';

function stateOf(dossiers: readonly Dossier[], more: readonly Change[] = []): State {
  const catalogue = generateBoardCatalogue();
  const records = COLLECTIONS.flatMap((collection) =>
    catalogue[collection].map(
      (record) => ({ ...BY, kind: 'record-put', payload: { collection, record } }) as const,
    ),
  );
  const filed = dossiers.map((payload) => ({ ...BY, kind: 'dossier-put', payload }) as const);
  return liveOf([...more, ...records, ...filed]).state('desk', '2026-06-01T00:00:00Z');
}

describe('boards with nets', () => {
  // One circuit drawn twice, the second time with other chips. What has no part number plays the part of its namesake; a chip
  // may rather be paired with one of the same part elsewhere.
  test('a board of 1,000 components is aligned with the same circuit of other parts', async () => {
    const boards = [0, 1].map((generation) =>
      generateBoards({ components: 1_000, seed: 3, id: `large-${generation}`, generation }),
    );
    const { rows } = await alignDevices(stateOf(boards), ['large-0', 'large-1']);
    const paired = rows.flatMap(({ cells: [one, other] }) => (one && other ? [[one, other] as const] : []));
    const plain = paired.filter(([{ part }, other]) => !part && !other.part);
    const right = plain.filter(([one, other]) => one.component === other.component);
    expect(paired.length / rows.length).toBeGreaterThan(0.99);
    expect(plain.length).toBeGreaterThan(600);
    expect(right.length / plain.length).toBeGreaterThan(0.97);
  });

  test('too many large boards in one table are refused, with how many it takes', async () => {
    const boards = [1, 2, 3, 4, 5, 6].map((seed) =>
      generateBoards({ components: 1_000, seed, id: `large-${seed}` }),
    );
    const ids = boards.map((_, at) => `large-${at + 1}`);
    await expect(alignDevices(stateOf(boards), ids)).rejects.toThrow(
      /6 devices of up to 9\d\d components are too much for one alignment; give at most 5/u,
    );
  });

  test('what nets join counts as joined: the same circuit is at distance 0 and most similar', async () => {
    const boards = [0, 1].map((generation) =>
      generateBoards({ components: 101, seed: 5, id: `board-${generation}`, generation }),
    );
    const state = stateOf([...boards, generateBoards({ components: 101, seed: 6, id: 'other' })]);
    const same = await circuitDistance(state, ['board-0', 'board-1']);
    expect(same).toMatchObject({ distance: 0, atLeast: 0, atMost: 0, method: 'bounds-meet' });
    const { devices } = await similarDevices(state, 'board-0');
    expect(devices[0]).toMatchObject({ device: { id: 'board-1' }, similarity: expect.closeTo(1, 9) });
    expect(devices[1].similarity).toBeLessThan(0.95);
    // A resistor taken out with its two nets' ends: one component, and what it was joined to.
    const [first] = boards;
    const gone = first.components.find(({ appears }) => appears === 'Resistor')?.id ?? '';
    const without: Dossier = {
      ...first,
      components: first.components.filter(({ id }) => id !== gone),
      nets: first.nets?.map((net) => ({
        ...net,
        pins: net.pins.filter((pin) => !pin.startsWith(`${gone}.`)),
      })),
    };
    const less = await circuitDistance(stateOf([boards[1], without]), ['board-0', 'board-1']);
    expect(less).toMatchObject({ nodesAdded: 1, nodesRemoved: 0, edgesRemoved: 0, relabelled: 0 });
    expect(less.atMost).toBe(1 + less.edgesAdded);
  });

  // Measured between 0.1 and 1 s of processor time a pair; each must be answered within the time of a test.
  test('every pair of the reference devices has a range', async () => {
    const state = stateOf([], referenceChanges());
    const ids = REFERENCE_BOARDS.map(referenceDeviceId);
    for (const [at, one] of ids.entries()) {
      for (const other of ids.slice(at + 1)) {
        const { atLeast, atMost, distance, method } = await circuitDistance(state, [one, other]);
        expect(atLeast).toBeGreaterThan(0);
        expect(atMost).toBeGreaterThanOrEqual(atLeast);
        expect(atMost - atLeast).toBeLessThanOrEqual(atMost / 5);
        expect(distance).toBe(method === 'bounds' ? undefined : atMost);
      }
    }
  });
});
