import { expect, test } from 'vitest';
import { Archive } from '../../src/archive.ts';
import { everyProblem } from '../../src/dossier/every-problem.ts';
import { readDocument } from '../../src/dossier/read.ts';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import { readTradeFile } from '../../src/trade-files/read.ts';

// A dossier that is edited and filed again after a netlist was merged into it. Everything is invented.

const BY = { actor: 'C. Example', reason: 'test' };
const ID = 'mullet-band/a';
const CATALOGUE = `caseback: catalogue/1
makers: [{ id: mullet, name: Mullet, makes: [devices] }]
devices: [{ id: mullet-band, name: Mullet Band, maker: mullet, released: 2024, bodySite: wrist }]
`;
const written = (more: string, components = '') => `caseback: dossier/1
device: mullet-band
specimen: { id: a, revision: B }
teardown: { on: 2025-02, by: C. Example }
boards: [{ id: main, kind: rigid }]
components:
  - { id: U1, board: main, side: top, pins: 8, marking: "41" }
  - { id: C1, board: main, side: top, appears: Capacitor }
${components}${more}`;
const record = (net: string, designator: string, pin: number) =>
  `327${net.padEnd(14)}   ${designator.padEnd(6)}-${String(pin).padEnd(4)}       A01X+001000Y+002000`;
const NETLIST = [
  'P  UNITS CUST 1',
  record('3V3', 'U1', 1),
  record('3V3', 'C1', 1),
  record('GND', 'U1', 2),
  record('GND', 'C1', 2),
  record('ISET', 'U1', 3),
  record('ISET', 'R8', 1),
  '999',
].join('\n');

function read(text: string) {
  const { document, problems } = readDocument(Buffer.from(text), 'my.yaml');
  if (!document) throw new Error(JSON.stringify(problems));
  return document;
}

async function withNetlist(): Promise<Archive> {
  const archive = await Archive.open(new MemoryJournal());
  await archive.importDocuments([read(CATALOGUE)], BY);
  await archive.importDocuments([read(written('', ''))], BY);
  const file = readTradeFile(Buffer.from(NETLIST), 'net.ipc');
  if (!file) throw new Error('it is no trade file');
  await archive.importTradeFiles({ files: [{ file }], device: 'mullet-band', specimen: 'a' }, BY);
  return archive;
}

/** What is told of a file, by `check` and by an import alike. */
async function filed(archive: Archive, text: string) {
  const document = read(text);
  const checked = everyProblem(
    { files: ['my.yaml'], documents: [document], problems: [], parts: [], isBlind: false },
    archive.held(),
  ).map(({ what }) => what);
  const { cautions, entries } = await archive.importDocuments([document], BY);
  expect(cautions.map(({ what }) => what)).toEqual(checked);
  const specimen = archive.state('desk').specimen(ID);
  if (!specimen) throw new Error('there is no specimen');
  return { told: checked, entries, specimen };
}

test('without a list of nets keeps those on record, with what they join and what was proposed of that', async () => {
  const archive = await withNetlist();
  const { told, specimen } = await filed(archive, written('').replace('revision: B', 'revision: C'));
  expect(specimen.dossier.specimen.revision).toBe('C');
  expect(specimen.nets.map(({ id, pins }) => [id, pins])).toEqual([
    ['3v3', ['U1.1', 'C1.1']],
    ['gnd', ['U1.2', 'C1.2']],
    ['iset', ['U1.3', 'R8.1']],
  ]);
  expect(specimen.labels.get('R8')?.get('Resistor')).toBeGreaterThan(0.9);
  expect(told).toEqual([
    'leaves nets out: 3 nets on record stay, and with them R8, which is not in the file',
  ]);
});

test('unchanged writes nothing, since it says nothing against what was merged', async () => {
  expect(await filed(await withNetlist(), written(''))).toMatchObject({ told: [], entries: 0 });
});

test('with a list of nets is taken at its word, and what it drops is told', async () => {
  const archive = await withNetlist();
  const { told, specimen } = await filed(
    archive,
    written('nets: [{ id: gnd, label: GND, kind: ground, pins: [U1.2] }]\n'),
  );
  expect(specimen.nets.map(({ id }) => id)).toEqual(['gnd']);
  expect(told).toEqual([
    'drops 1 identification, which the archive has: R8',
    'drops 1 component, which the archive has: R8',
    'drops 2 nets, which the archive has: 3v3, iset',
    'drops some pins of a net, which the archive has: gnd',
  ]);
});

test('tells fields that it leaves out', async () => {
  const archive = await withNetlist();
  await archive.correct({ value: { of: `${ID}/C1`, field: 'value', is: '100 nF' } }, BY, 'desk');
  const { told } = await filed(archive, written('').replace(', revision: B', ''));
  expect(told).toContain('drops value of a component, which the archive has: C1');
  expect(told).toContain('drops specimen.revision, which the archive has');
});
