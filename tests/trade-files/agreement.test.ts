import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { areaOf, extentOf } from '../../src/model/outline.ts';
import type { DesignBoard, TradeFile } from '../../src/trade-files/board-design.ts';
import { readTradeFile } from '../../src/trade-files/read.ts';
import {
  areaByHand,
  asBillOfMaterials,
  asIpc2581,
  asKicad,
  asNetlist356,
  asPlacement,
  type BoardComponent,
  onBoard,
  type RandomBoard,
  randomBoard,
} from './random-board.ts';

// The same invented board, written in every format by writers that know nothing of the readers, comes back the same in all that the
// format can carry. Areas are held to a calculation by hand.

function read(text: string, file: string): TradeFile & { readonly boards: readonly DesignBoard[] } {
  const found = readTradeFile(Buffer.from(text), file);
  expect(found?.problems ?? 'no format').toEqual([]);
  return found as TradeFile & { readonly boards: readonly DesignBoard[] };
}

/** Pins by net, as sets of `U1.2`, whatever the net is called. */
function partition(board: DesignBoard): ReadonlyMap<string, readonly string[]> {
  const nets = new Map<string, string[]>();
  for (const { designator, pins } of board.components)
    for (const { number, net } of pins)
      if (net !== undefined) nets.set(net, [...(nets.get(net) ?? []), `${designator}.${number}`]);
  return new Map([...nets].map(([net, pins]) => [net, pins.toSorted()] as const).toSorted());
}

function partitionOf(board: RandomBoard): ReadonlyMap<string, readonly string[]> {
  return partition({
    nets: [],
    components: board.components.map(({ designator, pins }) => ({
      designator,
      line: 1,
      pins: pins.map(({ number, net }) => ({ number, ...(net === undefined ? {} : { net }) })),
    })),
  });
}

function expectPlaces(board: DesignBoard, wanted: RandomBoard, within: number): void {
  expect(board.components.map(({ designator }) => designator)).toEqual(
    wanted.components.map(({ designator }) => designator),
  );
  board.components.forEach((one, i) => {
    const component = wanted.components[i];
    const [x, y] = onBoard(component, component.offset);
    expect(one.side).toBe(component.side);
    expect(one.atIs).toBe('body centre');
    expect(Math.hypot((one.at?.[0] ?? Number.NaN) - x, (one.at?.[1] ?? Number.NaN) - y)).toBeLessThan(within);
    expect(one.rotation).toBeCloseTo(component.rotation, 3);
  });
}

function expectPins(board: DesignBoard, wanted: RandomBoard, within: number): void {
  expect(partition(board)).toEqual(partitionOf(wanted));
  board.components.forEach((one, i) => {
    const component = wanted.components[i];
    one.pins.forEach(({ at }, k) => {
      const [x, y] = onBoard(component, component.pins[k].at);
      expect(Math.hypot((at?.[0] ?? Number.NaN) - x, (at?.[1] ?? Number.NaN) - y)).toBeLessThan(within);
    });
  });
}

function expectOutline(board: DesignBoard, wanted: RandomBoard): void {
  if (!board.outline) throw new Error('no outline was read');
  // Arcs are measured by chords that lie within 0.005 mm.
  expect(areaOf(board.outline)).toBeGreaterThan(areaByHand(wanted) - 0.2);
  expect(areaOf(board.outline)).toBeLessThan(areaByHand(wanted) + 0.2);
  const { left, bottom, length, width } = extentOf(board.outline);
  for (const [is, should] of [
    [left, 0],
    [bottom, 0],
    [length, wanted.length],
    [width, wanted.width],
  ])
    expect(Math.abs(is - should)).toBeLessThan(1e-6);
}

function expectBodies(board: DesignBoard, wanted: RandomBoard): void {
  board.components.forEach((one, i) => {
    expect(one.body?.length).toBeCloseTo(wanted.components[i].body[0], 5);
    expect(one.body?.width).toBeCloseTo(wanted.components[i].body[1], 5);
  });
}

function expectParts(
  board: DesignBoard,
  wanted: RandomBoard,
  fields: readonly (keyof BoardComponent & ('value' | 'footprint' | 'partNumber' | 'maker'))[],
): void {
  board.components.forEach((one, i) => {
    for (const field of fields) expect(one[field]).toBe(wanted.components[i][field]);
    expect(one.fitted ?? true).toBe(wanted.components[i].fitted);
  });
}

describe('one board in every format', () => {
  test.each([5, 7, 8] as const)('KiCad, file of version %i', (version) => {
    fc.assert(
      fc.property(randomBoard, (wanted) => {
        const [board] = read(asKicad(wanted, version), 'board.kicad_pcb').boards;
        expectPlaces(board, wanted, 1e-4);
        expectPins(board, wanted, 1e-4);
        expectOutline(board, wanted);
        expectBodies(board, wanted);
        expectParts(board, wanted, ['value', 'footprint', 'partNumber', 'maker']);
        expect(board.components.flatMap(({ pins }) => pins.map(({ name }) => name))).toEqual(
          wanted.components.flatMap(({ pins }) => pins.map(({ name }) => name)),
        );
      }),
      { numRuns: 40 },
    );
  });

  test.each([
    ['MILLIMETER', 'A'],
    ['MICRON', 'B'],
    ['INCH', 'C'],
  ] as const)('IPC-2581 in %s, revision %s', (units, revision) => {
    fc.assert(
      fc.property(randomBoard, (wanted) => {
        const [board] = read(asIpc2581(wanted, units, revision), 'board.xml').boards;
        expectPlaces(board, wanted, 1e-4);
        expectPins(board, wanted, 1e-4);
        expectOutline(board, wanted);
        expectBodies(board, wanted);
        expectParts(board, wanted, ['value', 'partNumber', 'maker']);
      }),
      { numRuns: 40 },
    );
  });

  test.each([',', ';', '\t'] as const)('bill of materials with %j between cells', (separator) => {
    fc.assert(
      fc.property(randomBoard, (wanted) => {
        const { boards, format } = read(asBillOfMaterials(wanted, separator), 'bom.csv');
        expect(format).toBe('bill-of-materials');
        expectParts(boards[0], wanted, ['value', 'footprint', 'partNumber', 'maker']);
      }),
      { numRuns: 40 },
    );
  });

  test.each([
    ['mm', 'csv'],
    ['mil', 'csv'],
    ['inch', 'blanks'],
    ['mm', 'blanks'],
    ['mil', 'suffix'],
  ] as const)('placement list in %s as %s', (unit, form) => {
    fc.assert(
      fc.property(randomBoard, (wanted) => {
        const { boards, format } = read(asPlacement(wanted, unit, form), 'place.txt');
        expect(format).toBe('placement');
        expectPlaces(boards[0], wanted, 1e-4);
      }),
      { numRuns: 40 },
    );
  });

  test.each(['CUST 0', 'CUST 1'] as const)('IPC-D-356A netlist in %s', (units) => {
    fc.assert(
      fc.property(randomBoard, (wanted) => {
        const [board] = read(asNetlist356(wanted, units), 'board.ipc').boards;
        // Half a step of a ten-thousandth of an inch in each direction.
        expectPins(board, wanted, 0.0019);
        expect(board.components.map(({ side }) => side)).toEqual(wanted.components.map(({ side }) => side));
      }),
      { numRuns: 40 },
    );
  });
});
