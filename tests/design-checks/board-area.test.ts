import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { boardArea } from '../../src/design-checks/board-area.ts';
import { expectToAskForEachInput, inputs } from './quantities.ts';

// No published case; the figures are worked by hand from the area balance: 120 parts on 600 mm² of board side.
const stacked = { components: '120', boardArea: '6 cm2', boards: '2', sides: '2', shellArea: '2.5 cm2' };
const run = (given: Record<string, string>) => boardArea.run(inputs({ ...stacked, ...given }));

describe('board area', () => {
  test('counts 20 components per cm², 25 % covered, 1.2 times the room of a single board', () => {
    const { values } = run({ componentArea: '150 mm2' });
    expect(values.density).toMatchObject({ value: 20, unit: '1/cm2' });
    expect(values.use).toMatchObject({ value: expect.closeTo(25, 9), unit: '%' });
    expect(values.boardOverShell.value).toBeCloseTo(1.2, 12);
  });

  test('gives the same answer in mm² or cm², and is denser with more components', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1000 }), (count) => {
        const density = (components: number, area: string) =>
          run({ components: String(components), boardArea: area }).values.density.value;
        expect(density(count, '600 mm2')).toBeCloseTo(density(count, '6 cm2'), 9);
        expect(density(count + 1, '6 cm2')).toBeGreaterThan(density(count, '6 cm2'));
      }),
      { numRuns: 50 },
    );
  });

  test('judges several boards and a single board each by what was seen', () => {
    expect(run({}).verdict).toBe('supports');
    expect(run({ shellArea: '4 cm2' }).verdict).toBe('neutral');
    expect(run({ shellArea: '8 cm2' }).verdict).toBe('speaks-against');
    expect(run({ boards: '1', shellArea: '4 cm2' }).verdict).toBe('supports');
    expect(run({ boards: '1' }).verdict).toBe('speaks-against');
    expect(run({ boards: '1', shellArea: '3 ± 1 cm2' }).verdict).toBe('neutral');
  });

  test('asks for what is missing', () => expectToAskForEachInput(boardArea, inputs(stacked)));
});
