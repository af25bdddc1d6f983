import { describe, expect, test } from 'vitest';
import { areaOf, extentOf } from '../../src/model/outline.ts';
import { boardOf, cautionsOf, componentOf, problemsOf, reading } from './reading.ts';

// A board of an invented band. Form of the file: KiCad developer documentation, "Board File Format"; version 5 from memory.

const board = (...forms: string[]) => `(kicad_pcb (version 20221018) (generator pcbnew)
  (layers (0 "F.Cu" signal) (1 "In1.Cu" signal) (31 "B.Cu" signal) (44 "Edge.Cuts" user))
  (net 0 "") (net 1 "GND") (net 2 "+3V3")
  ${forms.join('\n  ')}
)`;
const line = (a: string, b: string) => `(gr_line (start ${a}) (end ${b}) (layer "Edge.Cuts"))`;
const square = [
  line('10 10', '30 10'),
  line('30 20', '30 10'),
  line('30 20', '10 20'),
  line('10 20', '10 10'),
];

describe('a KiCad board', () => {
  test('turns y up and puts the lower left corner of the outline at the origin', () => {
    const read = boardOf(
      board(
        ...square,
        `(footprint "lib:R_0402" (layer "F.Cu") (at 12 18 90) (attr smd)
          (fp_text reference "R1" (at 0 0) (layer "F.SilkS")) (fp_text value "4k7" (at 0 0) (layer "F.Fab"))
          (fp_line (start -0.5 -0.25) (end 0.5 -0.25) (layer "F.Fab")) (fp_line (start 0.5 0.25) (end -0.5 0.25) (layer "F.Fab"))
          (pad "1" smd rect (at -0.5 0 90) (size 0.5 0.6) (layers "F.Cu") (net 1 "GND") (pinfunction "A") (pintype "passive"))
          (pad "2" smd rect (at 0.5 0 90) (size 0.5 0.6) (layers "F.Cu") (net 2 "+3V3") (pintype "passive+no_connect")))`,
      ),
    );
    expect(read.layers).toBe(3);
    // By hand: x 12 - 10, y 20 - 18; turned by 90 degrees the first pad lies below, the second above.
    expect(componentOf(read, 'R1')).toEqual({
      designator: 'R1',
      side: 'top',
      at: [2, 2],
      atIs: 'body centre',
      rotation: 90,
      body: { length: 1, width: 0.5 },
      footprint: 'R_0402',
      value: '4k7',
      pins: [
        { number: '1', name: 'A', direction: 'passive', at: [2, 1.5], net: 'GND' },
        { number: '2', direction: 'passive', at: [2, 2.5], net: '+3V3' },
      ],
      line: 8,
    });
  });

  test('overbars, subscripts and signs written as words are read as they are drawn', () => {
    const read = boardOf(
      board(
        ...square,
        `(footprint "lib:X" (layer "F.Cu") (at 12 18) (fp_text reference "U1" (at 0 0) (layer "F.SilkS"))
          (pad "1" smd rect (at 0 0) (size 1 1) (net 3 "D+{slash}CLK") (pinfunction "~{CE}"))
          (pad "2" smd rect (at 1 0) (size 1 1) (net 4 "V_{SYS}") (pinfunction "V_{DD}{slash}A_1")))`,
      ),
    );
    expect(componentOf(read, 'U1').pins.map(({ name }) => name)).toEqual(['~CE', 'VDD/A_1']);
    expect(read.nets.map(({ label }) => label)).toEqual(['D+/CLK', 'VSYS']);
  });

  test('a mark at the first pin is no body', () => {
    const drawn = (size: number) =>
      componentOf(
        boardOf(
          board(
            ...square,
            `(footprint "lib:SOT" (layer "F.Cu") (at 20 15) (fp_text reference "U1" (at 0 0) (layer "F.SilkS"))
              (fp_rect (start -1.5 -0.8) (end ${-1.5 + size} ${-0.8 + size}) (layer "F.Fab"))
              (pad "1" smd rect (at -0.95 1.2) (size 0.6 1)) (pad "2" smd rect (at 0.95 -1.2) (size 0.6 1)))`,
          ),
        ),
        'U1',
      );
    expect(drawn(0.2)).toMatchObject({ at: [10, 5], atIs: 'origin' });
    expect(drawn(0.2).body).toBeUndefined();
    expect(drawn(1.6).body).toEqual({ length: 1.6, width: 1.6 });
  });

  test('chains edges in any order, with arcs and holes', () => {
    const { outline } = boardOf(
      board(
        line('0 0', '20 0'),
        line('0 10', '0 0'),
        '(gr_arc (start 20 0) (mid 25 5) (end 20 10) (layer "Edge.Cuts"))',
        line('20.004 10', '0 10'),
        '(gr_circle (center 5 5) (end 6 5) (layer "Edge.Cuts"))',
        '(gr_rect (start 10 4) (end 14 6) (layer "Edge.Cuts"))',
        '(gr_poly (pts (xy 1 1) (xy 2 1) (xy 1 2)) (layer "Edge.Cuts"))',
      ),
    );
    if (!outline) throw new Error('no outline was read');
    // By hand: 20 × 10, half a disc of radius 5, less a disc of radius 1, a 4 × 2 slot and half a square.
    const area = 200 + 12.5 * Math.PI - Math.PI - 8 - 0.5;
    expect(Math.abs(areaOf(outline) - area)).toBeLessThan(0.1);
    expect(extentOf(outline)).toMatchObject({ left: 0, bottom: 0 });
    expect(extentOf(outline).length).toBeCloseTo(25, 2);
    expect('points' in outline && outline.points).toContainEqual({ to: [20, 0], through: [25, 5] });
    expect('points' in outline && outline.holes).toHaveLength(3);
  });

  test('arcs of version 5: centre, start and a clockwise angle', () => {
    const { outline } = boardOf(
      `(kicad_pcb (version 20171130) (host pcbnew "(5.1.6)")
        (gr_line (start 0 0) (end 20 0) (layer Edge.Cuts) (width 0.1))
        (gr_arc (start 20 5) (end 20 0) (angle 180) (layer Edge.Cuts) (width 0.1))
        (gr_line (start 20 10) (end 0 10) (layer Edge.Cuts) (width 0.1))
        (gr_line (start 0 10) (end 0 0) (layer Edge.Cuts) (width 0.1)))`,
    );
    expect(outline && extentOf(outline).length).toBeCloseTo(25, 2);
  });

  test('an outline that is open is told with the gap', () => {
    expect(
      cautionsOf(
        board(line('0 0', '20 0'), line('20 0', '20 10'), line('20 10', '0 10'), line('0 10', '0 0.5')),
      ),
    ).toEqual([
      'file:4: the board outline is open: (0, 0.5) does not meet (0, 0), 0.500 mm apart — close it in the design and export again; this piece of it is left out',
      'file: has no closed outline on Edge.Cuts — measure the board, or give its outline by hand',
    ]);
  });

  test('lines drawn twice do no harm; boards of a panel beside the largest are told', () => {
    expect(boardOf(board(...square, ...square)).outline).toEqual(boardOf(board(...square)).outline);
    expect(cautionsOf(board(...square, '(gr_rect (start 40 10) (end 50 15) (layer "Edge.Cuts"))'))).toEqual([
      'file: 1 closed outline lies beside the largest and is left out — give each board of a panel a file of its own',
    ]);
  });

  test('edges in footprints belong to the outline; footprints without a designator are left aside', () => {
    const text = board(
      `(footprint "lib:edge" (layer "F.Cu") (at 10 10 0) (fp_text reference "REF**" (at 0 0) (layer "F.SilkS"))
        (fp_rect (start 0 0) (end 20 10) (layer "Edge.Cuts")))`,
    );
    const read = boardOf(text);
    expect(read.outline && areaOf(read.outline)).toBe(200);
    expect(read.components).toEqual([]);
    expect(reading(text).understood).toContain(
      '1 footprint has no designator (holes, marks, art) and is left aside',
    );
  });

  test('places left empty, part numbers, pins of nets by name alone', () => {
    const read = boardOf(
      `(kicad_pcb (version 20240108) (generator "pcbnew") (generator_version "8.0")
        (footprint "lib:QFN" (layer "B.Cu") (at 1 2)
          (property "Reference" "U1" (at 0 0 0)) (property "Value" "QX17" (at 0 0 0))
          (property "Mfr. Part No" "QX17-A") (property "Manufacturer" "Quistle") (attr smd dnp)
          (pad "1" smd rect (at 0 0) (net "SDA") (pinfunction "SDA") (pintype "bidirectional"))
          (pad "" smd rect (at 0 0)) (pad "" np_thru_hole circle (at 1 1)))
        (footprint "lib:R" (layer "F.Cu") (at 3 4)
          (property "Reference" "R1") (property "Value" "10k DNP")))`,
    );
    expect(read.components).toEqual([
      {
        designator: 'U1',
        side: 'bottom',
        at: [1, -2],
        atIs: 'origin',
        rotation: 0,
        footprint: 'QFN',
        value: 'QX17',
        partNumber: 'QX17-A',
        maker: 'Quistle',
        fitted: false,
        pins: [{ number: '1', name: 'SDA', direction: 'bidirectional', at: [1, -2], net: 'SDA' }],
        line: 2,
      },
      {
        designator: 'R1',
        side: 'top',
        at: [3, -4],
        atIs: 'origin',
        rotation: 0,
        footprint: 'R',
        value: '10k',
        fitted: false,
        pins: [],
        line: 7,
      },
    ]);
  });

  test.each([
    [
      '(kicad_pcb (version 1) (footprint "a',
      'file:1: ends in the middle: a bracket or quotation mark is not closed — copy or export it again',
    ],
    [
      '(kicad_pcb (version 1)\n(zone (polygon',
      'file:2: ends in the middle: a bracket or quotation mark is not closed — copy or export it again',
    ],
    ['(module x (layer F.Cu))', 'file:1: is a "module", not a board — give the .kicad_pcb file'],
    [
      `(kicad_pcb ${'(a '.repeat(200)}`,
      'file:1: has more than 60 brackets in brackets — export the board again',
    ],
    [
      '(kicad_pcb (footprint "a" (layer "F.Cu") (property "Reference" "R1")))',
      'file:1 at: a footprint has no place "(at x y)" — export the board again',
    ],
  ])('%j', (text, problem) => {
    expect(problemsOf(text)).toEqual([problem]);
  });
});
