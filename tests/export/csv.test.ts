import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { toCsv } from '../../src/export/csv.ts';
import { parseCsv } from './rfc4180.ts';

// Y. Shafranovich, "Common Format and MIME Type for Comma-Separated Values (CSV) Files", RFC 4180 (2005), section 2.
describe('RFC 4180, section 2', () => {
  test('rule 1, 3: one record a line, ended by CRLF, a heading line first', () => {
    expect(toCsv([{ field_name: 'aaa', other: 'bbb' }])).toBe('field_name,other\r\naaa,bbb\r\n');
  });
  test('rule 6: line breaks, quotation marks and commas are quoted', () => {
    expect(toCsv([{ a: 'aaa', b: 'b \r\nbb', c: 'c,c' }])).toBe('a,b,c\r\naaa,"b \r\nbb","c,c"\r\n');
  });
  test.each(['TKG182\n604', '\n', 'a\n', 'a\nb, "c"\n'])(
    'rule 6: a line feed alone in %j is quoted',
    (cell) => {
      const written = toCsv([{ a: cell, b: 'x' }]);
      expect(written).toBe(`a,b\r\n"${cell.replaceAll('"', '""')}",x\r\n`);
      expect(parseCsv(written).rows).toEqual([{ a: cell, b: 'x' }]);
      // Readers that end a record at any line break, as most do.
      expect(parse(written, { columns: true })).toEqual([{ a: cell, b: 'x' }]);
    },
  );
  test('rule 7: a quotation mark is doubled', () => {
    expect(toCsv([{ a: 'aaa', b: 'b"bb' }])).toBe('a,b\r\naaa,"b""bb"\r\n');
  });
});

test('a reader of CSV (csv-parse) gets back what was written', () => {
  // A cell that a spreadsheet would run is changed on purpose, and has its own test.
  const cell = fc.string({ unit: 'grapheme' }).filter((text) => !/[=+@＝＋－＠-]/u.test(text));
  fc.assert(
    fc.property(fc.array(fc.record({ a: cell, b: cell, c: cell }), { minLength: 1 }), (rows) => {
      expect(parse(toCsv(rows), { columns: true, record_delimiter: '\r\n' })).toEqual(rows);
    }),
  );
});

test('a table without rows has the heading that it is given, and no empty line without one', () => {
  expect(toCsv([], ['component', 'recorded'])).toBe('component,recorded\r\n');
  expect(toCsv([])).toBe('');
});

test('a cell that a spreadsheet would take for a formula is made text; numbers stay', () => {
  // Common practice against formulas smuggled in through data, no source.
  expect(toCsv([{ a: '=1+1', b: '@x', c: '+x', d: '-x' }])).toBe("a,b,c,d\r\n'=1+1,'@x,'+x,'-x\r\n");
  expect(toCsv([{ a: '-12.5', b: '-' }])).toBe('a,b\r\n-12.5,-\r\n');
});

// Cells of the kind that OWASP ("CSV Injection", owasp.org/www-community/attacks/CSV_Injection) lists: =, +, -, @, tab and
// carriage return, signs of full width, and a separator in front of them; from memory.
test.each([
  ["-2+3+cmd|' /C calc'!A0", "'-2+3+cmd|' /C calc'!A0"],
  ['-2', '-2'],
  ['-2.5e-3', '-2.5e-3'],
  ['-40 °C', '-40 °C'],
  ['-2 dB', '-2 dB'],
  ['+42.6', '+42.6'],
  ['+8', '+8'],
  ['+.5', '+.5'],
  ['+1e-9', '+1e-9'],
  ['-1,234.5', '-1,234.5'],
  ['+85 °C', '+85 °C'],
  ['+3 dBm', '+3 dBm'],
  ['+', '+'],
  ['+2+3', "'+2+3"],
  ['+1*A1', "'+1*A1"],
  ['+SUM(A1:A9)', "'+SUM(A1:A9)"],
  ['++1', "'++1"],
  ['-2 A1:B2', "'-2 A1:B2"],
  ['-2 cmd|x', "'-2 cmd|x"],
  ['-A1', "'-A1"],
  ['-2.5;=1+1', "-2.5;'=1+1"],
  ['a\n=1+1', "a\n'=1+1"],
  ['  =1+1', "'  =1+1"],
  ['\uFEFF=1+1', "'\uFEFF=1+1"],
  ['\u200B@x', "'\u200B@x"],
  ['＝1+1', "'＝1+1"],
  ['\t=1', "'\t'=1"],
  ['\r=1', '\\u000d=1'],
  ['a - b', 'a - b'],
  ['x@y', 'x@y'],
])('%j is written as %j', (cell, written) => {
  expect(parse(toCsv([{ a: cell }]), { columns: true, record_delimiter: '\r\n' })).toEqual([{ a: written }]);
});

test('what would steer a terminal or turn the order of letters round is written out', () => {
  expect(toCsv([{ 'a\u001b[31m': 'b\u009bc\u202ed' }])).toBe('a\\u001b[31m\r\nb\\u009bc\\u202ed\r\n');
});
