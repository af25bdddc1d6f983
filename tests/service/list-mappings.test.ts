import { afterAll, beforeAll, expect, test } from 'vitest';
import { sheetData, workbookOf } from '../trade-files/workbooks.ts';
import { type Served, serve } from './serving.ts';

let served: Served;
beforeAll(async () => {
  served = await serve({ audience: 'desk' });
});
afterAll(() => served.close());

const SAVE = `mutation ($input: SaveListMappingInput!) {
  saveListMapping(input: $input) {
    listMapping { id title columns { heading field unit } sheet headingRow decimal unit note visibility }
    entry { kind reason }
  }
}`;
const MAPPING = {
  id: 'places-of-the-assembler',
  title: 'Placement lists of the assembler',
  columns: [
    { heading: 'Kürzel', field: 'designator' },
    { heading: 'East', field: 'centreX', unit: 'mil' },
    { heading: 'North', field: 'centreY', unit: 'mil' },
    { heading: 'Lage', field: 'side' },
    { heading: 'Preis', field: 'aside' },
  ],
  sheet: 'Places',
  headingRow: 2,
  decimal: 'COMMA',
};
const IMPORT = `mutation ($input: ImportTradeFilesInput!) {
  importTradeFiles(input: $input) {
    report { files { format components columns { heading field unit why } table { sheet headingRow decimal } } }
  }
}`;
const INPUT = {
  device: 'tarn-sennit-1',
  specimen: 'z',
  opened: '2024-03',
  mapping: MAPPING.id,
  reason: 'files of the assembler',
  dryRun: true,
};
const fileOf = async (headings: readonly string[]) => {
  const bytes = await workbookOf({
    sheets: {
      Cover: sheetData([
        ['Ref', 'Value'],
        ['R1', '1k'],
      ]),
      Places: sheetData([['Invented'], headings, ['R95', '1.000,5', '2,25', 'top', '1']]),
    },
  });
  return [{ name: 'a.xlsx', content: bytes.toString('base64') }];
};

test('a list mapping is stored once, listed, and reads lists', async () => {
  const input = { ...MAPPING, reason: 'as the assembler sends them' };
  const { saveListMapping } = await served.ask(SAVE, { input });
  expect(saveListMapping).toMatchObject({
    listMapping: {
      ...MAPPING,
      columns: MAPPING.columns.map((one) => ({ unit: null, ...one })),
      unit: null,
      visibility: 'DRAFT',
    },
    entry: { kind: 'RECORD_PUT', reason: 'as the assembler sends them' },
  });
  expect((await served.ask(SAVE, { input })).saveListMapping.entry).toBeNull();
  const { listMappings } = await served.ask('{ listMappings { totalCount nodes { id } } }');
  expect(listMappings).toEqual({ totalCount: 1, nodes: [{ id: MAPPING.id }] });

  const files = await fileOf(['Kürzel', 'East', 'North', 'Lage', 'Preis']);
  const { importTradeFiles } = await served.ask(IMPORT, { input: { ...INPUT, files } });
  expect(importTradeFiles.report.files).toMatchObject([
    {
      format: 'PLACEMENT',
      components: 1,
      columns: [
        { heading: 'Kürzel', field: 'designator' },
        { heading: 'East', field: 'centreX', unit: 'mil', why: 'as asked' },
        { heading: 'North', field: 'centreY', unit: 'mil' },
        { heading: 'Lage', field: 'side' },
        { heading: 'Preis', field: null, why: 'left aside as asked' },
      ],
      table: { sheet: 'Places', headingRow: 2, decimal: 'COMMA' },
    },
  ]);
});

test('a list that lacks one of its headings is refused with the name', async () => {
  const files = await fileOf(['Kürzel', 'Eastt', 'North', 'Lage', 'Kosten']);
  const { errors } = await served.answer(IMPORT, { input: { ...INPUT, files } });
  expect(errors?.[0].extensions).toMatchObject({
    code: 'BAD_FILE',
    problems: [
      {
        file: 'a.xlsx',
        path: 'Places row 2',
        what: 'has no column "East", which the list mapping places-of-the-assembler takes as centreX',
        fix: 'is it "Eastt" now? then change the mapping, or say so of this list: --column "Eastt=centreX mil"',
      },
    ],
  });
});

test('one that is not there, a field and a unit that are none', async () => {
  const files = [{ name: 'a.csv', text: 'Ref,Value\nR1,1k\n' }];
  const lost = await served.answer(IMPORT, { input: { ...INPUT, mapping: 'places-of-the-assembly', files } });
  expect(lost.errors?.[0]).toMatchObject({
    message: expect.stringContaining('did you mean "places-of-the-assembler"?'),
    extensions: { code: 'NOT_FOUND' },
  });
  const bad = await served.answer(SAVE, {
    input: { ...MAPPING, id: 'another', columns: [{ heading: 'A', field: 'colour' }], reason: 'x' },
  });
  expect(bad.errors?.[0].extensions?.code).toBe('BAD_INPUT');
});
