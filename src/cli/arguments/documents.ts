import type { ReadDocument } from '../../dossier/document/document.ts';
import { badFiles } from '../../dossier/plan.ts';
import { findFiles, type ReadFiles, readFiles } from '../../dossier/read-files.ts';
import { Progress } from '../frame/progress.ts';

/**
 * Reads all files, with a progress bar on a terminal.
 * @throws CasebackError BAD_FILE with the problems of every file
 */
export function readWithProgress(paths: readonly string[]): readonly ReadDocument[] {
  const { documents, problems } = readShown(paths);
  if (problems.length > 0) throw badFiles(problems);
  return documents;
}

/** Reads all files, with a progress bar on a terminal; what is wrong with them is in the answer. */
export function readShown(paths: readonly string[]): ReadFiles {
  const progress = new Progress('reading files', findFiles(paths).files.length);
  const read = readFiles(paths, (count) => progress.update(count));
  progress.end();
  return read;
}
