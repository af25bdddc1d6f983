import { describe, expect, test } from 'vitest';
import { Archive } from '../../src/archive.ts';
import { candidatesOf } from '../../src/identification/questions.ts';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import { catalogueSchema } from '../../src/model/catalogue.ts';
import { type Dossier, dossierSchema, type Identification } from '../../src/model/dossier.ts';
import type { TradeImport } from '../../src/trade-files/import.ts';
import { readTradeFile } from '../../src/trade-files/read.ts';

// Trade files of a specimen that the bench has recorded already. Everything here is invented; that a netlist of IPC-D-356 has a record for each
// pad that is tested, and so need not name pins that are joined to nothing, is from memory of the standard.

const BY = { actor: 'B. Example', reason: 'test' };
const ID = 'gusset-clip/a';
const CATALOGUE = catalogueSchema.parse({
  caseback: 'catalogue/1',
  makers: [{ id: 'gusset', name: 'Gusset', makes: ['devices'] }],
  devices: [
    { id: 'gusset-clip', name: 'Gusset Clip', maker: 'gusset', released: '2024', bodySite: 'clothing' },
  ],
});
const BENCH = {
  caseback: 'dossier/1',
  device: 'gusset-clip',
  specimen: { id: 'a', region: 'NO' },
  teardown: { on: '2025-05', by: 'B. Example' },
  boards: [
    { id: 'core', kind: 'rigid', outline: { length: 20, width: 12 } },
    { id: 'rim', kind: 'flex' },
  ],
  components: [
    {
      id: 'U4',
      board: 'core',
      side: 'top',
      at: { x: 3, y: 3 },
      body: { length: 2, width: 2 },
      marking: '?8K',
    },
    {
      id: 'U6',
      board: 'core',
      side: 'top',
      at: { x: 9, y: 3 },
      body: { length: 4, width: 4 },
      marking: '??',
    },
    { id: 'L2', board: 'core', side: 'top', appears: 'Inductor' },
    { id: 'C7', board: 'core', side: 'top', appears: 'Capacitor' },
    { id: 'X9', board: 'rim', appears: 'FlexConnector' },
    { id: 'BT1', appears: 'PouchCell' },
  ],
};
const record = (net: string, designator: string, pin: string, side = '01') =>
  `327${net.padEnd(14)}   ${designator.padEnd(6)}-${pin.padEnd(4)}       A${side}X+001000Y+002000`;
const netlist = (...records: readonly string[]) => ['P  UNITS CUST 1', ...records, '999'].join('\n');
/** A switching regulator by all that hangs on it. */
const NETS = netlist(
  record('VCELL', 'U4', '1'),
  record('LX', 'U4', '2'),
  record('LX', 'L2', '1'),
  record('2V5', 'L2', '2'),
  record('2V5', 'U4', '5'),
  record('2V5', 'C7', '1'),
  record('2V5', 'U6', 'B3'),
  record('GND', 'U4', '3'),
  record('GND', 'C7', '2'),
  record('GND', 'U6', 'A1'),
  record('ISET', 'R31', '1'),
  record('ISET', 'U6', 'C2'),
);

async function archiveWith(dossier: object = BENCH): Promise<Archive> {
  const archive = await Archive.open(new MemoryJournal());
  await file(archive, { kind: 'catalogue', catalogue: CATALOGUE });
  await file(archive, { kind: 'dossier', dossier: dossierSchema.parse(dossier) });
  return archive;
}

type Said = Parameters<Archive['importDocuments']>[0][number] extends infer D
  ? D extends { kind: 'dossier'; dossier: infer T }
    ? { kind: 'dossier'; dossier: T }
    : D extends { kind: 'catalogue'; catalogue: infer T }
      ? { kind: 'catalogue'; catalogue: T }
      : never
  : never;
function file(archive: Archive, said: Said) {
  return archive.importDocuments(
    [{ file: 'test.yaml', locate: () => ({ line: 1, column: 1 }), ...said }],
    BY,
  );
}

function request(text: string, more: Partial<TradeImport> = {}): TradeImport {
  const read = readTradeFile(Buffer.from(text), 'late.ipc');
  if (!read) throw new Error('it is no trade file');
  return { files: [{ file: read, board: 'core' }], device: 'gusset-clip', specimen: 'a', ...more };
}

const merged = (archive: Archive, text = NETS) => archive.importTradeFiles(request(text), BY);
const filed = (archive: Archive) => archive.held().dossierAsFiled(ID) as Dossier;
const kindOf = (archive: Archive, id: string, term: string) =>
  archive.state('desk').specimen(ID)?.labels.get(id)?.get(term) ?? 0;

describe('chips of a late netlist', () => {
  test('are what all that hangs on them says, in every answer, and evidence for a kind makes it likelier', async () => {
    const archive = await archiveWith();
    const before = kindOf(archive, 'U4', 'BuckConverter');
    await merged(archive);
    expect(filed(archive).identifications.map(({ component }) => component)).toEqual(['R31']);
    const now = kindOf(archive, 'U4', 'BuckConverter');
    expect(now).toBeGreaterThan(before);
    const { kinds } = await candidatesOf(archive.state('desk'), `${ID}/U4`);
    expect(kinds.find(({ term }) => term === 'BuckConverter')?.probability).toBeCloseTo(now, 3);
  });

  test('have as many terminals as somebody counted', async () => {
    const archive = await archiveWith();
    const { report } = await merged(archive);
    expect(filed(archive).components.flatMap(({ pins }) => pins ?? [])).toEqual([]);
    expect(report.missing.find(({ what }) => what.startsWith('kind'))?.of).toEqual(['U4', 'U6']);
  });

  test('and more pins than were counted are told', async () => {
    const counted = BENCH.components.map((one) => (one.id === 'U4' ? { ...one, pins: 3 } : one));
    const archive = await archiveWith({ ...BENCH, components: counted });
    const { report } = await merged(archive);
    expect(report.conflicts).toContainEqual({
      of: 'core:U4',
      field: 'pins',
      archive: '3',
      files: 'at least 4',
    });
  });

  test('an import of before, which took their letters for an identification, weighs nothing', async () => {
    const proposed = (reason: string) => ({
      ...BENCH,
      identifications: [
        { component: 'U4', candidates: [{ category: 'IntegratedCircuit', probability: 0.95 }], reason },
      ],
    });
    const old = await archiveWith(proposed('trade files: by designator'));
    const plain = await archiveWith();
    expect(kindOf(old, 'U4', 'BuckConverter')).toBe(kindOf(plain, 'U4', 'BuckConverter'));
    expect(kindOf(old, 'U4', 'BuckConverter')).toBeGreaterThan(0);
    // What an editor says of it counts.
    const said = await archiveWith(proposed('the lid says so'));
    expect(kindOf(said, 'U4', 'IntegratedCircuit')).toBe(0.95);
  });
});

describe('what an import proposed', () => {
  const identification = (component: string, category: string): Identification => ({
    component,
    candidates: [{ category, probability: 0.9 }],
    state: 'proposed',
    basis: [],
  });

  test('gives way to the first identification, which is signed; the second is a correction', async () => {
    const archive = await archiveWith();
    await merged(archive);
    const first = await archive.setIdentification(ID, identification('R31', 'Thermistor'), BY, 'desk', {
      mayReplace: false,
    });
    expect(first.cautions).toEqual([]);
    const now = archive.state('desk').specimen(ID)?.identified.get('R31');
    expect(now).toMatchObject({ by: 'B. Example', on: first.instant.slice(0, 10), reason: 'test' });
    const second = identification('R31', 'Resistor');
    await expect(
      archive.setIdentification(ID, second, BY, 'desk', { mayReplace: false }),
    ).rejects.toMatchObject({
      code: 'CONFLICT',
      message: expect.stringContaining('caseback correct identify gusset-clip/a/R31 Resistor=0.9'),
    });
    // Where it is allowed it is said.
    const { cautions } = await archive.setIdentification(ID, second, BY, 'desk');
    expect(cautions[0].what).toBe('gusset-clip/a/R31 is identified already, as Thermistor 0.9');
    const correction = { identify: { specimen: ID, ...identification('R31', 'Fuse') } };
    await archive.correct(correction, BY, 'desk');
    expect(archive.state('desk').specimen(ID)?.identified.get('R31')).toMatchObject({ by: 'B. Example' });
  });
});

describe('files of another board', () => {
  const told = async (text: string, board: string) => {
    const archive = await archiveWith();
    const asked = request(text);
    const files = asked.files.map((one) => ({ ...one, board }));
    return (await archive.planTradeFiles({ ...asked, files }, BY)).report.cautions;
  };

  test('are told by designators that none of the board has', async () => {
    const other = netlist(record('GND', 'U70', '1'), record('GND', 'J71', '2'), record('SDA', 'U70', '2'));
    expect(await told(other, 'core')).toContainEqual(
      expect.objectContaining({
        file: 'late.ipc',
        what: 'none of the 2 components in the files is among the 4 recorded of board "core"; they may be of another board',
      }),
    );
    expect(await told(NETS, 'core')).toEqual([]);
  });

  test('and a board that is spelt otherwise, by those that another one has', async () => {
    expect(await told(NETS, 'coer')).toContainEqual(
      expect.objectContaining({
        what: 'board "coer" is new; the dossier has core, rim; 4 of its 5 components have designators of board "core" and would be recorded a second time',
        fix: 'did you mean "core"?',
      }),
    );
  });

  test('and one that must be said, how', async () => {
    const archive = await archiveWith();
    const [{ file: read }] = request(NETS).files;
    const asked = { ...request(NETS), files: [{ file: read }] };
    await expect(archive.planTradeFiles(asked, BY)).rejects.toThrow('--board core');
  });
});

test('missing is what the dossier still lacks, and places of pads are not places of components', async () => {
  const archive = await archiveWith();
  const { report } = await merged(archive);
  const of = (start: string) => report.missing.find(({ what }) => what.startsWith(start))?.of;
  expect(of('outline')).toBeUndefined();
  expect(of('body')).toEqual(['L2', 'C7', 'R31']);
  expect(of('place: the files have the places of pads alone')).toEqual(['L2', 'C7', 'R31']);
});

test('a contradiction says where in the files, and how to merge all the same', async () => {
  const archive = await archiveWith({
    ...BENCH,
    connections: [{ between: ['U6', 'L2'], medium: 'trace' }],
    nets: [{ id: 'odd', kind: 'signal', pins: ['U4.2', 'U6.C2'] }],
  });
  await expect(merged(archive)).rejects.toMatchObject({
    problems: [
      {
        file: 'late.ipc',
        line: 2,
        what: expect.stringContaining('net "odd"'),
        fix: expect.stringContaining('--despite-contradictions'),
      },
    ],
  });
});
