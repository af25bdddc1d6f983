import { type ChildProcess, spawn } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { vi } from 'vitest';
import { main } from '../../src/cli/command-line.ts';
import type { Terminal } from '../../src/cli/frame/terminal.ts';
import { SqliteJournal } from '../../src/journal/sqlite/journal.ts';

// A process takes a second to start where the machine is busy, and some tests start several.
vi.setConfig({ testTimeout: 120_000, hookTimeout: 120_000 });

const MAIN = join(import.meta.dirname, '../../src/cli/main.ts');

export interface Ended {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
}

interface Surroundings {
  readonly cwd: string;
  /** Standard input. */
  readonly input?: string;
  readonly env?: Readonly<Record<string, string>>;
}

/** In place of what the reader's own surroundings set: data folders inside the folder of the test. */
const SURROUNDINGS = {
  DATA_DIR: 'data',
  DEMO_DIR: 'demo-data',
  DATABASE_URL: undefined,
  PHOTOS_DIR: undefined,
  PORT: undefined,
  HOST: undefined,
};

/** Runs the command line to its end in this process, away from any data folder of the reader's. */
export async function caseback(
  args: readonly string[],
  { cwd, input = '', env = {} }: Surroundings,
): Promise<Ended> {
  const written = { out: '', err: '' };
  const terminal: Terminal = {
    out: (text) => {
      written.out += text;
    },
    message: (text) => {
      written.err += text;
    },
    input: () => input,
    isInputTyped: false,
  };
  const before = process.cwd();
  process.chdir(cwd);
  for (const [name, value] of Object.entries({ ...SURROUNDINGS, ...env })) vi.stubEnv(name, value);
  try {
    return { code: await main(args, terminal), ...written };
  } finally {
    vi.unstubAllEnvs();
    process.chdir(before);
  }
}

/** Starts the command line as a process of its own, for what only a process can show: signals, exit code, streams. */
export function start(args: readonly string[], cwd: string, env: NodeJS.ProcessEnv = {}): ChildProcess {
  return spawn(process.execPath, [MAIN, ...args], { cwd, env: { ...process.env, ...SURROUNDINGS, ...env } });
}

/** Starts the command line of a copy of the project, which finds its data folders by its own place. */
export function startProgram(
  project: string,
  args: readonly string[],
  cwd: string,
  env: NodeJS.ProcessEnv = {},
): ChildProcess {
  const {
    DATA_DIR: _,
    DEMO_DIR: _demo,
    DATABASE_URL: _database,
    PORT: _port,
    HOST: _host,
    ...inherited
  } = process.env;
  const main = join(project, 'src/cli/main.ts');
  return spawn(process.execPath, [main, ...args], { cwd, env: { ...inherited, ...env } });
}

/** Runs the command line of a copy of the project to its end. */
export function runProgram(...of: Parameters<typeof startProgram>): Promise<Ended> {
  const child = startProgram(...of);
  child.stdin?.end();
  return ended(child);
}

/** Address that a starting service prints once it is ready. */
export async function addressOf(child: ChildProcess): Promise<string> {
  let said = '';
  for await (const chunk of child.stdout as AsyncIterable<Buffer>) {
    said += chunk;
    const address = /page +(\S+)\//u.exec(said)?.[1];
    if (address) return address;
  }
  throw new Error(`the service ended without an address: ${said}`);
}

/** Runs the command line to its end as a process of its own. */
export function casebackProcess(
  args: readonly string[],
  { cwd, input = '', env }: Surroundings,
): Promise<Ended> {
  const child = start(args, cwd, env);
  child.stdin?.end(input);
  return ended(child);
}

/** What a process has said and how it ended, once it has. */
export async function ended(child: ChildProcess): Promise<Ended> {
  const out: Buffer[] = [];
  const err: Buffer[] = [];
  child.stdout?.on('data', (chunk: Buffer) => out.push(chunk));
  child.stderr?.on('data', (chunk: Buffer) => err.push(chunk));
  const code = await new Promise<number | null>((resolve) => child.once('close', resolve));
  return { code, out: Buffer.concat(out).toString(), err: Buffer.concat(err).toString() };
}

/** A folder that lasts as long as a test file, with the given files in it. */
export class Folder {
  readonly path = mkdtempSync(join(tmpdir(), 'caseback-test-'));

  constructor(files: Readonly<Record<string, string | Uint8Array>> = {}) {
    for (const [name, content] of Object.entries(files)) this.write(name, content);
  }

  write(name: string, content: string | Uint8Array): string {
    const file = join(this.path, name);
    mkdirSync(dirname(file), { recursive: true });
    writeFileSync(file, content);
    return file;
  }

  remove(): void {
    rmSync(this.path, { recursive: true, force: true });
  }
}

/** Sequence and hash of the last entry of the journal in a data folder. */
export async function headOf(folder: string): Promise<{ readonly sequence: number; readonly hash: string }> {
  const journal = new SqliteJournal(join(folder, 'journal.sqlite'));
  try {
    return await journal.head();
  } finally {
    await journal.close();
  }
}
