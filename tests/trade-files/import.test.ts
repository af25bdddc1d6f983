import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { Archive } from '../../src/archive.ts';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import { catalogueSchema } from '../../src/model/catalogue.ts';
import { type Dossier, dossierSchema } from '../../src/model/dossier.ts';
import { formatProblem } from '../../src/model/problems.ts';
import type { TradeImport } from '../../src/trade-files/import.ts';
import { readTradeFile } from '../../src/trade-files/read.ts';
import type { TradeReport } from '../../src/trade-files/report.ts';
import { asIpc2581, asKicad, randomBoard } from './random-board.ts';

// Everything here is invented.

const BY = { actor: 'A. Example', reason: 'test' };
const CATALOGUE = catalogueSchema.parse({
  caseback: 'catalogue/1',
  makers: [
    { id: 'ferrule-works', name: 'Ferrule Works', makes: ['devices'] },
    { id: 'ombrous', name: 'Ombrous Parts Ltd', makes: ['parts'] },
  ],
  devices: [
    { id: 'ferrule-band', name: 'Ferrule Band', maker: 'ferrule-works', released: '2024', bodySite: 'wrist' },
  ],
  parts: [{ number: 'OM-100', maker: 'ombrous', categories: ['Accelerometer'] }],
});

async function archiveWith(dossier?: object): Promise<Archive> {
  const archive = await Archive.open(new MemoryJournal());
  const place = { file: 'test', locate: () => ({ line: 1, column: 1 }) };
  await archive.importDocuments(
    [
      { ...place, kind: 'catalogue', catalogue: CATALOGUE },
      ...(dossier ? [{ ...place, kind: 'dossier' as const, dossier: dossierSchema.parse(dossier) }] : []),
    ],
    BY,
  );
  return archive;
}

function request(files: Readonly<Record<string, string>>, more: Partial<TradeImport> = {}): TradeImport {
  return {
    files: Object.entries(files).map(([name, text]) => {
      const [board, file = board] = name.split('=');
      const read = readTradeFile(Buffer.from(text), file);
      if (!read) throw new Error(`${file} is no trade file`);
      return { file: read, ...(name.includes('=') ? { board } : {}) };
    }),
    device: 'ferrule-band',
    specimen: 'a',
    opened: '2025-03',
    openedBy: 'A. Example',
    ...more,
  };
}

async function imported(
  archive: Archive,
  files: Readonly<Record<string, string>>,
  more: Partial<TradeImport> = {},
): Promise<TradeReport> {
  return (await archive.importTradeFiles(request(files, more), BY)).report;
}

function dossierOf(archive: Archive): Dossier {
  const dossier = archive.held().dossierAsFiled('ferrule-band/a');
  if (!dossier) throw new Error('there is no dossier');
  return dossier;
}

const component = (archive: Archive, id: string) => {
  const found = dossierOf(archive).components.find((one) => one.id === id);
  if (!found) throw new Error(`there is no ${id}`);
  return found;
};

const BOM = `Designator,Qty,Value,Footprint,MPN,Manufacturer
"C1,C2",2,100n,C_0402,,
R1,1,4k7,R_0402,ZR-1,Quistle
U1,1,OM-100,LGA-12,OM100,Ombrous Parts Ltd
`;
const PLACEMENT = `Designator,Mid X (mm),Mid Y (mm),Rotation,Layer
C1,1,1,0,top
C2,3,1,90,top
R1,5,2,0,bottom
R2,6,2,30,bottom
U1,8,4,0,top
TP1,9,1,0,top
`;
const record = (net: string, designator: string, pin: number) =>
  `327${net.padEnd(14)}   ${designator.padEnd(6)}-${String(pin).padEnd(4)}       A01X+001000Y+002000`;
const NETLIST = [
  'P  UNITS CUST 1',
  record('+3V3', 'U1', 1),
  record('+3V3', 'C1', 1),
  record('+3V3', 'R1', 1),
  record('SDA', 'U1', 2),
  record('SDA', 'R1', 2),
  record('GND', 'C1', 2),
  record('GND', 'U1', 3),
  record('N/C', 'U1', 4),
  '999',
].join('\n');

describe('trade files into a new dossier', () => {
  test('bill of materials, placement and netlist of one board', async () => {
    const archive = await archiveWith();
    const report = await imported(archive, { 'bom.csv': BOM, 'place.csv': PLACEMENT, 'net.ipc': NETLIST });
    const dossier = dossierOf(archive);
    expect(dossier).toMatchObject({
      device: 'ferrule-band',
      specimen: { id: 'a' },
      teardown: { on: '2025-03', by: 'A. Example' },
    });
    expect(dossier.boards).toMatchObject([{ id: 'main', kind: 'rigid', sides: ['top', 'bottom'] }]);
    expect(dossier.components.map(({ id }) => id)).toEqual(['C1', 'C2', 'R1', 'R2', 'TP1', 'U1']);
    expect(component(archive, 'U1')).toMatchObject({
      board: 'main',
      side: 'top',
      at: { x: 8, y: 4 },
      value: 'OM-100',
      package: 'LGA-12',
    });
    // Nobody counted its terminals: the netlist names those that it knows.
    expect(component(archive, 'U1').pins).toBeUndefined();
    // Below, a dossier counts rotation as seen from there.
    expect(component(archive, 'R2').rotation).toBe(150);
    expect(component(archive, 'R1')).toMatchObject({
      value: '4k7',
      appears: 'Resistor',
      note: 'listed as ZR-1, Quistle',
    });
    expect(dossier.nets).toEqual(
      [
        {
          id: '3v3',
          label: '+3V3',
          kind: 'power',
          voltage: { value: 3.3, unit: 'V' },
          pins: ['R1.1', 'U1.1', 'C1.1'],
          basis: [],
        },
        { id: 'sda', label: 'SDA', kind: 'signal', bus: 'I2C', pins: ['R1.2', 'U1.2'], basis: [] },
        { id: 'gnd', label: 'GND', kind: 'ground', pins: ['U1.3', 'C1.2'], basis: [] },
      ].map((net) => ({ ...net, pins: expect.arrayContaining(net.pins) })),
    );
    // Placed and not on the list: empty, unless it is something of the board itself.
    expect(component(archive, 'R2').fitted).toBe(false);
    expect(component(archive, 'TP1').fitted).toBeUndefined();
    expect(dossier.identifications).toContainEqual(
      expect.objectContaining({
        component: 'U1',
        candidates: [{ part: 'ombrous/OM-100', probability: 0.95 }],
        state: 'proposed',
      }),
    );
    expect(report).toMatchObject({ isNew: true, changes: true });
    expect(report.missing.map(({ what, count }) => [what, count])).toEqual([
      ['outline', 1],
      ['body', 5],
      [expect.stringContaining('whether its nets are complete'), 3],
    ]);
    expect(report.proposals).toContainEqual({
      kind: 'not-fitted',
      of: 'main:R2',
      proposed: 'the place is empty',
      because: 'it is placed and the bill of materials does not list it',
    });
  });

  test('importing again writes nothing, whichever way round', async () => {
    const archive = await archiveWith();
    await imported(archive, { 'bom.csv': BOM, 'place.csv': PLACEMENT, 'net.ipc': NETLIST });
    const before = archive.version;
    const again = await archive.importTradeFiles(
      request({ 'net.ipc': NETLIST, 'place.csv': PLACEMENT, 'bom.csv': BOM }),
      BY,
    );
    expect(again).toMatchObject({ entries: 0, report: { changes: false, proposals: [] } });
    expect(again.report.differences.map(({ kind }) => kind)).toEqual(['agree', 'agree', 'agree']);
    expect(archive.version).toBe(before);
  });

  test('two boards may have the same designators', async () => {
    const archive = await archiveWith();
    await imported(archive, { 'main=a.ipc': NETLIST, 'flex=b.ipc': NETLIST });
    const { components, nets } = dossierOf(archive);
    expect(components.map(({ id }) => id)).toEqual([
      'main:C1',
      'main:R1',
      'main:U1',
      'flex:C1',
      'flex:R1',
      'flex:U1',
    ]);
    expect(nets?.map(({ id }) => id)).toEqual(['3v3', 'sda', 'gnd', 'flex-3v3', 'flex-sda', 'flex-gnd']);
    expect(nets?.at(-1)?.pins.every((pin) => pin.startsWith('flex:'))).toBe(true);
    await expect(imported(archive, { 'c.ipc': NETLIST })).rejects.toThrow(
      'The dossier has the boards main, flex; say of which c.ipc is',
    );
    const again = await archive.importTradeFiles(request({ 'flex=b.ipc': NETLIST }), BY);
    expect(again.entries).toBe(0);
  });

  test('what is left open is asked for', async () => {
    const archive = await archiveWith();
    const without = (more: Partial<TradeImport>) =>
      archive.planTradeFiles({ ...request({ 'bom.csv': BOM }), ...more }, BY);
    await expect(without({ device: 'ferrule-bond' })).rejects.toThrow(
      'No device "ferrule-bond" is in the archive; did you mean "ferrule-band"?',
    );
    await expect(without({ opened: undefined })).rejects.toThrow('for a new one say when it was opened');
    await expect(imported(archive, { 'Main Board=bom.csv': BOM })).rejects.toThrow(
      'write for example "main-board"',
    );
  });

  test('a bad file keeps all of them out', async () => {
    const archive = await archiveWith();
    const before = archive.version;
    const bad = imported(archive, { 'bom.csv': BOM, 'place.csv': 'Ref,X (mm),Y (mm),Side\nR1,one,2,top\n' });
    await expect(bad).rejects.toThrow('1 problem in 1 file; nothing was written');
    expect(archive.version).toBe(before);
  });

  test('a dry run writes nothing', async () => {
    const archive = await archiveWith();
    const before = archive.version;
    const { entries, report } = await archive.planTradeFiles(request({ 'bom.csv': BOM }), BY);
    expect(entries).toBe(1);
    expect(report.boards).toEqual([
      {
        board: 'main',
        isNew: true,
        components: { inFiles: 4, added: 4, completed: 0 },
        nets: { inFiles: 0, added: 0, completed: 0 },
      },
    ]);
    expect(archive.version).toBe(before);
  });

  test('a column of markings becomes what is printed on components, but for places left empty', async () => {
    const archive = await archiveWith();
    await imported(archive, {
      'bom.csv': 'Ref,Value,Marking,DNP\nU1,OM-100,OM1 7F,\nR1,4k7,,\nU2,OM-100,OM1,DNP\n',
    });
    expect([component(archive, 'U1').marking, component(archive, 'R1').marking]).toEqual([
      'OM1 7F',
      undefined,
    ]);
    expect(component(archive, 'U2').marking).toBeUndefined();
    const { conflicts } = await imported(archive, { 'bom.csv': 'Ref,Marking\nU1,OM1 8A\n' });
    expect(conflicts).toMatchObject([{ field: 'marking', archive: 'OM1 7F', files: 'OM1 8A' }]);
    expect(component(archive, 'U1').marking).toBe('OM1 7F');
  });

  test('a list with a column of boards beside one netlist of the whole is told: it would count components twice', async () => {
    const bom = 'Ref,Value,Board\nR1,4k7,main\nR2,10k,main\nR3,1k,rear\nR4,2k,rear\n';
    const net = (...refs: readonly string[]) =>
      `(export (version "E") (components ${refs.map((ref) => `(comp (ref "${ref}") (value "1k"))`).join(' ')}) (nets))`;
    const whole = await imported(await archiveWith(), {
      'bom.csv': bom,
      'whole.net': net('R1', 'R2', 'R3', 'R4'),
    });
    expect(whole.cautions.map(formatProblem)).toContain(
      'whole.net: 2 designators stand on board "main" here and on board "rear" in bom.csv, and would be recorded twice — if they are the same components, give each board a file of its own: --board main=FILE,rear=FILE',
    );
    const apart = await imported(await archiveWith(), {
      'bom.csv': bom,
      'main=main.net': net('R1', 'R2'),
      'rear=rear.net': net('R3', 'R4'),
    });
    expect(apart.cautions.filter(({ what }) => what.includes('twice'))).toEqual([]);
    // Designators that begin anew on each board are named by one file for both.
    const anew = await imported(await archiveWith(), {
      'bom.csv': 'Ref,Value,Board\nR1,4k7,main\nR1,10k,rear\n',
    });
    expect(anew.cautions.filter(({ what }) => what.includes('twice'))).toEqual([]);
  });

  test('files that say different things are told, the better source is taken', async () => {
    const archive = await archiveWith();
    const kicad = `(kicad_pcb (version 20240108) (net 0 "") (footprint "l:R_0402" (layer "F.Cu") (at 1 1)
      (property "Reference" "R1") (property "Value" "10k") (pad "1" smd rect (at 0 0) (net 1 "A"))))`;
    const { cautions } = await imported(archive, {
      'board.kicad_pcb': kicad,
      'bom.csv': 'Ref,Value\nR1,4k7\n',
    });
    expect(cautions.map(formatProblem)).toContain(
      'board.kicad_pcb:1: R1: value is "10k" here and "4k7" in bom.csv, which is taken — look which is right',
    );
    expect(component(archive, 'R1').value).toBe('4k7');
    const same = await imported(await archiveWith(), {
      'board.kicad_pcb': kicad,
      'bom.csv': 'Ref,Value\nR1,10 kOhm\n',
    });
    expect(same.cautions.map(({ what }) => what).filter((what) => what.includes('value'))).toEqual([]);
  });
});

/** As the bench recorded it before the netlist came. */
const BENCH = {
  caseback: 'dossier/1',
  device: 'ferrule-band',
  specimen: { id: 'a' },
  teardown: { on: '2025-03', by: 'A. Example' },
  boards: [{ id: 'main', kind: 'rigid' }],
  components: [
    { id: 'U1', board: 'main', side: 'top', at: { x: 8, y: 4 }, marking: 'OM100' },
    { id: 'R1', board: 'main', side: 'top', value: '10k' },
    { id: 'U2', board: 'main' },
    { id: 'U3', board: 'main' },
    { id: 'BT1' },
  ],
  connections: [
    { between: ['U1', 'U2'], medium: 'trace', bus: 'I2C' },
    { between: ['U1', 'U3'], medium: 'trace' },
    { between: ['U1', 'BT1'], medium: 'wire' },
  ],
  nets: [
    { id: 'supply', kind: 'power', pins: ['U1', 'U2.5'] },
    { id: 'data', kind: 'signal', pins: ['U1.2', 'R1.1'] },
  ],
  identifications: [
    { component: 'U1', candidates: [{ part: 'ombrous/OM-100', probability: 0.6 }], state: 'favoured' },
  ],
};
/** U1.2 meets U2.2 through R1; U1 and U3 share nothing but ground. */
const LATE = [
  'P  UNITS CUST 1',
  record('VCC', 'U1', 1),
  record('VCC', 'U2', 5),
  record('A', 'U1', 2),
  record('A', 'R1', 1),
  record('B', 'R1', 2),
  record('B', 'U2', 2),
  record('GND', 'U1', 3),
  record('GND', 'U3', 3),
  record('C', 'U3', 4),
  record('C', 'U2', 9),
  '999',
].join('\n');
const JOINED = LATE.replace(record('C', 'U2', 9), record('C', 'U1', 4));

describe('a netlist that comes late', () => {
  test('meets what was traced: agreement, what only one has, contradictions', async () => {
    const archive = await archiveWith(BENCH);
    const { report } = await archive.planTradeFiles(request({ 'net.ipc': LATE }), BY);
    expect(report.differences).toEqual([
      { kind: 'agree', what: 'U1 and U2, joined by trace in the archive, share a net' },
      {
        kind: 'contradiction',
        what: 'U1 and U3, joined by trace in the archive, share no net in the files, nor does a series component join them',
        file: 'net.ipc',
        line: 2,
      },
      { kind: 'agree', what: 'net "supply" of the archive is "VCC" of the files' },
      { kind: 'agree', what: 'net "data" of the archive is "A" of the files' },
      { kind: 'only-file', what: '3 of 5 nets of board "main" are in the files alone' },
    ]);
    const before = archive.version;
    const refused = imported(archive, { 'net.ipc': LATE });
    await expect(refused).rejects.toThrow(
      '1 contradiction between the files and ferrule-band/a; nothing was written',
    );
    await expect(refused).rejects.toMatchObject({ code: 'CONFLICT' });
    expect(archive.version).toBe(before);
    await imported(archive, { 'net.ipc': LATE }, { despiteContradictions: true });
    expect(dossierOf(archive).connections).toHaveLength(3);
  });

  test('a series component joins, and so far only', async () => {
    const archive = await archiveWith({
      ...BENCH,
      nets: [],
      connections: [{ between: ['U1', 'U2'], medium: 'trace' }],
    });
    const series = LATE.replace(record('VCC', 'U2', 5), record('D', 'U2', 5));
    const { report } = await archive.planTradeFiles(request({ 'net.ipc': series }), BY);
    expect(report.differences[0]).toEqual({
      kind: 'agree',
      what: 'U1 and U2, joined by trace in the archive, meet through R1',
    });
  });

  test('completes what is recorded and changes nothing of it', async () => {
    const archive = await archiveWith(BENCH);
    const report = await imported(
      archive,
      { 'net.ipc': JOINED, 'bom.csv': 'Ref,Value\nR1,4k7\nU1,x\nU2,x\nU3,x\n' },
      { complete: true },
    );
    const { nets, identifications, connections } = dossierOf(archive);
    // The component whose pin was not known gives way to its pin.
    expect(nets).toEqual([
      { id: 'supply', label: 'VCC', kind: 'power', pins: ['U2.5', 'U1.1'], complete: true, basis: [] },
      { id: 'data', label: 'A', kind: 'signal', pins: ['U1.2', 'R1.1'], complete: true, basis: [] },
      {
        id: 'b',
        label: 'B',
        kind: 'signal',
        pins: expect.arrayContaining(['R1.2', 'U2.2']),
        complete: true,
        basis: [],
      },
      {
        id: 'gnd',
        label: 'GND',
        kind: 'ground',
        pins: expect.arrayContaining(['U1.3', 'U3.3']),
        complete: true,
        basis: [],
      },
      {
        id: 'c',
        label: 'C',
        kind: 'signal',
        pins: expect.arrayContaining(['U3.4', 'U1.4']),
        complete: true,
        basis: [],
      },
    ]);
    expect(connections).toHaveLength(3);
    expect(identifications.filter(({ component: of }) => of === 'U1')).toEqual([
      expect.objectContaining({
        state: 'favoured',
        candidates: [{ part: 'ombrous/OM-100', probability: 0.6 }],
      }),
    ]);
    expect(component(archive, 'R1').value).toBe('10k');
    expect(report.conflicts).toEqual([{ of: 'main:R1', field: 'value', archive: '10k', files: '4k7' }]);
    expect(
      (await archive.importTradeFiles(request({ 'net.ipc': JOINED }, { complete: true }), BY)).entries,
    ).toBe(0);
  });

  test('a net of the archive that the file parts is a contradiction, and stays where that is allowed', async () => {
    const archive = await archiveWith({
      ...BENCH,
      connections: [],
      nets: [{ id: 'data', kind: 'signal', pins: ['U1.2', 'U2.2'] }],
    });
    const { report } = await archive.planTradeFiles(request({ 'net.ipc': LATE }), BY);
    expect(report.differences[0]).toEqual({
      kind: 'contradiction',
      what: 'net "data" of the archive joins U1.2 and U2.2, which lie on "A" and on "B" in the files',
      file: 'net.ipc',
      line: 2,
    });
    await imported(archive, { 'net.ipc': LATE }, { despiteContradictions: true });
    const data = dossierOf(archive).nets?.find(({ id }) => id === 'data');
    expect(data?.pins.slice(0, 2)).toEqual(['U1.2', 'U2.2']);
  });

  test('what was seen is not made empty by a list', async () => {
    const archive = await archiveWith(BENCH);
    const placed = 'Ref,Mid X (mm),Mid Y (mm),Side\nU1,8,4,top\nU2,3,3,top\nR1,1,1,top\n';
    const report = await imported(archive, { 'place.csv': placed, 'bom.csv': 'Ref,Value\nR1,10k\n' });
    expect(component(archive, 'U1').fitted).toBeUndefined();
    expect(component(archive, 'U2').fitted).toBe(false);
    expect(report.conflicts).toEqual([
      { of: 'main:U1', field: 'fitted', archive: 'seen on the board', files: 'not fitted' },
    ]);
  });
});

describe('random boards', () => {
  test('one format after the other brings nothing against the first', async () => {
    await fc.assert(
      fc.asyncProperty(randomBoard, async (board) => {
        const archive = await archiveWith();
        await imported(archive, { 'board.kicad_pcb': asKicad(board, 8) });
        const before = dossierOf(archive);
        const report = await imported(archive, { 'board.xml': asIpc2581(board, 'MICRON', 'C') });
        const after = dossierOf(archive);
        expect(report.conflicts).toEqual([]);
        expect(report.differences.filter(({ kind }) => kind === 'contradiction')).toEqual([]);
        expect(after.nets).toEqual(before.nets);
        expect(
          after.components.map(({ id, at, rotation, fitted }) => ({ id, at, rotation, fitted })),
        ).toEqual(before.components.map(({ id, at, rotation, fitted }) => ({ id, at, rotation, fitted })));
        const again = await archive.importTradeFiles(request({ 'board.kicad_pcb': asKicad(board, 8) }), BY);
        expect(again.entries).toBe(0);
      }),
      { numRuns: 25 },
    );
  });
});
