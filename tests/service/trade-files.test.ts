import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { sheetData, workbookOf } from '../trade-files/workbooks.ts';
import { type Served, serve } from './serving.ts';

let served: Served;
beforeAll(async () => {
  served = await serve({ audience: 'desk' });
});
afterAll(() => served.close());

const IMPORT = `mutation ($input: ImportTradeFilesInput!) {
  importTradeFiles(input: $input) {
    entries entry { kind actor reason }
    specimen { id }
    report {
      isNew hasChanges
      files { name format boards components nets understood columns { heading field unit isCertain suggestion why }
        table { sheet headingRow separator encoding decimal rowCount firstRows { line cells } skippedCount skipped { line why } } }
      boards { board isNew componentsAdded netsAdded }
      proposalCount proposals { kind of proposed because }
      missing { board what count of }
      differenceCount differences { kind what }
      conflictCount conflicts { of field archive files }
      cautions { file line path what fix }
    }
  }
}`;
const INPUT = {
  device: 'tarn-sennit-1',
  specimen: 'z',
  opened: '2024-03',
  reason: 'files of the maker',
  files: [
    { name: 'bom.csv', text: 'Ref,Value,Odd\nR90,4k7,1\nC90,100n,2\n' },
    {
      name: 'net.ipc',
      text: 'P  UNITS CUST 1\n327SDA              R90   -1          A01X+001000Y+002000\n327SDA              C90   -1          A01X+001000Y+002000\n999\n',
    },
  ],
};

describe('importTradeFiles', () => {
  test('a dry run reports and writes nothing', async () => {
    const { archive: before } = await served.ask('{ archive { sequence } }');
    const { importTradeFiles } = await served.ask(IMPORT, { input: { ...INPUT, dryRun: true } });
    expect(importTradeFiles).toMatchObject({
      entries: 1,
      entry: null,
      specimen: null,
      report: {
        isNew: true,
        hasChanges: true,
        files: [
          { name: 'bom.csv', format: 'BILL_OF_MATERIALS', boards: ['main'], components: 2, nets: 0 },
          {
            name: 'net.ipc',
            format: 'IPC_D_356',
            components: 2,
            nets: 1,
            understood: ['coordinates in micrometres'],
          },
        ],
        boards: [{ board: 'main', isNew: true, componentsAdded: 2, netsAdded: 1 }],
        proposals: expect.arrayContaining([
          { kind: 'NET', of: 'sda', proposed: 'signal, I2C', because: 'label' },
        ]),
        cautions: [expect.objectContaining({ file: 'bom.csv', line: 1, path: 'Odd' })],
      },
    });
    expect((await served.ask('{ archive { sequence } }')).archive).toEqual(before);
  });

  test('writes, shows the specimen, and writes nothing the second time', async () => {
    const { importTradeFiles } = await served.ask(IMPORT, { input: INPUT });
    expect(importTradeFiles).toMatchObject({
      entries: 1,
      entry: { kind: 'DOSSIER_PUT', actor: 'bench', reason: 'files of the maker' },
      specimen: { id: 'tarn-sennit-1/z' },
    });
    const again = await served.ask(IMPORT, { input: INPUT });
    expect(again.importTradeFiles).toMatchObject({
      entries: 0,
      entry: null,
      report: { isNew: false, hasChanges: false, differences: [{ kind: 'AGREE' }] },
    });
  });

  test('problems of files come with place and fix; a text of no format is refused', async () => {
    const bad = await served.answer(IMPORT, {
      input: { ...INPUT, files: [{ name: 'bom.csv', text: 'Ref,Side\nR1,left\nR1,top\n' }] },
    });
    expect(bad.errors?.[0].extensions).toMatchObject({
      code: 'BAD_FILE',
      problems: [
        expect.objectContaining({ file: 'bom.csv', line: 2, path: 'Side', what: '"left" is not a side' }),
        expect.objectContaining({ file: 'bom.csv', line: 3, what: 'R1 is also in line 2' }),
      ],
    });
    const none = await served.answer(IMPORT, {
      input: { ...INPUT, files: [{ name: 'a.txt', text: 'hello' }] },
    });
    expect(none.errors?.[0]).toMatchObject({
      message: expect.stringContaining('a.txt is no trade file'),
      extensions: { code: 'BAD_INPUT' },
    });
  });

  test('a workbook goes in by its bytes, and the table is told as it was understood', async () => {
    const bytes = await workbookOf({
      sheets: {
        Cover: sheetData([['An invented band']]),
        Places: sheetData([
          ['Ref', 'X (mm)', 'Y (mm)', 'Side', 'Wert'],
          ['R95', 1.5, 2, 'top', '4k7'],
          ['Total', null, null, null, null],
        ]),
      },
    });
    const files = [{ name: 'a.xlsx', content: bytes.toString('base64') }];
    const { importTradeFiles } = await served.ask(IMPORT, { input: { ...INPUT, files, dryRun: true } });
    expect(importTradeFiles.report.files).toMatchObject([
      {
        name: 'a.xlsx',
        format: 'PLACEMENT',
        components: 1,
        understood: ['sheet "Places", the only one of 2 with a list of components', expect.any(String)],
        columns: [
          { heading: 'Ref', field: 'designator', unit: null, isCertain: true, suggestion: null },
          { heading: 'X (mm)', field: 'x', unit: 'mm' },
          { heading: 'Y (mm)', field: 'y', unit: 'mm' },
          { heading: 'Side', field: 'side' },
          { heading: 'Wert', field: 'value' },
        ],
        table: {
          sheet: 'Places',
          headingRow: 1,
          separator: null,
          encoding: null,
          decimal: null,
          rowCount: 1,
          firstRows: [{ line: 2, cells: ['R95', '1.5', '2', 'top', '4k7'] }],
          skippedCount: 1,
          skipped: [{ line: 3, why: 'total' }],
        },
      },
    ]);
    const none = await served.answer(IMPORT, {
      input: { ...INPUT, files: [{ ...files[0], sheet: 'Placs' }], dryRun: true },
    });
    expect(none.errors?.[0].extensions).toMatchObject({
      code: 'BAD_FILE',
      problems: [{ file: 'a.xlsx', fix: 'did you mean --sheet "Places"?' }],
    });
  });

  test('a text in another encoding goes in by its bytes; the decimal sign may be said', async () => {
    const text = 'Ref;X (mm);Y (mm);Side;Wert\nR95;1,234;2,345;top;4,7 µF\n';
    const files = [{ name: 'a.csv', content: Buffer.from(text, 'latin1').toString('base64') }];
    const asked = await served.answer(IMPORT, { input: { ...INPUT, files, dryRun: true } });
    expect(asked.errors?.[0].extensions).toMatchObject({ code: 'BAD_FILE', problems: { length: 2 } });
    const { importTradeFiles } = await served.ask(IMPORT, {
      input: { ...INPUT, files, decimal: 'COMMA', dryRun: true },
    });
    expect(importTradeFiles.report.files[0].table).toMatchObject({
      separator: 'SEMICOLON',
      encoding: 'Windows-1252, since it is not UTF-8',
      decimal: 'COMMA',
      firstRows: [{ cells: ['R95', '1,234', '2,345', 'top', '4,7 µF'] }],
    });
  });

  test('a workbook as large as they are', async () => {
    const rows = Array.from({ length: 3_000 }, (_, i) => [
      `R${i + 1}`,
      `${(i * 7919) % 1000} Ohm`,
      `note ${i * i}`,
    ]);
    const bytes = await workbookOf({ sheets: { BOM: sheetData([['Ref', 'Value', 'Note'], ...rows]) } });
    const content = bytes.toString('base64');
    // More than any other text of a request may have.
    expect(content.length).toBeGreaterThan(20_000);
    const files = [{ name: 'a.xlsx', content }];
    const { importTradeFiles } = await served.ask(IMPORT, { input: { ...INPUT, files, dryRun: true } });
    expect(importTradeFiles.report.files).toMatchObject([{ components: 3_000, table: { rowCount: 3_000 } }]);
  });

  test('text or bytes, and bytes in base64', async () => {
    for (const [file, what] of [
      [{ name: 'a.csv' }, 'a.csv: nothing is given; give exactly one of text and content'],
      [{ name: 'a.csv', text: 'Ref', content: 'UmVm' }, 'a.csv: text and content are given'],
      [{ name: 'a.csv', content: 'UmVm!' }, 'The content of a.csv is not base64'],
    ] as const) {
      const { errors } = await served.answer(IMPORT, { input: { ...INPUT, files: [file] } });
      expect(errors?.[0]).toMatchObject({
        message: expect.stringContaining(what),
        extensions: { code: 'BAD_INPUT' },
      });
    }
  });
});
