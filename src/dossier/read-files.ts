import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join, resolve } from 'node:path';
import type { Problem } from '../model/problems.ts';
import { systemTrouble } from '../text/system-trouble.ts';
import { MAX_FILE_BYTES, tooLarge } from './decode.ts';
import { type ReadDocument, readDocument } from './read.ts';

export interface ReadFiles {
  readonly documents: readonly ReadDocument[];
  readonly problems: readonly Problem[];
}

/** Paths of all dossier and catalogue files among files and folders (folders throughout), in stable order. */
export function findFiles(paths: readonly string[]): {
  readonly files: readonly string[];
  readonly problems: readonly Problem[];
} {
  const files: string[] = [];
  const problems: Problem[] = [];
  for (const path of paths) {
    const stat = statSync(path, { throwIfNoEntry: false });
    if (!stat) problems.push({ file: path, what: 'does not exist', fix: 'check the path' });
    else if (!stat.isDirectory()) files.push(path);
    else {
      const inside = readdirSync(path, { recursive: true, encoding: 'utf8' })
        .filter((name) => /\.(?:ya?ml|json)$/u.test(name))
        .sort();
      if (inside.length === 0)
        problems.push({ file: path, what: 'holds no .yaml or .json file', fix: 'check the path' });
      files.push(...inside.map((name) => join(path, name)));
    }
  }
  const seen = new Set<string>();
  // A file named twice, or named beside its folder, is read once.
  const once = files.filter((file) => !seen.has(resolve(file)) && seen.add(resolve(file)));
  return { files: once, problems };
}

/** Reads all files; problems of every file are gathered. */
export function readFiles(paths: readonly string[]): ReadFiles {
  const found = findFiles(paths);
  const documents: ReadDocument[] = [];
  const problems: Problem[] = [...found.problems];
  for (const file of found.files) {
    const result = readFile(file);
    if (result.document) documents.push(result.document);
    else problems.push(...result.problems);
  }
  return { documents, problems };
}

/** Reads one file, looking at its size first. */
export function readFile(file: string): ReturnType<typeof readDocument> {
  try {
    const { size } = statSync(file);
    if (size > MAX_FILE_BYTES) return { problems: [tooLarge(file, size)] };
    return readDocument(readFileSync(file), file);
  } catch (error) {
    const trouble = systemTrouble(error);
    if (!trouble) throw error;
    return {
      problems: [
        { file, what: `cannot be read: it ${trouble.what}`, fix: 'check the path and its permissions' },
      ],
    };
  }
}
