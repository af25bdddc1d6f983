#!/usr/bin/env node
// The launcher: plain JavaScript without dependencies, so that it runs on whatever Node the reader has
// (20 or newer). It installs what package-lock.json pins when that is missing or out of date, picks a Node
// of at least 24 (the reader's own, or the one among our optional dependencies) and hands over to it.
//
// A service may be running from node_modules meanwhile. So an installation only adds what is missing while the
// lock file is the same, is refused while something runs on packages of another lock file, and only one runs at
// a time.
//
//   node src/run.mjs [COMMAND ...]         the command line of Caseback
//   node src/run.mjs --tool NAME [...]     a development tool from node_modules (installs those too)
//   node src/run.mjs --script FILE [...]   a TypeScript file of this project (installs the tools too)
import { spawn, spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import {
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { createRequire } from 'node:module';
import { uptime } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';

const NEEDED_MAJOR = 24;
const root = dirname(dirname(fileURLToPath(import.meta.url)));
const modules = join(root, 'node_modules');
const stampFile = join(modules, '.caseback-installed.json');
/** Holds the process id of whoever installs; removed afterwards. */
const installingFile = join(modules, '.caseback-installing');
/** A file for each process that runs on these packages: its process id the name, lock and command inside. */
const runningFolder = join(modules, '.caseback-running');
const [mode, ...rest] = process.argv.slice(2);
const wantsTools = mode === '--tool' || mode === '--script';
const lockText = readFileSync(join(root, 'package-lock.json'));
const lock = createHash('sha256').update(lockText).digest('hex');

if (!isInstalled()) whileNobodyElseInstalls(() => isInstalled() || install());
const { file, args } = target();
// What Node compiles is kept for the next start, unless the reader says where.
const cache = join(modules, '.cache', 'caseback');
// The GNU allocator keeps a heap for each thread, and threads that decode pictures leave theirs full of holes: with two in all, a service
// that decoded some of 150 megapixels is back near the memory that it had.
const env = { NODE_COMPILE_CACHE: cache, MALLOC_ARENA_MAX: '2', ...process.env };
const child = spawn(nodeToUse(), [file, ...args], { stdio: 'inherit', env });
const signOff = signOn(child.pid);
for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP']) process.on(signal, () => child.kill(signal));
child.on('error', (error) => fail(`Could not start Node: ${error.message}`));
child.on('exit', (code, signal) => {
  signOff();
  process.exit(code ?? (signal === 'SIGINT' ? 130 : 143));
});

/** The file to run and its arguments. */
function target() {
  if (mode === '--script') return { file: resolve(root, rest[0]), args: rest.slice(1) };
  if (mode === '--tool') return { file: toolFile(rest[0]), args: rest.slice(1) };
  return { file: join(root, 'src', 'cli', 'main.ts'), args: process.argv.slice(2) };
}

/** The JavaScript file behind a package's command, found without a shell so that Windows works too. */
function toolFile(name) {
  const packages = { vitest: 'vitest', tsc: 'typescript', biome: '@biomejs/biome' };
  const folder = join(modules, packages[name] ?? name);
  const { bin } = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8'));
  return join(folder, typeof bin === 'string' ? bin : bin[name]);
}

/** Whether an installation of this lock file was finished, with the tools where they are wanted. */
function isInstalled() {
  const stamp = readJson(stampFile);
  return stamp?.lock === lock && Boolean(stamp.tools || !wantsTools);
}

/** Brings node_modules to what package-lock.json pins, and keeps what is there already. */
function install() {
  const stamp = readJson(stampFile);
  // Tools that are there stay, so that no command takes them from another.
  const tools = wantsTools || Boolean(stamp?.tools) || existsSync(join(modules, 'vitest'));
  const pinned = JSON.parse(lockText);
  if (!holds(pinned, tools)) {
    refuseWhileOthersRun();
    console.error(`Installing dependencies${tools ? ' and development tools' : ''} (once, about a minute) …`);
    runNpm(tools);
    if (!holds(pinned, tools)) {
      fail(
        'npm ended, but node_modules does not hold what package-lock.json pins. Fix: delete node_modules, then run the command again.',
      );
    }
  }
  writeFileSync(stampFile, JSON.stringify({ lock, tools }));
}

/** `npm ci` would delete node_modules first; `npm install` leaves alone what is there at the version pinned. */
function runNpm(tools) {
  const options = [
    'install',
    '--no-save',
    '--no-audit',
    '--no-fund',
    '--loglevel=error',
    '--include=optional',
  ];
  options.push(tools ? '--include=dev' : '--omit=dev');
  const npm = process.env.npm_execpath;
  const done = npm?.endsWith('.js')
    ? spawnSync(process.execPath, [npm, ...options], { cwd: root, stdio: ['ignore', 2, 2] })
    : spawnSync('npm', options, { cwd: root, stdio: ['ignore', 2, 2], shell: process.platform === 'win32' });
  if (done.status !== 0) {
    fail(
      'npm could not install the dependencies; its message is above. Fix: check the network, then run the command again.',
    );
  }
}

/** Other packages than a running process started with would be loaded into it half way through. */
function refuseWhileOthersRun() {
  for (const name of existsSync(runningFolder) ? readdirSync(runningFolder) : []) {
    const place = join(runningFolder, name);
    if (!isAlive(Number(name), place)) {
      rmSync(place, { force: true });
      continue;
    }
    const other = readJson(place);
    if (!other || other.lock === lock) continue;
    fail(
      `package-lock.json has changed, and process ${name} (caseback ${other.command}) runs on the packages installed before. Fix: stop it, then run the command again.`,
    );
  }
}

/** Notes that a process runs on these packages; returns what removes the note. */
function signOn(pid) {
  const place = join(runningFolder, String(pid));
  try {
    mkdirSync(runningFolder, { recursive: true });
    writeFileSync(place, JSON.stringify({ lock, command: [mode, ...rest].slice(0, 2).join(' ') }));
  } catch {
    // A node_modules that cannot be written to is not installed into either.
  }
  return () => {
    try {
      rmSync(place, { force: true });
    } catch {
      // The next installation finds that the process has ended.
    }
  };
}

/** Runs `work` while this process alone holds the installing file; waits for another that holds it. */
function whileNobodyElseInstalls(work) {
  mkdirSync(modules, { recursive: true });
  let told = false;
  while (!takeInstallingFile()) {
    const holder = Number(readText(installingFile));
    if (holder > 0 && !isAlive(holder, installingFile)) {
      dropInstallingFile(holder);
      continue;
    }
    // Without a number it has only just been made, or was removed just now.
    if (holder > 0 && !told) {
      console.error(`Process ${holder} is installing; waiting for it …`);
      told = true;
    }
    Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 200);
  }
  process.on('exit', () => dropInstallingFile(process.pid));
  work();
  dropInstallingFile(process.pid);
}

function takeInstallingFile() {
  try {
    writeFileSync(installingFile, String(process.pid), { flag: 'wx' });
    return true;
  } catch (error) {
    if (error.code === 'EEXIST') return false;
    return fail(`node_modules cannot be written to: ${error.message}`);
  }
}

/** Removes the installing file of one holder; renamed first, so that a new holder's is not removed by mistake. */
function dropInstallingFile(holder) {
  if (Number(readText(installingFile)) !== holder) return;
  const aside = `${installingFile}-${process.pid}`;
  try {
    renameSync(installingFile, aside);
    if (Number(readText(aside)) === holder) rmSync(aside, { force: true });
    else renameSync(aside, installingFile);
  } catch {
    // Another process was faster.
  }
}

/** Whether a process runs under this id. Ids begin anew with the machine, so an older note is of one that ended. */
function isAlive(pid, note) {
  const started = Date.now() - uptime() * 1000;
  if ((statSync(note, { throwIfNoEntry: false })?.mtimeMs ?? Number.POSITIVE_INFINITY) < started)
    return false;
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return error.code === 'EPERM';
  }
}

function readText(file) {
  try {
    return readFileSync(file, 'utf8');
  } catch {
    return '';
  }
}

function readJson(file) {
  try {
    return JSON.parse(readFileSync(file, 'utf8'));
  } catch {
    return undefined;
  }
}

/** Whether npm's own record of node_modules has every package at the version pinned, as after `npm install`. */
function holds(pinned, withTools) {
  const installed = readJson(join(modules, '.package-lock.json'))?.packages;
  if (!installed) return false;
  return Object.entries(pinned.packages).every(
    ([place, { version, resolved, link, dev, optional, devOptional }]) => {
      if (!place.startsWith('node_modules/') || (dev && !withTools)) return true;
      // Packages for other platforms are pinned too, and rightly missing.
      if (!(place in installed)) return Boolean(optional || devOptional);
      // A folder beside ours, linked to, is pinned by its place.
      return link ? installed[place].resolved === resolved : installed[place].version === version;
    },
  );
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
    `Caseback needs Node ${NEEDED_MAJOR} or newer; this is ${process.version}, and npm has no build for ${process.platform} ${process.arch}. Fix: install Node ${NEEDED_MAJOR} and run the command again.`,
  );
}

function fail(message) {
  console.error(message);
  process.exit(1);
}
