import XLSX from '@e965/xlsx';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { TradeFile } from '../../src/trade-files/board-design.ts';
import { readTradeFile } from '../../src/trade-files/read.ts';
import { readBook, sheetData, workbookOf } from './workbooks.ts';

// One table, written in every form in which people have it, is one design. The writers know nothing of the reader: Node's Buffer for UTF-8
// and UTF-16, the table below for Windows-1252, @e965/xlsx for workbooks, and sheets by hand.

interface Row {
  readonly designator: string;
  readonly value: string;
  readonly footprint: string;
  /** Ten-thousandths of a mm. */
  readonly x: number;
  readonly y: number;
  readonly rotation: number;
  readonly side: 'top' | 'bottom';
}

const VALUES = ['4k7', '100n', '4.7 µF ±10 %', '0 Ohm', 'ferrite bead', 'Größe, "5"', 'a;b|c', '€–’'];
const PACKAGES = ['0402', 'SOT-23', 'R_0603', 'QFN 16'];

const rows: fc.Arbitrary<readonly Row[]> = fc
  .array(
    fc.record({
      value: fc.constantFrom(...VALUES),
      footprint: fc.constantFrom(...PACKAGES),
      // Never of three decimals alone, so that each number tells its sign.
      x: fc.integer({ min: 1, max: 140_000 }).map((n) => n * 10 + 7),
      y: fc.integer({ min: -140_000, max: 140_000 }).map((n) => n * 10 + 3),
      rotation: fc.constantFrom(0, 45, 90, 180, 270, 12.5),
      side: fc.constantFrom('top' as const, 'bottom' as const),
    }),
    { minLength: 1, maxLength: 12 },
  )
  .map((all) => all.map((one, i) => ({ ...one, designator: `${'RCU'[i % 3]}${i + 1}` })));

const HEADINGS = ['Designator', 'Value', 'Package', 'Mid X [um]', 'Mid Y [um]', 'Rotation', 'Layer'];

type Writing = {
  readonly decimal: '.' | ',';
  readonly group: '' | ',' | '.' | ' ' | '\u00a0' | '\u202f' | "'" | '’';
};

/** Micrometres with one decimal, grouped by threes. */
function length(tenThousandths: number, { decimal, group }: Writing): string {
  const sign = tenThousandths < 0 ? '-' : '';
  const digits = String(Math.abs(tenThousandths)).padStart(2, '0');
  const [whole, tenth] = [digits.slice(0, -1), digits.slice(-1)];
  const groups: string[] = [];
  for (let end = whole.length; end > 0; end -= 3) groups.unshift(whole.slice(Math.max(0, end - 3), end));
  return `${sign}${groups.join(group)}${decimal}${tenth}`;
}

function tableOf(all: readonly Row[], writing: Writing): readonly (readonly string[])[] {
  const angle = (degrees: number) => String(degrees).replace('.', writing.decimal);
  return [
    HEADINGS,
    ...all.map((one) => [
      one.designator,
      one.value,
      one.footprint,
      length(one.x, writing),
      length(one.y, writing),
      angle(one.rotation),
      one.side,
    ]),
  ];
}

/** RFC 4180, with another separator. */
function separated(table: readonly (readonly string[])[], separator: string): string {
  return table
    .map((cells) =>
      cells
        .map((cell) =>
          /["\r\n]/u.test(cell) || cell.includes(separator) ? `"${cell.replaceAll('"', '""')}"` : cell,
        )
        .join(separator),
    )
    .join('\r\n');
}

/**
 * The characters of bytes 80 to 9F of Windows-1252, as the Unicode Consortium's mapping lists them (MAPPINGS/VENDORS/MICSFT/WINDOWS/CP1252.TXT);
 * zero where it has none. The others are those of ISO 8859-1.
 */
const CP1252 = [
  0x20ac, 0, 0x201a, 0x0192, 0x201e, 0x2026, 0x2020, 0x2021, 0x02c6, 0x2030, 0x0160, 0x2039, 0x0152, 0,
  0x017d, 0, 0, 0x2018, 0x2019, 0x201c, 0x201d, 0x2022, 0x2013, 0x2014, 0x02dc, 0x2122, 0x0161, 0x203a,
  0x0153, 0, 0x017e, 0x0178,
];

/** Bytes of a text in Windows-1252; undefined where it has a character that the encoding lacks. */
function in1252(text: string): Buffer | undefined {
  const bytes = [...text].map((one) => {
    const code = one.codePointAt(0) as number;
    if (code < 0x80 || (code >= 0xa0 && code <= 0xff)) return code;
    const at = CP1252.indexOf(code);
    return at < 0 ? -1 : 0x80 + at;
  });
  return bytes.includes(-1) ? undefined : Buffer.from(bytes);
}

const ENCODERS: readonly (readonly [name: string, (text: string) => Buffer | undefined])[] = [
  ['UTF-8', (text) => Buffer.from(text)],
  ['UTF-8, by its byte-order mark', (text) => Buffer.from(`\ufeff${text}`)],
  ['UTF-16LE, by its byte-order mark', (text) => Buffer.from(`\ufeff${text}`, 'utf16le')],
  ['UTF-16BE, by its byte-order mark', (text) => Buffer.from(`\ufeff${text}`, 'utf16le').swap16()],
  ['UTF-16LE, since every other byte is 0', (text) => Buffer.from(text, 'utf16le')],
  ['UTF-16BE, since every other byte is 0', (text) => Buffer.from(text, 'utf16le').swap16()],
  ['Windows-1252', in1252],
];

function expectDesign(file: TradeFile | undefined, all: readonly Row[]): void {
  expect(file?.problems).toEqual([]);
  expect(file?.format).toBe('placement');
  const components = file?.boards?.[0]?.components ?? [];
  expect(
    components.map(({ designator, value, footprint, at, rotation, side }) => ({
      designator,
      value,
      footprint,
      at,
      rotation,
      side,
    })),
  ).toEqual(
    all.map(({ designator, value, footprint, x, y, rotation, side }) => ({
      designator,
      value,
      footprint,
      at: [x / 10_000, y / 10_000],
      rotation,
      side,
    })),
  );
}

const writing: fc.Arbitrary<Writing> = fc.oneof(
  fc.record({
    decimal: fc.constant('.' as const),
    group: fc.constantFrom(
      '' as const,
      ',' as const,
      ' ' as const,
      '\u202f' as const,
      "'" as const,
      '’' as const,
    ),
  }),
  fc.record({
    decimal: fc.constant(',' as const),
    group: fc.constantFrom('' as const, '.' as const, ' ' as const, '\u00a0' as const, "'" as const),
  }),
);

describe('one table in every form', () => {
  test.each(ENCODERS)('as text in %s', (name, encode) => {
    fc.assert(
      fc.property(rows, writing, fc.constantFrom(',', ';', '\t', '|'), (all, how, separator) => {
        const bytes = encode(separated(tableOf(all, how), separator));
        fc.pre(bytes !== undefined);
        const file = readTradeFile(bytes as Buffer, 'list.csv');
        expectDesign(file, all);
        const taken = file?.table?.encoding ?? '';
        // Without a letter beyond ASCII there is nothing to tell.
        if (!taken.startsWith('ASCII')) expect(taken.startsWith(name)).toBe(true);
        expect(file?.table?.decimalSign).toBe(how.decimal === ',' ? 'comma' : 'point');
      }),
      { numRuns: 60 },
    );
  });

  test('as workbooks: numbers as numbers, and numbers as text', async () => {
    await fc.assert(
      fc.asyncProperty(rows, writing, fc.boolean(), async (all, how, bookSST) => {
        const table = tableOf(all, how);
        const numbers = [
          HEADINGS,
          ...all.map((one) => [
            one.designator,
            one.value,
            one.footprint,
            one.x / 10,
            one.y / 10,
            one.rotation,
            one.side,
          ]),
        ];
        const sheet = XLSX.utils.aoa_to_sheet(numbers as unknown[][]);
        for (const name of Object.keys(sheet)) if (sheet[name].t === 'n') sheet[name].z = '#,##0';
        const book = XLSX.utils.book_new();
        XLSX.utils.book_append_sheet(book, sheet, 'List');
        const bytes = XLSX.write(book, { type: 'buffer', bookType: 'xlsx', bookSST }) as Buffer;
        expectDesign(await readBook(bytes), all);
        expectDesign(await readBook(await workbookOf({ sheets: { List: sheetData(table) } })), all);
        expectDesign(
          await readBook(await workbookOf({ sheets: { List: sheetData(numbers as (string | number)[][]) } })),
          all,
        );
      }),
      { numRuns: 25 },
    );
  });
});

describe('encodings', () => {
  test('each byte of Windows-1252 is the character that its table has', () => {
    for (let byte = 0x80; byte <= 0xff; byte++) {
      const file = readTradeFile(
        Buffer.concat([Buffer.from('Ref,Value\nR1,x'), Buffer.from([byte]), Buffer.from('y\n')]),
        'a.csv',
      );
      const code = byte >= 0xa0 ? byte : CP1252[byte - 0x80];
      if (code === 0) {
        expect(file?.boards).toBeUndefined();
        expect(file?.problems).toMatchObject([
          {
            line: 2,
            what: `is in an encoding that is not read here: neither UTF-8 nor Windows-1252 has the byte 0x${byte.toString(16).toUpperCase()} that stands in column 5`,
          },
        ]);
      } else {
        // A no-break space between letters stays.
        expect(file?.boards?.[0]?.components[0]?.value).toBe(`x${String.fromCodePoint(code)}y`);
        expect(file?.table?.encoding).toBe('Windows-1252, since it is not UTF-8');
      }
    }
  });

  test('broken bytes in what is plainly UTF-8 are named and not guessed', () => {
    const bytes = Buffer.concat([
      Buffer.from('Ref,Value\nC1,4.7 µF\nC2,2.2 µF\nC3,1 '),
      Buffer.from([0xb5]),
      Buffer.from('F\n'),
    ]);
    expect(readTradeFile(bytes, 'a.csv')?.problems).toMatchObject([
      {
        line: 4,
        what: 'is in UTF-8 by 2 of its letters, and has a byte that are not; the first is 0xB5 in column 6',
      },
    ]);
    const marked = Buffer.concat([Buffer.from('\ufeffRef,Value\r\nC1,4.7'), Buffer.from([0xb5, 0xff])]);
    expect(readTradeFile(marked, 'a.csv')?.problems).toMatchObject([
      {
        line: 2,
        what: expect.stringContaining(
          'by its byte-order mark, and has 2 bytes that are not; the first is 0xB5 in column 7',
        ),
      },
    ]);
    // RFC 3629, section 4: no overlong forms, no surrogates, nothing beyond U+10FFFF.
    for (const wrong of [
      [0xc0, 0xaf],
      [0xed, 0xa0, 0x80],
      [0xf4, 0x90, 0x80, 0x80],
      [0xe2, 0x82],
    ])
      expect(
        readTradeFile(
          Buffer.concat([Buffer.from('\ufeffRef,Value\nC1,'), Buffer.from(wrong), Buffer.from('\n')]),
          'a.csv',
        )?.problems,
      ).toHaveLength(1);
  });

  test('UTF-16 that is cut off', () => {
    const bytes = Buffer.from('\ufeffRef;Value\nR1;4k7\n', 'utf16le');
    expect(readTradeFile(bytes.subarray(0, bytes.length - 1), 'a.csv')?.problems).toMatchObject([
      { line: 2, what: 'is in UTF-16LE, by its byte-order mark, and ends in half a character in column 7' },
    ]);
  });
});

describe('decimal signs', () => {
  const list = (...xs: readonly string[]) =>
    `Ref;X (mm);Y (mm);Side\n${xs.map((x, i) => `R${i + 1};${x};1;top`).join('\n')}\n`;
  const read = (text: string, decimal?: 'point' | 'comma') =>
    readTradeFile(Buffer.from(text), 'a.csv', decimal ? { decimal } : {});
  const places = (file: TradeFile | undefined) => file?.boards?.[0]?.components.map(({ at }) => at?.[0]);

  test.each([
    [
      ['1,5', '2,25'],
      [1.5, 2.25],
    ],
    [
      ['1,234', '0,5'],
      [1.234, 0.5],
    ],
    [
      ['1,234', '1,234,567'],
      [1234, 1234567],
    ],
    [
      ['1.234,5', '12'],
      [1234.5, 12],
    ],
    [
      ['1,234.5', '2,000'],
      [1234.5, 2000],
    ],
    [
      ['1 234,5', '1\u202f000,25'],
      [1234.5, 1000.25],
    ],
    [
      ["1'234.5", '12.345'],
      [1234.5, 12.345],
    ],
    [
      ['12.345', '1.234'],
      [12.345, 1.234],
    ],
    [
      ['-0,125', '−3,5'],
      [-0.125, -3.5],
    ],
    [
      ['0.5mm', '.25', '3.'],
      [0.5, 0.25, 3],
    ],
  ])('%j is %j', (xs, wanted) => {
    const file = read(list(...xs));
    expect(file?.problems).toEqual([]);
    expect(places(file)).toEqual(wanted);
  });

  test('a stated unit tells where a board could only reach so far one way', () => {
    // Over a hundred metres, or a hundred; two thousandths of an inch, or two inches.
    expect(places(read(list('1,234', '101,125')))).toEqual([1.234, 101.125]);
    const mil = 'Ref,X (mil),Y (mil),Side\nC1,"1,250","2,500",T\nR1,"3,100","1,100",B\n';
    expect(places(read(mil))).toEqual([31.75, 78.74]);
  });

  test('what nothing tells is asked, and what is said counts', () => {
    const unclear = list('1,234', '12,500').replaceAll(' (mm)', '');
    expect(read(unclear)?.problems).toMatchObject([
      {
        line: 2,
        path: 'X',
        what: '"1,234" may be 1.234 or 1234, and nothing in the file tells',
        fix: 'say which is the decimal sign: --decimal comma or --decimal point',
      },
    ]);
    expect(places(read(unclear, 'comma'))).toEqual([1.234, 12.5]);
    const grouped = readTradeFile(Buffer.from(unclear), 'a.csv', { decimal: 'point', unit: 'um' });
    expect(places(grouped)).toEqual([1.234, 12.5]);
    const small = readTradeFile(Buffer.from(unclear), 'a.csv', { decimal: 'comma', unit: 'um' });
    expect(places(small)).toEqual([0.001234, 0.0125]);
    expect(read(list('1.5', '2,5'), 'comma')?.problems).toMatchObject([
      { line: 2, what: '"1.5" cannot have a decimal comma, as was said' },
    ]);
  });

  test('another column tells, and a rotation by what can be', () => {
    const text = 'Ref;X (mm);Y (mm);Rot;Side\nR1;1,234;2,5;90,000;top\nR2;2,345;1,000;0,000;top\n';
    const file = read(text);
    expect(file?.problems).toEqual([]);
    expect(places(file)).toEqual([1.234, 2.345]);
    expect(file?.boards?.[0]?.components[0]?.rotation).toBe(90);
  });

  test('both signs in a column: each as it is written, and what may be either is asked', () => {
    const file = read(list('1,5', '2.5'));
    expect(places(file)).toEqual([1.5, 2.5]);
    expect(file?.cautions.map(({ what }) => what)).toContain(
      '"1,5" has a decimal comma, and "2.5" in line 3 a decimal point; each is read as it is written',
    );
    expect(read(list('1,5', '2.5', '3,456'))?.problems).toMatchObject([
      { line: 4, what: '"3,456" may be 3.456 or 3456: its column has decimal commas and decimal points' },
    ]);
  });

  test.each(['1,23,456', '1.234.5', '1 23', "12'34", '1,234 567', '1..2', '--1', '1e'])(
    '%j is no length',
    (cell) => {
      expect(read(list(cell))?.problems).toMatchObject([{ what: `"${cell}" is not a length` }]);
    },
  );
});

describe('units', () => {
  test('in cells, headings and a row below; another than the column is in is a problem', () => {
    const file = readTradeFile(
      Buffer.from('Ref,X,Y,Side\nR1,12 mm,0.5in,top\nR2,10 mil,500um,top\nR3,"1.5""",1cm,bottom\n'),
      'a.csv',
    );
    expect(file?.boards?.[0]?.components.map(({ at }) => at)).toEqual([
      [12, 12.7],
      [0.254, 0.5],
      [38.1, 10],
    ]);
    const mixed =
      'Ref,Value [nF],X (mm),Y (mm),Side\nC1,100,1,2mm,top\nC2,4.7 µF,10 mil,2,top\nC3,22n,1,1,top\n';
    expect(readTradeFile(Buffer.from(mixed), 'a.csv')?.problems).toMatchObject([
      { line: 3, path: 'Value [nF]', what: '"4.7 µF" has another unit than its column, which is in nF' },
      { line: 3, path: 'X (mm)', what: '"10 mil" has another unit than its column, which is in mm' },
    ]);
    const below = 'Ref,X,Y (mm),Side\n,mil,inch,\nC1,100,2,top\n';
    expect(readTradeFile(Buffer.from(below), 'a.csv')?.problems).toMatchObject(
      [{ line: 2, path: 'Y (mm)', what: '"inch" under a heading that says mm' }].map((one) => ({
        ...one,
        what: `says ${one.what}`,
      })),
    );
  });

  test('as asked of a column', () => {
    const columns = new Map([
      ['East', 'centreX mil'],
      ['North', 'centreY [mil_i]'],
      ['Art', 'value kohm'],
    ]);
    const file = readTradeFile(Buffer.from('Ref,Art,East,North,Side\nR1,"4,7",100,200,top\n'), 'a.csv', {
      columns,
    });
    expect(file?.problems).toEqual([]);
    expect(file?.boards?.[0]?.components).toMatchObject([{ value: '4,7 kΩ', at: [2.54, 5.08] }]);
    expect(
      readTradeFile(Buffer.from('Ref,Art\nR1,x\n'), 'a.csv', { columns: new Map([['Art', 'value mm']]) })
        ?.problems,
    ).toMatchObject([{ path: 'Art', what: '"mm" is not a unit of value' }]);
  });
});

describe('what spreadsheets did to a text', () => {
  test('is told', () => {
    const file = readTradeFile(
      Buffer.from(
        'Ref,Value,Package,MPN,Marking\nR1,4k7,402,1.00E+05,="0815"\nR2,4k7,603,QX-1,\'0402\nR3,1k,0603,QX-2,A1\n',
      ),
      'a.csv',
    );
    expect(file?.boards?.[0]?.components.map(({ marking }) => marking)).toEqual(['0815', '0402', 'A1']);
    expect(file?.cautions.map(({ path, what }) => `${path}: ${what}`)).toEqual([
      'Package: "402" in line 2, "603" in line 3 are a size without its first zero, as spreadsheets take it off: 402 for 0402',
      'MPN: "1.00E+05" in line 2 is a large number as spreadsheets write it, where a name such as 1E5 may have been typed',
    ]);
  });
});
