import {
  cpSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { buffer } from 'node:stream/consumers';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { ZipFile } from 'yazl';
import { seededRandom } from '../bench/generate.ts';
import { caseback, Folder } from '../cli/running.ts';
import { testSeed } from '../random.ts';

// A pack of the demo archive is written once; the archive is then corrected, and packs are damaged at random.

const folder = new Folder();
afterAll(() => folder.remove());
const run = (...args: string[]) => caseback(args, { cwd: folder.path });
const at = (name: string) => join(folder.path, name);

interface Thing {
  readonly id: string;
  readonly kind: string;
  readonly standing: string;
  readonly changes: readonly { readonly what: string; readonly was: string; readonly is: string }[];
  readonly because: readonly string[];
  readonly stoodThen: string | null;
}
async function verify(pack: string, ...more: string[]) {
  const { code, out, err } = await run('verify-pack', pack, '--demo', '--format', 'json', ...more);
  if (out === '')
    return { code, err, things: [] as Thing[], faults: [] as { path: string; fault: string }[] };
  return {
    code,
    err,
    ...(JSON.parse(out) as { things: Thing[]; faults: { path: string; fault: string }[] }),
  };
}

const PACKS = ['bench-letter-31', 'altitude-at-the-wrist', 'two-ends-of-a-board'];
beforeAll(async () => {
  expect((await run('devices', '--demo')).code).toBe(0);
  for (const id of PACKS) {
    expect((await run('pack', id, '--demo', '--out', id)).code).toBe(0);
    expect((await run('pack', id, '--demo', '--out', `${id}.zip`)).code).toBe(0);
  }
});

test.each(PACKS)('%s as it was written is whole and still so, folder and ZIP', async (id) => {
  for (const pack of [id, `${id}.zip`]) {
    const { code, things, faults } = await verify(pack);
    expect([code, faults]).toEqual([0, []]);
    expect(things.length).toBeGreaterThan(1);
    for (const one of things)
      expect(one).toMatchObject({ standing: 'still-so', stoodThen: 'still-so', changes: [] });
  }
});

const filesIn = (root: string): string[] =>
  (readdirSync(at(root), { recursive: true }) as string[])
    .filter((name) => statSync(at(join(root, name))).isFile())
    .sort();

describe('what was changed is found', () => {
  test('a bit or a cut anywhere in a file of a folder, a file that is gone, and one that came', async () => {
    const random = seededRandom(testSeed());
    const names = filesIn('altitude-at-the-wrist');
    for (let i = 0; i < 24; i++) {
      rmSync(at('harmed'), { recursive: true, force: true });
      cpSync(at('altitude-at-the-wrist'), at('harmed'), { recursive: true });
      const name = names[Math.floor(random() * names.length)] as string;
      const file = at(join('harmed', name));
      const bytes = readFileSync(file);
      const place = Math.floor(random() * bytes.length);
      if (i % 3 === 0) writeFileSync(file, bytes.subarray(0, place));
      else if (i % 3 === 1 || i > 20) {
        bytes[place] = (bytes[place] as number) ^ (1 << Math.floor(random() * 8));
        writeFileSync(file, bytes);
      } else rmSync(file);
      const { code, faults } = await verify('harmed');
      expect([code, faults.length > 0], `${name} at ${place}`).toEqual([1, true]);
      if (name !== 'manifest-sha256.txt')
        expect(faults.map(({ path }) => path)).toContain(name.replaceAll('\\', '/'));
    }
    rmSync(at('harmed'), { recursive: true, force: true });
    cpSync(at('altitude-at-the-wrist'), at('harmed'), { recursive: true });
    writeFileSync(at('harmed/figures/more.csv'), 'x');
    expect((await verify('harmed')).faults).toMatchObject([{ path: 'figures/more.csv', fault: 'extra' }]);
  }, 240_000);

  test('a bit or a cut anywhere in a ZIP: a fault, a refusal, or that it is not as Caseback writes it', async () => {
    const random = seededRandom(testSeed());
    const whole = readFileSync(at('two-ends-of-a-board.zip'));
    for (let i = 0; i < 24; i++) {
      const bytes = Buffer.from(whole);
      const place = Math.floor(random() * bytes.length);
      bytes[place] = (bytes[place] as number) ^ (1 << Math.floor(random() * 8));
      writeFileSync(at('harmed.zip'), i % 4 === 0 ? bytes.subarray(0, place) : bytes);
      const { code, out, err } = await run('verify-pack', 'harmed.zip', '--demo', '--format', 'json');
      const found = out === '' ? undefined : JSON.parse(out);
      const isFound = found
        ? found.faults.length > 0 || found.isAsWritten === false
        : /harmed\.zip/u.test(err);
      expect([isFound, code === 1 || found?.isAsWritten === false], `bit at ${place}`).toEqual([true, true]);
    }
  }, 240_000);

  test('a number that was changed with its digests is another one than the archive gives, then and now', async () => {
    rmSync(at('forged'), { recursive: true, force: true });
    cpSync(at('two-ends-of-a-board'), at('forged'), { recursive: true });
    const before = readFileSync(at('forged/pack.json'), 'utf8');
    const statement = JSON.parse(before);
    statement.sentences[1].probability = 0.5;
    writeFileSync(at('forged/pack.json'), `${JSON.stringify(statement, null, 2)}\n`);
    const { code, things } = await verify('forged');
    expect(code).toBe(1);
    // What is damaged is not calculated again: its digest has told already.
    expect(things).toEqual([]);
    const { createHash } = await import('node:crypto');
    const digest = (text: string) => createHash('sha256').update(text).digest('hex');
    const after = readFileSync(at('forged/pack.json'), 'utf8');
    for (const name of ['ro-crate-metadata.json', 'manifest-sha256.txt']) {
      const text = readFileSync(at(`forged/${name}`), 'utf8');
      const metadata = readFileSync(at('two-ends-of-a-board/ro-crate-metadata.json'), 'utf8');
      writeFileSync(
        at(`forged/${name}`),
        text
          .replaceAll(digest(before), digest(after))
          .replaceAll(digest(metadata), digest(readFileSync(at('forged/ro-crate-metadata.json'), 'utf8')))
          .replace(
            `"contentSize": "${Buffer.byteLength(before)}"`,
            `"contentSize": "${Buffer.byteLength(after)}"`,
          ),
      );
    }
    const again = await verify('forged');
    const forged = again.things.filter(({ standing }) => standing !== 'still-so');
    expect(forged).toMatchObject([
      { id: statement.sentences[1].id, standing: 'no-longer-so', stoodThen: 'no-longer-so', because: [] },
    ]);
    expect(forged[0]?.changes).toMatchObject([{ what: 'what the evidence gives', was: '0.5' }]);
  });
});

// Names and sizes by which a ZIP harms whoever unpacks it: CWE-22 (path traversal), CWE-59 (links), CWE-409 (bombs).
describe('a ZIP that is not safe to unpack is refused, whole and before anything is read from it', () => {
  const zipped = async (fill: (zip: ZipFile) => void) => {
    const zip = new ZipFile();
    fill(zip);
    zip.end();
    return buffer(zip.outputStream as NodeJS.ReadableStream as never);
  };
  const put =
    (name: string, more: object = {}) =>
    (zip: ZipFile) =>
      zip.addBuffer(Buffer.from('x'), name, more);
  const renamed = async (from: string, to: string) => {
    const bytes = await zipped(put(from));
    return Buffer.from(bytes.toString('latin1').replaceAll(from, to), 'latin1');
  };
  const HARMFUL: readonly (readonly [what: string, make: () => Promise<Buffer>, why: RegExp])[] = [
    ['a way out of the folder', () => renamed('aa/evil.txt', '../evil.txt'), /refused/u],
    ['an absolute path', () => renamed('aa/evil.txt', '/a/evil.txt'), /refused/u],
    ['a drive', () => renamed('aa/evil.txt', 'C:/evil.txt'), /refused/u],
    ['a backslash', () => renamed('aa/evil.txt', '..\\evil.txt'), /refused/u],
    ['a control character', () => renamed('aa/evil.txt', 'aa/\u001bvil.txt'), /refused/u],
    ['a symbolic link', () => zipped(put('link', { mode: 0o120777 })), /link or a device/u],
    [
      'one name twice',
      () => zipped((zip) => ['pack.json', 'pack.json'].forEach((name) => put(name)(zip))),
      /twice/u,
    ],
    [
      'names that differ in case alone',
      () => zipped((zip) => ['pack.json', 'PACK.json'].forEach((name) => put(name)(zip))),
      /twice/u,
    ],
    ['a bomb', () => zipped((zip) => zip.addBuffer(Buffer.alloc(40 << 20), 'zeros')), /times its size/u],
    [
      'a size that lies',
      async () => {
        const bytes = await zipped((zip) => zip.addBuffer(Buffer.alloc(3 << 20, 'ab'), 'zeros'));
        const central = bytes.indexOf(Buffer.from('504b0102', 'hex'));
        bytes.writeUInt32LE(0xffff_fff0, central + 24);
        return bytes;
      },
      /more than 128 MiB/u,
    ],
    [
      'too many files',
      () =>
        zipped((zip) => {
          for (let i = 0; i <= 5_000; i++) put(`f${i}`)(zip);
        }),
      /at most 5000/u,
    ],
    ['no ZIP', async () => Buffer.from('not a ZIP'), /cannot be read as a ZIP/u],
  ];
  test.each(HARMFUL)('%s', async (_, make, why) => {
    writeFileSync(at('harmful.zip'), await make());
    const { code, err } = await run('verify-pack', 'harmful.zip', '--demo');
    expect([code, err]).toEqual([1, expect.stringMatching(why)]);
    expect(err).not.toContain('\u001b');
    // Said once, behind the name of the command and of the file.
    expect(err).toMatch(/^caseback verify-pack: harmful\.zip (?!cannot be used)/u);
    expect(err.match(/harmful\.zip/gu)).toHaveLength(1);
  });

  test('a link in a folder', async () => {
    rmSync(at('linked'), { recursive: true, force: true });
    mkdirSync(at('linked'));
    symlinkSync('/etc/hostname', at('linked/pack.json'));
    const { code, err } = await run('verify-pack', 'linked', '--demo');
    expect([code, err]).toEqual([1, expect.stringContaining('is a link')]);
  });
});

describe('after the archive was corrected', () => {
  // Held to the correction itself, which names what it touched in code that knows nothing of packs.
  test('exactly the sentences are named that the correction names, with what they were, what they are, and why', async () => {
    const corrected = await run(
      ...[
        'correct',
        'identify',
        'thovane-calcar-2/a/U3',
        'quistle/QWR4T10=0.6',
        '--demo',
        '--format',
        'json',
      ],
      ...['--reason', 'read again under the microscope', '--actor', 'A. Example'],
    );
    expect(corrected.err).not.toContain('error');
    const { correction } = JSON.parse(corrected.out) as {
      correction: { id: string; publications: { claims: { claim: string }[] }[] };
    };
    const touched = correction.publications.flatMap(({ claims }) => claims.map(({ claim }) => claim)).sort();
    expect(touched).toContain('two-ends-of-a-board/c1');
    const named: string[] = [];
    for (const id of PACKS) {
      const { code, things } = await verify(id);
      const gone = things.filter(({ standing }) => standing === 'no-longer-so');
      expect(code).toBe(gone.length > 0 ? 1 : 0);
      named.push(...gone.filter(({ kind }) => kind === 'sentence').map((one) => one.id));
      for (const one of gone) {
        expect(one.stoodThen).toBe('still-so');
        expect(one.changes.length).toBeGreaterThan(0);
        expect(one.because.join('\n')).toContain(correction.id);
      }
      for (const one of things.filter(({ standing }) => standing !== 'no-longer-so'))
        expect(one.because).toEqual([]);
    }
    const inPacks = touched.filter((one) => PACKS.some((id) => one.startsWith(`${id}/`)));
    expect(named.sort()).toEqual(inPacks);
  });

  test('readers are told of corrections, and of no entry', async () => {
    const desk = (await verify('two-ends-of-a-board')).things.flatMap(({ because }) => because);
    const reader = (await verify('two-ends-of-a-board', '--audience', 'reader')).things.flatMap(
      ({ because }) => because,
    );
    expect(desk.some((one) => /^entry \d+/u.test(one))).toBe(true);
    expect(reader.length).toBeGreaterThan(0);
    expect(reader.filter((one) => !one.startsWith('correction-'))).toEqual([]);
  });

  test('in words', async () => {
    const { code, out } = await run('verify-pack', 'two-ends-of-a-board', '--demo');
    expect(code).toBe(1);
    expect(out).toMatch(/two-ends-of-a-board\/c1: changed\n/u);
    expect(out).toMatch(/ {2}thovane-calcar-2\/a\/U3: was .+; is .+\n/u);
    expect(out).toMatch(/because of correction-.+read again under the microscope/u);
    expect(out).toMatch(/Files: whole/u);
  });

  test('a publication that is hidden cannot be checked, in the words for one that never was', async () => {
    const recalled = await run(
      'recall',
      'bench-letter-31',
      '--demo',
      '--reason',
      'test',
      '--actor',
      'A. Example',
    );
    expect(recalled.code, recalled.err).toBe(0);
    const hidden = await verify('bench-letter-31', '--audience', 'reader');
    expect(hidden.code).toBe(1);
    expect(hidden.things.length).toBeGreaterThan(1);
    for (const one of hidden.things)
      expect(one).toMatchObject({
        standing: 'cannot-be-checked',
        stoodThen: 'cannot-be-checked',
        changes: [],
        because: [],
      });
    // The same pack held against an archive in which it never was.
    const other = await run('create-archive', '--data', 'blank');
    expect(other.code, other.err).toBe(0);
    const unknown = await run(
      'verify-pack',
      'bench-letter-31',
      '--data',
      'blank',
      '--audience',
      'reader',
      '--format',
      'json',
    );
    const things = JSON.parse(unknown.out).things as Thing[];
    expect(things.map(({ id, standing, changes }) => [id, standing, changes])).toEqual(
      hidden.things.map(({ id, standing, changes }) => [id, standing, changes]),
    );
  });
});
