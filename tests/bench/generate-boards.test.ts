import { describe, expect, test } from 'vitest';
import { NOTHING_HELD } from '../../src/dossier/check/context.ts';
import { bySeverity, checkDocuments } from '../../src/dossier/check/rules.ts';
import { withUniqueIds } from '../../src/dossier/component-ids.ts';
import type { Dossier } from '../../src/model/dossier.ts';
import { REFERENCE_BOARDS, referenceDossier } from '../reference-boards.ts';
import { generateBoardCatalogue, generateBoards } from './generate-boards.ts';

const SIZES = [29, 48, 101, 190, 326, 1_000];
const PASSIVES = ['Resistor', 'Capacitor', 'Inductor', 'FerriteBead'];

/** Figures of a device by which generated ones are held to real ones. */
function figuresOf({ components, nets = [] }: Dossier) {
  const componentsOn = (pins: readonly string[]) =>
    new Set(pins.map((pin) => pin.slice(0, pin.lastIndexOf('.')))).size;
  const signals = nets.filter(({ kind }) => kind === 'signal').map(({ pins }) => componentsOn(pins));
  const boards = Map.groupBy(components, ({ board }) => board);
  const longest = nets
    .filter(({ kind }) => kind === 'power')
    .map(({ pins }) => {
      const board = components.find(({ id }) => id === pins[0].slice(0, pins[0].lastIndexOf('.')))?.board;
      return componentsOn(pins) / (boards.get(board)?.length ?? 1);
    });
  return {
    passives: components.filter(({ appears }) => PASSIVES.includes(appears ?? '')).length / components.length,
    netsEach: nets.length / components.length,
    pinsEach: nets.reduce((sum, { pins }) => sum + pins.length, 0) / components.length,
    pairs: signals.filter((size) => size <= 2).length / signals.length,
    longestRail: Math.max(...longest),
  };
}

describe('generated boards', () => {
  for (const size of SIZES) {
    test(`${size} components: as many as asked, no error, the same again, other parts in another generation`, () => {
      const dossier = generateBoards({ components: size, seed: 3 });
      expect(dossier.components).toHaveLength(size);
      expect(withUniqueIds(dossier)).toEqual(dossier);
      const locate = () => ({ line: 1, column: 1 });
      const catalogue = generateBoardCatalogue();
      const problems = checkDocuments(
        [
          { kind: 'catalogue', file: 'catalogue', locate, catalogue },
          { kind: 'dossier', file: 'dossier', locate, dossier },
        ],
        NOTHING_HELD,
      );
      expect(bySeverity(problems).errors).toEqual([]);
      expect(generateBoards({ components: size, seed: 3 })).toEqual(dossier);
      const next = generateBoards({ components: size, seed: 3, generation: 1 });
      expect(next.nets).toEqual(dossier.nets);
      expect(next.identifications).not.toEqual(dossier.identifications);
    });
  }

  test('a thousand components have a rail of two hundred pins', () => {
    const { nets = [] } = generateBoards({ components: 1_000, seed: 3 });
    const rails = nets.filter(({ kind }) => kind === 'power').map(({ pins }) => pins.length);
    expect(Math.max(...rails)).toBeGreaterThanOrEqual(200);
  });

  // Each figure lies within what the three reference boards show, a fifth more or less.
  test('shares are those of the reference boards', () => {
    const real = REFERENCE_BOARDS.map((name) => figuresOf(referenceDossier(name)));
    const made = SIZES.filter((size) => size > 90).map((components) =>
      figuresOf(generateBoards({ components, seed: 3 })),
    );
    for (const figure of Object.keys(real[0]) as (keyof ReturnType<typeof figuresOf>)[]) {
      const [low, high] = [Math.min, Math.max].map((end) => end(...real.map((one) => one[figure])));
      for (const one of made) {
        expect(one[figure], figure).toBeGreaterThanOrEqual(low * 0.8);
        expect(one[figure], figure).toBeLessThanOrEqual(high * 1.2);
      }
    }
  });
});
