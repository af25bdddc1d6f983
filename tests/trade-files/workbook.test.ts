import XLSX from '@e965/xlsx';
import { describe, expect, test } from 'vitest';
import { formatProblem } from '../../src/model/problems.ts';
import type { TradeFile, TradeReading } from '../../src/trade-files/board-design.ts';
import { MAIN, readBook, STRICT, sheetData, workbookOf } from './workbooks.ts';

// Workbooks as other programs write them. Written by @e965/xlsx, a library that knows nothing of our reader, or by hand after ECMA-376.

const LIST = [
  ['Designator', 'Qty', 'Value', 'Footprint'],
  ['R1, R2', 2, '4k7', '0402'],
  ['C1', 1, '100n', '0603'],
];

function said(file: TradeFile): {
  readonly problems: readonly string[];
  readonly cautions: readonly string[];
} {
  return { problems: file.problems.map(formatProblem), cautions: file.cautions.map(formatProblem) };
}

async function componentsOf(bytes: Uint8Array, how: TradeReading = {}) {
  const file = await readBook(bytes, how);
  expect(said(file).problems).toEqual([]);
  return file.boards?.[0]?.components ?? [];
}

/** A workbook by the other library. */
function written(
  sheets: Readonly<Record<string, XLSX.WorkSheet>>,
  options: XLSX.WritingOptions = {},
): Buffer {
  const book = XLSX.utils.book_new();
  for (const [name, sheet] of Object.entries(sheets)) XLSX.utils.book_append_sheet(book, sheet, name);
  return XLSX.write(book, { type: 'buffer', bookType: 'xlsx', ...options }) as Buffer;
}

const sheetOf = (rows: readonly (readonly unknown[])[]) => XLSX.utils.aoa_to_sheet(rows as unknown[][]);

const PLAIN = [
  { designator: 'R1', value: '4k7', footprint: '0402', line: 2 },
  { designator: 'R2', value: '4k7', footprint: '0402', line: 2 },
  { designator: 'C1', value: '100n', footprint: '0603', line: 3 },
];

describe('a list in a workbook', () => {
  test('with shared texts and with texts in the cells', async () => {
    for (const bookSST of [true, false])
      expect(await componentsOf(written({ BOM: sheetOf(LIST) }, { bookSST }))).toMatchObject(PLAIN);
  });

  test.each([
    ['as few parts as there may be, without dimension, styles and shared texts', {}],
    ['targets from the root of the package', { absolute: true }],
    ['the strict form', { main: STRICT.main, related: STRICT.related }],
  ])('%s', async (_, quirk) => {
    const bytes = await workbookOf({ sheets: { Liste: sheetData(LIST) }, ...quirk });
    expect(await componentsOf(bytes)).toMatchObject(PLAIN);
  });

  test('prefixed elements, rows and cells without references, UTF-16', async () => {
    const prefixed = `<?xml version="1.0"?><x:worksheet xmlns:x="${MAIN}"><x:sheetData><x:row><x:c t="inlineStr"><x:is><x:t>Ref</x:t></x:is></x:c><x:c t="inlineStr"><x:is><x:t>Value</x:t></x:is></x:c></x:row><x:row><x:c t="inlineStr"><x:is><x:t>R1</x:t></x:is></x:c><x:c/><x:c/></x:row><x:row><x:c/><x:c t="inlineStr"><x:is><x:t>stray</x:t></x:is></x:c></x:row></x:sheetData></x:worksheet>`;
    const file = await readBook(await workbookOf({ sheets: { S: prefixed } }));
    expect(file.boards?.[0]?.components).toMatchObject([{ designator: 'R1', line: 2 }]);
    expect(file.table?.skipped).toEqual([{ line: 3, why: 'no designator' }]);
    const wide = Buffer.from(
      `\ufeff<?xml version="1.0" encoding="UTF-16"?><worksheet xmlns="${MAIN}">${sheetData(LIST)}</worksheet>`,
      'utf16le',
    );
    const bytes = await workbookOf({ sheets: { S: '' }, more: { 'xl/worksheets/sheet1.xml': wide } });
    expect(await componentsOf(bytes)).toMatchObject(PLAIN);
  });

  test('rich texts are joined, and reading aids are no part of them', async () => {
    // ECMA-376, Part 1, 18.4.6 (rPh, phonetic run) and 18.4.4 (r, rich text run).
    const texts = `<sst xmlns="${MAIN}"><si><t>Ref</t></si><si><t>Value</t></si><si><r><t>R</t></r><r><rPr><b/></rPr><t>1</t></r></si><si><t>課きく</t><rPh sb="0" eb="1"><t>カ</t></rPh></si></sst>`;
    const cell = (at: string, i: number) => `<c r="${at}" t="s"><v>${i}</v></c>`;
    const inline =
      '<c r="B3" t="inlineStr"><is><r><t>4</t></r><r><t>k7</t></r><rPh sb="0" eb="1"><t>yon</t></rPh></is></c>';
    const data = `<sheetData><row r="1">${cell('A1', 0)}${cell('B1', 1)}</row><row r="2">${cell('A2', 2)}${cell('B2', 3)}</row><row r="3"><c r="A3" t="inlineStr"><is><t>R2</t></is></c>${inline}</row></sheetData>`;
    expect(await componentsOf(await workbookOf({ sheets: { S: data }, texts }))).toMatchObject([
      { designator: 'R1', value: '課きく' },
      { designator: 'R2', value: '4k7' },
    ]);
  });

  test('numbers count as they are, not as they are shown; formats of numbers and dates are minded', async () => {
    const sheet = sheetOf([
      ['Ref', 'X (mm)', 'Y (mm)', 'Rot', 'Side', 'Footprint', 'Note'],
      ['R1', 12.3456, 1000.5, 90, 'top', 402, new Date(Date.UTC(2024, 2, 1))],
    ]);
    sheet.B2.z = '0.0';
    sheet.C2.z = '#,##0.00';
    sheet.F2.z = '0000';
    sheet.G2.z = 'yyyy-mm-dd';
    const file = await readBook(written({ P: sheet }));
    expect(file.boards?.[0]?.components).toMatchObject([
      { at: [12.3456, 1000.5], rotation: 90, footprint: '0402', note: '2024-03-01' },
    ]);
    expect(said(file).cautions).toEqual([
      'parts.xlsx P!F2 Footprint: "0402" in P!F2 is a number for the spreadsheet; zeros before it may be gone, as in 402 for 0402 — compare with the original; format the column as text before typing or opening the list',
      expect.stringContaining('"2024-03-01" in P!G2 is a date for the spreadsheet'),
    ]);
  });

  test('numbers are shown as another implementation of number formats shows them', async () => {
    // SSF, the formatter of @e965/xlsx; number formats: ECMA-376, Part 1, 18.8.31.
    const formats = [
      '0',
      '0.00',
      '#,##0',
      '#,##0.00',
      '0%',
      '0.0%',
      '0.00E+00',
      '0000',
      '0.0" mm"',
      'yyyy-mm-dd',
      'd-mmm',
      'm/d/yyyy h:mm',
    ];
    const values = [0, 1, 402, 0.1, 12.345, 1234567.891, 45_717.25];
    // Day 0, which no calendar has, is left out.
    const cases = formats.flatMap((z) =>
      values.flatMap((v) =>
        v < 1 && /[dmy]/u.test(z) && !z.includes('"') ? [] : [{ t: 'n' as const, v, z }],
      ),
    );
    const sheet = sheetOf([['Ref', 'Note'], ...cases.map((_, i) => [`R${i + 1}`])]);
    cases.forEach((cell, i) => {
      sheet[`B${i + 2}`] = cell;
    });
    sheet['!ref'] = `A1:B${cases.length + 1}`;
    const components = await componentsOf(written({ S: sheet }));
    expect(components.map(({ note }, i) => [cases[i].z, cases[i].v, note])).toEqual(
      cases.map(({ z, v }) => [z, v, XLSX.SSF.format(z, v)]),
    );
  });

  test('dates of the other epoch', async () => {
    // Day 0 of the 1904 system is 1 January 1904: ECMA-376, Part 1, 18.17.4.1.
    const styles = `<styleSheet xmlns="${MAIN}"><numFmts count="1"><numFmt numFmtId="164" formatCode="yyyy\\-mm\\-dd"/></numFmts><cellXfs count="2"><xf numFmtId="0"/><xf numFmtId="164"/></cellXfs></styleSheet>`;
    const data = `<sheetData><row r="1"><c r="A1" t="inlineStr"><is><t>Ref</t></is></c><c r="B1" t="inlineStr"><is><t>Note</t></is></c></row><row r="2"><c r="A2" t="inlineStr"><is><t>R1</t></is></c><c r="B2" s="1"><v>1</v></c></row></sheetData>`;
    const bytes = (workbookPr: string) => workbookOf({ sheets: { S: data }, styles, workbookPr });
    expect(await componentsOf(await bytes('<workbookPr date1904="1"/>'))).toMatchObject([
      { note: '1904-01-02' },
    ]);
    expect(await componentsOf(await bytes(''))).toMatchObject([{ note: '1900-01-01' }]);
  });

  test('errors, formulas without results, dates in the place of designators: problems at their cells', async () => {
    const sheet = sheetOf([
      ['Ref', 'Value', 'Qty'],
      ['R1', '1k', 1],
      ['R2', '2k', 1],
      [new Date(Date.UTC(2024, 2, 1)), '3k', 1],
      ['R4', '4k', 1],
    ]);
    sheet.B2 = { t: 'e', v: 0x17 };
    sheet.B3 = { t: 'n', f: 'A1&"k"' };
    sheet.A4.z = 'd-mmm';
    sheet.B5 = { t: 's', f: '"4"&"k"', v: '4k' };
    const file = await readBook(written({ 'Parts list': sheet }));
    expect(said(file).problems).toEqual([
      'parts.xlsx Parts list!B2 Value: is the error #REF! — correct the formula, or delete it where nothing is to stand there',
      'parts.xlsx Parts list!B3 Value: is a formula whose result the workbook does not have — open it in a spreadsheet program and save it, or write the value itself',
      'parts.xlsx Parts list!A4 Ref: is the date "1-Mar", as spreadsheets make of what looks like one — format the cell as text and type again what was meant',
    ]);
    // In a column that nothing is taken from they do no harm, and results of formulas count.
    const aside = sheetOf([
      ['Ref', 'Value', 'Price'],
      ['R4', '4k', 1],
    ]);
    aside.B2 = { t: 's', f: '"4"&"k"', v: '4k' };
    aside.C2 = { t: 'e', v: 0x2a };
    expect(await componentsOf(written({ S: aside }))).toMatchObject([{ designator: 'R4', value: '4k' }]);
  });

  test('hidden rows and columns are said', async () => {
    const sheet = sheetOf(LIST);
    sheet['!rows'] = [{}, { hidden: true }];
    sheet['!cols'] = [{}, {}, { hidden: true }];
    const file = await readBook(written({ BOM: sheet }));
    expect(file.boards?.[0]?.components).toMatchObject(PLAIN);
    expect(said(file).cautions).toEqual([
      'parts.xlsx BOM row 2: is hidden in the sheet and read like the others — show all rows, and delete those that are not to count',
      'parts.xlsx BOM: has hidden columns, which are read like the others: C1 — show all columns, and delete those that are not to count',
    ]);
  });
});

describe('which sheet', () => {
  const other = sheetOf([
    ['Revision', 'Remark'],
    ['A', 'first'],
  ]);

  test('the only one with headings known here; else it is asked', async () => {
    const one = await readBook(written({ Cover: other, BOM: sheetOf(LIST) }));
    expect(one.boards?.[0]?.components).toHaveLength(3);
    expect(one.understood).toEqual(['sheet "BOM", the only one of 2 with a list of components']);
    const two = written({ Cover: other, Top: sheetOf(LIST), Bottom: sheetOf(LIST) });
    expect(said(await readBook(two)).problems).toEqual([
      'parts.xlsx: has 3 sheets, and lists of components in 2 of them: 1 "Cover", 2 "Top", 3 "Bottom" — say which is meant: --sheet NAME, or its number',
    ]);
    expect(said(await readBook(written({ Cover: other, More: other }))).problems[0]).toContain(
      'has 2 sheets, and lists of components in none of them: 1 "Cover", 2 "More"',
    );
  });

  test('by name in any case, or by number; near names are told', async () => {
    const two = written({ Top: sheetOf(LIST), 'No. 2': sheetOf([LIST[0], ['R9', 1, '1k', '0402']]) });
    for (const [sheet, designator] of [
      ['top', 'R1'],
      ['no. 2', 'R9'],
      ['1', 'R1'],
      ['2', 'R9'],
    ])
      expect((await componentsOf(two, { sheet }))[0].designator).toBe(designator);
    expect(said(await readBook(two, { sheet: 'Tpo' })).problems).toEqual([
      'parts.xlsx: has no sheet "Tpo"; it has 1 "Top", 2 "No. 2" — did you mean --sheet "Top"?',
    ]);
  });

  test('hidden ones are left aside and said, and read where they are named', async () => {
    const bytes = await workbookOf({
      sheets: { BOM: sheetData(LIST), Old: sheetData([LIST[0], ['R7', 1, '1k', '0402']]) },
      state: { Old: 'veryHidden' },
    });
    const file = await readBook(bytes);
    expect(file.boards?.[0]?.components).toMatchObject(PLAIN);
    expect(said(file).cautions).toEqual([
      'parts.xlsx: has hidden sheets, which are left aside: "Old" — nothing, unless the list is there: --sheet NAME',
    ]);
    const old = await readBook(bytes, { sheet: 'Old' });
    expect(old.boards?.[0]?.components).toMatchObject([{ designator: 'R7' }]);
    expect(said(old).cautions[0]).toContain('the sheet "Old" is hidden');
  });

  test('the row of the headings may be said, and one without known headings says what it looks like', async () => {
    const rows = [
      ['Teil', 'Art'],
      ['R1', '4k7'],
      ['R2', '1k'],
    ];
    const bytes = written({ S: sheetOf(rows) });
    expect(said(await readBook(bytes)).problems).toEqual([
      'parts.xlsx S: has no row of headings known here — "Teil" looks like a column of designators; say what the columns hold: --column "Teil=designator"',
    ]);
    const columns = new Map([['Teil', 'designator']]);
    const file = await readBook(bytes, { columns, headings: 1 });
    expect(file.boards?.[0]?.components.map(({ designator }) => designator)).toEqual(['R1', 'R2']);
    expect(file.columns?.[1]).toEqual({
      heading: 'Art',
      suggestion: 'value',
      why: 'unknown; 2 of 2 cells look like values',
    });
  });
});

describe('merged cells and more than one row of headings', () => {
  test('a group of headings over two columns, units below, merged cells over rows, a total', async () => {
    const sheet = sheetOf([
      ['Invented wristband, main board'],
      [],
      ['Ref', 'Value', 'Position', null, 'Side', 'Footprint'],
      [null, null, 'X', 'Y', null, null],
      [null, 'nF', 'mil', 'mil', null, null],
      ['C1', 100, 100, 200, 'top', '0402'],
      ['C2', 22, 300, 400, 'top', null],
      ['Bottom side parts'],
      ['C3', 10, 500, 600, 'bottom', '0603'],
      ['Total', null, null, null, null, null],
    ]);
    sheet['!merges'] = ['A1:F1', 'A3:A4', 'B3:B4', 'C3:D3', 'E3:E4', 'F3:F4', 'F6:F7', 'A8:F8'].map(
      XLSX.utils.decode_range,
    );
    const file = await readBook(written({ Placement: sheet }));
    expect(said(file).problems).toEqual([]);
    // 1 mil is 0.0254 mm by definition (ISO 80000-3).
    expect(file.boards?.[0]?.components).toMatchObject([
      { designator: 'C1', value: '100 nF', at: [2.54, 5.08], footprint: '0402' },
      { designator: 'C2', value: '22 nF', at: [7.62, 10.16], footprint: '0402' },
      { designator: 'C3', value: '10 nF', at: [12.7, 15.24], footprint: '0603', side: 'bottom' },
    ]);
    expect(file.table).toMatchObject({
      sheet: 'Placement',
      headings: 3,
      rows: 3,
      skipped: [
        { line: 4, why: 'second row of headings' },
        { line: 5, why: 'units of the columns' },
        { line: 8, why: 'a title between rows: "Bottom side parts"' },
        { line: 10, why: 'total' },
      ],
    });
    expect(file.columns?.map(({ heading, field, unit }) => [heading, field, unit])).toEqual([
      ['Ref', 'designator', undefined],
      ['Value', 'value', 'nF'],
      ['Position X', 'x', 'mil'],
      ['Position Y', 'y', 'mil'],
      ['Side', 'side', undefined],
      ['Footprint', 'footprint', undefined],
    ]);
  });

  test('a known heading over two columns is continued by what stands below', async () => {
    const sheet = sheetOf([
      ['No', 'Designator', 'Manufacturer', null, 'Qty'],
      [null, null, 'Name', 'Part Number', null],
      [1, 'C1', 'Quistle', 'Q1', 1],
      [],
      ['Prepared by', 'A. Example'],
    ]);
    sheet['!merges'] = ['A1:A2', 'B1:B2', 'C1:D1', 'E1:E2'].map(XLSX.utils.decode_range);
    const file = await readBook(written({ BOM: sheet }));
    expect(file.boards?.[0]?.components).toMatchObject([
      { designator: 'C1', maker: 'Quistle', partNumber: 'Q1' },
    ]);
    expect(file.table?.skipped).toEqual([
      { line: 2, why: 'second row of headings' },
      { line: 5, why: '"A. Example" is not a designator' },
    ]);
  });

  test('a merged designator over several rows is one component', async () => {
    const sheet = sheetOf([
      ['Ref', 'Value', 'MPN'],
      ['U1', 'charger', 'QX-1'],
      [null, null, 'QX-2'],
      ['U2', 'sensor', 'QX-3'],
    ]);
    sheet['!merges'] = [XLSX.utils.decode_range('A2:A3')];
    const file = await readBook(written({ BOM: sheet }));
    expect(file.boards?.[0]?.components).toMatchObject([
      { designator: 'U1', partNumber: 'QX-1' },
      { designator: 'U2', partNumber: 'QX-3' },
    ]);
    expect(said(file).cautions).toEqual([
      expect.stringContaining('parts.xlsx BOM row 2: has a designator merged with the row below'),
    ]);
    expect(file.table?.skipped).toEqual([{ line: 3, why: 'belongs to the merged cell of BOM row 2' }]);
  });
});
