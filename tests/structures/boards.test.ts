import { afterAll, describe, expect, test } from 'vitest';
import { defaultPool } from '../../src/gql/gql.ts';
import { COLLECTIONS } from '../../src/model/catalogue.ts';
import { findPattern } from '../../src/patterns/find.ts';
import { RELATIONS, type StructureQuestion } from '../../src/structures/answer.ts';
import { findStructures } from '../../src/structures/find-structures.ts';
import { generateBoardCatalogue, generateBoards } from '../bench/generate-boards.ts';
import { referenceChanges } from '../reference-boards.ts';
import { BY, liveOf } from '../state/archive-of.ts';

afterAll(() => defaultPool().close());

/** The three reference devices and five generated ones. */
function boards() {
  const catalogue = generateBoardCatalogue();
  const records = COLLECTIONS.flatMap((collection) =>
    catalogue[collection].map(
      (record) => ({ ...BY, kind: 'record-put', payload: { collection, record } }) as const,
    ),
  );
  const drawn = [29, 70, 101, 144, 190].map(
    (components, at) =>
      ({ ...BY, kind: 'dossier-put', payload: generateBoards({ components, seed: at + 1 }) }) as const,
  );
  return liveOf([...referenceChanges(), ...records, ...drawn]).state('desk', '2026-06-01T00:00:00Z');
}

describe('structures of boards with nets', () => {
  const state = boards();

  test.each<StructureQuestion>([
    {},
    { without: [] },
    { relations: RELATIONS, maxSize: 3 },
    { relations: ['shares-net', 'shares-bus'], links: 'none', without: [], boards: true },
  ])('are found again by their texts, %j', async (question) => {
    const { structures, complete, relations } = await findStructures(state, { ...question, first: 60 });
    expect(complete).toBe(true);
    expect(structures.length).toBeGreaterThan(10);
    for (const { text, devices: having, links } of structures) {
      for (const { relation } of links) if (relation) expect(relations).toContain(relation);
      const { devices } = await findPattern(state, { text });
      const found = new Map(devices.map((one) => [one.deviceId, one]));
      for (const { id } of having) {
        expect(found.get(id)?.deviceId, text).toBe(id);
        found.delete(id);
      }
      for (const { matches } of found.values())
        expect(
          matches.some(({ certain }) => certain),
          text,
        ).toBe(false);
    }
  });
});
