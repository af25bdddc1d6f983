#!/usr/bin/env node
// The launcher: plain JavaScript without dependencies, so that it runs on whatever Node the reader has
// (20 or newer). It installs what package-lock.json pins when that is missing or out of date, picks a Node
// of at least 24 (the reader's own, or the one among our optional dependencies) and hands over to it.
//
//   node src/run.mjs [COMMAND ...]         the command line of Caseback
//   node src/run.mjs --tool NAME [...]     a development tool from node_modules (installs those too)
//   node src/run.mjs --script FILE [...]   a TypeScript file of this project (installs the tools too)
import { spawn, spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';

const NEEDED_MAJOR = 24;
const root = dirname(dirname(fileURLToPath(import.meta.url)));
const stampFile = join(root, 'node_modules', '.caseback-installed.json');
const [mode, ...rest] = process.argv.slice(2);
const wantsTools = mode === '--tool' || mode === '--script';

install(wantsTools);
const { file, args } = target();
// What Node compiles is kept for the next start, unless the reader says where.
const cache = join(root, 'node_modules', '.cache', 'caseback');
const env = { NODE_COMPILE_CACHE: cache, ...process.env };
const child = spawn(nodeToUse(), [file, ...args], { stdio: 'inherit', env });
for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP']) process.on(signal, () => child.kill(signal));
child.on('error', (error) => fail(`Could not start Node: ${error.message}`));
child.on('exit', (code, signal) => process.exit(code ?? (signal === 'SIGINT' ? 130 : 143)));

/** The file to run and its arguments. */
function target() {
  if (mode === '--script') return { file: resolve(root, rest[0]), args: rest.slice(1) };
  if (mode === '--tool') return { file: toolFile(rest[0]), args: rest.slice(1) };
  return { file: join(root, 'src', 'cli', 'main.ts'), args: process.argv.slice(2) };
}

/** The JavaScript file behind a package's command, found without a shell so that Windows works too. */
function toolFile(name) {
  const packages = { vitest: 'vitest', tsc: 'typescript', biome: '@biomejs/biome' };
  const folder = join(root, 'node_modules', packages[name] ?? name);
  const { bin } = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8'));
  return join(folder, typeof bin === 'string' ? bin : bin[name]);
}

/** Runs `npm ci` unless node_modules already holds what package-lock.json pins. */
function install(withTools) {
  const lockText = readFileSync(join(root, 'package-lock.json'));
  const lock = createHash('sha256').update(lockText).digest('hex');
  const stamp = existsSync(stampFile) ? JSON.parse(readFileSync(stampFile, 'utf8')) : {};
  if (stamp.lock === lock && (stamp.tools || !withTools)) return;
  if (holds(JSON.parse(lockText), withTools || stamp.tools)) {
    writeFileSync(stampFile, JSON.stringify({ lock, tools: withTools || stamp.tools }));
    return;
  }
  const tools = withTools || Boolean(stamp.tools);
  console.error(`Installing dependencies${tools ? ' and development tools' : ''} (once, about a minute) …`);
  const options = ['ci', '--no-audit', '--no-fund', '--loglevel=error', ...(tools ? [] : ['--omit=dev'])];
  const npm = process.env.npm_execpath;
  const done = npm?.endsWith('.js')
    ? spawnSync(process.execPath, [npm, ...options], { cwd: root, stdio: ['ignore', 2, 2] })
    : spawnSync('npm', options, { cwd: root, stdio: ['ignore', 2, 2], shell: process.platform === 'win32' });
  if (done.status !== 0) {
    fail(
      'npm could not install the dependencies; its message stands above. Mend: check the network, then run the command again.',
    );
  }
  writeFileSync(stampFile, JSON.stringify({ lock, tools }));
}

/** Whether npm's own record of node_modules has every package at the version pinned, as after `npm install`. */
function holds(lock, withTools) {
  const record = join(root, 'node_modules', '.package-lock.json');
  if (!existsSync(record)) return false;
  const installed = JSON.parse(readFileSync(record, 'utf8')).packages;
  return Object.entries(lock.packages).every(([place, { version, dev, optional, devOptional }]) => {
    if (place === '' || (dev && !withTools)) return true;
    // Packages for other platforms are pinned too, and rightly missing.
    if (!(place in installed)) return Boolean(optional || devOptional);
    return installed[place].version === version;
  });
}

/** The reader's own Node where it is new enough, else the one that npm put into node_modules. */
function nodeToUse() {
  if (Number(process.versions.node.split('.')[0]) >= NEEDED_MAJOR) return process.execPath;
  const require = createRequire(import.meta.url);
  const name = process.platform === 'win32' ? 'node.exe' : 'node';
  // Windows on ARM runs the x64 build; macOS on ARM has its package under another name.
  const arch = process.platform === 'win32' ? 'x64' : process.arch;
  const platform = process.platform === 'win32' ? 'win' : process.platform;
  for (const candidate of [`node-${platform}-${arch}`, `node-bin-${platform}-${arch}`]) {
    try {
      const file = join(dirname(require.resolve(`${candidate}/package.json`)), 'bin', name);
      if (existsSync(file)) return file;
    } catch {
      // not installed on this platform
    }
  }
  return fail(
    `Caseback needs Node ${NEEDED_MAJOR} or newer; this is ${process.version}, and npm has no build for ${process.platform} ${process.arch}. Mend: install Node ${NEEDED_MAJOR} and run the command again.`,
  );
}

function fail(message) {
  console.error(message);
  process.exit(1);
}
