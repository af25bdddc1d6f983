import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join, resolve } from 'node:path';
import type { Problem } from '../model/problems.ts';
import { systemTrouble } from '../text/system-trouble.ts';
import { MAX_FILE_BYTES, tooLarge } from './decode.ts';
import { type ReadDocument, type ReadPart, type ReadResult, readDocument } from './read.ts';

export interface ReadFiles {
  /** Names of the files, in the order in which they were read. */
  readonly files: readonly string[];
  readonly documents: readonly ReadDocument[];
  readonly problems: readonly Problem[];
  /** What can be read of the files with problems. */
  readonly parts: readonly ReadPart[];
  /** Whether nothing could be read of some file, so that nobody knows what it describes. */
  readonly isBlind: boolean;
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
export function readFiles(paths: readonly string[], onRead: (count: number) => void = () => {}): ReadFiles {
  const found = findFiles(paths);
  const results = found.files.map((file, i) => {
    const result = readFile(file);
    onRead(i + 1);
    return result;
  });
  const gathered = gatherRead(results);
  const problems = [...found.problems, ...gathered.problems];
  return { ...gathered, problems, isBlind: gathered.isBlind || found.problems.length > 0 };
}

/** Documents and problems of several files. */
export function gatherRead(results: readonly ReadResult[]): ReadFiles {
  return {
    files: results.flatMap(({ document, problems }) => document?.file ?? problems[0]?.file ?? []),
    documents: results.flatMap(({ document }) => document ?? []),
    problems: results.flatMap(({ problems }) => problems),
    parts: results.flatMap(({ part }) => part ?? []),
    isBlind: results.some(({ document, part }) => !document && !part),
  };
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
