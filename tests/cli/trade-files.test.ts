import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { sheetData, workbookOf } from '../trade-files/workbooks.ts';
import { FILES } from './invented.ts';
import { caseback, Folder, headOf } from './running.ts';

// Everything here is invented.

const folder = new Folder({
  ...FILES,
  'trade/bom.csv': 'Ref,Value\nU1,x\nR1,4k7\nU2,y\n',
  'trade/net.ipc': [
    'P  UNITS CUST 1',
    '327SDA             U1    -1          A01X+001000Y+002000',
    '327SDA             R1    -1          A01X+001000Y+002000',
    '327SCL             J1    -1          A01X+001000Y+002000',
    '999',
  ]
    .join('\n')
    .replaceAll('SDA   ', 'SDA    ')
    .replaceAll('SCL   ', 'SCL    '),
  'trade/odd.csv': 'Bauteil,Zahl\nR1,4k7\n',
});
const run = (...args: string[]) => caseback(args, { cwd: folder.path });
const head = () => headOf(`${folder.path}/archive`);
const INTO = ['--data', 'archive', '--device', 'ferrule-band-1', '--specimen', 'a'];
beforeAll(async () => {
  await run('import', 'catalogue.yaml', 'band-1.yaml', '--data', 'archive');
});
afterAll(() => folder.remove());

test('a dry run shows how files are understood, and writes nothing', async () => {
  const before = await head();
  const { code, out, err } = await run('import', 'trade/bom.csv', ...INTO, '--dry-run');
  expect(out).toContain('trade/bom.csv: bill of materials, board main: 3 components\n');
  expect(out).toContain('  main:R1: Resistor; designator, value agree\n');
  expect(err).toBe(
    '1 dossier and no catalogue records would be written\nReaders would see 1 changed: ferrule-band-1/a\n',
  );
  expect(code).toBe(0);
  expect(await head()).toEqual(before);
});

test('contradictions are shown in a dry run and keep the files out', async () => {
  const before = await head();
  const dry = await run('import', 'trade/net.ipc', ...INTO, '--dry-run');
  expect(dry.out).toContain(
    '  contradiction: U1 and J1, joined by trace in the archive, share no net in the files, nor does a series component join them\n',
  );
  expect(dry.err).toBe('1 contradiction with the archive would keep the files out\n');
  expect(dry.code).toBe(1);
  const refused = await run('import', 'trade/net.ipc', ...INTO);
  expect(refused.err).toContain(
    '1 contradiction between the files and ferrule-band-1/a; nothing was written',
  );
  expect(refused.code).toBe(1);
  expect(await head()).toEqual(before);
});

test('files are merged into the dossier, once', async () => {
  const args = [
    'import',
    'trade/bom.csv',
    'trade/net.ipc',
    ...INTO,
    '--despite-contradictions',
    '--reason',
    'sent by the maker',
  ];
  const first = await run(...args, '--format', 'json');
  expect(JSON.parse(first.out)).toMatchObject({
    written: true,
    entries: 1,
    specimen: 'ferrule-band-1/a',
    isNew: false,
  });
  const after = await head();
  const second = await run(...args);
  expect(second.err).toBe('The archive already has all of it; nothing was written\n');
  expect(await head()).toEqual(after);
  const exported = await run('export', 'ferrule-band-1', '--data', 'archive');
  expect(exported.out).toMatch(/pins: \[(?:U1\.1, R1\.1|R1\.1, U1\.1)\]/u);
});

test.each([
  [['import', 'trade/bom.csv', '--data', 'archive'], '--specimen is missing'],
  [['import', 'trade/bom.csv', '--data', 'archive', '--specimen', 'a'], '--device is missing'],
  [['import', 'trade/bom.csv', 'band-1.yaml', ...INTO], 'band-1.yaml is no trade file, but trade/bom.csv is'],
  [['import', 'band-1.yaml', ...INTO], '--device is for trade files'],
  [['import', 'trade/odd.csv', ...INTO], 'trade/odd.csv is none: its content shows none of the formats'],
  [
    ['import', 'trade/bom.csv', ...INTO, '--board', 'main=other.csv'],
    'names a file that is not among trade/bom.csv',
  ],
  [['import', 'trade/bom.csv', ...INTO, '--column', 'Value'], 'write HEADING=FIELD'],
])('wrong usage: %j', async (args, message) => {
  const { code, err } = await run(...args);
  expect(err).toContain(message);
  expect(code).toBe(2);
});

test('a file that does not exist is called so, alone and beside others', async () => {
  for (const files of [['lost.ipc'], ['trade/bom.csv', 'lost.ipc']]) {
    const { code, err } = await run('import', ...files, ...INTO);
    expect(err).toContain('lost.ipc: does not exist');
    expect(code).toBe(1);
  }
});

test('the specimen may be written whole, and columns may be named', async () => {
  const { code, out } = await run(
    'import',
    'trade/odd.csv',
    '--data',
    'archive',
    '--specimen',
    'ferrule-band-1/a',
    '--column',
    'Bauteil=designator,Zahl=value',
    '--dry-run',
  );
  expect(out).toContain('Zahl     value');
  expect(code).toBe(0);
});

test('a trade file beyond the size that is read says how to export it', async () => {
  folder.write('large.kicad_pcb', `(kicad_pcb (version 20240108)${' '.repeat(20 * 1024 * 1024)})`);
  const { code, err } = await run('import', 'large.kicad_pcb', ...INTO);
  expect(err).toContain('is 20.0 MiB large; at most 20.0 MiB are read; export it for assembly or test');
  expect(code).toBe(1);
});

test('a workbook is read by its content, and the table is shown as it was understood', async () => {
  const bytes = await workbookOf({
    sheets: {
      Cover: sheetData([['An invented band']]),
      BOM: sheetData([
        ['Invented band'],
        ['Ref', 'Value', 'Wobble'],
        ['R1', '4k7', 'x'],
        ['Total', null, null],
      ]),
      Old: sheetData([
        ['Ref', 'Value'],
        ['R1', '1k'],
      ]),
    },
  });
  writeFileSync(join(folder.path, 'parts.bin'), bytes);
  const asked = await run('import', 'parts.bin', ...INTO, '--dry-run');
  expect(asked.err).toContain(
    'parts.bin: has 3 sheets, and lists of components in 2 of them: 1 "Cover", 2 "BOM", 3 "Old" — say which is meant: --sheet NAME, or its number',
  );
  expect(asked.code).toBe(1);
  const { code, out, err } = await run('import', 'parts.bin', ...INTO, '--sheet', 'bom', '--dry-run');
  expect(out).toContain(
    [
      'parts.bin: bill of materials, board main: 1 component',
      '  sheet "BOM", headings in row 2',
      'column  taken as    why',
      '------  ----------  -------',
      'Ref     designator',
      'Value   value',
      'Wobble  -           unknown',
      'First rows',
      'row  Ref  Value',
      '---  ---  -----',
      '  3  R1   4k7',
      '  row 4 is left aside: total',
    ].join('\n'),
  );
  expect(out).toContain('parts.bin BOM!C2 Wobble: "Wobble" is not a heading known here');
  expect(err).toContain('would be written');
  expect(code).toBe(0);
  // A broken workbook is told of before anything else is asked.
  writeFileSync(join(folder.path, 'cut.xlsx'), bytes.subarray(0, 300));
  const cut = await run('import', 'cut.xlsx', '--data', 'archive');
  expect(cut.err).toContain('cut.xlsx: is a damaged workbook');
});

test('what is said of a list is kept as a list mapping, and reads the next one', async () => {
  folder.write('first.csv', 'Kürzel;Was;Preis\nR1;4k7;1\nR8;100n;2\n');
  folder.write('next.csv', 'Was;Kürzel;Preis\n1k;R9;3\n');
  folder.write('other.csv', 'Was;Kuerzel\n1k;R9\n2k;R10\n');
  const said = ['--column', 'Kürzel=designator,Was=value,Preis=aside'];
  const dry = await run(
    'import',
    'first.csv',
    ...INTO,
    ...said,
    '--save-mapping',
    'lists-of-the-shop',
    '--dry-run',
  );
  expect(dry.err).toContain('Would keep what the columns hold as the list mapping lists-of-the-shop');
  expect((await run('mappings', '--data', 'archive')).err).toContain('No list mappings yet');
  const first = await run(
    'import',
    'first.csv',
    ...INTO,
    ...said,
    '--save-mapping',
    'lists-of-the-shop',
    '--reason',
    'x',
  );
  expect(first.err).toContain('read others by it with --mapping lists-of-the-shop');
  expect(first.code).toBe(0);
  const listed = await run('mappings', '--data', 'archive', '--format', 'csv');
  expect(listed.out).toContain('lists-of-the-shop,3,');
  const next = await run('import', 'next.csv', ...INTO, '--mapping', 'lists-of-the-shop', '--dry-run');
  expect(next.out).toContain('next.csv: bill of materials, board main: 1 component');
  expect(next.out).toContain('Preis   -           left aside as asked');
  const other = await run('import', 'other.csv', ...INTO, '--mapping', 'lists-of-the-shop', '--dry-run');
  expect(other.err).toContain(
    'has no column "Kürzel", which the list mapping lists-of-the-shop takes as designator',
  );
  expect(other.code).toBe(1);
  folder.write('none.csv', 'a;b\n1;2\n');
  const none = await run('import', 'none.csv', ...INTO, '--mapping', 'lists-of-the-shop', '--dry-run');
  expect(none.err).toContain(
    'none.csv: has no row with the headings of the list mapping lists-of-the-shop: "Kürzel", "Was", "Preis"',
  );
  // In full it is a catalogue file, which can be changed and brought in again.
  const full = await run('mappings', 'lists-of-the-shop', '--data', 'archive');
  folder.write('mapping.yaml', full.out.replace('Was', 'Art'));
  const again = await run('import', 'mapping.yaml', '--data', 'archive', '--reason', 'they renamed it');
  expect(again.err).toContain('no dossiers and 1 catalogue record written');
  const changed = await run('import', 'next.csv', ...INTO, '--mapping', 'lists-of-the-shop', '--dry-run');
  expect(changed.err).toContain(
    'has no column "Art", which the list mapping lists-of-the-shop takes as value',
  );
  // It has a history, and is taken back as other records are.
  const history = await run('history', 'lists-of-the-shop', '--data', 'archive');
  expect(history.out.match(/record-put lists-of-the-shop/gu)).toHaveLength(2);
  const recalled = await run('recall', 'lists-of-the-shop', '--data', 'archive', '--reason', 'theirs');
  expect(recalled.code).toBe(0);
  const lost = await run('import', 'next.csv', ...INTO, '--mapping', 'lists-of-the-shp', '--dry-run');
  expect(lost.err).toContain('did you mean "lists-of-the-shop"?');
});
