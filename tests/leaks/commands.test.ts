import { createHash } from 'node:crypto';
import { globSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Archive } from '../../src/archive.ts';
import { COMMAND_NAMES } from '../../src/cli/command-line.ts';
import type { Command } from '../../src/cli/frame/command.ts';
import { EXIT } from '../../src/cli/frame/exit.ts';
import { writtenOption } from '../../src/cli/frame/options.ts';
import { SqliteJournal } from '../../src/journal/sqlite/journal.ts';
import { FolderPhotos } from '../../src/photos/folder-store.ts';
import { packOfPublication } from '../../src/questions/packs.ts';
import { PACK_PAGES } from '../../src/service/pages/pack-preview.ts';
import { seededRandom } from '../bench/generate.ts';
import { caseback, type Ended, Folder } from '../cli/running.ts';
import { testSeed } from '../random.ts';
import { Clock, INSTANTS, type World, write } from './archives.ts';
import { HIDDEN_IDS, PATTERN_TEXTS, type Probe, SECRET, VISIBLE_IDS, WORDS } from './hidden.ts';
import { PHOTOS_AT_HAND, photoDigest } from './photos.ts';

// Every command that asks, with `--audience reader`, on an archive that hides things and on one in which the hidden never was: what
// it prints, its exit code and the files it writes are the same. Made from what the commands declare: a new command, argument or
// option of which nothing here says what to give it fails the test.

const ALL = process.env.CASEBACK_LEAKS === 'all';

/** What commands are given where the question is about something else. */
const PLAIN: Readonly<Record<string, readonly string[]>> = {
  ask: ['--query', '{ devices { totalCount } }'],
  alike: [],
  audit: [],
  calculate: ['charge-rate', 'capacity=90 mA.h', 'chargeCurrent=45 mA', 'rateAllowed=1 /h'],
  calibrate: [],
  candidates: ['dev-1/a/U2'],
  cite: ['note-1'],
  compare: ['dev-1', 'dev-2'],
  component: ['dev-1/a/U2'],
  components: ['dev-1/a'],
  corrections: [],
  decisions: ['dev-1'],
  devices: [],
  difference: ['2026-03-10'],
  disagreements: [],
  draw: ['dev-1/a/main'],
  export: [],
  feeds: [],
  mappings: [],
  generations: ['tarn-sennit'],
  impact: ['dev-1/a/o1'],
  measure: ['dev-1/a/p1'],
  nets: ['dev-1/a'],
  pack: ['letter-one'],
  next: ['dev-10/a'],
  photos: ['dev-1/a'],
  pattern: ['MATCH (x:Sensor)~[:CONNECTS]~(p:Processor) RETURN x, p'],
  patterns: [],
  presence: ['dev-1'],
  publications: [],
  'read-marking': ['4T10'],
  'read-photo': ['dev-1/a/p1', '--region', '10,10,80,80', '--turned', '0'],
  search: ['dev'],
  sheet: ['letter-one'],
  similar: ['dev-1'],
  structures: [],
  trend: ['category:PressureSensor'],
  'verify-pack': ['packs/letter-one'],
  'what-if': ['withdraw', 'dev-1/a/o1'],
  wiring: ['dev-1/a'],
};

const words = (probes: readonly Probe[]) =>
  probes.map(({ value }) => String(value)).filter((one) => one !== '');
const IDS = words([...HIDDEN_IDS, ...VISIBLE_IDS]);

/** Those that may be of components by their form. */
const COMPONENT_IDS = IDS.filter((id) => /^[^/@]+\/[^/@]+\/[^/@]+$/u.test(id));

const PACKED = ['letter-one', 'letter-two', 'ended-letter', 'hidden-film', 'embargoed-letter'];

/** Whole argument lists in place of the plain ones, for commands whose first argument is no id. */
const INSTEAD: Readonly<Record<string, readonly (readonly string[])[]>> = {
  ask: [
    [
      '--query',
      `{ device(id: "aa-hidden") { id } search(text: "${SECRET}") { totalCount } corrections { totalCount } }`,
    ],
    ['--feed', 'aa-hidden'],
  ],
  calculate: IDS.flatMap((id) => [
    ['charge-rate', '--device', id],
    ['charge-rate', '--device', id, 'capacity=90 mA.h', 'chargeCurrent=45 mA', 'rateAllowed=1 /h'],
  ]),
  calibrate: [['--sample', '5']],
  decisions: [
    ...IDS.map((id) => [id]),
    ...['sensor-on-the-bus', 'sensor-on-the-board', 'never-was'].map((id) => ['--pattern', id]),
  ],
  difference: [['2026-03-10', '2026-04-01'], ...IDS.map((id) => ['2026-03-10', '--of', id])],
  disagreements: [],
  export: [
    ...['csv', 'graphml', 'json-ld'].map((as) => ['--as', as]),
    ...IDS.flatMap((id) => [[id], [id, '--as', 'csv'], [id, '--as', 'graphml'], [id, '--as', 'json-ld']]),
  ],
  pattern: words(PATTERN_TEXTS).flatMap((text) => [[text], [text, '--explain']]),
  patterns: [],
  photos: [
    ['--as', 'manifest'],
    ...IDS.flatMap((id) => [[id], [id, '--as', 'manifest'], [id, '--as', 'annotations']]),
  ],
  'read-marking': [['Z?K'], [SECRET]],
  'read-photo': IDS.flatMap((id) => [
    [id],
    [id, '--region', '10,10,80,80', '--turned', '0'],
    [id, '--photo', 'aa-hidden/a/p1'],
  ]),
  search: words(WORDS).map((word) => [word]),
  similar: [...IDS.map((id) => [id]), ['--clusters']],
  structures: [
    ['--min-support', '2'],
    ['--min-support', '25'],
  ],
  trend: [
    ...IDS.flatMap((id) =>
      id.includes('/')
        ? [[`part:${id}`]]
        : [
            [`maker:${id}`],
            [`pattern:${id}`],
            ['category:Sensor', '--maker', id],
            ['category:Sensor', '--product-line', id],
          ],
    ),
    ['decision:sensor-on-the-bus'],
    ['decision:sensor-on-the-board'],
    ...words(PATTERN_TEXTS).map((text) => [`text:${text}`]),
    ['count:Sensor', '--by', 'maker'],
    ['quantity:price', 'count:Component', 'category:Sensor', '--by', 'price-band'],
    ['quantity:capacity:Battery'],
  ],
  // Packs of the desk, each laid beside both archives.
  'verify-pack': PACKED.map((id) => [`packs/${id}`]),
  'what-if': [
    ...IDS.map((id) => ['withdraw', id]),
    ...COMPONENT_IDS.map((id) => ['identify', id, 'quistle/QWR4T10=0.9']),
    ...['aa-hidden', 'veil', 'dev-0'].flatMap((value) =>
      ['succeeds', 'succeeds.0', 'maker', 'productLine'].map((field) => ['value', 'dev-4', field, value]),
    ),
  ],
};

/** Values of options that take neither nothing nor one of a few words. */
const OPTIONS: Readonly<Record<string, readonly string[]>> = {
  asOf: Object.values(INSTANTS),
  category: ['Sensor', SECRET],
  first: ['3'],
  pattern: ['sensor-on-the-bus', 'never-was'],
  device: ['dev-1', 'aa-hidden', 'dev-recalled'],
  feed: ['gauges-by-year', 'gauges-counted', 'never-was'],
  maker: ['tarn', 'veil', 'viel'],
  productLine: ['tarn-sennit', 'veil-ring'],
  from: ['2013'],
  to: ['2026'],
  of: ['Sensor', 'veil', 'aa-hidden', 'quistle/QWR4T10'],
  has: ['Sensor', 'veil', 'quistle/QWR2001'],
  currency: ['EUR'],
  bodySite: ['wrist'],
  priceFrom: ['150'],
  priceTo: ['200'],
  without: ['Passive'],
  relations: ['CONNECTS'],
  released: ['2019'],
  coverage: ['0.9', '0.99'],
  sections: ['sensors,parts'],
  weights: ['labels=0.5'],
  lit: ['dev-1/a/U2', 'aa-hidden/a/U2', 'dev-1/a/nothing'],
  width: ['120'],
  photoStrength: ['40'],
  photos: ['dev-1/a/p1', 'aa-hidden/a/p1', 'never-was/a/p1'],
  points: ['10,90=0,0; 90,10=30,20', '10,90=0,0 +- 0.1; 90,90=30,0; 90,10=30,20; 10,10=0,20'],
  places: ['40,60'],
  lengths: ['20,30 60,30=15; 20,30 20,70'],
  bodies: ['30,50,12,18; 30,50 45,50 45,70 30,70'],
  size: ['640x480'],
  picked: ['0.5'],
  cameraDistance: ['150'],
  photo: ['dev-1/a/p1', 'aa-hidden/a/p1'],
};

/** Options that say nothing of the archive, or are given everywhere. */
const LEFT_OUT = [
  // Asks a mirror, which another command filled for an audience.
  'on',
  'pattern showSql',
  // In place of the question of the plain ones.
  'read-photo region',
  'read-photo turned',
  'ask feed',
  'decisions pattern',
  'similar clusters',
  ...[
    'help',
    'data',
    'demo',
    'audience',
    'confusion',
    'url',
    'query',
    'variables',
    'operation',
    'out',
    'dpi',
    'file',
    'licence',
    'base',
  ],
  ...[
    'nodes',
    'edges',
    'save',
    'visibility',
    'embargoUntil',
    'key',
    'name',
    'idea',
    'because',
    'actor',
    'reason',
    'number',
  ],
];

/** What an option needs beside it, of all commands or of one. */
const TOGETHER: Readonly<Record<string, readonly string[]>> = {
  priceFrom: ['--currency', 'EUR'],
  priceTo: ['--currency', 'EUR'],
  totals: ['--format', 'svg'],
  firstAdopters: ['--format', 'svg'],
  size: ['--format', 'svg'],
  weights: ['--components'],
  'generations sections': ['--show', 'figures'],
  'trend currency': ['--by', 'price-band'],
  'draw passives': ['--diagram'],
  'draw photos': ['--photo-strength', '40'],
  'export strict': ['--as', 'csv'],
};

const folder = new Folder();
const AT: Readonly<Record<'whole' | 'seen', string>> = {
  whole: join(folder.path, 'one'),
  seen: join(folder.path, 'two'),
};
beforeAll(async () => {
  for (const world of ['whole', 'seen'] as const satisfies World[]) {
    mkdirSync(AT[world], { recursive: true });
    const clock = new Clock();
    const journal = new SqliteJournal(join(AT[world], 'data', 'journal.sqlite'), { clock: clock.read });
    const archive = await write(world, journal, clock);
    if (world === 'whole') for (const id of PACKED) await layPack(archive, id);
    await archive.close();
    // Files of photos lie where commands look for them; those of hidden ones in one folder alone.
    const store = new FolderPhotos(join(AT[world], 'data', 'photos'));
    for (const [sha256, { content }] of PHOTOS_AT_HAND)
      if (world === 'whole' || sha256 !== photoDigest(SECRET)) await store.put(sha256, content);
    await store.close();
  }
});
afterAll(() => folder.remove());

/** Lays a pack of the desk beside both archives; its state has no name, since a name is of one archive. */
async function layPack(archive: Archive, id: string): Promise<void> {
  const state = { instant: '2026-01-01T00:00:00.000Z', name: null };
  const { files } = await packOfPublication(archive.state('desk'), id, { state, pages: PACK_PAGES });
  for (const folder of Object.values(AT))
    for (const { path, content } of files) {
      const file = join(folder, 'packs', id, path);
      mkdirSync(dirname(file), { recursive: true });
      writeFileSync(file, content);
    }
}

/** What a command prints and writes. */
async function told(
  world: 'whole' | 'seen',
  args: readonly string[],
): Promise<Ended & { readonly files: unknown }> {
  const cwd = AT[world];
  const isOfFiles = args[0] === 'export' || args[0] === 'pack';
  const into = isOfFiles ? ['--out', 'out'] : [];
  const ended = await caseback([...args, ...into, '--audience', 'reader', '--data', 'data'], { cwd });
  const files = isOfFiles
    ? globSync('out/**/*.*', { cwd })
        .sort()
        .map((name) => [name, untimed(readFileSync(join(cwd, name), 'utf8'))])
    : [];
  rmSync(join(cwd, 'out'), { recursive: true, force: true });
  const out = untimed(ended.out).replaceAll(/\bin \d+(?:\.\d+)? ms\b/gu, 'in a time');
  const err = untimed(ended.err);
  return { ...ended, out, err, files };
}

/** Without what says when a sheet or a pack was made: instants, sealed names of states, and digests of files that have these. */
function untimed(text: string): string {
  return text
    .replaceAll(/datetime="[^"]+">[^<]+</gu, 'now')
    .replaceAll(/\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z/gu, 'instant')
    .replaceAll(/[\w-]{64}/gu, 'name or digest');
}

async function commands(): Promise<readonly Command[]> {
  const all = await Promise.all(
    COMMAND_NAMES.map(
      async (name) => ((await import(`../../src/cli/commands/${name}.ts`)) as { command: Command }).command,
    ),
  );
  return all.filter(({ uses }) => uses === 'view');
}

/** Command lines of one command. @throws Error for what nothing here says */
function linesOf({ name, arguments: taken = [], allOptions }: Command): readonly (readonly string[])[] {
  const plain = PLAIN[name];
  if (!plain)
    throw new Error(
      `Nothing says what to give the command ${name}; give it arguments in tests/leaks/commands.test.ts`,
    );
  const instead = INSTEAD[name] ?? (taken.length > 0 ? IDS.map((id) => [id, ...plain.slice(1)]) : []);
  const options = Object.entries(allOptions).flatMap(([option, { value, choices }]) => {
    if (LEFT_OUT.includes(option) || LEFT_OUT.includes(`${name} ${option}`)) return [];
    const written = writtenOption(option);
    const together = TOGETHER[`${name} ${option}`] ?? TOGETHER[option] ?? [];
    if (value === undefined) return [[...plain, written, ...together]];
    // Dots are drawn of the same picture, and written to a file.
    const values =
      choices?.filter((one) => one !== 'png') ??
      OPTIONS[option] ??
      (/^N$|^P$/u.test(value) ? ['3'] : undefined);
    if (!values)
      throw new Error(
        `Nothing says what to give ${name} ${written} ${value}; give it values in tests/leaks/commands.test.ts`,
      );
    return values.map((one) => [...plain, written, one, ...together]);
  });
  return [plain, ...instead, ...options].map((args) => [name, ...args]);
}

/** Questions that are understood, and of which there is nothing to ask. */
const TOLD_AS_USAGE = /before that it held nothing|is not a term of the component taxonomy/u;

/** Whether a command had something to say of the archive, and not of how it was called alone. */
const isAnswered = ({ code, out }: Ended) => code === 0 || (code === 1 && out !== '');

const asking = await commands();
test.each(asking.map((command) => [command.name, command] as const))(
  '%s tells a reader what it would tell if the hidden never was',
  async (name, command) => {
    const random = seededRandom(testSeed());
    const [plain, ...others] = linesOf(command);
    // A draw, for each takes opening the archive twice.
    const drawn = others.length > 0 ? [others[Math.floor(random() * others.length)]] : [];
    const differing: string[] = [];
    const misused: string[] = [];
    const answered = { plain: 0, instead: 0 };
    for (const args of [plain, ...(ALL ? others : drawn)]) {
      if (!args) continue;
      const [one, other] = [await told('whole', args), await told('seen', args)];
      if (JSON.stringify(one) !== JSON.stringify(other))
        differing.push(`${args.join(' ')}\n${shownDifference(one, other)}`);
      // A question that is not understood asks nothing.
      if (other.code === EXIT.usage && !TOLD_AS_USAGE.test(other.err))
        misused.push(`${args.join(' ')}: ${other.err}`);
      if (isAnswered(other)) answered[args === plain ? 'plain' : 'instead']++;
    }
    expect(differing.join('\n')).toBe('');
    expect(misused.join('\n')).toBe('');
    expect(answered.plain).toBe(1);
    if (ALL && (INSTEAD[name]?.length ?? 0) > 0) expect(answered.instead).toBeGreaterThan(0);
  },
  3_600_000,
);

test('every command that asks is among them', () => {
  expect(asking.length).toBeGreaterThan(25);
});

test("a readers' mirror holds and says what it would if the hidden never was, also brought along", async () => {
  const made = async (world: 'whole' | 'seen') => {
    const cwd = AT[world];
    const bring = async () => {
      const told = await caseback(['mirror', '--to', 'mirror', '--data', 'data'], { cwd });
      expect(told).toMatchObject({ code: 0, err: '' });
      return untimed(told.out);
    };
    const said = [await bring(), await bring()];
    const files = readdirSync(join(cwd, 'mirror')).sort();
    return {
      said,
      manifest: untimed(readFileSync(join(cwd, 'mirror', 'mirror.json'), 'utf8')),
      files: files
        .filter((name) => name !== 'mirror.json')
        .map((name) => [
          name,
          createHash('sha256')
            .update(readFileSync(join(cwd, 'mirror', name)))
            .digest('hex'),
        ]),
    };
  };
  const [whole, seen] = [await made('whole'), await made('seen')];
  expect(whole).toEqual(seen);
  expect(whole.files.length).toBeGreaterThan(2);
}, 120_000);

function shownDifference(...[one, other]: readonly [Ended, Ended]): string {
  const [a, b] = [JSON.stringify(one), JSON.stringify(other)];
  const at = [...a].findIndex((_, place) => a[place] !== b[place]);
  return `   ${a.slice(Math.max(0, at - 80), at + 120)}\n   ${b.slice(Math.max(0, at - 80), at + 120)}`;
}
