import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join, posix } from 'node:path';
import { fileURLToPath } from 'node:url';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));

/**
 * Folders whose content decides what is derived from a journal: code up to the pattern index, and the tables that it reads. Whatever
 * changes in them, a snapshot of before is not used; that costs one fold, where a wrong one would give wrong answers.
 */
export const FOLDERS = [
  'src/text',
  'src/statistics',
  'src/gql',
  'src/model',
  'src/pattern-texts',
  'src/journal',
  'src/classes',
  'src/state',
  'src/nets',
  'src/identification',
  'src/presence',
  'src/patterns',
  'src/snapshot',
  'schema',
] as const;

let known: string | undefined;

/** SHA-256, in hexadecimal, over program and tables; calculated once a process. */
export function modelDigest(): string {
  known ??= digestOf(ROOT);
  return known;
}

function digestOf(root: string): string {
  const digest = createHash('sha256');
  const files = FOLDERS.flatMap((folder) => filesUnder(root, folder));
  for (const file of [...files, 'package-lock.json']) {
    const content = readFileSync(join(root, file));
    digest.update(`${file}\0${content.length}\0`).update(content);
  }
  return digest.update(process.versions.node).digest('hex');
}

function filesUnder(root: string, folder: string): string[] {
  return readdirSync(join(root, folder), { withFileTypes: true })
    .sort((a, b) => (a.name < b.name ? -1 : 1))
    .flatMap((entry) => {
      const path = posix.join(folder, entry.name);
      return entry.isDirectory() ? filesUnder(root, path) : [path];
    });
}
