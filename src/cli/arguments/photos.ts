import { lstatSync, readFileSync, realpathSync } from 'node:fs';
import { basename, join } from 'node:path';
import type { PhotoFiles } from '../../pack/photos.ts';
import { UsageError } from '../frame/exit.ts';

/** Largest file of a photo, bytes. */
const LARGEST = 64 * 1024 * 1024;

/**
 * Files of photos in a folder, by the names that dossiers give them.
 * @throws UsageError for what is no folder
 */
export function photosIn(folder: string): PhotoFiles {
  let root: string;
  try {
    root = realpathSync(folder);
    if (!lstatSync(root).isDirectory()) throw new Error('a file');
  } catch {
    throw new UsageError(`--photos is ${folder}, which is not a folder that can be read`);
  }
  return {
    read: (file) => {
      // The name is from a dossier, which others may have written: only what lies in the folder itself is read.
      if (file !== basename(file) || file.startsWith('.')) return undefined;
      const found = lstatSync(join(root, file), { throwIfNoEntry: false });
      return found?.isFile() && found.size <= LARGEST ? readFileSync(join(root, file)) : undefined;
    },
  };
}
