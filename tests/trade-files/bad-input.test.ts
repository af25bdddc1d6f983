import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readTradeFile } from '../../src/trade-files/read.ts';
import {
  asBillOfMaterials,
  asIpc2581,
  asKicad,
  asNetlist356,
  asPlacement,
  randomBoard,
} from './random-board.ts';

// Whatever comes, a reader answers: problems with place and fix, or a design. It never throws, and time grows with the file.

const anyFile = randomBoard.chain((board) =>
  fc.constantFrom(
    asKicad(board, 5),
    asKicad(board, 8),
    asIpc2581(board, 'MICRON', 'B'),
    asBillOfMaterials(board, ';'),
    asPlacement(board, 'mil', 'csv'),
    asPlacement(board, 'mm', 'blanks'),
    asNetlist356(board, 'CUST 0'),
  ),
);

/** What may happen to bytes on their way. */
const damage = fc.oneof(
  fc.record({ kind: fc.constant('cut' as const), at: fc.double({ min: 0, max: 1, noNaN: true }) }),
  fc.record({
    kind: fc.constant('drop' as const),
    at: fc.double({ min: 0, max: 1, noNaN: true }),
    length: fc.integer({ min: 1, max: 200 }),
  }),
  fc.record({
    kind: fc.constant('put' as const),
    at: fc.double({ min: 0, max: 1, noNaN: true }),
    bytes: fc.uint8Array({ maxLength: 30 }),
  }),
  fc.record({
    kind: fc.constant('double' as const),
    at: fc.double({ min: 0, max: 1, noNaN: true }),
    length: fc.integer({ min: 1, max: 400 }),
  }),
);

function damaged(bytes: Buffer, harm: typeof damage extends fc.Arbitrary<infer D> ? D : never): Buffer {
  const at = Math.floor(harm.at * bytes.length);
  switch (harm.kind) {
    case 'cut':
      return bytes.subarray(0, at);
    case 'drop':
      return Buffer.concat([bytes.subarray(0, at), bytes.subarray(at + harm.length)]);
    case 'put':
      return Buffer.concat([bytes.subarray(0, at), harm.bytes, bytes.subarray(at)]);
    default:
      return Buffer.concat([bytes.subarray(0, at + harm.length), bytes.subarray(at)]);
  }
}

describe('bad input', () => {
  test('damaged files are read or told of, and nothing throws', () => {
    fc.assert(
      fc.property(anyFile, fc.array(damage, { minLength: 1, maxLength: 3 }), (text, harms) => {
        const found = readTradeFile(harms.reduce<Buffer>(damaged, Buffer.from(text)), 'damaged');
        if (!found) return;
        expect(found.boards === undefined).toBe(found.problems.length > 0);
        for (const { file, what, fix } of [...found.problems, ...found.cautions]) {
          expect(file).toBe('damaged');
          expect(what).not.toBe('');
          expect(fix).not.toBe('');
          expect(what.length).toBeLessThan(600);
        }
        for (const { components } of found.boards ?? []) {
          for (const { at, rotation } of components) {
            expect(at === undefined || at.every(Number.isFinite)).toBe(true);
            expect(rotation === undefined || (rotation >= 0 && rotation < 360)).toBe(true);
          }
        }
      }),
      { numRuns: 150 },
    );
  });

  test('any bytes and any text', () => {
    fc.assert(
      fc.property(
        fc.oneof(
          fc.uint8Array({ maxLength: 300 }),
          fc.string({ unit: 'grapheme', maxLength: 300 }).map((text) => Buffer.from(text)),
        ),
        (bytes) => {
          readTradeFile(bytes, 'any');
        },
      ),
      { numRuns: 200 },
    );
  });

  test('what is no text, or larger than is read, is no trade file', () => {
    expect(readTradeFile(Buffer.alloc(20 * 1024 * 1024 + 1, 'a'), 'large')).toBeUndefined();
    expect(readTradeFile(Buffer.from('Ref,Value\nR1,4k\u00007\n'), 'nul')).toBeUndefined();
  });

  test('a netlist as large as is read', () => {
    const record = (i: number) =>
      `327NET${String(i % 5000).padEnd(11)}   U${String(i % 9999).padEnd(5)}-${String(i % 7).padEnd(4)}       A01X+001000Y+002000`;
    const text = `P  UNITS CUST 1\n${Array.from({ length: 300_000 }, (_, i) => record(i)).join('\n')}\n999`;
    expect(readTradeFile(Buffer.from(text), 'large')?.format).toBe('ipc-d-356');
  });

  // Two sizes, one eight times the other: linear work takes about eight times as long. A square would take 64.
  const lines = (count: number, of: (i: number) => string) =>
    Array.from({ length: count }, (_, i) => of(i)).join('\n');
  test.each([
    [
      'edges that meet in one place',
      (n: number) =>
        `(kicad_pcb (version 20221018)\n${lines(n, (i) => `(gr_line (start 0 0) (end ${i + 1} ${i % 7}) (layer "Edge.Cuts"))`)})`,
    ],
    [
      'one long line of brackets',
      (n: number) => `(kicad_pcb (version 20221018) ${lines(n, () => '(net 1 "a") ').replaceAll('\n', '')})`,
    ],
    ['backslashes', (n: number) => `(kicad_pcb (version 20221018) (footprint "${'\\'.repeat(n)}"`],
    ['a cell that is never closed', (n: number) => `Ref,Value\nR1,"${lines(n, () => 'a,b')}`],
    [
      'a row of designators',
      (n: number) => `Ref,Value\n"${lines(n, (i) => `R${i}`).replaceAll('\n', ' ')}",1k\n`,
    ],
    ['blanks without end', (n: number) => `Ref  Value\n${' '.repeat(n)}x`],
    [
      'elements in a row',
      (n: number) =>
        `<IPC-2581 revision="B"><Ecad><CadHeader units="INCH"/><CadData><Step name="a">${lines(n, (i) => `<Component refDes="R${i}"/>`)}</Step></CadData></Ecad></IPC-2581>`,
    ],
    [
      'records of one component',
      (n: number) =>
        `P  UNITS CUST 1\n${lines(n, (i) => `327A                U1    -${String(i % 9999).padEnd(4)}       A01X+001000Y+002000`)}\n999`,
    ],
    [
      'long names',
      (n: number) =>
        `P  UNITS CUST 1\n${lines(n, (i) => `P  NNAME${i}  A_LONG_NAME_OF_A_NET_${i}`)}\n${lines(n, (i) => `327NNAME${String(i).padEnd(9)}   U1    -${String(i % 9999).padEnd(4)}       A01X+001000Y+002000`)}\n999`,
    ],
  ])('%s take time in proportion', (_, make) => {
    const timed = (n: number) => {
      const bytes = Buffer.from(make(n));
      const start = performance.now();
      readTradeFile(bytes, 'long');
      return performance.now() - start;
    };
    timed(1_000);
    const small = Math.min(timed(4_000), timed(4_000));
    const large = timed(32_000);
    // A busy machine may stop for a while; a square of 32,000 takes longer than that.
    expect(large).toBeLessThan(Math.max(40 * small, 2_500));
  });
});
