import { afterAll, beforeAll, describe, expect, test } from 'vitest';
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
      files { name format boards components nets understood columns { heading field why } }
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
});
