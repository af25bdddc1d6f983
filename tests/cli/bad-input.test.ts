import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { COMMAND_NAMES } from '../../src/cli/command-line.ts';
import { dossier, FILES } from './invented.ts';
import { caseback, Folder, headOf } from './running.ts';

// What editors and programs get wrong, through the real command line: each time a clear message with the place, a
// non-zero exit code, and a journal whose last hash is what it was.

const folder = new Folder(FILES);
const data = join(folder.path, 'data');
let before: Awaited<ReturnType<typeof headOf>>;

beforeAll(async () => {
  const { code } = await caseback(['import', 'catalogue.yaml', 'band-1.yaml', '--data', data], {
    cwd: folder.path,
  });
  expect(code).toBe(0);
  before = await headOf(data);
  expect(before.sequence).toBeGreaterThan(6);
});
afterAll(() => folder.remove());

/** Ten lists, each of ten of the one before: ten thousand million items when written out. */
const ALIAS_BOMB = `caseback: dossier/1\nl0: &l0 [x, x, x, x, x, x, x, x, x, x]\n${Array.from(
  { length: 9 },
  (_, i) => `l${i + 1}: &l${i + 1} [${Array.from({ length: 10 }, () => `*l${i}`).join(', ')}]`,
).join('\n')}\n`;
const good = dossier(2);
const bytes = (text: string, encoding: BufferEncoding) => Buffer.from(text, encoding);

test.each<[what: string, content: string | Uint8Array, message: RegExp]>([
  ['malformed YAML', `${good}photos: [\n`, /bad\.yaml:\d+:\d+.*/u],
  ['a bad indent', good.replace('  name:', '     name:'), /bad\.yaml:3:\d+/u],
  ['malformed JSON', '{"caseback": "dossier/1",', /bad\.yaml:1:\d+/u],
  ['a file of 50 MB', new Uint8Array(50_000_000).fill(0x61), /bad\.yaml: is 47\.7 MiB large; at most/u],
  ['an alias bomb', ALIAS_BOMB, /bad\.yaml:\d+:\d+.*alias/u],
  ['UTF-16 with a byte-order mark', bytes(`\ufeff${good}`, 'utf16le'), /bad\.yaml: is in UTF-16/u],
  ['UTF-16 without one', bytes(good, 'utf16le'), /bad\.yaml:1: holds a NUL.*save it as UTF-8/u],
  [
    'Latin-1',
    bytes(good.replace('A. Example', 'Ä. Example'), 'latin1'),
    /bad\.yaml:13: holds bytes that are not UTF-8/u,
  ],
  [
    'a duplicate key',
    good.replace('  bodySite: wrist', '  bodySite: wrist\n  bodySite: ear'),
    /bad\.yaml:9:\d+/u,
  ],
  ['an unknown field', good.replace('bodySite:', 'bodySit:'), /bad\.yaml:8:\d+ .*did you mean "bodySite"\?/u],
  [
    'an unknown id',
    good.replace('ombrous/OM100', 'ombrous/OM101'),
    /bad\.yaml:\d+:\d+ .*did you mean "ombrous\/OM100"/u,
  ],
  [
    'a maker of two million characters',
    good.replace('ombrous/OM100', `${'x'.repeat(2_000_000)}/OM100`),
    /bad\.yaml:\d+:\d+ .{0,400}$/mu,
  ],
  ['a name that shows backwards', good.replace('name: ', 'name: \u202e'), /bad\.yaml:\d+:\d+ .*U\+202E/u],
  ['an empty file', '', /bad\.yaml/u],
  ['no file of ours', 'version: 2\n', /bad\.yaml:1:1.*does not say what it is/u],
])('%s', async (_, content, message) => {
  folder.write('incoming/bad.yaml', content);
  // A good file beside the bad one must not get in either.
  folder.write(
    'incoming/good.yaml',
    dossier(3).replace('succeeds: [ferrule-band-2]', 'succeeds: [ferrule-band-1]'),
  );
  const { code, out, err } = await caseback(['import', 'incoming', '--data', data], { cwd: folder.path });
  expect(err).toMatch(message);
  expect(err).toContain('nothing was written');
  expect(err).not.toMatch(/^\s+at /mu);
  expect(out).toBe('');
  expect(code).toBe(1);
  expect(await headOf(data)).toEqual(before);
});

test('a missing file, and a folder with nothing to read', async () => {
  folder.write('empty/notes.txt', 'nothing');
  const { code, err } = await caseback(['import', 'gone.yaml', 'empty', '--data', data], {
    cwd: folder.path,
  });
  expect(err).toContain('gone.yaml: does not exist');
  expect(err).toContain('empty: holds no .yaml');
  expect(code).toBe(1);
  expect(await headOf(data)).toEqual(before);
});

test('every problem of every file is reported at once, as JSON if asked', async () => {
  folder.write(
    'two/a.yaml',
    good.replace('bodySite: wrist', 'bodySite: knee').replace('mass: 22 g', 'mass: 22 V'),
  );
  folder.write('two/b.yaml', dossier(3).replace('kind: rigid', 'kind: stiff'));
  const { code, out } = await caseback(['import', 'two', '--format', 'json', '--data', data], {
    cwd: folder.path,
  });
  const problems = JSON.parse(out) as { file: string; line: number; path: string }[];
  expect(problems.map(({ file, line, path }) => [file, line, path])).toEqual([
    [join('two', 'a.yaml'), 8, 'device.bodySite'],
    [join('two', 'a.yaml'), 9, 'device.mass'],
    [join('two', 'b.yaml'), 15, 'boards[0].kind'],
  ]);
  expect(code).toBe(1);
});

test('a data folder that is damaged or not a folder ends with code 3', async () => {
  folder.write(
    'broken/journal.sqlite',
    'this is no database, though long enough to have been one'.repeat(100),
  );
  const broken = await caseback(['verify', '--data', 'broken'], { cwd: folder.path });
  expect(broken.err).toContain('is damaged or no database');
  expect(broken.code).toBe(3);
  const file = await caseback(['import', 'catalogue.yaml', 'band-1.yaml', '--data', 'catalogue.yaml'], {
    cwd: folder.path,
  });
  expect(file.err).toContain('cannot be written');
  expect(file.code).toBe(3);
});

/** What no editor should have to read: words of libraries, of the operating system, and of the program itself. */
const RAW = /Invalid input|expected \w+, received|\bE[A-Z]{4,}\b:|ERR_|undefined|NaN|\[object |^\s+at /mu;

describe('each command refuses invalid input, with the place and the fix, and writes nothing', () => {
  const WHY = ['--reason', 'a test'];
  const SEEN = ['--about', 'U1', '--marking', 'OM100', ...WHY];
  beforeAll(() => {
    folder.write('bad-change.yaml', 'withdraw: [\n');
    folder.write('list.yaml', '- 1\n');
    folder.write('no-change.yaml', 'withdraw: { observaton: ferrule-band-1/a/o1 }\n');
    folder.write('other-change.yaml', '# mistaken\nwithdrawObservation: ferrule-band-1/a/o1\n');
    folder.write('two-changes.yaml', 'withdraw: o1\nvalue: { of: x, field: y, is: 1 }\n');
    folder.write(
      'wrong-identify.yaml',
      'identify:\n  component: ferrule-band-1/a/U1\n  candidates:\n    - probability: 12\n      part: ombrous/OM100\n',
    );
    folder.write(
      'wrong-observe.json',
      '{"observe": {"specimen": "ferrule-band-1/a", "observation": {"id": "n1", "about": ["U1"], "kind": "MARKNG", "marking": "1"}}}',
    );
    folder.write('loud.yaml', dossier(2).replace('FlexConnector', 'Loudspeaker'));
  });

  test.each<[args: readonly string[], code: number, message: RegExp]>([
    // Options
    [['candidates', 'ferrule-band-1/a/U1', '--firts', '3'], 2, /no option --firts; did you mean --first\?/u],
    [
      ['next', 'ferrule-band-1', '--first', '0'],
      2,
      /--first is "0"; it must be a whole number from 1 to 200/u,
    ],
    [['next', 'ferrule-band-1', '--first', '1.5'], 2, /--first is "1\.5"/u],
    [['similar', '--clusters', '--resolution', '0'], 2, /--resolution is "0"; it must be a number above 0/u],
    [
      ['trend', 'count:Sensor', '--price-from=-1'],
      2,
      /--price-from is "-1"; it must be a number, 0 or more/u,
    ],
    [['calibrate', '--seed', 'x'], 2, /--seed is "x"; it must be a whole number/u],
    [
      ['similar', 'ferrule-band-1', '--subsystem', 'powr'],
      2,
      /--subsystem is "powr"; did you mean "power"\?/u,
    ],
    [['generations', 'ferrule-band', '--show', 'part'], 2, /--show is "part"; did you mean "parts"\?/u],
    [['history', '--audience', 'desk'], 2, /no option --audience/u],
    [['export', '--audience', 'editor'], 2, /--audience is "editor"; it must be one of desk, reader/u],
    [['decisions', '--as-of', 'yesterday'], 2, /--as-of is "yesterday"; write a date "2026-03-01"/u],
    [['structures', '--number', '1', '--save', 'Bad Id'], 2, /--save is "Bad Id"; write small letters/u],
    [['compare', 'ferrule-band-1', '--weights', 'part=0.2'], 2, /--weights goes with --components only/u],
    // Arguments
    [['candidates'], 2, /COMPONENT is missing; for example: caseback candidates/u],
    [['withdraw', 'o1', ...WHY], 2, /"o1" is not a valid observation id; write it as tarn-sennit-3\/a\/o4/u],
    [['withdraw', 'ferrule-band-1/a/o1'], 2, /--reason is missing; say why/u],
    [['withdraw', 'ferrule-band-1/a/o1', '--reason', ' '], 2, /--reason is missing/u],
    [['withdraw', 'ferrule-band-1/a/o1', '--actor', '', ...WHY], 2, /--actor is empty/u],
    [
      ['correct', 'withdrw', 'ferrule-band-1/a/o1', ...WHY],
      2,
      /"withdrw" is not a valid change; did you mean/u,
    ],
    [
      ['judge-decision', 'a:b', 'doubtd', ...WHY],
      2,
      /"doubtd" is not a valid verdict; did you mean "doubted"/u,
    ],
    [['calculate', 'charge-rate', 'capacity=much'], 2, /capacity: .*"much"/u],
    [['trend', 'categry:Sensor'], 2, /"categry:Sensor" is not a valid measure; write pattern:/u],
    // Records put together from arguments
    [
      ['observe', 'ferrule-band-1/a', 'x1', 'markng', ...SEEN],
      1,
      /^kind: .*"markng".*did you mean "marking"\?/mu,
    ],
    [['observe', 'ferrule-band-1/a', 'x1', 'marking', ...WHY], 1, /^about: "about" is missing — add it: /mu],
    [['observe', 'ferrule-band-1/a', 'x 1', 'marking', ...SEEN], 1, /^id: "x 1" /mu],
    [
      ['judge-identification', 'ferrule-band-1/a/U1', 'for', 'ombrous/OM100', '99', ...WHY],
      1,
      /^decibans: 99 is too large/mu,
    ],
    [['correct', '--file', 'no-change.yaml', ...WHY], 1, /"observaton" .*did you mean "observation"\?/u],
    // Files
    [['what-if', '--file', 'gone.yaml'], 1, /gone\.yaml cannot be read: it does not exist/u],
    [['what-if', '--file', '.'], 1, /cannot be read: it is a folder/u],
    [['what-if', '--file', 'bad-change.yaml'], 1, /bad-change\.yaml:\d+:\d+: .* — put the "\]" at the end/u],
    [
      ['what-if', '--file', 'list.yaml'],
      1,
      /list\.yaml:1:1: does not describe a change — write one of the keys/u,
    ],
    [
      ['what-if', '--file', 'other-change.yaml'],
      1,
      /other-change\.yaml:2:1 withdrawObservation: "withdrawObservation" is not a kind of change — write one of the keys/u,
    ],
    [
      ['what-if', '--file', 'two-changes.yaml'],
      1,
      /two-changes\.yaml:2:1: describes 2 changes: withdraw, value/u,
    ],
    [
      ['what-if', '--file', 'wrong-identify.yaml'],
      1,
      /wrong-identify\.yaml:4:20 identify\.candidates\[0\]\.probability: 12 .*between 0 and 1/u,
    ],
    [
      ['what-if', '--file', 'wrong-observe.json'],
      1,
      /wrong-observe\.json:1:\d+ observe\.kind: "MARKNG" .*did you mean "marking"/u,
    ],
    [['ask', '.'], 1, /cannot be read: it is a folder/u],
    [
      ['ask', '--query', '{ a }', '--variables', '@gone.json'],
      1,
      /gone\.json cannot be read: it does not exist/u,
    ],
    [
      ['read-marking', 'OM100', '--confusion', 'gone.yaml'],
      1,
      /gone\.yaml: does not exist — name a YAML file/u,
    ],
    [['export', '--out', 'catalogue.yaml'], 1, /cannot be written: .*(?:exists already|is not a folder)/u],
    [['export', 'ferrule-band-1', '--out', 'catalogue.yaml/x'], 1, /catalogue\.yaml\S* .*is not a folder/u],
    [
      ['import', 'loud.yaml', '--dry-run'],
      1,
      /loud\.yaml:\d+:\d+ components\[1\].appears: "Loudspeaker" is not a term .* — write Speaker/u,
    ],
    [['ask'], 2, /the question is missing; name a file with it, or give --query/u],
    [['ask', '--query', ' '], 2, /--query is empty/u],
    // Numbers
    [
      ['observe', 'ferrule-band-1/a', 'x1', 'measurement', '--about', 'U1', '--value', '4,3 mm', ...WHY],
      1,
      /^value: "4,3 mm" has a decimal comma — write "4\.3 mm"/mu,
    ],
    [['calculate', 'charge-rate', 'capacity=4,3 mAh'], 2, /has a decimal comma; write "4\.3 mAh"/u],
    [
      ['judge-identification', 'ferrule-band-1/a/U1', 'for', 'ombrous/OM100', '6,5', ...WHY],
      2,
      /"6,5" is not a valid weight; write 6\.5, with a point/u,
    ],
    [['what-if', 'identify', 'ferrule-band-1/a/U1', 'ombrous/OM100=0,9'], 2, /write 0\.9, with a point/u],
    [['similar', '--clusters', '--resolution', '1,5'], 2, /--resolution is "1,5"; write 1\.5, with a point/u],
    // What was seen must say something
    [
      ['observe', 'ferrule-band-1/a', 'x1', 'marking', '--about', 'U1', ...WHY],
      1,
      /gives no marking — add marking/u,
    ],
    [
      ['observe', 'ferrule-band-1/a', 'x1', 'probe', '--about', 'U1', ...WHY],
      1,
      /does not say what was seen — add value/u,
    ],
    [
      [
        'observe',
        'ferrule-band-1/a',
        'x1',
        'appearance',
        '--about',
        'U1',
        '--text',
        'grey',
        '--on',
        '2199-01-01',
        ...WHY,
      ],
      1,
      /on: "x1" was seen on 2199-01-01, which is still to come/mu,
    ],
    // Time
    [
      ['next', 'ferrule-band-1', '--as-of', '1999-01-01'],
      2,
      /--as-of: 1999-01-01.*the archive begins on 20/u,
    ],
    // Ids
    [['candidates', 'ferrule-band-1/a/u1'], 1, /did you mean "ferrule-band-1\/a\/U1"/u],
    [
      ['history', 'ferrule-band-1/a/U9'],
      1,
      /nothing in ferrule-band-1\/a was ever called "U9"; did you mean "U1"/u,
    ],
    [
      ['candidates', 'ferrule-band-1/a/U2'],
      1,
      /"ferrule-band-1\/a\/U2" .*did you mean "ferrule-band-1\/a\/U1"/u,
    ],
    [['next', 'ferule-band-1'], 1, /did you mean "ferrule-band-1"/u],
    [['impact', 'ferule-band-1'], 1, /did you mean "ferrule-band-1"/u],
    [['compare', 'ferule-band-1'], 1, /did you mean "ferrule-band-1"/u],
    [['similar', 'ferule-band-1'], 1, /did you mean "ferrule-band-1"/u],
    [['decisions', 'ferule-band-1'], 1, /did you mean "ferrule-band-1"/u],
    [['generations', 'ferule-band'], 1, /did you mean "ferrule-band"/u],
    [['export', 'ferule-band-1'], 1, /did you mean "ferrule-band-1"/u],
    [['history', 'ferule-band-1'], 1, /did you mean "ferrule-band-1/u],
    [['trend', 'maker:ferule-works'], 1, /did you mean "ferrule-works"/u],
    [['trend', 'category:Acelerometer'], 1, /did you mean "Accelerometer"/u],
    [['judge-identification', 'ferrule-band-1/a/U1', 'for', 'ombrous/OM10', '3', ...WHY], 1, /OM100/u],
    [
      ['withdraw', 'ferrule-band-1/a/o2', ...WHY],
      1,
      /No observation "o2" in ferrule-band-1\/a; did you mean "o1"\?/u,
    ],
  ])('%j', async (args, code, message) => {
    const ended = await caseback([...args, '--data', data], { cwd: folder.path });
    expect(ended.err).toMatch(message);
    expect(ended.err).not.toMatch(RAW);
    expect(ended.out).toBe('');
    expect(ended.code).toBe(code);
    expect(await headOf(data)).toEqual(before);
  });

  test.each([
    ['candidates', 'x'.repeat(5000)],
    ['pattern', 'no such pattern\n'.repeat(500)],
    ['trend', 'y\n'.repeat(5000)],
    ['x'.repeat(5000)],
    ['verify', `--${'z'.repeat(5000)}`],
    ['ask', '--query', '{ a }', '--as-of', '9'.repeat(5000)],
  ])('%s with a pasted page repeats no more than a line of it', async (...args) => {
    const { code, err } = await caseback([...args, '--data', data], { cwd: folder.path });
    expect(code).toBeGreaterThan(0);
    expect(err.length).toBeLessThan(900);
  });
});

describe('whatever a command is given, it answers in words of the trade', () => {
  const JUNK = ['', 'x', 'a/b/c', '4,3', '{}', '[1', '-1', '1e999', 'ferrule-band-1', 'ferrule-band-1/a/U1'];
  test.each(COMMAND_NAMES.filter((name) => name !== 'serve'))('%s', async (name) => {
    for (const [at, junk] of JUNK.entries()) {
      const args = [junk, JUNK[(at + 3) % JUNK.length], JUNK[(at + 5) % JUNK.length]];
      for (const count of [1, 3]) {
        const { code, out, err } = await caseback(
          [
            name,
            ...args.slice(0, count),
            '--data',
            data,
            ...(name === 'export' ? ['--out', join(folder.path, 'out')] : []),
          ],
          { cwd: folder.path },
        );
        expect(`${out}${err}`).not.toMatch(RAW);
        if (code !== 0) expect(err, `${name} ${args.slice(0, count).join(' ')}`).not.toBe('');
      }
    }
    expect(await headOf(data)).toEqual(before);
  });
});

test('what could steer a terminal is written out, wherever it was given', async () => {
  const { code, out, err } = await caseback(['device\u009b31m\u202e', '--data', data], { cwd: folder.path });
  expect([code, out]).toEqual([2, '']);
  expect(err).toContain('device');
  expect(err).toMatch(/^[\n\u0020-\u007E\u00A0-\u2029\u2030-\u2065\u2070-\uFFFF]*$/u);
});
