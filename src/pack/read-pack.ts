import { lstatSync, readdirSync, readFileSync } from 'node:fs';
import { join, posix } from 'node:path';
import { buffer } from 'node:stream/consumers';
import { CasebackError } from '../model/problems.ts';
import { systemTrouble } from '../text/system-trouble.ts';
import { filesInZip, LARGEST_FILE, MOST_BYTES, MOST_FILES } from './read-zip.ts';
import { zipOf } from './zip.ts';

/** A pack as it was found. */
export interface FoundPack {
  readonly files: ReadonlyMap<string, Uint8Array>;
  /** The bytes of the ZIP that it came in; undefined for a folder. */
  readonly zip: Buffer | undefined;
}

/** Folders in folders; packs have one. */
const DEEPEST = 8;

/**
 * Reads a pack. Nothing is written, links are not followed.
 * @param place a folder or a ZIP
 * @throws CasebackError BAD_FILE for what cannot be read, or not safely
 */
export async function readPack(place: string): Promise<FoundPack> {
  try {
    const found = lstatSync(place);
    if (found.isDirectory()) return { files: filesInFolder(place), zip: undefined };
    if (!found.isFile()) throw new CasebackError('BAD_FILE', `${place} is neither a folder nor a ZIP`);
    if (found.size > MOST_BYTES)
      throw new CasebackError(
        'BAD_FILE',
        `${place} has more than ${MOST_BYTES / 1024 ** 2} MiB, which no pack has`,
      );
    const zip = readFileSync(place);
    return { files: await filesInZip(zip, place), zip };
  } catch (error) {
    const trouble = systemTrouble(error);
    throw trouble ? new CasebackError('BAD_FILE', `${place} cannot be read: it ${trouble.what}`) : error;
  }
}

function filesInFolder(root: string): ReadonlyMap<string, Uint8Array> {
  const files = new Map<string, Uint8Array>();
  let total = 0;
  const walk = (folder: string, at: string, depth: number) => {
    if (depth > DEEPEST) throw new CasebackError('BAD_FILE', `${folder} lies deeper than folders of a pack`);
    for (const entry of readdirSync(folder, { withFileTypes: true })) {
      const path = posix.join(at, entry.name);
      const file = join(folder, entry.name);
      if (entry.isDirectory()) {
        walk(file, path, depth + 1);
        continue;
      }
      if (!entry.isFile())
        throw new CasebackError('BAD_FILE', `${file} is a link or a device, not a file; a pack has none`);
      const { size } = lstatSync(file);
      total += size;
      if (size > LARGEST_FILE || total > MOST_BYTES || files.size >= MOST_FILES)
        throw new CasebackError('BAD_FILE', `${root} holds more than a pack may: it ends at ${path}`);
      files.set(path, readFileSync(file));
    }
  };
  walk(root, '', 0);
  return files;
}

/**
 * Whether a ZIP is, byte for byte, what Caseback makes of its files. One that another program has packed is not, and may show other programs other
 * files than those that were read here.
 * @param day of the state
 */
export async function isAsWritten(
  { files, zip }: FoundPack & { readonly zip: Buffer },
  day: string,
): Promise<boolean> {
  const sorted = [...files].sort(([a], [b]) => (a < b ? -1 : 1));
  const made = zipOf(
    sorted.map(([path, content]) => ({ path, content })),
    day,
  );
  return (await buffer(made)).equals(zip);
}
