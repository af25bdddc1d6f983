import { spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, globSync, mkdirSync, readFileSync, renameSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';

/** Puts a question to the API; text and variables as GraphQL over HTTP has them. */
export type AskApi = (
  question: { readonly text: string },
  variables: unknown,
  signal?: AbortSignal,
) => Promise<{ readonly data: unknown; readonly troubles: readonly object[] }>;

/** What every page is told of who reads it and where. */
export interface Surroundings {
  /** Name of who has signed in; null for whoever has not. */
  readonly who: string | null;
  /** Cautions of the bench, a sentence each. */
  readonly cautions: readonly string[];
}

/** A page as HTML, and what the browser needs to go on from it. */
export interface WrittenPage {
  readonly status: number;
  readonly title: string;
  readonly html: string;
  readonly told: unknown;
  /** Files to load ahead. */
  readonly file: string;
}

/** The code of the pages as it was bundled: what browsers load, and the same views for the service to write pages with. */
export interface DeskBundle {
  /** Folder of the files for browsers. */
  readonly folder: string;
  /** Addresses of all pages, with a colon before each part that stands for others, and a star for all that is left. */
  readonly paths: readonly string[];
  /** Script and style sheets of every page, and what a page needs beside them, by its file; addresses from the root of the service. */
  readonly script: string;
  readonly styles: readonly string[];
  readonly ahead: (file: string) => readonly string[];
  /** Answer of the API in what it sent. @throws for what is no answer */
  readonly answerIn: (sent: unknown) => { readonly data: unknown; readonly troubles: readonly object[] };
  /** Writes the page at an address; undefined for what is no page. */
  readonly write: (
    href: string,
    ask: AskApi,
    surroundings: Surroundings,
    signal: AbortSignal,
  ) => Promise<WrittenPage | undefined>;
}

const ROOT = join(import.meta.dirname, '../..');
const WEB = join(ROOT, 'src/web');
/** What pages take from elsewhere, so that a number reads the same on every surface. */
const ROUNDING = join(ROOT, 'src/text/rounding.ts');
/** Address that files for browsers stand under. */
export const DESK_FILES = '/desk/';

/**
 * The bundle of the code as it stands, built where there is none yet, which takes a few seconds.
 * @param building told when that begins
 * @throws Error when it cannot be built, with what the builder says
 */
export async function deskBundle(building: () => void = () => undefined): Promise<DeskBundle> {
  const folder = join(ROOT, 'node_modules/.cache/caseback-desk', digestOfCode());
  if (!existsSync(folder)) {
    building();
    await built(folder);
  }
  return opened(folder);
}

/** Digest of all that a bundle is made of: the code of the pages, how it is bundled, and the packages. */
function digestOfCode(): string {
  const hash = createHash('sha256');
  const files = globSync('**/*', { cwd: WEB, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name))
    .sort();
  const others = [join(import.meta.dirname, 'build.ts'), ROUNDING, join(ROOT, 'package-lock.json')];
  for (const file of [...files, ...others])
    hash
      .update(`${file.slice(ROOT.length)}\0`)
      .update(readFileSync(file))
      .update('\0');
  return hash.digest('hex').slice(0, 32);
}

/** Builds into a folder of its own, which gets its name once it is whole: another process may build the same. */
async function built(folder: string): Promise<void> {
  const part = `${folder}.${process.pid}-${Math.random().toString(36).slice(2)}`;
  mkdirSync(part, { recursive: true });
  try {
    await ran([join(import.meta.dirname, 'build.ts'), part]);
    if (!existsSync(folder)) renameSync(part, folder);
  } catch (error) {
    if (!existsSync(folder)) throw error;
  } finally {
    rmSync(part, { recursive: true, force: true });
  }
}

async function ran(args: readonly string[]): Promise<void> {
  const child = spawn(process.execPath, [...args], { stdio: ['ignore', 'ignore', 'pipe'] });
  let said = '';
  child.stderr.on('data', (chunk) => {
    said += chunk;
  });
  const code = await new Promise<number | null>((resolve, reject) => {
    child.on('error', reject);
    child.on('close', resolve);
  });
  if (code !== 0) throw new Error(`The pages could not be built: ${said.trim()}`);
}

interface Manifest {
  readonly [file: string]: {
    readonly file: string;
    readonly css?: readonly string[];
    readonly imports?: readonly string[];
  };
}

async function opened(folder: string): Promise<DeskBundle> {
  const manifest = JSON.parse(readFileSync(join(folder, 'browser/manifest.json'), 'utf8')) as Manifest;
  const entry = 'entry/browser.tsx';
  const address = (file: string) => `${DESK_FILES}${file}`;
  const needed = (file: string, seen = new Set<string>()): ReadonlySet<string> => {
    if (file === entry || seen.has(file) || !manifest[file]) return seen;
    seen.add(file);
    for (const one of manifest[file].imports ?? []) needed(one, seen);
    return seen;
  };
  const code = (await import(pathToFileURL(join(folder, 'service/write.mjs')).href)) as Pick<
    DeskBundle,
    'paths' | 'write' | 'answerIn'
  >;
  return {
    folder: join(folder, 'browser'),
    paths: code.paths,
    write: code.write,
    answerIn: code.answerIn,
    script: address(manifest[entry].file),
    styles: (manifest[entry].css ?? []).map(address),
    ahead: (file) => [...needed(file)].map((one) => address(manifest[one].file)),
  };
}
