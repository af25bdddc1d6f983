import { spawn } from 'node:child_process';

export interface Killed {
  /** Whether the kill came before the process had ended by itself. */
  readonly killed: boolean;
  readonly out: string;
  readonly err: string;
  /** From the mark (or the start) to the end, in ms. */
  readonly passed: number;
}

export interface KillOptions {
  /** The delay counts from this text on standard output; from the start when left out. */
  readonly mark?: string;
  readonly cwd?: string;
  readonly env?: NodeJS.ProcessEnv;
}

/**
 * Runs this Node with the given arguments and kills it (SIGKILL, which no process can catch) after a delay.
 * @param delay in ms; Infinity lets it end by itself
 */
export function killDuring(
  args: readonly string[],
  delay: number,
  { mark, cwd, env }: KillOptions = {},
): Promise<Killed> {
  const child = spawn(process.execPath, args, { cwd, env: env && { ...process.env, ...env } });
  const said = { out: '', err: '' };
  let start = performance.now();
  let timer: NodeJS.Timeout | undefined;
  const arm = () => {
    if (timer) return;
    start = performance.now();
    // setTimeout cannot wait for ever.
    timer = setTimeout(() => delay !== Infinity && child.kill('SIGKILL'), Math.min(delay, 2 ** 31 - 1));
  };
  if (mark === undefined) arm();
  child.stdout.setEncoding('utf8').on('data', (text: string) => {
    said.out += text;
    if (mark !== undefined && said.out.includes(mark)) arm();
  });
  child.stderr.setEncoding('utf8').on('data', (text: string) => {
    said.err += text;
  });
  return new Promise((resolve, reject) => {
    child.once('error', reject);
    child.once('close', (_, signal) => {
      clearTimeout(timer);
      resolve({ ...said, killed: signal === 'SIGKILL', passed: performance.now() - start });
    });
  });
}
