import { type ChildProcess, execFileSync, spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { cpSync, lstatSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { createInterface } from 'node:readline';
import type { Readable } from 'node:stream';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';

test('the launcher hands over to a Node of at least 24', () => {
  const out = execFileSync(process.execPath, ['src/run.mjs', '--script', 'tests/fixtures/print-version.ts']);
  expect(Number(out.toString().split('.')[0].replace('v', ''))).toBeGreaterThanOrEqual(24);
});

// A small project of the same form, installed by the real npm without network: its packages are folders beside it.
describe('installing', () => {
  let root: string;
  const running: ChildProcess[] = [];

  beforeEach(() => {
    root = mkdtempSync(join(tmpdir(), 'caseback-launcher-'));
    mkdirSync(join(root, 'src/cli'), { recursive: true });
    cpSync('src/run.mjs', join(root, 'src/run.mjs'));
    // Loads its package only when told to, as a service loads what a late request needs.
    writeFileSync(
      join(root, 'src/cli/main.ts'),
      `console.log('ready'); for await (const _ of process.stdin) console.log((await import('answers')).default);`,
    );
    writePackage('tools', 'vitest', { bin: './index.js', text: `console.log('tool ran');` });
    pinAnswers('1.0.0');
  });
  afterEach(async () => {
    for (const child of running.splice(0)) {
      if (child.exitCode !== null || child.signalCode !== null) continue;
      child.stdin?.end();
      await once(child, 'exit');
    }
    rmSync(root, { recursive: true });
  });

  function writeJson(file: string, content: object): void {
    mkdirSync(dirname(join(root, file)), { recursive: true });
    writeFileSync(join(root, file), JSON.stringify(content));
  }

  function writePackage(
    folder: string,
    name: string,
    { version = '1.0.0', bin = undefined as string | undefined, text = '' },
  ) {
    writeJson(`${folder}/package.json`, { name, version, type: 'module', exports: './index.js', bin });
    writeFileSync(join(root, folder, 'index.js'), text);
  }

  /** Pins the one dependency at a version, in its folder, in package.json and in package-lock.json. */
  function pinAnswers(version: string): void {
    const folder = `answers-${version}`;
    writePackage(folder, 'answers', { version, text: `export default 'answer ${version}';` });
    const top = {
      name: 'small',
      version: '1.0.0',
      type: 'module',
      dependencies: { answers: `file:${folder}` },
      devDependencies: { vitest: 'file:tools' },
    };
    writeJson('package.json', top);
    const packages = {
      '': top,
      [folder]: { name: 'answers', version },
      tools: { name: 'vitest', version: '1.0.0', dev: true, bin: { vitest: 'index.js' } },
      'node_modules/answers': { resolved: folder, link: true },
      'node_modules/vitest': { resolved: 'tools', link: true, dev: true },
    };
    writeJson('package-lock.json', {
      name: 'small',
      version: '1.0.0',
      lockfileVersion: 3,
      requires: true,
      packages,
    });
  }

  function environment(): NodeJS.ProcessEnv {
    const own = Object.entries(process.env).filter(
      ([name]) => !/^npm_(config|package|lifecycle)_/iu.test(name),
    );
    return { ...Object.fromEntries(own), npm_config_offline: 'true', NODE_ENV: 'production' };
  }

  function start(...words: string[]): ChildProcess {
    const child = spawn(process.execPath, ['src/run.mjs', ...words], { cwd: root, env: environment() });
    running.push(child);
    return child;
  }

  const run = (...words: string[]) =>
    spawnSync(process.execPath, ['src/run.mjs', ...words], {
      cwd: root,
      env: environment(),
      encoding: 'utf8',
    });

  /** A service that runs: asks it for its answer, and reads its lines one by one. */
  async function startService() {
    const child = start('serve');
    const lines = createInterface({ input: child.stdout as Readable })[Symbol.asyncIterator]();
    expect((await lines.next()).value).toBe('ready');
    return {
      async answer(): Promise<string | undefined> {
        child.stdin?.write('now\n');
        return (await lines.next()).value;
      },
      async stop(): Promise<void> {
        child.stdin?.end();
        await once(child, 'exit');
      },
    };
  }

  test('of tools beside a running service leaves the packages of the service in place', async () => {
    const service = await startService();
    const answers = join(root, 'node_modules/answers');
    const before = lstatSync(answers).ino;
    expect(() => lstatSync(join(root, 'node_modules/vitest'))).toThrow('ENOENT');
    const { status, stdout, stderr } = run('--tool', 'vitest');
    expect([status, stdout]).toEqual([0, 'tool ran\n']);
    expect(stderr).toContain('Installing dependencies and development tools');
    expect(lstatSync(answers).ino).toBe(before);
    expect(await service.answer()).toBe('answer 1.0.0');
    // Nothing is left to install, and a later start takes no tools away.
    expect(run('--tool', 'vitest').stderr).toBe('');
    expect(run('serve').stderr).toBe('');
    expect(lstatSync(join(root, 'node_modules/vitest')).isSymbolicLink()).toBe(true);
  });

  test('of other versions waits until what runs on the old ones has been stopped', async () => {
    const service = await startService();
    pinAnswers('2.0.0');
    const refused = run('--tool', 'vitest');
    expect(refused.status).toBe(1);
    expect(refused.stderr).toMatch(
      /^package-lock\.json has changed, and process \d+ \(caseback serve\) runs on .*\. Fix: stop it, then run the command again\.$/mu,
    );
    expect(await service.answer()).toBe('answer 1.0.0');
    await service.stop();
    const next = await startService();
    expect(await next.answer()).toBe('answer 2.0.0');
    expect(
      JSON.parse(readFileSync(join(root, 'package-lock.json'), 'utf8')).packages['node_modules/answers'],
    ).toEqual({
      resolved: 'answers-2.0.0',
      link: true,
    });
  });

  test('is done by the first of two that start together; the second waits', async () => {
    const both = [start('--tool', 'vitest'), start('--tool', 'vitest')];
    const texts = both.map(() => ({ out: '', err: '' }));
    both.forEach(({ stdout, stderr }, at) => {
      stdout?.on('data', (text) => {
        texts[at].out += text;
      });
      stderr?.on('data', (text) => {
        texts[at].err += text;
      });
    });
    const codes = await Promise.all(both.map(async (child) => (await once(child, 'close'))[0]));
    expect(codes).toEqual([0, 0]);
    expect(texts.map(({ out }) => out)).toEqual(['tool ran\n', 'tool ran\n']);
    expect(
      texts
        .map(({ err }) => err)
        .join('')
        .match(/Installing/gu),
    ).toHaveLength(1);
  });

  test('continues after a process that was installing has died', () => {
    const dead = spawnSync(process.execPath, ['--eval', '0']).pid;
    mkdirSync(join(root, 'node_modules'));
    writeFileSync(join(root, 'node_modules/.caseback-installing'), String(dead));
    expect(run('--tool', 'vitest')).toMatchObject({ status: 0, stdout: 'tool ran\n' });
    expect(() => lstatSync(join(root, 'node_modules/.caseback-installing'))).toThrow('ENOENT');
  });

  test('that fails names the fix and can be tried again', () => {
    rmSync(join(root, 'tools'), { recursive: true });
    const file = readFileSync(join(root, 'package.json'), 'utf8');
    writeFileSync(join(root, 'package.json'), '{');
    expect(run('--tool', 'vitest')).toMatchObject({
      status: 1,
      stderr: expect.stringContaining('Fix: check the network, then run the command again.'),
    });
    writeFileSync(join(root, 'package.json'), file);
    writePackage('tools', 'vitest', { bin: './index.js', text: `console.log('tool ran');` });
    expect(run('--tool', 'vitest')).toMatchObject({ status: 0, stdout: 'tool ran\n' });
  });
});
