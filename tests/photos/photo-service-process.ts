import { type ChildProcess, fork } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, readdirSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Told } from './photo-service.ts';

/** The id under which a photo of the nth digest is. */
export const photoAddress = (at: number): string => `/photos/quoin-disc/a/p${at}`;

const fail = () => {
  throw new Error('the service did not start');
};

/** A service in a process of its own, see `photo-service.ts`. */
export class PhotoService {
  readonly folder: string;
  readonly #child: ChildProcess;
  #port = 0;

  private constructor(folder: string, child: ChildProcess) {
    this.folder = folder;
    this.#child = child;
  }

  /** @param digests of the photos that its dossier names */
  static async started(digests: readonly string[]): Promise<PhotoService> {
    const folder = mkdtempSync(join(tmpdir(), 'caseback-photos-'));
    const file = join(folder, 'digests.json');
    writeFileSync(file, JSON.stringify(digests));
    const child = fork(new URL('./photo-service.ts', import.meta.url), [folder, file], {
      execArgv: ['--expose-gc'],
      stdio: ['ignore', 'inherit', 'inherit', 'ipc'],
    });
    await Promise.race([once(child, 'message'), once(child, 'exit').then(() => fail())]);
    const service = new PhotoService(folder, child);
    service.#port = (await service.told()).port;
    return service;
  }

  async told(): Promise<Told> {
    this.#child.send('tell');
    const [told] = (await once(this.#child, 'message')) as [Told];
    return told;
  }

  async put(
    at: number,
    content: Uint8Array,
  ): Promise<{ status: number; body: { code?: string; message?: string } }> {
    const response = await fetch(`http://127.0.0.1:${this.#port}${photoAddress(at)}`, {
      method: 'PUT',
      headers: { 'content-type': 'application/octet-stream' },
      body: content as Uint8Array<ArrayBuffer>,
    });
    return { status: response.status, body: (await response.json()) as { code?: string; message?: string } };
  }

  async get(path: string): Promise<Uint8Array> {
    const response = await fetch(`http://127.0.0.1:${this.#port}${path}`);
    if (!response.ok) throw new Error(`${path}: ${response.status} ${await response.text()}`);
    return new Uint8Array(await response.arrayBuffer());
  }

  /** The newest entry, by a question that costs little. */
  async head(): Promise<string> {
    const response = await fetch(`http://127.0.0.1:${this.#port}/graphql`, {
      method: 'POST',
      headers: { 'content-type': 'application/json', accept: 'application/json' },
      body: JSON.stringify({ query: '{ archive { sequence } }' }),
    });
    return response.text();
  }

  /** Files of the archive with their sizes, but for what the journal keeps for itself. */
  files(): readonly string[] {
    return readdirSync(this.folder, { recursive: true, encoding: 'utf8' })
      .filter((name) => statSync(join(this.folder, name)).isFile() && !name.startsWith('journal.'))
      .sort()
      .map((name) => `${name} ${statSync(join(this.folder, name)).size}`);
  }

  async close(): Promise<void> {
    const ended = once(this.#child, 'exit');
    this.#child.send('end');
    await ended;
    rmSync(this.folder, { recursive: true, force: true });
  }
}
