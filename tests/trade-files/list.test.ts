import { describe, expect, test } from 'vitest';
import { readTradeFile } from '../../src/trade-files/read.ts';
import { readDesignators } from '../../src/trade-files/table/designators.ts';
import { headingMeaning } from '../../src/trade-files/table/headings.ts';
import { boardOf, cautionsOf, componentOf, problemsOf, reading } from './reading.ts';

// Bills of materials and placement lists. How trades write designators, sides, units and places left empty: common practice, no
// source. CSV: RFC 4180.

describe('designators of a row', () => {
  test.each([
    ['C1, C3-C5', ['C1', 'C3', 'C4', 'C5']],
    ['R1 R2', ['R1', 'R2']],
    ['R1;R2|R3/R4', ['R1', 'R2', 'R3', 'R4']],
    ['C9 - C11', ['C9', 'C10', 'C11']],
    ['LED1..LED3', ['LED1', 'LED2', 'LED3']],
    ['D1–D2', ['D1', 'D2']],
    ['U$5, SW1A, ANT', ['U$5', 'SW1A', 'ANT']],
    ['C1, C2, C5-C7', ['C1', 'C2', 'C5', 'C6', 'C7']],
    ['C5 to C7', ['C5', 'C6', 'C7']],
    ['C5 bis C7', ['C5', 'C6', 'C7']],
    ['R1A-R1C', ['R1A', 'R1B', 'R1C']],
    ['R1A-C', ['R1A', 'R1B', 'R1C']],
    ['C5A-C7A', ['C5A', 'C6A', 'C7A']],
    ['C1、C2，C5', ['C1', 'C2', 'C5']],
    ['C1 & C2', ['C1', 'C2']],
    ['C1+C2', ['C1', 'C2']],
    ['C1 and C2\nC3', ['C1', 'C2', 'C3']],
  ])('%j', (cell, designators) => {
    expect(readDesignators(cell)).toEqual({ designators, others: [], problems: [], cautions: [] });
  });

  test('what had to be settled is told', () => {
    expect(readDesignators('C3-5')).toMatchObject({
      designators: ['C3', 'C4', 'C5'],
      cautions: [{ what: '"C3-5" is read as C3 to C5' }],
    });
    expect(readDesignators('r7')).toMatchObject({
      designators: ['R7'],
      cautions: [{ fix: 'write designators in capitals' }],
    });
    expect(readDesignators('C1, 2, C7/9')).toMatchObject({
      designators: ['C1', 'C2', 'C7', 'C9'],
      others: [],
      cautions: [{ what: '"2" behind C1 is read as C2' }, { what: '"9" behind C7 is read as C9' }],
    });
    expect(readDesignators('ANT, J1').designators).toEqual(['ANT', 'J1']);
    expect(readDesignators('A. Example')).toMatchObject({ designators: [], others: ['Example', 'A.'] });
    expect(readDesignators('R1 100').others).toEqual(['100']);
    expect(readDesignators('R? main board').others).toEqual(['R?', 'main', 'board']);
  });

  test.each(['C5-C3', 'C3-R5', 'J1-1', 'R1-R99999', 'R1D-R1A', 'R1A-R2B'])('%j is no range', (cell) => {
    const { designators, problems } = readDesignators(cell);
    expect(designators).toEqual([]);
    expect(problems).toHaveLength(1);
  });
});

describe('headings', () => {
  test.each([
    ['Ref. Des.', 'designator'],
    ['PART_REFERENCE', 'designator'],
    ['Marking', 'marking'],
    ['Top mark', 'marking'],
    ['Aufdruck', 'marking'],
    ['Bauteilbezeichner', 'designator'],
    ['Repère', 'designator'],
    ['位号', 'designator'],
    ['リファレンス', 'designator'],
    ['Stückzahl', 'quantity'],
    ['数量', 'quantity'],
    ['Mfr. Part #', 'partNumber'],
    ['manf#', 'partNumber'],
    ['Hersteller', 'maker'],
    ['封装', 'footprint'],
    ['Do Not Populate', 'notFitted'],
    ['nicht bestückt', 'notFitted'],
  ])('%s is %s', (heading, field) => {
    expect(headingMeaning(heading)).toEqual({ kind: 'field', field });
  });

  test.each([
    ['Center-X(mm)', 'centreX', 'mm'],
    ['PosY [mil]', 'y', 'mil'],
    ['Ref X (inch)', 'originX', 'inch'],
    ['pad_y_um', 'padY', 'um'],
  ])('%s carries its unit', (heading, field, unit) => {
    expect(headingMeaning(heading)).toEqual({ kind: 'field', field, unit });
  });

  test('ambiguous and unknown ones are told', () => {
    const text = 'Part,Comment,Wobble,Value\nR1,near the edge,7,4k7\n';
    const settled = { sure: 'likely', why: 'settled by its cells and the other columns' };
    expect(reading(text).columns).toEqual([
      { heading: 'Part', field: 'designator', ...settled },
      { heading: 'Comment', field: 'note', ...settled },
      { heading: 'Wobble', why: 'unknown' },
      { heading: 'Value', field: 'value', sure: 'certain' },
    ]);
    expect(cautionsOf(text)).toEqual([
      'file:1 Part: "Part" is taken as designator — say so if it is not: --column "Part=partNumber"',
      'file:1 Comment: "Comment" is taken as note — say so if it is not: --column "Comment=value"',
      'file:1 Wobble: "Wobble" is not a heading known here; nothing is taken from it — say what it is: --column "Wobble=FIELD", or add it to schema/trade-file-headings.yaml',
    ]);
  });

  test('where none is known, a column of designators shows that it is a list', () => {
    expect(problemsOf('Teile einer Leiterplatte\n\nKürzel;Was\nR1, R2;4k7\nC1;100n\nU1;x\n')).toEqual([
      'file:3 Kürzel: has no line of headings known here — "Kürzel" looks like the heading of designators; say what the columns hold: --column "Kürzel=designator"',
    ]);
    for (const text of [
      'a;b\nc;d\ne;f\n',
      'x: 1\ny: [U1, R2]\nz: [C1, C2]\n',
      'R1\nR2\nR3\n',
      '{"a":"R1,R2"}',
    ])
      expect(readTradeFile(Buffer.from(text), 'file')).toBeUndefined();
  });

  test('unknown ones come with what they may be', () => {
    const text = 'Ref,Foootprint,Was,Wo,Dreh\nR1,0402,4k7,top,90\nR2,0603,100n,bottom,180\n';
    expect(reading(text).columns?.map(({ heading, suggestion, why }) => [heading, suggestion, why])).toEqual([
      ['Ref', undefined, undefined],
      ['Foootprint', 'footprint', 'unknown; its heading is nearly "footprint"'],
      ['Was', 'value', 'unknown; 2 of 2 cells look like values'],
      ['Wo', 'side', 'unknown; 2 of 2 cells look like sides of a board'],
      ['Dreh', 'rotation', 'unknown; 2 of 2 cells look like right angles'],
    ]);
    expect(cautionsOf(text)[1]).toBe(
      'file:1 Was: "Was" is not a heading known here; nothing is taken from it — if it is what it looks like (2 of 2 cells look like values), say so: --column "Was=value"',
    );
  });

  test('what a caller says of a column comes first', () => {
    const text = 'Kürzel,Was,Zahl\nR1,4k7,1\n';
    expect(
      problemsOf(text, {
        columns: new Map([
          ['Kürzel', 'designator'],
          ['was', 'value'],
          ['Zahl', 'aside'],
        ]),
      }),
    ).toEqual([]);
    const board = boardOf(text, {
      columns: new Map([
        ['kürzel', 'designator'],
        ['Was', 'value'],
        ['Zahl', 'aside'],
      ]),
    });
    expect(board.components).toMatchObject([{ designator: 'R1', value: '4k7' }]);
    expect(
      problemsOf(text, {
        columns: new Map([
          ['Kürzel', 'designatr'],
          ['Was', 'value'],
        ]),
      }),
    ).toContain('file Kürzel: "designatr" is not a field of a list — did you mean "designator"?');
  });
});

describe('a bill of materials', () => {
  test('gives every designator what its row says', () => {
    const { components } = boardOf(
      [
        'Designator;Qty;Value;Footprint;MPN;Manufacturer',
        '"C1, C3-C4";3;100 nF 16V;C_0402;QX-1;"Quistle; Ltd"',
        'U1;1;QX17;LGA-12;;',
      ].join('\r\n'),
    );
    expect(components).toEqual([
      ...['C1', 'C3', 'C4'].map((designator) => ({
        designator,
        footprint: 'C_0402',
        value: '100 nF 16V',
        partNumber: 'QX-1',
        maker: 'Quistle; Ltd',
        listed: true,
        pins: [],
        line: 2,
      })),
      { designator: 'U1', footprint: 'LGA-12', value: 'QX17', listed: true, pins: [], line: 3 },
    ]);
  });

  test('counts designators against the quantity', () => {
    expect(cautionsOf('Ref,Qty\n"R1,R2",3\nR3,1\n')).toEqual([
      'file:2 Qty: says 3 and lists 2 designators — look which is right; the designators count here',
    ]);
    expect(cautionsOf('Ref,Qty\n"R1,R2",20\nR3,10\n')).toEqual([
      'file:1 Qty: every quantity is 10 times the designators listed — nothing, if the list is for that many devices',
    ]);
  });

  test.each([
    [
      'Ref,Value,DNP\nR1,10k,x\nR2,10k,\nR3,10k,DNP\nR4,10k,no\n',
      { R1: false, R2: undefined, R3: false, R4: true },
    ],
    [
      'Ref,Value,Fitted\nR1,10k,yes\nR2,10k,Not fitted\nR3,10k,0\nR4,10k,\n',
      { R1: true, R2: false, R3: false, R4: undefined },
    ],
    [
      'Ref,Value\nR1,DNP\nR2,10k DNP\nR3,do not populate\nR4,10k (DNF)\n',
      { R1: false, R2: false, R3: false, R4: false },
    ],
    ['Ref,Value,Remark\nR1,10k,DNP\nR2,10k,near U1\n', { R1: false, R2: undefined }],
    ['Ref,Qty\nR1,0\nR2,1\nR3,DNP\n', { R1: false, R2: undefined, R3: false }],
    ['Ref,Value,nicht bestückt\nR1,10k,ja\nR2,10k,nein\n', { R1: false, R2: true }],
  ])('knows places left empty: %j', (text, fitted) => {
    const board = boardOf(text);
    expect(Object.fromEntries(board.components.map((one) => [one.designator, one.fitted]))).toEqual(fitted);
    if (text.includes('10k DNP')) {
      expect(componentOf(board, 'R2').value).toBe('10k');
      expect(componentOf(board, 'R4').value).toBe('10k');
      expect(componentOf(board, 'R1').value).toBeUndefined();
    }
  });

  test('tells every problem at once, with its line', () => {
    expect(problemsOf('Ref,Value,Side\nR1,1k,top\nR5-R2,1k,top\nR1,2k,sideways\n')).toEqual([
      'file:3 Ref: "R5-R2" is not a range of designators — write the designators one by one',
      'file:4 Side: "sideways" is not a side — write top or bottom, or add the word to schema/trade-file-headings.yaml',
      'file:4 Ref: R1 is also in line 2 — keep one, or give the rows of several boards a column "board"',
    ]);
  });

  test('finds its headings below a title', () => {
    const board = boardOf('Bill of materials,,\nProject:,invented,\n\nItem,Reference,Value\n1,R1,4k7\n');
    expect(board.components).toMatchObject([{ designator: 'R1', value: '4k7', line: 5 }]);
  });

  test('a row without a designator is no second row of headings', () => {
    const file = reading('Ref,Comment,Wobble\n,Board,\nR1,4k7,x\n');
    expect(file.columns?.map(({ heading }) => heading)).toEqual(['Ref', 'Comment', 'Wobble']);
    expect(file.table?.skipped).toEqual([{ line: 2, why: 'no designator' }]);
  });

  test('groups of headings in a text, above and below', () => {
    const below = 'Ref,Value,Centre,,Pad,,Side\n,,X (mm),Y (mm),X (mm),Y (mm),\nR1,4k7,1,2,3,4,top\n';
    const above =
      'Part data,,Centre,,Pad,,\nRef,Value,X (mm),Y (mm),X (mm),Y (mm),Side\nR1,4k7,1,2,3,4,top\n';
    for (const text of [below, above]) {
      const file = reading(text);
      expect(file.boards?.[0]?.components).toMatchObject([
        { designator: 'R1', value: '4k7', at: [1, 2], atIs: 'body centre', side: 'top' },
      ]);
      expect(file.columns?.map(({ field }) => field)).toEqual([
        'designator',
        'value',
        'centreX',
        'centreY',
        'padX',
        'padY',
        'side',
      ]);
    }
  });

  test('several boards by a column', () => {
    const { boards, problems } = reading('Ref,Value,Board\nC1,1u,main\nC1,2u,flex\n');
    expect(problems).toEqual([]);
    expect(boards?.map(({ name, components }) => [name, components[0].value])).toEqual([
      ['main', '1u'],
      ['flex', '2u'],
    ]);
  });

  test.each([
    ['UTF-8 with a byte-order mark', Buffer.from('\ufeffRef,Value\nR1,4k7Ω\n')],
    ['UTF-16, little end first, with its mark', Buffer.from('\ufeffRef\tValue\nR1\t4k7Ω\n', 'utf16le')],
    ['UTF-16, big end first, with its mark', Buffer.from('\ufeffRef\tValue\nR1\t4k7Ω\n', 'utf16le').swap16()],
    ['UTF-16 without a mark', Buffer.from('Ref\tValue\nR1\t4k7Ω\n', 'utf16le')],
  ])('%s', (_, bytes) => {
    expect(boardOf(bytes).components).toMatchObject([{ designator: 'R1', value: '4k7Ω' }]);
  });

  test('lines that end in carriage returns alone, a line that names the separator, line ends in cells', () => {
    for (const text of ['sep=;\rRef;Value\r"R1,\rR2";4k7\r', 'sep=;\r\nRef;Value\r\n"R1,\nR2";4k7\r\n'])
      expect(boardOf(text).components).toMatchObject([
        { designator: 'R1', value: '4k7' },
        { designator: 'R2', value: '4k7' },
      ]);
  });

  test('Windows-1252 is read with a caution', () => {
    // 0xB5 is µ in Windows-1252 (WHATWG Encoding, index windows-1252).
    const bytes = Buffer.concat([Buffer.from('Ref,Value\nC1,4.7'), Buffer.from([0xb5]), Buffer.from('F\n')]);
    expect(boardOf(bytes).components).toMatchObject([{ value: '4.7µF' }]);
    expect(cautionsOf(bytes)).toEqual([
      'file:2: holds bytes that are not UTF-8, the first in column 7 ("C1,4.7µF"); it is read as Windows-1252 — look at letters such as µ and Ω there; save it as UTF-8 if they are wrong',
    ]);
  });
});

describe('a placement list', () => {
  test('between blanks, with its unit above, as design tools write reports', () => {
    const board = boardOf(
      [
        '### Module positions - invented ###',
        '## Unit = inches, Angle = deg.',
        '# Ref     Val       Package       PosX       PosY       Rot  Side',
        'C1        100n      C_0402      1.0000    -0.5000   90.0000  top',
        'U1        QX_17     LGA-12      0.2500    -0.1000  -90.0000  bottom',
        '## End',
        '',
      ].join('\n'),
    );
    // 1 inch is 25.4 mm by definition (ISO 80000-3).
    expect(board.components).toMatchObject([
      { designator: 'C1', at: [25.4, -12.7], rotation: 90, side: 'top', atIs: 'not said', value: '100n' },
      { designator: 'U1', at: [6.35, -2.54], rotation: 270, side: 'bottom' },
    ]);
  });

  test('the middle of the body is taken before the origin, and that before the first pin', () => {
    const text =
      '"Designator","Mid X","Mid Y","Ref X","Ref Y","Pad X","Pad Y","TB","Rotation"\n"U1","100mil","200mil","110mil","210mil","90mil","200mil","T","0.00"\n';
    expect(boardOf(text).components).toMatchObject([{ at: [2.54, 5.08], atIs: 'body centre', side: 'top' }]);
    const origins = 'Designator,Ref X (mm),Ref Y (mm),Pad X (mm),Pad Y (mm),Layer\nU1,3,4,1,1,F.Cu\n';
    expect(boardOf(origins).components).toMatchObject([{ at: [3, 4], atIs: 'origin' }]);
  });

  test.each([
    ['top', 'top'],
    ['T', 'top'],
    ['F.Cu', 'top'],
    ['TopLayer', 'top'],
    ['Component Side', 'top'],
    ['oben', 'top'],
    ['B', 'bottom'],
    ['Bottom Layer', 'bottom'],
    ['底层', 'bottom'],
    ['裏面', 'bottom'],
  ])('side %s is %s', (word, side) => {
    expect(boardOf(`Ref,X (mm),Y (mm),Side\nR1,1,2,${word}\n`).components).toMatchObject([{ side }]);
  });

  test('a decimal comma where commas do not separate cells', () => {
    expect(boardOf('Ref;X (mm);Y (mm);Rot;Side\nR1;1,25;-0,5;45,5;top\n').components).toMatchObject([
      { at: [1.25, -0.5], rotation: 45.5 },
    ]);
  });

  test('no unit: mm with a caution, unless they reach too far', () => {
    expect(cautionsOf('Ref,X,Y,Side\nR1,1,2,top\nR2,30,20,top\n')).toEqual([
      'file:1: does not say the unit of its lengths; they are taken as mm — say so if they are not: --unit mil or --unit inch',
    ]);
    const far = 'Ref,X,Y,Side\nR1,1,2,top\nR2,1400,20,top\n';
    expect(problemsOf(far)).toEqual([
      'file:1: does not say the unit of its lengths, which reach over 1399: too far for mm — say which: --unit mil, --unit inch or --unit mm',
    ]);
    expect(componentOf(boardOf(far, { unit: 'mil' }), 'R2').at).toEqual([35.56, 0.508]);
  });

  test('a side drawn mirrored is told', () => {
    expect(problemsOf('Ref,X (mm),Y (mm),Side\nR1,10,2,top\nR2,-10,2,bottom\n')).toEqual([
      'file:1: has its bottom side mirrored: every x there is negative, none above is — export both sides seen from above',
    ]);
  });

  test('no side, one place for two, one coordinate of two', () => {
    expect(cautionsOf('Ref,X (mm),Y (mm)\nR1,1,2\n')).toEqual([
      'file:1: does not say the side of the board — export it with the side, or add a column "Side" with top or bottom',
    ]);
    expect(problemsOf('Ref,X (mm),Y (mm),Side\n"R1,R2",1,2,top\n')).toEqual([
      'file:2 Ref: gives one place to 2 components — give each a row of its own',
    ]);
    expect(problemsOf('Ref,X (mm),Y (mm),Side\nR1,here,2,top\n')).toEqual([
      'file:2 X (mm): "here" is not a length — write a number, such as 12.7 or 12.7mm',
    ]);
  });
});
