import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { inflateRawSync } from 'node:zlib';
import XLSX from '@e965/xlsx';
import fc from 'fast-check';
import { afterAll, describe, expect, test } from 'vitest';
import { formatProblem } from '../../src/model/problems.ts';
import type { TradeFile, TradeReading } from '../../src/trade-files/board-design.ts';
import { readAnyTradeFile } from '../../src/trade-files/read.ts';
import { readWorkbookApart } from '../../src/trade-files/workbook/apart.ts';
import { entryOf, handZip, type RawEntry, repeated } from './hand-zip.ts';
import { MAIN, partsOf, readBook, sheetData, workbookOf } from './workbooks.ts';

// Files that are no workbook, and workbooks made to do harm: each is refused in a sentence, whatever it would have unpacked to. Memory
// is measured in a process that reads one file and nothing else.

const folder = mkdtempSync(join(tmpdir(), 'caseback-workbooks-'));
afterAll(() => rmSync(folder, { recursive: true }));

const LIST = sheetData([
  ['Ref', 'Value'],
  ['R1', '4k7'],
]);

/** Parts of a small workbook as entries, some in another form. */
function entries(instead: Readonly<Record<string, RawEntry>> = {}, sheet = LIST): readonly RawEntry[] {
  const parts = partsOf({ sheets: { BOM: sheet }, texts: `<sst xmlns="${MAIN}"/>` });
  return [
    ...Object.entries(parts).map(([name, content]) => instead[name] ?? entryOf(name, content)),
    ...Object.values(instead).filter(({ name }) => !(name in parts)),
  ];
}

const told = (file: TradeFile | undefined) => file?.problems.map(formatProblem);

async function refusal(bytes: Buffer, reading: TradeReading = {}): Promise<string> {
  const file = await readBook(bytes, reading);
  expect(file.boards).toBeUndefined();
  expect(file.problems).toHaveLength(1);
  return formatProblem(file.problems[0]);
}

const SHEET = 'xl/worksheets/sheet1.xml';
const TEXTS = 'xl/sharedStrings.xml';
const MEBIBYTE = 1024 * 1024;

describe('the ZIP of a workbook', () => {
  test('is as it should be, to begin with', async () => {
    expect(told(await readBook(handZip(entries())))).toEqual([]);
  });

  test('that lies of a size is cut where the lie ends', async () => {
    const honest = repeated(SHEET, `<worksheet xmlns="${MAIN}"><sheetData>`, Buffer.alloc(MEBIBYTE, ' '), 64);
    const small = handZip(entries({ [SHEET]: { ...honest, size: 20_000 } }));
    expect(await refusal(small)).toContain('too many bytes in the stream');
    const large = entryOf(SHEET, `<worksheet xmlns="${MAIN}">${LIST}</worksheet>`);
    expect(await refusal(handZip(entries({ [SHEET]: { ...large, size: 900_000 } })))).toContain(
      'not enough bytes in the stream',
    );
  });

  test.each([
    ['has a file twice', [entryOf('xl/Workbook.xml', '<a/>')], '"xl/Workbook.xml" twice'],
    ['leads out of its folder', [entryOf('../a.xml', '<a/>')], 'invalid relative path'],
    [
      'has names that programs read otherwise',
      [entryOf('xl/a:b.xml', '<a/>')],
      'other programs read otherwise',
    ],
    [
      'is encrypted',
      [entryOf('xl/a.xml', '<a/>', { flags: 1 })],
      'is encrypted — save it without a password',
    ],
    [
      'is packed otherwise',
      [entryOf('xl/a.xml', '<a/>', { method: 12 })],
      'packed in a way that is not read here',
    ],
    [
      'says of ZIP64 what is not there',
      [entryOf('xl/a.xml', '<a/>', { size: 0xffffffff })],
      'unpacks to more than',
    ],
    [
      'says in ZIP64 more than it has',
      [
        entryOf('xl/a.xml', '<a/>', {
          size: 0xffffffff,
          // APPNOTE 4.5.3: a header of 1, a length of 8, the size.
          extra: Buffer.from([1, 0, 8, 0, 0, 0, 0, 0, 0, 1, 0, 0]),
        }),
      ],
      'unpacks to more than',
    ],
    [
      'has thousands of files',
      Array.from({ length: 2_001 }, (_, i) => entryOf(`xl/m${i}.xml`, '')),
      'has 2,007 files in it',
    ],
  ])('%s', async (_, more, what) => {
    expect(await refusal(handZip([...entries(), ...more]))).toContain(what);
  });

  test('is cut off', async () => {
    const whole = handZip(entries());
    for (const share of [0.2, 0.5, 0.9, 0.99])
      expect(await refusal(whole.subarray(0, Math.floor(whole.length * share)))).toContain(
        'damaged workbook',
      );
  });

  test('has a part with other bytes than were packed', async () => {
    const bytes = handZip(entries());
    const at = bytes.indexOf(SHEET) + SHEET.length + 10;
    for (let i = 0; i < 20; i++) bytes[at + i] = 0xff;
    expect(await refusal(bytes)).toMatch(/damaged part, BOM|has a damaged part/u);
  });
});

describe('damage', () => {
  test('whatever happens to the bytes, it is read or told of', async () => {
    const parts = entries();
    const whole = handZip(parts);
    await fc.assert(
      fc.asyncProperty(
        fc.double({ min: 0, max: 0.999, noNaN: true }),
        fc.uint8Array({ minLength: 1, maxLength: 12 }),
        fc.constantFrom('over', 'in', 'out', 'in a part'),
        async (at, bytes, how) => {
          const put = (all: Buffer) => {
            const from = Math.floor(at * all.length);
            const behind = how === 'in' || how === 'in a part' ? from : from + bytes.length;
            return Buffer.concat([
              all.subarray(0, from),
              ...(how === 'out' ? [] : [bytes]),
              all.subarray(behind),
            ]);
          };
          const damaged =
            how === 'in a part'
              ? handZip(
                  parts.map((one) =>
                    one.name === SHEET ? entryOf(SHEET, put(inflateRawSync(one.packed))) : one,
                  ),
                )
              : put(whole);
          const file = await readBook(damaged);
          expect(file.boards === undefined).toBe(file.problems.length > 0);
          for (const { what, fix } of file.problems) {
            expect(what).not.toBe('');
            expect(fix).not.toBe('');
          }
        },
      ),
      { numRuns: 300 },
    );
  });
});

describe('XML in a workbook', () => {
  const laughs = `<?xml version="1.0"?><!DOCTYPE lolz [<!ENTITY lol "lol">${Array.from(
    { length: 9 },
    (_, i) => `<!ENTITY lol${i + 1} "${`&lol${i || ''};`.repeat(10)}">`,
  ).join('')}]><sst xmlns="${MAIN}"><si><t>&lol9;</t></si></sst>`;

  test('that declares entities is refused in every part', async () => {
    const part = (name: string) => handZip(entries({ [name]: entryOf(name, laughs) }));
    for (const name of [TEXTS, SHEET, 'xl/workbook.xml', '_rels/.rels', 'xl/_rels/workbook.xml.rels'])
      expect(await refusal(part(name))).toMatch(/declares a document type/u);
    const external = `<!DOCTYPE a SYSTEM "file:///etc/hostname"><worksheet xmlns="${MAIN}">${LIST}</worksheet>`;
    expect(await refusal(handZip(entries({ [SHEET]: entryOf(SHEET, external) })))).toContain(
      'declares a document type',
    );
    const undeclared = `<worksheet xmlns="${MAIN}">${LIST.replace('4k7', '&lol;')}</worksheet>`;
    expect(await refusal(handZip(entries({ [SHEET]: entryOf(SHEET, undeclared) })))).toContain(
      'undefined entity',
    );
  });

  test('that nests, that ends too soon, that is no XML', async () => {
    const nested = `<worksheet xmlns="${MAIN}">${'<a>'.repeat(50_000)}${'</a>'.repeat(50_000)}</worksheet>`;
    expect(await refusal(handZip(entries({ [SHEET]: entryOf(SHEET, nested) })))).toContain(
      'more than 40 elements in elements',
    );
    const cut = `<worksheet xmlns="${MAIN}">${LIST}`;
    expect(await refusal(handZip(entries({ [SHEET]: entryOf(SHEET, cut) })))).toContain('unclosed tag');
    expect(
      await refusal(handZip(entries({ [SHEET]: entryOf(SHEET, Buffer.from([0xff, 0xfe, 0, 0xd8, 0, 0])) }))),
    ).toContain('damaged part');
  });

  test('cells that cannot be, in number, length and place', async () => {
    const sheet = (data: string) => workbookOf({ sheets: { BOM: data } });
    const row = (cells: string, r = 2) =>
      sheet(LIST.replace('</sheetData>', `<row r="${r + 1}">${cells}</row></sheetData>`));
    const text = (at: string, content: string) => `<c r="${at}" t="inlineStr"><is><t>${content}</t></is></c>`;
    // Programs take 32,767 characters a cell, 16,384 columns and 1,048,576 rows ("Specifications and limits" of their makers).
    expect(await refusal(await row(text('B3', 'x'.repeat(32_768))))).toBe(
      'parts.xlsx BOM!B3: has more than 32,767 characters — shorten it',
    );
    expect(told(await readBook(await row(text('B3', 'x'.repeat(32_767)))))).toEqual([]);
    expect(await refusal(await row(text('XFD3', 'far')))).toContain(
      'BOM!XFD3: has something right of its 300 columns',
    );
    for (const [at, fault] of [
      ['XFE3', 'has a cell "XFE3" in row 3'],
      ['A4', 'has a cell "A4" in row 3'],
      ['A0', 'has a cell "A0" in row 3'],
      ['__proto__', 'has a cell "__proto__" in row 3'],
    ])
      expect(await refusal(await row(text(at, 'x')))).toContain(fault);
    expect(await refusal(await row(text('B3', 'x') + text('B3', 'y')))).toContain('BOM!B3: is there twice');
    expect(await refusal(await row(text('A1048577', 'x'), 1_048_576))).toContain('has a row "1048577"');
    expect(await refusal(await row('<c r="A3" t="s"><v>7</v></c>'))).toContain('BOM!A3: names a shared text');
    expect(told(await readBook(await row(text('A1048576', 'R9'), 1_048_575)))).toEqual([]);
  });

  test('links to other files are not followed', async () => {
    const parts = partsOf({ sheets: { BOM: LIST } });
    const links = String(parts['xl/_rels/workbook.xml.rels']).replace(
      'Target="worksheets',
      'TargetMode="External" Target="file:///tmp/worksheets',
    );
    expect(
      await refusal(
        handZip(
          Object.entries({ ...parts, 'xl/_rels/workbook.xml.rels': links }).map(([n, c]) => entryOf(n, c)),
        ),
      ),
    ).toContain('has no sheet of cells');
  });
});

describe('files that are something else', () => {
  const compound = (name: string) =>
    Buffer.concat([
      Buffer.from([0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1, 0x1a, 0xe1]),
      Buffer.alloc(1_024),
      Buffer.from(name, 'utf16le'),
      Buffer.alloc(64),
    ]);
  const zip = (names: readonly string[]) => handZip(names.map((name) => entryOf(name, '<a/>')));

  test.each([
    ['an encrypted workbook', compound('EncryptedPackage'), 'is encrypted — save it without a password'],
    ['an XLS', compound('Workbook'), 'is a workbook of the older form (XLS) — save it as XLSX'],
    ['another office file', compound('WordDocument'), 'is an office file of the older form'],
    ['an ODS', zip(['mimetype', 'content.xml']), 'is an OpenDocument file (ODS)'],
    ['an XLSB', zip(['[Content_Types].xml', 'xl/workbook.bin']), 'is a binary workbook (XLSB)'],
    [
      'a text document',
      zip(['[Content_Types].xml', 'word/document.xml']),
      'is an office file, but no workbook',
    ],
    [
      'a workbook with macros',
      handZip([...entries(), entryOf('xl/vbaProject.bin', 'x')]),
      'with macros (XLSM), which is not read',
    ],
    ['another ZIP', zip(['a.csv']), 'is a ZIP and no workbook'],
    ['an empty ZIP', handZip([]), 'is a ZIP and no workbook'],
    [
      'HTML',
      Buffer.from('<html><table><tr><td>Ref</td></tr></table></html>'),
      'is HTML under the name of a workbook',
    ],
    ['SVG', Buffer.from('<svg xmlns="http://www.w3.org/2000/svg"/>'), 'is SVG under the name of a workbook'],
    ['PDF', Buffer.from('%PDF-1.7\n'), 'is PDF under the name of a workbook'],
    ['nothing', Buffer.alloc(0), 'is empty'],
  ])('%s', async (_, bytes, what) => {
    const file = await readAnyTradeFile(bytes, 'parts.xlsx');
    expect(told(file)).toEqual([expect.stringContaining(what)]);
    expect(file?.boards).toBeUndefined();
  });

  test.each([
    ['biff8', 'is a workbook of the older form (XLS)'],
    ['biff5', 'is a workbook of the older form (XLS)'],
    ['xlsb', 'is a binary workbook (XLSB)'],
    ['ods', 'is an OpenDocument file (ODS)'],
    ['fods', 'is XML under the name of a workbook'],
    ['xlml', 'is XML under the name of a workbook'],
    ['html', 'is HTML under the name of a workbook'],
    ['rtf', 'is no workbook, whatever its name says'],
    ['dif', 'is no workbook, whatever its name says'],
  ] as const)('%s as another writer writes it', async (bookType, what) => {
    const book = XLSX.utils.book_new();
    XLSX.utils.book_append_sheet(
      book,
      XLSX.utils.aoa_to_sheet([
        ['Ref', 'Value'],
        ['R1', '4k7'],
      ]),
      'BOM',
    );
    const bytes = XLSX.write(book, { type: 'buffer', bookType }) as Buffer;
    expect(told(await readAnyTradeFile(bytes, 'parts.xlsx'))).toEqual([expect.stringContaining(what)]);
  });

  test('a list as text counts as what it is, and says so', async () => {
    const file = await readAnyTradeFile(Buffer.from('Ref,Value\nR1,4k7\n'), 'parts.xlsx');
    expect(file?.boards?.[0]?.components).toMatchObject([{ designator: 'R1' }]);
    expect(file?.understood).toContain('text, whatever its name says');
  });
});

describe('bounds on what one takes', () => {
  /** Reads a file in a process of its own: what it says, and the most memory the process ever had, in MiB. */
  function measured(bytes: Buffer): {
    readonly told: readonly string[];
    readonly components: number;
    readonly memory: number;
  } {
    const path = join(folder, 'hostile.xlsx');
    writeFileSync(path, bytes);
    const script = join(import.meta.dirname, 'read-one.ts');
    const run = join(import.meta.dirname, '../../src/run.mjs');
    const { stdout, stderr } = spawnSync(process.execPath, [run, '--script', script, path], {
      encoding: 'utf8',
    });
    if (!stdout.includes('{')) throw new Error(stderr);
    return JSON.parse(stdout.slice(stdout.indexOf('{')));
  }
  const usual = measured(handZip(entries())).memory;
  const LEAST_MORE = 250;

  const spaces = Buffer.alloc(MEBIBYTE, ' ');
  const cases: readonly (readonly [string, () => Buffer, string | undefined])[] = [
    [
      'some 600 kB that unpack to 600 MB',
      () => handZip(entries({ [TEXTS]: repeated(TEXTS, '<sst>', spaces, 600, '</sst>') })),
      'unpack',
    ],
    [
      'a text of 100 MB, at a ratio that passes',
      () => {
        const noise = Buffer.from(
          Array.from({ length: MEBIBYTE }, (_, i) => 97 + (((i * 2654435761) >>> 13) % 26)),
        );
        return handZip(
          entries({
            [SHEET]: repeated(SHEET, `<worksheet><sheetData><row><c t="inlineStr"><is><t>`, noise, 100),
          }),
        );
      },
      'has a text of more than',
    ],
    [
      'a sheet of 1,048,576 rows, formatted and empty but for a list',
      () => {
        const rows = (from: number, count: number) =>
          Array.from(
            { length: count },
            (_, i) =>
              `<row r="${from + i}" spans="1:3" s="3" customFormat="1" ht="15"><c r="A${from + i}" s="3"/><c r="B${from + i}" s="3"/></row>`,
          ).join('');
        const list = LIST.replace('</sheetData>', '');
        return handZip(
          entries({
            [SHEET]: entryOf(
              SHEET,
              `<worksheet xmlns="${MAIN}">${list}${rows(3, 1_048_574)}</sheetData></worksheet>`,
            ),
          }),
        );
      },
      undefined,
    ],
    [
      'a million shared texts',
      () =>
        handZip(
          entries({
            [TEXTS]: entryOf(
              TEXTS,
              `<sst>${Array.from({ length: 1_000_000 }, (_, i) => `<si><t>${i * 7919}</t></si>`).join('')}</sst>`,
            ),
          }),
        ),
      'has more than 300,000 texts',
    ],
    [
      'two million cells',
      () => {
        const cells = (row: number) =>
          `<row>${Array.from({ length: 200 }, (_, i) => `<c><v>${(row * 200 + i) * 7919}</v></c>`).join('')}</row>`;
        return handZip(
          entries({
            [SHEET]: entryOf(
              SHEET,
              `<worksheet><sheetData>${Array.from({ length: 10_000 }, (_, row) => cells(row)).join('')}</sheetData></worksheet>`,
            ),
          }),
        );
      },
      'has more than 300,000 cells',
    ],
  ];

  test.each(cases)('%s', (_, make, what) => {
    const { told: said, components, memory } = measured(make());
    if (what === undefined) {
      expect(said).toEqual([]);
      expect(components).toBe(1);
    } else expect(said).toEqual([expect.stringContaining(what)]);
    expect(memory - usual).toBeLessThan(LEAST_MORE);
  });

  test('time and memory: the thread ends, and who asked is told', async () => {
    const rows = Array.from({ length: 20_000 }, (_, i) => [`R${i + 1}`, 'x'.repeat(200)]);
    const bytes = await workbookOf({ sheets: { BOM: sheetData([['Ref', 'Value'], ...rows]) } });
    const task = { bytes, file: 'parts.xlsx', reading: {} };
    await expect(readWorkbookApart(task, { time: 1 })).rejects.toMatchObject({
      code: 'OUT_OF_BUDGET',
      message: expect.stringContaining('took longer than 1 ms'),
    });
    await expect(readWorkbookApart(task, { memory: 24 })).rejects.toMatchObject({
      code: 'OUT_OF_BUDGET',
      message: expect.stringContaining('takes too much memory'),
    });
    await expect(readWorkbookApart(task, { signal: AbortSignal.abort(new Error('gone')) })).rejects.toThrow(
      'gone',
    );
    const read = await readWorkbookApart(task);
    expect(read.boards?.[0]?.components).toHaveLength(20_000);
  });
});
