// Figures of identification: catalogue search, working out a whole archive, one change. Nothing is written but to a
// temporary folder.
//
//   npm run bench:identify [-- DEVICES ...]        (default: 1000; the aim is set for 10000)
//
// Archives are invented; times are those of this process on the processor (user and system), and beside them on the
// clock, which says little on a machine that others use.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Archive } from '../../src/archive.ts';
import { readFiles } from '../../src/dossier/read-files.ts';
import { toTable } from '../../src/export/table.ts';
import { CatalogueIndex } from '../../src/identification/catalogue-index.ts';
import { STANDARD_CONFUSION } from '../../src/identification/confusion.ts';
import { Identifier } from '../../src/identification/identifier.ts';
import { candidatesOf, identifierOf } from '../../src/identification/questions.ts';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import { SqliteJournal } from '../../src/journal/sqlite/journal.ts';
import { type Dossier, dossierSchema, observationSchema } from '../../src/model/dossier.ts';
import { type MarkingText, parseMarking } from '../../src/model/marking.ts';
import type { State } from '../../src/state/state.ts';
import { type HiddenChip, hiddenChips, scoreOf } from '../identification/reference-chips.ts';
import { seededRandom } from './generate.ts';

const rows: Record<string, string>[] = [];
const random = seededRandom(4);
const below = (limit: number) => Math.floor(random() * limit);

const sizes = process.argv.slice(2).map(Number);
searches(100_000);
await demo();
await largeBoard();
referenceChips();
for (const devices of sizes.length > 0 ? sizes : [1_000]) await generated(devices);
process.stdout.write(toTable(rows));

function row(figure: string, start: Start, aim: string, times = 1): void {
  const { user, system } = process.cpuUsage(start.cpu);
  rows.push({
    figure,
    'processor ms': ((user + system) / 1_000 / times).toFixed(2),
    'clock ms': ((performance.now() - start.clock) / times).toFixed(2),
    aim,
  });
}

interface Start {
  readonly cpu: NodeJS.CpuUsage;
  readonly clock: number;
}
function start(): Start {
  return { cpu: process.cpuUsage(), clock: performance.now() };
}

/** Markings as parts carry them, and readings of them with a character in ten confused or lost. */
function searches(size: number): void {
  const letters = 'ABCDEFGHKLMNPRSTUVWXYZ';
  const parts = Array.from({ length: size }, (_, i) => {
    const number = `${letters[below(22)]}${letters[below(22)]}${String(below(100_000)).padStart(5, '0')}`;
    return { id: `m/${i}`, number, markings: [`${number}\n{lot:2}{date:YWW}`] };
  });
  const before = start();
  const index = new CatalogueIndex(parts, STANDARD_CONFUSION);
  index.search(parseMarking('AB12345'));
  row(`index of ${size} parts`, before, '');
  const readings = Array.from({ length: 200 }, () => {
    const text = `${parts[below(size)].number}\nK7${below(10)}${10 + below(42)}`;
    return parseMarking(
      [...text].map((one) => (random() < 0.05 ? '?' : one === '0' && random() < 0.1 ? 'O' : one)).join(''),
    );
  });
  // Hardly a character of the number was read: thousands of parts fit alike.
  const worn = ['??1??45\nK7112', '???1?34\nK?112', '??????5\nK7112', '???????\n?????'].map(parseMarking);
  for (const reading of [...readings.slice(0, 20), ...worn]) index.search(reading);
  timed(`search among ${size} parts`, index, readings);
  timed(`the same, numbers all but unread`, index, worn);
}

/** The processor time of each search, from the fastest to the slowest. */
function timed(figure: string, index: CatalogueIndex, readings: readonly MarkingText[]): void {
  const times = readings.map((reading) => {
    const { cpu } = start();
    index.search(reading);
    const { user, system } = process.cpuUsage(cpu);
    return (user + system) / 1_000;
  });
  times.sort((a, b) => a - b);
  for (const [name, share] of [
    ['median', 0.5],
    ['19 in 20', 0.95],
    ['slowest', 1],
  ] as const) {
    const at = Math.min(times.length - 1, Math.floor(share * times.length));
    rows.push({
      figure: `${figure}, ${name}`,
      'processor ms': times[at].toFixed(2),
      'clock ms': '',
      aim: '20',
    });
  }
}

async function demo(): Promise<void> {
  const archive = await Archive.open(new MemoryJournal());
  const { documents } = readFiles([join(import.meta.dirname, '../../seed-data')]);
  await archive.importDocuments(documents, { actor: 'bench', reason: 'demo' });
  await everything('demo archive', archive.state('desk'), '1000');
  await oneChange(archive);
}

async function generated(devices: number): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'caseback-bench-'));
  try {
    const file = join(folder, 'journal.sqlite');
    const foundation = join(import.meta.dirname, 'foundation.ts');
    spawnSync(process.execPath, [foundation, '--write', file, String(devices)], { stdio: 'ignore' });
    const archive = await Archive.open(new SqliteJournal(file));
    await everything(
      `${devices} generated devices`,
      archive.state('desk'),
      devices === 10_000 ? '60000' : '',
    );
    await archive.close();
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** Learning from scratch, then the posterior of every component that is more than what it looks like. */
async function everything(name: string, view: State, aim: string): Promise<void> {
  const before = start();
  const identifier = new Identifier();
  identifier.follow(view);
  let components = 0;
  for (const { id, deviceId } of view.specimenRows()) {
    const opened = view.specimen(id);
    const device = view.device(deviceId);
    if (!opened || !device) continue;
    for (const component of opened.dossier.components) {
      if (component.appears !== undefined && !opened.identified.has(component.id)) continue;
      const { categories, makers } = identifier.posteriorOf(opened, component, device);
      if (categories.size > 0 || makers.size > 0) components++;
    }
  }
  row(`${name}: all ${components} components anew`, before, aim);
}

/** A board of 1,000 components whose nets are recorded: opened, and the candidates of each of its chips, with their kinds. */
async function largeBoard(): Promise<void> {
  const archive = await Archive.open(new MemoryJournal());
  const { documents } = readFiles([join(import.meta.dirname, '../../seed-data')]);
  const by = { actor: 'bench', reason: 'a large board' };
  const dossier = boardOf(1_000);
  const place = { file: 'generated', locate: () => ({ line: 1, column: 1 }) };
  await archive.importDocuments([...documents, { ...place, kind: 'dossier', dossier }], by);
  const view = archive.state('desk');
  await candidatesOf(view, 'large-board/a/U1');
  const first = start();
  const fresh = await Archive.open(new MemoryJournal());
  await fresh.importDocuments([...documents, { ...place, kind: 'dossier', dossier }], by);
  row('the same archive imported anew', first, '');
  const newState = fresh.state('desk');
  await identifierOf(newState);
  const one = start();
  await candidatesOf(newState, 'large-board/a/U2');
  row('board of 1,000 components: candidates of a chip, its nets not sorted yet', one, '200');
  const chips = dossier.components.filter(({ id }) => id.startsWith('U'));
  const all = start();
  for (const { id } of chips) await candidatesOf(view, `large-board/a/${id}`);
  row(`the same of all its ${chips.length} chips`, all, '');
}

/** One chip in four, of 5 to 48 pins; passives on its pins; a rail and a ground of all. */
function boardOf(size: number): Dossier {
  const chips = Math.floor(size / 4);
  const [rail, ground] = [[] as string[], [] as string[]];
  const nets: object[] = [];
  const components = Array.from({ length: size }, (_, at) =>
    at < chips
      ? { id: `U${at + 1}`, board: 'main', appears: 'IntegratedCircuit', pins: [5, 8, 16, 48][at % 4] }
      : { id: `${at % 2 ? 'R' : 'C'}${at}`, board: 'main', appears: at % 2 ? 'Resistor' : 'Capacitor' },
  );
  let passive = chips;
  let line: string[] | undefined;
  components.slice(0, chips).forEach(({ id, pins = 0 }) => {
    rail.push(`${id}.1`);
    ground.push(`${id}.2`);
    for (let pin = 3; pin <= pins; pin++) {
      const joined = [`${id}.${pin}`];
      // Every other line leads to the chip before.
      if (pin % 3 === 0 && line !== undefined) {
        line.push(...joined);
        line = undefined;
        continue;
      }
      if (pin % 3 === 0) line = joined;
      else if (pin % 3 === 1 && passive < size) {
        joined.push(`${components[passive].id}.1`);
        (passive % 3 ? ground : rail).push(`${components[passive].id}.2`);
        passive++;
      }
      nets.push({ id: `n${nets.length}`, kind: 'signal', pins: joined, complete: true });
    }
  });
  nets.push(
    { id: 'rail', kind: 'power', pins: rail, complete: true },
    { id: 'ground', kind: 'ground', pins: ground },
  );
  return dossierSchema.parse({
    caseback: 'dossier/1',
    device: {
      ...{
        id: 'large-board',
        name: 'Large board',
        maker: 'tarn',
        released: '2024',
        bodySite: 'wrist',
        invented: true,
      },
    },
    specimen: { id: 'a' },
    teardown: { on: '2024', by: 'bench' },
    boards: [{ id: 'main', kind: 'rigid' }],
    components,
    nets,
  });
}

/** How well nets alone name the chips of the reference devices. */
function referenceChips(): void {
  const before = start();
  const chips = hiddenChips();
  row(`kinds of ${chips.length} chips of reference devices, without and with nets`, before, '');
  for (const [name, kindsOf] of [
    ['without nets', (chip: HiddenChip) => chip.without],
    ['with nets', (chip: HiddenChip) => chip.withNets],
  ] as const) {
    const { first, firstThree, logLoss } = scoreOf(chips, kindsOf);
    const said = `${name}: first right ${first}, among three ${firstThree}, log loss ${logLoss.toFixed(2)} nats`;
    rows.push({ figure: said, 'processor ms': '', 'clock ms': '', aim: '' });
  }
}

async function oneChange(archive: Archive): Promise<void> {
  const identifier = new Identifier();
  identifier.follow(archive.state('desk'));
  const [specimen] = archive.state('desk').specimenRows();
  const component = archive.state('desk').specimen(specimen.id)?.dossier.components[0];
  const device = archive.state('desk').device(specimen.deviceId);
  if (!component || !device) throw new Error('the demo archive has no component');
  const seen = { id: 'bench-1', about: [component.id], kind: 'pin-count', value: '12' };
  const by = { actor: 'bench', reason: 'one change' };
  await archive.recordObservation(specimen.id, observationSchema.parse(seen), by, 'desk');
  const before = start();
  const { habitsVersion } = identifier;
  identifier.follow(archive.state('desk'));
  const opened = archive.state('desk').specimen(specimen.id);
  if (opened) identifier.posteriorOf(opened, component, device);
  row('demo archive: one observation taken in', before, '');
  if (identifier.habitsVersion !== habitsVersion)
    throw new Error('one observation changed what others are taken for');
}
