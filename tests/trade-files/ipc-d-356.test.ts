import { describe, expect, test } from 'vitest';
import { areaOf } from '../../src/model/outline.ts';
import { boardOf, cautionsOf, componentOf, problemsOf, reading } from './reading.ts';

// Records written by hand after published descriptions of IPC-D-356A: net in columns 4 to 17, designator in 21 to 26, pin in 28 to 31,
// mid-point flag in 32, hole from 33, access side from 39, place from 42. Board edges (389, 089) from memory.

const HEAD = ['C  invented', 'P  JOB   drum', 'P  UNITS CUST 1', 'P  VER   IPC-D-356A'];
const file = (...records: string[]) => [...HEAD, ...records, '999', ''].join('\n');

describe('an IPC-D-356A netlist', () => {
  test('gives pins with net and place; vias and holes are left aside', () => {
    const text = file(
      'P  NNAME1     /SENSE/LONG_NAME_OF_A_NET',
      '327NNAME1           U1    -1          A01X+001000Y+002000X0500Y0500R000S1',
      '3273V3              U1    -B2         A01X+001500Y-002000X0500Y0500R000S1',
      '3273V3              C1    -1          A04X+001500Y+003000X0500Y0500R000S2',
      '317GND              J1    -A4   D0800PA00X+001500Y+003000X0500Y0500R000S0',
      '317GND              VIA        MD0300PA00X+001500Y+003000X0500Y0500R000S3',
      '327N/C              U1    -3          A01X 001000Y 002500',
      '367                       -     D3200UA00X+005000Y+005000',
    );
    const board = boardOf(text);
    expect(board.components).toEqual([
      {
        designator: 'U1',
        side: 'top',
        line: 6,
        pins: [
          { number: '1', at: [1, 2], net: '/SENSE/LONG_NAME_OF_A_NET' },
          { number: 'B2', at: [1.5, -2], net: '3V3' },
          { number: '3', at: [1, 2.5] },
        ],
      },
      { designator: 'C1', side: 'bottom', line: 8, pins: [{ number: '1', at: [1.5, 3], net: '3V3' }] },
      { designator: 'J1', line: 9, pins: [{ number: 'A4', at: [1.5, 3], net: 'GND' }] },
    ]);
    expect(board.nets.map(({ label }) => label)).toEqual(['/SENSE/LONG_NAME_OF_A_NET', '3V3', 'GND']);
    expect(reading(text).understood).toEqual([
      'coordinates in micrometres',
      'version IPC-D-356A',
      '1 long net names, of which 1 are used',
      'left aside: 1 vias, 1 holes without plating',
    ]);
  });

  test.each([
    ['P  UNITS CUST 0', 2.54],
    ['P  UNITS CUST', 2.54],
    ['P  UNITS CUST 1', 1],
    ['P  UNITS CUST 2', 2.54],
    ['P  UNITS SI', 1],
  ])('%s', (units, mm) => {
    // 1,000 ten-thousandths of an inch are 2.54 mm; 1,000 micrometres 1 mm.
    const board = boardOf(
      [units, '327A                U1    -1          A01X+001000Y+000000', '999'].join('\n'),
    );
    expect(componentOf(board, 'U1').pins).toEqual([{ number: '1', at: [mm, 0], net: 'A' }]);
  });

  test('names that fill their field are told, and a long name that stands for two', () => {
    expect(cautionsOf(file('327ANALOG_SUPPLY_   U1    -1          A01X+001000Y+002000'))).toEqual([
      'file:5: 1 net name fills the 14 characters that the format has ("ANALOG_SUPPLY_"); longer names are cut, and nets that are then alike count here as one — export with a table of long names (IPC-D-356A, NNAME), or compare with another file',
    ]);
    expect(
      problemsOf(
        file(
          'P  NNAME1     ANALOG_SUPPLY_LEFT',
          'P  NNAME2     ANALOG_SUPPLY_RIGHT',
          '327ANALOG_SUPPLY_   U1    -1          A01X+001000Y+002000',
        ),
      ),
    ).toEqual([
      'file:7: "ANALOG_SUPPLY_" may be "ANALOG_SUPPLY_LEFT" or "ANALOG_SUPPLY_RIGHT" — use the name NNAMEn of the table in every record of these nets',
    ]);
  });

  test('a pin on two nets, a long name that is missing, a record cut off', () => {
    expect(
      problemsOf(
        file(
          '327A                U1    -1          A01X+001000Y+002000',
          '327B                U1    -1          A01X+001000Y+002000',
          '327NNAME7           U2    -1          A01X+001000Y+002000',
          '327A                U3    -1          A01X+0010',
          'garbage',
        ),
      ),
    ).toEqual([
      'file:8: has no place "X+nnnnnnY+nnnnnn" for U3.1 — it may be cut off; export the netlist again',
      'file:9: "garbage" is not a record of IPC-D-356 — records begin with C, P or three digits',
      'file: NNAME7 is not in the table of long names — export the netlist again',
      'file:6: U1.1 lies on "A", in line 5, and on "B" — look at the design and export again',
    ]);
  });

  test('a continued record gives the net that the one before lacks', () => {
    const board = boardOf(
      file(
        '317                 J1    -1    D0800PA00X+001000Y+002000',
        '017GND                                A02X+001000Y+002000',
      ),
    );
    expect(componentOf(board, 'J1').pins).toEqual([{ number: '1', at: [1, 2], net: 'GND' }]);
  });

  test('blanks may stand for a plus and leading zeros', () => {
    const board = boardOf(
      'P  UNITS CUST 0\n327GND              C1    --          A01X   9700Y  -1450X1575Y 630R270\n999',
    );
    // 9,700 ten-thousandths of an inch are 24.638 mm.
    expect(componentOf(board, 'C1').pins).toEqual([{ number: '-', at: [24.638, -3.683], net: 'GND' }]);
  });

  test('board edges give an outline; a further image of a panel is passed over', () => {
    const board = boardOf(
      file(
        'P  IMAGE PRIMARY',
        '327A                U1    -1          A01X+001000Y+002000',
        '389BOARD_EDGE       X+000000Y+000000 X+020000 Y+010000',
        '089                 X+000000Y+010000 Y+000000',
        'P  IMAGE 2',
        '327A                U9    -1          A01X+001000Y+002000',
      ),
    );
    expect(board.outline && areaOf(board.outline)).toBe(200);
    expect(board.components.map(({ designator }) => designator)).toEqual(['U1']);
  });

  test('without an end it may be cut off', () => {
    expect(
      cautionsOf('P  UNITS CUST 0\n327A                U1    -1          A01X+001000Y+000000\n'),
    ).toEqual(['file: has no end record 999; it may be cut off — compare its last line with the design']);
  });
});
