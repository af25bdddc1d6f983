import type { ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { setTimeout as pause } from 'node:timers/promises';
import { addressOf, start } from '../../cli/running.ts';
import type { Told } from './writing.ts';

/** A service as its own process, `caseback serve`, that is killed and started again. */
export class KilledService {
  /** What it said on standard error, of all its lives. */
  said = '';
  /** Times that it was started. */
  starts = 0;
  readonly #folder: string;
  readonly #env: NodeJS.ProcessEnv;
  readonly #args: readonly string[];
  #process: ChildProcess | undefined;
  #address: string | undefined;
  #isEnded = false;

  /** @param env says where the archive is */
  constructor(folder: string, env: NodeJS.ProcessEnv, args: readonly string[] = ['--audience', 'desk']) {
    this.#folder = folder;
    this.#env = env;
    this.#args = args;
  }

  get isUp(): boolean {
    return this.#address !== undefined;
  }

  /** Resolves when it answers; before that it may be killed. */
  async start(): Promise<void> {
    const child = start(['serve', '--port', '0', ...this.#args], this.#folder, this.#env);
    this.starts++;
    this.#process = child;
    child.stderr?.setEncoding('utf8').on('data', (text: string) => {
      this.said += text;
    });
    const exit = once(child, 'exit');
    const address = await addressOf(child).catch(async (error: Error) => {
      const [, signal] = await exit;
      if (signal !== 'SIGKILL') throw new Error(`${error.message}${this.said}`);
    });
    // It may have been killed since.
    if (this.#process === child) this.#address = address ?? undefined;
  }

  /** Ends it at once, whatever it is doing. */
  async kill(): Promise<void> {
    const child = this.#process as ChildProcess;
    this.#process = undefined;
    this.#address = undefined;
    const exit = child.exitCode ?? child.signalCode;
    if (exit !== null) throw new Error(`the service had ended with ${exit}: ${this.said}`);
    const end = once(child, 'exit');
    child.kill('SIGKILL');
    await end;
  }

  /** Stops it in good order; answers its exit code. */
  async stop(): Promise<number | null> {
    const child = this.#process;
    if (!child) return null;
    this.#process = undefined;
    this.#address = undefined;
    const end = once(child, 'exit');
    child.kill('SIGTERM');
    return (await end)[0];
  }

  /** Kills it for good, whatever became of it. */
  end(): void {
    this.#isEnded = true;
    this.#address = undefined;
    this.#process?.kill('SIGKILL');
  }

  /** Asks once it answers; no status when it did not live to answer. */
  async ask(body: object, headers: Readonly<Record<string, string>> = {}): Promise<Told> {
    while (this.#address === undefined) {
      if (this.#isEnded) throw new Error('the trial has ended');
      await pause(10);
    }
    try {
      const response = await fetch(`${this.#address}/graphql`, {
        method: 'POST',
        headers: {
          'content-type': 'application/json',
          accept: 'application/graphql-response+json',
          ...headers,
        },
        body: JSON.stringify(body),
      });
      const { status } = response;
      const text = await response.text();
      return { ...JSON.parse(text), status, retryAfter: response.headers.get('retry-after') };
    } catch {
      // It was killed before it had said all of the answer.
      return { status: undefined };
    }
  }
}
